"""``matcher check``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from matcher.cli.options import HouseOption, JsonOption, MeasuredOption, SourceOptions, UnitOption
from matcher.cli.running import show

OUT_HELP = "Copy the catalogue: to one FILE.xlsx, or CSV files in a new FOLDER; its house rules stay (--house)."


def check(
    catalogue: Annotated[
        Path | None, typer.Argument(metavar="CATALOGUE", help="Folder of CSV files, or one .xlsx workbook.")
    ] = None,
    kinds: Annotated[bool, typer.Option("--kinds", help="List the words that name a kind of tool.")] = False,
    cabinet: Annotated[
        str, typer.Option("--cabinet", metavar="NAME", help="Tell this one and its look-alikes apart.")
    ] = "",
    measured: MeasuredOption = None,
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
    from matcher.report import inventory_document, inventory_view, kinds_document, kinds_view

    if kinds:
        show(kinds_document(), kinds_view, json)
        return
    if template:
        from matcher.catalogue import template as blank
        from matcher.records import UsageError
        from matcher.report import check_writers, write

        check_writers([template], (".xlsx",), "--template")
        if template.exists():
            raise UsageError(f"--template {template}: is there already; a blank one would replace what is filled in")
        write([template], {".xlsx": blank})
        typer.echo(f"{template}: fill in drawers and tools, then check this file", err=True)
        return
    if demo:
        from matcher.catalogue import write_demo

        write_demo(demo)
        typer.echo(f"{demo}: written; 'matcher check {demo}' lists its sets and cabinets", err=True)
        return
    if catalogue is None:
        raise typer.BadParameter("give a CATALOGUE, --kinds, --template or --demo")
    if out:
        from matcher.report import check_copy

        check_copy(out, catalogue)
    read, rules = SourceOptions(catalogue, house).load()
    if out:
        from matcher.catalogue import copy_catalogue

        for left in copy_catalogue(catalogue, out, as_workbook=out.suffix.lower() == ".xlsx"):
            typer.echo(f"note: {left}", err=True)
    if cabinet:
        from matcher.catalogue import read_measured
        from matcher.report import identity_document, identity_view
        from matcher.studies import identify

        found = identify(read, rules, cabinet, read_measured(measured, read) if measured else (), unit)
        show(identity_document(found), lambda: identity_view(found), json)
        return
    from matcher.catalogue import doubtful

    doubts = doubtful(read)
    show(inventory_document(read, doubts), lambda: inventory_view(read, doubts), json)
