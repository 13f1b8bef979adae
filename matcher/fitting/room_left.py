"""Ordered layouts that go into an opening, and which of them leaves the most room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from matcher.fitting.openings import Opening, clear_rectangles
from matcher.fitting.shortfalls import Shortfall, Triple, least_lacks
from matcher.house import House
from matcher.layout import Style, curve
from matcher.records import Footprint, Group, Organizer, Rectangle, Scope


def below(points: Iterable[Footprint], height: int) -> Iterator[Footprint]:
    """Of the points of a curve that are no higher those that none beats in width and depth, narrowest first."""
    depth = None
    for point in points:
        if point.height <= height and (depth is None or point.depth < depth):
            depth = point.depth
            yield point


def roomiest(
    group: Group, places: Iterable[Rectangle], space: Opening, house: House
) -> tuple[Rectangle, Footprint] | None:
    """The rectangle and the ordered layout of the house's that leave each other the most room; none if none goes in."""
    found = fitting(group, places, space, house)
    return min(found, key=lambda fit: (roominess(fit, group, house), fit), default=None)


def fitting(
    group: Group, places: Iterable[Rectangle], space: Opening, house: House, style: Style | None = None
) -> list[tuple[Rectangle, Footprint]]:
    """Every rectangle of the opening with every ordered layout in the style that goes into it with its margins."""
    margins = both_margins(group, house)
    low = [point for point in curve(group, house, style) if point.height <= space.height]
    return [
        (place, point)
        for place in places
        for point in low
        if point.width + margins <= place.width
        and point.depth + margins <= place.depth
        and space.clears_corners(centered(point.width, point.depth, place), margins // 2)
    ]


def roominess(fit: tuple[Rectangle, Footprint], group: Group, house: House) -> float:
    """The larger share of its rectangle that a layout with its margins takes along either axis; less is roomier."""
    (_, _, width, depth), point = fit
    margins = both_margins(group, house)
    return max((point.width + margins) / width, (point.depth + margins) / depth)


def both_margins(group: Group, house: House) -> int:
    """Both margins together; a case stands in a drawer without foam."""
    return 0 if group.cased else 2 * house.pocket.margin


def least_trimmed(ready: Organizer, house: House) -> tuple[int, int]:
    """Smallest outside width and depth a ready-made organizer may be trimmed to: its pocket field with both margins.

    An organizer whose pocket field is not known is not trimmed, and none is trimmed to more than it measures.
    """
    margins = 2 * house.pocket.margin
    width = ready.width if ready.field_width is None else min(ready.width, ready.field_width + margins)
    depth = ready.depth if ready.field_depth is None else min(ready.depth, ready.field_depth + margins)
    return width, depth


def centered(width: int, depth: int, place: Rectangle) -> Rectangle:
    """A rectangle of this size in the middle of another one; what is left over by half a unit goes right and back."""
    return Rectangle(place.left + (place.width - width) // 2, place.front + (place.depth - depth) // 2, width, depth)


def nearest(needs: Iterable[Triple], space: Opening, scope: Scope) -> Shortfall:
    """The least lack over all sizes and clear rectangles, called by the side that lacks most."""
    lacks = least_lacks(needs, ((place.width, place.depth, space.height) for place in clear_rectangles(space)))
    axis, short = lacks[0] if lacks else ("area", 0)
    return Shortfall(axis, short, scope, lacks)
