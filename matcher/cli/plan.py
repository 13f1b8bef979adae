"""``matcher plan``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from matcher.cli.kept import counting
from matcher.cli.numbers import plain_whole
from matcher.cli.options import (
    AddToOption,
    CabinetArg,
    JsonOption,
    KeepOption,
    SetArg,
    SourceOptions,
    TapeOptions,
    WhyOption,
    WishOptions,
)
from matcher.cli.progress import goal_progress
from matcher.cli.running import EXITS, before_writing, best_so_far, show, write_or_say
from matcher.cli.tape import TapeAnswer, ahead, as_measured, one_question, settled
from matcher.records import UsageError

if TYPE_CHECKING:
    from matcher.planning import Outcome
    from matcher.report import Writers

TABLES = (".json", ".csv")
GROUP_HELP = "Only this group's organizer: to FILE.svg as a drawing, to FILE.pdf full size in tiles to lay tools on."
OUT_HELP = (
    "Also write to FILE: .json, .csv, .xlsx, .html (also to print), .svg (the poster), .pdf (the buyer's guide); "
    "repeatable."
)
PACKING_HELP = "To FILE.pdf the packing list and labels, for who ships the bundle, instead of the buyer's guide."

PAPER_HELP = "Paper of a .pdf: A4 (the default) or Letter."


def plan(
    source: SourceOptions,
    set_name: SetArg,
    cabinet: CabinetArg,
    wished: WishOptions,
    tape: TapeOptions,
    group: Annotated[str, typer.Option("--group", metavar="GROUP", help=GROUP_HELP)] = "",
    packing: Annotated[bool, typer.Option("--packing", help=PACKING_HELP)] = False,
    keep: KeepOption = None,
    add_to: AddToOption = None,
    alternatives: Annotated[
        int,
        typer.Option(
            "--alternatives", metavar="NUMBER", parser=plain_whole(0, 20), help="Also the next best other plans."
        ),
    ] = 0,
    estimates: Annotated[
        bool, typer.Option("--estimates", help="Which estimated pieces to measure to settle the verdict?")
    ] = False,
    why: WhyOption = False,
    json: JsonOption = False,
    paper: Annotated[str, typer.Option("--paper", metavar="A4|Letter", help=PAPER_HELP)] = "",
    out: Annotated[list[Path] | None, typer.Option("--out", metavar="FILE", help=OUT_HELP)] = None,
) -> None:
    """What goes in which drawer?"""
    from matcher.catalogue import read_measured
    from matcher.planning import Fits, answer, ask, with_best_part
    from matcher.report import check_writers, paper_named, placed_group, plan_document, plan_view

    paper_named(paper or "A4")
    if paper and ".pdf" not in {path.suffix.lower() for path in out or ()}:
        raise UsageError("--paper: name what is printed with --out, a FILE.pdf")
    one_question(tape.measured, estimates, tape.sheet or tape.tolerance is not None, alternatives > 0)
    if group and not {path.suffix.lower() for path in out or ()} & {".svg", ".pdf"}:
        raise UsageError("--group: name the drawing with --out, a FILE.svg or FILE.pdf")
    if packing and (group or ".pdf" not in {path.suffix.lower() for path in out or ()}):
        raise UsageError("--packing: name the list with --out, a FILE.pdf, and no --group")
    suffixes = TABLES if tape or estimates else (*TABLES, ".xlsx", ".html", ".svg", ".pdf")
    check_writers(out, suffixes, sources=[source.catalogue, tape.measured])
    wishes = wished.wishes(keep, alternatives, add_to)
    read, rules = source.load()
    question = counting(ask(read, rules, set_name, cabinet, wishes), keep)
    if tape.measured:
        _tell(as_measured(question, read_measured(tape.measured, read), tape.unit), json, out)
    with before_writing(out), best_so_far(), goal_progress(json) as told:
        outcome = with_best_part(answer(question, told))
    if estimates or tape:
        _tell(settled(outcome) if estimates else ahead(outcome, tape), json, out)
    if group and isinstance(outcome, Fits):
        placed_group(outcome.plan, group)
    write_or_say(out, _writers(outcome, group, paper or "A4", packing=packing))
    show(plan_document(outcome), lambda: plan_view(outcome, why=why), json)
    raise typer.Exit(EXITS[outcome.verdict])


def _writers(outcome: Outcome, group: str, paper: str, *, packing: bool) -> Writers:
    """What makes each file of a plan; with a group its drawings only."""
    from matcher.cutting import packing_of
    from matcher.report import (
        check_pdf,
        csv_text,
        drawing_of,
        guide_pdf,
        json_text,
        painted_poster,
        paper_named,
        placement_rows,
        plan_book,
        plan_document,
        plan_page,
        plan_sizes,
        poster_svg,
        shipping_pdf,
    )

    document, sheet = plan_document(outcome), paper_named(paper)

    def pdf() -> bytes:
        if group:
            return check_pdf(outcome, group, sheet)
        return shipping_pdf(outcome, packing_of(outcome), sheet) if packing else guide_pdf(outcome, sheet)

    return {
        ".json": lambda: json_text(document),
        ".csv": lambda: csv_text(placement_rows(document)),
        ".xlsx": lambda: plan_book(document, plan_sizes(outcome), painted_poster(outcome)),
        ".html": lambda: plan_page(outcome),
        ".svg": lambda: drawing_of(outcome, group) if group else poster_svg(outcome),
        ".pdf": pdf,
    }


def _tell(found: TapeAnswer, json: bool, out: list[Path] | None) -> NoReturn:
    """Write and show the answer to a question with a tape, and end."""
    from matcher.report import csv_text, json_text, write

    write(out, {".json": lambda: json_text(found.document), ".csv": lambda: csv_text(found.rows)})
    show(found.document, found.view, json)
    raise typer.Exit(found.code)
