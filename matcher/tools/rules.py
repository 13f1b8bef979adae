"""How a dimension rule is written down: a formula, where it comes from, and how far a real tool may be off it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

from matcher.records import Basis
from matcher.tools import masses
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
class Off:
    """How far a real size may lie below and above the likely one, as shares of it."""

    below: float
    above: float


SPREADS: Mapping[Grade, Off] = {
    "R1": Off(0.03, 0.02),
    "R2": Off(0.05, 0.03),
    "D": Off(0.05, 0.03),
    "M+": Off(0.1, 0.1),
    "M-": Off(0.2, 0.2),
    "CP": Off(0.2, 0.25),
}
"""By grade, where a rule does not state its own: stated shares, common practice, no source."""

MASS_OFF = Off(0.4, 0.5)
"""How far a mass may be off where a rule does not state its own; common practice, no source."""
NOMINAL = Off(0.05, 0.08)
"""How far a tool sold by its length may be off that length; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Measure:
    """A dimension in mm or a mass in g: its likely value by a formula, the formula's grade and source.

    ``off`` is how far a real tool may be from it. ``least`` says that it rests on published least values: a real tool
    is as large or larger, so ``off`` reaches further up.
    """

    formula: Formula
    grade: Grade
    source: str
    off: Off
    least: bool = False

    @property
    def basis(self) -> Basis:
        """``from standard`` only where it rests on nothing but published values."""
        return "from standard" if self.grade in ("R1", "R2", "D") else "estimated"


def any_size(_facts: Facts) -> None:
    """The check of a kind without a series."""


@dataclass(frozen=True, slots=True)
class Rule:
    """All dimensions of one or more kinds.

    ``round`` pieces have one diameter as width and height. ``grams`` is the mass. ``features`` are
    lengths in mm that the outline is drawn from; they may use all three dimensions. ``check`` refuses sizes outside
    the series, unless every dimension was given.
    """

    kinds: tuple[str, ...]
    length: Measure
    width: Measure
    height: Measure
    grams: Measure
    features: Features = ()
    check: Check = any_size
    round: bool = False


def read(source: str, formula: Formula, twice: bool = False, off: Off | None = None) -> Measure:
    """A published value, read at second hand (``twice``: in two sources that agree)."""
    grade: Grade = "R1" if twice else "R2"
    return Measure(formula, grade, f"{source}, read at second hand", off or SPREADS[grade])


def derived(source: str, formula: Formula, off: Off | None = None) -> Measure:
    """Arithmetic on published values alone."""
    return Measure(formula, "D", f"derived from {source}", off or SPREADS["D"])


def from_memory(source: str, formula: Formula, sure: bool = False, off: Off | None = None) -> Measure:
    """From memory; no published page was seen."""
    grade: Grade = "M+" if sure else "M-"
    return Measure(formula, grade, f"{source}, from memory", off or SPREADS[grade])


def practice(formula: Formula | float, off: Off | None = None) -> Measure:
    """Common practice without a source."""
    worked = formula if callable(formula) else _constant(formula)
    return Measure(worked, "CP", "common practice, no source", off or SPREADS["CP"])


def over_least(source: str, formula: Formula, off: Off) -> Measure:
    """A published least value times a share that is common practice: real tools are longer than the least."""
    return Measure(formula, "CP", f"above the least of {source} by common practice, no source", off, least=True)


def weighed(formula: Formula, off: Off | None = None) -> Measure:
    """A mass from geometry, or in proportion to the size; shares and powers are from memory."""
    return Measure(formula, "M-", "from memory", off or MASS_OFF)


def filled(share: float, off: Off | None = None) -> Measure:
    """The mass of a piece whose steel fills ``share`` of the box round it."""
    return weighed(lambda f: masses.share_of_box(share, f.length, f.width, f.height), off)


def grown(grams: float, length: float, power: float, off: Off | None = None) -> Measure:
    """The mass of a piece that weighs ``grams`` at ``length`` mm, and grows with a power of its length."""
    return weighed(lambda f: float(grams * (f.length / length) ** power), off)


def must_be_given(column: str) -> Measure:
    """A dimension that no rule knows."""

    def refuse(_facts: Facts) -> float:
        raise SizingError(column, f"a {column}: nothing else says how large this piece is")

    return Measure(refuse, "CP", "", SPREADS["CP"])


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
