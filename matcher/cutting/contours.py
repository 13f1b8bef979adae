"""Closed outlines that a machine follows, lines and quarters of a circle, each with the depth it is cut to."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import hypot, pi, tan
from typing import Literal, TypeAlias

from matcher.records import to_mm

ContourPart: TypeAlias = Literal["outer", "cutout", "pocket", "notch"]
Vertex: TypeAlias = tuple[int, int, float]
"""x, y, and the bulge of the line to the next corner: the tangent of a quarter of its arc's angle, 0 if straight."""

QUARTER = tan(pi / 8)
"""Bulge of a quarter of a circle, counterclockwise."""


@dataclass(frozen=True, slots=True)
class Contour:
    """A closed outline cut ``depth`` deep; the first corner is not repeated."""

    part: ContourPart
    depth: int
    corners: tuple[Vertex, ...]

    @property
    def length(self) -> float:
        """Length of the outline in millimeters."""
        ring = [*self.corners, self.corners[0]]
        return sum(_length(one, other) for one, other in pairwise(ring))


def _length(one: Vertex, other: Vertex) -> float:
    """Millimeters from one corner to the next; only straight lines and quarters of a circle occur."""
    chord = to_mm(1) * hypot(other[0] - one[0], other[1] - one[1])
    return chord * pi / 8**0.5 if one[2] else chord
