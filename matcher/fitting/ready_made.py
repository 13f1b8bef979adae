"""A ready-made organizer and a drawer: as is, with a strip, trimmed, or what is short (R15); rounded corners (R10)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

from matcher.fitting.fits import GoesIn, OutsideSize, StaysOut, work_of
from matcher.fitting.openings import Opening, clear_rectangles
from matcher.fitting.room_left import centered, least_trimmed, nearest
from matcher.house import House
from matcher.records import How, Organizer, Rectangle


def ready_made(organizer: Organizer, space: Opening, house: House) -> GoesIn | StaysOut:
    """A ready-made organizer in the clear rectangle that asks for the least work on it."""
    least = least_trimmed(organizer, house)
    places = clear_rectangles(space) if organizer.height <= space.height else ()
    fits = [
        fit
        for place in places
        if least[0] <= place.width and least[1] <= place.depth
        for fit in _ready_made_in(organizer, least, place, space, house)
    ]
    if fits:
        return min(fits, key=lambda fit: (work_of(fit.sizes[0].how), fit.gap_width + fit.gap_depth, fit.place))
    return StaysOut(nearest([(*least, organizer.height)], space, "any layout"))


def _ready_made_in(
    organizer: Organizer, least: tuple[int, int], place: Rectangle, space: Opening, house: House
) -> Iterator[GoesIn]:
    """In the middle of a place, trimmed no more than it and the drawer's corners ask for; nothing if they forbid it."""
    _, _, width, depth = place
    widths = sorted({min(organizer.width, width), least[0]}, reverse=True)
    depths = sorted({min(organizer.depth, depth), least[1]}, reverse=True)
    sizes = tuple(
        OutsideSize(w, d, organizer.height, _trimmed(w, organizer.width), _trimmed(d, organizer.depth))
        for w, d in product(widths, depths)
    )
    for size in sizes:
        spot = centered(size.width, size.depth, place)
        if _clears_corners(organizer, spot, space, house):
            how_width = _way_in(organizer.width, width, house) if size.width == organizer.width else "trim"
            how_depth = _way_in(organizer.depth, depth, house) if size.depth == organizer.depth else "trim"
            alone = replace(size, how_width=how_width, how_depth=how_depth)
            yield GoesIn(alone, spot, sizes, width - size.width, depth - size.depth)
            return


def _clears_corners(organizer: Organizer, spot: Rectangle, space: Opening, house: House) -> bool:
    """Whether the pockets of a ready-made organizer keep their foam at the drawer's rounded corners (R10).

    Foam is cut round with a knife where its own corner would touch the drawer's, as new foam is cut, so only the foam
    left round the pockets counts. Of a ready-made organizer the rectangle round its pockets is known, or only the
    outside: then its corners stay as they are.
    """
    field = field_in(organizer, spot.width, spot.depth, house).moved(spot.left, spot.front)
    return space.clears_corners(field, foam_round(organizer, spot.width, spot.depth, house))


def foam_round(organizer: Organizer, width: int, depth: int, house: House) -> int:
    """Foam that a ready-made organizer of this outside keeps at a rounded corner: as much as at its thinnest edge.

    It need not be more than the house's margin. It is 0 where the pocket field is not known.
    """
    field = field_in(organizer, width, depth, house)
    return max(0, min(house.pocket.margin, field.left, field.front, width - field.right, depth - field.back))


def field_in(organizer: Organizer, width: int, depth: int, house: House) -> Rectangle:
    """The pocket field of a ready-made organizer once it is trimmed to this outside, from its own front left corner.

    A field whose place is not given lies in the middle; along an axis on which its size is not given it is all there
    is.
    """
    margin = house.pocket.margin
    left, wide = _after_trim(organizer.field_left, organizer.field_width, organizer.width, width, margin)
    front, deep = _after_trim(organizer.field_front, organizer.field_depth, organizer.depth, depth, margin)
    return Rectangle(left, front, wide, deep)


def _after_trim(offset: int | None, field: int | None, outside: int, size: int, margin: int) -> tuple[int, int]:
    """Where the field begins once ``outside`` is trimmed to ``size``, and its size.

    It keeps its old share of the foam left, and the margin.
    """
    if field is None:
        return 0, size
    before, after = outside - field, size - field
    start = before // 2 if offset is None else offset
    shared = after * start // before if before else 0
    return (start if size == outside else min(max(shared, margin), max(after - margin, 0))), field


def _trimmed(size: int, outside: int) -> How:
    return "as is" if size == outside else "trim"


def _way_in(outside: int, target: int, house: House) -> How:
    """How an existing organizer meets a drawer along one axis; a gap below the narrowest strip stays open."""
    if outside > target:
        return "trim"
    gap = target - outside
    return "as is" if gap <= house.clearance.gap or gap < house.clearance.strip_min else "shim"
