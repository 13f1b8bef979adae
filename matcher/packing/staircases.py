"""Two-dimensional shape curves: which widths go with which depths, and how two such curves add up.

A staircase lists the (width, depth) of which none beats another. Curves of blocks side by side, or one behind another,
add up exactly in time linear in their lengths (Stockmeyer, 1983, "Optimal orientations of cells in slicing floorplan
designs", Information and Control 57, pp. 91-101).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Lengths: TypeAlias = NDArray[np.int64]

NEVER = 1 << 60
"""Stands for 'no size is enough'; sums of a few of them stay within 64 bits."""


@dataclass(frozen=True, slots=True, eq=False)
class Staircase:
    """Non-dominated sizes: ``widths`` ascending, ``depths`` descending, both strictly and of one length."""

    widths: Lengths
    depths: Lengths

    def __len__(self) -> int:
        return len(self.widths)

    @property
    def points(self) -> tuple[tuple[int, int], ...]:
        """The sizes as (width, depth), narrowest first."""
        return tuple(zip(self.widths.tolist(), self.depths.tolist(), strict=True))

    def depth_at(self, width: int) -> int:
        """Least depth that goes with at most ``width``."""
        return int(least_depths(self, np.array([width]))[0])

    def width_at(self, depth: int) -> int:
        """Least width that goes with at most ``depth``."""
        return self.turned.depth_at(depth)

    def holds(self, width: int, depth: int) -> bool:
        """Whether some size goes into ``width`` x ``depth``."""
        return self.depth_at(width) <= depth

    @property
    def turned(self) -> Staircase:
        """The same curve with width and depth exchanged."""
        return Staircase(self.depths[::-1], self.widths[::-1])


def least_depths(curve: Staircase, widths: Lengths) -> Lengths:
    """Least depth at each of ``widths``; ``NEVER`` where even the narrowest size is wider."""
    index = np.searchsorted(curve.widths, widths, side="right")
    return np.concatenate(([NEVER], curve.depths))[index]


def staircase(widths: Lengths, depths: Lengths) -> Staircase:
    """Non-dominated ones of the sizes given; those beyond ``NEVER`` are dropped."""
    order = np.lexsort((depths, widths))
    widths, depths = widths[order], depths[order]
    least = np.minimum.accumulate(depths)
    before = np.concatenate(([NEVER], least[:-1]))
    kept = (depths < before) & (widths < NEVER)
    return Staircase(widths[kept], depths[kept])


def staircase_of(points: Iterable[tuple[int, int]]) -> Staircase:
    """Non-dominated ones of (width, depth) pairs."""
    table = np.array(sorted(points), dtype=np.int64).reshape(-1, 2)
    return staircase(table[:, 0], table[:, 1])


EMPTY = staircase_of(())


def merged(curves: Sequence[Staircase]) -> Staircase:
    """Everything any of the curves offers."""
    curves = [curve for curve in curves if len(curve)]
    if len(curves) < 2:
        return curves[0] if curves else EMPTY
    return staircase(np.concatenate([c.widths for c in curves]), np.concatenate([c.depths for c in curves]))


def behind(curves: Sequence[Staircase], gaps: int) -> Staircase:
    """One block behind another: depths and all ``gaps`` between them add up, the widest block counts."""
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
    """Blocks side by side: widths and all ``gaps`` between them add up, the deepest block counts."""
    return behind([curve.turned for curve in curves], gaps).turned


def thinned(values: Lengths, most: int) -> Lengths:
    """The ascending values; if more than ``most``, the last and the first of every step of equal length."""
    if len(values) <= most:
        return values
    step = int(values[-1] - values[0]) // (most - 1) + 1
    _, first = np.unique((values - values[0]) // step, return_index=True)
    kept: Lengths = values[np.union1d(first, [len(values) - 1])]
    return kept
