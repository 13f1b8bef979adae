"""The outline of a piece as a pocket is cut round it, seen from above."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, cos, floor, pi, sin

from shapely import GEOSException, Polygon, affinity

from matcher.records import SizedPiece, mm, remembered
from matcher.tools.drive_silhouettes import DRIVE_DRAWINGS
from matcher.tools.hand_silhouettes import HAND_DRAWINGS
from matcher.tools.outline_files import own_outline
from matcher.tools.strokes import Silhouette, Sketch, rectangle
from matcher.tools.wrench_silhouettes import WRENCH_DRAWINGS

SLACK = mm(0.05)
DRAWINGS: Mapping[str, Silhouette] = {**DRIVE_DRAWINGS, **WRENCH_DRAWINGS, **HAND_DRAWINGS}
"""Every kind with a shape of its own; the rest are rectangles."""

_SIDES = 32  # of a standing piece's outline; a multiple of four, so that its box is the true circle's


class ShapeError(ValueError):
    """An outline that is not one simple shape without holes."""


def outline(piece: SizedPiece, standing: bool) -> Polygon:
    """Outline in 1/320 mm, whole numbers, the lower left of its box at (0, 0), working head towards +y.

    Lying, its box is width x length; ``standing`` on end, diameter x diameter and never smaller than the true circle.

    Raises
    ------
    ValueError
        A piece that does not stand on end was asked to stand, or a drawing of its own is no simple shape.
    """
    if standing:
        if piece.diameter is None:
            raise ValueError(f"{piece.piece.kind} does not stand on end")
        return _circle(piece.diameter)
    if piece.piece.outline:
        return fitted(own_outline(piece.piece), piece.width, piece.length)
    return _lying(piece.piece.kind, piece.length, piece.width, piece.features)


@remembered(4096)
def _circle(diameter: int) -> Polygon:
    """A polygon whose sides touch the circle, corners moved outward to whole numbers."""
    radius = diameter / 2
    outside = radius / cos(pi / _SIDES)
    turns = [(2 * corner + 1) * pi / _SIDES for corner in range(_SIDES)]
    return Polygon([(_outward(outside * cos(turn), radius), _outward(outside * sin(turn), radius)) for turn in turns])


def _outward(offset: float, radius: float) -> int:
    place = round(radius + offset, 6)
    return ceil(place) if offset > 0 else floor(place)


@remembered(4096)
def _lying(kind: str, length: int, width: int, features: tuple[tuple[str, int], ...]) -> Polygon:
    """A drawing, or the box itself where features are lacking or dimensions are so unlike the kind's that it breaks."""
    sketch = Sketch(length, width, dict(features))
    try:
        return fitted(DRAWINGS.get(kind, rectangle)(sketch).simplify(SLACK), width, length)
    except (ShapeError, GEOSException, KeyError):
        return fitted(rectangle(sketch), width, length)


def fitted(drawn: Polygon, width: int, length: int) -> Polygon:
    """A drawing stretched to the box (0, 0) to (width, length), corners on whole numbers.

    Raises
    ------
    ShapeError
        The drawing is not one simple shape.
    """
    if drawn.geom_type != "Polygon" or drawn.is_empty or drawn.interiors:
        raise ShapeError("one simple shape")
    left, low, right, high = drawn.bounds
    moved = affinity.translate(Polygon(drawn.exterior), -left, -low)
    scaled = affinity.scale(moved, width / (right - left), length / (high - low), origin=(0, 0))
    whole = Polygon([(round(x), round(y)) for x, y in scaled.exterior.coords])
    if not whole.is_valid:
        raise ShapeError("one simple shape")
    return whole
