"""The pocket field of an organizer and the outlines in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from shapely import Polygon

from matcher.records import Layout, Pocket, remembered
from matcher.verification.scene import Scene, SceneRectangle, Seat

ROUNDING = 1e-6
"""In 1/320 mm: more than a distance of some meters may be off in floating point; outlines lie on whole units."""
SceneRing: TypeAlias = tuple[tuple[int, int], ...]
"""A closed outline without its repeated first corner."""


@dataclass(frozen=True, slots=True)
class FieldAxis:
    """An organizer along one axis: outside, pocket field and where it starts, and whether it is trimmed."""

    name: str
    outside: int
    field: int
    start: int
    trimmed: bool


def axes(seat: Seat) -> tuple[FieldAxis, FieldAxis]:
    """Width and depth of an organizer; the field is the layout's, the ready-made one's or, unknown, the outside."""
    placed, made, layout = seat.placement, seat.ready, seat.placement.layout
    wide, deep = placed.how_width == "trim", placed.how_depth == "trim"
    if made is None:
        width, depth = (layout.width, layout.depth) if layout else (placed.width, placed.depth)
        left, front = placed.field_left, placed.field_front
        return FieldAxis("width", placed.width, width, left, False), FieldAxis(
            "depth", placed.depth, depth, front, False
        )
    return (
        _made_axis("width", placed.width, made.field_width, made.field_left, placed.field_left, wide),
        _made_axis("depth", placed.depth, made.field_depth, made.field_front, placed.field_front, deep),
    )


def _made_axis(name: str, outside: int, field: int | None, known: int | None, told: int, trimmed: bool) -> FieldAxis:
    """The field stays where the ready-made organizer has it; after trimming it is where the placement says."""
    if field is None:
        return FieldAxis(name, outside, outside, 0, trimmed)
    return FieldAxis(name, outside, field, told if trimmed or known is None else known, trimmed)


def margin_of(scene: Scene, seat: Seat) -> int:
    """Foam that the house wants round the pockets; a case has none."""
    return 0 if seat.cased else scene.house.pocket.margin


def rings_of(layout: Layout) -> tuple[SceneRing, ...]:
    """Outlines of all pockets, then of all notches."""
    return (*(pocket.ring for pocket in layout.pockets), *(notch.ring for notch in layout.notches))


@remembered(8192)
def shape_of(ring: SceneRing) -> Polygon:
    """The outline as a polygon."""
    return Polygon(ring)


@remembered(8192)
def is_simple(ring: SceneRing) -> bool:
    """Whether the outline encloses one area without crossing itself."""
    return len(set(ring)) > 2 and bool(shape_of(ring).is_valid)


def bounds(ring: SceneRing) -> SceneRectangle:
    """Smallest upright rectangle round the outline; an outline without points has none and counts as nothing."""
    if not ring:
        return SceneRectangle(0, 0, 0, 0)
    xs, ys = zip(*ring, strict=True)
    return SceneRectangle(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def tool_of(seat: Seat, pocket: Pocket) -> str:
    """What the piece in a pocket is called."""
    known = 0 <= pocket.piece < len(seat.group.pieces)
    return seat.group.pieces[pocket.piece].piece.tool if known else "an unknown piece"
