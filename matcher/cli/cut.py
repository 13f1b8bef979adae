"""``matcher cut``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from matcher.cli.kept import counting
from matcher.cli.numbers import plain_whole
from matcher.cli.options import CabinetArg, JsonOption, KeepOption, SetArg, SourceOptions, WishOptions
from matcher.cli.progress import goal_progress
from matcher.cli.running import EXITS, before_writing, show, write_or_say
from matcher.records import UsageError

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

    check_writers(out, (".json", ".csv", ".xlsx", ".svg", ".dxf"), sources=[source.catalogue])
    wishes = wished.wishes(keep)
    read, rules = source.load()
    with before_writing(out), goal_progress(json) as told:
        outcome = answer(counting(ask(read, rules, set_name, cabinet, wishes), keep), told)
    try:
        made = cut_for(outcome, allow_estimates=allow_estimates, batch=batch)
    except GuessedSizesError as guessed:
        raise UsageError(f"{guessed}\n{ALLOWED}") from guessed
    write_or_say(out, cut_writers(made))
    show(cut_document(made), lambda: cut_view(made), json)
    raise typer.Exit(EXITS[outcome.verdict])
