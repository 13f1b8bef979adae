"""``matcher draft``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from matcher.cli.options import JsonOption
from matcher.cli.progress import shown
from matcher.cli.running import before_writing, show

CABINETS_HELP = "Catalogue whose cabinets, drawers and foam are taken (none: the demonstration's)."
WORDS_HELP = "Folder with your own tables words, kinds, series or columns; their rows win over the shipped ones."
OUT_HELP = "Also write to FILE: .xlsx the catalogue; .csv or .json every line as it was read; repeatable."
READING = "reading the list line by line"
TABLES_HELP = "Write the shipped tables of words to a new folder, to see how they are written."


def draft(
    supplier_list: Annotated[
        Path | None, typer.Argument(metavar="LIST", help="A supplier's list: a text table or an .xlsx workbook.")
    ] = None,
    cabinets: Annotated[Path | None, typer.Option("--cabinets", metavar="CATALOGUE", help=CABINETS_HELP)] = None,
    words: Annotated[Path | None, typer.Option("--words", metavar="FOLDER", help=WORDS_HELP)] = None,
    tables: Annotated[Path | None, typer.Option("--tables", metavar="FOLDER", help=TABLES_HELP)] = None,
    json: JsonOption = False,
    out: Annotated[list[Path] | None, typer.Option("--out", metavar="FILE", help=OUT_HELP)] = None,
) -> None:
    """Which tools does a supplier's list mean?"""
    from matcher.catalogue import cabinet_tables
    from matcher.drafting import draft as drafted
    from matcher.drafting import vocabulary, write_tables
    from matcher.records import UsageError
    from matcher.report import (
        Writers,
        check_writers,
        csv_text,
        draft_book,
        draft_document,
        draft_rows,
        draft_view,
        json_text,
        write,
    )

    if tables:
        write_tables(tables)
        typer.echo(
            f"{tables}: written; keep the rows that you add or change, and name the folder with --words", err=True
        )
        return
    if supplier_list is None:
        raise typer.BadParameter("give a LIST, or --tables")
    check_writers(out, (".xlsx", ".csv", ".json"), sources=[supplier_list, cabinets])
    for path in out or ():
        if path.suffix.lower() == ".xlsx" and path.exists():
            raise UsageError(f"--out {path}: is there already; a draft would replace what is filled in")
    frames = cabinet_tables(cabinets)
    with before_writing(out), shown(json, READING):
        found = drafted(supplier_list, vocabulary(words))
    document = draft_document(found)
    writers: Writers = {
        ".json": lambda: json_text(document),
        ".csv": lambda: csv_text(draft_rows(found)),
        ".xlsx": lambda: draft_book(found, frames),
    }
    write(out, writers)
    if not cabinets and any(path.suffix.lower() == ".xlsx" for path in out or ()):
        typer.echo("note: its cabinets are those of the demonstration; --cabinets takes a catalogue of yours", err=True)
    show(document, lambda: draft_view(found), json)
