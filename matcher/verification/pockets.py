"""Pockets and the pieces in them: room seen from above, depth, height, a way to take them out; R14."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

import shapely

from matcher.house import House
from matcher.records import Pocket, SizedPiece, show_mm
from matcher.verification.arithmetic import laid_size
from matcher.verification.depths import depths_kept
from matcher.verification.fields import ROUNDING, bounds, is_simple, shape_of
from matcher.verification.fingers import taken_by_hand
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Scene, Seat


def pockets_fit(scene: Scene) -> Iterator[Violation]:
    """R14: seen from above, in depth and in height, a notch where a piece hardly stands out, and foam that holds it.

    Seen from above a standing piece is a circle, and its pocket has room for all of it. A lying one counts by the
    rectangle round it: the drawings that its outline comes from serve those who lay it out, and have no second source.
    """
    for seat in scene.seats:
        layout = seat.placement.layout
        if layout is None:
            continue
        for pocket in layout.pockets:
            if 0 <= pocket.piece < len(seat.group.pieces):
                yield from _pocket_fits(seat, pocket, seat.group.pieces[pocket.piece], scene.house)
        if not seat.cased:
            yield from taken_by_hand(seat, layout, scene.house)
            yield from depths_kept(seat, layout, scene.house)
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
    length, width, height = laid_size(sized, pocket.standing)
    lacks = (
        (_lacking(pocket, length + 2 * fit, width + 2 * fit), "too small seen from above"),
        (pocket.depth if seat.cased else 0, "cut into foam that a case does not have"),
        (floor + height - pocket.rise, "said to rise too little"),
    )
    for lack, words in lacks:
        if lack > 0:
            text = f"{seat.group.name}: the pocket of {sized.piece.tool} is {words} by {show_mm(lack)}"
            yield Violation("R14", seat.group.name, lack, text)


def _lacking(pocket: Pocket, length: int, width: int) -> int:
    """Room missing seen from above, rounded up; 0 or less if all is there."""
    return ceil((_round_lack if pocket.standing else _too_small)(pocket, length, width) - ROUNDING)


def _round_lack(pocket: Pocket, across: int, _: int) -> float:
    """By how much the circle round the middle of the pocket that goes into it is narrower than ``across``."""
    box = bounds(pocket.ring)
    middle = shapely.Point(box.left + box.width / 2, box.front + box.depth / 2)
    shape = shape_of(pocket.ring)
    inside = 2 * shape.exterior.distance(middle) if shape.contains(middle) else 0
    return across - inside


def _too_small(pocket: Pocket, length: int, width: int) -> float:
    """Room missing in the better of the upright and the tightest turned rectangle round the pocket."""
    upright = bounds(pocket.ring)
    corners = shape_of(pocket.ring).minimum_rotated_rectangle.exterior.coords
    turned = [
        shapely.Point(a).distance(shapely.Point(b)) for a, b in ((corners[0], corners[1]), (corners[1], corners[2]))
    ]
    long, short = max(length, width), min(length, width)
    return min(max(long - max(sides), short - min(sides)) for sides in ([upright.width, upright.depth], turned))
