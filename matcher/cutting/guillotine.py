"""Whether blanks can be parted by straight cuts from side to side, exactly up to a budget of counted cuts.

Every way to part a mixture of sizes in two is tried once, through shape curves (Stockmeyer, 1983, "Optimal orientations
of cells in slicing floorplan designs"); equal sizes are interchangeable, so a grid of equal blanks is quick.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import product
from math import comb, prod
from typing import TypeAlias

from matcher.cutting.remainders import filled
from matcher.packing import EMPTY, Packing, Position, Size, Staircase, behind, beside, merged, staircase_of

BlankSizes: TypeAlias = tuple[Size, ...]
"""What one blank may measure: as it is, or turned too."""
SizeMixture: TypeAlias = tuple[BlankSizes, ...]
"""Sorted, equal ones repeated."""
FreeCorner: TypeAlias = tuple[int, int]

CUTS = 20_000
"""Ways to part a mixture and all that is in it in two, up to which all are tried."""


class Guillotine:
    """Blanks on one sheet of ``width`` x ``depth``; what was found of smaller mixtures is kept."""

    def __init__(self, width: int, depth: int) -> None:
        self.width, self.depth = width, depth
        self._curves: dict[SizeMixture, Staircase] = {}

    def packing(self, items: Sequence[BlankSizes]) -> Packing:
        """Positions by straight cuts, ``excluded`` if no such cuts exist, ``open`` beyond the budget."""
        quick = filled(items, self.width, self.depth)
        return Packing("found", quick) if quick else self._searched(items)

    def _searched(self, items: Sequence[BlankSizes]) -> Packing:
        order = sorted(range(len(items)), key=lambda n: items[n])
        mixture = tuple(items[n] for n in order)
        if cuts_of(mixture) > CUTS:
            return Packing("open")
        if not len(self._curve(mixture)):
            return Packing("excluded")
        found = self._positions(mixture, (self.width, self.depth), (0, 0))
        return Packing("found", tuple(position for _, position in sorted(zip(order, found, strict=True))))

    def _curve(self, mixture: SizeMixture) -> Staircase:
        """Rooms within the sheet from which the mixture can be cut."""
        if mixture not in self._curves:
            self._curves[mixture] = self._within(
                staircase_of(mixture[0]) if len(mixture) == 1 else merged(list(self._joined(mixture)))
            )
        return self._curves[mixture]

    def _joined(self, mixture: SizeMixture) -> Iterator[Staircase]:
        for one, other in _halves(mixture):
            curves = self._curve(one), self._curve(other)
            if all(len(curve) for curve in curves):
                yield beside(curves, 0)
                yield behind(curves, 0)

    def _within(self, curve: Staircase) -> Staircase:
        kept = (curve.widths <= self.width) & (curve.depths <= self.depth)
        return Staircase(curve.widths[kept], curve.depths[kept]) if kept.any() else EMPTY

    def _positions(self, mixture: SizeMixture, room: FreeCorner, corner: FreeCorner) -> list[Position]:
        """Choice and corner of every item of a mixture that can be cut from the room."""
        (width, depth), (left, front) = room, corner
        if len(mixture) == 1:
            return [(next(n for n, (w, d) in enumerate(mixture[0]) if w <= width and d <= depth), left, front)]
        for one, other in _halves(mixture):
            wide, deep = self._curve(one).width_at(depth), self._curve(one).depth_at(width)
            rest = self._curve(other)
            if rest.holds(width - wide, depth):
                rooms = ((wide, depth), corner), ((width - wide, depth), (left + wide, front))
            elif rest.holds(width, depth - deep):
                rooms = ((width, deep), corner), ((width, depth - deep), (left, front + deep))
            else:
                continue
            parts = (*one, *other)
            found = self._positions(one, *rooms[0]) + self._positions(other, *rooms[1])
            return [position for _, position in sorted(zip(parts, found, strict=True))]
        raise ValueError("the room is smaller than the shape curve allows")


def cuts_of(mixture: Sequence[BlankSizes]) -> int:
    """How often a mixture and every mixture within it can be parted in two: over all kinds (m + 1)(m + 2) / 2."""
    return prod(comb(number + 2, 2) for number in Counter(mixture).values())


def _halves(mixture: SizeMixture) -> Iterator[tuple[SizeMixture, SizeMixture]]:
    """Every way to part a mixture in two, equal items not told apart; each pair of parts once."""
    kinds = Counter(mixture)
    for taken in product(*(range(number + 1) for number in kinds.values())):
        one = tuple(kind for kind, number in zip(kinds, taken, strict=True) for _ in range(number))
        other = tuple(
            kind for (kind, number), out in zip(kinds.items(), taken, strict=True) for _ in range(number - out)
        )
        if one and other and (len(one), one) <= (len(other), other):
            yield one, other
