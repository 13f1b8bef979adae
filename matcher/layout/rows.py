"""Joins blocks: side by side, in rows one behind another, or as alternatives."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain

import numpy as np

from matcher.layout.blocks import (
    Block,
    BlockSize,
    Memo,
    Room,
    Spot,
    in_line,
    joints,
    least_web,
    levels,
    recalled_curve,
    shared_out,
)
from matcher.packing import EMPTY, Staircase, behind, beside, merged


@dataclass(frozen=True, eq=False)
class BlockRows:
    """Blocks in rows one behind another; they are read along a row from left to right, row by row from the front.

    ``may_share[i]`` says whether block i may lie in the same row as block i - 1 (the first entry means nothing).
    """

    parts: tuple[Block, ...]
    may_share: tuple[bool, ...]
    memo: Memo = field(default_factory=dict)

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`."""
        return levels(part.heights for part in self.parts)

    @cached_property
    def webs(self) -> tuple[int, ...]:
        """See `Block.webs`."""
        return levels(part.webs for part in self.parts)

    def curve(self, height: int, web: int) -> Staircase:
        """See `Block.curve`."""
        return recalled_curve(self.memo, self, height, web, lambda level, gap: self._prefixes(level, gap)[-1])

    def spots(self, height: int, web: int, size: BlockSize, room: Room) -> list[Spot]:
        """See `Block.spots`."""
        gap = least_web(self, height, web, size)
        rows = self._broken(height, gap, size[0])
        placed: list[Spot] = []
        spans = shared_out([row[2] for row in rows], [gap] * (len(rows) - 1), room.depth)
        for (begin, end, deep), (start, depth) in zip(rows, spans, strict=True):
            own = Room(room.x, room.y + start, room.width, depth)
            placed += chain(*side_by_side(self.parts[begin:end], height, gap, deep, own))
        return placed

    def _prefixes(self, height: int, gap: int) -> list[Staircase]:
        """The curve of the first j blocks, for every j, by dynamic programming over where the last row begins."""
        curves = [EMPTY]
        for end in range(1, len(self.parts) + 1):
            options = [
                behind([curves[begin], row], gap) if begin else row
                for begin, row in ((begin, self._row(begin, end, height, gap)) for begin in self._begins(end))
            ]
            curves.append(merged(options))
        return curves

    def _broken(self, height: int, gap: int, width: int) -> list[tuple[int, int, int]]:
        """Rows of the shallowest layout within ``width``, front to back: first block, block after the last, depth."""
        best: list[tuple[int, tuple[int, int, int] | None]] = [(-gap, None)]
        for end in range(1, len(self.parts) + 1):
            rows = ((begin, end, self._row(begin, end, height, gap).depth_at(width)) for begin in self._begins(end))
            best.append(min((best[row[0]][0] + row[2] + gap, row) for row in rows))
        broken: list[tuple[int, int, int]] = []
        row = best[-1][1]
        while row is not None:
            broken.append(row)
            row = best[row[0]][1]
        return broken[::-1]

    def _begins(self, end: int) -> Iterator[int]:
        """With which blocks a row that ends before block ``end`` may begin, the shortest row first."""
        for begin in range(end - 1, -1, -1):
            yield begin
            if not self.may_share[begin]:
                return

    def _row(self, begin: int, end: int, height: int, gap: int) -> Staircase:
        return _beside(self.parts[begin:end], height, gap)


@dataclass(frozen=True, eq=False)
class Beside:
    """Blocks that must lie side by side, from left to right; they are read so, or in the sequence ``read``."""

    parts: tuple[Block, ...]
    read: tuple[int, ...] = ()
    memo: Memo = field(default_factory=dict)

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`."""
        return levels(part.heights for part in self.parts)

    @cached_property
    def webs(self) -> tuple[int, ...]:
        """See `Block.webs`."""
        return levels(part.webs for part in self.parts)

    def curve(self, height: int, web: int) -> Staircase:
        """See `Block.curve`."""
        return recalled_curve(self.memo, self, height, web, self._curve_at)

    def spots(self, height: int, web: int, size: BlockSize, room: Room) -> list[Spot]:
        """See `Block.spots`."""
        gap = least_web(self, height, web, size)
        placed = side_by_side(self.parts, height, gap, size[1], room)
        return list(chain(*(placed[part] for part in self.read or range(len(placed)))))

    def _curve_at(self, height: int, gap: int) -> Staircase:
        return _beside(self.parts, height, gap)


@dataclass(frozen=True, eq=False)
class Either:
    """Several blocks of the same tools in the same order; the first that goes into a field is taken for it."""

    parts: tuple[Block, ...]
    memo: Memo = field(default_factory=dict)

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`."""
        return levels(part.heights for part in self.parts)

    @cached_property
    def webs(self) -> tuple[int, ...]:
        """See `Block.webs`."""
        return levels(part.webs for part in self.parts)

    def curve(self, height: int, web: int) -> Staircase:
        """See `Block.curve`."""
        return recalled_curve(self.memo, self, height, web, self._curve_at)

    def spots(self, height: int, web: int, size: BlockSize, room: Room) -> list[Spot]:
        """See `Block.spots`."""
        gap = least_web(self, height, web, size)
        part = next(part for part in self.parts if part.curve(height, gap).holds(*size))
        return part.spots(height, gap, size, room)

    def _curve_at(self, height: int, gap: int) -> Staircase:
        return merged([part.curve(height, gap) for part in self.parts])


def _beside(parts: Sequence[Block], height: int, gap: int) -> Staircase:
    return beside([part.curve(height, gap) for part in parts], sum(joints(parts, gap)))


def side_by_side(parts: Sequence[Block], height: int, gap: int, depth: int, room: Room) -> list[list[Spot]]:
    """The spots of each of several blocks in one row that is ``depth`` deep at most, spread over ``room``.

    What the room is wider than the least widths of the blocks is shared out by these widths. Each block is laid out
    anew in its share, as deep as the room, and all blocks are moved to begin in one line.
    """
    widths = [part.curve(height, gap).width_at(depth) for part in parts]
    placed: list[list[Spot]] = []
    for part, (start, wide) in zip(parts, shared_out(widths, joints(parts, gap), room.width), strict=True):
        size = _roomiest(part.curve(height, gap), wide, room.depth)
        placed.append(part.spots(height, gap, size, Room(room.x + start, room.y, wide, room.depth)))
    return in_line(placed)


def _roomiest(curve: Staircase, width: int, depth: int) -> BlockSize:
    """Of the sizes on the curve that go into ``width`` x ``depth``, the one that leaves most to spare both ways.

    A size takes a share of the width and a share of the depth. The size whose larger share is least is chosen.
    """
    inside = (curve.widths <= width) & (curve.depths <= depth)
    widths, depths = curve.widths[inside], curve.depths[inside]
    best = int(np.maximum(widths * depth, depths * width).argmin())
    return int(widths[best]), int(depths[best])
