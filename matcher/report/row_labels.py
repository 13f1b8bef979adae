"""Where words stand beside tools in a drawing: upright, clear of every outline and of each other.

All tools of a row have theirs on one side, wherever all of them have room there. Millimeters from the front left corner
of the organizer, x to the right, y to the back.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from numpy import float64, nonzero
from numpy.typing import NDArray
from shapely import Polygon, bounds, box, clip_by_rect

from matcher.report.fitted_words import extent

CLEAR = 0.15
"""What is left between words and outlines, in heights of the writing; own choice."""
HIGH = 0.8
"""Height of figures and capitals, with what falls below the line, as a share of the height of the writing."""
PLATE = 0.25
"""How much longer a number is for the plate it stands on, in heights of the writing."""
FOOT = 8.0
"""Words at an end of a pocket are centered on the part of it that is no further from the end, in millimeters."""
ASIDE = (0.0, 0.25, -0.25, 0.45, -0.45)
"""By how much of their length words at an end may stand aside, the best first; own choice."""
ALONG = (0.5, 0.3, 0.7, 0.1, 0.9)
"""Where words stand beside a tool, as shares of its length; own choice."""
CROSSWISE = 2
"""A tool lies crosswise if its pocket is at least so many times as wide as it is deep; own choice."""

WordsSpot: TypeAlias = tuple[float, float]
"""Middle of the words."""
WordsExtent: TypeAlias = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class LabelSeat:
    """A pocket, the tool in it as it is seen, and what is written; ``series`` tells rows of unlike tools apart."""

    pocket: Polygon
    tool: Polygon
    series: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """The organizer's top: what words keep clear of, by preference also notches; words may stand on tools or not."""

    width: float
    depth: float
    seats: tuple[LabelSeat, ...]
    notches: tuple[Polygon, ...]
    on_tools: bool


def row_labels(sheet: LabelSheet, height: float, *, whole: bool = False) -> list[WordsSpot | None]:
    """The place of each seat's words at that height; ``None`` where there is no room for them.

    Where ``whole`` is asked for, no more is sought once one has none.
    """
    found: list[WordsSpot | None] = [None] * len(sheet.seats)
    written: list[WordsExtent] = []
    pockets = [seat.pocket for seat in sheet.seats]
    wide = [extent(seat.text, height) + PLATE * height * sheet.on_tools for seat in sheet.seats]
    sides = [_sides(seat, long, height, sheet.on_tools) for seat, long in zip(sheet.seats, wide, strict=True)]
    rows = list(_rows(sheet.seats))
    foams = [_OpenFoam(sheet, cuts, bounds(cuts), wide, height) for cuts in ([*pockets, *sheet.notches], pockets)]
    for foam in foams:
        for row in rows:
            left = [number for number in row if found[number] is None]
            for number, spot in _whole_row(left, sides, foam, written) if left else ():
                found[number] = spot
                written.append(foam.extent(number, spot))
    for number, places in enumerate(sides):
        if found[number] is None:
            spots = [spot for side in places for spot in side]
            free = next((spot for spot in spots if foams[-1].takes(number, spot, written)), None)
            if free:
                found[number] = free
                written.append(foams[-1].extent(number, free))
            elif whole:
                break
    return found


@dataclass(frozen=True, slots=True)
class _OpenFoam:
    """What is left of the sheet between some cuts, for words of some lengths and one height."""

    sheet: LabelSheet
    cuts: Sequence[Polygon]
    reach: NDArray[float64]
    wide: Sequence[float]
    height: float

    def extent(self, number: int, spot: WordsSpot) -> WordsExtent:
        """What the words of a seat take there."""
        across, along = self.wide[number] / 2, HIGH * self.height / 2
        return spot[0] - across, spot[1] - along, spot[0] + across, spot[1] + along

    def takes(self, number: int, spot: WordsSpot, written: Sequence[WordsExtent]) -> bool:
        """Whether words there are clear of everything, or on their own tool and clear of its outline."""
        left, front, right, back = self.extent(number, spot)
        off = CLEAR * self.height
        if left < off or front < off or right > self.sheet.width - off or back > self.sheet.depth - off:
            return False
        left, front, right, back = left - off, front - off, right + off, back + off
        if any(left < one[2] and one[0] < right and front < one[3] and one[1] < back for one in written):
            return False
        reach = self.reach
        near = nonzero((reach[:, 0] < right) & (reach[:, 2] > left) & (reach[:, 1] < back) & (reach[:, 3] > front))[0]
        if not len(near):
            return True
        around = box(left, front, right, back)
        if not any(self.cuts[int(cut)].intersects(around) for cut in near):
            return True
        inside = box(left + off / 2, front + off / 2, right - off / 2, back - off / 2)
        return self.sheet.on_tools and bool(self.sheet.seats[number].tool.contains(inside))


def _sides(seat: LabelSeat, wide: float, height: float, on_tools: bool) -> list[list[WordsSpot]]:
    """The sides of a tool, the best first, each with the places there."""
    high = HIGH * height
    off = 1.05 * CLEAR * height
    left, front, right, back = seat.pocket.bounds
    levels = [front + share * (back - front) for share in ALONG]
    reached = [(y, *_across(seat.pocket, y - high / 2, y + high / 2)) for y in levels]
    beside = [
        [(top + off + wide / 2, y) for y, _, top in reached],
        [(low - off - wide / 2, y) for y, low, _ in reached],
    ]
    inside = [[((left + right) / 2, y) for y in levels]] if on_tools else []
    ends = [
        [((low + top) / 2 + aside * wide, y) for aside in ASIDE]
        for y, (low, top) in (
            (front - off - high / 2, _across(seat.pocket, front, front + FOOT)),
            (back + off + high / 2, _across(seat.pocket, back - FOOT, back)),
        )
    ]
    if right - left >= CROSSWISE * (back - front):
        over = [
            [(left + share * (right - left), y) for share in ALONG]
            for y in (front - off - high / 2, back + off + high / 2)
        ]
        return [*beside, *over, *inside, *ends]
    return [*ends, *inside, *beside]


def _whole_row(
    row: Sequence[int], sides: Sequence[Sequence[Sequence[WordsSpot]]], foam: _OpenFoam, written: Sequence[WordsExtent]
) -> list[tuple[int, WordsSpot]]:
    """The side that most of a row have room on, the first of equals, with the place of each that has."""
    best: list[tuple[int, WordsSpot]] = []
    for side in range(min(len(sides[number]) for number in row)):
        placed, taken = [], list(written)
        for number in row:
            spot = next((one for one in sides[number][side] if foam.takes(number, one, taken)), None)
            if spot:
                placed.append((number, spot))
                taken.append(foam.extent(number, spot))
        if len(placed) > len(best):
            best = placed
        if len(best) == len(row):
            break
    return best


def _rows(seats: Sequence[LabelSeat]) -> Iterator[list[int]]:
    """Tools of one series that lie side by side, from the back; those that lie crosswise one behind another."""
    rows: list[tuple[tuple[object, ...], float, float, list[int]]] = []
    order = sorted(range(len(seats)), key=lambda number: (-seats[number].pocket.centroid.y, number))
    for number in order:
        left, front, right, back = seats[number].pocket.bounds
        cross = right - left >= CROSSWISE * (back - front)
        low, top = (left, right) if cross else (front, back)
        sort = (seats[number].series, cross)
        for at, (other, begin, end, members) in enumerate(rows):
            if sort == other and 2 * (min(top, end) - max(low, begin)) >= min(top - low, end - begin):
                members.append(number)
                rows[at] = (other, min(low, begin), max(top, end), members)
                break
        else:
            rows.append((sort, low, top, [number]))
    return (members for _, _, _, members in rows)


def _across(pocket: Polygon, front: float, back: float) -> tuple[float, float]:
    """How far left and right a pocket reaches between two distances from the front; beyond its ends, at all."""
    left, _, right, _ = pocket.bounds
    part = clip_by_rect(pocket, left - 1, front, right + 1, back)
    return (left, right) if part.is_empty else (part.bounds[0], part.bounds[2])
