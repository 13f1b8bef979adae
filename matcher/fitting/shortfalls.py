"""What keeps a group out of a drawer, and by how much the drawer would have to grow."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain
from typing import Literal, TypeAlias

from matcher.records import LengthUnit, Scope

Axis: TypeAlias = Literal["width", "depth", "height", "area", "load", "slot"]
Lacks: TypeAlias = tuple[tuple[Axis, int], ...]
"""Sides and lengths, the largest first."""
Triple: TypeAlias = tuple[int, int, int]
"""Width, depth, height."""

SIDES: tuple[Axis, ...] = ("width", "depth", "height")
LARGER = {"width": "wider", "depth": "longer front to back", "height": "higher inside"}


@dataclass(frozen=True, slots=True)
class Shortfall:
    """What keeps a group out of a drawer; ``short`` in 1/320 mm (mass units for load, 0 where it has no size).

    ``axis`` and ``short`` hold within ``scope``. ``enough`` is what the drawer lacks for the size of the group that
    comes nearest to going in; nothing where it cannot be told.
    """

    axis: Axis
    short: int
    scope: Scope
    enough: Lacks = ()

    @property
    def growth(self) -> tuple[int, int]:
        """By how much the drawer would have to grow: the most along one side, then in all."""
        return max((by for _, by in self.enough), default=0), sum(by for _, by in self.enough)


def least_lacks(needs: Iterable[Triple], places: Iterable[Triple]) -> Lacks:
    """What the place lacks that comes nearest to taking one of the needs: its largest lack is least, then the sum."""
    rooms = list(places)
    lacks = [tuple(max(0, need[axis] - room[axis]) for axis in range(3)) for need in needs for room in rooms]
    if not lacks:
        return ()
    least = min(lacks, key=lambda lack: (max(lack), sum(lack), lack))
    found = [(side, by) for side, by in zip(SIDES, least, strict=True) if by > 0]
    return tuple(sorted(found, key=lambda lack: -lack[1]))


def larger(lacks: Lacks, unit: LengthUnit) -> str:
    """The growth in words, e.g. ``43.2 mm wider and 23.0 mm higher inside``."""
    return " and ".join(f"{unit.needed(by)} {LARGER[side]}" for side, by in lacks)


def all_lacks(lacks: Iterable[Lacks]) -> Lacks:
    """What makes good several lacks at once: the largest along each side, the largest side first."""
    every = list(chain.from_iterable(lacks))
    sides = [side for side in SIDES if side in dict(every)]
    most = [(side, max(by for other, by in every if other == side)) for side in sides]
    return tuple(sorted(most, key=lambda lack: -lack[1]))
