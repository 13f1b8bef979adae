"""The few shapes that silhouettes of tools are put together from. The axis of a tool is x = 0, its foot y = 0."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import cos, pi, radians, sin, sqrt

from shapely import LineString, MultiPolygon, Polygon, affinity, box, union_all

from matcher.tools.sketches import Points, Sketch

TIP = 0.42
"""Distance of an open-end head's jaw tips from its center, in head widths; common practice, no source."""
BITE = 1.15
"""Depth of an open end's mouth in widths of its opening; common practice, no source."""

_CORNERS = 24  # of a disc; a multiple of four, so that its box is the true circle's


def placed(s: Sketch, points: list[tuple[float, float]]) -> Polygon:
    """A polygon from shares of width (off the axis) and of length (from the foot)."""
    return Polygon([(x * s.width, y * s.length) for x, y in points])


def disc(diameter: float, y: float, x: float = 0.0, corners: int = _CORNERS) -> Polygon:
    """A polygon round the circle: its sides touch the true circle, so it is never smaller."""
    outside = diameter / 2 / cos(pi / corners)
    turns = ((2 * corner + 1) * pi / corners for corner in range(corners))
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


def cushion(left: float, low: float, right: float, high: float, rounding: float) -> Polygon:
    """A rectangle with round corners."""
    radius = min(rounding, 0.49 * (right - left), 0.49 * (high - low))
    return box(left + radius, low + radius, right - radius, high - radius).buffer(radius, quad_segs=3)


def turned(profile: Points, x: float = 0.0) -> Polygon:
    """A piece symmetric about its axis, from (y, half width) going up."""
    right = [(x + half, y) for y, half in profile]
    left = [(x - half, y) for y, half in reversed(profile)]
    return Polygon(right + left)


def limb(*joints: tuple[float, float, float]) -> Polygon:
    """A limb through joints (x, y, width) from one end to the other, round at both, tapering between them."""
    knots = [disc(width, y, x, corners=16) for x, y, width in joints]
    return union_all([MultiPolygon(two).convex_hull for two in pairwise(knots)])


def hexagon(flats: float, y: float, x: float = 0.0, turn: float = 0.0) -> Polygon:
    """A hexagon by its width across flats, two of them upright; turned by ``turn`` degrees."""
    return affinity.rotate(disc(flats, y, x, corners=6), turn, origin=(x, y))


def twelve_point(flats: float, y: float) -> Polygon:
    """The opening of a ring that takes a hexagon in twelve positions: two hexagons, 30 degrees apart."""
    return union_all([hexagon(flats, y), hexagon(flats, y, turn=30)])


def jaws(diameter: float, tilt: float) -> Polygon:
    """An open-end head round (0, 0): a disc cut straight across the tips of its jaws, ``tilt`` degrees off the axis.

    The tips lie ``TIP`` diameters from the center.
    """
    head = disc(diameter, 0.0).intersection(box(-diameter, -diameter, diameter, TIP * diameter))
    return affinity.rotate(head, -tilt, origin=(0, 0))


def mouth(diameter: float, opening: float, tilt: float) -> Polygon:
    """What is missing between the jaws: as wide as the opening, ``BITE`` times as deep, its bottom that of a nut."""
    side, bottom = opening / 2, TIP * diameter - BITE * opening
    throat = [(-side, bottom + side / 2), (-side / 2, bottom), (side / 2, bottom), (side, bottom + side / 2)]
    return affinity.rotate(Polygon([*throat, (side, diameter), (-side, diameter)]), -tilt, origin=(0, 0))


def jaw_reach(diameter: float, tilt: float) -> float:
    """How far tilted jaws reach from the center of their head along the axis."""
    half_tip = sqrt(0.25 - TIP**2)
    return diameter * min(TIP * cos(radians(tilt)) + half_tip * sin(radians(tilt)), 0.5)


def at(part: Polygon, y: float, x: float = 0.0, turn: float = 0.0) -> Polygon:
    """A part drawn round (0, 0), turned counterclockwise by so many degrees and moved to (x, y)."""
    return affinity.translate(affinity.rotate(part, turn, origin=(0, 0)), x, y)


def joined(parts: Iterable[Polygon], fillet: float = 0.0, rounding: float = 0.0) -> Polygon:
    """One silhouette: inside corners filled to radius ``fillet``, outside corners rounded to ``rounding``."""
    whole = union_all(list(parts))
    if fillet:
        whole = whole.buffer(fillet, quad_segs=2).buffer(-fillet, quad_segs=2)
    if rounding:
        whole = whole.buffer(-rounding, quad_segs=2).buffer(rounding, quad_segs=3)
    return whole


def mirrored(half: Points) -> Polygon:
    """A silhouette from its right half, listed bottom to top; a point on the axis is not repeated."""
    left = [(-x, y) for x, y in reversed(half) if x]
    return Polygon([*half, *left])


def elbow(width: float, across: float, length: float, side: float = 0.0) -> LineString:
    """A line along an L of arms ``width`` wide, ``side`` inward of their middle.

    The bend in the lower left corner is round, on its inside by the width of the arms.
    """
    radius = min(1.5 * width, across - width / 2, length - width / 2)
    turns = [pi + step * pi / 12 for step in range(7)]
    at_x = at_y = width / 2 + radius
    bend = [(at_x + (radius - side) * cos(turn), at_y + (radius - side) * sin(turn)) for turn in turns]
    return LineString([(width / 2 + side, length), *bend, (across, width / 2 + side)])
