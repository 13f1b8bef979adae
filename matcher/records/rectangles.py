"""A rectangle with its sides parallel to the drawer's, seen from above: lengths in 1/320 mm."""

from __future__ import annotations

from typing import NamedTuple


class Rectangle(NamedTuple):
    """Distances of its left and front sides from the origin, and its width and depth."""

    left: int
    front: int
    width: int
    depth: int

    @property
    def right(self) -> int:
        """Distance of its right side from the origin."""
        return self.left + self.width

    @property
    def back(self) -> int:
        """Distance of its back side from the origin."""
        return self.front + self.depth

    @property
    def turned(self) -> Rectangle:
        """The same with left to right and front to back exchanged."""
        return Rectangle(self.front, self.left, self.depth, self.width)

    def moved(self, left: int, front: int) -> Rectangle:
        """The same, so much further to the right and to the back."""
        return Rectangle(self.left + left, self.front + front, self.width, self.depth)

    def overlaps(self, other: Rectangle) -> bool:
        """Whether the two share more than a side or a corner."""
        across = self.left < other.right and other.left < self.right
        return across and self.front < other.back and other.front < self.back

    def within(self, other: Rectangle) -> bool:
        """Whether it lies in the other; sides may touch."""
        across = other.left <= self.left and self.right <= other.right
        return across and other.front <= self.front and self.back <= other.back


def between(left: int, front: int, right: int, back: int) -> Rectangle:
    """The rectangle between these sides."""
    return Rectangle(left, front, right - left, back - front)
