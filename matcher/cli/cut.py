"""``matcher cut``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from matcher.cli.kept import counting
from matcher.cli.numbers import plain_whole
from matcher.cli.options import CabinetArg, JsonOption, KeepOption, SetArg, SourceOptions, WishOptions
from matcher.cli.progress import goal_progress
from matcher.cli.running import EXITS, before_writing, show, write_or_say
from matcher.records import UsageError

if TYPE_CHECKING:
    from matcher.planning import Outcome

STRIP_HELP = "Instead, a strip with this tool's pocket at five clearances, to try a batch of foam; .dxf, .svg or .json."
ALLOWED = "--allow-estimates allows them; with --json it also lists every piece and where its sizes are from"


def cut(
    source: SourceOptions,
    set_name: SetArg,
    cabinet: CabinetArg,
    wished: WishOptions,
    allow_estimates: Annotated[
        bool, typer.Option("--allow-estimates", help="Also for pieces nobody measured: not for production.")
    ] = False,
    batch: Annotated[
        int,
        typer.Option(
            "--batch", metavar="NUMBER", parser=plain_whole(1, 1_000_000), help="Bundles to cut foam for at once."
        ),
    ] = 1,
    keep: KeepOption = None,
    strip: Annotated[str, typer.Option("--fit-strip", metavar="TOOL", help=STRIP_HELP)] = "",
    json: JsonOption = False,
    out: Annotated[
        list[Path] | None,
        typer.Option("--out", metavar="FILE", help="Also write to FILE: .dxf, .svg, .xlsx, .json or .csv; repeatable."),
    ] = None,
) -> None:
    """What foam do I cut, from how many sheets?"""
    from matcher.cutting import GuessedSizesError
    from matcher.cutting import cut as cut_for
    from matcher.planning import answer, ask
    from matcher.report import check_writers, cut_document, cut_view, cut_writers

    suffixes = (".json", ".svg", ".dxf", *(() if strip else (".csv", ".xlsx")))
    check_writers(out, suffixes, sources=[source.catalogue])
    wishes = wished.wishes(keep)
    read, rules = source.load()
    with before_writing(out), goal_progress(json) as told:
        outcome = answer(counting(ask(read, rules, set_name, cabinet, wishes), keep), told)
    try:
        if strip:
            _strip(outcome, strip, (allow_estimates, batch), json, out)
            return
        made = cut_for(outcome, allow_estimates=allow_estimates, batch=batch)
    except GuessedSizesError as guessed:
        raise UsageError(f"{guessed}\n{ALLOWED}") from guessed
    write_or_say(out, cut_writers(made))
    show(cut_document(made), lambda: cut_view(made), json)
    raise typer.Exit(EXITS[outcome.verdict])


def _strip(outcome: Outcome, tool: str, how: tuple[bool, int], json: bool, out: list[Path] | None) -> None:
    """Draw a fit strip."""
    from matcher.cutting import fit_strip
    from matcher.report import strip_document, strip_view, strip_writers

    allow_estimates, batch = how
    made = fit_strip(outcome, tool, allow_estimates=allow_estimates, batch=batch)
    write_or_say(out, strip_writers(made))
    show(strip_document(made), lambda: strip_view(made), json)
