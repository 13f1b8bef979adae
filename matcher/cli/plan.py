"""``matcher plan``."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from matcher.cli.options import (
    CabinetArg,
    CatalogueArg,
    FillOption,
    HouseOption,
    JsonOption,
    MeasuredOption,
    OutOption,
    PinOption,
    SetArg,
    UnitOption,
)
from matcher.cli.running import EXITS, OPEN, filling, goal_progress, load, show

if TYPE_CHECKING:
    from matcher.house import House
    from matcher.records import Catalogue, Fill, Outcome, Pin

TABLES = (".json", ".csv")


def plan(
    catalogue: CatalogueArg,
    set_name: SetArg,
    cabinet: CabinetArg,
    group: Annotated[str, typer.Option("--group", help="Draw this group's organizer to the --out FILE.svg.")] = "",
    pin: PinOption = None,
    measured: MeasuredOption = None,
    unit: UnitOption = "",
    tolerance: Annotated[
        float | None, typer.Option("--tolerance", min=0, max=1000, help="Which drawers decide if up to so many mm off?")
    ] = None,
    sheet: Annotated[bool, typer.Option("--sheet", help="The sheet of what a buyer must measure.")] = False,
    fill: FillOption = None,
    house: HouseOption = None,
    json: JsonOption = False,
    out: OutOption = None,
) -> None:
    """What goes in which drawer?"""
    from matcher.pins import parse_pin
    from matcher.planning import find_cabinet
    from matcher.planning import plan as planned
    from matcher.report.document import plan_document
    from matcher.report.drawing import drawing_of
    from matcher.report.files import check_writers, csv_text, json_text, write
    from matcher.report.pages import front_svg, plan_page
    from matcher.report.terminal import plan_view

    other = measured or sheet or tolerance is not None
    check_writers(out, TABLES if other else (*TABLES, ".svg", ".html"))
    read, rules = load(catalogue, house)
    pins = tuple(parse_pin(text) for text in pin or ())
    if measured:
        _measured_plan(read, rules, (set_name, cabinet), measured, unit, filling(fill), pins, json, out)
    outcome = planned(read, rules, set_name, cabinet, filling(fill), pins, goal_progress(json))
    if other:
        _measuring(replace(read, pins=(*read.pins, *pins)), rules, outcome, tolerance, sheet, json, out)
        raise typer.Exit(EXITS[outcome.verdict])
    chosen = find_cabinet(read, cabinet)
    document = plan_document(outcome)
    writers = {
        ".json": lambda: json_text(document),
        ".csv": lambda: csv_text(document["placements"]),
        ".svg": lambda: drawing_of(outcome, chosen.drawers, group) if group else front_svg(outcome, chosen),
        ".html": lambda: plan_page(outcome, chosen),
    }
    write(out, writers)
    show(document, lambda: plan_view(outcome, chosen.drawers), json)
    raise typer.Exit(EXITS[outcome.verdict])


def _measured_plan(
    read: Catalogue,
    rules: House,
    pair: tuple[str, str],
    measured: Path,
    unit: str,
    fill: Fill | None,
    pins: tuple[Pin, ...],
    json: bool,
    out: list[Path] | None,
) -> None:
    """The plan for the drawers as measured, beside the nominal one."""
    from matcher.catalogue.measured import read_measured
    from matcher.measuring.applying import measure
    from matcher.report.files import csv_text, json_text, write
    from matcher.report.measuring_views import measuring_document, measuring_view

    found = measure(read, rules, *pair, read_measured(measured, read), unit, fill, pins)
    document = measuring_document(found)
    show(document, lambda: measuring_view(found), json)
    write(out, {".json": lambda: json_text(document), ".csv": lambda: csv_text(document["contents"])})
    raise typer.Exit(EXITS.get(found.verdict, OPEN))


def _measuring(
    read: Catalogue,
    rules: House,
    outcome: Outcome,
    within: float | None,
    sheet: bool,
    json: bool,
    out: list[Path] | None,
) -> None:
    """What a buyer must measure, or which sizes decide."""
    from matcher.measuring.sheet import sheet_for
    from matcher.measuring.tolerance import tolerance
    from matcher.planning import find_cabinet
    from matcher.report import measuring_views as views
    from matcher.report.files import csv_text, json_text, write
    from matcher.units import mm

    reach = rules.measure.off if within is None else mm(within)
    if sheet:
        asked = sheet_for(read, rules, outcome, reach)
        document, rows = views.sheet_document(asked), "readings"
        show(document, lambda: views.sheet_view(asked), json)
    else:
        turns = tolerance(read, rules, outcome, find_cabinet(read, outcome.cabinet), reach)
        document, rows = views.tolerance_document(turns), "turns"
        show(document, lambda: views.tolerance_view(turns), json)
    write(out, {".json": lambda: json_text(document), ".csv": lambda: csv_text(document[rows])})
