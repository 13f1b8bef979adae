"""Pockets in their organizer: webs, margins, room for the piece; R12 to R14."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

import shapely
from shapely import Polygon, STRtree

from matcher.house import House
from matcher.records import Layout, Notch, Pocket, SizedPiece, show_mm
from matcher.verification.fields import FieldAxis, SceneRing, axes, bounds, is_simple, margin_of
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Scene, SceneRectangle, Seat

TOLERANCE = 1
"""In 1/320 mm: what the corners of a curved outline may lose when they are put on the grid."""
ROUNDING = 1e-6
NOTCHED_SHARE = 0.5
"""Share of a pocket seen from above that its notches may take; common practice, no source."""


def webs_kept(scene: Scene) -> Iterator[Violation]:
    """R12: true distance between the outlines of any two pockets or notches; a notch opens into its own pockets, and
    cases only must not overlap."""
    for seat in scene.seats:
        layout = seat.placement.layout
        if layout is not None:
            yield from _cases_apart(seat, layout) if seat.cased else _webs(seat, layout, scene.house)


@dataclass(frozen=True, slots=True)
class _Cut:
    """A pocket or a notch: its outline, its depth, the pockets that it is or opens into."""

    name: str
    shape: Polygon
    depth: int
    pockets: frozenset[int]


def _cuts(seat: Seat, layout: Layout) -> list[_Cut]:
    """Every pocket and notch with a simple outline."""
    cuts = [
        _Cut(_tool(seat, pocket), Polygon(pocket.ring), pocket.depth, frozenset([index]))
        for index, pocket in enumerate(layout.pockets)
        if is_simple(pocket.ring)
    ]
    return cuts + [
        _Cut("a notch", Polygon(notch.ring), notch.depth, frozenset(notch.pockets))
        for notch in layout.notches
        if is_simple(notch.ring)
    ]


def _webs(seat: Seat, layout: Layout, house: House) -> Iterator[Violation]:
    cuts = _cuts(seat, layout)
    widest = max((house.pocket.web_for(cut.depth) for cut in cuts), default=0)
    shapes = [cut.shape for cut in cuts]
    near = STRtree(shapes).query(shapes, predicate="dwithin", distance=widest)
    for i, j in near.T.tolist():
        if i < j and not cuts[i].pockets & cuts[j].pockets:
            web = house.pocket.web_for(max(cuts[i].depth, cuts[j].depth))
            lacks = web - shapely.distance(shapes[i], shapes[j])
            if lacks > TOLERANCE:
                lost = ceil(lacks - ROUNDING)
                text = (
                    f"{seat.group.name}: the web between {cuts[i].name} and {cuts[j].name} is {show_mm(lost)} too thin"
                )
                yield Violation("R12", seat.group.name, lost, text)


def _cases_apart(seat: Seat, layout: Layout) -> Iterator[Violation]:
    boxes = [bounds(pocket.ring) for pocket in layout.pockets]
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
        named = [(f"the pocket of {_tool(seat, pocket)}", pocket.ring) for pocket in layout.pockets] if layout else []
        named += [("a notch", notch.ring) for notch in layout.notches] if layout else []
        for name, ring in named:
            over = bounds(ring).beyond(SceneRectangle(0, 0, layout.width, layout.depth)) if layout else 0
            if over > 0:
                text = f"{seat.group.name}: {name} is {show_mm(over)} outside the field"
                yield Violation("R13", seat.group.name, over, text)


def _out_of_margin(seat: Seat, axis: FieldAxis, margin: int) -> int:
    """How much margin is missing; trimming more than the field allows is a matter of R15."""
    if seat.ready is not None:
        margin = max(0, min(margin, axis.outside - axis.field - margin)) if axis.trimmed else 0
    elif seat.placement.layout is None:
        return 0
    return max(margin - axis.start, axis.start + axis.field + margin - axis.outside)


def pockets_fit(scene: Scene) -> Iterator[Violation]:
    """R14: seen from above, in depth and in height, a notch where a piece hardly stands out, and foam that holds it."""
    for seat in scene.seats:
        layout = seat.placement.layout
        if layout is None:
            continue
        for pocket in layout.pockets:
            if 0 <= pocket.piece < len(seat.group.pieces):
                yield from _pocket_fits(seat, pocket, seat.group.pieces[pocket.piece], scene.house)
        if not seat.cased:
            yield from _can_be_taken(seat, layout, scene.house)
            yield from _foam_suffices(seat, layout, scene.house)
        rise = max((pocket.rise for pocket in layout.pockets), default=0)
        over = max(rise, layout.height) - seat.placement.height
        if over > 0:
            text = f"{seat.group.name} rises {show_mm(over)} above the height it is said to need"
            yield Violation("R14", seat.group.name, over, text)


def _pocket_fits(seat: Seat, pocket: Pocket, sized: SizedPiece, house: House) -> Iterator[Violation]:
    if not is_simple(pocket.ring):
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


def _can_be_taken(seat: Seat, layout: Layout, house: House) -> Iterator[Violation]:
    """A piece that stands out of the foam by less than a grip has a notch that a finger gets under it in; what all its
    notches leave of a pocket still holds the piece."""
    for index, pocket in enumerate(layout.pockets):
        if not 0 <= pocket.piece < len(seat.group.pieces) or not is_simple(pocket.ring):
            continue
        sized = seat.group.pieces[pocket.piece]
        out = _size(sized, pocket.standing)[2] - pocket.depth
        notches = [notch for notch in layout.notches if index in notch.pockets and is_simple(notch.ring)]
        if out < house.notch.grip and not any(_gets_under(notch, pocket, house.notch.width) for notch in notches):
            text = f"{sized.piece.tool} stands out by {show_mm(out)} and has no notch to take it by"
            yield Violation("R14", seat.group.name, house.notch.grip - out, f"{seat.group.name}: {text}")
        if not notches:
            continue
        shape = Polygon(pocket.ring)
        lost = shape.intersection(shapely.union_all([Polygon(notch.ring) for notch in notches])).area
        over = lost - shape.area * NOTCHED_SHARE
        if over > TOLERANCE * shape.length:
            text = f"notches leave {1 - lost / shape.area:.0%} of the pocket of {sized.piece.tool} to hold it"
            yield Violation("R14", seat.group.name, ceil(over / shape.length), f"{seat.group.name}: {text}")


def _gets_under(notch: Notch, pocket: Pocket, finger: int) -> bool:
    """Whether a notch meets a pocket, is no less deep, and is a finger wide along the pocket's longer side."""
    box, own = bounds(notch.ring), bounds(pocket.ring)
    wide = box.depth if own.depth > own.width else box.width if own.width > own.depth else max(box.width, box.depth)
    return wide >= finger and notch.depth >= pocket.depth and _meet(notch.ring, pocket.ring)


def _meet(one: SceneRing, other: SceneRing) -> bool:
    return float(Polygon(one).intersection(Polygon(other)).area) > 0


def _foam_suffices(seat: Seat, layout: Layout, house: House) -> Iterator[Violation]:
    """Below every pocket and notch the stock leaves the floor, a piece rises from there, and the foam counts too."""
    if not layout.thickness:
        return
    depths = [pocket.depth for pocket in layout.pockets] + [notch.depth for notch in layout.notches]
    deepest = max(depths, default=0)
    low = [
        layout.thickness - pocket.depth + _size(seat.group.pieces[pocket.piece], pocket.standing)[2] - pocket.rise
        for pocket in layout.pockets
        if 0 <= pocket.piece < len(seat.group.pieces)
    ]
    lacks = (
        (house.pocket.floor + deepest - layout.thickness, "leaves too little floor"),
        (max(low, default=0), "raises a piece above what is said"),
        (layout.thickness - layout.height, "is itself higher than said"),
    )
    for lack, words in lacks:
        if lack > 0:
            text = f"{seat.group.name}: foam of {show_mm(layout.thickness)} {words}, by {show_mm(lack)}"
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
    upright = bounds(pocket.ring)
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
