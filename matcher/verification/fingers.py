"""Notches: how a hand gets at what lies in the foam, and that the foam still holds it; part of R14."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

import shapely
from shapely.geometry.base import BaseGeometry

from matcher.house import House
from matcher.records import Layout, Notch, Pocket, show_mm
from matcher.verification.arithmetic import laid_size
from matcher.verification.fields import ROUNDING, bounds, is_simple, shape_of
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Seat

NOTCHED_SHARE = 0.5
"""Share of a pocket seen from above that its notches may take; common practice, no source."""
FINGERTIP = 0.5
"""Room for a fingertip beside what a notch opens into, as a share of the notch's width; common practice, no source."""
GRID = 2
"""In 1/320 mm: what a fingertip's room may lose as outlines lie on the grid and half a notch is rounded down."""


def taken_by_hand(seat: Seat, layout: Layout, house: House) -> Iterator[Violation]:
    """A piece that stands out of the foam by less than a grip has a notch that a finger gets under it in; what all its
    notches leave of a pocket still holds the piece; a notch is as deep as the deepest pocket that it opens into."""
    notches = [notch for notch in layout.notches if is_simple(notch.ring)]
    usable = [notch for notch in notches if _has_room(notch, layout, house.notch.width)]
    for index, pocket in enumerate(layout.pockets):
        if not 0 <= pocket.piece < len(seat.group.pieces) or not is_simple(pocket.ring):
            continue
        sized = seat.group.pieces[pocket.piece]
        out = laid_size(sized, pocket.standing)[2] - pocket.depth
        serving = (notch for notch in usable if index in notch.pockets)
        if out < house.notch.grip and not any(_gets_under(n, pocket, layout, house.notch.width) for n in serving):
            text = f"{sized.piece.tool} stands out by {show_mm(out)} and has no notch to take it by"
            yield Violation("R14", seat.group.name, house.notch.grip - out, f"{seat.group.name}: {text}")
        over = _taken_of(pocket, [notch for notch in notches if index in notch.pockets])
        if over > 0:
            text = f"notches leave too little of the pocket of {sized.piece.tool} to hold it"
            yield Violation("R14", seat.group.name, over, f"{seat.group.name}: {text}")
    yield from _depths(seat, layout)


def _depths(seat: Seat, layout: Layout) -> Iterator[Violation]:
    for notch in layout.notches:
        deepest = max((layout.pockets[n].depth for n in notch.pockets if 0 <= n < len(layout.pockets)), default=0)
        off = abs(notch.depth - deepest)
        if off:
            text = f"{seat.group.name}: a notch is {show_mm(off)} off the depth of the deepest pocket it opens into"
            yield Violation("R14", seat.group.name, off, text)


def _taken_of(pocket: Pocket, notches: Sequence[Notch]) -> int:
    """How much longer than allowed notches cross a pocket, by its outline's length; 0 or less if they leave enough."""
    if not notches:
        return 0
    shape = shape_of(pocket.ring)
    lost = shape.intersection(_union([shape_of(notch.ring) for notch in notches])).area
    over: float = (lost - shape.area * NOTCHED_SHARE) / shape.length
    return ceil(over - ROUNDING)


def _union(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    return shapes[0] if len(shapes) == 1 else shapely.union_all(shapes)


def _has_room(notch: Notch, layout: Layout, finger: int) -> bool:
    """Whether a round fingertip, half as wide as a finger's notch, goes in beside what a notch opens into."""
    rings = [layout.pockets[n].ring for n in notch.pockets if 0 <= n < len(layout.pockets)]
    filled = [shape_of(ring) for ring in rings if is_simple(ring)]
    room = shape_of(notch.ring).difference(shapely.union_all(filled)) if filled else shape_of(notch.ring)
    return not room.buffer(-(finger * FINGERTIP - GRID) / 2).is_empty


def _gets_under(notch: Notch, pocket: Pocket, layout: Layout, finger: int) -> bool:
    """Whether a notch meets a pocket, is no less deep, and is a finger wide along the pocket."""
    wide = _along(notch, pocket, layout)
    return wide >= finger and notch.depth >= pocket.depth and _meet(notch, pocket)


def _along(notch: Notch, pocket: Pocket, layout: Layout) -> int:
    """How wide a notch is along the longer side of a pocket.

    If the pocket is as long as wide, across the line of the pockets that share the notch, or the lesser side of the
    notch if no other pocket does.
    """
    box, own = bounds(notch.ring), bounds(pocket.ring)
    if own.depth != own.width:
        return box.depth if own.depth > own.width else box.width
    line = [bounds(layout.pockets[n].ring) for n in notch.pockets if 0 <= n < len(layout.pockets)]
    if len(line) < 2:
        return min(box.width, box.depth)
    across = max(one.left for one in line) - min(one.left for one in line)
    along = max(one.front for one in line) - min(one.front for one in line)
    return box.depth if across >= along else box.width


def _meet(notch: Notch, pocket: Pocket) -> bool:
    return float(shape_of(notch.ring).intersection(shape_of(pocket.ring)).area) > 0
