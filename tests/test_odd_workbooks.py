"""Workbooks that are damaged, hostile or only unusual: refused in one line that names the place, or read."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeAlias

import openpyxl
import pytest
from openpyxl.chart import BarChart, Reference
from openpyxl.workbook.protection import WorkbookProtection
from openpyxl.worksheet.formula import ArrayFormula

from matcher.catalogue.reading import read_catalogue
from tests.catalogue_files import folder, workbook
from tests.test_odd_files_and_options import SECONDS, at_most, names

Book: TypeAlias = openpyxl.Workbook
Parts: TypeAlias = dict[str, bytes]
SHEET, TEXTS = "xl/worksheets/sheet3.xml", "xl/sharedStrings.xml"
"""The sheet of drawers, and where the texts of all sheets are."""
UNOPENED, NONE = "expected a workbook (XLSX) that opens", "expected a folder of CSV files or a workbook (XLSX)"
IN_WIDTH = "sheet drawers, row 2, column inside_width_mm: "
UNCALCULATED = "sheet drawers, row 2: '': expected a calculated value in E2: open and save the workbook once"


@pytest.fixture
def sound(tmp_path) -> Path:
    return workbook(folder(tmp_path / "csv"), tmp_path / "sound.xlsx")


def with_width(value: object, look: str = "General") -> Callable[[Book], None]:
    """The first drawer's width, in a cell of this number format."""

    def change(book: Book) -> None:
        book["drawers"]["E2"].number_format = look
        book["drawers"]["E2"].value = value

    return change


def hidden_notes(book: Book) -> None:
    book.create_sheet("notes")["A1"] = "mine"
    book["notes"].sheet_state = "hidden"


def twice(book: Book) -> None:
    book.create_sheet("other").title = "DRAWERS "


BAD_BOOKS: dict[str, tuple[Callable[[Book], None], str]] = {
    "cells joined": (lambda book: book["drawers"].merge_cells("A2:A3"), "row 3, column cabinet: '': expected a name"),
    "names joined": (lambda book: book["drawers"].merge_cells("A1:B1"), "expected a name for column number 2"),
    "a sheet that is hidden": (hidden_notes, "sheet notes: 'notes': expected a known table"),
    "a table twice": (twice, "expected one table drawers, and drawers is there too"),
    "a formula": (with_width("=500+70"), UNCALCULATED),
    "a formula of an array": (with_width(ArrayFormula("E2", "=1+1")), UNCALCULATED),
    "a formula that failed": (with_width("#REF!"), IN_WIDTH),
    "a truth": (with_width(True), f"{IN_WIDTH}'yes': expected a length"),
    "a percentage": (with_width(0.5, "0%"), f"{IN_WIDTH}'50%': expected a length"),
    "a number beyond any": (with_width(1e308), f"{IN_WIDTH}'1e+308': expected a length"),
}


def replaced(part: str, old: bytes, new: bytes) -> Callable[[Parts], None]:
    def change(parts: Parts) -> None:
        assert old in parts[part]
        parts[part] = parts[part].replace(old, new, 1)

    return change


def laughing(parts: Parts) -> None:
    """Entities of entities, each ten times the one before, in a text of a sheet."""
    made = "".join(f'<!ENTITY {chr(98 + at)} "{10 * f"&{chr(97 + at)};"}">' for at in range(8))
    replaced(SHEET, b"?>", f'?><!DOCTYPE x [<!ENTITY a "ha">{made}]>'.encode())(parts)
    replaced(SHEET, b"<sheetData>", b'<sheetData><row r="99"><c t="inlineStr"><is><t>&i;</t></is></c></row>')(parts)


def long_rows(parts: Parts) -> None:
    rows = b"".join(b'<row r="%d"><c t="inlineStr"><is><t>x</t></is></c></row>' % row for row in range(20_000, 20_002))
    replaced(SHEET, b"</sheetData>", rows + b"</sheetData>")(parts)


BAD_PARTS: dict[str, tuple[Callable[[Parts], None], str]] = {
    "entities of entities": (laughing, UNOPENED),
    "an entity of a file in use": (
        lambda parts: (
            replaced(TEXTS, b"?>", b'?><!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>')(parts),
            replaced(TEXTS, b"<t>", b"<t>&a;")(parts),
        ),
        UNOPENED,
    ),
    "a text of 60 MB": (replaced(TEXTS, b"<t>", b"<t>" + 60_000_000 * b"x"), "whose texts unpack to 50 MB"),
    "a text of 40,000 signs": (replaced(TEXTS, b"<t>set", b"<t>" + 40_000 * b"x"), "at most 32,767 characters in A1"),
    "a row far below": (long_rows, "no more than 10,000 empty rows above a row"),
    "a sheet that is not there": (lambda parts: parts.pop(SHEET), "sheet drawers: expected this table with at"),
    "a sheet cut off": (lambda parts: parts.update({SHEET: parts[SHEET][:-60]}), UNOPENED),
    "no table of sheets": (lambda parts: parts.pop("xl/workbook.xml"), UNOPENED),
}  # fmt: skip
BAD_BYTES: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "cut off": (lambda content: content[: len(content) // 2], NONE),
    "cut off at its end": (lambda content: content[:-10], NONE),
    "nothing": (lambda _: b"", NONE),
    "locked, as programs of an office do it": (lambda _: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(3000), NONE),
    "an archive that is locked": (lambda content: locked(content), UNOPENED),
    "a drawing by name": (lambda _: b"<svg/>", NONE),
}


def locked(content: bytes) -> bytes:
    """The archive with the mark of encryption at every part."""
    raw = bytearray(content)
    for sign, behind in ((b"PK\x01\x02", 8), (b"PK\x03\x04", 6)):
        place = raw.find(sign)
        while place >= 0:
            raw[place + behind] |= 1
            place = raw.find(sign, place + 4)
    return bytes(raw)


def repacked(sound: Path, change: Callable[[Parts], None]) -> None:
    with zipfile.ZipFile(sound) as packed:
        parts = {name: packed.read(name) for name in packed.namelist()}
    change(parts)
    with zipfile.ZipFile(sound, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in parts.items():
            packed.writestr(name, content)


def refused(run, book: Path) -> str:
    """The only line that ``check`` writes; nothing else is written, and it does not take for ever."""
    before = names(book.parent)
    with at_most(SECONDS):
        code, out, err = run("check", book, "--out", book.with_name("copy.xlsx"))
    assert (code, out) == (2, "")
    line = err.splitlines()[0]
    assert err.count("\n") == 1, err
    assert line.startswith(f"error: {book.name}")
    assert names(book.parent) == before
    return line


@pytest.mark.parametrize("name", BAD_BOOKS)
def test_a_sheet_with_something_odd_is_refused_at_its_cell(run, sound, name):
    change, told = BAD_BOOKS[name]
    book = openpyxl.load_workbook(sound)
    change(book)
    book.save(sound)
    assert told in refused(run, sound)


@pytest.mark.parametrize("name", BAD_PARTS)
def test_a_workbook_with_a_part_that_is_hostile_is_refused(run, sound, name):
    change, told = BAD_PARTS[name]
    repacked(sound, change)
    assert told in refused(run, sound)


@pytest.mark.parametrize("name", BAD_BYTES)
def test_a_workbook_that_does_not_open_is_refused(run, sound, name):
    change, told = BAD_BYTES[name]
    sound.write_bytes(change(sound.read_bytes()))
    assert told in refused(run, sound)


def hidden(book: Book) -> None:
    book["pins"].sheet_state = "veryHidden"
    book["drawers"].row_dimensions[2].hidden = True
    book["drawers"].column_dimensions["C"].hidden = True


def charted(book: Book) -> None:
    chart = BarChart()
    chart.add_data(Reference(book["drawers"], min_col=5, min_row=1, max_row=4))
    book.create_chartsheet("chart").add_chart(chart)


def protected(book: Book) -> None:
    book.security = WorkbookProtection(workbookPassword="x", lockStructure=True)
    book["drawers"].protection.sheet = True


def linked(book: Book) -> None:
    book["drawers"]["A2"].hyperlink = "http://x.test/"


UNUSUAL: dict[str, Callable[[Book], None]] = {
    "hidden rows, columns and sheets": hidden,
    "a chart on a sheet of its own": charted,
    "locked against changes": protected,
    "a link at a cell": linked,
    "a number as money": with_width(570, '"$"#,##0'),
    "a number as text": with_width("570.0", "@"),
    "sheets in another order": lambda book: book.move_sheet("drawers", 5),
    "spaces and capitals in names of sheets": lambda book: setattr(book["drawers"], "title", " DRAWERS "),
}


@pytest.mark.parametrize("name", UNUSUAL)
def test_an_unusual_workbook_is_read_as_what_it_is(sound, name):
    plain = read_catalogue(sound)
    book = openpyxl.load_workbook(sound)
    UNUSUAL[name](book)
    book.save(sound)
    assert replace(read_catalogue(sound), digest="") == replace(plain, digest="")


@pytest.mark.parametrize("name", ["link.xlsx", "BOOK.XLSX", "book.xlsm", "扳手 .xlsx"])
def test_a_workbook_is_read_under_any_name_and_by_a_link(sound, name):
    plain = read_catalogue(sound)
    other = sound.with_name(name)
    if name == "link.xlsx":
        other.symlink_to(sound)
    else:
        sound.rename(other)
    assert read_catalogue(other) == plain


def test_names_that_lead_out_of_an_archive_lead_nowhere(sound):
    repacked(sound, lambda parts: parts.update({"../../evil.txt": b"x"}))
    read_catalogue(sound)
    assert not [name for name in names(sound.parents[1]) if "evil" in name]
