"""Reads numbers, fractions and units as people write them, exactly, and says what was expected instead."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Literal, TypeAlias

from matcher.tools.dates import spoiled

Unit: TypeAlias = Literal["metric", "inch"]

NUMBER = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)"
_MARK = r"[a-z\"'.]*"
_FRACTION = re.compile(rf"(?:([0-9]+)[ -])?([0-9]+) ?/ ?([0-9]+) ?({_MARK})", re.IGNORECASE)
_PLAIN = re.compile(rf"({NUMBER}) ?({_MARK})", re.IGNORECASE)
_MARKS: Mapping[str, Unit | None] = {
    "": None,
    **dict.fromkeys(('"', "''", "in", "in.", "inch", "inches"), "inch"),
    **dict.fromkeys(("mm", "mm.", "millimeters"), "metric"),
}
_PLAINER = str.maketrans({"⁄": "/", "×": "x", "″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "–": "-", "−": "-"})
_LONGEST = 40  # characters of a cell that are looked at


class SizingError(ValueError):
    """A cell from which no size or dimension can be had: ``column`` is where, ``expected`` what should be there."""

    def __init__(self, column: str, expected: str):
        self.column = column
        self.expected = expected
        super().__init__(expected)


def tidy(text: str) -> str:
    """Plain characters: one kind of quote, multiplication sign, dash, space; a vulgar fraction spelled out.

    Any other character stays as it is: a digit that is raised, wide or of another script is never read as a plain one.
    """
    return " ".join("".join(map(_spelled_out, text[:_LONGEST])).translate(_PLAINER).split())


def _spelled_out(char: str) -> str:
    """A vulgar fraction as two numbers, apart from what stands beside it; any other character as it is."""
    vulgar = unicodedata.decomposition(char).startswith("<fraction>")
    return f" {unicodedata.normalize('NFKC', char)} " if vulgar else char


def refusal(column: str, text: str, example: str) -> SizingError:
    """The error for a cell that reads ``text`` where ``example`` was expected; names a spreadsheet's date."""
    date = spoiled(text)
    if date is None:
        return SizingError(column, example)
    was = f"looks like {date.was} turned into a date" if date.was else "looks like a date"
    return SizingError(column, f"{example}; this {was} by a spreadsheet: format the column as text")


def number(text: str, column: str, example: str) -> tuple[Fraction, Unit | None]:
    """Value and unit mark of a tidy text; a shop fraction counts as marked in inches.

    Raises
    ------
    SizingError
        It is no number, or has an unknown unit, or a denominator that no ruler has.
    """
    plain, fraction = _PLAIN.fullmatch(text), _FRACTION.fullmatch(text)
    if plain and plain[2].lower() in _MARKS:
        return Fraction(Decimal(plain[1])), _MARKS[plain[2].lower()]
    if not fraction or fraction[4].lower() not in _MARKS:
        raise refusal(column, text, example)
    bottom = int(fraction[3])
    if bottom not in (2, 4, 8, 16, 32, 64) or _MARKS[fraction[4].lower()] == "metric":
        raise SizingError(column, f"{example}; a fraction is in inches, in halves to sixty-fourths")
    return int(fraction[1] or 0) + Fraction(int(fraction[2]), bottom), "inch"


def shown(value: Fraction, unit: Unit) -> str:
    """``13``, ``5.5``, ``9/16``, ``1-1/16``; an inch size off the sixty-fourths as a decimal."""
    if unit == "metric" or 64 % value.denominator:
        return f"{float(value):g}"
    whole, rest = divmod(value, 1)
    return "-".join(str(part) for part in (whole, rest) if part)
