"""Pockets in their organizer: webs, margins, room for the piece; R12 to R14."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

import shapely
from shapely import Polygon, STRtree

from matcher.house import House
from matcher.records import Layout, Pocket, SizedPiece
from matcher.units import show_mm
from matcher.verification.fields import Axis, axes, bounds, is_simple, margin_of
from matcher.verification.rules import Violation
from matcher.verification.scene import Box, Scene, Seat

TOLERANCE = 1
"""In 1/320 mm: what the corners of a curved outline may lose when they are put on the grid."""
ROUNDING = 1e-6


def webs_kept(scene: Scene) -> Iterator[Violation]:
    """R12: true distance between the outlines of any two pockets; cases only must not overlap."""
    for seat in scene.seats:
        layout = seat.placement.layout
        if layout is not None:
            yield from _cases_apart(seat, layout) if seat.cased else _webs(seat, layout, scene.house)


def _webs(seat: Seat, layout: Layout, house: House) -> Iterator[Violation]:
    whole = [pocket for pocket in layout.pockets if is_simple(pocket)]
    shapes = [Polygon(pocket.ring) for pocket in whole]
    widest = max((house.pocket.web_for(pocket.depth) for pocket in whole), default=0)
    near = STRtree(shapes).query(shapes, predicate="dwithin", distance=widest)
    for i, j in near.T.tolist():
        if i < j:
            web = house.pocket.web_for(max(whole[i].depth, whole[j].depth))
            lacks = web - shapely.distance(shapes[i], shapes[j])
            if lacks > TOLERANCE:
                names = " and ".join(_tool(seat, whole[index]) for index in (i, j))
                lost = ceil(lacks - ROUNDING)
                text = f"{seat.group.name}: the web between {names} is {show_mm(lost)} too thin"
                yield Violation("R12", seat.group.name, lost, text)


def _cases_apart(seat: Seat, layout: Layout) -> Iterator[Violation]:
    boxes = [bounds(pocket) for pocket in layout.pockets]
    for j, other in enumerate(boxes):
        for one in boxes[:j]:
            if one.overlap(other) > 0:
                text = f"{seat.group.name}: two cases overlap by {show_mm(one.overlap(other))}"
                yield Violation("R12", seat.group.name, one.overlap(other), text)


def margins_kept(scene: Scene) -> Iterator[Violation]:
    """R13: field in organizer less margin, rings in field; a ready-made organizer only where it is trimmed."""
    for seat in scene.seats:
        layout = seat.placement.layout
        for axis in axes(seat):
            over = _out_of_margin(seat, axis, margin_of(scene, seat))
            if over > 0:
                text = f"{seat.group.name}: the margin is {show_mm(over)} too small in its {axis.name}"
                yield Violation("R13", seat.group.name, over, text)
        for pocket in layout.pockets if layout else ():
            over = bounds(pocket).beyond(Box(0, 0, layout.width, layout.depth)) if layout else 0
            if over > 0:
                tool = _tool(seat, pocket)
                text = f"{seat.group.name}: the pocket of {tool} is {show_mm(over)} outside the field"
                yield Violation("R13", seat.group.name, over, text)


def _out_of_margin(seat: Seat, axis: Axis, margin: int) -> int:
    """How much margin is missing; trimming more than the field allows is a matter of R15."""
    if seat.ready is not None:
        margin = max(0, min(margin, axis.outside - axis.field - margin)) if axis.trimmed else 0
    elif seat.placement.layout is None:
        return 0
    return max(margin - axis.start, axis.start + axis.field + margin - axis.outside)


def pockets_fit(scene: Scene) -> Iterator[Violation]:
    """R14: seen from above, in depth and in height."""
    for seat in scene.seats:
        layout = seat.placement.layout
        if layout is None:
            continue
        for pocket in layout.pockets:
            if 0 <= pocket.piece < len(seat.group.pieces):
                yield from _pocket_fits(seat, pocket, seat.group.pieces[pocket.piece], scene.house)
        rise = max((pocket.rise for pocket in layout.pockets), default=0)
        over = max(rise, layout.height) - seat.placement.height
        if over > 0:
            text = f"{seat.group.name} rises {show_mm(over)} above the height it is said to need"
            yield Violation("R14", seat.group.name, over, text)


def _pocket_fits(seat: Seat, pocket: Pocket, sized: SizedPiece, house: House) -> Iterator[Violation]:
    if not is_simple(pocket):
        yield Violation("R14", seat.group.name, 1, f"{sized.piece.tool}: the pocket has no simple outline")
        return
    floor, fit = (0, 0) if seat.cased else (house.pocket.floor, house.pocket.fit)
    length, width, height = _size(sized, pocket.standing)
    lacks = (
        (_too_small(pocket, length + 2 * fit, width + 2 * fit), "too small seen from above"),
        (pocket.depth - _deepest(sized, pocket, house), "too deep"),
        (floor + height - pocket.rise, "said to rise too little"),
    )
    for lack, words in lacks:
        if lack > 0:
            text = f"{seat.group.name}: the pocket of {sized.piece.tool} is {words} by {show_mm(lack)}"
            yield Violation("R14", seat.group.name, lack, text)


def _size(sized: SizedPiece, standing: bool) -> tuple[int, int, int]:
    """Length, width and height of the room a piece takes as it lies or stands; what the catalogue gives wins."""
    length, width, height = (
        own if given is None else given
        for own, given in (
            (sized.length, sized.piece.length),
            (sized.width, sized.piece.width),
            (sized.height, sized.piece.height),
        )
    )
    if not standing:
        return length, width, height
    across = sized.diameter if sized.diameter is not None else max(width, height)
    return across, across, length


def _too_small(pocket: Pocket, length: int, width: int) -> int:
    """Room missing in the better of the upright and the tightest turned rectangle round the pocket."""
    outline = Polygon(pocket.ring)
    upright = bounds(pocket)
    corners = outline.minimum_rotated_rectangle.exterior.coords
    turned = [
        shapely.Point(a).distance(shapely.Point(b)) for a, b in ((corners[0], corners[1]), (corners[1], corners[2]))
    ]
    long, short = max(length, width), min(length, width)
    lacks = min(max(long - max(sides), short - min(sides)) for sides in ([upright.width, upright.depth], turned))
    return ceil(lacks - ROUNDING) if lacks > TOLERANCE else 0


def _deepest(sized: SizedPiece, pocket: Pocket, house: House) -> int:
    """Deepest pocket by the house rules; a standing piece's must be in reach of the longest cutter."""
    deepest = house.pocket.deepest(sized.piece.kind)
    reach = max((cutter.reach for cutter in house.cutters), default=deepest)
    return min(deepest, reach) if pocket.standing else deepest


def _tool(seat: Seat, pocket: Pocket) -> str:
    known = 0 <= pocket.piece < len(seat.group.pieces)
    return seat.group.pieces[pocket.piece].piece.tool if known else "an unknown piece"
