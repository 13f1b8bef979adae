"""One parser per kind of cell. Each is called with a cell, returns its value or raises ``ValueError(expected)``.

``expected`` is also what a person reads where a needed cell is blank; ``units`` are the endings a column's name may have.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil, floor
from typing import NamedTuple, Protocol

from matcher.catalogue.damage import date_hint, day_number_hint
from matcher.catalogue.naming import with_nearest
from matcher.units import PER_INCH, PER_KG, PER_LB, PER_MM, Toward

LENGTHS: Mapping[str, Fraction] = {"mm": Fraction(PER_MM), "in": Fraction(PER_INCH)}
MASSES: Mapping[str, Fraction] = {"kg": Fraction(PER_KG), "lb": Fraction(PER_LB)}
DENSITIES: Mapping[str, Fraction] = {
    "kg_m3": Fraction(1),
    "lb_ft3": Fraction(PER_LB, PER_KG) / Fraction(3048, 10_000) ** 3,
}
LONGEST = 10_000 * PER_MM
HEAVIEST = 10_000 * PER_KG
DRIVES: Mapping[str, tuple[str, ...]] = {
    "1/4": ("1/4", "0.25", ".25", "6.3", "6.35"),
    "3/8": ("3/8", "0.375", ".375", "10"),
    "1/2": ("1/2", "0.5", ".5", "12.5", "12.7"),
    "3/4": ("3/4", "0.75", ".75", "20"),
    "1": ("1", "1.0", "25", "25.4"),
}
"""Square drives by their inch name; the metric numbers are the nominal sizes of ISO 1174-1."""

_DECIMAL = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?")
_FRACTION = re.compile(r"(?:(?P<whole>[0-9]{1,6})(?: |-| - ))?(?P<over>[0-9]{1,2})/(?P<under>2|4|8|16|32|64)")
_MARKED = re.compile(r"(?P<number>.*?[0-9.]) ?(?P<mark>mm|cm|m|in\.?|inch|inches|ft|kg|g|lbs?\.?|oz|[\"'″”′’]+)")
_MARKS = {
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "''", "″", "”"), "in"),
    **dict.fromkeys(("lb", "lb.", "lbs", "lbs."), "lb"),
    "mm": "mm",
    "kg": "kg",
}


class Cell(NamedTuple):
    """A cell that is not blank, spaces tidied, and the unit its column's name ends in."""

    text: str
    unit: str = ""


class Parser(Protocol):
    """What every parser offers."""

    @property
    def expected(self) -> str: ...  # noqa: D102
    @property
    def units(self) -> tuple[str, ...]: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Text:
    """Any text."""

    expected: str = "text"
    units: tuple[str, ...] = ()

    def __call__(self, cell: Cell) -> str:
        return cell.text


@dataclass(frozen=True, slots=True)
class SizeText:
    """A tool's size, as yet unread, but no longer what a spreadsheet makes of it."""

    expected: str = "a size such as 13, 9/16, T25 or PH2"
    units: tuple[str, ...] = ()

    def __call__(self, cell: Cell) -> str:
        hint = date_hint(cell.text) or day_number_hint(cell.text)
        if hint:
            raise ValueError(f"{self.expected} ({hint})")
        return cell.text


@dataclass(frozen=True, slots=True)
class Measure:
    """A quantity whose column's name carries the unit: ``least`` to ``most`` on the grid, exact before rounding."""

    expected: str
    scale: Mapping[str, Fraction]
    most: int
    toward: Toward
    above_zero: bool = False

    @property
    def units(self) -> tuple[str, ...]:
        return tuple(self.scale)

    def exact(self, cell: Cell) -> Fraction:
        """The value on the grid's scale, not yet rounded."""
        value = _number(cell, self.expected) * self.scale[cell.unit]
        if value < 0 or value > self.most or (self.above_zero and value == 0):
            raise ValueError(self.expected)
        return value

    def __call__(self, cell: Cell) -> int:
        exact = self.exact(cell)
        return ceil(exact) if self.toward is Toward.UP else floor(exact)


def length(toward: Toward) -> Measure:
    """A size above 0, in 1/320 mm."""
    return Measure("a length above 0 and at most 10 m", LENGTHS, LONGEST, toward, above_zero=True)


def distance(toward: Toward) -> Measure:
    """A length that may be 0, in 1/320 mm."""
    return Measure("a length from 0 to 10 m", LENGTHS, LONGEST, toward)


def mass(toward: Toward) -> Measure:
    """A mass or load, in 10 micrograms."""
    return Measure("a mass from 0 to 10,000 kg", MASSES, HEAVIEST, toward)


@dataclass(frozen=True, slots=True)
class Exact:
    """A measure left unrounded, for cells whose sums matter."""

    measure: Measure

    @property
    def expected(self) -> str:
        return self.measure.expected

    @property
    def units(self) -> tuple[str, ...]:
        return self.measure.units

    def __call__(self, cell: Cell) -> Fraction:
        return self.measure.exact(cell)


@dataclass(frozen=True, slots=True)
class Number:
    """A number from ``least`` to ``most``, with the unit of the column's name if the table knows any."""

    expected: str
    least: int = 0
    most: int = 1_000_000_000
    scale: Mapping[str, Fraction] = field(default_factory=dict)

    @property
    def units(self) -> tuple[str, ...]:
        return tuple(self.scale)

    def __call__(self, cell: Cell) -> float:
        value = _number(cell, self.expected) * self.scale.get(cell.unit, 1)
        if not self.least <= value <= self.most:
            raise ValueError(self.expected)
        return float(value)


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number from ``least`` to ``most``."""

    least: int
    most: int
    units: tuple[str, ...] = ()

    @property
    def expected(self) -> str:
        return f"a whole number from {self.least} to {self.most}"

    def __call__(self, cell: Cell) -> int:
        value = _number(cell, self.expected)
        if value.denominator != 1 or not self.least <= value <= self.most:
            raise ValueError(self.expected)
        return int(value)


@dataclass(frozen=True, slots=True)
class Word:
    """One of a few words; ``aliases`` are other ways to say one."""

    words: tuple[str, ...]
    what: str = ""
    aliases: Mapping[str, str] = field(default_factory=dict)
    units: tuple[str, ...] = ()

    @property
    def expected(self) -> str:
        return self.what or " or ".join([", ".join(self.words[:-1]), self.words[-1]])

    def __call__(self, cell: Cell) -> str:
        said = {word.lower(): word for word in self.words} | dict(self.aliases)
        try:
            return said[cell.text.lower()]
        except KeyError:
            raise ValueError(with_nearest(self.expected, cell.text, self.words)) from None


@dataclass(frozen=True, slots=True)
class Words:
    """Words of a list separated by semicolons."""

    word: Word
    units: tuple[str, ...] = ()

    @property
    def expected(self) -> str:
        return f"{self.word.expected}, separated by semicolons"

    def __call__(self, cell: Cell) -> tuple[str, ...]:
        parts = [part.strip() for part in cell.text.split(";") if part.strip()]
        for part in parts:
            self._checked(part)
        return tuple(dict.fromkeys(self.word(Cell(part)) for part in parts))

    def _checked(self, part: str) -> None:
        try:
            self.word(Cell(part))
        except ValueError as unknown:
            raise ValueError(f"{unknown} instead of {part!r}") from None


@dataclass(frozen=True, slots=True)
class YesNo:
    """Yes or no; a spreadsheet's TRUE and FALSE are understood."""

    expected: str = "yes or no"
    units: tuple[str, ...] = ()

    def __call__(self, cell: Cell) -> bool:
        answer = {"yes": True, "true": True, "no": False, "false": False}.get(cell.text.lower())
        if answer is None:
            raise ValueError(self.expected)
        return answer


@dataclass(frozen=True, slots=True)
class Drive:
    """A square drive, by its inch name or its nominal size in millimeters."""

    expected: str = "a square drive: 1/4, 3/8, 1/2, 3/4 or 1"
    units: tuple[str, ...] = ()

    def __call__(self, cell: Cell) -> str:
        marked = _MARKED.fullmatch(cell.text)
        bare = marked["number"] if marked and _MARKS.get(marked["mark"]) in ("in", "mm") else cell.text
        for drive, names in DRIVES.items():
            if bare in names:
                return drive
        raise ValueError(_hinted(self.expected, date_hint(cell.text) or day_number_hint(cell.text)))


@dataclass(frozen=True, slots=True)
class Bank:
    """A bank, or the first and last of those a drawer spans."""

    expected: str = "a bank such as 2, or a range such as 1-2"
    units: tuple[str, ...] = ()

    def __call__(self, cell: Cell) -> tuple[int, int]:
        ends = [end.strip() for end in re.split("[-–]", cell.text)]
        if len(ends) <= 2 and all(re.fullmatch("[0-9]{1,3}(\\.0+)?", end) for end in ends):
            first, last = int(float(ends[0])), int(float(ends[-1]))
            if 1 <= first <= last:
                return first, last
        hint = date_hint(cell.text) and "a spreadsheet has made this a date: format the column as text"
        raise ValueError(_hinted(self.expected, hint))


def _hinted(expected: str, hint: str) -> str:
    return f"{expected} ({hint})" if hint else expected


def _number(cell: Cell, expected: str) -> Fraction:
    """The number in a cell: a decimal, or in an inch column a shop fraction such as ``22 7/16``."""
    text = _unmarked(cell, expected)
    if len(text) <= 40 and _DECIMAL.fullmatch(text):
        return Fraction(text)
    if fraction := _FRACTION.fullmatch(text):
        over, under = int(fraction["over"]), int(fraction["under"])
        if cell.unit == "in" and over < under:
            return int(fraction["whole"] or 0) + Fraction(over, under)
        if cell.unit == "mm":
            raise ValueError(f"{expected}; a fraction belongs in a column whose name ends in _in")
    if re.search("[0-9],[0-9]", text):
        raise ValueError(f"{expected}, with a decimal point and no comma")
    raise ValueError(_hinted(expected, date_hint(text)))


def _unmarked(cell: Cell, expected: str) -> str:
    """The cell's text without a unit mark that says the same as the column's name."""
    marked = _MARKED.fullmatch(cell.text)
    if not marked:
        return cell.text
    if not cell.unit:
        return cell.text
    if _MARKS.get(marked["mark"]) != cell.unit:
        raise ValueError(f"{expected}, in {cell.unit} as the name of the column says")
    return marked["number"]
