"""Tools as they lie in their pockets, seen from above: a layout keeps pockets only, and these tell how a tool lies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, degrees, radians, sin
from typing import TypeAlias

from shapely import Point, Polygon
from shapely.affinity import rotate

from matcher.records import Pocket, SizedPiece, remembered
from matcher.tools import picture

PlacedLine: TypeAlias = tuple[tuple[int, int], ...]

OUTSIDE = 0.03
"""Share of a tool that may lie outside a pocket that is taken to be its own: sharp corners do; own choice."""


@dataclass(frozen=True, slots=True)
class LyingTool:
    """A tool in its pocket: its edge and its holes, and the lines on it, in 1/320 mm and the pocket's coordinates.

    All are closed where they end where they begin.
    """

    rings: tuple[PlacedLine, ...]
    lines: tuple[PlacedLine, ...]


def lying_tool(piece: SizedPiece, pocket: Pocket) -> LyingTool | None:
    """The tool as it lies in its pocket; ``None`` where the pocket is not one for its outline, as a reference's may be.

    Of two ways that a pocket takes alike it is the one with the working head to the back, or to the right.
    """
    return _lying(piece, pocket.ring, pocket.standing and piece.diameter is not None)


@remembered(8192)
def _lying(piece: SizedPiece, ring: PlacedLine, standing: bool) -> LyingTool | None:
    shown, room = picture(piece, standing), Polygon(ring)
    _, _, width, length = shown.outline.bounds
    left, front, right, back = room.bounds
    across, along = right - left, back - front
    quarters = [
        quarter
        for quarter in ((0,) if standing else range(4))
        if (width <= across and length <= along if quarter % 2 == 0 else length <= across and width <= along)
    ]
    middle = (left + right) / 2, (front + back) / 2
    square = [_Lie(width, length, 90 * quarter, middle) for quarter in quarters]
    found = min(((_outside(shown.outline, room, place), n, place) for n, place in enumerate(square)), default=None)
    if found is None or found[0] > OUTSIDE:
        turned = [_Lie(width, length, angle, at) for angle, at in _slants(room)]
        found = min(((_outside(shown.outline, room, place), n, place) for n, place in enumerate(turned)))
    if found[0] > OUTSIDE:
        return None
    place = found[2]
    return LyingTool(
        tuple(place.of(one) for one in (shown.edge, *shown.holes)), tuple(place.of(one) for one in shown.lines)
    )


@dataclass(frozen=True, slots=True)
class _Lie:
    """Where a picture so wide and so long lies: turned clockwise by degrees, the middle of its box at ``middle``."""

    width: float
    length: float
    degrees: float
    middle: tuple[float, float]

    def of(self, points: Iterable[tuple[float, float]]) -> PlacedLine:
        """Points of the picture at this place."""
        along, aside = round(cos(radians(self.degrees)), 15), round(sin(radians(self.degrees)), 15)
        moved = ((x - self.width / 2, y - self.length / 2) for x, y in points)
        turned = ((x * along + y * aside, y * along - x * aside) for x, y in moved)
        return tuple((round(self.middle[0] + x), round(self.middle[1] + y)) for x, y in turned)


def _slants(room: Polygon) -> Iterator[tuple[float, tuple[float, float]]]:
    """Angles clockwise in degrees, and middles, at which a tool can lie in a pocket: along an edge of its hull."""
    corners = room.convex_hull.exterior.coords
    for (x, y), (to_x, to_y) in pairwise(corners):
        angle = degrees(atan2(to_x - x, to_y - y))
        left, front, right, back = rotate(room, angle, origin=(0, 0)).bounds
        middle = rotate(Point((left + right) / 2, (front + back) / 2), -angle, origin=(0, 0))
        yield from ((angle + half, (middle.x, middle.y)) for half in (0, 180))


def _outside(outline: Polygon, room: Polygon, place: _Lie) -> float:
    """Share of a tool that would lie outside its pocket, to a thousandth, so that near ties are ties."""
    placed = Polygon(place.of(outline.exterior.coords))
    return round(float(placed.difference(room).area / placed.area), 3)
