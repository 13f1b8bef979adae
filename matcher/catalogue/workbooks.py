"""Cells of a workbook as the text a person sees, so that a workbook and CSV files read alike."""

from __future__ import annotations

import datetime
import re
import warnings
from collections.abc import Iterable, Iterator
from fractions import Fraction
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import openpyxl

MOST_EMPTY, MOST_CELLS, MOST_BYTES, MOST_TEXT = 10_000, 2_000_000, 500_000_000, 50_000_000
"""Empty rows above a row, cells of a sheet, bytes of a workbook and of its texts once unpacked, at most; own choice."""
TEXTS = "sharedStrings.xml"
"""The part of a workbook that holds its texts and is read as a whole."""
LONGEST_TEXT = 32_767
"""Most characters a spreadsheet's cell holds."""
LITERAL = re.compile(r'"[^"]*"|\\.|_.|\[[^\]]*\]')
"""Parts of a number format that are words, spaces or colors: quoted, escaped, as wide as a character, in brackets."""


class DamagedError(Exception):
    """A file that is no table; the message says what was expected."""

    def __init__(self, expected: str, row: int = 0, sheet: str = ""):
        self.row = row
        self.sheet = sheet
        super().__init__(expected)


def sheets(path: Path) -> list[tuple[str, list[list[str]]]]:
    """Title and rows of text of every sheet, in the order of the workbook; what is empty below and right is left out.

    The workbook is read as a stream, so that a cell far away costs no memory.

    Raises
    ------
    DamagedError
        The file is no workbook, is too large, or holds formulas that were never calculated.
    """
    formulas: set[tuple[str, str]] = set()
    read = _read(path, False, formulas)
    return _read(path, True, formulas) if formulas else read


def _read(path: Path, calculated: bool, formulas: set[tuple[str, str]]) -> list[tuple[str, list[list[str]]]]:
    """All sheets; the places of formulas are added to ``formulas``, or where ``calculated`` must hold a value."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        book = _opened(path, calculated, stream=True)
        try:
            return [
                (sheet.title, _equally_long(sheet.title, _rows(sheet, calculated, formulas)))
                for sheet in book.worksheets
            ]
        except DamagedError:
            raise
        except Exception as broken:  # a stream meets what is damaged only while it is read
            raise DamagedError("a workbook (XLSX) that opens") from broken
        finally:
            book.close()


def _rows(sheet: Any, calculated: bool, formulas: set[tuple[str, str]]) -> Iterator[list[str]]:
    """Rows of text without the empty ones at the end, each without its empty cells at the end."""
    sheet.reset_dimensions()
    empty = 0
    for number, row in enumerate(sheet.iter_rows(), 1):
        for cell in row:
            if calculated and cell.value is None and (sheet.title, _place(cell)) in formulas:
                told = f"a calculated value in {_place(cell)}: open and save the workbook once"
                raise DamagedError(told, number, sheet.title)
            if cell.data_type == "f":
                formulas.add((sheet.title, _place(cell)))
        texts = _to_the_last([_of_a_cell(cell, number, sheet.title) for cell in row])
        if not texts:
            empty += 1
            continue
        if empty > MOST_EMPTY:
            raise DamagedError(f"no more than {MOST_EMPTY:,} empty rows above a row", number, sheet.title)
        yield from ([] for _ in range(empty))
        yield texts
        empty = 0


def _of_a_cell(cell: Any, row: int, sheet: str) -> str:
    """The cell's text, if it is one that a spreadsheet's cell can hold."""
    told = text(cell)
    if len(told) > LONGEST_TEXT:
        raise DamagedError(f"at most {LONGEST_TEXT:,} characters in {_place(cell)}", row, sheet)
    return told


def _equally_long(sheet: str, rows: Iterable[list[str]]) -> list[list[str]]:
    """The rows, all as long as the longest."""
    read: list[list[str]] = []
    longest = 0
    for row in rows:
        read.append(row)
        longest = max(longest, len(row))
        if longest * len(read) > MOST_CELLS:
            raise DamagedError(f"no more than {MOST_CELLS:,} cells in a sheet", len(read), sheet)
    return [row + [""] * (longest - len(row)) for row in read]


def _place(cell: Any) -> str:
    return str(getattr(cell, "coordinate", ""))


def _to_the_last(texts: list[str]) -> list[str]:
    """The texts up to the last that is more than spaces."""
    return texts[: max((n for n, word in enumerate(texts, 1) if word.strip()), default=0)]


def calculated_book(path: Path) -> Any:
    """The workbook as openpyxl opens it, with values in place of formulas.

    Raises
    ------
    DamagedError
        The file is no workbook, or holds formulas that were never calculated.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        book = _opened(path, calculated=False)
        if any(cell.data_type == "f" for sheet in book.worksheets for row in sheet.iter_rows() for cell in row):
            _refuse_uncalculated(book, values := _opened(path, calculated=True))
            return values
    return book


def _opened(path: Path, calculated: bool, stream: bool = False) -> Any:
    try:
        with ZipFile(path) as packed:
            sizes = {part.filename: part.file_size for part in packed.infolist()}
        size, texts = sum(sizes.values()), sum(size for name, size in sizes.items() if name.endswith(TEXTS))
        if size <= MOST_BYTES and texts <= MOST_TEXT:
            return openpyxl.load_workbook(path if stream else BytesIO(path.read_bytes()), stream, data_only=calculated)
    except Exception as broken:  # a damaged archive raises nearly anything: zip, XML, key and value errors
        raise DamagedError("a workbook (XLSX) that opens") from broken
    most, found, what = (
        (MOST_TEXT, texts, "whose texts unpack") if texts > MOST_TEXT else (MOST_BYTES, size, "that unpacks")
    )
    raise DamagedError(f"a workbook {what} to {most // 10**6} MB at most; it has {found // 10**6} MB")


def _refuse_uncalculated(formulas: Any, values: Any) -> None:
    for cell, sheet in _formula_cells(formulas):
        if values[sheet][cell.coordinate].value is None:
            raise DamagedError(
                f"a calculated value in {cell.coordinate}: open and save the workbook once", cell.row, sheet
            )


def _formula_cells(book: Any) -> Iterator[tuple[Any, str]]:
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            yield from ((cell, sheet.title) for cell in row if cell.data_type == "f")


def text(cell: Any) -> str:
    """A cell's value as text: numbers as typed, dates and times in ISO form."""
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return _number_text(value, cell.number_format)
    if isinstance(value, datetime.datetime):
        return value.date().isoformat() if value.time() == datetime.time() else value.isoformat(" ")
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    return str(value)


def _number_text(value: float, shown_as: str) -> str:
    """A number as its format shows it where that is a percentage, a fraction or keeps leading zeros, else 15 digits."""
    if "%" in LITERAL.sub("", shown_as):
        return f"{100 * value:.15g}%"
    whole = int(value) if float(value).is_integer() else None
    if whole is not None and whole >= 0 and set(shown_as) == {"0"}:
        return f"{whole:0{len(shown_as)}d}"
    exact = Fraction(value)
    if "?/" in shown_as and whole is None and value > 0 and 64 % exact.denominator == 0:
        head, rest = divmod(exact, 1)
        return f"{head} {rest}" if head else str(rest)
    return str(value) if isinstance(value, int) else f"{value:.15g}"
