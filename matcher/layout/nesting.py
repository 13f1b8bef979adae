"""A quick construction of free layouts: it puts pocket after pocket, by their outlines, as far to one side as they go.

For each strip of the field it keeps how far the pockets reach from that side (a skyline of true outlines); gaps that
they leave behind are not used again. It may find a layout, but proves nothing if it does not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import product
from typing import TypeAlias

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from shapely import Polygon, union_all

from matcher.layout.blocks import Spot
from matcher.layout.cutouts import Ring
from matcher.layout.poses import Pose
from matcher.layout.profiles import STRIP, Shape, profile, reach
from matcher.packing import Lengths
from matcher.records import remembered

Choices: TypeAlias = Sequence[tuple[Pose, ...]]
"""For every tool the poses that it may take."""


def nested(choices: Choices, width: int, depth: int) -> tuple[Spot, ...] | None:
    """Spots of all tools in a field, or nothing if none of a few orders of placing them leads to any.

    Each tool may be turned by 180 degrees, too. All pockets are the widest of their webs apart.
    """
    web = max((pose.web for poses in choices for pose in poses), default=0)
    need = sum(min((_area(pose, web) for pose in poses), default=0.0) for poses in choices)
    if need > (width + web) * (depth + web):
        return None
    for upright, order in product((False, True), _orders(choices)):
        placed = _placed(choices, order, (depth, width) if upright else (width, depth), web, upright)
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


def _placed(
    choices: Choices, order: Sequence[int], room: tuple[int, int], web: int, upright: bool
) -> tuple[Spot, ...] | None:
    """The spots if all tools find a place in this order, pushed to the left, or to the front if ``upright``."""
    taken: Lengths = np.zeros(room[1] // STRIP + 1, dtype=np.int64)
    found: dict[int, Spot] = {}
    for n in order:
        place = min(_places(choices[n], taken, room, upright), key=lambda place: place[:3], default=None)
        if place is None:
            return None
        _, x, y, pose = place
        first, reached = reach(_shape_of(pose, upright), y, web)
        begin, end = max(first, 0), min(first + len(reached), len(taken))
        taken[begin:end] = np.maximum(taken[begin:end], reached[begin - first : end - first] + x)
        found[n] = Spot(pose, y, x) if upright else Spot(pose, x, y)
    return tuple(found[n] for n in range(len(choices)))


def _places(
    poses: Sequence[Pose], taken: Lengths, room: tuple[int, int], upright: bool
) -> Iterator[tuple[int, int, int, Pose]]:
    """For every pose that goes in, its place furthest to the side that pockets are pushed to.

    A place is given as where the pocket ends and begins in that direction, where it begins across it, and the pose.
    """
    for pose in dict.fromkeys(turn for one in poses for turn in (one, one.turned)):
        wide, deep = (pose.depth, pose.width) if upright else (pose.width, pose.depth)
        if deep > room[1]:
            continue
        left = profile(_shape_of(pose, upright), 0).left
        last = (room[1] - deep) // STRIP + 1
        starts = (sliding_window_view(taken, len(left))[:last] - left).max(axis=1)
        y = int(starts.argmin())
        x = max(int(starts[y]), 0)
        if x + wide <= room[0]:
            yield x + wide, x, y * STRIP, pose


def _shape_of(pose: Pose, upright: bool) -> Shape:
    return tuple(_swapped(ring) for ring in pose.shape) if upright else pose.shape


def _swapped(ring: Ring) -> Ring:
    return tuple((y, x) for x, y in ring)
