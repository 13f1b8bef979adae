"""Tools of a series broken into lines one behind another, and such lines into stretches side by side, in every way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from matcher.layout.blocks import BlockSize
from matcher.layout.courses import Course
from matcher.layout.notches import running
from matcher.layout.profiles import FAR
from matcher.layout.styles import Style
from matcher.packing import NEVER, Lengths, Staircase, thinned

MANY = 40
"""Tools of a series up to which stretches may end between any two of them, and all widths up to ``COLUMNS`` count."""
COLUMNS = 1600
"""Widths at which lines are broken, at most, and depths of stretches; a line counts at the next wider one."""
LONG_COLUMNS = 200
"""Widths at which the lines of a long series are broken."""
LONG_CUTS = 8
"""Stretches of a long series begin at so many places."""


@dataclass(frozen=True, slots=True)
class Broken:
    """A line of a stretch: which tools, in which lines, how deep."""

    first: int
    end: int
    lines: Course
    depth: int

    @property
    def count(self) -> int:
        """How many tools one behind another."""
        return self.lines.abreast(self.end - self.first)

    @property
    def length(self) -> int:
        """From its first tool to its last."""
        return int(self.lines.length[self.first, self.end - 1])

    def share_of(self, room: int, most: int) -> int:
        """How far the line spreads: over all the room, or if it has less than half as many tools as the fullest line
        beside it no further apart than they are."""
        return room if 2 * self.count >= most else max(self.length, room * self.count // most)


@dataclass(frozen=True, eq=False)
class Stretches:
    """Least widths of stretches of tools at ascending ``depths``, nothing rising above ``height``.

    ``one[n, m]`` are the widths of the stretch from cut number m to cut number n, ``FAR`` where it does not go in.
    """

    breaking: Breaking
    height: int
    depths: Lengths
    one: Lengths

    def curve(self, first: int, end: int) -> Staircase:
        """Curve of all tools between two cuts, one of which is the first or the last of all; stretches side by side."""
        cuts = self.breaking.cuts
        widths = self._up_to[cuts.index(end)] if first == cuts[0] else self._from(cuts.index(first))
        less = (widths < FAR) & (widths < np.concatenate(([FAR], widths[:-1])))
        return Staircase(widths[less][::-1], self.depths[less][::-1])

    def parted(self, first: int, end: int, size: BlockSize) -> list[tuple[int, int, int]]:
        """The fewest stretches found that go into a field: first tool, tool after the last, width of each."""
        level = int(np.searchsorted(self.depths, size[1], side="right")) - 1
        cuts = self.breaking.cuts
        begin, last = cuts.index(first), cuts.index(end)
        own = {
            (m, n): int(self.one[n, m, level]) + (int(self._gaps[n]) if m > begin else 0)
            for m, n in combinations(range(begin, last + 1), 2)
        }
        row = {begin: 0}
        for n in range(begin + 1, last + 1):
            row[n] = min(row[m] + own[m, n] for m in row)
        parted: list[tuple[int, int, int]] = []
        width = size[0]
        while last > begin:
            cut = next(m for m in range(begin, last) if row[m] + own[m, last] <= width)
            parted.append((cuts[cut], cuts[last], int(self.one[last, cut, level])))
            last, width = cut, width - own[cut, last]
        return parted[::-1]

    def lines(self, first: int, end: int, size: BlockSize) -> list[Broken]:
        """Lines of a stretch of tools within a size, front to back: as few as the shallowest stretch has, and of these
        the longest one as short as it can be."""
        found = self.breaking.broken(self.height, first, end, size[0])
        while found:
            fewest, longest = len(found), max(line.length for line in found)
            even = self.breaking.broken(self.height, first, end, longest - 1)
            if not 0 < len(even) <= fewest or self._depth(even) > size[1]:
                break
            found = even
        return found

    def _depth(self, lines: Sequence[Broken]) -> int:
        return sum(line.depth for line in lines) + sum(self.gap(line.end) for line in lines[1:])

    def gap(self, end: int) -> int:
        """Foam in front of, or left of, whatever ends before tool ``end``."""
        return int(self.breaking.gaps[end - 1])

    @cached_property
    def _gaps(self) -> Lengths:
        """The gap before a stretch that ends at each cut, none at the first."""
        return np.array([0, *(self.gap(cut) for cut in self.breaking.cuts[1:])])

    @cached_property
    def _up_to(self) -> Lengths:
        """Width of all stretches before each cut."""
        row = np.zeros((len(self.one), len(self.depths)), dtype=np.int64)
        for n in range(1, len(row)):
            row[0] = -self._gaps[n]
            row[n] = (row[:n] + self.one[n, :n]).min(axis=0) + self._gaps[n]
        return row

    def _from(self, m: int) -> Lengths:
        """Width of all stretches behind a cut."""
        widths: Lengths = (self.one[m + 1 :, m] + self._behind[m + 1 :]).min(axis=0)
        return widths

    @cached_property
    def _behind(self) -> Lengths:
        """Width of all stretches behind each cut and of the gap before each of them."""
        own = self.one + self._gaps[:, None, None]
        row = np.zeros((len(self.one), len(self.depths)), dtype=np.int64)
        for m in range(len(row) - 2, -1, -1):
            row[m] = (own[m + 1 :, m] + row[m + 1 :]).min(axis=0)
        return row


class Breaking:
    """Lines one behind another, stretches of such lines side by side: one way round, ``upright`` or not.

    Upright, everything is exchanged: lines run from front to back and lie side by side. ``tallest`` says how high every
    tool rises standing, ``FAR`` if it does not stand; ``webs`` the widest that it may have. Two lines are as far apart
    as the widest of all tools up to the end of the second asks for, and so are two stretches.
    """

    def __init__(
        self, every: Sequence[Course], tallest: Sequence[int], webs: Sequence[int], cuts: tuple[int, ...]
    ) -> None:
        self.every = every
        self.gaps = np.maximum.accumulate(np.array(webs))
        self.length = np.stack([lines.length for lines in every])
        self.depth = np.stack([lines.depth for lines in every])
        self.rise = np.stack([lines.rise for lines in every])
        could = -running(-np.array(tallest))
        self.standing = np.stack([np.full_like(could, FAR) if own.way == "standing" else could for own in every])
        self.count = len(every[0].row)
        self.columns = LONG_COLUMNS if self.count > MANY else COLUMNS
        self.cuts = cuts

    def stretches(self, height: int) -> Stretches:
        """All stretches between two cuts.

        A stretch is less deep in steps as it may be wider; from the depth of each step on it is as narrow as that step,
        so that its widths at all depths are the differences from step to step added up.
        """
        widths, least = self._stacked(height)
        table = least.reshape(-1, len(widths))
        stretch, before = np.nonzero(table[:, 1:] < table[:, :-1])
        width, depth = widths[before + 1], table[stretch, before + 1]
        depths = thinned(np.unique(depth), COLUMNS)
        next_wider = np.append(np.where(np.diff(stretch) == 0, width[1:], FAR), FAR)
        one = np.zeros((len(table), len(depths)), dtype=np.int64)
        np.add.at(one, (stretch, np.searchsorted(depths, depth)), width - next_wider)
        between = one.reshape(*least.shape[:2], -1)[list(self.cuts)]
        return Stretches(self, height, depths, FAR + np.cumsum(between, axis=2))

    def _stacked(self, height: int) -> tuple[Lengths, Lengths]:
        """Widths that some line has, and before them one that none goes into; at each of them the least depth of the
        tools before every one from each cut, ``FAR`` where they do not go in.

        By dynamic programming over where the last line begins (optimal line breaking; Knuth and Plass, 1981, "Breaking
        paragraphs into lines", Software: Practice and Experience 11, pp. 1119-1184, with the sum of line depths as the
        cost).
        """
        length = self._length(height)
        possible = length < FAR
        widths = np.append(-1, thinned(np.unique(length[possible]), self.columns))
        starts = np.array(self.cuts[:-1])
        least = np.full((self.count + 1, len(starts), len(widths)), FAR, dtype=np.int64)
        begun = starts, np.arange(len(starts))
        up_to = np.searchsorted(starts, np.arange(self.count), side="right")
        ends: NDArray[np.bool_] = np.logical_or.reduce(possible)
        for j in np.flatnonzero(ends.any(axis=0)):
            least[begun] = -self.gaps[j]
            first = ends[:, j].argmax()
            lines = slice(None), slice(first, j + 1), j, None
            line = np.where(length[lines] <= widths, self.depth[lines], FAR).min(axis=0) + self.gaps[j]
            least[j + 1, : up_to[j]] = (least[first : j + 1, : up_to[j]] + line[:, None]).min(axis=0)
        least[begun] = FAR
        return widths, np.minimum(least, FAR, out=least)

    def broken(self, height: int, first: int, end: int, width: int) -> list[Broken]:
        """Lines of the shallowest stretch of tools within ``width``, front to back; of equals the most even ones.
        Nothing if there is none."""
        length, depth = self._length(height), self.depth
        best: dict[int, tuple[int, int, Broken | None]] = {first: (0, 0, None)}
        for j in range(first, end):
            before, uneven = (np.array([best[begin][n] for begin in range(first, j + 1)]) for n in (0, 1))
            before[1:] += self.gaps[j]
            total = np.where(length[:, first : j + 1, j] <= width, before + depth[:, first : j + 1, j], NEVER)
            uneven += np.arange(j + 1 - first, 0, -1) ** 2
            last = np.lexsort((np.broadcast_to(uneven, total.shape).ravel(), total.ravel()))[0]
            kind, begin = (int(index) for index in np.unravel_index(int(last), total.shape))
            line = Broken(first + begin, j + 1, self.every[kind], int(depth[kind, first + begin, j]))
            best[j + 1] = (min(int(total[kind, begin]), NEVER), int(uneven[begin]), line)
        if best[end][0] == NEVER:
            return []
        found: list[Broken] = []
        while (last := best[end][2]) is not None:
            found.append(last)
            end = last.first
        return found[::-1]

    def _length(self, height: int) -> Lengths:
        """Lengths of all lines below ``height`` in which no tool lies that could stand."""
        lengths: Lengths = np.where((self.rise <= height) & (height < self.standing), self.length, FAR)
        return lengths


def cuts_of(count: int, style: Style) -> tuple[int, ...]:
    """Where stretches of so many tools may begin and end."""
    step = (-(-count // LONG_CUTS) if count > MANY else 1) if style.stretched else count
    return (*range(0, count, step), count)
