"""Foam of two sheets: a top sheet, and under it a base of another color. Each is nested on sheets of its own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from matcher.cutting.blanks import Blank, fitting
from matcher.cutting.sheets import Stock, preference, stocks
from matcher.house import House
from matcher.records import Foam


@dataclass(frozen=True, slots=True)
class Bought:
    """Sheets of what is seen from above, and of the bases under it: none where all foam is one sheet."""

    tops: tuple[Stock, ...] = ()
    bases: tuple[Stock, ...] = ()


@dataclass(frozen=True, slots=True)
class FoamLayer:
    """One of the sheets that organizers are made of: a blank for each organizer, and the foam it may be cut from."""

    blanks: Sequence[Blank]
    foam: Sequence[Foam]


def layered(blanks: Sequence[Blank], foam: Iterable[Foam], house: House) -> tuple[FoamLayer, ...]:
    """What is seen from above, and the base under it where foam is two sheets."""
    known = tuple(foam)
    if not any(blank.base for blank in blanks):
        return (FoamLayer(blanks, known),)
    tops = [replace(blank, planned=blank.planned - blank.base, bonded=True) for blank in blanks]
    bases = [replace(blank, planned=blank.base, like="", bonded=True) for blank in blanks]
    upper, lower = parted(tops, bases, known, house)
    return FoamLayer(tops, upper), FoamLayer(bases, lower)


def bought(blanks: Sequence[Blank], foam: Iterable[Foam], house: House, batch: int = 1) -> Bought:
    """Sheets for ``batch`` of every blank, both counts proved for themselves."""
    return Bought(*(stocks(layer.blanks, layer.foam, house, batch) for layer in layered(blanks, foam, house)))


def parted(
    tops: Sequence[Blank], bases: Sequence[Blank], foam: Sequence[Foam], house: House
) -> tuple[list[Foam], list[Foam]]:
    """Foam for the top sheets and foam for the bases, which have one color throughout that no top sheet has.

    It is the color with which most sheets are to be had; of several the one in the fewest rows, which is likely kept
    for bases alone, then the cheapest by area. Foam without any color may be either: that it contrasts is for a person
    to see. Where no color does, there is none for bases.
    """
    colors = {_color(row) for row in foam} - {""}
    if not colors:
        return list(foam), list(foam)

    def split(color: str) -> tuple[list[Foam], list[Foam]]:
        return [row for row in foam if _color(row) != color], [row for row in foam if color and _color(row) == color]

    def rank(color: str) -> tuple[int, int, list[tuple[int, bool, float, str]], str]:
        upper, lower = split(color)
        under = [rows for blank in bases if (rows := fitting(blank, lower, house))]
        served = len(under) + sum(bool(fitting(blank, upper, house)) for blank in tops)
        return -served, len(lower), sorted({preference(row) for rows in under for row in rows}), color

    return split(min({"", *colors}, key=rank))


def _color(foam: Foam) -> str:
    return foam.color.casefold()
