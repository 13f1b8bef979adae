"""Pockets and the pieces in them: room seen from above, depth, height, a way to take them out; R14."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

import numpy as np
import shapely

from matcher.house import House
from matcher.records import Pocket, SizedPiece, show_mm
from matcher.verification.arithmetic import laid_size
from matcher.verification.depths import depths_kept
from matcher.verification.fields import ROUNDING, bounds, is_simple, shape_of
from matcher.verification.fingers import taken_by_hand
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Scene, Seat

TIGHT = 1.05
"""Rectangles up to this many times as large as the tightest count as tight: a tool's own may be a little larger."""


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
    """Room missing in the upright rectangle round the pocket; in the tightest turned ones where these are far smaller,
    so that the tool lies at an angle."""
    upright = bounds(pocket.ring)
    found = _lack_of((upright.width, upright.depth), length, width)
    if found <= 0:
        return found
    turned = _turned_sides(pocket)
    most = TIGHT * min(wide * deep for wide, deep in turned)
    if upright.width * upright.depth <= most:
        return found
    return min(found, *(_lack_of(sides, length, width) for sides in turned if sides[0] * sides[1] <= most))


def _turned_sides(pocket: Pocket) -> list[tuple[float, float]]:
    """Sides of the rectangles round a pocket along the edges of its hull, among which the tightest one is (Freeman and
    Shapira, 1975, Communications of the ACM 18, 409-413, from memory)."""
    corners = shapely.get_coordinates(shape_of(pocket.ring).convex_hull)
    edges = np.diff(corners, axis=0)
    along = edges / np.hypot(*edges.T)[:, None]
    across = along[:, ::-1] * (-1, 1)
    return [
        (float(np.ptp(corners @ one)), float(np.ptp(corners @ other))) for one, other in zip(along, across, strict=True)
    ]


def _lack_of(sides: tuple[float, float], length: int, width: int) -> float:
    """By how much a rectangle with these sides is too short or too narrow."""
    return float(max(max(length, width) - max(sides), min(length, width) - min(sides)))
