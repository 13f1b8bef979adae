"""Exact lengths and masses.

Lengths are integers of 1/320 mm, the largest unit that holds both 0.1 mm (32) and 1/64 in (127) as whole numbers.
Masses are integers of 10 micrograms, the largest unit that holds both 1 g (100,000) and 1 lb (45,359,237) exactly.
So a 22 1/2 in organizer goes into a 22 1/2 in drawer whichever unit either was typed in.
"""

from __future__ import annotations

from decimal import Decimal
from enum import Enum
from fractions import Fraction
from math import ceil, floor
from typing import TypeAlias

Number: TypeAlias = int | float | Decimal | Fraction

PER_MM = 320
PER_INCH = 8128
PER_64TH = PER_INCH // 64
PER_TRADE = PER_INCH // 32
"""The least step in which the trade reads a tape, 1/32 in; common practice, no source."""
PER_GRAM = 100_000
PER_KG = 1000 * PER_GRAM
PER_LB = 45_359_237
NEWTONS_PER_LBF = 4.4482216152605


class Toward(Enum):
    """Which way a value off the grid is rounded: always against the fit."""

    UP = "up"
    DOWN = "down"


def _on_grid(value: Fraction, toward: Toward) -> int:
    return ceil(value) if toward is Toward.UP else floor(value)


def mm(value: Number, toward: Toward = Toward.UP) -> int:
    """Length in 1/320 mm of ``value`` millimeters."""
    return _on_grid(Fraction(value) * PER_MM, toward)


def inch(value: Number, toward: Toward = Toward.UP) -> int:
    """Length in 1/320 mm of ``value`` inches."""
    return _on_grid(Fraction(value) * PER_INCH, toward)


def gram(value: Number, toward: Toward = Toward.UP) -> int:
    """Mass in 10 micrograms of ``value`` grams."""
    return _on_grid(Fraction(value) * PER_GRAM, toward)


def kg(value: Number, toward: Toward = Toward.UP) -> int:
    """Mass in 10 micrograms of ``value`` kilograms."""
    return _on_grid(Fraction(value) * PER_KG, toward)


def lb(value: Number, toward: Toward = Toward.UP) -> int:
    """Mass in 10 micrograms of ``value`` avoirdupois pounds."""
    return _on_grid(Fraction(value) * PER_LB, toward)


def to_mm(length: int) -> float:
    """Millimeters of a length."""
    return length / PER_MM


def to_kg(mass: int) -> float:
    """Kilograms of a mass."""
    return mass / PER_KG


def show_mm(length: int) -> str:
    """A length for a person, e.g. ``561.2 mm``: one decimal, or two where one would hide a shortfall."""
    digits = 1 if length == 0 or abs(length) >= PER_MM // 10 else 2
    return f"{to_mm(length):.{digits}f} mm"


def in_shop_fraction(length: int) -> bool:
    """Whether a length is a shop fraction, a whole number of 1/64 in."""
    return length % PER_64TH == 0


def in_thousandths(length: int) -> bool:
    """Whether an opening of this length may have been given in decimal inches, to 1/1000 in, and rounded down."""
    thousandths = ceil(Fraction(1000 * length, PER_INCH))
    return inch(Fraction(thousandths, 1000), Toward.DOWN) == length


def in_inches(length: int) -> str:
    """Inches of a length in words: a shop fraction to 1/64 where it is one, else three decimals."""
    exact = Fraction(length, PER_INCH)
    if not in_shop_fraction(length):
        return f"{float(exact):,.3f}"
    whole, rest = divmod(abs(exact), 1)
    words = " ".join(part for part in (f"{whole}" if whole else "", f"{rest}" if rest else "") if part) or "0"
    return f"-{words}" if exact < 0 else words


def in_fraction(length: int, toward: Toward | None = None) -> str:
    """Inches of a length as the trade says them: exact where it is a whole number of 1/64, else to 1/32.

    Rounded ``toward`` where that matters, what a drawer offers down and what must go in up; else to the nearest.
    """
    parts = Fraction(length, PER_TRADE)
    if in_shop_fraction(length):
        return in_inches(length)
    if toward is None and abs(2 * parts) < 1:
        return "under 1/32"
    rounded = floor(parts + Fraction(1, 2)) if toward is None else _on_grid(parts, toward)
    return in_inches(rounded * PER_TRADE)


def show_kg(mass: int) -> str:
    """A mass for a person, e.g. ``12.3 kg``."""
    return f"{to_kg(mass):.1f} kg"
