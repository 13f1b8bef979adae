"""Line notches: finger notches that the tools of a line share, worked out for all lines of a course at once.

A table here has an entry [a, j] for the line from tool a to tool j. *Along* is along the line, *across* across it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from matcher.layout.cutouts import Ring
from matcher.layout.facing import shape_of, size_of
from matcher.layout.holds import HoldSpans, crossed, notch_places, strips_in
from matcher.layout.poses import Pose
from matcher.layout.profiles import FAR, STRIP
from matcher.packing import Lengths
from matcher.records import remembered

NotchEnds: TypeAlias = tuple[Lengths, Lengths]
"""Two tables: one for the end of the line notch at its first tool, one for that at its last."""
BARE: Ring = ((0, 0), (1, 0), (1, 1), (0, 1))
"""Stands for the outline of a tool that has no pose."""
FEW = 3
"""Fewer tools that need notches, next to others with notches of their own, share none: common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class NotchedLines:
    """The line notches of all lines.

    ``first`` and ``last`` are the first and the last tool that the notch joins, -1 without one. ``before`` and
    ``after`` are how much the line is longer for it, before its first tool and after its last one, so that there is
    room for a fingertip. The notch begins at ``begin`` across the line; tools and notch together reach from ``low`` to
    ``high`` across. A line is ``possible`` if its tools can share a notch, or if none of them needs one, or if it has
    one tool only.
    """

    first: Lengths
    last: Lengths
    before: Lengths
    after: Lengths
    begin: Lengths
    low: Lengths
    high: Lengths
    possible: NDArray[np.bool_]


def sharing(poses: Sequence[Pose | None]) -> list[Pose | None]:
    """The poses of a series; where too few tools could share a notch, each that needs one gets a notch of its own.

    Too few are less than ``FEW`` tools that need a notch, in a row that ends at a tool with a notch of its own.
    """
    shares: list[Pose | None] = []
    for own, some in groupby(poses, lambda pose: pose is not None and pose.notch != ()):
        part = list(some)
        few = len(part) < len(poses) and sum(pose is not None and pose.finger > 0 for pose in part) < FEW
        shares += [pose.alone if pose and few and not own else pose for pose in part]
    return shares


def notched_lines(
    poses: Sequence[Pose | None], upright: bool, offsets: Lengths, starts: Lengths, widest: tuple[int, int]
) -> NotchedLines:
    """The line notches of all lines of these tools.

    Each tool's box begins at its offset across the line; ``starts[a, j]`` is where tool j begins along the line that
    begins with tool a; ``widest`` are the width of a notch and the widest web in the course. A notch joins all tools
    from the first that needs it to the last, or the only one that needs it and a neighbor. None of them has a notch of
    its own. The box of a tool next to them that has one is a web away from the notch. Of all places across the line
    the notch lies where it takes the least foam beyond the tools, and of such places nearest to their middle.
    """
    deep = np.array([size_of(pose, upright)[1] if pose else 0 for pose in poses])
    low, high = -running(-offsets), running(offsets + deep)
    wide = widest[0]
    if not wide or len(poses) < 2:
        none = np.full_like(low, -1)
        return NotchedLines(none, none, 0 * low, 0 * low, none, low, high, np.ones_like(low, dtype=bool))
    first, last = _joined(np.array([pose is not None and pose.finger > 0 for pose in poses]))
    own = np.cumsum([0, *(pose is not None and pose.notch != () for pose in poses)])
    spans = np.array([_notch_places_of(pose, upright, wide) for pose in poses]) + offsets[:, None, None]
    wish = np.clip(_middles(offsets, deep) - wide // 2, low, np.maximum(high - wide, low))
    begins, outside = [], []
    for kind in range(len(spans[0])):
        least, most = running(spans[:, kind, 0]), -running(-spans[:, kind, 1])
        begins.append(np.clip(wish, least, most))
        beyond = np.maximum(low - begins[-1], 0) + np.maximum(begins[-1] + wide - high, 0)
        clear = (least <= most) & _clear_of_passed(poses, (offsets, deep), (first, last), begins[-1], widest)
        outside.append(np.where(clear, beyond, FAR))
    begin = np.take_along_axis(np.stack(begins), np.argmin(outside, axis=0)[None], axis=0)[0]
    shared = first >= 0
    short = np.array([pose is not None and pose.finger > 0 for pose in poses]) & (spans[:, 0, 0] > spans[:, 0, 1])
    behind, before = (running(np.where(short, end, -FAR)) for end in (-offsets - deep, offsets))
    ended = np.maximum(begin + wide + behind, before - begin) >= wide // 2
    long = np.array([size_of(pose, upright)[0] if pose else 0 for pose in poses])
    crossings = _crossings(poses, upright, offsets, wide)
    room = _room(crossings, starts, long, (first, last), begin)
    before, after = (np.where(ended, 0, foam) for foam in room)
    apart = _apart(poses, crossings, starts, np.stack([long, deep]), (first, last), begin) if own[-1] else True
    return NotchedLines(
        first,
        last,
        before,
        after,
        begin,
        np.where(shared, np.minimum(low, begin), low),
        np.where(shared, np.maximum(high, begin + wide), high),
        ~shared | ((own[last + 1] == own[first]) & apart & (np.min(outside, axis=0) < FAR) & (before < FAR)),
    )


def _joined(needing: NDArray[np.bool_]) -> NotchEnds:
    """The first and the last tool that the notch of each line joins; -1 where none needs one, and for single tools."""
    number = np.arange(len(needing))
    first = np.minimum.accumulate(np.where(needing, number, FAR)[::-1])[::-1, None] + 0 * number
    last = np.maximum.accumulate(np.where(needing, number, -1))[None, :] + 0 * number[:, None]
    alone, before = first == last, number[None, :] == last
    none = (first > last) | (number[:, None] >= number)
    first, last = np.where(alone & before, first - 1, first), np.where(alone & ~before, last + 1, last)
    return np.where(none, -1, first), np.where(none, -1, last)


@dataclass(frozen=True, slots=True, eq=False)
class _Crossings:
    """Where a notch ``wide`` across the line crosses each tool, for each strip in which the notch may begin.

    ``left`` and ``right`` are where the part of a pocket inside the notch begins and ends along the line, from where
    the tool's box begins. They list the tools one after another: each has ``count`` strips from number ``start`` on.
    ``offsets`` says how far across the line each tool's box begins.
    """

    left: Lengths
    right: Lengths
    start: Lengths
    count: Lengths
    offsets: Lengths
    wide: int

    def ends(self, tool: Lengths, begin: Lengths) -> tuple[Lengths, Lengths]:
        """For each line, where one of its tools is crossed by the notch, which begins at ``begin`` across the line."""
        strip = (begin - self.offsets[tool]) // STRIP + strips_in(self.wide)
        strip = self.start[tool] + np.clip(strip, 0, self.count[tool] - 1)
        return self.left[strip], self.right[strip]


def _crossings(poses: Sequence[Pose | None], upright: bool, offsets: Lengths, wide: int) -> _Crossings:
    sides = [crossed(shape_of(pose, upright)[0] if pose else BARE, wide) for pose in poses]
    count = np.array([len(left) for left, _ in sides])
    left, right = (np.concatenate([side[end] for side in sides]) for end in (0, 1))
    return _Crossings(left, right, np.cumsum(count) - count, count, offsets, wide)


def _room(crossings: _Crossings, starts: Lengths, long: Lengths, joined: NotchEnds, begin: Lengths) -> NotchEnds:
    """How much longer lines must be so that their notches have room for a fingertip, which is half a notch wide.

    The room must be beside the first or the last tool that the notch joins, on either side of it. Where it lacks, the
    line is made longer at its end, or else at its beginning, if the notch reaches there; if it reaches neither, the
    answer is ``FAR``. The two tables are for the beginning and the end.
    """
    (first, last), need = joined, crossings.wide // 2
    number = np.arange(len(starts))
    near, far, line = first == number[:, None], last == number, number[:, None]

    def gap(one: Lengths) -> Lengths:
        (_, end), (start, _) = crossings.ends(one, begin), crossings.ends(one + 1, begin)
        apart: Lengths = starts[line, one + 1] + start - starts[line, one] - end
        return apart

    before, after = crossings.ends(first, begin)[0], long[last] - crossings.ends(last, begin)[1]
    within = np.maximum(gap(np.maximum(first, 0)), gap(np.maximum(last - 1, 0)))
    beyond = np.maximum(np.where(near, before, 0), np.where(far, after, 0))
    lacks = (first >= 0) & (np.maximum(within, beyond) < need)
    at_near = np.where(near, need - before, FAR)
    return np.where(lacks & ~far, at_near, 0), np.where(lacks & far, need - after, 0)


def _apart(
    poses: Sequence[Pose | None],
    crossings: _Crossings,
    starts: Lengths,
    sizes: Lengths,
    joined: NotchEnds,
    begin: Lengths,
) -> NDArray[np.bool_]:
    """Whether line notches keep a web from the tools next to them that have notches of their own.

    A line notch that does not reach an end of its line ends in the middle of the last tool that it joins there. From
    that place it must be a web to the box of the next tool, along the line or across it.
    """
    (first, last), (long, deep), number = joined, sizes, np.arange(len(poses))
    own = np.array([pose is not None and pose.notch != () for pose in poses])
    web = running(np.array([pose.web if pose else 0 for pose in poses]))
    line, before, after = number[:, None], np.maximum(first - 1, 0), np.minimum(last + 1, len(poses) - 1)

    def clear(tool: Lengths, along: Lengths) -> NDArray[np.bool_]:
        low = crossings.offsets[tool]
        across = np.maximum(begin - low - deep[tool], low - begin - crossings.wide)
        passed: NDArray[np.bool_] = ~own[tool] | (np.maximum(along, across) >= web)
        return passed

    left, right = (starts[line, n] + sum(crossings.ends(n, begin)) // 2 for n in (first, last))
    at_near = (first <= line) | clear(before, left - starts[line, before] - long[before])
    return at_near & ((last >= number) | clear(after, starts[line, after] - right))


def _clear_of_passed(
    poses: Sequence[Pose | None], boxes: NotchEnds, joined: NotchEnds, begin: Lengths, widest: tuple[int, int]
) -> NDArray[np.bool_]:
    """Whether notches that begin at ``begin`` either meet the tools that they pass, which need none, or keep a web from
    them; ``boxes`` are where the tools' boxes begin across the line, and how deep they are."""
    (offsets, deep), (first, last), (wide, web) = boxes, joined, widest
    clear = np.ones(begin.shape, dtype=bool)
    for n, pose in enumerate(poses):
        if pose is not None and not pose.finger and not pose.notch:
            gap = np.maximum(offsets[n] - begin - wide, begin - offsets[n] - deep[n])
            clear &= (n < first) | (last < n) | (gap <= 0) | (gap >= web)
    return clear


def _notch_places_of(pose: Pose | None, upright: bool, wide: int) -> HoldSpans:
    """Where a notch may begin across the line so that it holds a tool that needs it, or does no harm to another."""
    if pose is None:
        return (-FAR, FAR), (-FAR, FAR), (-FAR, FAR)
    own = notch_places(shape_of(pose, upright)[0], wide)
    return own if pose.finger else _passing(own)


def _passing(own: HoldSpans) -> HoldSpans:
    """The spans for a tool that needs no notch: the notch may also lie beyond its ends."""
    (low, high), near, far = own
    across = (-FAR if low == near[0] else low, FAR if high == far[1] else high) if low <= high else (low, high)
    return across, (-FAR, near[1]), (far[0], FAR)


def _middles(offsets: Lengths, deep: Lengths) -> Lengths:
    """The mean of the middles across the line of the tools from a to j, for all a and j."""
    number = np.arange(len(offsets))
    sums = np.concatenate([[0], np.cumsum(2 * offsets + deep)])
    middles: Lengths = (sums[None, 1:] - sums[:-1, None]) // (2 * np.maximum(number - number[:, None] + 1, 1))
    return middles


def running(values: Lengths) -> Lengths:
    """The largest of the values from number a to number j, for all a and j; ``-FAR`` where j is before a."""
    return np.maximum.accumulate(np.where(_upper(len(values)), values[None, :], -FAR), axis=1)


@remembered(256)
def _upper(count: int) -> NDArray[np.bool_]:
    return np.triu(np.ones((count, count), dtype=bool))
