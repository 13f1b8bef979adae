"""Foam between and around pockets: webs and margins; R12 and R13.

A web is the true distance of two outlines, and is short of what is needed by no more than ``ROUNDING``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

import shapely
from shapely import Polygon, STRtree

from matcher.house import House
from matcher.records import Layout, show_mm
from matcher.verification.arithmetic import web_beside
from matcher.verification.fields import (
    ROUNDING,
    FieldAxis,
    axes,
    bounds,
    is_simple,
    margin_of,
    rings_of,
    shape_of,
    tool_of,
)
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Scene, SceneRectangle, Seat


def webs_kept(scene: Scene) -> Iterator[Violation]:
    """R12: true distance between the outlines of any two pockets or notches; a notch that opens into a pocket, or meets
    another notch of the same pocket, needs none, and cases only must not overlap."""
    for seat in scene.seats:
        layout = seat.placement.layout
        if layout is not None:
            yield from _cases_apart(seat, layout) if seat.cased else _webs(seat, layout, scene.house)


@dataclass(frozen=True, slots=True)
class _Cut:
    """A pocket or a notch: its outline, its depth, the pockets that it is or is said to open into."""

    name: str
    shape: Polygon
    depth: int
    pockets: frozenset[int]


def _cuts(seat: Seat, layout: Layout) -> list[_Cut]:
    """Every pocket and notch with a simple outline."""
    cuts = [
        _Cut(tool_of(seat, pocket), shape_of(pocket.ring), pocket.depth, frozenset([index]))
        for index, pocket in enumerate(layout.pockets)
        if is_simple(pocket.ring)
    ]
    return cuts + [
        _Cut("a notch", shape_of(notch.ring), notch.depth, frozenset(notch.pockets))
        for notch in layout.notches
        if is_simple(notch.ring)
    ]


def _webs(seat: Seat, layout: Layout, house: House) -> Iterator[Violation]:
    cuts = _cuts(seat, layout)
    if not cuts:
        return
    widest = max(web_beside(house.pocket, cut.depth) for cut in cuts)
    shapes = [cut.shape for cut in cuts]
    near = STRtree(shapes).query(shapes, predicate="dwithin", distance=widest)
    for i, j in near.T.tolist():
        if i >= j:
            continue
        apart = shapely.distance(shapes[i], shapes[j])
        lacks = web_beside(house.pocket, max(cuts[i].depth, cuts[j].depth)) - apart
        if lacks > ROUNDING and not (apart == 0 and cuts[i].pockets & cuts[j].pockets):
            lost = ceil(lacks - ROUNDING)
            text = f"{seat.group.name}: the web between {cuts[i].name} and {cuts[j].name} is {show_mm(lost)} too thin"
            yield Violation("R12", seat.group.name, lost, text)


def _cases_apart(seat: Seat, layout: Layout) -> Iterator[Violation]:
    boxes = [bounds(pocket.ring) for pocket in layout.pockets]
    for j, other in enumerate(boxes):
        for one in boxes[:j]:
            if one.overlap(other) > 0:
                text = f"{seat.group.name}: two cases overlap by {show_mm(one.overlap(other))}"
                yield Violation("R12", seat.group.name, one.overlap(other), text)


def margins_kept(scene: Scene) -> Iterator[Violation]:
    """R13: field in organizer less margin, outlines in the field, an ordered layout's field no larger than they are; of
    a ready-made organizer the margin only where it is trimmed."""
    for seat in scene.seats:
        for axis in axes(seat):
            over = _out_of_margin(seat, axis, margin_of(scene, seat))
            if over > 0:
                text = f"{seat.group.name}: the margin is {show_mm(over)} too small in its {axis.name}"
                yield Violation("R13", seat.group.name, over, text)
        if seat.placement.layout is not None:
            yield from _in_field(seat, seat.placement.layout)


def _in_field(seat: Seat, layout: Layout) -> Iterator[Violation]:
    field = SceneRectangle(0, 0, layout.width, layout.depth)
    named = [(f"the pocket of {tool_of(seat, pocket)}", pocket.ring) for pocket in layout.pockets]
    for name, ring in (*named, *(("a notch", notch.ring) for notch in layout.notches)):
        over = bounds(ring).beyond(field)
        if over > 0:
            text = f"{seat.group.name}: {name} is {show_mm(over)} outside the field"
            yield Violation("R13", seat.group.name, over, text)
    spare = field.beyond(bounds(tuple(point for ring in rings_of(layout) for point in ring)))
    if layout.ordered and spare > 0:
        text = f"{seat.group.name}: the field reaches {show_mm(spare)} beyond all pockets and notches"
        yield Violation("R13", seat.group.name, spare, text)


def _out_of_margin(seat: Seat, axis: FieldAxis, margin: int) -> int:
    """How much margin is missing; trimming more than the field allows is a matter of R15."""
    if seat.ready is not None:
        margin = max(0, min(margin, axis.outside - axis.field - margin)) if axis.trimmed else 0
    elif seat.placement.layout is None:
        return 0
    return max(margin - axis.start, axis.start + axis.field + margin - axis.outside)
