"""The drives of a half in two bands, one behind the other, instead of side by side, each with all its tools.

A *column* is a drive whose tools may be cut in two: the first ones lie in the front band, the others behind them in the
back band. A *band* holds such parts of columns side by side, from one side of the half to the other. So the half need
not be as deep as the deepest of its drives.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain, pairwise, product
from typing import TypeAlias

import numpy as np

from matcher.layout.blocks import Block, BlockSize, Memo, Room, Spot, least_web, levels, recalled_curve, shared_out
from matcher.layout.rows import side_by_side
from matcher.packing import EMPTY, NEVER, Lengths, Staircase, staircase

DEPTHS = 96
"""At most this many depths of a band are tried; layouts that need one in between may be missed."""
MOST = 600
"""About this many combinations of cuts are tried; a combination has one cut of each column."""

CutColumn: TypeAlias = tuple[tuple[Block | None, Block | None], ...]
"""For every cut that is tried of a column, its part in the front band and its part in the back band, if any."""


def tried_cuts(cuts: Sequence[int], columns: int) -> list[int]:
    """The cuts to be tried of all ``cuts`` of a column: evenly chosen, both ends among them, fewer for more columns."""
    count = max(int(MOST ** (1 / columns)), 2)
    picked = {round(n * (len(cuts) - 1) / (count - 1)) for n in range(count)}
    return [cuts[n] for n in sorted(picked)]


@dataclass(frozen=True, slots=True, eq=False)
class _Narrowest:
    """Narrowest layouts: for each the number of its combination of cuts, its width and the depths of both bands."""

    combinations: Lengths
    widths: Lengths
    front: Lengths
    back: Lengths


@dataclass(frozen=True, eq=False)
class Bands:
    """Columns from left to right in two bands; each is cut in two somewhere, or lies whole in one band.

    ``outermost`` is the number of the column with the outermost drive, the first or the last of all. In a ``framed``
    block it lies in both bands. Else it begins in front, and columns only in front lie further out than those only
    behind, so that the drives read outside in, band by band (R16). Between the bands is foam as wide as the web of the
    block.
    """

    columns: tuple[CutColumn, ...]
    outermost: int
    framed: bool
    memo: Memo = field(default_factory=dict)

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`."""
        return levels(block.heights for block in self._blocks())

    @cached_property
    def webs(self) -> tuple[int, ...]:
        """See `Block.webs`; only layouts with the widest are looked for."""
        return levels(block.webs for block in self._blocks())[-1:]

    def curve(self, height: int, web: int) -> Staircase:
        """See `Block.curve`."""
        return recalled_curve(self.memo, self, height, web, self._curve_at)

    def spots(self, height: int, web: int, size: BlockSize, room: Room) -> list[Spot]:
        """See `Block.spots`."""
        gap = least_web(self, height, web, size)
        level = max(known for known in self.heights if known <= height)
        for found in self._narrowest(level, gap):
            goes = (found.widths <= size[0]) & (found.front + gap + found.back <= size[1])
            if goes.any():
                n = int(goes.argmax())
                depths = int(found.front[n]), int(found.back[n])
                return self._placed(self._combinations[found.combinations[n]], depths, level, gap, room)
        raise ValueError("the block does not go into this field")

    def _placed(self, chosen: Lengths, depths: tuple[int, int], height: int, gap: int, room: Room) -> list[Spot]:
        """The spots column by column, in each first those of the front band; ``chosen`` has the cut of each column."""
        placed: list[list[Spot]] = [[] for _ in self.columns]
        for band, (start, deep) in enumerate(shared_out(depths, (gap,), room.depth)):
            cut = [column[n][band] for column, n in zip(self.columns, chosen, strict=True)]
            own = Room(room.x, room.y + start, room.width, deep)
            spots = side_by_side([block for block in cut if block], height, gap, depths[band], own)
            for k, found in zip((k for k, block in enumerate(cut) if block), spots, strict=True):
                placed[k] += found
        return list(chain(*placed))

    def _curve_at(self, height: int, gap: int) -> Staircase:
        if not len(self._combinations) or not all(_goes(column, height, gap) for column in self.columns):
            return EMPTY
        every = list(self._narrowest(height, gap))
        widths, depths = [found.widths for found in every], [found.front + gap + found.back for found in every]
        return staircase(np.concatenate(widths), np.concatenate(depths)) if every else EMPTY

    def _narrowest(self, height: int, gap: int) -> Iterator[_Narrowest]:
        """For each depth tried in front, the narrowest layouts: one for each depth tried behind."""
        (front, front_depths), (back, back_depths) = self._band(0, height, gap), self._band(1, height, gap)
        rows = np.arange(len(back))
        for wide, deep in zip(front, front_depths, strict=True):
            both = np.maximum(wide, back)
            best = both.argmin(axis=1)
            yield _Narrowest(best, both[rows, best], deep[best], back_depths[rows, best])

    def _band(self, band: int, height: int, gap: int) -> tuple[Lengths, Lengths]:
        """Widths and depths of a band: a row for each depth tried, with an entry for each combination of cuts."""
        blocks = [[cut[band] for cut in column] for column in self.columns]
        curves = [[block.curve(height, gap) if block else None for block in column] for column in blocks]
        most = self._depths[band]
        widths = np.tile(self._gaps[band], (len(most), 1))
        depths = np.zeros_like(widths)
        for column, cut in zip(curves, self._combinations.T, strict=True):
            wide, deep = _within(column, most)
            widths += wide[:, cut]
            np.minimum(widths, NEVER, out=widths)
            np.maximum(depths, deep[:, cut], out=depths)
        return widths, depths

    @cached_property
    def _depths(self) -> tuple[Lengths, Lengths]:
        """The depths tried of the front and of the back band: the same at every height.

        So a layout found at one height is not missed at a lower one that it stays below too.
        """
        front, back = (
            [
                block.curve(height, self.webs[-1]).depths
                for column in self.columns
                for cut in column
                for height in self.heights
                if (block := cut[band])
            ]
            for band in (0, 1)
        )
        return _evenly(np.unique(np.concatenate(front))), _evenly(np.unique(np.concatenate(back)))

    @cached_property
    def _gaps(self) -> tuple[Lengths, Lengths]:
        """For each band and each combination of cuts the sum of the gaps between the columns in it."""
        front, back = (
            [sum(max(pair) for pair in pairwise(web for web in webs if web >= 0)) for webs in self._widest(band)]
            for band in (0, 1)
        )
        return np.array(front, dtype=np.int64), np.array(back, dtype=np.int64)

    def _widest(self, band: int) -> Iterator[tuple[int, ...]]:
        """For each combination of cuts the widest web of each column's part in a band, -1 where it has none."""
        webs = [[block.webs[-1] if (block := cut[band]) else -1 for cut in column] for column in self.columns]
        cuts = self._combinations.T
        return zip(*(np.array(own)[cut].tolist() for own, cut in zip(webs, cuts, strict=True)), strict=True)

    @cached_property
    def _combinations(self) -> Lengths:
        """A row for each combination of cuts that keeps the order: the number of the cut of each column."""
        cuts = product(*(range(len(column)) for column in self.columns))
        kept = [chosen for chosen in cuts if self._in_order(chosen)]
        return np.array(kept, dtype=np.int64).reshape(-1, len(self.columns))

    def _in_order(self, chosen: Sequence[int]) -> bool:
        """Whether columns cut so keep the order that the class asks for."""
        inward = range(len(chosen)) if self.outermost == 0 else range(len(chosen))[::-1]
        parts = [self.columns[k][chosen[k]] for k in inward]
        in_front = [n for n, (_, back) in enumerate(parts) if back is None]
        behind = [n for n, (front, _) in enumerate(parts) if front is None]
        if self.framed:
            return 0 not in in_front + behind
        apart = max(in_front, default=-1) < min(behind, default=len(parts))
        return apart and 0 not in behind and len(in_front) < len(parts)

    def _blocks(self) -> Iterator[Block]:
        return (block for column in self.columns for cut in column for block in cut if block)


def _goes(column: CutColumn, height: int, gap: int) -> bool:
    """Whether there is a cut with which both parts of a column can be laid out."""
    return any(all(block is None or len(block.curve(height, gap)) for block in cut) for cut in column)


def _within(curves: Sequence[Staircase | None], most: Lengths) -> tuple[Lengths, Lengths]:
    """Widths and depths of the narrowest size of each curve within each depth of ``most``, a row a depth.

    Without a curve both are 0; where no size of a curve is so shallow, the width is ``NEVER``.
    """
    widths = np.zeros((len(most), len(curves)), dtype=np.int64)
    depths = np.zeros_like(widths)
    for n, curve in enumerate(curves):
        if curve is not None:
            index = np.searchsorted(-curve.depths, -most)
            widths[:, n], depths[:, n] = np.append(curve.widths, NEVER)[index], np.append(curve.depths, 0)[index]
    return widths, depths


def _evenly(lengths: Lengths) -> Lengths:
    """At most ``DEPTHS`` of the ascending lengths, in about even ratios, the last among them."""
    if len(lengths) <= DEPTHS:
        return lengths
    ratios = np.geomspace(lengths[0], lengths[-1], DEPTHS)
    picked: Lengths = lengths[np.unique(np.searchsorted(lengths, ratios, side="right") - 1)]
    return picked
