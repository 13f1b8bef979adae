"""Lines of tools in the order of their sizes, as near each other as their outlines allow."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise, product
from math import ceil
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from matcher.geometry import Ring
from matcher.layout.poses import Pose, Way
from matcher.layout.profiles import FAR, STRIP, pitch
from matcher.packing.staircases import Lengths
from matcher.units import mm

Flush: TypeAlias = Literal["front", "center", "back"]
STAGGERS = tuple(mm(offset) for offset in (16, 32, 50))
APART = 0.25
"""Share of a tool's extent by which the next one may reach into it whatever they share the other way."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """How the tools of a line lie: flush on which side, every second one turned end for end, every second one set
    back by ``stagger``. 'Second' counts in the series, so that a tool lies alike in whatever line."""

    flush: Flush = "front"
    alternate: bool = False
    stagger: int = 0


@dataclass(frozen=True, slots=True)
class Laid:
    """A tool in its line: pose as turned, distance along the line and across it."""

    pose: Pose
    along: int
    across: int


class Lines:
    """All lines of consecutive tools of a series that lie one way in one pattern.

    A line runs from left to right (``upright``: from front to back). ``length[a, j]`` and ``depth[a, j]`` are the size
    of the line from tool a to tool j, ``rise[a, j]`` its height; ``FAR`` where some tool cannot lie this way.
    """

    def __init__(self, row: Sequence[Pose | None], pattern: Pattern, upright: bool = False) -> None:
        self.row = [pose.turned if pose and pattern.alternate and n % 2 else pose for n, pose in enumerate(row)]
        self.pattern = pattern
        self.upright = upright
        self.way: Way = next(pose.way for pose in row if pose)
        self.sizes = [_size(pose, upright) if pose else (0, 0) for pose in self.row]
        self.ups = self._ups()
        self.starts = self._starts()

    @cached_property
    def length(self) -> Lengths:
        """See the class."""
        ends = self.starts + np.array([long for long, _ in self.sizes])
        return self._valid(np.maximum.accumulate(ends, axis=1))

    @cached_property
    def depth(self) -> Lengths:
        """See the class."""
        return self._valid(_running(self.ups + np.array([deep for _, deep in self.sizes])) + _running(-self.ups))

    @cached_property
    def rise(self) -> Lengths:
        """See the class."""
        return self._valid(_running(np.array([pose.rise if pose else FAR for pose in self.row])))

    def laid(self, first: int, end: int) -> Iterator[Laid]:
        """The tools of a line, ``end`` being the tool after the last."""
        low = int(self.ups[first:end].min())
        for n in range(first, end):
            pose = self.row[n]
            assert pose is not None
            yield Laid(pose, int(self.starts[first, n]), int(self.ups[n]) - low)

    def _valid(self, table: Lengths) -> Lengths:
        return np.where(self._whole, table, FAR)

    @cached_property
    def _whole(self) -> NDArray[np.bool_]:
        """Whether a line from a to j has all its tools."""
        lacking = np.cumsum([0, *(pose is None for pose in self.row)])
        return np.triu(lacking[None, 1:] - lacking[:-1, None] == 0)

    def _ups(self) -> Lengths:
        deepest = max(deep for _, deep in self.sizes)
        spare = np.array([deepest - deep for _, deep in self.sizes])
        base = {"front": spare * 0, "center": spare // 2, "back": spare}[self.pattern.flush]
        return base + self.pattern.stagger * (np.arange(len(self.row)) % 2)

    def _starts(self) -> Lengths:
        """Where tool j begins in the line that begins with tool a: as far left as all before it allow."""
        count = len(self.row)
        starts = np.full((count, count), -FAR, dtype=np.int64)
        longest = max((long for long, _ in self.sizes), default=0) + max((p.web for p in self.row if p), default=0)
        for j in range(count):
            starts[j, j] = 0
            for i in range(j - 1, -1, -1):
                if self.row[i] is None or self.row[j] is None:
                    break
                lines = slice(0, i + 1)
                if i < j - 1 and int((starts[lines, j] - starts[lines, i]).min()) >= longest:
                    break
                starts[lines, j] = np.maximum(starts[lines, j], starts[lines, i] + self._pitch(i, j))
            starts[:j, j] = np.maximum(starts[:j, j], 0)
        return starts

    def _pitch(self, i: int, j: int) -> int:
        """How far behind tool i in its line tool j begins: a web apart, and far enough to be read after it."""
        one, other = self.row[i], self.row[j]
        assert one is not None
        assert other is not None
        web = max(one.web, other.web)
        if one.boxy and other.boxy:
            return self.sizes[i][0] + web
        up = int(self.ups[i])
        faces = _faced(one, self.upright), _faced(other, self.upright)
        return max(pitch(*faces, up % STRIP, int(self.ups[j]) - up, web), self._readable(i, j))

    def _readable(self, i: int, j: int) -> int:
        """Where tool j comes after tool i to the eye: its center does, and along the line the two share no larger part
        of the smaller one than across it, or a quarter."""
        (long, deep), (other_long, other_deep) = self.sizes[i], self.sizes[j]
        low, high = max(self.ups[i], self.ups[j]), min(self.ups[i] + deep, self.ups[j] + other_deep)
        beside = max(high - low, 0) / min(deep, other_deep)
        within = max(float(beside), APART) * min(long, other_long)
        return max((long - other_long) // 2 + 1, ceil(long - within))


def patterns(row: Sequence[Pose | None], abreast: bool, alternate: bool, stagger: bool) -> tuple[Pattern, ...]:
    """The patterns worth trying, the plainest first; tools that lie end to end rather than ``abreast`` have one."""
    known = [pose for pose in row if pose]
    if known[0].way == "standing":
        return (Pattern("center"),)
    if not abreast or len(known) < 2 or all(pose.boxy for pose in known):
        return (Pattern(),)
    heads = (False, True) if alternate else (False,)
    offsets = (0, *STAGGERS) if stagger else (0,)
    sides: tuple[Flush, ...] = ("front", "back")
    return tuple(Pattern(flush, turn, by) for turn, by, flush in product(heads, offsets, sides))


def best_of(every: Sequence[Lines]) -> tuple[Lines, ...]:
    """The plainest, and for one, two and three equal lines those that take the least area."""
    count = len(every[0].row)
    kept = [every[0]]
    for number in (1, 2, 3):
        cuts = [round(n * count / number) for n in range(number + 1)]
        spans = [(a, b - 1) for a, b in pairwise(cuts) if a < b]
        area = [
            max(int(lines.length[span]) for span in spans) * sum(int(lines.depth[span]) for span in spans)
            for lines in every
        ]
        kept.append(every[area.index(min(area))])
    return tuple(dict.fromkeys(kept))


def _size(pose: Pose, upright: bool) -> tuple[int, int]:
    return (pose.depth, pose.width) if upright else (pose.width, pose.depth)


def _faced(pose: Pose, upright: bool) -> Ring:
    return tuple((y, x) for x, y in pose.outline) if upright else pose.outline


def _running(values: Lengths) -> Lengths:
    """Largest of the values from a to j, for every a and j at or above it."""
    table = np.where(np.triu(np.ones((len(values), len(values)), dtype=bool)), values[None, :], -FAR)
    return np.maximum.accumulate(table, axis=1)
