"""Series: tools of one kind by size, as a block of lines and of stretches of lines."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import chain, product
from typing import TypeAlias

from matcher.layout.blocks import (
    BlockSize,
    Memo,
    Room,
    Spot,
    heights_of,
    in_line,
    least_web,
    recalled_curve,
    shared_out,
)
from matcher.layout.breaking import Breaking, BrokenLine, Stretches, cuts_of
from matcher.layout.facing import Facing
from matcher.layout.lines import Course, patterns
from matcher.layout.notches import sharing
from matcher.layout.poses import Pose
from matcher.layout.profiles import FAR
from matcher.layout.styles import ORDERLY, Stance, Style
from matcher.packing import EMPTY, Staircase, merged
from matcher.records import remembered

Tools: TypeAlias = tuple[tuple[Pose, ...], ...]
"""For every tool the poses that it may take, at most one in each stance."""

FLAT: tuple[Stance, ...] = ("standing", "along")
"""Stances of tools in lines that run from left to right."""
UPRIGHT: tuple[Stance, ...] = ("across",)
"""Stances of tools in lines that run from front to back, called upright."""


@dataclass(frozen=True, eq=False)
class Laying:
    """All ways to lay the tools of a series, worked out once for the series and its parts.

    A *span* is the first tool of the series, or of a part of it, and the tool after its last. ``spans`` are those asked
    for so far; ``breakings`` and ``known`` keep what was worked out: the ways to break the series for some courses, and
    the curves of spans by height and courses.
    """

    tools: Tools
    style: Style
    spans: set[tuple[int, int]] = field(default_factory=set)
    breakings: dict[tuple[Course, ...], Breaking] = field(default_factory=dict)
    known: dict[tuple[int, tuple[Course, ...]], dict[tuple[int, int], Staircase]] = field(default_factory=dict)

    @cached_property
    def cuts(self) -> tuple[int, ...]:
        """The cuts of the series (`matcher.layout.breaking`); parts begin and end at cuts, too."""
        return cuts_of(len(self.tools), self.style)

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`."""
        return heights_of(self.tools)

    @cached_property
    def webs(self) -> tuple[int, ...]:
        """See `Block.webs`."""
        return tuple(sorted(set(self._web_of.values())))

    def curve(self, height: int, gap: int, upright: bool, span: tuple[int, int]) -> Staircase:
        """The curve of the tools of a span in lines that run in one direction, with no web wider than ``gap``.

        If they are ``upright``, width and depth are exchanged. All spans asked for so far are worked out together.
        """
        if upright and self._stands(height, span):
            return EMPTY
        found = self.known.setdefault((height, self._within(gap, upright)), {})
        if span not in found:
            self.spans.add(span)
            stretches = self.stretches(height, gap, upright)
            found.update({own: stretches.curve(*own) if stretches else EMPTY for own in self.spans - found.keys()})
        return found[span]

    def _stands(self, height: int, span: tuple[int, int]) -> bool:
        """Whether some tool of a span could stand and rise no higher than ``height``; then it must stand."""
        return min(self._standing[slice(*span)]) <= height

    def stretches(self, height: int, gap: int, upright: bool) -> Stretches | None:
        """All stretches of lines that run in one direction, with no web wider than ``gap``; ``None`` if there are none.

        If they are ``upright``, width and depth are exchanged.
        """
        every = self._within(gap, upright)
        if every and every not in self.breakings:
            ways = {lines.way for lines in every}
            webs = [max((pose.web for pose in tool if pose.way in ways), default=0) for tool in self.tools]
            self.breakings[every] = Breaking(every, self._standing, webs, self.cuts)
        return self.breakings[every].stretches(height) if every else None

    def _within(self, gap: int, upright: bool) -> tuple[Course, ...]:
        """The courses in one direction in which no web is wider than ``gap``."""
        return tuple(lines for way, lines in self._courses[upright] if self._web_of[way] <= gap)

    @cached_property
    def _web_of(self) -> dict[Stance, int]:
        """For each stance the widest web of the tools that can take it."""
        webs: dict[Stance, int] = {}
        for tool in self.tools:
            for pose in tool:
                webs[pose.way] = max(pose.web, webs.get(pose.way, 0))
        return webs

    @cached_property
    def _standing(self) -> tuple[int, ...]:
        """How high each tool rises if it stands, ``FAR`` if it cannot stand."""
        return tuple(min((pose.rise for pose in tool if pose.way == "standing"), default=FAR) for tool in self.tools)

    @cached_property
    def _courses(self) -> tuple[tuple[tuple[Stance, Course], ...], tuple[tuple[Stance, Course], ...]]:
        """The courses from left to right and those from front to back, each with the stance of its tools."""
        return self._all_courses(FLAT, False), self._all_courses(UPRIGHT, True)

    def _all_courses(self, ways: tuple[Stance, ...], upright: bool) -> tuple[tuple[Stance, Course], ...]:
        known = (way for way in ways if way in self._web_of)
        return tuple((way, lines) for way in known for lines in self._patterned(way, upright))

    def _patterned(self, way: Stance, upright: bool) -> tuple[Course, ...]:
        """The courses of tools in one stance, of all patterns."""
        poses = sharing([next((pose for pose in tool if pose.way == way), None) for tool in self.tools])
        facing = Facing(poses, upright)
        return tuple(Course(facing, pattern) for pattern in patterns(poses, self.style))


@dataclass(frozen=True, eq=False)
class Series:
    """A *series*: the tools of one kind by size, or of a few kinds one after another; here from ``first`` to ``end``.

    A part of a series is a series, too: it has the tools from number ``first`` to before number ``end`` of the whole.

    Sizes ascend along a line, from line to line, and from stretch to stretch. A stretch is some lines of consecutive
    tools one behind another; stretches lie side by side from left to right. Or all is the other way round: lines that
    run from front to back lie side by side, and stretches of them one behind another. The tools of a line are in one
    stance. No tool lies that could stand without rising above the height that the series rises to. Along a line the
    outlines of two tools keep the web of these two. Between the boxes of two lines or stretches is the widest web of
    all tools up to the end of the second.
    """

    laying: Laying
    first: int
    end: int
    memo: Memo = field(default_factory=dict)
    parts: dict[tuple[int, int], Series] = field(default_factory=dict)

    @property
    def tools(self) -> Tools:
        """The poses of these tools."""
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
        """The part of a whole series between two cuts, of which one must be an end of the series."""
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
            swapped = _swapped(size, upright)
            if self._one_direction(level, gap, upright).holds(*swapped):
                known = self.laying.stretches(level, gap, upright)
                assert known is not None
                return _placed(known, self.first, self.end, swapped, _swapped_room(room, upright))
        raise ValueError("the block does not go into this field")

    def _curve_at(self, height: int, gap: int) -> Staircase:
        """The curve with all tools standing that can do so below ``height``, or below one of the lower heights."""
        lower = self.curve(height - 1, gap)
        return merged([lower, self._one_direction(height, gap, False), self._one_direction(height, gap, True).swapped])

    def _one_direction(self, height: int, gap: int, upright: bool) -> Staircase:
        """The curve with lines that run in one direction; if they are upright, with width and depth exchanged."""
        return self.laying.curve(height, gap, upright, (self.first, self.end))


def _placed(known: Stretches, first: int, end: int, size: BlockSize, room: Room) -> list[Spot]:
    """The spots of the tools between two cuts; width and depth of size and room are exchanged if lines are upright."""
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
    """The spots of a line spread over its room, the first with its line notch; upright lines are swapped back."""
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


def _swapped_room(room: Room, upright: bool) -> Room:
    return Room(room.y, room.x, room.depth, room.width) if upright else room


@remembered(4096)
def series(tools: Tools, style: Style = ORDERLY) -> Series:
    """The series of these tools; equal series, whatever organizer they are in, share what was worked out."""
    return Series(Laying(tools, style), 0, len(tools))
