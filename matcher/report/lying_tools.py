"""Tools as they lie in their pockets, seen from above: a layout keeps pockets only, and these tell how a tool lies."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeAlias

from shapely import Polygon

from matcher.records import Pocket, SizedPiece, remembered
from matcher.tools import picture

PlacedLine: TypeAlias = tuple[tuple[int, int], ...]

OUTSIDE = 0.03
"""Share of a tool that may lie outside a pocket that is taken to be its own: sharp corners do; own choice."""


@dataclass(frozen=True, slots=True)
class LyingTool:
    """A tool in its pocket: its edge and its holes, and the lines on it, in 1/320 mm and the pocket's coordinates.

    All are closed where they end where they begin.
    """

    rings: tuple[PlacedLine, ...]
    lines: tuple[PlacedLine, ...]


def lying_tool(piece: SizedPiece, pocket: Pocket) -> LyingTool | None:
    """The tool as it lies in its pocket; ``None`` where the pocket is not one for its outline, as a reference's may be.

    Of two ways that a pocket takes alike it is the one with the working head to the back, or to the right.
    """
    return _lying(piece, pocket.ring, pocket.standing and piece.diameter is not None)


@remembered(8192)
def _lying(piece: SizedPiece, ring: PlacedLine, standing: bool) -> LyingTool | None:
    shown, room = picture(piece, standing), Polygon(ring)
    _, _, width, length = shown.outline.bounds
    left, front, right, back = room.bounds
    across, along = right - left, back - front
    quarters = [
        quarter
        for quarter in ((0,) if standing else range(4))
        if (width <= across and length <= along if quarter % 2 == 0 else length <= across and width <= along)
    ]
    middle = (left + right) / 2, (front + back) / 2
    found = [(_outside(shown.outline, room, quarter, middle), quarter) for quarter in quarters]
    least = min(found, default=(1.0, 0))
    if least[0] > OUTSIDE:
        return None
    sizes, quarter = (width, length), least[1]
    return LyingTool(
        tuple(_placed(one, sizes, quarter, middle) for one in (shown.edge, *shown.holes)),
        tuple(_placed(one, sizes, quarter, middle) for one in shown.lines),
    )


def _outside(outline: Polygon, room: Polygon, quarter: int, middle: tuple[float, float]) -> float:
    """Share of a tool that would lie outside its pocket, to a thousandth, so that near ties are ties."""
    _, _, width, length = outline.bounds
    placed = Polygon(_placed(outline.exterior.coords, (width, length), quarter, middle))
    return round(float(placed.difference(room).area / placed.area), 3)


def _placed(
    points: Iterable[tuple[float, float]], sizes: tuple[float, float], quarter: int, middle: tuple[float, float]
) -> PlacedLine:
    """Points of a picture, turned clockwise by quarters, the middle of its box at ``middle``."""
    width, length = sizes
    moved = ((x - width / 2, y - length / 2) for x, y in points)
    turned = (((x, y), (y, -x), (-x, -y), (-y, x))[quarter] for x, y in moved)
    return tuple((round(middle[0] + x), round(middle[1] + y)) for x, y in turned)
