"""How a dimension rule is written down: a formula, where it comes from, and how far it is to be trusted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from matcher.records import Basis
from matcher.tools.notation import SizingError
from matcher.tools.series import Drive

Grade: TypeAlias = Literal["R1", "R2", "D", "M+", "M-", "CP"]
"""Read in two sources that agree, read at second hand, derived from those, from memory (surely, unsurely), common
practice."""


@dataclass(frozen=True, slots=True)
class Facts:
    """What formulas are written in: millimeters, except ``head_grams``.

    ``s`` is the width across flats (or of a blade, across a tip's points, or a thread's diameter), ``small`` the
    smaller opening's; ``nominal`` a nominal length. ``length``, ``width``, ``height`` hold what was given or is worked
    out already, in this order, so that a formula for the width may use the length. Zero means not known.
    """

    s: float = 0.0
    small: float = 0.0
    inch: bool = False
    tip: str = ""
    number: int = 0
    nominal: float = 0.0
    head_grams: float = 0.0
    square: Drive | None = None
    other_square: Drive | None = None
    length: float = 0.0
    width: float = 0.0
    height: float = 0.0

    @property
    def drive(self) -> Drive:
        """The square drive, or a SizingError where none was given."""
        if self.square is None:
            raise SizingError("drive", "a square drive: 1/4, 3/8, 1/2, 3/4 or 1")
        return self.square


Formula: TypeAlias = Callable[[Facts], float]
Features: TypeAlias = tuple[tuple[str, Formula], ...]
Check: TypeAlias = Callable[[Facts], None]


@dataclass(frozen=True, slots=True)
class Measure:
    """One dimension: its formula in mm, the formula's grade and source."""

    formula: Formula
    grade: Grade
    source: str

    @property
    def basis(self) -> Basis:
        """``from standard`` only where it rests on nothing but published values."""
        return "from standard" if self.grade in ("R1", "R2", "D") else "estimated"


def any_size(_facts: Facts) -> None:
    """The check of a kind without a series."""


@dataclass(frozen=True, slots=True)
class Rule:
    """All dimensions of one or more kinds.

    ``round`` pieces have one diameter as width and height. ``grams`` bounds the mass from above. ``features`` are
    lengths in mm that the outline is drawn from; they may use all three dimensions. ``check`` refuses sizes outside
    the series, unless every dimension was given.
    """

    kinds: tuple[str, ...]
    length: Measure
    width: Measure
    height: Measure
    grams: Formula
    features: Features = ()
    check: Check = any_size
    round: bool = False


def read(source: str, formula: Formula, twice: bool = False) -> Measure:
    """A published value, read at second hand (``twice``: in two sources that agree)."""
    return Measure(formula, "R1" if twice else "R2", f"{source}, read at second hand")


def derived(source: str, formula: Formula) -> Measure:
    """Arithmetic on published values alone."""
    return Measure(formula, "D", f"derived from {source}")


def from_memory(source: str, formula: Formula, sure: bool = False) -> Measure:
    """From memory; no published page was seen."""
    return Measure(formula, "M+" if sure else "M-", f"{source}, from memory")


def practice(formula: Formula | float) -> Measure:
    """Common practice without a source."""
    if callable(formula):
        return Measure(formula, "CP", "common practice, no source")
    return Measure(_constant(formula), "CP", "common practice, no source")


def must_be_given(column: str) -> Measure:
    """A dimension that no rule knows."""

    def refuse(_facts: Facts) -> float:
        raise SizingError(column, f"a {column}: nothing else says how large this piece is")

    return Measure(refuse, "CP", "")


def _constant(value: float) -> Formula:
    return lambda _facts: value


def flats_within(low: float, high: float) -> Check:
    """Refuse sizes that no series holds."""

    def check(facts: Facts) -> None:
        if not low <= (facts.small or facts.s) <= facts.s <= high:
            raise SizingError("size", f"a size from {low:g} to {high:g} mm, or length, width and height given")

    return check


def length_within(low: float, high: float) -> Check:
    """Refuse nominal lengths that no series holds; a length that was given is never refused."""

    def check(facts: Facts) -> None:
        if not facts.length and not low <= facts.nominal <= high:
            raise SizingError("size", f"a length from {low:g} to {high:g} mm, or the whole length in column length")

    return check


def drive_takes(facts: Facts) -> None:
    """Refuse sizes that sockets of this drive are not made in."""
    low, high = facts.drive.smallest, facts.drive.largest
    if not low <= facts.s <= high:
        wanted = f"a size from {low:g} to {high:g} mm on a {facts.drive.name} drive, or length, width and height given"
        raise SizingError("size", wanted)
