"""A series of sizes, broken into lines in every way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import TypeAlias

import numpy as np

from matcher.layout.blocks import Memo, Spot, least_web, levels, remembered
from matcher.layout.poses import Pose, Way
from matcher.packing.staircases import NEVER, Lengths, Staircase, staircase

Line: TypeAlias = tuple[int, int, Way, int, int]
"""First tool, tool after the last, how they lie, width, depth."""
Tools: TypeAlias = tuple[tuple[Pose, ...], ...]
"""The poses of every tool."""

WAYS: tuple[Way, ...] = ("standing", "along", "across")


class Run:
    """The lines of tools that all lie one way, looked up by where they end; ``None`` for a tool that cannot."""

    def __init__(self, row: Sequence[Pose | None]) -> None:
        self.row = row
        webs = [max(a.web, b.web) if a and b else 0 for a, b in pairwise(row)]
        sizes = [pose.width if pose else 0 for pose in row]
        self.ends: Lengths = np.cumsum(sizes) + np.cumsum([0, *webs])
        self.starts: Lengths = self.ends - sizes

    def widths(self, last: int) -> Lengths:
        """Widths of all lines that end with tool ``last``, the longest line first."""
        begin = last + 1
        while begin and self.row[begin - 1]:
            begin -= 1
        found: Lengths = self.ends[last] - self.starts[begin : last + 1]
        return found

    def lines(self, last: int, widths: Lengths) -> Iterator[tuple[int, Lengths, int]]:
        """The longest lines that end with tool ``last``, depth by depth.

        Yields from which of the ascending ``widths`` on there is a line of this depth, the first tool of the longest
        one for each width from there on, and the depth.
        """
        for shortest, longest, depth in self._depths(last):
            enough = int(np.searchsorted(widths, self.ends[last] - self.starts[shortest]))
            first = np.searchsorted(self.starts[: last + 1], self.ends[last] - widths[enough:])
            yield enough, np.maximum(first, longest), depth

    def _depths(self, last: int) -> Iterator[tuple[int, int, int]]:
        """Where the shortest and the longest line of each depth that end with tool ``last`` begin."""
        begin = last
        while begin >= 0 and (pose := self.row[begin]):
            shortest, depth = begin, pose.depth
            while begin and (before := self.row[begin - 1]) and before.depth <= depth:
                begin -= 1
            yield shortest, begin, depth
            begin -= 1


@dataclass(frozen=True, eq=False)
class Series:
    """Tools of one kind by size. Sizes ascend along a line and from line to line; the tools of a line lie one way.

    Along a line the web is that of each pair of neighbors. The web of a line for others is that of all the series'
    tools lying its way; lines are one series web apart.
    """

    tools: Tools
    memo: Memo = field(default_factory=dict)

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`."""
        return levels((pose.rise for pose in tool) for tool in self.tools)

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

    def spots(self, height: int, web: int, width: int, depth: int, x: int, y: int) -> list[Spot]:
        """See `Block.spots`."""
        gap = least_web(self, height, web, width, depth)
        placed: list[Spot] = []
        for line in self._broken(height, gap, width):
            placed += self._spots_of(line, x, y)
            y += line[4] + gap
        return placed

    def _curve_at(self, height: int, gap: int) -> Staircase:
        """Least total depth at every width that some line has, by dynamic programming over where the last line begins.

        Row j of ``least`` holds, for all those widths at once, the depth of the first j tools (optimal line breaking;
        Knuth and Plass, 1981, "Breaking paragraphs into lines", Software: Practice and Experience 11, pp. 1119-1184,
        with the sum of line depths as the cost). More tools never need less depth, so of the lines of one depth that
        end with the same tool the longest is best.
        """
        runs = [Run(row) for row in self._rows(height, gap).values()]
        widths = np.unique(np.concatenate([run.widths(last) for run in runs for last in range(len(self.tools))]))
        least = np.full((len(self.tools) + 1, len(widths)), NEVER, dtype=np.int64)
        least[0] = -gap
        columns = np.arange(len(widths))
        for last, total in enumerate(least[1:]):
            for run in runs:
                for enough, first, depth in run.lines(last, widths):
                    found = least[first, columns[enough:]] + (depth + gap)
                    np.minimum(total[enough:], found, out=total[enough:])
        return staircase(np.where(least[-1] < NEVER, widths, NEVER), least[-1])

    def _broken(self, height: int, gap: int, width: int) -> list[Line]:
        """Lines of the shallowest layout within ``width``, front to back."""
        best: list[tuple[int, Line | None]] = [(-gap, None), *((NEVER, None) for _ in self.tools)]
        for line in self._lines(height, gap):
            total = best[line[0]][0] + line[4] + gap
            if line[3] <= width and total < best[line[1]][0]:
                best[line[1]] = (total, line)
        lines: list[Line] = []
        last = best[-1][1]
        while last is not None:
            lines.append(last)
            last = best[last[0]][1]
        return lines[::-1]

    def _lines(self, height: int, web: int) -> Iterator[Line]:
        """Every line of consecutive tools, each way they may lie, by where it begins."""
        rows = self._rows(height, web)
        for first in range(len(self.tools)):
            for way, row in rows.items():
                yield from _lines_from(row, first, way)

    def _rows(self, height: int, web: int) -> dict[Way, list[Pose | None]]:
        """Poses of all tools the ways that need no more than ``web``, none where a tool would rise above ``height``."""
        ways = [way for way in WAYS if way in self.web_of and self.web_of[way] <= web]
        return {way: [_pose(tool, way, height) for tool in self.tools] for way in ways}

    def _spots_of(self, line: Line, x: int, y: int) -> list[Spot]:
        """Tools of a line from left to right: standing ones on one center line, lying ones flush in front."""
        first, last, way, _, depth = line
        placed: list[Spot] = []
        for pose in (next(pose for pose in tool if pose.way == way) for tool in self.tools[first:last]):
            if placed:
                x += placed[-1].pose.width + max(placed[-1].pose.web, pose.web)
            placed.append(Spot(pose, x, y + (depth - pose.depth) // 2 if way == "standing" else y))
        return placed


@lru_cache(maxsize=4096)
def series(tools: Tools) -> Series:
    """Series of these tools; equal series, whatever organizer they are in, share what was worked out."""
    return Series(tools)


def _pose(tool: Sequence[Pose], way: Way, height: int) -> Pose | None:
    return next((pose for pose in tool if pose.way == way and pose.rise <= height), None)


def _lines_from(row: Sequence[Pose | None], first: int, way: Way) -> Iterator[Line]:
    width, depth, web = 0, 0, 0
    for index in range(first, len(row)):
        pose = row[index]
        if pose is None:
            return
        width += pose.width + (max(web, pose.web) if index > first else 0)
        depth, web = max(depth, pose.depth), pose.web
        yield first, index + 1, way, width, depth
