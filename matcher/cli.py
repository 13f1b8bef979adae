"""The command line: parses, calls, shows. Heavy imports wait until a command runs, so help answers at once."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from matcher.records import Fill

if TYPE_CHECKING:
    from matcher.house import House
    from matcher.records import Catalogue, Outcome, Pin

app = typer.Typer(
    help="Match hand-tool sets to drawer cabinets: will it fit, what goes where, which variants, what to cut.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

YES, NO, OPEN = 0, 1, 3
EXITS = {"fits": YES, "does not fit": NO, "undecided": OPEN}

CatalogueArg = Annotated[Path, typer.Argument(help="Folder of CSV files, or one .xlsx workbook.")]
SetArg = Annotated[str, typer.Argument(metavar="SET", help="Name of a set; A+B plans several in one cabinet.")]
CabinetsArg = Annotated[list[str] | None, typer.Argument(metavar="[CABINET]...", help="Cabinets (none: all).")]
JsonOption = Annotated[bool, typer.Option("--json", help="Print one JSON document and nothing else.")]
OutOption = Annotated[list[Path] | None, typer.Option("--out", help="Also write to FILE: .json or .csv; repeatable.")]
FillOption = Annotated[
    str | None, typer.Option("--fill", help="spread: fewest unused drawers; pack: most free drawers.")
]
PIN_HELP = "'GROUP in drawer B3', 'GROUP not in row 1', 'GROUP apart from GROUP' or 'keep bank 2 free'; repeatable."
PinOption = Annotated[list[str] | None, typer.Option("--pin", help=PIN_HELP)]
MEASURED_HELP = "A buyer's readings: a CSV file, or a catalogue with the table measured."
MeasuredOption = Annotated[Path | None, typer.Option("--measured", help=MEASURED_HELP)]
UnitOption = Annotated[str, typer.Option("--unit", help="Order or serial number of the cabinet that was measured.")]
HouseOption = Annotated[Path | None, typer.Option("--house", help="Another house rule file (TOML).")]


@app.command()
def check(
    catalogue: Annotated[Path | None, typer.Argument(help="Folder of CSV files, or one .xlsx workbook.")] = None,
    kinds: Annotated[bool, typer.Option("--kinds", help="List the words that name a kind of tool.")] = False,
    cabinet: Annotated[str, typer.Option("--cabinet", help="Tell this one and its look-alikes apart.")] = "",
    measured: MeasuredOption = None,
    unit: UnitOption = "",
    house: HouseOption = None,
    json: JsonOption = False,
) -> None:
    """Are my files sound?"""
    from matcher.report.inventory import inventory_document, inventory_view, kinds_document, kinds_view

    if kinds:
        _print(kinds_document(), kinds_view, json)
        return
    if catalogue is None:
        raise typer.BadParameter("give a CATALOGUE, or --kinds")
    read, rules = _load(catalogue, house)
    if cabinet:
        from matcher.catalogue.measured import read_measured
        from matcher.measuring.lookalikes import identify
        from matcher.report.lookalike_views import identity_document, identity_view

        found = identify(read, rules, cabinet, read_measured(measured, read) if measured else (), unit)
        _print(identity_document(found), lambda: identity_view(found), json)
        return
    _print(inventory_document(read), lambda: inventory_view(read), json)


@app.command()
def fit(
    catalogue: CatalogueArg,
    set_name: SetArg,
    cabinets: CabinetsArg = None,
    fill: FillOption = None,
    house: HouseOption = None,
    json: JsonOption = False,
    out: OutOption = None,
) -> None:
    """Will it fit, and if not, what is short?"""
    from matcher.comparison import compare as compared
    from matcher.report.document import comparison_document, plan_document
    from matcher.report.terminal import fit_view

    _checked_out(out)
    read, rules = _load(catalogue, house)
    found = compared(read, rules, set_name, cabinets or (), _fill(fill), told=_progress(json))
    outcomes = [variant.outcome for variant in found.variants]
    document = [plan_document(outcome) for outcome in outcomes]
    _print(document, lambda: fit_view(outcomes), json)
    _write(out, document, comparison_document(found)["variants"])
    verdicts = {outcome.verdict for outcome in outcomes}
    raise typer.Exit(NO if "does not fit" in verdicts else OPEN if "undecided" in verdicts else YES)


@app.command()
def plan(
    catalogue: CatalogueArg,
    set_name: SetArg,
    cabinet: Annotated[str, typer.Argument(help="Name of a cabinet.")],
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
    from matcher.report.terminal import plan_view

    _checked_out(out, ".svg")
    read, rules = _load(catalogue, house)
    pins = tuple(parse_pin(text) for text in pin or ())
    if measured:
        _measured_plan(read, rules, (set_name, cabinet), measured, unit, _fill(fill), pins, json, out)
    outcome = planned(read, rules, set_name, cabinet, _fill(fill), pins, _goal_progress(json))
    if sheet or tolerance is not None:
        _measuring(replace(read, pins=(*read.pins, *pins)), rules, outcome, tolerance, sheet, json, out)
        raise typer.Exit(EXITS[outcome.verdict])
    drawers = find_cabinet(read, cabinet).drawers
    document = plan_document(outcome)
    drawing = drawing_of(outcome, drawers, group) if any(path.suffix == ".svg" for path in out or ()) else ""
    _print(document, lambda: plan_view(outcome, drawers), json)
    _write(out, document, document["placements"], drawing)
    raise typer.Exit(EXITS[outcome.verdict])


@app.command()
def compare(
    catalogue: CatalogueArg,
    set_name: Annotated[str | None, typer.Argument(metavar="[SET]", help="Name of a set (none: every set).")] = None,
    cabinets: CabinetsArg = None,
    reference: Annotated[
        str, typer.Option("--reference", help="Cabinet whose planned organizers count as existing.")
    ] = "",
    changes: Annotated[bool, typer.Option("--changes", help="Also what changes from one variant to the next.")] = False,
    fill: FillOption = None,
    house: HouseOption = None,
    json: JsonOption = False,
    out: OutOption = None,
) -> None:
    """Which variants hold it, with how many free drawers?"""
    from rich.console import Group as Stack

    from matcher.comparison import compare as compared
    from matcher.grouping import sets_of
    from matcher.report.document import comparison_document
    from matcher.report.terminal import comparison_view
    from matcher.report.variant_views import steps_document, steps_view
    from matcher.variants import steps

    _checked_out(out)
    read, rules = _load(catalogue, house)
    names = [set_name] if set_name else list(sets_of(read))
    found = [
        compared(read, rules, name, cabinets or (), _fill(fill), reference, told=_progress(json)) for name in names
    ]
    told = [steps(one, read, rules) if changes else () for one in found]
    documents = [comparison_document(one) for one in found]
    if changes:
        documents = [one | {"steps": steps_document(step)} for one, step in zip(documents, told, strict=True)]
    document = documents[0] if set_name else documents
    views = [view for one, step in zip(found, told, strict=True) for view in (comparison_view(one), steps_view(step))]
    _print(document, lambda: Stack(*views), json)
    _write(out, document, [{"set": one["set"], **row} for one in documents for row in one["variants"]])


@app.command()
def offer(
    catalogue: CatalogueArg,
    max_new_sizes: Annotated[int | None, typer.Option("--max-new-sizes", help="At most so many new sizes.")] = None,
    budget: Annotated[float | None, typer.Option("--budget", help="Most money for set-up of new sizes.")] = None,
    max_bundles: Annotated[int | None, typer.Option("--max-bundles", help="At most so many bundles.")] = None,
    each_set: Annotated[bool, typer.Option("--each-set", help="At least one bundle of every set.")] = False,
    fill: FillOption = None,
    house: HouseOption = None,
    json: JsonOption = False,
    out: OutOption = None,
) -> None:
    """Which bundles, with which few new foam sizes?"""
    from matcher.offer import limits_of, plans_of
    from matcher.offer import offer as offered
    from matcher.report.offer_document import offer_document
    from matcher.report.offer_view import offer_view

    _checked_out(out)
    read, rules = _load(catalogue, house)
    limits = limits_of(rules, max_new_sizes, budget, max_bundles, each_set=each_set)
    found = offered(read, rules, plans_of(read, rules, _fill(fill), _progress(json)), limits)
    document = offer_document(found)
    _print(document, lambda: offer_view(found), json)
    _write(out, document, document["bundles"])


@app.command()
def cut(
    catalogue: CatalogueArg,
    set_name: SetArg,
    cabinet: Annotated[str, typer.Argument(help="Name of a cabinet.")],
    allow_estimates: Annotated[
        bool, typer.Option("--allow-estimates", help="Also for pieces nobody measured: not for production.")
    ] = False,
    batch: Annotated[int, typer.Option("--batch", min=1, help="Bundles to cut foam for at once.")] = 1,
    pin: PinOption = None,
    fill: FillOption = None,
    house: HouseOption = None,
    json: JsonOption = False,
    out: Annotated[
        list[Path] | None, typer.Option("--out", help="Also write to FILE: .dxf, .svg, .json or .csv; repeatable.")
    ] = None,
) -> None:
    """What foam do I cut, from how many sheets?"""
    from matcher.cutting import cut as cut_for
    from matcher.pins import parse_pin
    from matcher.planning import find_cabinet
    from matcher.planning import plan as planned
    from matcher.report.cut_files import write_cut
    from matcher.report.cut_sheets import cut_document, cut_view

    _checked_out(out, ".svg", ".dxf")
    read, rules = _load(catalogue, house)
    pins = tuple(parse_pin(text) for text in pin or ())
    outcome = planned(read, rules, set_name, cabinet, _fill(fill), pins, _goal_progress(json))
    made = cut_for(read, find_cabinet(read, cabinet), rules, outcome, allow_estimates=allow_estimates, batch=batch)
    for path in out or []:
        write_cut(path, made)
    _print(cut_document(made), lambda: cut_view(made), json)
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
    from matcher.report.measuring_views import measuring_document, measuring_view

    found = measure(read, rules, *pair, read_measured(measured, read), unit, fill, pins)
    document = measuring_document(found)
    _print(document, lambda: measuring_view(found), json)
    _write(out, document, document["contents"])
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
    from matcher.units import mm

    reach = rules.measure.off if within is None else mm(within)
    if sheet:
        asked = sheet_for(read, rules, outcome, reach)
        document = views.sheet_document(asked)
        _print(document, lambda: views.sheet_view(asked), json)
        _write(out, document, document["readings"])
    else:
        turns = tolerance(read, rules, outcome, find_cabinet(read, outcome.cabinet), reach)
        document = views.tolerance_document(turns)
        _print(document, lambda: views.tolerance_view(turns), json)
        _write(out, document, document["turns"])


# ----------------------------------------------------------------------------------------------------------- plumbing


def _load(path: Path, house: Path | None) -> tuple[Catalogue, House]:
    """The catalogue and the house rules: those named, else the folder's, else the defaults."""
    from matcher.catalogue import read_catalogue
    from matcher.house import default_house, read_house

    own = path / "house.toml"
    chosen = house or (own if own.is_file() else None)
    rules = read_house(chosen) if chosen else default_house()
    return read_catalogue(path), rules


def _fill(word: str | None) -> Fill | None:
    if word in (None, "spread", "pack"):
        return word  # type: ignore[return-value]
    raise typer.BadParameter(f"{word!r}: expected spread or pack", param_hint="--fill")


def _checked_out(out: list[Path] | None, *more: str) -> None:
    from matcher.report.files import check_suffixes

    check_suffixes(out or [], more)


def _write(out: list[Path] | None, document: Any, rows: Any, drawing: str = "") -> None:
    from matcher.report.files import write

    for path in out or []:
        write(path, document, rows, drawing)


def _print(document: Any, view: Callable[[], Any], json: bool) -> None:
    from matcher.report.files import json_text
    from matcher.report.terminal import show

    if json:
        sys.stdout.write(json_text(document))
    else:
        show(view())


def _progress(json: bool) -> Callable[[int, int, str], None] | None:
    """A line on standard error that names what is being planned; nothing where nobody watches."""

    def told(done: int, total: int, name: str) -> None:
        _status("" if done == total else f"{done + 1} of {total}: {name}")

    return None if json or not sys.stderr.isatty() else told


def _goal_progress(json: bool) -> Callable[[str, int, int], None] | None:
    """A line on standard error with the goal just solved, its value and its bound."""

    def told(name: str, value: int, bound: int) -> None:
        _status(f"goal {name}: {value}, bound {bound}" if name else "")

    return None if json or not sys.stderr.isatty() else told


def _status(text: str) -> None:
    sys.stderr.write(f"\r\x1b[K{text}")
    sys.stderr.flush()
