"""How each kind of cell is read: a parser returns the cell's value or raises ``ValueError(what was expected)``."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Generic, NamedTuple, TypeVar

from matcher.catalogue.trade import KIND_WORDS, drive_word, kind_word, spoiled, tidy
from matcher.records import PER_INCH, PER_KG, PER_LB, PER_MM, Toward, TypedSize, remembered, with_nearest

V_co = TypeVar("V_co", covariant=True)

LENGTHS: Mapping[str, Fraction] = {"mm": Fraction(PER_MM), "in": Fraction(PER_INCH)}
MASSES: Mapping[str, Fraction] = {"kg": Fraction(PER_KG), "lb": Fraction(PER_LB)}
DENSITIES: Mapping[str, Fraction] = {
    "kg_m3": Fraction(1),
    "lb_ft3": Fraction(PER_LB, PER_KG) / Fraction(3048, 10_000) ** 3,
}
NO_UNIT: Mapping[str, Fraction] = {"": Fraction(1)}
LONGEST = 10_000 * PER_MM
HEAVIEST = 10_000 * PER_KG

_DECIMAL = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?")
_FRACTION = re.compile(r"(?:(?P<whole>[0-9]{1,6})(?: |-| - ))?(?P<over>[0-9]{1,2})/(?P<under>2|4|8|16|32|64)")
_MARKED = re.compile(r"""(?P<number>.*?[0-9.]) ?(?P<mark>mm|cm|m|in\.?|inch|inches|ft|kg|g|lbs?\.?|oz|["']+)""")
_MARKS = {
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "''"), "in"),
    **dict.fromkeys(("lb", "lb.", "lbs", "lbs."), "lb"),
    "mm": "mm",
    "kg": "kg",
}
_SPOKEN = {
    "mm": "millimeters",
    "in": "inches",
    "kg": "kilograms",
    "lb": "pounds",
    "kg_m3": "kilograms per cubic meter",
    "lb_ft3": "pounds per cubic foot",
}


class Cell(NamedTuple):
    """A cell that is not blank, spaces tidied, and the unit its column's name ends in."""

    text: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Parser(Generic[V_co]):
    """Reads one kind of cell.

    ``expected`` is what a person is told where a needed cell is blank; ``units`` are the endings of the column's name;
    ``choices`` the words to choose from, if there are but a few.
    """

    expected: str
    read: Callable[[Cell], V_co]
    units: tuple[str, ...] = ("",)
    choices: tuple[str, ...] = ()

    def __call__(self, cell: Cell) -> V_co:
        """The cell's value; raises ``ValueError(what was expected)``."""
        return self.read(cell)


# -------------------------------------------------------------------------------------------------------- quantities


def exact(
    expected: str, scale: Mapping[str, Fraction], most: float, least: float = 0, above: bool = False
) -> Parser[Fraction]:
    """A number times the scale of its column's unit, from ``least`` (or above it) to ``most``, not rounded."""

    def read(cell: Cell) -> Fraction:
        value = _number(cell, expected) * scale[cell.unit]
        if not least <= value <= most or (above and value == least):
            raise ValueError(expected)
        return value

    return Parser(expected, read, tuple(scale))


def rounded(quantity: Parser[Fraction], toward: Toward) -> Parser[int]:
    """A quantity on its grid."""
    onto = ceil if toward is Toward.UP else floor
    return Parser(quantity.expected, lambda cell: onto(quantity(cell)), quantity.units)


def partly_known(quantity: Parser[int]) -> Parser[TypedSize]:
    """A size that may be ``?``, not known, or a guess, ``~515``."""
    expected = f"{quantity.expected}, ? where it is not known, ~ before a guess"

    def read(cell: Cell) -> TypedSize:
        if cell.text == "?":
            return TypedSize(None)
        if not set("?~") & set(cell.text):
            return TypedSize(quantity(cell))
        try:
            return TypedSize(quantity(cell._replace(text=cell.text.removeprefix("~").strip())), guessed=True)
        except ValueError as wrong:
            raise ValueError(expected) from wrong

    return Parser(quantity.expected, read, quantity.units)


SIZE = "a length above 0 and at most 10 m"


def length() -> Parser[Fraction]:
    """A size in 1/320 mm, at least one of them."""
    above_0 = exact(SIZE, LENGTHS, LONGEST, above=True)

    def read(cell: Cell) -> Fraction:
        size = above_0(cell)
        if size < 1:
            raise ValueError(f"{SIZE}; this is less than 1/320 mm, the least that is told apart")
        return size

    return Parser(SIZE, read, tuple(LENGTHS))


LENGTH = length()
"""A size, in 1/320 mm."""
DISTANCE = exact("a length from 0 to 10 m", LENGTHS, LONGEST)
"""A length that may be 0, in 1/320 mm."""
MASS = exact("a mass from 0 to 10,000 kg", MASSES, HEAVIEST)
"""A mass or load, in 10 micrograms."""


def number(expected: str, least: float, most: float, scale: Mapping[str, Fraction] = NO_UNIT) -> Parser[float]:
    """A plain number."""
    quantity = exact(expected, scale, most, least)
    return Parser(expected, lambda cell: float(quantity(cell)), quantity.units)


def whole(least: int, most: int) -> Parser[int]:
    """A whole number."""
    expected = f"a whole number from {least} to {most:,}"
    quantity = exact(expected, NO_UNIT, most, least)

    def read(cell: Cell) -> int:
        value = quantity(cell)
        if value.denominator != 1:
            raise ValueError(expected)
        return int(value)

    return Parser(expected, read)


# ------------------------------------------------------------------------------------------------------------- words


def text(expected: str = "text") -> Parser[str]:
    """Any text."""
    return Parser(expected, lambda cell: cell.text)


def word(words: tuple[str, ...], expected: str = "", **aliases: str) -> Parser[str]:
    """One of a few words, capitals aside."""
    said = {known.lower(): known for known in words} | aliases
    choice = expected or f"{', '.join(words[:-1])} or {words[-1]}"

    def read(cell: Cell) -> str:
        if cell.text.lower() not in said:
            raise ValueError(with_nearest(choice, cell.text, words))
        return said[cell.text.lower()]

    return Parser(choice, read, choices=words)


def words(one: Parser[str]) -> Parser[tuple[str, ...]]:
    """Words separated by semicolons, each once."""

    def read(cell: Cell) -> tuple[str, ...]:
        parts = [part.strip() for part in cell.text.split(";")]
        return tuple(dict.fromkeys(_part(one, part) for part in parts if part))

    return Parser(f"{one.expected}, or several separated by semicolons", read)


def _part(one: Parser[str], part: str) -> str:
    try:
        return one(Cell(part))
    except ValueError as unknown:
        raise ValueError(f"{unknown} instead of {part!r}") from None


def yes_no() -> Parser[bool]:
    """Yes or no; a spreadsheet's TRUE and FALSE are understood."""
    answer = word(("yes", "no"), "yes or no", true="yes", false="no")
    return Parser(answer.expected, lambda cell: answer(cell) == "yes", choices=answer.choices)


def kind() -> Parser[str]:
    """A kind of tool, capitals aside."""
    return Parser("a known kind of tool", lambda cell: kind_word(cell.text), choices=KIND_WORDS)


def drive() -> Parser[str]:
    """A square drive, by its inch name or its nominal size in millimeters."""
    return Parser("a square drive: 1/4, 3/8, 1/2, 3/4 or 1", lambda cell: drive_word(cell.text))


def size() -> Parser[str]:
    """A tool's size, as yet unread, but no longer what a spreadsheet makes of it."""
    expected = "a size such as 13, 9/16, T25 or PH2"

    def read(cell: Cell) -> str:
        if not cell.text.isdecimal() and spoiled(cell.text):
            raise ValueError(_dated(expected, cell.text))
        return cell.text

    return Parser(expected, read)


def bank() -> Parser[tuple[int, int]]:
    """A bank, or the first and last of those a drawer spans."""
    expected = "a bank such as 2, or a range such as 1-2"

    def read(cell: Cell) -> tuple[int, int]:
        ends = re.fullmatch(r"([1-9][0-9]{0,2})(?:\.0+)?(?: ?[-–] ?([1-9][0-9]{0,2}))?", cell.text)
        if not ends or int(ends[1]) > int(ends[2] or ends[1]):
            raise ValueError(_dated(expected, cell.text))
        return int(ends[1]), int(ends[2] or ends[1])

    return Parser(expected, read)


# ----------------------------------------------------------------------------------------------------------- numbers


@remembered(65_536)
def _number(cell: Cell, expected: str) -> Fraction:
    """The number in a cell: a decimal, or in an inch column a shop fraction such as ``22 7/16``."""
    if len(cell.text) > 40:
        raise ValueError(expected)
    bare = _unmarked(Cell(tidy(cell.text), cell.unit), expected)
    if _DECIMAL.fullmatch(bare):
        return Fraction(bare)
    if fraction := _FRACTION.fullmatch(bare):
        over, under = int(fraction["over"]), int(fraction["under"])
        if cell.unit == "in" and over < under:
            return int(fraction["whole"] or 0) + Fraction(over, under)
        if cell.unit == "mm":
            raise ValueError(f"{expected}; a fraction belongs in a column whose name ends in _in")
    if re.search("[0-9],[0-9]", bare):
        raise ValueError(f"{expected}, with a decimal point and no comma")
    raise ValueError(_dated(expected, bare))


def _unmarked(cell: Cell, expected: str) -> str:
    """The cell's text without a unit mark that says the same as the column's name."""
    marked = _MARKED.fullmatch(cell.text) if cell.unit else None
    if not marked:
        return cell.text
    if _MARKS.get(marked["mark"]) != cell.unit:
        raise ValueError(f"{expected}, in {_SPOKEN[cell.unit]} as the name of the column says")
    return marked["number"]


def _dated(expected: str, said: str) -> str:
    """What was expected, and what ``said`` was before a spreadsheet made it a date, if one did."""
    date = spoiled(said)
    if date is None:
        return expected
    looks = f"looks like {date.was} turned into a date" if date.was else "looks like a date"
    return f"{expected}; this {looks} by a spreadsheet: format the column as text"
