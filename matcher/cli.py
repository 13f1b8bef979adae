"""The command line: parses, calls, shows. Heavy imports wait until a command runs, so help answers at once."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from matcher.records import Fill

if TYPE_CHECKING:
    from matcher.house import House
    from matcher.records import Catalogue

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
HouseOption = Annotated[Path | None, typer.Option("--house", help="Another house rule file (TOML).")]


@app.command()
def check(
    catalogue: Annotated[Path | None, typer.Argument(help="Folder of CSV files, or one .xlsx workbook.")] = None,
    kinds: Annotated[bool, typer.Option("--kinds", help="List the words that name a kind of tool.")] = False,
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
    read, _ = _load(catalogue, house)
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
    outcome = planned(read, rules, set_name, cabinet, _fill(fill), pins, _goal_progress(json))
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
    fill: FillOption = None,
    house: HouseOption = None,
    json: JsonOption = False,
    out: OutOption = None,
) -> None:
    """Which variants hold it, with how many free drawers?"""
    from matcher.comparison import compare as compared
    from matcher.grouping import sets_of
    from matcher.report.document import comparison_document
    from matcher.report.terminal import comparisons_view

    _checked_out(out)
    read, rules = _load(catalogue, house)
    names = [set_name] if set_name else list(sets_of(read))
    found = [
        compared(read, rules, name, cabinets or (), _fill(fill), reference, told=_progress(json)) for name in names
    ]
    documents = [comparison_document(comparison) for comparison in found]
    document = documents[0] if set_name else documents
    _print(document, lambda: comparisons_view(found), json)
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
