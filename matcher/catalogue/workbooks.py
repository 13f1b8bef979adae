"""Cells of a workbook as the text a person sees, so that a workbook and CSV files read alike."""

from __future__ import annotations

import datetime
import re
import warnings
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import openpyxl

LITERAL = re.compile(r'"[^"]*"|\\.|_.|\[[^\]]*\]')
"""Parts of a number format that are words, spaces or colors: quoted, escaped, as wide as a character, in brackets."""


class DamagedError(Exception):
    """A file that is no table; the message says what was expected."""

    def __init__(self, expected: str, row: int = 0, sheet: str = ""):
        self.row = row
        self.sheet = sheet
        super().__init__(expected)


def sheets(path: Path) -> list[tuple[str, list[list[str]]]]:
    """Title and rows of text of every sheet, in the order of the workbook.

    Raises
    ------
    DamagedError
        The file is no workbook, or holds formulas that were never calculated.
    """
    book = calculated_book(path)
    return [(sheet.title, [[text(cell) for cell in row] for row in sheet.iter_rows()]) for sheet in book.worksheets]


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


def _opened(path: Path, calculated: bool) -> Any:
    try:
        with path.open("rb") as stream:
            return openpyxl.load_workbook(stream, data_only=calculated)
    except Exception as broken:  # a damaged archive raises nearly anything: zip, XML, key and value errors
        raise DamagedError("a workbook (XLSX) that opens") from broken


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
