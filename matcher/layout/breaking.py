"""Breaks a series into lines one behind another, and its lines into stretches side by side, in all ways at once.

A *line* is some consecutive tools of a series in one course (`matcher.layout.lines`). A *stretch* is some consecutive
tools in one line, or in several lines one behind another. Stretches lie side by side. A *cut* is a place between two
tools, or at an end of the series, where a stretch may begin or end; it is given as the number of tools before it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from hashlib import blake2b
from itertools import combinations
from weakref import ref

import numpy as np
from numpy.typing import NDArray

from matcher.layout.blocks import BlockSize
from matcher.layout.lines import NO_LINE, Course, ShortLengths
from matcher.layout.profiles import FAR
from matcher.layout.styles import Style
from matcher.packing import NEVER, Lengths, Staircase, thinned
from matcher.records import remembered

MANY = 40
"""A series of more tools is long: stretches begin at fewer places in it, and fewer widths are told apart."""
MOST_SIZES = 1600
"""Most widths of lines, and most depths of stretches, that are told apart; others count as the next larger one."""
LONG_WIDTHS = 200
"""Most widths of lines that are told apart in a long series."""
LONG_CUTS = 8
"""Stretches of a long series begin at this many places, at most."""
REMEMBERED = 128
"""Of so many series the widths of stretches are remembered: the same tools in other foam often have the same."""


@dataclass(frozen=True, slots=True)
class BrokenLine:
    """A line found: the tools from number ``first`` to before number ``end`` in a course, how long and deep it is."""

    first: int
    end: int
    course: Course
    length: int
    depth: int

    @property
    def count(self) -> int:
        """How many tools follow each other along the line."""
        return self.end - self.first

    def share_of(self, room: int, most: int) -> int:
        """How much of the length ``room`` the line is spread over.

        That is all of it, unless the line has less than half as many tools as the fullest line of its stretch, which
        has ``most``; then its tools lie about as far apart as those.
        """
        return room if 2 * self.count >= most else max(self.length, room * self.count // most)


@dataclass(frozen=True, eq=False)
class StretchWidths:
    """The widths of all stretches of a series, at ascending ``depths``.

    ``one[n, m]`` has for each depth the least width of the tools from cut number m to cut number n in one stretch,
    ``FAR`` where they do not go in. ``gaps`` has for each cut the gap to the left of a stretch that ends there; 0 at
    the first.
    """

    gaps: Lengths
    depths: Lengths
    one: Lengths

    def between(self, m: int, n: int) -> Staircase:
        """The curve of the tools from cut number ``m`` to ``n`` in stretches side by side; one is first or last."""
        widths = self._up_to[n] if m == 0 else self._from(m)
        less = (widths < FAR) & (widths < np.concatenate(([FAR], widths[:-1])))
        return Staircase(widths[less][::-1], self.depths[less][::-1])

    @cached_property
    def _up_to(self) -> Lengths:
        """For each cut and depth the least width of all stretches before the cut; there is no gap before the first."""
        least = np.zeros((len(self.one), len(self.depths)), dtype=np.int64)
        for n in range(1, len(least)):
            least[0] = -self.gaps[n]
            least[n] = (least[:n] + self.one[n, :n]).min(axis=0) + self.gaps[n]
        return least

    def _from(self, m: int) -> Lengths:
        """For each depth the least width of all stretches after cut number ``m``."""
        widths: Lengths = (self.one[m + 1 :, m] + self._behind[m + 1 :]).min(axis=0)
        return widths

    @cached_property
    def _behind(self) -> Lengths:
        """For each cut and depth the least width of all stretches after the cut, each with the gap to its left."""
        own = self.one + self.gaps[:, None, None]
        least = np.zeros((len(self.one), len(self.depths)), dtype=np.int64)
        for m in range(len(least) - 2, -1, -1):
            least[m] = (own[m + 1 :, m] + least[m + 1 :]).min(axis=0)
        return least


@dataclass(frozen=True, eq=False)
class Stretches:
    """All stretches of a series in which nothing rises above ``height``, and how wide they are."""

    breaking: Breaking
    height: int
    widths: StretchWidths

    def curve(self, first: int, end: int) -> Staircase:
        """The curve of the tools between two cuts in stretches side by side; one cut must be an end of the series."""
        cuts = self.breaking.cuts
        return self.widths.between(cuts.index(first), cuts.index(end))

    def parted(self, first: int, end: int, size: BlockSize) -> list[tuple[int, int, int]]:
        """Stretches of the tools between two cuts that go into a field, from left to right.

        From the last stretch on, each has as many tools as it can. Each is given as its first tool, the tool after its
        last, and its least width.
        """
        level = int(np.searchsorted(self.widths.depths, size[1], side="right")) - 1
        cuts = self.breaking.cuts
        begin, last = cuts.index(first), cuts.index(end)
        own = {
            (m, n): int(self.widths.one[n, m, level]) + (int(self.widths.gaps[n]) if m > begin else 0)
            for m, n in combinations(range(begin, last + 1), 2)
        }
        least = {begin: 0}
        for n in range(begin + 1, last + 1):
            least[n] = min(least[m] + own[m, n] for m in least)
        parted: list[tuple[int, int, int]] = []
        width = size[0]
        while last > begin:
            cut = next(m for m in range(begin, last) if least[m] + own[m, last] <= width)
            parted.append((cuts[cut], cuts[last], int(self.widths.one[last, cut, level])))
            last, width = cut, width - own[cut, last]
        return parted[::-1]

    def lines(self, first: int, end: int, size: BlockSize) -> list[BrokenLine]:
        """The lines, front to back, of one stretch of tools that goes into a size.

        They are as few as in the shallowest such stretch, and the longest of them is made as short as the size allows.
        """
        found = self.breaking.broken(self.height, first, end, size[0])
        while found:
            fewest, longest = len(found), max(line.length for line in found)
            even = self.breaking.broken(self.height, first, end, longest - 1)
            if not 0 < len(even) <= fewest or self._depth(even) > size[1]:
                break
            found = even
        return found

    def _depth(self, lines: Sequence[BrokenLine]) -> int:
        return sum(line.depth for line in lines) + sum(self.gap(line.end) for line in lines[1:])

    def gap(self, end: int) -> int:
        """The foam in front of a line, or to the left of a stretch, that ends before tool ``end``."""
        return int(self.breaking.gaps[end - 1])


class Breaking:
    """All ways to break a series into lines of some courses that run in one direction, and into stretches of them.

    If the courses are upright, left to right and front to back are exchanged throughout: lines run from front to back
    and lie side by side, stretches lie one behind another. ``tallest`` says how high each tool rises if it stands, and
    is ``FAR`` if it cannot; ``webs`` has the widest web that each tool may have. Between two lines, or two stretches,
    is foam as wide as the widest web of all tools up to the end of the second of them.
    """

    def __init__(
        self, every: Sequence[Course], tallest: Sequence[int], webs: Sequence[int], cuts: tuple[int, ...]
    ) -> None:
        self.every = every
        self.gaps = np.maximum.accumulate(np.array(webs))
        count = len(every[0].poses)
        self.length, self.depth = np.empty((2, len(every), count, count), dtype=np.int32)
        for kind, course in enumerate(every):
            self.length[kind], self.depth[kind] = course.tables()
        self.rise = np.stack([course.rise for course in every])
        could_stand = np.array(tallest)
        self.could_stand = np.stack([could_stand * 0 + FAR if own.way == "standing" else could_stand for own in every])
        self.count = count
        self.most_widths = LONG_WIDTHS if self.count > MANY else MOST_SIZES
        self.cuts = cuts

    def stretches(self, height: int) -> Stretches:
        """All stretches between two cuts with nothing rising above ``height``."""
        possible = np.packbits((self.rise <= height) & (height < self.could_stand)).tobytes()
        hashed = blake2b(possible, digest_size=20).digest()
        return Stretches(self, height, _widths(_Asked(self._measured, hashed, ref(self), height)))

    @cached_property
    def _measured(self) -> bytes:
        """A hash of all that the widths of stretches come from, but for how high the tools of each line rise."""
        hashed = blake2b(repr((self.cuts, self.most_widths, self.length.shape)).encode(), digest_size=20)
        for table in (self.length, self.depth, self.gaps):
            hashed.update(np.ascontiguousarray(table).tobytes())
        return hashed.digest()

    def widths(self, height: int) -> StretchWidths:
        """The widths of all stretches between two cuts with nothing rising above ``height``.

        As a stretch may be wider, its least depth falls in steps. At any depth its least width is that of the deepest
        step that is no deeper. So the table first gets, at the depth of each step, the difference to the width of the
        step before it, which is shallower; their sums from ``FAR`` on are the least widths.
        """
        widths, least = self._stacked(height)
        falls = least[:, :, 1:] < least[:, :, :-1]
        depths = thinned(np.unique(least[:, :, 1:][falls]), MOST_SIZES)
        table = least[list(self.cuts)].reshape(-1, len(widths))
        stretch, before = np.nonzero(table[:, 1:] < table[:, :-1])
        width, depth = widths[before + 1], table[stretch, before + 1]
        next_wider = np.append(np.where(np.diff(stretch) == 0, width[1:], FAR), FAR)
        one = np.zeros((len(table), len(depths)), dtype=np.int64)
        np.add.at(one, (stretch, np.searchsorted(depths, depth)), width - next_wider)
        between = one.reshape(len(self.cuts), least.shape[1], len(depths))
        gaps = np.array([0, *(int(self.gaps[cut - 1]) for cut in self.cuts[1:])])
        return StretchWidths(gaps, depths, FAR + np.cumsum(between, axis=2))

    def _stacked(self, height: int) -> tuple[Lengths, Lengths]:
        """Ascending widths to be tried, the first one so small that no line goes into it, and the least depths at them.

        Entry [j, m] of the depths has for each width the least depth of the tools from cut number m to before tool j in
        lines no wider than it, ``FAR`` where they do not go in. No gap comes before the first line. Dynamic programming
        over where the last line begins finds them (optimal line breaking; Knuth and Plass, 1981, "Breaking
        paragraphs into lines", Software: Practice and Experience 11, pp. 1119-1184, with the sum of line depths as the
        cost).
        """
        length = self._length(height)
        possible = length < NO_LINE
        lengths = np.unique(length[possible]).astype(np.int64)
        widths = np.append(-1, thinned(lengths, self.most_widths))
        starts = np.array(self.cuts[:-1])
        least = np.full((self.count + 1, len(starts), len(widths)), FAR, dtype=np.int64)
        begun = starts, np.arange(len(starts))
        up_to = np.searchsorted(starts, np.arange(self.count), side="right")
        ends: NDArray[np.bool_] = np.logical_or.reduce(possible)
        for j in np.flatnonzero(ends.any(axis=0)):
            least[begun] = -self.gaps[j]
            first = ends[:, j].argmax()
            lines = slice(None), slice(first, j + 1), j, None
            shallowest = np.where(length[lines] <= widths, self.depth[lines], NO_LINE).min(axis=0)
            line = np.where(shallowest < NO_LINE, shallowest, np.int64(FAR)) + self.gaps[j]
            least[j + 1, : up_to[j]] = (least[first : j + 1, : up_to[j]] + line[:, None]).min(axis=0)
        least[begun] = FAR
        return widths, np.minimum(least, FAR, out=least)

    def broken(self, height: int, first: int, end: int, width: int) -> list[BrokenLine]:
        """The lines, front to back, of the shallowest stretch of tools within ``width``; no lines if it does not go in.

        Of equally shallow stretches it is the most even one: with the least sum of squares of its lines' numbers of
        tools.
        """
        length, depth = self._length(height), self.depth
        best: dict[int, tuple[int, int, BrokenLine | None]] = {first: (0, 0, None)}
        for j in range(first, end):
            before, uneven = (np.array([best[begin][n] for begin in range(first, j + 1)]) for n in (0, 1))
            before[1:] += self.gaps[j]
            total = np.where(length[:, first : j + 1, j] <= width, before + depth[:, first : j + 1, j], NEVER)
            uneven += np.arange(j + 1 - first, 0, -1) ** 2
            last = np.lexsort((np.broadcast_to(uneven, total.shape).ravel(), total.ravel()))[0]
            kind, begin = (int(index) for index in np.unravel_index(int(last), total.shape))
            at = kind, first + begin, j
            line = BrokenLine(first + begin, j + 1, self.every[kind], int(length[at]), int(depth[at]))
            best[j + 1] = (min(int(total[kind, begin]), NEVER), int(uneven[begin]), line)
        if best[end][0] == NEVER:
            return []
        found: list[BrokenLine] = []
        while (last := best[end][2]) is not None:
            found.append(last)
            end = last.first
        return found[::-1]

    def _length(self, height: int) -> ShortLengths:
        """Lengths of lines, `NO_LINE` for those that rise above ``height`` or in which a tool lies that could stand.

        A tool could stand if it then rose no higher than ``height``. A line may begin after the last tool, up to its
        end, that keeps it from being.
        """
        number = np.arange(self.count)
        fails = (self.rise > height) | (self.could_stand <= height)
        first = np.maximum.accumulate(np.where(fails, number + 1, 0), axis=1)
        return np.where(number[:, None] >= first[:, None, :], self.length, NO_LINE)


def cuts_of(count: int, style: Style) -> tuple[int, ...]:
    """The cuts of a series of so many tools; only its ends if the style has no stretches side by side."""
    step = (-(-count // LONG_CUTS) if count > MANY else 1) if style.stretched else count
    return (*range(0, count, step), count)


@dataclass(frozen=True, slots=True)
class _Asked:
    """Widths of stretches asked for: equal if the lines that are possible measure the same, however high they rise.

    What is remembered keeps no breaking and its tables in memory.
    """

    measured: bytes
    possible: bytes
    breaking: ref[Breaking] = field(compare=False)
    height: int = field(compare=False)


@remembered(REMEMBERED)
def _widths(asked: _Asked) -> StretchWidths:
    breaking = asked.breaking()
    assert breaking is not None
    return breaking.widths(asked.height)
