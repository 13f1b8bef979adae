"""``matcher plan``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

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
    MeasuredOption,
    OffOption,
    PinOption,
    SetArg,
    TierOption,
    UnitOption,
)
from matcher.cli.running import EXITS, OPEN, before_writing, best_so_far, goal_progress, load, show, wishes_of
from matcher.records import UsageError

if TYPE_CHECKING:
    from matcher.house import House
    from matcher.records import Catalogue, Outcome, Wishes

TABLES = (".json", ".csv")
GROUP_HELP = "Only this group's organizer: to FILE.svg as a drawing, to FILE.pdf full size in tiles to lay tools on."
OUT_HELP = "Also write to FILE: .json, .csv, .xlsx, .html, .svg (the front), .pdf (the guide to print); repeatable."
PlanOutOption = Annotated[list[Path] | None, typer.Option("--out", metavar="FILE", help=OUT_HELP)]


def plan(
    catalogue: CatalogueArg,
    set_name: SetArg,
    cabinet: CabinetArg,
    group: Annotated[str, typer.Option("--group", metavar="GROUP", help=GROUP_HELP)] = "",
    pin: PinOption = None,
    keep_free: KeepFreeOption = None,
    tier: TierOption = "",
    goals: GoalsOption = "",
    off: OffOption = None,
    keep: KeepOption = None,
    alternatives: Annotated[
        int, typer.Option("--alternatives", metavar="NUMBER", min=0, max=20, help="Also the next best other plans.")
    ] = 0,
    measured: MeasuredOption = None,
    unit: UnitOption = "",
    tolerance: Annotated[
        float | None,
        typer.Option(
            "--tolerance", metavar="MM", min=0, max=1000, help="Which drawers decide if up to so many mm off?"
        ),
    ] = None,
    estimates: Annotated[
        bool, typer.Option("--estimates", help="Which estimated pieces to measure to settle the verdict?")
    ] = False,
    sheet: Annotated[bool, typer.Option("--sheet", help="The sheet of what a buyer must measure.")] = False,
    fill: FillOption = None,
    house: HouseOption = None,
    json: JsonOption = False,
    paper: Annotated[str, typer.Option("--paper", metavar="A4|Letter", help="Paper of a .pdf: A4 or Letter.")] = "A4",
    out: PlanOutOption = None,
) -> None:
    """What goes in which drawer?"""
    from matcher.cutting import packing_of
    from matcher.planning import find_cabinet, worked_in
    from matcher.planning import plan as planned
    from matcher.report import (
        Writers,
        check_pdf,
        check_writers,
        csv_text,
        drawing_of,
        front_svg,
        guide_pdf,
        json_text,
        paper_named,
        plan_book,
        plan_document,
        plan_page,
        plan_view,
        write,
    )

    sheet_of_paper = paper_named(paper)
    other = measured or sheet or estimates or tolerance is not None
    _one_question(measured, estimates, sheet or tolerance is not None, alternatives > 0)
    if group and not {path.suffix.lower() for path in out or ()} & {".svg", ".pdf"}:
        raise UsageError("--group: name the drawing with --out, a FILE.svg or FILE.pdf")
    check_writers(out, TABLES if other else (*TABLES, ".xlsx", ".html", ".svg", ".pdf"), source=catalogue)
    wishes = wishes_of(fill, pin, keep_free, tier, goals, off, keep, alternatives)
    read, rules = load(catalogue, house)
    if measured:
        _measured_plan(read, rules, (set_name, cabinet), measured, unit, wishes, json, out)
    with before_writing(out), best_so_far(), goal_progress(json) as told:
        outcome = planned(read, rules, set_name, cabinet, progress=told, wishes=wishes)
    if estimates:
        _estimates(*worked_in(read, rules, set_name, wishes), outcome, json, out)
    if other:
        _measuring(*worked_in(read, rules, set_name, wishes), outcome, tolerance, sheet, json, out)
        raise typer.Exit(EXITS[outcome.verdict])
    chosen = find_cabinet(read, cabinet)
    document = plan_document(outcome)
    writers: Writers = {
        ".json": lambda: json_text(document),
        ".csv": lambda: csv_text(document["placements"]),
        ".xlsx": lambda: plan_book(document),
        ".html": lambda: plan_page(outcome, chosen),
        ".svg": lambda: drawing_of(outcome, chosen.drawers, group) if group else front_svg(outcome, chosen),
        ".pdf": lambda: (
            check_pdf(outcome, group, sheet_of_paper)
            if group
            else guide_pdf(outcome, chosen, packing_of(outcome.plan, chosen, read.foam, rules), sheet_of_paper)
        ),
    }
    write(out, writers)
    show(document, lambda: plan_view(outcome, chosen.drawers), json)
    raise typer.Exit(EXITS[outcome.verdict])


def _one_question(*asked: Any) -> None:
    """Refuse options that each ask for an answer of its own."""
    if sum(map(bool, asked)) > 1:
        raise UsageError(
            "--measured, --estimates, --sheet or --tolerance, and --alternatives are questions of their own: ask one"
        )


def _measured_plan(
    read: Catalogue,
    rules: House,
    pair: tuple[str, str],
    measured: Path,
    unit: str,
    wishes: Wishes,
    json: bool,
    out: list[Path] | None,
) -> None:
    """The plan for the drawers as measured, beside the nominal one."""
    from matcher.catalogue import read_measured
    from matcher.report import csv_text, json_text, measuring_document, measuring_view, write
    from matcher.studies import measure

    found = measure(read, rules, *pair, read_measured(measured, read), unit, wishes=wishes)
    document = measuring_document(found)
    write(out, {".json": lambda: json_text(document), ".csv": lambda: csv_text(document["contents"])})
    show(document, lambda: measuring_view(found), json)
    raise typer.Exit(EXITS.get(found.verdict, OPEN))


def _estimates(read: Catalogue, rules: House, outcome: Outcome, json: bool, out: list[Path] | None) -> None:
    """Which pieces settle a verdict that rests on estimates."""
    from matcher.planning import find_cabinet
    from matcher.report import csv_text, estimates_document, estimates_view, json_text, write
    from matcher.studies import settling

    found = settling(read, rules, outcome, find_cabinet(read, outcome.cabinet))
    document = estimates_document(found)
    write(out, {".json": lambda: json_text(document), ".csv": lambda: csv_text(document["measure"])})
    show(document, lambda: estimates_view(found), json)
    raise typer.Exit(EXITS[outcome.verdict])


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
    from matcher.planning import find_cabinet
    from matcher.records import mm
    from matcher.report import csv_text, json_text, write
    from matcher.report import measuring_views as views
    from matcher.studies import sheet_for, tolerance

    reach = rules.measure.off if within is None else mm(within)
    if sheet:
        asked = sheet_for(read, rules, outcome, reach)
        document, rows = views.sheet_document(asked), "readings"
        view = views.sheet_view(asked)
    else:
        turns = tolerance(read, rules, outcome, find_cabinet(read, outcome.cabinet), reach)
        document, rows = views.tolerance_document(turns), "turns"
        view = views.tolerance_view(turns)
    write(out, {".json": lambda: json_text(document), ".csv": lambda: csv_text(document[rows])})
    show(document, lambda: view, json)
