"""What a drawer offers an organizer once clearances, liner, obstructions and rounded corners are allowed for.

What lies within an opening keeps the side clearance (R4), the clear height (R5), obstructions (R9) and corners (R10).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from math import isqrt

from matcher.house import House
from matcher.records import Drawer, Rectangle, between


@dataclass(frozen=True, slots=True)
class Opening:
    """Room for organizers; its origin is one side clearance in from the front left walls of the drawer."""

    width: int
    depth: int
    height: int
    blocked: tuple[Rectangle, ...]
    corner: int
    side: int

    def inset(self, kept: int) -> int:
        """How much further in a rectangle already ``kept`` off the walls must stay to clear the rounded corners.

        The corner at (kept + k, kept + k) lies in the circle of radius r - kept round (r, r) iff
        k >= (r - kept)(1 - 1/sqrt 2); rounded up.
        """
        radius = self.corner - kept
        return radius - isqrt(radius * radius // 2) if radius > 0 else 0

    def clears_corners(self, place: Rectangle, margin: int) -> bool:
        """Whether a rectangle of the opening keeps the side clearance and ``margin`` from the drawer's rounded corners.

        A corner of radius r is a circle round the point (r, r) from the walls. The rectangle's corner nearest to it has
        to lie in the circle of radius r - side clearance - margin round that point, or beyond the point on one axis.
        """
        left, front, width, depth = place
        straight = self.corner - self.side
        across = straight - min(left, self.width - left - width)
        along = straight - min(front, self.depth - front - depth)
        radius = straight - margin
        return radius <= 0 or across <= 0 or along <= 0 or across * across + along * along <= radius * radius


def opening(drawer: Drawer, house: House) -> Opening:
    """What ``drawer`` offers: side clearance off walls and obstructions, liner and top clearance off the height."""
    side = house.clearance.side
    return Opening(
        width=drawer.inside_width - 2 * side,
        depth=drawer.inside_depth - 2 * side,
        height=drawer.clear_height - drawer.liner - house.clearance.top,
        blocked=tuple(
            Rectangle(block.left - 2 * side, block.front - 2 * side, block.width + 2 * side, block.depth + 2 * side)
            for block in drawer.obstructions
        ),
        corner=drawer.corner_radius,
        side=side,
    )


def clear_rectangles(space: Opening) -> tuple[Rectangle, ...]:
    """All maximal rectangles of the opening that no obstruction touches, largest first."""
    lefts = {0, *(block.right for block in space.blocked)}
    rights = {space.width, *(block.left for block in space.blocked)}
    fronts = {0, *(block.back for block in space.blocked)}
    backs = {space.depth, *(block.front for block in space.blocked)}
    found = [
        between(left, front, right, back)
        for left, right, front, back in product(lefts, rights, fronts, backs)
        if 0 <= left < right <= space.width and 0 <= front < back <= space.depth
    ]
    clear = [place for place in found if not any(place.overlaps(block) for block in space.blocked)]
    maximal = [one for one in clear if not any(one != other and one.within(other) for other in clear)]
    return tuple(sorted(maximal, key=lambda place: (-place.width * place.depth, place)))


def surpasses(one: Drawer, other: Drawer) -> bool:
    """Whether ``one`` takes whatever ``other`` takes."""
    rated = one.load_rating is None or (other.load_rating is not None and one.load_rating >= other.load_rating)
    return (
        rated
        and one.slot == other.slot
        and not one.obstructions
        and one.corner_radius <= other.corner_radius
        and one.inside_width >= other.inside_width
        and one.inside_depth >= other.inside_depth
        and one.clear_height - one.liner >= other.clear_height - other.liner
    )
