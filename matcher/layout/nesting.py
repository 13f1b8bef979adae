"""A quick construction of free layouts: it puts pocket after pocket, by their outlines, as far to one side as they go.

For each strip of the field it keeps the gaps that the true outlines leave, also those behind pockets and on either side
of one that lies at an angle. It may find a layout, but proves nothing if it does not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import TypeAlias

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from shapely import Polygon, union_all

from matcher.layout.blocks import Spot
from matcher.layout.cutouts import Ring
from matcher.layout.poses import Pose
from matcher.layout.profiles import FAR, STRIP, Shape, profile, reach
from matcher.packing import Lengths
from matcher.records import Rectangle, remembered

Choices: TypeAlias = Sequence[tuple[Pose, ...]]
"""For every tool the poses that it may take."""


def nested(choices: Choices, width: int, depth: int, blocked: Sequence[Rectangle] = ()) -> tuple[Spot, ...] | None:
    """Spots of all tools in a field, or nothing if none of a few orders of placing them leads to any.

    Each tool may be turned by 180 degrees, too. All pockets are the widest of their webs apart. No pocket is in what is
    ``blocked``.
    """
    web = max((pose.web for poses in choices for pose in poses), default=0)
    need = sum(min((_area(pose, web) for pose in poses), default=0.0) for poses in choices)
    if need > (width + web) * (depth + web):
        return None
    for upright, order in product((False, True), _orders(choices)):
        gaps = _gaps(width, depth, blocked, upright)
        placed = _placed(choices, order, gaps, width if upright else depth, web, upright)
        if placed is not None:
            return placed
    return None


@remembered(65536)
def _area(pose: Pose, web: int) -> float:
    """Area of a pocket, its own notch included, with half a web round it."""
    return float(union_all([Polygon(ring) for ring in pose.shape]).buffer(web / 2, quad_segs=2).area)


def _orders(choices: Choices) -> list[tuple[int, ...]]:
    """Orders of the tools: by the area, by the length and by the width of their first pose, the largest first."""
    keys: tuple[Callable[[Pose], int], ...] = (
        lambda pose: pose.width * pose.depth,
        lambda pose: max(pose.width, pose.depth),
        lambda pose: min(pose.width, pose.depth),
    )
    tools = [n for n, poses in enumerate(choices) if poses]
    if len(tools) < len(choices):
        return []
    orders = [tuple(sorted(tools, key=lambda n: (-key(choices[n][0]), n))) for key in keys]
    return list(dict.fromkeys(orders))


@dataclass(frozen=True, slots=True, eq=False)
class _Gap:
    """Room between pockets: in each strip from number ``first`` on, from where a pocket may begin to where it may end.

    The webs to what is there already are left out of it.
    """

    first: int
    begin: Lengths
    end: Lengths

    @property
    def widest(self) -> int:
        """How wide it is where it is widest."""
        return int((self.end - self.begin).max(initial=0))


@dataclass(frozen=True, slots=True)
class _Placing:
    """A place for a tool: from where to where its pocket reaches, where it begins from front to back, in which gap."""

    right: int
    left: int
    front: int
    pose: Pose
    gap: int

    @property
    def key(self) -> tuple[int, int, int]:
        """What a place is the better for the less it is."""
        return self.right, self.left, self.front


def _gaps(width: int, depth: int, blocked: Sequence[Rectangle], upright: bool) -> list[_Gap]:
    """The gaps of an empty field, seen from the left or from the front, beside and between what is blocked."""
    wide, deep = (depth, width) if upright else (width, depth)
    strips = deep // STRIP + 1
    gaps = [_Gap(0, np.zeros(strips, dtype=np.int64), np.full(strips, wide, dtype=np.int64))]
    for left, front, across, along in blocked:
        x, y, w, d = (front, left, along, across) if upright else (left, front, across, along)
        first, count = y // STRIP, -(-(y + d) // STRIP) - y // STRIP
        taken = _Gap(first, np.full(count, x, dtype=np.int64), np.full(count, x + w, dtype=np.int64))
        gaps = [part for number in range(len(gaps)) for part in _left_by(taken, [gaps[number]], 0)]
    return gaps


def _placed(
    choices: Choices, order: Sequence[int], gaps: list[_Gap], deep: int, web: int, upright: bool
) -> tuple[Spot, ...] | None:
    """The spots if all tools find a place in this order, pushed to the left, or to the front if ``upright``."""
    least = min(min(pose.width, pose.depth) for poses in choices for pose in poses)
    found: dict[int, Spot] = {}
    for n in order:
        place = min(_places(choices[n], gaps, deep, upright), key=lambda place: place.key, default=None)
        if place is None:
            return None
        around = _around(_shape_of(place.pose, upright), place, web)
        gaps = [gap for gap in _left_by(around, gaps, place.gap) if gap.widest >= least]
        found[n] = Spot(place.pose, place.front, place.left) if upright else Spot(place.pose, place.left, place.front)
    return tuple(found[n] for n in range(len(choices)))


def _places(poses: Sequence[Pose], gaps: Sequence[_Gap], deep: int, upright: bool) -> Iterator[_Placing]:
    """For every pose and gap that it goes into, its place furthest to the left, in a field so deep."""
    for pose in dict.fromkeys(turn for one in poses for turn in (one, one.turned)):
        wide, long = (pose.depth, pose.width) if upright else (pose.width, pose.depth)
        own = profile(_shape_of(pose, upright), 0)
        for number, gap in enumerate(gaps):
            last = min(len(gap.begin) - len(own.left), (deep - long) // STRIP - gap.first) + 1
            if last <= 0:
                continue
            starts = (sliding_window_view(gap.begin, len(own.left))[:last] - own.left).max(axis=1)
            latest = (sliding_window_view(gap.end, len(own.left))[:last] - own.right).min(axis=1)
            starts = np.where(np.maximum(starts, 0) <= latest, np.maximum(starts, 0), FAR)
            strip = int(starts.argmin())
            left = int(starts[strip])
            if left < FAR:
                yield _Placing(left + wide, left, (gap.first + strip) * STRIP, pose, number)


def _around(shape: Shape, place: _Placing, web: int) -> _Gap:
    """What a pocket at its place and the webs round it take, in every strip that they reach."""
    first, right = reach(shape, place.front, web)
    _, left = reach(tuple(tuple((-x, y) for x, y in ring) for ring in shape), place.front, web)
    return _Gap(first, place.left - left, place.left + right)


def _left_by(taken: _Gap, gaps: Sequence[_Gap], own: int) -> Iterator[_Gap]:
    """What a pocket leaves of gaps: what lies on both sides in its ``own``, the wider side in others."""
    for number, gap in enumerate(gaps):
        low, high = max(taken.first, gap.first), min(taken.first + len(taken.begin), gap.first + len(gap.begin))
        if low >= high:
            yield gap
            continue
        here, there = slice(low - gap.first, high - gap.first), slice(low - taken.first, high - taken.first)
        begin, end = gap.begin.copy(), gap.end.copy()
        after, before = np.maximum(begin[here], taken.end[there]), np.minimum(end[here], taken.begin[there])
        if number == own:
            yield _Gap(low, begin[here], before)
            begin[here] = after
        else:
            right = end[here] - after >= before - begin[here]
            begin[here], end[here] = np.where(right, after, begin[here]), np.where(right, end[here], before)
        yield _Gap(gap.first, begin, end)


def _shape_of(pose: Pose, upright: bool) -> Shape:
    return tuple(_swapped(ring) for ring in pose.shape) if upright else pose.shape


def _swapped(ring: Ring) -> Ring:
    return tuple((y, x) for x, y in ring)
