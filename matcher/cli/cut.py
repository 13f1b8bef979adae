"""``matcher cut``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from matcher.cli.options import CabinetArg, CatalogueArg, FillOption, HouseOption, JsonOption, PinOption, SetArg
from matcher.cli.running import EXITS, filling, goal_progress, load, show


def cut(
    catalogue: CatalogueArg,
    set_name: SetArg,
    cabinet: CabinetArg,
    allow_estimates: Annotated[
        bool, typer.Option("--allow-estimates", help="Also for pieces nobody measured: not for production.")
    ] = False,
    batch: Annotated[int, typer.Option("--batch", min=1, help="Bundles to cut foam for at once.")] = 1,
    pin: PinOption = None,
    fill: FillOption = None,
    house: HouseOption = None,
    json: JsonOption = False,
    out: Annotated[
        list[Path] | None,
        typer.Option("--out", help="Also write to FILE: .dxf, .svg, .xlsx, .json or .csv; repeatable."),
    ] = None,
) -> None:
    """What foam do I cut, from how many sheets?"""
    from matcher.cutting import cut as cut_for
    from matcher.pins import parse_pin
    from matcher.planning import find_cabinet
    from matcher.planning import plan as planned
    from matcher.report.cut_files import cut_writers
    from matcher.report.cut_sheets import cut_document, cut_view
    from matcher.report.files import check_writers, write

    check_writers(out, (".json", ".csv", ".xlsx", ".svg", ".dxf"))
    read, rules = load(catalogue, house)
    pins = tuple(parse_pin(text) for text in pin or ())
    with goal_progress(json) as told:
        outcome = planned(read, rules, set_name, cabinet, filling(fill), pins, told)
    made = cut_for(read, find_cabinet(read, cabinet), rules, outcome, allow_estimates=allow_estimates, batch=batch)
    write(out, cut_writers(made))
    show(cut_document(made), lambda: cut_view(made), json)
    raise typer.Exit(EXITS[outcome.verdict])
