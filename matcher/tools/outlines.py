"""A piece seen from above: the outline that a pocket is cut round, and what a picture shows inside it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, cos, floor, pi, sin
from typing import TypeAlias

from shapely import GEOSException, LineString, Polygon, get_parts

from matcher.records import SizedPiece, mm, remembered
from matcher.tools.bench_silhouettes import BENCH_DRAWINGS
from matcher.tools.drive_silhouettes import DRIVE_DRAWINGS
from matcher.tools.driver_silhouettes import DRIVER_DRAWINGS
from matcher.tools.hand_silhouettes import HAND_DRAWINGS
from matcher.tools.key_silhouettes import KEY_DRAWINGS
from matcher.tools.outline_files import own_outline
from matcher.tools.pliers_silhouettes import PLIERS_DRAWINGS
from matcher.tools.sketches import Points, Silhouette, Sketch, ToolDrawing
from matcher.tools.socket_silhouettes import SOCKET_DRAWINGS, STANDING_DRAWINGS
from matcher.tools.striking_silhouettes import STRIKING_DRAWINGS
from matcher.tools.strokes import bar
from matcher.tools.threading_silhouettes import THREADING_DRAWINGS
from matcher.tools.wrench_silhouettes import WRENCH_DRAWINGS

Trace: TypeAlias = tuple[tuple[int, int], ...]

SLACK = mm(0.05)
DRAWINGS: Mapping[str, Silhouette] = {
    **SOCKET_DRAWINGS,
    **DRIVE_DRAWINGS,
    **WRENCH_DRAWINGS,
    **KEY_DRAWINGS,
    **DRIVER_DRAWINGS,
    **PLIERS_DRAWINGS,
    **STRIKING_DRAWINGS,
    **BENCH_DRAWINGS,
    **THREADING_DRAWINGS,
    **HAND_DRAWINGS,
}
"""Every kind with a shape of its own; the rest are rectangles."""

_SIDES = 32  # of a standing piece's outline; a multiple of four, so that its box is the true circle's


class ShapeError(ValueError):
    """An outline that is not one simple shape."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A piece seen from above, in 1/320 mm, the lower left of its box at (0, 0), working head towards +y.

    A pocket is cut round ``outline``; ``edge`` is the tool's own edge, which is the same but for tools of which foam
    does not follow every step. ``holes`` are rings that one looks through, ``lines`` lie on the tool. A closed line
    ends where it begins.
    """

    outline: Polygon
    edge: Trace
    holes: tuple[Trace, ...] = ()
    lines: tuple[Trace, ...] = ()


def outline(piece: SizedPiece, standing: bool) -> Polygon:
    """The outline of a piece's `picture`: one simple shape without holes, its corners at whole numbers."""
    return picture(piece, standing).outline


def picture(piece: SizedPiece, standing: bool) -> Picture:
    """A piece seen from above; one drawn by hand has its outline only.

    Lying, its box is width x length; ``standing`` on end, diameter x diameter and never smaller than the true circle.

    Raises
    ------
    ValueError
        A piece that does not stand on end was asked to stand, or a drawing of its own is no simple shape.
    """
    if standing:
        if piece.diameter is None:
            raise ValueError(f"{piece.piece.kind} does not stand on end")
        return _on_end(piece.piece.kind, piece.diameter, piece.features)
    if piece.piece.outline:
        return fitted(ToolDrawing(own_outline(piece.piece)), piece.width, piece.length)
    return _lying(piece.piece.kind, piece.length, piece.width, piece.features)


@remembered(4096)
def _on_end(kind: str, diameter: int, features: tuple[tuple[str, int], ...]) -> Picture:
    """A circle, with what shows of the piece at its upper end."""
    round_it = _circle(diameter)
    try:
        drawn = STANDING_DRAWINGS[kind](Sketch(diameter, diameter, dict(features)))
    except KeyError:
        return Picture(round_it, _whole(round_it.exterior.coords))
    lines = [[(x + diameter / 2, y) for x, y in line] for line in drawn.lines]
    return Picture(round_it, _whole(round_it.exterior.coords), lines=_within(round_it, lines))


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
def _lying(kind: str, length: int, width: int, features: tuple[tuple[str, int], ...]) -> Picture:
    """A drawing, or the box itself where features are lacking or dimensions are so unlike the kind's that it breaks."""
    sketch = Sketch(length, width, dict(features))
    try:
        return drawn(kind, sketch)
    except (ShapeError, GEOSException, KeyError):
        return fitted(ToolDrawing(bar(width, 0, length)), width, length)


def drawn(kind: str, sketch: Sketch) -> Picture:
    """The picture of a kind that has a shape of its own.

    Raises
    ------
    KeyError
        The kind has none, or its features lack one that is drawn.
    ShapeError
        With these dimensions it breaks up.
    """
    drawing = DRAWINGS[kind](sketch)
    body = drawing.body.simplify(SLACK)
    room = Polygon(drawing.room.simplify(SLACK).union(body).exterior) if drawing.room else None
    return fitted(replace(drawing, body=body, room=room), int(sketch.width), int(sketch.length))


def fitted(drawing: ToolDrawing, width: int, length: int) -> Picture:
    """A drawing stretched to the box (0, 0) to (width, length), corners on whole numbers.

    Raises
    ------
    ShapeError
        The drawing is not one simple shape.
    """
    body, room = drawing.body, drawing.room or drawing.body
    if body.geom_type != "Polygon" or body.is_empty:
        raise ShapeError("one simple shape")
    left, low, right, high = room.bounds
    across, along = width / (right - left), length / (high - low)

    def placed(points: Points) -> Trace:
        return _whole([((x - left) * across, (y - low) * along) for x, y in points])

    outline, edge = Polygon(placed(room.exterior.coords)), placed(body.exterior.coords)
    holes = tuple(placed(ring.coords) for ring in body.interiors)
    tool = Polygon(edge, holes)
    if not (outline.is_valid and tool.is_valid):
        raise ShapeError("one simple shape")
    return Picture(outline, edge, holes, _within(tool, [placed(line) for line in drawing.lines]))


def _within(shape: Polygon, lines: Sequence[Points]) -> tuple[Trace, ...]:
    """What of some lines lies on a shape, shreds left out."""
    parts = get_parts([LineString(line).intersection(shape) for line in lines])
    return tuple(_whole(part.coords) for part in parts if part.length > SLACK)


def _whole(points: Points) -> Trace:
    return tuple((round(x), round(y)) for x, y in points)
