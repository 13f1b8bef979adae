"""Places for the sizes that are written beside the pockets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TypeAlias

from shapely import Polygon, STRtree, box

from matcher.geometry import Ring, moved
from matcher.layout.profiles import ends
from matcher.records import Label, Layout, SizedPiece
from matcher.units import mm

HEIGHTS = (mm(5), mm(4), mm(3))
"""Heights of the writing, the best first; common practice, no source."""
CLEAR = mm(0.5)
"""Foam between writing and pocket; common practice, no source."""
RATIO = 0.65
"""Width of a character beside the height of the writing."""

Place: TypeAlias = tuple[int, int, bool]
"""Middle of the writing, and whether it reads from bottom to top."""
Area: TypeAlias = tuple[int, int, int, int]
"""Left, front, right, back."""


def labelled(layout: Layout, pieces: Sequence[SizedPiece], margin: int) -> Layout:
    """The layout with a label for every pocket: on foam beside it, on the margin too, else in the pocket."""
    rings = [pocket.ring for pocket in layout.pockets] + [notch.ring for notch in layout.notches]
    cuts = STRtree([Polygon(ring) for ring in rings])
    field = (-margin, -margin, layout.width + margin, layout.depth + margin)
    written: list[Area] = []
    labels = []
    for pocket in layout.pockets:
        text = pieces[pocket.piece].piece.size or "0"
        label = next(_free(pocket.ring, len(text), cuts, field, written), None) or _inside(pocket.ring, len(text))
        written.append(_area(label, len(text)))
        labels.append(label)
    return replace(layout, labels=tuple(labels))


def _free(ring: Ring, count: int, cuts: STRtree, field: Area, written: Sequence[Area]) -> Iterator[Label]:
    """Labels beside a pocket that touch neither a cut nor another label, the best first."""
    for height in HEIGHTS:
        for x, y, upright in _places(ring, int(RATIO * height * count), height):
            label = Label(x, y, height, upright, on_foam=True)
            area = _area(label, count)
            inside = all(low <= own for low, own in zip(field[:2], area[:2], strict=True)) and all(
                own <= high for high, own in zip(field[2:], area[2:], strict=True)
            )
            if inside and not any(_overlap(area, other) for other in written) and not len(_touching(cuts, area)):
                yield label


def _places(ring: Ring, wide: int, high: int) -> Iterator[Place]:
    """In front of the pocket and behind it, then along its sides, each as near to the outline as it comes."""
    flipped = tuple((y, x) for x, y in ring)
    xs = [x for x, _ in ring]
    middle = (min(xs) + max(xs)) // 2
    front, back = _reached(flipped, middle - wide // 2, middle + wide // 2)
    yield middle, front - CLEAR - high // 2 - 1, False
    yield middle, back + CLEAR + high // 2 + 1, False
    for along, side in _beside(ring, wide, high):
        yield side, along, True
    for along, side in _beside(flipped, wide, high):
        yield along, side, False


def _beside(ring: Ring, wide: int, high: int) -> Iterator[tuple[int, int]]:
    """Along a pocket that is long enough, next to its left or right edge there: distance along and across."""
    low, high_end = min(y for _, y in ring), max(y for _, y in ring)
    for share in (5, 3, 7, 1, 9):
        along = low + (high_end - low) * share // 10
        begin, end = along - wide // 2, along + wide // 2
        if low <= begin and end <= high_end:
            near, far = _reached(ring, begin, end)
            yield along, far + CLEAR + high // 2 + 1
            yield along, near - CLEAR - high // 2 - 1


def _reached(ring: Ring, begin: int, end: int) -> tuple[int, int]:
    """How far left and right a pocket reaches between two distances along it, which are kept to its own."""
    left, low, top = min(x for x, _ in ring), min(y for _, y in ring), max(y for _, y in ring)
    first, last = max(begin, low) - low, min(end, top) - low
    near, far = ends(moved(ring, -left, -low), first, max(last, first + 1))
    return left + near, left + far


def _inside(ring: Ring, count: int) -> Label:
    """In the middle of the pocket, along it, no larger than it takes."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    width, depth = max(xs) - min(xs), max(ys) - min(ys)
    height = min(HEIGHTS[0], min(width, depth) // 2, int(max(width, depth) / (RATIO * count)))
    return Label((min(xs) + max(xs)) // 2, (min(ys) + max(ys)) // 2, height, depth > width, on_foam=False)


def _area(label: Label, count: int) -> Area:
    wide, high = int(RATIO * label.height * count) // 2, label.height // 2
    across, along = (high, wide) if label.upright else (wide, high)
    return label.x - across, label.y - along, label.x + across, label.y + along


def _touching(cuts: STRtree, area: Area) -> Sequence[int]:
    found: Sequence[int] = cuts.query(box(*area).buffer(CLEAR - 1), predicate="intersects")
    return found


def _overlap(one: Area, other: Area) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
