"""Blocks joined: side by side, or in rows one behind another."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from matcher.layout.blocks import Block, Memo, Spot, least_web, levels, remembered
from matcher.packing.staircases import EMPTY, Staircase, behind, beside, merged


@dataclass(frozen=True, eq=False)
class Rows:
    """Blocks in reading order: along a row from left to right, rows from front to back.

    ``may_share[i]`` says whether part i may lie in the same row as part i - 1 (the first entry means nothing).
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
        return remembered(self.memo, self, height, web, lambda level, gap: self._prefixes(level, gap)[-1])

    def spots(self, height: int, web: int, width: int, depth: int, x: int, y: int) -> list[Spot]:
        """See `Block.spots`."""
        gap = least_web(self, height, web, width, depth)
        placed: list[Spot] = []
        for begin, end, row_depth in self._broken(height, gap, width):
            placed += _side_by_side(self.parts[begin:end], height, gap, row_depth, x, y)
            y += row_depth + gap
        return placed

    def _prefixes(self, height: int, gap: int) -> list[Staircase]:
        """Curve of the first j parts, for every j, by dynamic programming over where the last row begins."""
        curves = [EMPTY]
        for end in range(1, len(self.parts) + 1):
            options = [
                behind([curves[begin], row], gap) if begin else row
                for begin, row in ((begin, self._row(begin, end, height, gap)) for begin in self._begins(end))
            ]
            curves.append(merged(options))
        return curves

    def _broken(self, height: int, gap: int, width: int) -> list[tuple[int, int, int]]:
        """Rows of the shallowest layout within ``width``, front to back: first part, part after the last, depth."""
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
        """Where a row that ends before part ``end`` may begin, the shortest row first."""
        for begin in range(end - 1, -1, -1):
            yield begin
            if not self.may_share[begin]:
                return

    def _row(self, begin: int, end: int, height: int, gap: int) -> Staircase:
        return beside([part.curve(height, gap) for part in self.parts[begin:end]], gap)


@dataclass(frozen=True, eq=False)
class Beside:
    """Blocks that must lie side by side, from left to right."""

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
        return remembered(self.memo, self, height, web, self._curve_at)

    def spots(self, height: int, web: int, width: int, depth: int, x: int, y: int) -> list[Spot]:
        """See `Block.spots`."""
        gap = least_web(self, height, web, width, depth)
        return _side_by_side(self.parts, height, gap, depth, x, y)

    def _curve_at(self, height: int, gap: int) -> Staircase:
        return beside([part.curve(height, gap) for part in self.parts], gap)


def _side_by_side(parts: tuple[Block, ...], height: int, gap: int, depth: int, x: int, y: int) -> list[Spot]:
    """Pockets of blocks in one row, each as narrow as the row's depth allows, flush in front."""
    placed: list[Spot] = []
    for part in parts:
        width = part.curve(height, gap).width_at(depth)
        placed += part.spots(height, gap, width, depth, x, y)
        x += width + gap
    return placed
