"""The largest rectangle that blanks leave of a sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from matcher.records import Rectangle


def largest_offcut(width: int, depth: int, taken: Sequence[Rectangle], gap: int = 0) -> Rectangle:
    """Left, front, width and depth of the largest rectangle of the room that no blank touches, all 0 if none is left.

    ``gap`` is lost of it on its right and behind it. Its left side is the room's or a blank's right side, its right
    side the room's or a blank's left side; between two such sides it fills the widest gap.
    """
    lefts = sorted({0, *(one.right for one in taken)})
    rights = sorted({width, *(one.left for one in taken)})
    found = [
        Rectangle(left, front, right - left - gap, deep - gap)
        for left in lefts
        for right in rights
        if left + gap < right <= width
        for front, deep in [_widest_gap(depth, _spans(taken, left, right))]
    ]
    usable = (place for place in found if place.depth > 0)
    return max(usable, key=lambda place: (place.width * place.depth, place), default=Rectangle(0, 0, 0, 0))


def _spans(taken: Iterable[Rectangle], left: int, right: int) -> list[tuple[int, int]]:
    return sorted((one.front, one.back) for one in taken if one.left < right and left < one.right)


def _widest_gap(depth: int, spans: Sequence[tuple[int, int]]) -> tuple[int, int]:
    """Start and length of the widest gap between sorted spans that may overlap."""
    ends, starts = [0], [start for start, _ in spans]
    for _, end in spans:
        ends.append(max(ends[-1], end))
    gaps = [(start - end, -end) for end, start in zip(ends, [*starts, depth], strict=True)]
    length, start = max(gaps)
    return -start, max(0, length)
