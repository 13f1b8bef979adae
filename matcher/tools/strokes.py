"""The few shapes that silhouettes of tools are put together from. The axis of a tool is x = 0, its foot y = 0."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import cos, pi, radians, sin, sqrt
from typing import TypeAlias

from shapely import Polygon, affinity, box, union_all

Points = Sequence[tuple[float, float]]

TIP = 0.42
"""Distance of an open-end head's jaw tips from its center, in head widths; common practice, no source."""

_CORNERS = 24  # of a disc; a multiple of four, so that its box is the true circle's


@dataclass(frozen=True, slots=True)
class Sketch:
    """What a drawing starts from, in 1/320 mm."""

    length: float
    width: float
    features: Mapping[str, int]

    def __getitem__(self, name: str) -> float:
        return float(self.features[name])


Silhouette: TypeAlias = Callable[[Sketch], Polygon]


def rectangle(s: Sketch) -> Polygon:
    """Cases, sockets lying down, anything without a shape of its own."""
    return bar(s.width, 0, s.length)


def placed(s: Sketch, points: list[tuple[float, float]]) -> Polygon:
    """A polygon from shares of width (off the axis) and of length (from the foot)."""
    return Polygon([(x * s.width, y * s.length) for x, y in points])


def disc(diameter: float, y: float, x: float = 0.0) -> Polygon:
    """A polygon round the circle: its sides touch the true circle, so it is never smaller."""
    outside = diameter / 2 / cos(pi / _CORNERS)
    turns = ((2 * corner + 1) * pi / _CORNERS for corner in range(_CORNERS))
    return Polygon([(x + outside * cos(turn), y + outside * sin(turn)) for turn in turns])


def bar(width: float, low: float, high: float, x: float = 0.0) -> Polygon:
    """A rectangle along the axis from ``low`` to ``high``."""
    return box(x - width / 2, low, x + width / 2, high)


def rod(width: float, low: float, high: float, x: float = 0.0) -> Polygon:
    """A bar with chamfered ends, such as a grip; short ones are plain."""
    chamfer = min(width / 4, (high - low) / 4)
    return turned(
        [
            (low, width / 2 - chamfer),
            (low + chamfer, width / 2),
            (high - chamfer, width / 2),
            (high, width / 2 - chamfer),
        ],
        x,
    )


def turned(profile: Points, x: float = 0.0) -> Polygon:
    """A piece symmetric about its axis, from (y, half width) going up."""
    right = [(x + half, y) for y, half in profile]
    left = [(x - half, y) for y, half in reversed(profile)]
    return Polygon(right + left)


def jaws(diameter: float, y: float, tilt: float, up: bool = True) -> Polygon:
    """An open-end head: a disc cut straight across the tips of its jaws, ``tilt`` degrees off the axis.

    The tips lie ``TIP`` diameters from the center.
    """
    head = disc(diameter, 0.0).intersection(box(-diameter, -diameter, diameter, TIP * diameter))
    return _tilted(head, y, tilt, up)


def mouth(diameter: float, opening: float, y: float, tilt: float, up: bool = True) -> Polygon:
    """What is missing between the jaws: only the beginning, since no foam would stand deeper in it."""
    gap = box(-opening / 2, (TIP - 0.14) * diameter, opening / 2, diameter)
    return _tilted(gap, y, tilt, up)


def _tilted(part: Polygon, y: float, tilt: float, up: bool) -> Polygon:
    turn = -tilt if up else 180 - tilt
    return affinity.translate(affinity.rotate(part, turn, origin=(0, 0)), 0, y)


def jaw_reach(diameter: float, tilt: float) -> float:
    """How far tilted jaws reach from the center of their head along the axis."""
    half_tip = sqrt(0.25 - TIP**2)
    return diameter * min(TIP * cos(radians(tilt)) + half_tip * sin(radians(tilt)), 0.5)


def joined(parts: Iterable[Polygon], fillet: float = 0.0, rounding: float = 0.0) -> Polygon:
    """One silhouette: inside corners filled to radius ``fillet``, outside corners rounded to ``rounding``."""
    whole = union_all(list(parts))
    if fillet:
        whole = whole.buffer(fillet, quad_segs=2).buffer(-fillet, quad_segs=2)
    if rounding:
        whole = whole.buffer(-rounding).buffer(rounding, quad_segs=4)
    return whole


def mirrored(half: Points) -> Polygon:
    """A silhouette from its right half, listed bottom to top; a point on the axis is not repeated."""
    left = [(-x, y) for x, y in reversed(half) if x]
    return Polygon([*half, *left])


def bent(width: float, across: float, length: float) -> Polygon:
    """An L of arms ``width`` wide, its bend in the lower left corner rounded outside to the arm's width."""
    upright, foot = box(0, width, width, length), box(width, 0, across, width)
    knee = disc(2 * width, width, width).intersection(box(0, 0, width, width))
    return joined([upright, foot, knee], fillet=width / 2)
