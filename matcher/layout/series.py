"""A series of sizes, broken into lines, and into stretches of lines side by side; whole or in parts."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import chain, product
from typing import TypeAlias

from matcher.layout.blocks import BlockSize, Memo, Room, Spot, in_line, least_web, levels, recalled_curve, shared_out
from matcher.layout.breaking import Breaking, BrokenLine, Stretches, cuts_of
from matcher.layout.courses import Course
from matcher.layout.facing import Facing
from matcher.layout.lines import Lines, patterns
from matcher.layout.notches import sharing
from matcher.layout.poses import Pose
from matcher.layout.profiles import FAR
from matcher.layout.staggered import staggered
from matcher.layout.styles import ORDERLY, Stance, Style
from matcher.packing import EMPTY, Staircase, merged
from matcher.records import remembered

Tools: TypeAlias = tuple[tuple[Pose, ...], ...]
"""The poses of every tool."""

FLAT: tuple[Stance, ...] = ("standing", "along")
UPRIGHT: tuple[Stance, ...] = ("across",)
"""How tools may lie in lines from left to right, and in lines from front to back."""


@dataclass(frozen=True, eq=False)
class Laying:
    """All ways to lay the tools of a series, worked out once for the series and its parts."""

    tools: Tools
    style: Style
    spans: set[tuple[int, int]] = field(default_factory=set)
    breakings: dict[tuple[Course, ...], Breaking] = field(default_factory=dict)
    known: dict[tuple[int, tuple[Course, ...]], dict[tuple[int, int], Staircase]] = field(default_factory=dict)

    @cached_property
    def cuts(self) -> tuple[int, ...]:
        """Before which tools a stretch or a part may begin, and the number of tools."""
        return cuts_of(len(self.tools), self.style)

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`; what no layout stays below is left out."""
        least = max(min(pose.rise for pose in tool) for tool in self.tools)
        return tuple(h for h in levels((pose.rise for pose in tool) for tool in self.tools) if h >= least)

    @cached_property
    def webs(self) -> tuple[int, ...]:
        """See `Block.webs`."""
        return tuple(sorted(set(self._web_of.values())))

    def curve(self, height: int, gap: int, upright: bool, span: tuple[int, int]) -> Staircase:
        """Curve of the tools of a span with lines one way round; worked out for all known spans together."""
        if upright and self._stands(height, span):
            return EMPTY
        found = self.known.setdefault((height, self._within(gap, upright)), {})
        if span not in found:
            self.spans.add(span)
            stretches = self.stretches(height, gap, upright)
            found.update({own: stretches.curve(*own) if stretches else EMPTY for own in self.spans - found.keys()})
        return found[span]

    def _stands(self, height: int, span: tuple[int, int]) -> bool:
        """Whether some tool of a span could stand below a height, and so must."""
        return min(self._standing[slice(*span)]) <= height

    def stretches(self, height: int, gap: int, upright: bool) -> Stretches | None:
        """All stretches with lines one way round in which no web is wider than ``gap``, upright ones with width and
        depth exchanged."""
        every = self._within(gap, upright)
        if every and every not in self.breakings:
            ways = {lines.way for lines in every}
            webs = [max((pose.web for pose in tool if pose.way in ways), default=0) for tool in self.tools]
            self.breakings[every] = Breaking(every, self._standing, webs, self.cuts)
        return self.breakings[every].stretches(height) if every else None

    def _within(self, gap: int, upright: bool) -> tuple[Course, ...]:
        return tuple(lines for way, lines in self._lines[upright] if self._web_of[way] <= gap)

    @cached_property
    def _web_of(self) -> dict[Stance, int]:
        """Widest web of the tools that can lie each way."""
        webs: dict[Stance, int] = {}
        for tool in self.tools:
            for pose in tool:
                webs[pose.way] = max(pose.web, webs.get(pose.way, 0))
        return webs

    @cached_property
    def _standing(self) -> tuple[int, ...]:
        return tuple(min((pose.rise for pose in tool if pose.way == "standing"), default=FAR) for tool in self.tools)

    @cached_property
    def _lines(self) -> tuple[tuple[tuple[Stance, Course], ...], tuple[tuple[Stance, Course], ...]]:
        """Lines from left to right, and lines from front to back, by the way their tools lie."""
        return self._all_lines(FLAT, False), self._all_lines(UPRIGHT, True)

    def _all_lines(self, ways: tuple[Stance, ...], upright: bool) -> tuple[tuple[Stance, Course], ...]:
        known = (way for way in ways if way in self._web_of)
        return tuple((way, lines) for way in known for lines in self._patterned(way, upright))

    def _patterned(self, way: Stance, upright: bool) -> tuple[Course, ...]:
        row = sharing([next((pose for pose in tool if pose.way == way), None) for tool in self.tools])
        facing = Facing(row, upright)
        lines = tuple(Lines(facing, pattern) for pattern in patterns(row, self.style))
        return (*lines, *staggered(facing, self.style)) if way == "standing" else lines


@dataclass(frozen=True, eq=False)
class Series:
    """Tools of one kind by size, or the first or last of them: from number ``first`` to before number ``end``.

    Sizes ascend along a line, from line to line, and from stretch to stretch. A stretch is some lines of consecutive
    tools one behind another; stretches lie side by side from left to right. Or the other way round: lines from front
    to back lie side by side, and stretches of them one behind another. Tools of a line lie one way, and none lies that
    could stand below the height that the series rises to. Along a line true outlines keep the web of each pair; lines
    and stretches are apart by their boxes, as far as the widest web of all tools up to there asks for.
    """

    laying: Laying
    first: int
    end: int
    memo: Memo = field(default_factory=dict)
    parts: dict[tuple[int, int], Series] = field(default_factory=dict)

    @property
    def tools(self) -> Tools:
        """Poses of these tools."""
        return self.laying.tools[self.first : self.end]

    @property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`."""
        return self.laying.heights

    @property
    def webs(self) -> tuple[int, ...]:
        """See `Block.webs`."""
        return self.laying.webs

    def part(self, first: int, end: int) -> Series:
        """The first or the last tools of a whole series, between two of its cuts."""
        if (first, end) == (self.first, self.end):
            return self
        if (first, end) not in self.parts:
            self.laying.spans.add((first, end))
            self.parts[first, end] = Series(self.laying, first, end)
        return self.parts[first, end]

    def curve(self, height: int, web: int) -> Staircase:
        """See `Block.curve`."""
        return recalled_curve(self.memo, self, height, web, self._curve_at)

    def spots(self, height: int, web: int, size: BlockSize, room: Room) -> list[Spot]:
        """See `Block.spots`."""
        gap = least_web(self, height, web, size)
        levels_below = (level for level in self.heights[::-1] if level <= height)
        for level, upright in product(levels_below, (False, True)):
            turned = _swapped(size, upright)
            if self._half(level, gap, upright).holds(*turned):
                known = self.laying.stretches(level, gap, upright)
                assert known is not None
                return _placed(known, self.first, self.end, turned, _turned(room, upright))
        raise ValueError("the block does not go into this field")

    def _curve_at(self, height: int, gap: int) -> Staircase:
        """Curve with all tools standing that can below ``height``, or below some lower height."""
        lower = self.curve(height - 1, gap)
        return merged([lower, self._half(height, gap, False), self._half(height, gap, True).swapped])

    def _half(self, height: int, gap: int, upright: bool) -> Staircase:
        """Curve of all layouts with lines one way round, upright ones with width and depth exchanged."""
        return self.laying.curve(height, gap, upright, (self.first, self.end))


def _placed(known: Stretches, first: int, end: int, size: BlockSize, room: Room) -> list[Spot]:
    """Pockets of stretches that lie side by side and begin in one line, directions exchanged if lines are upright."""
    placed: list[list[Spot]] = []
    parted = known.parted(first, end, size)
    spans = shared_out([width for _, _, width in parted], [known.gap(end) for _, end, _ in parted[1:]], room.width)
    for (begin, stop, width), (start, wide) in zip(parted, spans, strict=True):
        lines = known.lines(begin, stop, (width, room.depth))
        rows = shared_out([line.depth for line in lines], [known.gap(line.end) for line in lines[1:]], room.depth)
        most = max(line.count for line in lines)
        placed.append([])
        for line, (front, deep) in zip(lines, rows, strict=True):
            placed[-1] += _spots_of(line, Room(room.x + start, room.y + front, line.share_of(wide, most), deep))
    return list(chain(*in_line(placed, leftward=known.breaking.every[0].upright)))


def _spots_of(line: BrokenLine, room: Room) -> list[Spot]:
    """Tools of a line spread over its room, in the middle across, the first one with the line's slot."""
    upright = line.course.upright
    laid, line_notch = line.course.laid(line.first, line.end, (room.width, room.depth))
    spots = []
    for one in laid:
        at = room.x + one.along, room.y + one.across
        spots.append(Spot(one.pose, *(at[::-1] if upright else at)))
    if line_notch:
        placed = replace(line_notch, left=room.x + line_notch.left, front=room.y + line_notch.front)
        spots[0] = replace(spots[0], line_notch=placed.swapped if upright else placed)
    return spots


def _swapped(size: BlockSize, upright: bool) -> BlockSize:
    return size[::-1] if upright else size


def _turned(room: Room, upright: bool) -> Room:
    return Room(room.y, room.x, room.depth, room.width) if upright else room


@remembered(4096)
def series(tools: Tools, style: Style = ORDERLY) -> Series:
    """Series of these tools; equal series, whatever organizer they are in, share what was worked out."""
    return Series(Laying(tools, style), 0, len(tools))
