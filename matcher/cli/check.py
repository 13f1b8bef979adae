"""``matcher check``."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from matcher.cli.kept import check_plan
from matcher.cli.options import HouseOption, JsonOption, MeasuredOption, ReadingOption, SourceOptions, UnitOption
from matcher.cli.running import show, write_or_say

if TYPE_CHECKING:
    from matcher.house import House
    from matcher.records import Catalogue
    from matcher.report import Writers

LISTS, DRAWINGS = (".csv", ".xlsx", ".json"), (".svg", ".json")
OUT_HELP = (
    "Copy the catalogue: to one FILE.xlsx, or CSV files in a new FOLDER; its house rules stay (--house). "
    "With --sizes the list: FILE.csv, .xlsx or .json; with --outline the drawing: FILE.svg."
)
PLAN_HELP = "Does this released plan still hold against the catalogue, drawer by drawer, and what broke?"
SIZES_HELP = "Every piece of this set with its sizes and how far they may be off, what to measure first at the top."
OUTLINE_HELP = "How this drawing of a tool's outline (.dxf, .svg) is read: unit, box, corners, area, what was done."


def check(
    catalogue: Annotated[
        Path | None, typer.Argument(metavar="CATALOGUE", help="Folder of CSV files, or one .xlsx workbook.")
    ] = None,
    kinds: Annotated[bool, typer.Option("--kinds", help="List the words that name a kind of tool.")] = False,
    sizes: Annotated[str, typer.Option("--sizes", metavar="SET", help=SIZES_HELP)] = "",
    outline: Annotated[Path | None, typer.Option("--outline", metavar="FILE", help=OUTLINE_HELP)] = None,
    cabinet: Annotated[
        str, typer.Option("--cabinet", metavar="NAME", help="Tell this one and its look-alikes apart.")
    ] = "",
    plan: Annotated[Path | None, typer.Option("--plan", metavar="PLAN.json", help=PLAN_HELP)] = None,
    measured: MeasuredOption = None,
    reading: ReadingOption = None,
    unit: UnitOption = "",
    template: Annotated[
        Path | None,
        typer.Option("--template", metavar="FILE.xlsx", help="Write a blank catalogue to a new file, to be filled in."),
    ] = None,
    demo: Annotated[
        Path | None, typer.Option("--demo", metavar="FOLDER", help="Write the demonstration catalogue to a new folder.")
    ] = None,
    house: HouseOption = None,
    json: JsonOption = False,
    out: Annotated[Path | None, typer.Option("--out", metavar="PATH", help=OUT_HELP)] = None,
) -> None:
    """Are my files sound?"""
    from matcher.report import kinds_document, kinds_view

    if kinds:
        show(kinds_document(), kinds_view, json)
        return
    if template or demo:
        _new(template, demo)
        return
    if catalogue is None:
        raise typer.BadParameter("give a CATALOGUE, --kinds, --template or --demo")
    _check_asked(sizes=sizes, outline=outline, cabinet=cabinet, plan=plan, reading=reading)
    if plan:
        check_plan(plan, SourceOptions(catalogue, house), json, writes=out is not None)
    if out:
        _check_out(out, catalogue, LISTS if sizes else DRAWINGS if outline else ())
    read, rules = SourceOptions(catalogue, house).load()
    if sizes:
        _sizes(read, rules, sizes, json, out)
        return
    if outline:
        _outline(read, outline, json, out)
        return
    if out:
        from matcher.catalogue import copy_catalogue

        for left in copy_catalogue(catalogue, out, as_workbook=out.suffix.lower() == ".xlsx"):
            typer.echo(f"note: {left}", err=True)
    if cabinet:
        _identity(read, rules, cabinet, (measured, unit, reading or ()), json)
        return
    _inventory(catalogue, read, rules, measured, json)


def _inventory(catalogue: Path, read: Catalogue, rules: House, measured: Path | None, json: bool) -> None:
    """Tell what is in the catalogue and what to look at again, sizes that readings contradict included.

    The readings are those of ``measured``, then listed; without it the catalogue's own.
    """
    from matcher.catalogue import doubtful, places, read_measured
    from matcher.report import inventory_document, inventory_view, nominal_lines
    from matcher.studies import nominals_off

    found = nominals_off(read, rules, read_measured(measured, read) if measured else read.measured)
    where = places(catalogue) if any(one.doubted for one in found) or doubtful(read) else {}
    doubts = (*doubtful(read, where), *nominal_lines(found, where))
    show(inventory_document(read, doubts, found), lambda: inventory_view(read, doubts, found if measured else ()), json)


def _new(template: Path | None, demo: Path | None) -> None:
    """Write a blank catalogue, or else the demonstration one."""
    if template:
        _blank(template)
    elif demo:
        from matcher.catalogue import write_demo

        write_demo(demo)
        typer.echo(f"{demo}: written; 'matcher check {demo}' lists its sets and cabinets", err=True)


def _blank(file: Path) -> None:
    """Write a blank catalogue."""
    from matcher.catalogue import template
    from matcher.records import UsageError
    from matcher.report import check_writers, write

    check_writers([file], (".xlsx",), "--template")
    if file.exists():
        raise UsageError(f"--template {file}: is there already; a blank one would replace what is filled in")
    write([file], {".xlsx": template})
    typer.echo(f"{file}: fill in drawers and tools, then check this file", err=True)


def _check_asked(
    sizes: str, outline: Path | None, cabinet: str, plan: Path | None, reading: Sequence[str] | None
) -> None:
    """Refuse two questions at once, and readings of no cabinet."""
    if sum(map(bool, (sizes, outline, cabinet, plan))) > 1:
        raise typer.BadParameter("--sizes, --outline, --cabinet and --plan are questions of their own: ask one")
    if reading and not cabinet:
        raise typer.BadParameter("--reading says something of a cabinet: name the one it may be with --cabinet")


def _check_out(out: Path, catalogue: Path, suffixes: Sequence[str]) -> None:
    """Refuse a file that is none of these, or where there are none, no copy of the catalogue."""
    from matcher.report import check_copy, check_writers

    if suffixes:
        check_writers([out], suffixes, sources=[catalogue])
    else:
        check_copy(out, catalogue)


def _identity(
    read: Catalogue, rules: House, cabinet: str, tape: tuple[Path | None, str, Sequence[str]], json: bool
) -> None:
    """Tell a cabinet from its look-alikes by a file of readings of one unit, and by readings in words."""
    from matcher.catalogue import read_measured
    from matcher.report import identity_document, identity_view
    from matcher.studies import identify, told_reading

    measured, unit, told = tape
    rows = read_measured(measured, read) if measured else ()
    found = identify(read, rules, cabinet, rows, unit, map(told_reading, told))
    show(identity_document(found), lambda: identity_view(found), json)


def _sizes(read: Catalogue, rules: House, set_name: str, json: bool, out: Path | None) -> None:
    """Tell and write the sizes of a set's pieces."""
    from matcher.report import csv_text, json_text, sizes_book, sizes_document, sizes_view
    from matcher.studies import sizes_of

    found = sizes_of(read, set_name, rules.pocket.estimates)
    document = sizes_document(found)
    writers: Writers = {
        ".json": lambda: json_text(document),
        ".csv": lambda: csv_text(document["sizes"]),
        ".xlsx": lambda: sizes_book(found),
    }
    write_or_say([out] if out else None, writers)
    show(document, lambda: sizes_view(found), json)


def _outline(read: Catalogue, file: Path, json: bool, out: Path | None) -> None:
    """Tell and draw what a drawing of an outline is read as."""
    from matcher.report import json_text, outline_document, outline_drawing, outline_view, read_outline

    found = read_outline(file, read)
    document = outline_document(found)
    writers: Writers = {".json": lambda: json_text(document), ".svg": lambda: outline_drawing(found)}
    write_or_say([out] if out else None, writers)
    show(document, lambda: outline_view(found), json)
