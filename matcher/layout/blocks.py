"""Blocks: the parts that an organizer is made of. Each says how large a field it takes, and where its pockets then lie.

A *block* is some of the tools of a series (`series`), some cases (`cases`), or several blocks joined (`rows`, `bands`).
A piece with a count of three is three *tools*. A *field* is the rectangle that a block takes up, seen from above.

The *web* of a pocket is the foam that it needs beside it (R12): between two pockets there is the wider of their webs.
The *web of a block* is the widest among its pockets; it depends on the poses that its tools take. The curve of joined
blocks at web t merges their curve below t with the layouts in which every block inside has a web of t or less. In
these there is foam of t between two rows of blocks, and between two neighbors in a row as much as the wider of their
webs (`joints`). The curve is exact for every clear height and web if the curves of the blocks inside are.
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
"""Width and depth of a field."""
Memo: TypeAlias = dict[tuple[int, int], Staircase]
"""The curves of a block worked out so far, by height and web."""


@dataclass(frozen=True, slots=True)
class LineNotch:
    """A *line notch*: a finger notch that neighbors in a line share, a rectangle through their pockets.

    It joins the tools from number ``first`` to before number ``end``, counted from the first tool of the line.
    """

    left: int
    front: int
    width: int
    depth: int
    first: int
    end: int

    @property
    def swapped(self) -> LineNotch:
        """The same with left to right and front to back exchanged."""
        return LineNotch(self.front, self.left, self.depth, self.width, self.first, self.end)


@dataclass(frozen=True, slots=True)
class Spot:
    """A *spot*: a tool's pose at its place. ``x`` and ``y`` are where the front left corner of the pose's box lies.

    The first tool of a line carries the ``line_notch`` of the whole line, if the line has one.
    """

    pose: Pose
    x: int
    y: int
    line_notch: LineNotch | None = None

    @property
    def box(self) -> Rectangle:
        """The rectangle round the pocket and the line notch that it carries."""
        own = Rectangle(self.x, self.y, self.pose.width, self.pose.depth)
        if not self.line_notch:
            return own
        notch = Rectangle(self.line_notch.left, self.line_notch.front, self.line_notch.width, self.line_notch.depth)
        left, front = min(own.left, notch.left), min(own.front, notch.front)
        return between(left, front, max(own.right, notch.right), max(own.back, notch.back))

    def nearer(self, left: int, front: int) -> Spot:
        """The same spot moved by ``left`` to the left and by ``front`` to the front."""
        own = self.line_notch
        notch = own and replace(own, left=own.left - left, front=own.front - front)
        return replace(self, x=self.x - left, y=self.y - front, line_notch=notch)


@dataclass(frozen=True, slots=True)
class Room:
    """A *room*: the rectangle that a block may spread over, with its front left corner at ``x`` and ``y``."""

    x: int
    y: int
    width: int
    depth: int


def shared_out(sizes: Sequence[int], gaps: Sequence[int], room: int) -> list[tuple[int, int]]:
    """Where things one after another start in a ``room``, and how long each of them may be.

    There is a gap behind each but the last. The room must be long enough for all ``sizes`` and ``gaps``; what it is
    longer is shared out among the things in proportion to their sizes.
    """
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
    """The spots of blocks, each block moved to the front, or to the left, to where the first of them begins."""
    side = 0 if leftward else 1
    begins = [min(spot.box[side] for spot in block) for block in blocks]
    moves = [(begin - min(begins), 0) if leftward else (0, begin - min(begins)) for begin in begins]
    return [[spot.nearer(*by) for spot in block] for block, by in zip(blocks, moves, strict=True)]


class Block(Protocol):
    """A part of an organizer (see the module).

    ``heights`` and ``webs`` are the values, ascending, at which the block's curve can change.
    """

    @property
    def heights(self) -> tuple[int, ...]:
        """The heights over the drawer's floor to which some tool rises in some pose."""
        ...

    @property
    def webs(self) -> tuple[int, ...]:
        """The webs that the block may have: for each choice of poses the widest web among its pockets."""
        ...

    def curve(self, height: int, web: int) -> Staircase:
        """The fields of the block's layouts with nothing rising above ``height`` and no web above ``web``."""
        ...

    def spots(self, height: int, web: int, size: BlockSize, room: Room) -> list[Spot]:
        """The spots, in reading order, of a layout that goes into ``size``, spread over ``room``.

        Nothing rises above ``height``, and of the webs up to ``web`` the narrowest is taken with which the block goes
        into the size. The room must be no smaller than the size. All spots lie within it.

        Raises
        ------
        ValueError
            The block does not go into the size.
        """
        ...


def levels(values: Iterable[Iterable[int]]) -> tuple[int, ...]:
    """All the values, each once, ascending."""
    return tuple(sorted({value for some in values for value in some}))


def heights_of(tools: Sequence[Sequence[Pose]]) -> tuple[int, ...]:
    """The heights to which tools rise in one of their poses, ascending, without those below which not all can stay."""
    least = max(min(pose.rise for pose in tool) for tool in tools)
    return tuple(height for height in levels((pose.rise for pose in tool) for tool in tools) if height >= least)


def recalled_curve(memo: Memo, block: Block, height: int, web: int, at: Callable[[int, int], Staircase]) -> Staircase:
    """A block's curve at a height and a web; what was worked out is kept in ``memo``.

    It is the curve at the largest of the block's own heights and webs that are no larger than those given. ``at`` works
    out the layouts at such a height and web; those with narrower webs are merged in here.
    """
    level, t = _at_most(block.heights, height), _at_most(block.webs, web)
    if level is None or t is None:
        return EMPTY
    if (level, t) not in memo:
        memo[level, t] = merged([recalled_curve(memo, block, level, t - 1, at), at(level, t)])
    return memo[level, t]


def least_web(block: Block, height: int, web: int, size: BlockSize) -> int:
    """The narrowest of the block's webs up to ``web`` with which it goes into ``size``.

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
    """The gaps between blocks side by side: for two neighbors the widest web up to ``web`` that either may have."""
    reached = [_at_most(block.webs, web) for block in blocks]
    tops = [web if top is None else top for top in reached]
    return [max(pair) for pair in pairwise(tops)]


def _at_most(ascending: Sequence[int], value: int) -> int | None:
    """The largest of the ascending values that is no larger than ``value``; ``None`` if all are."""
    index = bisect_right(ascending, value)
    return ascending[index - 1] if index else None
