"""``matcher cut``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from matcher.cli.options import (
    CabinetArg,
    CatalogueArg,
    FillOption,
    GoalsOption,
    HouseOption,
    JsonOption,
    KeepFreeOption,
    KeepOption,
    OffOption,
    PinOption,
    SetArg,
    TierOption,
)
from matcher.cli.running import EXITS, before_writing, goal_progress, load, show, wishes_of


def cut(
    catalogue: CatalogueArg,
    set_name: SetArg,
    cabinet: CabinetArg,
    allow_estimates: Annotated[
        bool, typer.Option("--allow-estimates", help="Also for pieces nobody measured: not for production.")
    ] = False,
    batch: Annotated[
        int, typer.Option("--batch", metavar="NUMBER", min=1, help="Bundles to cut foam for at once.")
    ] = 1,
    pin: PinOption = None,
    keep_free: KeepFreeOption = None,
    tier: TierOption = "",
    goals: GoalsOption = "",
    off: OffOption = None,
    keep: KeepOption = None,
    fill: FillOption = None,
    house: HouseOption = None,
    json: JsonOption = False,
    out: Annotated[
        list[Path] | None,
        typer.Option("--out", metavar="FILE", help="Also write to FILE: .dxf, .svg, .xlsx, .json or .csv; repeatable."),
    ] = None,
) -> None:
    """What foam do I cut, from how many sheets?"""
    from matcher.cutting import cut as cut_for
    from matcher.planning import find_cabinet
    from matcher.planning import plan as planned
    from matcher.report import check_writers, cut_document, cut_view, cut_writers, write

    check_writers(out, (".json", ".csv", ".xlsx", ".svg", ".dxf"), source=catalogue)
    wishes = wishes_of(fill, pin, keep_free, tier, goals, off, keep)
    read, rules = load(catalogue, house)
    with before_writing(out), goal_progress(json) as told:
        outcome = planned(read, rules, set_name, cabinet, progress=told, wishes=wishes)
    made = cut_for(read, find_cabinet(read, cabinet), rules, outcome, allow_estimates=allow_estimates, batch=batch)
    write(out, cut_writers(made))
    show(cut_document(made), lambda: cut_view(made), json)
    raise typer.Exit(EXITS[outcome.verdict])
