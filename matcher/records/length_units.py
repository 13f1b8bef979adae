"""Lengths in the unit in which a cabinet was given, as far as its sizes tell, in sentences, tables and lines; masses in
kilograms or pounds to go with them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from matcher.records.given import Drawer
from matcher.records.units import (
    PER_LB,
    PER_MM,
    Toward,
    in_fraction,
    in_inches,
    in_shop_fraction,
    in_thousandths,
    show_kg,
    show_mm,
    to_mm,
)

PER_TENTH = PER_MM // 10


@dataclass(frozen=True, slots=True)
class LengthUnit:
    """What lengths are told in: millimeters to 0.1, or inches as fractions to 1/32, exact ones to 1/64.

    ``given`` says that sizes were given in it.
    """

    name: Literal["mm", "in"] = "mm"
    given: bool = True

    def figure(self, length: int, decimals: int = 1, sign: str = "") -> str:
        """The size of a drawer without its unit: as given in inches; so many decimals of a millimeter.

        With ``sign`` ``+`` it has its sign in any case. What was given in millimeters is rounded down in inches.
        """
        if self.name == "mm":
            return f"{to_mm(length):{sign}.{decimals}f}"
        told = in_inches(length) if self.given else in_fraction(length, Toward.DOWN)
        return f"{sign if length >= 0 else ''}{told}"

    def inside(self, *sides: int) -> str:
        """The sizes of a drawer, e.g. ``560 x 405 x 70``, without their unit."""
        return " x ".join(f"{to_mm(side):g}" if self.name == "mm" else self.figure(side) for side in sides)

    def least(self, length: int, decimals: int = 1) -> str:
        """What a size has to be at least, without its unit: rounded up in inches."""
        return self.figure(length, decimals) if self.name == "mm" else in_fraction(length, Toward.UP)

    def show(self, length: int, toward: Toward | None = None) -> str:
        """A length that was worked out, with its unit; to the nearest if no matter which way it is rounded."""
        return show_mm(length) if self.name == "mm" else f"{in_fraction(length, toward)} in"

    def clear(self, length: int) -> str:
        """What is there, a drawer's inside or what is to spare: never told as more than it is in inches."""
        return self.show(length, Toward.DOWN)

    def needed(self, length: int) -> str:
        """What there has to be, or what is short: never told as less than it is in inches."""
        return self.show(length, Toward.UP)

    def in_mass(self, mass: int) -> str:
        """A mass with its unit, to the nearest tenth: kilograms beside millimeters, pounds beside inches."""
        return show_kg(mass) if self.name == "mm" else f"{mass / PER_LB:,.1f} lb"

    def masses(self, low: int, high: int) -> str:
        """``12.0 kg`` or, where a mass is only known between bounds, ``10.0 to 14.0 kg``."""
        least, most = self.in_mass(low), self.in_mass(high)
        return most if least == most else f"{least.rpartition(' ')[0]} to {most}"


def unit_of(lengths: Iterable[int]) -> LengthUnit:
    """Inches where all openings are shop fractions, whole numbers of 1/64 in, and not all of them whole millimeters.

    Also where some are decimal inches, to 1/1000 in, and not all of them whole tenths of a millimeter.
    """
    given = tuple(lengths)
    fractions = all(map(in_shop_fraction, given)) and any(length % PER_MM for length in given)
    decimals = all(in_shop_fraction(length) or in_thousandths(length) for length in given)
    return LengthUnit("in" if fractions or (decimals and any(length % PER_TENTH for length in given)) else "mm")


def unit_of_drawers(drawers: Iterable[Drawer]) -> LengthUnit:
    """The unit in which the sizes of a cabinet's drawers were given."""
    return unit_of(size for box in drawers for size in (box.inside_width, box.inside_depth, box.clear_height))
