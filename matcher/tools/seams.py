"""Lines on a tool seen from above: edges, seams, scales, what is set into it. They are cut off at its outline."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, radians, sin

from shapely import Polygon

from matcher.tools.sketches import Points


def edge(shape: Polygon) -> Points:
    """The closed line round a shape."""
    return list(shape.exterior.coords)


def circle(diameter: float, y: float, x: float = 0.0, high: float = 0.0) -> Points:
    """A circle, or an ellipse ``high`` along the axis."""
    turns = [step * pi / 10 for step in range(21)]
    return [(x + diameter / 2 * cos(turn), y + (high or diameter) / 2 * sin(turn)) for turn in turns]


def square(side: float, y: float, x: float = 0.0) -> Points:
    """A square, two sides upright."""
    half = side / 2
    return [
        (x - half, y - half),
        (x + half, y - half),
        (x + half, y + half),
        (x - half, y + half),
        (x - half, y - half),
    ]


def seam(width: float, y: float, x: float = 0.0) -> Points:
    """A line across."""
    return [(x - width / 2, y), (x + width / 2, y)]


def edges(width: float, low: float, high: float, x: float = 0.0) -> tuple[Points, ...]:
    """Two lines along the axis, ``width`` apart."""
    return tuple([(x + side * width / 2, low), (x + side * width / 2, high)] for side in (-1, 1))


def line_at(line: Points, y: float, x: float = 0.0, turn: float = 0.0) -> Points:
    """A line drawn round (0, 0), turned counterclockwise by so many degrees and moved to (x, y)."""
    c, n = cos(radians(turn)), sin(radians(turn))
    return [(x + c * px - n * py, y + n * px + c * py) for px, py in line]


def ticks(width: float, low: float, high: float, count: int, x: float = 0.0, rise: float = 0.0) -> Iterator[Points]:
    """``count`` lines across from ``low`` to ``high``, such as teeth or a scale, each rising to the right."""
    for step in range(count):
        y = low + (high - low) * (step + 0.5) / count
        yield [(x - width / 2, y - rise / 2), (x + width / 2, y + rise / 2)]


def knurl(width: float, low: float, high: float, x: float = 0.0) -> Iterator[Points]:
    """Crossed lines between two lines across."""
    yield seam(width, low, x)
    yield seam(width, high, x)
    count = min(max(round((high - low) / width * 2), 2), 8)
    rise = (high - low) / count
    for lean in (rise, -rise):
        yield from ticks(width, low, high, count, x, lean)
