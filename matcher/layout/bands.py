"""Drives in two bands, one behind the other, with columns side by side in each: none has to be as deep as all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import product
from typing import TypeAlias

import numpy as np

from matcher.layout.blocks import Block, Memo, Room, Size, Spot, joints, least_web, levels, remembered, shared_out
from matcher.layout.rows import side_by_side
from matcher.packing.staircases import EMPTY, NEVER, Lengths, Staircase, least_depths, staircase

DEPTHS = 128
"""Depths of a band that are tried, at most; a band counts at the next deeper one."""
HEIGHTS = 12
"""Heights at which bands are tried, at most."""
MOST = 600
"""Ways to cut all columns that are tried, about."""

Column: TypeAlias = tuple[tuple[Block | None, Block | None], ...]
"""For every cut of a column from left to right what lies in front of it and what behind, if anything."""


def places(cuts: Sequence[int], columns: int) -> list[int]:
    """Of the places where a column may be cut, its ends among them, as many as can be tried for so many columns."""
    count = max(int(MOST ** (1 / columns)), 2)
    picked = {round(n * (len(cuts) - 1) / (count - 1)) for n in range(count)}
    return [cuts[n] for n in sorted(picked)]


@dataclass(frozen=True, eq=False)
class Bands:
    """Columns from left to right in two bands, each column cut at one of its places, which may be its ends.

    The ``outermost`` column begins in front and is the first or the last of all; in a ``framed`` block it lies in both
    bands. Otherwise of columns that lie in one band only those in front are further out than those behind. Bands are
    the widest web apart.
    """

    columns: tuple[Column, ...]
    outermost: int
    framed: bool
    memo: Memo = field(default_factory=dict)

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`; if there are many, some of them."""
        every = levels(block.heights for block in self._blocks())
        return every[:: -(len(every) // HEIGHTS + 1)][::-1]

    @cached_property
    def webs(self) -> tuple[int, ...]:
        """See `Block.webs`; only the widest counts."""
        return levels(block.webs for block in self._blocks())[-1:]

    def curve(self, height: int, web: int) -> Staircase:
        """See `Block.curve`."""
        return remembered(self.memo, self, height, web, self._curve_at)

    def spots(self, height: int, web: int, size: Size, room: Room) -> list[Spot]:
        """See `Block.spots`."""
        gap = least_web(self, height, web, size)
        (front, front_depths), (back, back_depths) = self._band(0, height, gap), self._band(1, height, gap)
        total = front_depths[:, None] + gap + back_depths
        for i, j in np.argwhere(total <= size[1]):
            way = np.flatnonzero(np.maximum(front[i], back[j]) <= size[0])
            if len(way):
                depths = int(front_depths[i]), int(back_depths[j])
                return self._placed(self._ways[way[0]], depths, height, gap, room)
        raise ValueError("the block does not go into this field")

    def _placed(self, way: Lengths, depths: tuple[int, int], height: int, gap: int, room: Room) -> list[Spot]:
        placed: list[Spot] = []
        for band, (start, deep) in enumerate(shared_out(depths, (gap,), room.depth)):
            own = Room(room.x, room.y + start, room.width, deep)
            placed += side_by_side(self._in_band(band, way), height, gap, depths[band], own)
        return placed

    def _curve_at(self, height: int, gap: int) -> Staircase:
        (front, front_depths), (back, back_depths) = self._band(0, height, gap), self._band(1, height, gap)
        least = [np.maximum(one, back).min(axis=1, initial=NEVER) for one in front]
        total = front_depths[:, None] + gap + back_depths
        return staircase(np.concatenate([EMPTY.widths, *least]), total.ravel())

    def _band(self, band: int, height: int, gap: int) -> tuple[Lengths, Lengths]:
        """Widths of a band at some depths, a row each with the width for every way to cut the columns; the depths."""
        blocks = [[cut[band] for cut in column] for column in self.columns]
        curves = [[block.curve(height, gap) if block else None for block in column] for column in blocks]
        known = [curve.depths for column in curves for curve in column if curve is not None]
        depths = _evenly(np.unique(np.concatenate(known)))
        widths = np.tile(self._gaps[band], (len(depths), 1))
        for column, cut in zip(curves, self._ways.T, strict=True):
            none = np.zeros(len(depths), dtype=np.int64)
            own = [none if curve is None else least_depths(curve.turned, depths) for curve in column]
            widths = np.minimum(widths + np.stack(own, axis=1)[:, cut], NEVER)
        return widths, depths

    @cached_property
    def _gaps(self) -> tuple[Lengths, Lengths]:
        """Gaps between the columns of each band added up, for every way to cut them."""
        front, back = ([sum(joints(self._in_band(n, way), self.webs[0])) for way in self._ways] for n in (0, 1))
        return np.array(front, dtype=np.int64), np.array(back, dtype=np.int64)

    def _in_band(self, band: int, way: Lengths) -> list[Block]:
        cut = (column[n][band] for column, n in zip(self.columns, way, strict=True))
        return [block for block in cut if block]

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
            return 0 not in in_front + behind
        apart = max(in_front, default=-1) < min(behind, default=len(parts))
        return apart and 0 not in behind and len(in_front) < len(parts)

    def _blocks(self) -> Iterator[Block]:
        return (block for column in self.columns for cut in column for block in cut if block)


def _evenly(lengths: Lengths) -> Lengths:
    """At most about ``DEPTHS`` of the ascending lengths, in even ratios, the last among them."""
    if len(lengths) <= DEPTHS:
        return lengths
    ratios = np.geomspace(lengths[0], lengths[-1], DEPTHS)
    picked: Lengths = lengths[np.unique(np.searchsorted(lengths, ratios, side="right") - 1)]
    return picked
