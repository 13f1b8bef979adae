"""Single lines: tools in the order of their sizes, as near each other as their outlines allow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from matcher.layout.blocks import BlockSize, LineNotch
from matcher.layout.facing import Facing, shape_of, size_of
from matcher.layout.notches import NotchedLines, notched_lines
from matcher.layout.poses import Pose
from matcher.layout.profiles import FAR, ends
from matcher.layout.styles import Style
from matcher.packing import Lengths
from matcher.records import mm

Flush: TypeAlias = Literal["front", "center", "back"]
"""Which ends or middles of the tools are in one line."""
ShortLengths: TypeAlias = NDArray[np.int32]
"""Lengths in four bytes."""
Turned: TypeAlias = Literal["none", "all", "second"]
"""Which tools are turned by 180 degrees."""
STAGGERS = tuple(mm(offset) for offset in (16, 32, 50))
"""By how much every second tool is set back in the patterns tried."""
STEPS = tuple(mm(offset) for offset in (8, 11))
"""By how much each tool is set back from the one before it in the patterns tried."""
MOST_IN_LINE = 250
"""No line has more tools. A tool and its web take about 10 mm or more, and no drawer is wider than two meters: common
practice, no source."""
NO_LINE = 2**31 - 1
"""Stands in tables of lines where a line is not possible; they keep lengths in four bytes."""
APART = 0.25
"""Two neighbors' boxes may always overlap along the line by this share of the shorter one; see `Course._readable`."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """A *pattern*: how the tools of a line lie beside each other.

    They are ``flush`` at their front ends, at their back ends or in the middle. None, all or every second one is
    ``turned``. Every second one is set back by ``stagger``, and each one by ``step`` more than the one before it. Every
    second tool is every second of the series, so that a tool lies alike in whatever line it is.
    """

    flush: Flush = "front"
    turned: Turned = "none"
    stagger: int = 0
    step: int = 0

    def turns(self, n: int) -> bool:
        """Whether tool number ``n`` is turned by 180 degrees."""
        return self.turned == "all" or (self.turned == "second" and n % 2 == 1)


@dataclass(frozen=True, slots=True)
class Laid:
    """A tool laid in a line: its pose, turned if need be, and how far along the line and across it its box begins."""

    pose: Pose
    along: int
    across: int


class Course:
    """A *course*: one way to lay any consecutive tools of a series as a line, in one stance and one pattern.

    The lines of a course run from left to right, or from front to back if it is ``upright``. ``poses`` has one pose for
    each tool of the series, ``None`` if it has none in this stance. ``rise`` says how high each tool rises, ``FAR`` if
    it has no pose.

    ``offsets`` says how far across a line each tool's box begins, ``starts`` how far along it (see `_starts`).
    """

    def __init__(self, facing: Facing, pattern: Pattern) -> None:
        self.facing = facing
        self.pattern = pattern
        self.upright = facing.upright
        self.way = facing.way
        self.sizes = facing.sizes
        self.poses = [facing.pose(n, pattern.turns(n)) for n in range(len(facing.poses))]
        self.rise = np.array([pose.rise if pose else FAR for pose in self.poses])
        self.offsets = self._offsets()
        self.starts = np.maximum(self._starts(), -NO_LINE).astype(np.int32)

    def tables(self) -> tuple[ShortLengths, ShortLengths]:
        """Size along and size across of every line: an entry [a, j] is for the line from tool a to tool j.

        They are not kept here, as they are large in a long series.
        """
        notched = self._notched(0, len(self.poses))
        length, depth = self._sizes(0, len(self.poses), notched)
        possible = self._possible(notched)
        return _shortened(length, possible), _shortened(depth, possible)

    def _sizes(self, first: int, end: int, notched: NotchedLines) -> tuple[Lengths, Lengths]:
        """Size along and size across of the lines of the tools from ``first`` to before ``end``, possible or not."""
        long = np.array([long for long, _ in self.sizes[first:end]])
        starts = self.starts[first:end, first:end].astype(np.int64)
        length = np.maximum.accumulate(starts + long, axis=1) + notched.before + notched.after
        depth = notched.high - notched.low
        alone = [size_of(pose.alone, self.upright) if pose else (0, 0) for pose in self.poses[first:end]]
        for table, single in zip((length, depth), np.array(alone).T, strict=True):
            np.fill_diagonal(table, single)
        return length, depth

    def laid(self, first: int, end: int, room: BlockSize) -> tuple[list[Laid], LineNotch | None]:
        """The line of the tools from ``first`` to before ``end``, spread over a room, and its line notch if it has one.

        ``room`` is the size of the room along and across, into which the line must go. All places are given along and
        across, too, as if the line ran from left to right. Across the room the line lies in the middle; a single tool
        has its own notch if need be.
        """
        notched = self._notched(first, end)
        length, depth = (int(table[0, -1]) for table in self._sizes(first, end, notched))
        count, spare, front = end - first, room[0] - length, (room[1] - depth) // 2
        if count == 1 and (pose := self.poses[first]):
            return [Laid(pose.alone, spare // 2, front)], None
        begin, low = (int(table[0, -1]) for table in (notched.before, notched.low))
        alongs = [
            begin + int(self.starts[first, n]) + spare * (2 * (n - first) + 1) // (2 * count) for n in range(first, end)
        ]
        laid = [
            Laid(pose, along, front + int(self.offsets[n]) - low)
            for n, along in zip(range(first, end), alongs, strict=True)
            if (pose := self.poses[n])
        ]
        return laid, self._line_notch(notched, front, laid, room)

    def _line_notch(self, notched: NotchedLines, front: int, laid: Sequence[Laid], room: BlockSize) -> LineNotch | None:
        """The notch that tools of a line share, if any; the line begins ``front`` across the room.

        At an end of the line it reaches half its width beyond the pocket there, as far as there is room; elsewhere it
        ends in the middle of the last pocket that it joins.
        """
        start, stop = (int(joined[0, -1]) for joined in (notched.first, notched.last))
        if start < 0:
            return None
        low = front + int(notched.begin[0, -1]) - int(notched.low[0, -1])
        wide = max(one.pose.finger for one in laid)
        (left, near), (far, right) = (self._crossed(laid[n], low, low + wide) for n in (start, stop))
        left = (left + near) // 2 if start else max(left - wide // 2, 0)
        right = (far + right) // 2 if stop + 1 < len(laid) else min(right + wide // 2, room[0])
        return LineNotch(left, low, right - left, wide, start, stop + 1)

    def _crossed(self, one: Laid, low: int, high: int) -> tuple[int, int]:
        """From where to where along the line a tool's pocket reaches between two distances across the line."""
        ring, size = shape_of(one.pose, self.upright)[0], size_of(one.pose, self.upright)[1]
        begin = min(max(low - one.across, 0), size - 1)
        left, right = ends(ring, begin, max(high - one.across, begin + 1))
        return one.along + left, one.along + right

    def _possible(self, notched: NotchedLines) -> NDArray[np.bool_]:
        """Whether the line from tool a to j is possible.

        All its tools have poses, and can share a notch if need be, and they are not too many.
        """
        lacking = np.cumsum([0, *(pose is None for pose in self.poses)])
        possible: NDArray[np.bool_] = np.triu((lacking[None, 1:] - lacking[:-1, None] == 0) & notched.possible)
        short: NDArray[np.bool_] = possible & ~np.triu(np.ones_like(possible), MOST_IN_LINE)
        return short

    def _notched(self, first: int, end: int) -> NotchedLines:
        """The line notches of all lines of the tools from ``first`` to before ``end``."""
        poses, offsets = self.poses[first:end], self.offsets[first:end]
        starts = self.starts[first:end, first:end].astype(np.int64)
        return notched_lines(poses, self.upright, offsets, starts, self._widest)

    @cached_property
    def _widest(self) -> tuple[int, int]:
        """The widest notch and the widest web that a tool of the series has in this course."""
        known = [pose for pose in self.poses if pose]
        return max((pose.finger for pose in known), default=0), max((pose.web for pose in known), default=0)

    def _offsets(self) -> Lengths:
        """How far across its line each tool's box begins, by the pattern."""
        deepest = max(deep for _, deep in self.sizes)
        spare = np.array([deepest - deep for _, deep in self.sizes])
        base = {"front": spare * 0, "center": spare // 2, "back": spare}[self.pattern.flush]
        number = np.arange(len(self.poses))
        return base + self.pattern.stagger * (number % 2) + self.pattern.step * number

    def _starts(self) -> Lengths:
        """How far along tool j begins in the line that begins with tool a: as near to it as the tools between allow."""
        count = len(self.poses)
        starts = np.full((count, count), -FAR, dtype=np.int64)
        longest = max((long for long, _ in self.sizes), default=0) + self._widest[1]
        for j in range(count):
            starts[j, j], least = 0, max(j + 1 - MOST_IN_LINE, 0)
            for i in range(j - 1, least - 1, -1):
                if self.poses[i] is None or self.poses[j] is None:
                    break
                lines = slice(least, i + 1)
                if i < j - 1 and int((starts[lines, j] - starts[lines, i]).min()) >= longest:
                    break
                starts[lines, j] = np.maximum(starts[lines, j], starts[lines, i] + self._pitch(i, j))
            starts[:j, j] = np.maximum(starts[:j, j], 0)
        return starts

    def _pitch(self, i: int, j: int) -> int:
        """How far behind the beginning of tool i tool j must begin: a web apart, and far enough to be read after it."""
        if self.facing.boxy[i] and self.facing.boxy[j]:
            return self.sizes[i][0] + int(self.facing.webs[i, j])
        one, other = ((n, self.pattern.turns(n), int(self.offsets[n])) for n in (i, j))
        return max(self.facing.pitch(one, other), int(self._readable[i, j]))

    @cached_property
    def _readable(self) -> Lengths:
        """How far along tool j must begin behind the beginning of tool i to be seen to come after it, for all i and j.

        Its center comes after that of tool i. And the boxes of the two overlap along the line by no more than a share
        of the shorter one: ``APART``, or the share of the narrower one by which they overlap across the line.
        """
        long, deep = np.maximum(np.array(self.sizes), 1).T
        low, high = self.offsets, self.offsets + deep
        shared = np.minimum(high[:, None], high) - np.maximum(low[:, None], low)
        beside = np.maximum(shared, 0) / np.minimum(deep[:, None], deep)
        within = np.maximum(beside, APART) * np.minimum(long[:, None], long)
        after: Lengths = np.ceil(long[:, None] - within).astype(np.int64)
        centered: Lengths = (long[:, None] - long) // 2 + 1
        both: Lengths = np.maximum(centered, after)
        return both


def _shortened(table: Lengths, possible: NDArray[np.bool_]) -> ShortLengths:
    """A table in four bytes an entry, `NO_LINE` for lines that are not possible."""
    return np.where(possible, table, NO_LINE).astype(np.int32)


def patterns(poses: Sequence[Pose | None], style: Style) -> tuple[Pattern, ...]:
    """The patterns worth trying for these tools in a style, the plainest first."""
    known = [pose for pose in poses if pose]
    if known[0].way == "standing":
        return (Pattern("center"),)
    if len(known) < 2 or all(pose.boxy for pose in known):
        return (Pattern(),)
    heads: tuple[Turned, ...] = ("none",) if style.alike else ("none", "all")
    heads = (*heads, "second") if style.alternate else heads
    offsets = (0, *STAGGERS) if style.stagger else (0,)
    sides: tuple[Flush, ...] = ("front", "back") if style.stagger or not style.alike else ("front",)
    steps = STEPS if style.stagger else ()
    straight = [Pattern(flush, turned, by) for turned, by, flush in product(heads, offsets, sides)]
    slanted = [Pattern("front", turned, 0, step) for turned, step in product(heads[:2], steps) if turned != "second"]
    return (*straight, *slanted)
