"""A series of sizes, broken into lines, and into stretches of lines side by side, in every way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from itertools import product
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from matcher.layout.blocks import Memo, Room, Size, Spot, least_web, levels, remembered, shared_out
from matcher.layout.facing import Facing
from matcher.layout.lines import Lines, best_of, patterns
from matcher.layout.notches import running, sharing
from matcher.layout.poses import Pose
from matcher.layout.profiles import FAR
from matcher.layout.styles import ORDERLY, Style, Way
from matcher.packing.staircases import EMPTY, NEVER, Lengths, Staircase, merged, staircase, thinned

Tools: TypeAlias = tuple[tuple[Pose, ...], ...]
"""The poses of every tool."""

FLAT: tuple[Way, ...] = ("standing", "along")
UPRIGHT: tuple[Way, ...] = ("across",)
"""How tools may lie in lines from left to right, and in lines from front to back."""
MANY = 40
"""Tools of a series up to which stretches may end between any two of them, and all widths up to ``COLUMNS`` count."""
COLUMNS = 400
"""Widths at which lines are broken, at most, half as many for long series; a line counts at the next wider one."""
LONG_CUTS = 8
"""Stretches of a long series begin at so many places."""
SAMPLE = 24
"""Tools, evenly picked from a series, on which patterns are compared; more take longer and tell little more."""


@dataclass(frozen=True, slots=True)
class Broken:
    """A line of a stretch: which tools, in which lines, how deep."""

    first: int
    end: int
    lines: Lines
    depth: int

    @property
    def count(self) -> int:
        """How many tools."""
        return self.end - self.first

    def share_of(self, room: int, most: int) -> int:
        """How far the line spreads: over all the room, or if it has less than half as many tools as the fullest line
        beside it no further apart than they are."""
        length = int(self.lines.length[self.first, self.end - 1])
        return room if 2 * self.count >= most else max(length, room * self.count // most)


@dataclass(frozen=True, slots=True)
class Stretches:
    """Least widths of stretches of tools at ascending ``depths``.

    ``one[a, b]`` is the width of the stretch from cut number a to cut number b, ``row[b]`` that of all stretches up to
    cut number b side by side.
    """

    cuts: tuple[int, ...]
    depths: Lengths
    one: dict[tuple[int, int], Lengths]
    row: tuple[Lengths, ...]


class Breaking:
    """Lines one behind another, stretches of such lines side by side: one way round, ``upright`` or not.

    Upright, everything is exchanged: lines run from front to back and lie side by side. ``tallest`` says how high every
    tool rises standing, ``FAR`` if it does not stand.
    """

    def __init__(self, every: Sequence[Lines], tallest: Sequence[int], stretched: bool = True) -> None:
        self.every = every
        self.standing = -running(-np.array(tallest))
        self.count = len(every[0].row)
        long = self.count > MANY
        self.columns = COLUMNS // 2 if long else COLUMNS
        step = (-(-self.count // LONG_CUTS) if long else 1) if stretched else self.count
        self.cuts = (*range(0, self.count, step), self.count)

    def curve(self, height: int, gap: int) -> Staircase:
        """Curve of all stretches side by side."""
        if not self.possible(height):
            return EMPTY
        stretches = self.stretches(height, gap)
        possible = stretches.row[-1] < NEVER
        return staircase(stretches.row[-1][possible], stretches.depths[possible])

    def stretches(self, height: int, gap: int) -> Stretches:
        """All stretches between two cuts."""
        widths, least = self._stacked(height, gap)
        pairs = [(a, b) for b in range(1, len(self.cuts)) for a in range(b)]
        deep = {(a, b): least[self.cuts[b]][a] for a, b in pairs}
        possible = [depths[depths < NEVER] for depths in deep.values()]
        depths = thinned(np.unique(np.concatenate(possible)), COLUMNS)
        never = np.append(widths, NEVER)
        one = {pair: never[np.searchsorted(-found, -depths)] for pair, found in deep.items()}
        row = [np.full(len(depths), -gap, dtype=np.int64)]
        for b in range(1, len(self.cuts)):
            row.append(_known(np.stack([row[a] + one[a, b] + gap for a in range(b)]).min(axis=0)))
        return Stretches(self.cuts, depths, one, tuple(row))

    def _stacked(self, height: int, gap: int) -> tuple[Lengths, list[Lengths]]:
        """Least depth of the tools from each cut (rows) up to tool j (list), at every width that some line has.

        By dynamic programming over where the last line begins (optimal line breaking; Knuth and Plass, 1981, "Breaking
        paragraphs into lines", Software: Practice and Experience 11, pp. 1119-1184, with the sum of line depths as the
        cost).
        """
        length, depth = self._tables(height)
        widths = thinned(np.unique(length[length < FAR]), self.columns)
        starts = np.array(self.cuts[:-1])
        least = np.full((self.count + 1, len(starts), len(widths)), NEVER, dtype=np.int64)
        least[starts, np.arange(len(starts))] = -gap
        for j in range(self.count):
            fits = length[:, : j + 1, j, None] <= widths
            line = np.where(fits, depth[:, : j + 1, j, None] + gap, NEVER).min(axis=0)
            active = starts <= j
            total = (least[: j + 1, active] + line[:, None]).min(axis=0)
            least[j + 1, active] = _known(total)
        return widths, list(least)

    def possible(self, height: int) -> bool:
        """Whether every tool has some line of its own below ``height``."""
        length, _ = self._tables(height)
        return bool((length[:, range(self.count), range(self.count)].min(axis=0) < FAR).all())

    def broken(self, height: int, gap: int, first: int, end: int, width: int) -> list[Broken]:
        """Lines of the shallowest stretch of tools within ``width``, front to back."""
        length, depth = self._tables(height)
        best: dict[int, tuple[int, Broken | None]] = {first: (-gap, None)}
        for j in range(first, end):
            before = np.array([best[begin][0] for begin in range(first, j + 1)])
            total = np.where(length[:, first : j + 1, j] <= width, before + depth[:, first : j + 1, j] + gap, NEVER)
            kind, begin = (int(index) for index in np.unravel_index(int(total.argmin()), total.shape))
            line = Broken(first + begin, j + 1, self.every[kind], int(depth[kind, first + begin, j]))
            best[j + 1] = (int(_known(total)[kind, begin]), line)
        found: list[Broken] = []
        while (last := best[end][1]) is not None:
            found.append(last)
            end = last.first
        return found[::-1]

    def _tables(self, height: int) -> tuple[Lengths, Lengths]:
        """Lengths and depths of all lines below ``height`` in which no tool lies that could stand."""
        length = [np.where(self._allowed(lines, height), lines.length, FAR) for lines in self.every]
        return np.stack(length), np.stack([lines.depth for lines in self.every])

    def _allowed(self, lines: Lines, height: int) -> NDArray[np.bool_]:
        low = lines.rise <= height
        return low if lines.way == "standing" else low & (self.standing > height)


def _known(sums: Lengths) -> Lengths:
    """Sums of lengths, ``NEVER`` where one of them was."""
    return np.where(sums < NEVER // 2, sums, NEVER)


@dataclass(frozen=True, eq=False)
class Series:
    """Tools of one kind by size. Sizes ascend along a line, from line to line, and from stretch to stretch.

    A stretch is some lines of consecutive tools one behind another; stretches lie side by side from left to right. Or
    the other way round: lines from front to back lie side by side, and stretches of them one behind another. Tools of a
    line lie one way, and none lies that could stand below the height that the series rises to. Along a line true
    outlines keep the web of each pair; lines and stretches are one series web apart by their boxes, that of all the
    series' tools lying as any of its lines do.
    """

    tools: Tools
    style: Style = ORDERLY
    memo: Memo = field(default_factory=dict)
    halves: dict[tuple[bool, int, int], Staircase] = field(default_factory=dict)

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`; what no layout stays below is left out."""
        least = max(min(pose.rise for pose in tool) for tool in self.tools)
        return tuple(h for h in levels((pose.rise for pose in tool) for tool in self.tools) if h >= least)

    @cached_property
    def web_of(self) -> dict[Way, int]:
        """Widest web of the tools that can lie each way."""
        webs: dict[Way, int] = {}
        for tool in self.tools:
            for pose in tool:
                webs[pose.way] = max(pose.web, webs.get(pose.way, 0))
        return webs

    @cached_property
    def webs(self) -> tuple[int, ...]:
        """See `Block.webs`."""
        return tuple(sorted(set(self.web_of.values())))

    def curve(self, height: int, web: int) -> Staircase:
        """See `Block.curve`."""
        return remembered(self.memo, self, height, web, self._curve_at)

    def spots(self, height: int, web: int, size: Size, room: Room) -> list[Spot]:
        """See `Block.spots`."""
        gap = least_web(self, height, web, size)
        levels_below = (level for level in self.heights[::-1] if level <= height)
        for level, upright in product(levels_below, (False, True)):
            breaking = self._breaking(gap, upright)
            if breaking and self._half(level, gap, upright).holds(*_swapped(size, upright)):
                return self._placed(breaking, level, gap, _swapped(size, upright), _turned(room, upright))
        raise ValueError("the block does not go into this field")

    def _curve_at(self, height: int, gap: int) -> Staircase:
        """Curve with all tools standing that can below ``height``, or below some lower height."""
        lower = self.curve(height - 1, gap)
        return merged([lower, self._half(height, gap, False), self._half(height, gap, True).turned])

    def _half(self, height: int, gap: int, upright: bool) -> Staircase:
        """Curve of all layouts with lines one way round, upright ones with width and depth exchanged."""
        key = (upright, gap, height)
        if key not in self.halves:
            breaking = self._breaking(gap, upright)
            self.halves[key] = breaking.curve(height, gap) if breaking else EMPTY
        return self.halves[key]

    def _breaking(self, gap: int, upright: bool) -> Breaking | None:
        every = [lines for way, lines in self._lines[upright] if self.web_of[way] <= gap]
        return Breaking(every, self._standing, self.style.stretched) if every else None

    @cached_property
    def _standing(self) -> tuple[int, ...]:
        return tuple(min((pose.rise for pose in tool if pose.way == "standing"), default=FAR) for tool in self.tools)

    @cached_property
    def _lines(self) -> tuple[tuple[tuple[Way, Lines], ...], tuple[tuple[Way, Lines], ...]]:
        """Lines from left to right, and lines from front to back, by the way their tools lie."""
        return self._all_lines(FLAT, False), self._all_lines(UPRIGHT, True)

    def _all_lines(self, ways: tuple[Way, ...], upright: bool) -> tuple[tuple[Way, Lines], ...]:
        known = (way for way in ways if way in self.web_of)
        return tuple((way, lines) for way in known for lines in self._patterned(way, upright))

    def _patterned(self, way: Way, upright: bool) -> tuple[Lines, ...]:
        row = sharing([next((pose for pose in tool if pose.way == way), None) for tool in self.tools])
        known = patterns(row, self.style)
        if len(known) == 1:
            return (Lines(Facing(row, upright), known[0]),)
        tried = Facing(row[:: -(-len(row) // SAMPLE)], upright)
        best = best_of([Lines(tried, pattern) for pattern in known])
        facing = Facing(row, upright)
        return best if len(tried.poses) == len(row) else tuple(Lines(facing, lines.pattern) for lines in best)

    def _placed(self, breaking: Breaking, height: int, gap: int, size: Size, room: Room) -> list[Spot]:
        """Pockets of stretches side by side, in directions exchanged if the lines are upright."""
        placed: list[Spot] = []
        stretches = self._parted(breaking, height, gap, size)
        spans = shared_out([width for _, _, width in stretches], gap, room.width)
        for (first, end, width), (start, wide) in zip(stretches, spans, strict=True):
            lines = breaking.broken(height, gap, first, end, width)
            rows = shared_out([line.depth for line in lines], gap, room.depth)
            most = max(line.count for line in lines)
            for line, (front, deep) in zip(lines, rows, strict=True):
                placed += _spots_of(line, Room(room.x + start, room.y + front, line.share_of(wide, most), deep))
        return placed

    def _parted(self, breaking: Breaking, height: int, gap: int, room: tuple[int, int]) -> list[tuple[int, int, int]]:
        """The fewest stretches found that go into the room, with their widths."""
        known = breaking.stretches(height, gap)
        level = int(np.searchsorted(known.depths, room[1], side="right")) - 1
        parted: list[tuple[int, int, int]] = []
        end, width = len(known.cuts) - 1, room[0]
        while end:
            cut = next(a for a in range(end) if known.row[a][level] + gap + known.one[a, end][level] <= width)
            own = int(known.one[cut, end][level])
            parted.append((known.cuts[cut], known.cuts[end], own))
            end, width = cut, width - own - gap
        return parted[::-1]


def _spots_of(line: Broken, room: Room) -> list[Spot]:
    """Tools of a line spread over its room, in the middle across, the first one with the line's slot."""
    upright = line.lines.upright
    laid = line.lines.laid(line.first, line.end, room.width)
    across = room.y + (room.depth - line.depth) // 2
    spots = []
    for one in laid:
        at = room.x + one.along, across + one.across
        spots.append(Spot(one.pose, *(at[::-1] if upright else at)))
    slot = line.lines.slot(line.first, line.end, laid, room.width)
    if slot:
        placed = replace(slot, left=room.x + slot.left, front=across + slot.front)
        spots[0] = replace(spots[0], slot=placed.turned if upright else placed)
    return spots


def _swapped(size: Size, upright: bool) -> Size:
    return size[::-1] if upright else size


def _turned(room: Room, upright: bool) -> Room:
    return Room(room.y, room.x, room.depth, room.width) if upright else room


@lru_cache(maxsize=4096)
def series(tools: Tools, style: Style = ORDERLY) -> Series:
    """Series of these tools; equal series, whatever organizer they are in, share what was worked out."""
    return Series(tools, style)
