"""Notches that the tools of a line share, for all lines of consecutive tools at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from matcher.layout.facing import faced, size_of
from matcher.layout.holds import Places, places
from matcher.layout.poses import Pose
from matcher.layout.profiles import FAR, ends
from matcher.packing.staircases import Lengths

FEW = 3
"""Fewer tools between others with notches of their own share none: common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class Bands:
    """Lines from tool a to tool j and their notches: ``first`` and ``last`` tool that a notch joins, -1 without one;
    the foam that it takes ``before`` the line's first tool or ``after`` its last one, so that it is not full of tools;
    across the lines where it ``begin``s, and from where to where it and the tools reach. ``possible`` says whether the
    tools can share a notch if any of several needs one."""

    first: Lengths
    last: Lengths
    before: Lengths
    after: Lengths
    begin: Lengths
    low: Lengths
    high: Lengths
    possible: NDArray[np.bool_]


def sharing(row: Sequence[Pose | None]) -> list[Pose | None]:
    """A row of tools that share notches. Between tools with notches of their own fewer than three have theirs too."""
    shares: list[Pose | None] = []
    for own, some in groupby(row, lambda pose: pose is not None and pose.notch != ()):
        part = list(some)
        few = len(part) < len(row) and sum(pose is not None and pose.finger > 0 for pose in part) < FEW
        shares += [pose.alone if pose and few and not own else pose for pose in part]
    return shares


def bands(row: Sequence[Pose | None], upright: bool, ups: Lengths, starts: Lengths) -> Bands:
    """The notches of all lines of a row of tools that lie ``ups`` across it; ``starts[a, j]`` is where tool j begins in
    the line that begins with tool a.

    Of all places the one that takes the least foam beyond the tools, and then the one nearest to their middle. A notch
    joins all from the first tool that needs it to the last, or the one that needs it and a neighbor; none of them has
    one of its own.
    """
    deep = np.array([size_of(pose, upright)[1] if pose else 0 for pose in row])
    low, high = -running(-ups), running(ups + deep)
    wide = max((pose.finger for pose in row if pose), default=0)
    if not wide:
        none = np.full_like(low, -1)
        return Bands(none, none, 0 * low, 0 * low, none, low, high, np.ones_like(low, dtype=bool))
    first, last = _joined(np.array([pose is not None and pose.finger > 0 for pose in row]))
    own = np.cumsum([0, *(pose is not None and pose.notch != () for pose in row)])
    spans = np.array([_places_of(pose, upright, wide) for pose in row]) + ups[:, None, None]
    wish = np.clip(_middles(ups, deep) - wide // 2, low, np.maximum(high - wide, low))
    begins, outside = [], []
    for kind in range(len(spans[0])):
        least, most = running(spans[:, kind, 0]), -running(-spans[:, kind, 1])
        begins.append(np.clip(wish, least, most))
        beyond = np.maximum(low - begins[-1], 0) + np.maximum(begins[-1] + wide - high, 0)
        outside.append(np.where(least <= most, beyond, FAR))
    begin = np.take_along_axis(np.stack(begins), np.argmin(outside, axis=0)[None], axis=0)[0]
    shared = first >= 0
    ended = running(np.array([int(span[0, 0] > span[0, 1]) for span in spans])) > 0
    before, after = (np.where(ended, 0, foam) for foam in _room(row, upright, wide // 2, starts, first, last))
    return Bands(
        first,
        last,
        before,
        after,
        begin,
        np.where(shared, np.minimum(low, begin), low),
        np.where(shared, np.maximum(high, begin + wide), high),
        ~shared | ((own[last + 1] == own[first]) & (np.min(outside, axis=0) < FAR) & (before < FAR)),
    )


def _joined(needing: NDArray[np.bool_]) -> tuple[Lengths, Lengths]:
    """First and last tool that a notch joins in every line of several, -1 where none is needed."""
    number = np.arange(len(needing))
    first = np.minimum.accumulate(np.where(needing, number, FAR)[::-1])[::-1, None] + 0 * number
    last = np.maximum.accumulate(np.where(needing, number, -1))[None, :] + 0 * number[:, None]
    alone, before = first == last, number[None, :] == last
    none = (first > last) | (number[:, None] >= number)
    first, last = np.where(alone & before, first - 1, first), np.where(alone & ~before, last + 1, last)
    return np.where(none, -1, first), np.where(none, -1, last)


def _room(
    row: Sequence[Pose | None], upright: bool, need: int, starts: Lengths, first: Lengths, last: Lengths
) -> tuple[Lengths, Lengths]:
    """Foam to be cut beyond lines so that their notches have room for a fingertip beside a tool: none where two tools
    that need the notch, or an end of it, leave as much; else at the far end, or the near one if only that is in it,
    or ``FAR`` if neither is."""
    number = np.arange(len(row))
    needing = np.array([pose is not None and pose.finger > 0 for pose in row])
    left, right = np.array([_beside(pose, upright) if pose else (0, 0) for pose in row]).T
    long = np.array([size_of(pose, upright)[0] if pose else 0 for pose in row])
    gaps = np.full_like(starts, -FAR)
    inner = starts[:, 1:] + left[1:] - (starts[:, :-1] + (long - right)[:-1])
    gaps[:, 1:] = np.where((needing[1:] & needing[:-1]) & (number[1:] > number[:, None]), inner, -FAR)
    near, far = first == number[:, None], last == number
    lacks = (first >= 0) & (np.maximum.accumulate(gaps, axis=1) < need)
    lacks &= ~(near & (left >= need)[:, None]) & ~(far & (right >= need))
    after = np.where(lacks & far, need - right, 0)
    return np.where(lacks & ~far, np.where(near, (need - left)[:, None], FAR), 0), after


def _beside(pose: Pose, upright: bool) -> tuple[int, int]:
    """Room in a tool's box on both sides of its pocket where a notch crosses its middle."""
    ring, (long, deep) = faced(pose, upright)[0], size_of(pose, upright)
    begin = max((deep - pose.finger) // 2, 0)
    left, right = ends(ring, begin, max(begin + pose.finger, begin + 1))
    return left, long - right


def _places_of(pose: Pose | None, upright: bool, wide: int) -> Places:
    if pose is None:
        return (-FAR, FAR), (-FAR, FAR), (-FAR, FAR)
    own = places(faced(pose, upright)[0], wide)
    return own if pose.finger else _passing(own)


def _passing(own: Places) -> Places:
    """Where a notch may begin that need not meet the tool."""
    (low, high), near, far = own
    across = (-FAR if low == near[0] else low, FAR if high == far[1] else high) if low <= high else (low, high)
    return across, (-FAR, near[1]), (far[0], FAR)


def _middles(ups: Lengths, deep: Lengths) -> Lengths:
    """Mean of the middles of the tools from a to j."""
    number = np.arange(len(ups))
    sums = np.concatenate([[0], np.cumsum(2 * ups + deep)])
    middles: Lengths = (sums[None, 1:] - sums[:-1, None]) // (2 * np.maximum(number - number[:, None] + 1, 1))
    return middles


def running(values: Lengths) -> Lengths:
    """Largest of the values from a to j, for every a and j at or above it."""
    return np.maximum.accumulate(np.where(_upper(len(values)), values[None, :], -FAR), axis=1)


@lru_cache(maxsize=256)
def _upper(count: int) -> NDArray[np.bool_]:
    return np.triu(np.ones((count, count), dtype=bool))
