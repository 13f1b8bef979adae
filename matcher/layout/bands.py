"""Drives in two bands, one behind the other: columns side by side in each, so that no column has to be as deep as all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import product
from typing import TypeAlias

import numpy as np

from matcher.layout.blocks import Block, Memo, Room, Size, Spot, levels, remembered, shared_out
from matcher.layout.rows import side_by_side
from matcher.packing.staircases import EMPTY, NEVER, Lengths, Staircase, least_depths, staircase

DEPTHS = 48
"""Depths of a band that are tried, at most; a band counts at the next deeper one."""
MOST = 600
"""Ways to cut all columns that are tried, about."""

Column: TypeAlias = tuple[tuple[Block | None, Block | None], ...]
"""For every cut of a column from left to right what lies in front of it and what behind, if anything."""


def places(cuts: Sequence[int], columns: int) -> list[int]:
    """Of the places where a column may be cut, its ends among them, as many as can be tried for so many columns."""
    count = max(int(MOST ** (1 / columns)), 2)
    picked = {round(n * (len(cuts) - 1) / (count - 1)) for n in range(count)}
    return [cuts[n] for n in sorted(picked)]


@dataclass(frozen=True, slots=True, eq=False)
class _Band:
    """Widths of the blocks of one band, a gap included, by column: a row for every cut, at every one of ``depths``."""

    depths: Lengths
    widths: tuple[Lengths, ...]

    def wide(self, ways: Lengths, gap: int) -> Lengths:
        """Width of the band for every way to cut the columns, at every depth."""
        total = np.full((len(ways), len(self.depths)), -gap, dtype=np.int64)
        for k, known in enumerate(self.widths):
            total = np.minimum(total + known[ways[:, k]], NEVER)
        return total


@dataclass(frozen=True, eq=False)
class Bands:
    """Columns from left to right in two bands, each column cut at one of its places, which may be its ends.

    The ``outermost`` column begins in front and is the first or the last of all; in a ``framed`` block it lies in both
    bands. Of columns that lie in one band only, those in front are further out than those behind. Bands, and the
    columns in them, are the widest web apart.
    """

    columns: tuple[Column, ...]
    outermost: int
    framed: bool
    memo: Memo = field(default_factory=dict)

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`."""
        return levels(block.heights for block in self._blocks())

    @cached_property
    def webs(self) -> tuple[int, ...]:
        """See `Block.webs`; only the widest counts."""
        return levels(block.webs for block in self._blocks())[-1:]

    def curve(self, height: int, web: int) -> Staircase:
        """See `Block.curve`."""
        return remembered(self.memo, self, height, web, self._curve_at)

    def spots(self, height: int, web: int, size: Size, room: Room) -> list[Spot]:
        """See `Block.spots`."""
        gap = self.webs[0]
        fronts, backs = self._bands(height, gap)
        front, back = fronts.wide(self._ways, gap), backs.wide(self._ways, gap)
        total = fronts.depths[:, None] + gap + backs.depths
        for i, j in np.argwhere(total <= size[1]):
            way = np.flatnonzero(np.maximum(front[:, i], back[:, j]) <= size[0])
            if len(way):
                deep = int(fronts.depths[i]), int(backs.depths[j])
                return self._placed(self._ways[way[0]], deep, height, room)
        raise ValueError("the block does not go into this field")

    def _placed(self, way: Sequence[int], deep: tuple[int, int], height: int, room: Room) -> list[Spot]:
        gap, placed = self.webs[0], list[Spot]()
        for band, (own, (start, depth)) in enumerate(zip(deep, shared_out(deep, gap, room.depth), strict=True)):
            blocks = [column[cut][band] for column, cut in zip(self.columns, way, strict=True)]
            share = Room(room.x, room.y + start, room.width, depth)
            placed += side_by_side([block for block in blocks if block], height, gap, own, share)
        return placed

    def _curve_at(self, height: int, gap: int) -> Staircase:
        fronts, backs = self._bands(height, gap)
        if not len(fronts.depths) or not len(backs.depths):
            return EMPTY
        front, back = fronts.wide(self._ways, gap), backs.wide(self._ways, gap)
        least = np.stack([np.maximum(front[:, i, None], back).min(axis=0) for i in range(len(fronts.depths))])
        total = fronts.depths[:, None] + gap + backs.depths
        return staircase(least.ravel(), total.ravel())

    def _bands(self, height: int, gap: int) -> tuple[_Band, _Band]:
        front, back = ([[cut[band] for cut in column] for column in self.columns] for band in (0, 1))
        return _band(front, height, gap), _band(back, height, gap)

    @cached_property
    def _ways(self) -> Lengths:
        """Every way to cut the columns that keeps them in order, a row each."""
        cuts = product(*(range(len(column)) for column in self.columns))
        return np.array([way for way in cuts if self._in_order(way)], dtype=np.int64).reshape(-1, len(self.columns))

    def _in_order(self, way: Sequence[int]) -> bool:
        outward = range(len(way)) if self.outermost == 0 else range(len(way))[::-1]
        parts = [self.columns[k][way[k]] for k in outward]
        in_front = [n for n, (_, back) in enumerate(parts) if back is None]
        behind = [n for n, (front, _) in enumerate(parts) if front is None]
        if self.framed:
            return 0 not in in_front and 0 not in behind
        return 0 not in behind and len(in_front) < len(parts) and max(in_front, default=-1) < min(behind, default=len(parts))

    def _blocks(self) -> Iterator[Block]:
        return (block for column in self.columns for cut in column for block in cut if block)


def _band(columns: Sequence[Sequence[Block | None]], height: int, gap: int) -> _Band:
    curves = [[block.curve(height, gap) if block else None for block in column] for column in columns]
    every = np.unique(np.concatenate([curve.depths for column in curves for curve in column if curve is not None]))
    depths = _evenly(every)
    none = np.zeros(len(depths), dtype=np.int64)
    widths = [[none if curve is None else least_depths(curve.turned, depths) + gap for curve in own] for own in curves]
    return _Band(depths, tuple(np.stack(own) for own in widths))


def _evenly(lengths: Lengths) -> Lengths:
    """At most about ``DEPTHS`` of the ascending lengths, in even ratios, the last among them."""
    if len(lengths) <= DEPTHS:
        return lengths
    ratios = np.geomspace(lengths[0], lengths[-1], DEPTHS)
    picked: Lengths = lengths[np.unique(np.searchsorted(lengths, ratios, side="right") - 1)]
    return picked
