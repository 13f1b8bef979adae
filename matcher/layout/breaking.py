"""Tools of a series broken into lines one behind another, and such lines into stretches side by side, in every way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from matcher.layout.blocks import Size
from matcher.layout.lines import Lines, running
from matcher.layout.profiles import FAR
from matcher.layout.styles import Style
from matcher.packing.staircases import NEVER, Lengths, Staircase, staircase, thinned

MANY = 40
"""Tools of a series up to which stretches may end between any two of them, and all widths up to ``COLUMNS`` count."""
COLUMNS = 400
"""Widths at which lines are broken, at most, half as many for long series; a line counts at the next wider one."""
LONG_CUTS = 8
"""Stretches of a long series begin at so many places."""


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


@dataclass(frozen=True, eq=False)
class Stretches:
    """Least widths of stretches of tools at ascending ``depths``.

    ``one[a, b]`` is the width of the stretch from the cut at tool a to the one at tool b, nothing rising above
    ``height``.
    """

    breaking: Breaking
    height: int
    depths: Lengths
    one: dict[tuple[int, int], Lengths]

    @property
    def cuts(self) -> tuple[int, ...]:
        """Where stretches may begin and end."""
        return self.breaking.cuts

    def curve(self, first: int, end: int) -> Staircase:
        """Curve of all tools between two cuts, one of which is the first or the last of all; stretches side by side."""
        widths = self._up_to[end] if first == self.cuts[0] else self._from[first]
        possible = widths < NEVER
        return staircase(widths[possible], self.depths[possible])

    def parted(self, first: int, end: int, size: Size) -> list[tuple[int, int, int]]:
        """The fewest stretches found that go into a field: first tool, tool after the last, width of each."""
        level = int(np.searchsorted(self.depths, size[1], side="right")) - 1
        cuts = [cut for cut in self.cuts if first <= cut <= end]
        own = {(a, b): int(self.one[a, b][level]) + (self.gap(b) if a > first else 0) for a, b in combinations(cuts, 2)}
        row = {first: 0}
        for b in cuts[1:]:
            row[b] = min(row[a] + own[a, b] for a in cuts if a < b)
        parted: list[tuple[int, int, int]] = []
        width = size[0]
        while end > first:
            cut = next(a for a in cuts if row[a] + own[a, end] <= width)
            parted.append((cut, end, int(self.one[cut, end][level])))
            end, width = cut, width - own[cut, end]
        return parted[::-1]

    def lines(self, first: int, end: int, width: int) -> list[Broken]:
        """Lines of the shallowest stretch of tools within ``width``, front to back."""
        return self.breaking.broken(self.height, first, end, width)

    def gap(self, end: int) -> int:
        """Foam in front of, or left of, whatever ends before tool ``end``."""
        return int(self.breaking.gaps[end - 1])

    @cached_property
    def _up_to(self) -> dict[int, Lengths]:
        """Width of all stretches before a cut."""
        row: dict[int, Lengths] = {}
        for b in self.cuts[1:]:
            whole = self.one[self.cuts[0], b]
            row[b] = known(np.stack([whole, *(row[a] + self.one[a, b] + self.gap(b) for a in row)]).min(axis=0))
        return row

    @cached_property
    def _from(self) -> dict[int, Lengths]:
        """Width of all stretches behind a cut."""
        last = self.cuts[-1]
        row: dict[int, Lengths] = {}
        behind: dict[int, Lengths] = {last: np.zeros(len(self.depths), dtype=np.int64)}
        for a in self.cuts[-2::-1]:
            row[a] = known(np.stack([self.one[a, b] + behind[b] for b in behind]).min(axis=0))
            behind[a] = known(np.stack([self.one[a, b] + behind[b] + self.gap(b) for b in behind]).min(axis=0))
        return row


class Breaking:
    """Lines one behind another, stretches of such lines side by side: one way round, ``upright`` or not.

    Upright, everything is exchanged: lines run from front to back and lie side by side. ``tallest`` says how high every
    tool rises standing, ``FAR`` if it does not stand; ``webs`` the widest that it may have. Two lines are as far apart
    as the widest of all tools up to the end of the second asks for, and so are two stretches.
    """

    def __init__(
        self, every: Sequence[Lines], tallest: Sequence[int], webs: Sequence[int], cuts: tuple[int, ...]
    ) -> None:
        self.every = every
        self.gaps = np.maximum.accumulate(np.array(webs))
        self.standing = -running(-np.array(tallest))
        self.count = len(every[0].row)
        self.columns = COLUMNS // 2 if self.count > MANY else COLUMNS
        self.cuts = cuts

    def stretches(self, height: int) -> Stretches | None:
        """All stretches between two cuts; nothing if none is possible below ``height``."""
        widths, least = self._stacked(height)
        pairs = [(a, b) for b in range(1, len(self.cuts)) for a in range(b)]
        deep = {(self.cuts[a], self.cuts[b]): least[self.cuts[b]][a] for a, b in pairs}
        possible = [depths[depths < NEVER] for depths in deep.values()]
        depths = thinned(np.unique(np.concatenate(possible)), COLUMNS)
        if not len(depths):
            return None
        never = np.append(widths, NEVER)
        one = {pair: never[np.searchsorted(-found, -depths)] for pair, found in deep.items()}
        return Stretches(self, height, depths, one)

    def _stacked(self, height: int) -> tuple[Lengths, list[Lengths]]:
        """Least depth of the tools from each cut (rows) up to tool j (list), at every width that some line has.

        By dynamic programming over where the last line begins (optimal line breaking; Knuth and Plass, 1981, "Breaking
        paragraphs into lines", Software: Practice and Experience 11, pp. 1119-1184, with the sum of line depths as the
        cost).
        """
        length, depth = self._tables(height)
        widths = thinned(np.unique(length[length < FAR]), self.columns)
        starts = np.array(self.cuts[:-1])
        least = np.full((self.count + 1, len(starts), len(widths)), NEVER, dtype=np.int64)
        least[starts, np.arange(len(starts))] = 0
        later = np.arange(self.count)[:, None] > starts
        for j in range(self.count):
            fits = length[:, : j + 1, j, None] <= widths
            line = np.where(fits, depth[:, : j + 1, j, None], NEVER).min(axis=0)
            active = starts <= j
            gaps = self.gaps[j] * later[: j + 1, active]
            total = (least[: j + 1, active] + gaps[..., None] + line[:, None]).min(axis=0)
            least[j + 1, active] = known(total)
        return widths, list(least)

    def broken(self, height: int, first: int, end: int, width: int) -> list[Broken]:
        """Lines of the shallowest stretch of tools within ``width``, front to back."""
        length, depth = self._tables(height)
        best: dict[int, tuple[int, Broken | None]] = {first: (0, None)}
        for j in range(first, end):
            before = np.array([best[begin][0] for begin in range(first, j + 1)])
            before[1:] += self.gaps[j]
            total = np.where(length[:, first : j + 1, j] <= width, before + depth[:, first : j + 1, j], NEVER)
            kind, begin = (int(index) for index in np.unravel_index(int(total.argmin()), total.shape))
            line = Broken(first + begin, j + 1, self.every[kind], int(depth[kind, first + begin, j]))
            best[j + 1] = (int(known(total)[kind, begin]), line)
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


def cuts_of(count: int, style: Style) -> tuple[int, ...]:
    """Where stretches of so many tools may begin and end."""
    step = (-(-count // LONG_CUTS) if count > MANY else 1) if style.stretched else count
    return (*range(0, count, step), count)


def known(sums: Lengths) -> Lengths:
    """Sums of lengths, ``NEVER`` where one of them was."""
    return np.where(sums < NEVER // 2, sums, NEVER)
