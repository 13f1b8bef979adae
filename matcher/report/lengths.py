"""Lengths in the unit in which a cabinet was given, as far as its sizes tell: for tables and lines in the terminal."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from matcher.records import PER_MM, Drawer, in_inches, in_shop_fraction, in_thousandths, show_mm, to_mm

PER_TENTH = PER_MM // 10


@dataclass(frozen=True, slots=True)
class LengthUnit:
    """What lengths are told in."""

    name: Literal["mm", "in"]

    def figure(self, length: int, decimals: int = 1, sign: str = "") -> str:
        """The length without its unit; so many decimals of a millimeter, with ``sign`` ``+`` its sign in any case."""
        if self.name == "mm":
            return f"{to_mm(length):{sign}.{decimals}f}"
        return f"{sign if length >= 0 else ''}{in_inches(length)}"

    def show(self, length: int) -> str:
        """The length with its unit."""
        return show_mm(length) if self.name == "mm" else f"{in_inches(length)} in"


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
