"""The tools of one drive: its series from front to back, as one block or cut in two for bands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import TypeAlias

from matcher.layout.bands import CutColumn, tried_cuts
from matcher.layout.blocks import Block
from matcher.layout.rows import BlockRows, Either
from matcher.layout.series import Series

Order: TypeAlias = tuple[tuple[Series, bool], ...]
"""Series from front to back, each with whether it may lie in the same row as the one before."""


@dataclass(frozen=True, eq=False)
class DriveTools:
    """The tools of one drive, divided into series in one or several ways.

    The tools come in the same sequence in all of ``orders``; kinds may be series of their own in one order and
    be taken together as one series in another. ``nested`` are other blocks of all the tools, which are never cut.
    """

    orders: tuple[Order, ...]
    nested: tuple[Block, ...] = ()

    @property
    def count(self) -> int:
        """How many tools the drive has."""
        return sum(series.end for series, _ in self.orders[0])

    @property
    def whole(self) -> Block:
        """All tools as one block."""
        in_lines = self._part(0, self.count)
        return Either((in_lines, *self.nested)) if self.nested else in_lines

    def column(self, columns: int) -> CutColumn:
        """The drive as one of so many columns, with each cut that is tried; those between two series always are."""
        cuts = sorted(set.intersection(*(set(_cuts(order)) for order in self.orders)))
        ends = set(accumulate(series.end for series, _ in self.orders[0]))
        return tuple(
            (self._part(0, cut) if cut else None, self._part(cut, self.count) if cut < self.count else None)
            for cut in sorted({*tried_cuts(cuts, columns), *ends.intersection(cuts)})
        )

    def _part(self, first: int, end: int) -> Block:
        """The tools from number ``first`` to before number ``end`` as one block, in whichever order is smaller."""
        parts = tuple(in_rows(list(_between(order, first, end))) for order in self.orders)
        return parts[0] if len(parts) == 1 else Either(parts)


def _cuts(order: Order) -> Iterator[int]:
    """The cuts of all series of an order, counted in tools of the drive."""
    begin = 0
    for series, _ in order:
        yield from (begin + cut for cut in series.laying.cuts)
        begin += series.end


def _between(order: Order, first: int, end: int) -> Iterator[tuple[Series, bool]]:
    """The series of an order, or what of them lies between two cuts."""
    begin = 0
    for series, may_share in order:
        low, high = max(first - begin, 0), min(end - begin, series.end)
        if low < high:
            yield series.part(low, high), may_share
        begin += series.end


def in_rows(order: Sequence[tuple[Block, bool]]) -> Block:
    """Blocks from front to back, each with whether it may lie in the same row as the one before."""
    blocks = tuple(block for block, _ in order)
    return blocks[0] if len(blocks) == 1 else BlockRows(blocks, tuple(may_share for _, may_share in order))
