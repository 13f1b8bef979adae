"""What every part of an organizer answers: how large a field it takes, and where its pockets lie.

The *web of a block* is the widest web among its pockets. The curve at web t is what is possible below t, together with
what the parts can do at t: side by side with the wider of two neighbors' webs between them, in rows t apart. It is
exact for every clear height and web.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Protocol, TypeAlias

from matcher.layout.poses import Pose
from matcher.packing import EMPTY, Staircase, merged
from matcher.records import Rectangle, between

BlockSize: TypeAlias = tuple[int, int]
Memo: TypeAlias = dict[tuple[int, int], Staircase]
"""Curves worked out so far, by height and web."""


@dataclass(frozen=True, slots=True)
class LineNotch:
    """A notch through a line: a rectangle, and the tools that it joins, counted from the line's first."""

    left: int
    front: int
    width: int
    depth: int
    first: int
    end: int

    @property
    def turned(self) -> LineNotch:
        """The same with directions exchanged."""
        return LineNotch(self.front, self.left, self.depth, self.width, self.first, self.end)


@dataclass(frozen=True, slots=True)
class Spot:
    """A tool's pocket at its place: the front left corner of its box. The first tool of a line brings its slot."""

    pose: Pose
    x: int
    y: int
    slot: LineNotch | None = None

    @property
    def box(self) -> Rectangle:
        """The rectangle round the pocket and the slot that it brings."""
        own = Rectangle(self.x, self.y, self.pose.width, self.pose.depth)
        if not self.slot:
            return own
        slot = Rectangle(self.slot.left, self.slot.front, self.slot.width, self.slot.depth)
        left, front = min(own.left, slot.left), min(own.front, slot.front)
        return between(left, front, max(own.right, slot.right), max(own.back, slot.back))

    def nearer(self, left: int, front: int) -> Spot:
        """The same by so much nearer to the left and to the front."""
        slot = self.slot and replace(self.slot, left=self.slot.left - left, front=self.slot.front - front)
        return replace(self, x=self.x - left, y=self.y - front, slot=slot)


@dataclass(frozen=True, slots=True)
class Room:
    """A rectangle that a block may spread over."""

    x: int
    y: int
    width: int
    depth: int


def shared_out(sizes: Sequence[int], gaps: Sequence[int], room: int) -> list[tuple[int, int]]:
    """Start and length of things one after another in ``room``, a gap behind each but the last, what is left shared by
    length."""
    whole = sum(sizes)
    spare = room - whole - sum(gaps)
    spans: list[tuple[int, int]] = []
    start = done = 0
    for size, gap in zip(sizes, (*gaps, 0), strict=True):
        end = done + size
        length = size + spare * end // whole - spare * done // whole
        spans.append((start, length))
        start, done = start + length + gap, end
    return spans


def in_line(blocks: Sequence[Sequence[Spot]], *, leftward: bool = False) -> list[list[Spot]]:
    """Blocks moved to the front, or to the left, until all begin where the first of them does."""
    side = 0 if leftward else 1
    begins = [min(spot.box[side] for spot in block) for block in blocks]
    moves = [(begin - min(begins), 0) if leftward else (0, begin - min(begins)) for begin in begins]
    return [[spot.nearer(*by) for spot in block] for block, by in zip(blocks, moves, strict=True)]


class Block(Protocol):
    """Part of an organizer; ``heights`` and ``webs`` are the values, ascending, at which its curve can change."""

    @property
    def heights(self) -> tuple[int, ...]:
        """Heights to which some tool rises in some pose."""
        ...

    @property
    def webs(self) -> tuple[int, ...]:
        """Webs that some choice of poses needs."""
        ...

    def curve(self, height: int, web: int) -> Staircase:
        """Fields possible with nothing rising above ``height`` and no web above ``web``."""
        ...

    def spots(self, height: int, web: int, size: BlockSize, room: Room) -> list[Spot]:
        """Pockets, in reading order, of a layout spread over a room that is no smaller than ``size`` (width, depth),
        into which the block goes; within the room, and at the narrowest web at which it goes into the size."""
        ...


def levels(values: Iterable[Iterable[int]]) -> tuple[int, ...]:
    """All the values, ascending."""
    return tuple(sorted({value for some in values for value in some}))


def recalled_curve(memo: Memo, block: Block, height: int, web: int, at: Callable[[int, int], Staircase]) -> Staircase:
    """Curve at the heights and webs that the two values reach, narrower webs included; ``at`` works them out."""
    level, t = _at_most(block.heights, height), _at_most(block.webs, web)
    if level is None or t is None:
        return EMPTY
    if (level, t) not in memo:
        memo[level, t] = merged([recalled_curve(memo, block, level, t - 1, at), at(level, t)])
    return memo[level, t]


def least_web(block: Block, height: int, web: int, size: BlockSize) -> int:
    """The narrowest web, up to ``web``, with which the block goes into ``size``.

    Raises
    ------
    ValueError
        It does not go in.
    """
    for t in block.webs:
        if t <= web and block.curve(height, t).holds(*size):
            return t
    raise ValueError("the block does not go into this field")


def joints(blocks: Sequence[Block], web: int) -> list[int]:
    """Gaps between blocks side by side at a web: of two neighbors the widest that either may have up to it."""
    reached = [_at_most(block.webs, web) for block in blocks]
    tops = [web if top is None else top for top in reached]
    return [max(pair) for pair in pairwise(tops)]


def _at_most(ascending: Sequence[int], value: int) -> int | None:
    index = bisect_right(ascending, value)
    return ascending[index - 1] if index else None
