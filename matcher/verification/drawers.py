"""Organizers in their drawers: walls, height, neighbors, load, obstructions, rounded corners; R4 to R10."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import ceil, hypot

from shapely import Polygon
from shapely import box as rectangle

from matcher.records import Obstruction, show_kg, show_mm
from matcher.verification.arithmetic import weights
from matcher.verification.fields import ROUNDING, FieldAxis, SceneRing, axes, is_simple, margin_of, rings_of
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Scene, SceneRectangle, Seat, stated


def walls_kept(scene: Scene) -> Iterator[Violation]:
    """R4: the outside lies inside the drawer less the side clearance; one violation per axis."""
    side = scene.house.clearance.side
    for seat in scene.seats:
        box, drawer = seat.box, seat.drawer
        across = max(side - box.left, box.right + side - drawer.inside_width)
        along = max(side - box.front, box.back + side - drawer.inside_depth)
        for over, axis in ((across, "width"), (along, "depth")):
            if over > 0:
                text = f"{seat.group.name} is {show_mm(over)} too far out in the {axis} of {drawer.name}"
                yield Violation("R4", seat.group.name, over, text)


def heights_kept(scene: Scene) -> Iterator[Violation]:
    """R5: height, liner and top clearance go into the clear height."""
    for seat in scene.seats:
        drawer = seat.drawer
        over = seat.placement.height + scene.house.clearance.top + drawer.liner - drawer.clear_height
        if over > 0:
            yield Violation(
                "R5", seat.group.name, over, f"{drawer.name} is {show_mm(over)} too low for {seat.group.name}"
            )


def organizers_apart(scene: Scene) -> Iterator[Violation]:
    """R6: butting together is fine, overlapping is not."""
    for name, seats in scene.held.items():
        for one, other in combinations(seats, 2):
            over = one.box.overlap(other.box)
            if over > 0:
                text = f"{one.group.name} and {other.group.name} overlap by {show_mm(over)} in {name}"
                yield Violation("R6", name, over, text)


def sharing_allowed(scene: Scene) -> Iterator[Violation]:
    """R7: by the groups' own records, by what the catalogue says of them, and by whether the house mixes families."""
    for name, seats in scene.held.items():
        for one, other in combinations(seats, 2):
            if not _may_share(scene, one, other):
                text = f"{one.group.name} and {other.group.name} may not share {name}"
                yield Violation("R7", name, 1, text)


def _may_share(scene: Scene, one: Seat, other: Seat) -> bool:
    said = [stated(scene, seat.group) for seat in (one, other)]
    willing = all(seat.group.share for seat in (one, other)) and all(rule.share is not False for rule in said)
    related = one.group.family == other.group.family and said[0].family == said[1].family
    return willing and one.cased == other.cased and (related or scene.house.together.mix != "no")


def loads_kept(scene: Scene) -> Iterator[Violation]:
    """R8: groups weigh what their pieces and organizers do, by both bounds, and in a drawer no more by the high ones
    than its rating; a drawer without a rating is not evaluated."""
    for seat in scene.seats:
        told = (seat.group.mass_low, seat.group.mass_high)
        off = max(abs(one - own) for one, own in zip(told, weights(seat.group), strict=True))
        if off:
            text = f"{seat.group.name}: its mass is {show_kg(off)} off that of its pieces"
            yield Violation("R8", seat.group.name, off, text)
    for name, seats in scene.held.items():
        rating = seats[0].drawer.load_rating
        over = sum(weights(seat.group)[1] for seat in seats) - rating if rating is not None else 0
        if over > 0:
            yield Violation("R8", name, over, f"{name} is loaded {show_kg(over)} beyond its rating")


def obstructions_kept(scene: Scene) -> Iterator[Violation]:
    """R9: a ready-made organizer or a case stays clear of the block; foam may be cut round it."""
    side = scene.house.clearance.side
    for seat in scene.seats:
        for block in seat.drawer.obstructions:
            over = _into(seat, block, side, side + margin_of(scene, seat))
            if over > 0:
                text = f"{seat.group.name} is {show_mm(over)} too near an obstruction in {seat.drawer.name}"
                yield Violation("R9", seat.group.name, over, text)


def _into(seat: Seat, block: Obstruction, side: int, edge: int) -> int:
    """How much nearer than allowed the organizer is; of foam that reaches so near, its nearest pocket or notch."""
    solid = SceneRectangle(block.left, block.front, block.width, block.depth)
    layout = seat.placement.layout
    over = seat.box.overlap(solid.grown(side))
    if layout is None or seat.cased or over <= 0:
        return over
    shape = rectangle(solid.left, solid.front, solid.right, solid.back)
    outlines = [_in_drawer(seat, ring) for ring in rings_of(layout) if is_simple(ring)]
    nearest = min((shape.distance(Polygon(outline)) for outline in outlines), default=float(edge))
    return ceil(edge - nearest - ROUNDING)


def corners_kept(scene: Scene) -> Iterator[Violation]:
    """R10: pockets and notches lie inside the drawer's rounded rectangle shrunk by side clearance and margin.

    That rectangle has corners of radius r - side - margin round the same centers, (r, r) from the walls. Foam may be
    cut round where its own corner would touch the drawer's, a ready-made organizer with a knife: what counts are the
    pockets and the foam left round them. The pockets of a ready-made organizer lie in its field, and it has to keep as
    much foam as at its thinnest edge, at most the house's margin. A case, or an organizer whose field is not known,
    counts with its outside.
    """
    for seat in scene.seats:
        margin = _margin_at_corner(scene, seat)
        radius = seat.drawer.corner_radius - scene.house.clearance.side - margin
        points = _outermost(seat)
        over = max((_past_corner(seat, x, y, radius) for x, y in points), default=0) if radius > 0 else 0
        if over > 0:
            text = f"{seat.group.name} is {show_mm(over)} into a rounded corner of {seat.drawer.name}"
            yield Violation("R10", seat.group.name, over, text)


def _margin_at_corner(scene: Scene, seat: Seat) -> int:
    if seat.ready is None or seat.placement.layout is not None:
        return margin_of(scene, seat)
    sides = (side for axis in axes(seat) for side in (axis.start, axis.outside - axis.start - axis.field))
    return max(0, min(scene.house.pocket.margin, *sides))


def _outermost(seat: Seat) -> SceneRing:
    """Points of pockets and notches, or corners of a ready-made organizer's field, in the drawer."""
    layout, placed = seat.placement.layout, seat.placement
    if layout is not None:
        return tuple(point for ring in rings_of(layout) for point in _in_drawer(seat, ring))
    across, along = axes(seat)
    return tuple((placed.left + x, placed.front + y) for x in _ends(across) for y in _ends(along))


def _ends(axis: FieldAxis) -> tuple[int, int]:
    return axis.start, axis.start + axis.field


def _in_drawer(seat: Seat, ring: SceneRing) -> SceneRing:
    """An outline of the field in the drawer."""
    x, y = seat.placement.left + seat.placement.field_left, seat.placement.front + seat.placement.field_front
    return tuple((px + x, py + y) for px, py in ring)


def _past_corner(seat: Seat, x: int, y: int, radius: int) -> int:
    """How far a point lies outside the arc of ``radius`` at its nearest corner; 0 where the walls are straight."""
    drawer = seat.drawer
    dx = drawer.corner_radius - min(x, drawer.inside_width - x)
    dy = drawer.corner_radius - min(y, drawer.inside_depth - y)
    if dx <= 0 or dy <= 0 or dx * dx + dy * dy <= radius * radius:
        return 0
    return ceil(hypot(dx, dy) - radius)
