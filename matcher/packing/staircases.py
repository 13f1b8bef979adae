"""Two-dimensional shape curves: which widths go with which depths, and how such curves add up.

The *shape curve* of something says in which sizes (width, depth) it can be had; whatever is at least as wide and as
deep as one of them is large enough for it. It is kept as a *staircase*: the sizes that no other one beats, that is, of
which none other is both as narrow and as shallow. The curves of things side by side, or one behind another, add up
exactly, without trying every pair of sizes (Stockmeyer, 1983, "Optimal orientations of cells in slicing floorplan
designs", Information and Control 57, pp. 91-101). Lengths are in 1/320 mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Lengths: TypeAlias = NDArray[np.int64]
"""Whole numbers, mostly lengths in 1/320 mm."""

NEVER = 1 << 60
"""Stands for a length where no size is large enough; sums of a few of them stay within 64 bits."""


@dataclass(frozen=True, slots=True, eq=False)
class Staircase:
    """Sizes that no other one beats: ``widths`` ascend and ``depths`` descend, strictly; each has one entry a size."""

    widths: Lengths
    depths: Lengths

    def __len__(self) -> int:
        return len(self.widths)

    @property
    def points(self) -> tuple[tuple[int, int], ...]:
        """The sizes as (width, depth), narrowest first."""
        return tuple(zip(self.widths.tolist(), self.depths.tolist(), strict=True))

    def depth_at(self, width: int) -> int:
        """Least depth of the sizes no wider than ``width``; ``NEVER`` if there are none."""
        return int(least_depths(self, np.array([width]))[0])

    def width_at(self, depth: int) -> int:
        """Least width of the sizes no deeper than ``depth``; ``NEVER`` if there are none."""
        return self.swapped.depth_at(depth)

    def holds(self, width: int, depth: int) -> bool:
        """Whether some size goes into ``width`` x ``depth``."""
        return self.depth_at(width) <= depth

    @property
    def swapped(self) -> Staircase:
        """The same curve with width and depth exchanged."""
        return Staircase(self.depths[::-1], self.widths[::-1])


def least_depths(curve: Staircase, widths: Lengths) -> Lengths:
    """Least depth at each of ``widths``; ``NEVER`` where even the narrowest size is wider."""
    index = np.searchsorted(curve.widths, widths, side="right")
    return np.concatenate(([NEVER], curve.depths))[index]


def staircase(widths: Lengths, depths: Lengths) -> Staircase:
    """The sizes that no other one beats, of those given; those of ``NEVER`` or more are dropped."""
    order = np.lexsort((depths, widths))
    widths, depths = widths[order], depths[order]
    least = np.minimum.accumulate(depths)
    before = np.concatenate(([NEVER], least[:-1]))
    kept = (depths < before) & (widths < NEVER)
    return Staircase(widths[kept], depths[kept])


def staircase_of(points: Iterable[tuple[int, int]]) -> Staircase:
    """The sizes that no other one beats, of those given as (width, depth)."""
    table = np.array(sorted(points), dtype=np.int64).reshape(-1, 2)
    return staircase(table[:, 0], table[:, 1])


EMPTY = staircase_of(())
"""The curve of what no room is large enough for."""


def merged(curves: Sequence[Staircase]) -> Staircase:
    """The curve of what can be had in any size of any of the curves."""
    curves = [curve for curve in curves if len(curve)]
    if len(curves) < 2:
        return curves[0] if curves else EMPTY
    return staircase(np.concatenate([c.widths for c in curves]), np.concatenate([c.depths for c in curves]))


def behind(curves: Sequence[Staircase], gaps: int) -> Staircase:
    """The curve of things one behind another: depths and ``gaps``, the sum of all gaps, add up; the widest decides."""
    if any(len(curve) == 0 for curve in curves):
        return EMPTY
    if len(curves) == 1:
        return curves[0]
    narrowest = max(int(curve.widths[0]) for curve in curves)
    widths = np.sort(np.concatenate([curve.widths for curve in curves]))
    widths = widths[widths >= narrowest]
    total = sum((least_depths(curve, widths) for curve in curves), np.zeros(len(widths), dtype=np.int64))
    return staircase(widths, total + gaps)


def beside(curves: Sequence[Staircase], gaps: int) -> Staircase:
    """The curve of things side by side: widths and ``gaps``, the sum of all gaps, add up; the deepest decides."""
    return behind([curve.swapped for curve in curves], gaps).swapped


def thinned(values: Lengths, most: int) -> Lengths:
    """At most ``most`` of the ascending values: all of them, else the first in each of equal spans, and the last."""
    if len(values) <= most:
        return values
    step = int(values[-1] - values[0]) // (most - 1) + 1
    _, first = np.unique((values - values[0]) // step, return_index=True)
    kept: Lengths = values[np.union1d(first, [len(values) - 1])]
    return kept
