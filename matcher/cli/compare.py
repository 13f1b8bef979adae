"""``matcher compare``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from matcher.cli.completion import cabinet_names, set_names
from matcher.cli.kept import reference_of
from matcher.cli.numbers import plain_whole
from matcher.cli.options import CabinetsArg, CrewOptions, JsonOption, SourceOptions, WhyOption, WishOptions
from matcher.cli.progress import progress
from matcher.cli.running import PAIRS_WORTH_WORKERS, before_writing, crew_for, show, show_so_far
from matcher.cli.screening import screen_all
from matcher.records import FailedError, UsageError, Wishes

if TYPE_CHECKING:
    from matcher.studies import Comparison

OUT_HELP = "Also write to FILE: .json, .csv, .xlsx or .html, without SET also .parquet; repeatable."
REFERENCE_HELP = "Cabinet whose planned organizers count as existing, or the file of a released plan."
RANK_HELP = (
    "What counts first among cabinets that hold the set: unused (fewest unused drawers), free (most free drawers), "
    "recut (least re-cutting), cost (least foam cost), price (cheapest cabinet) or width (smallest cabinet)."
)
CABINET_HELP = "Without SET: which sets go into this one cabinet, those that fit first."
PAIRS_HELP = "Pairs of cabinets side by side instead: SET shared out between two."
MOST_PAIRS_HELP = "With --pairs: plan at most so many: the first by --rank price or width, else the smallest."
STREAMED = (".csv", ".parquet")


def compare(
    source: SourceOptions,
    wished: WishOptions,
    asked: CrewOptions,
    set_name: Annotated[
        str | None,
        typer.Argument(metavar="SET", help="Name of a set (none: every set).", autocompletion=set_names),
    ] = None,
    cabinets: CabinetsArg = None,
    reference: Annotated[str, typer.Option("--reference", metavar="CABINET|PLAN.json", help=REFERENCE_HELP)] = "",
    changes: Annotated[bool, typer.Option("--changes", help="Also what changes from one variant to the next.")] = False,
    rank: Annotated[str, typer.Option("--rank", metavar="FIRST", help=RANK_HELP)] = "unused",
    cabinet: Annotated[
        str, typer.Option("--cabinet", metavar="NAME", help=CABINET_HELP, autocompletion=cabinet_names)
    ] = "",
    pairs: Annotated[bool, typer.Option("--pairs", help=PAIRS_HELP)] = False,
    most_pairs: Annotated[
        int, typer.Option("--most-pairs", metavar="NUMBER", parser=plain_whole(1, 1000), help=MOST_PAIRS_HELP)
    ] = 12,
    why: WhyOption = False,
    json: JsonOption = False,
    out: Annotated[list[Path] | None, typer.Option("--out", metavar="FILE", help=OUT_HELP)] = None,
) -> None:
    """Which variants hold it, with how many free drawers?

    Without SET every set is screened against every cabinet: verdicts and free drawers, both ends, but no plan. With
    --json, a FILE other than .csv or .parquet, --reference, --changes, --rank, --cabinet or any wish every pair is
    planned instead.
    """
    from rich.console import Group as Stack

    from matcher.planning import sets_of
    from matcher.report import (
        Writers,
        check_writers,
        compare_book,
        comparison_document,
        comparison_page,
        comparison_view,
        comparisons_view,
        csv_text,
        json_text,
        pairs_document,
        pairs_line,
        plain_rows,
        sets_view,
        steps_document,
        steps_view,
        write,
    )
    from matcher.screening import crew_of, gathered
    from matcher.studies import OF_SETS, RANKS, Stopped, cabinet_pairs, parse_rank, ranked_sets, steps
    from matcher.studies import compare as compared

    _check_words(set_name, cabinets, cabinet, pairs=pairs, reference=reference)
    by = parse_rank(rank, OF_SETS if cabinet else RANKS)
    wishes = wished.wishes()
    suffixes = {path.suffix.lower() for path in out or ()}
    extra = reference or changes or cabinet or wishes != Wishes() or by != RANKS[0]
    planned = set_name or json or extra or not suffixes <= set(STREAMED)
    check_writers(out, (".json", ".csv", ".xlsx", ".html") if planned else STREAMED, sources=[source.catalogue])
    crew_of(asked.workers, asked.scheduler)
    read, rules = source.load()
    if not planned:
        screen_all(read, rules, cabinets or [], out or [], asked)
        return
    paired = (
        cabinet_pairs(read, rules, set_name, cabinets or (), by, most_pairs, wishes) if pairs and set_name else None
    )
    read, cabinets = (paired.catalogue, list(paired.names)) if paired else (read, cabinets)
    model = reference_of(reference, read) if reference else ""
    cabinets = [cabinet] if cabinet else cabinets
    names = [set_name] if set_name else list(sets_of(read))
    worth = len(names) * len(cabinets or read.cabinets) >= PAIRS_WORTH_WORKERS
    turns = why or json or bool(out)
    found: list[Comparison] = []
    try:
        with before_writing(out), gathered(crew_for(asked, worth=worth)) as hands, progress(json) as told:
            for done, name in enumerate(names):
                if cabinet and told:
                    told(done, len(names), name)
                tell = None if cabinet else told
                one = compared(read, rules, name, cabinets or (), None, model, tell, wishes, hands, by, turns=turns)
                found.append(one)
    except Stopped as early:
        planned_so_far = [one for one in (*found, early.so_far) if one.variants or one.faults]
        rest = [f"{name}: not begun" for name in names[len(found) + 1 :]]
        show_so_far(lambda: comparisons_view(planned_so_far), [str(early), *rest], json)
        raise
    if cabinet:
        found = ranked_sets(found)
    stepped = [steps(one) if changes else () for one in found]
    documents = [comparison_document(one) for one in found]
    if changes:
        documents = [one | {"steps": steps_document(step)} for one, step in zip(documents, stepped, strict=True)]
    if paired:
        documents = [documents[0] | {"pairs": pairs_document(paired)}]
    document = documents[0] if set_name else documents
    if cabinet:
        views = [sets_view(found, cabinet, why=why)]
    else:
        views = [pairs_line(paired)] if paired else []
        views += [
            view
            for one, step in zip(found, stepped, strict=True)
            for view in (comparison_view(one, step, why=why), *([steps_view(step)] if why else []))
        ]
    rows = [{"set": one["set"], **row} for one in documents for row in plain_rows(one)]
    writers: Writers = {
        ".json": lambda: json_text(document),
        ".csv": lambda: csv_text(rows),
        ".xlsx": lambda: compare_book(documents),
        ".html": lambda: comparison_page(found, [steps(one) for one in found]),
    }
    write(out, writers)
    show(document, lambda: Stack(*views), json)
    if faults := [f"{one.set} in {fault}" for one in found for fault in one.faults]:
        raise FailedError(faults)


def _check_words(
    set_name: str | None, cabinets: list[str] | None, cabinet: str, *, pairs: bool, reference: str
) -> None:
    """Refuse what is asked in two ways at once."""
    if cabinet and (set_name or cabinets):
        raise UsageError("--cabinet: asks which sets go into it; with SET name the cabinets after it")
    if pairs and (cabinet or reference or not set_name):
        raise UsageError("--pairs: expected SET, and neither --cabinet nor --reference")
