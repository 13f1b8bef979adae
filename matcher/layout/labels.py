"""Labels: where the size of each tool is written beside its pocket."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from shapely import Polygon, STRtree, box

from matcher.layout.cutouts import Ring, moved
from matcher.layout.profiles import ends
from matcher.records import Label, Layout, Rectangle, SizedPiece, between, mm

HEIGHTS = (mm(5), mm(4), mm(3))
"""Heights of the writing, the best first; common practice, no source."""
CLEAR = mm(1)
"""Foam between writing and pocket; common practice, no source."""
RATIO = 0.65
"""Width of a character as a share of the height of the writing."""
BEYOND = mm(8)
"""How far a label in front of a pocket may reach past it on either side; a wider one had better go along it; own
choice."""
FOOT = mm(8)
"""A label at an end of a pocket is centered on the part of the pocket that is no further from the end; own choice."""
LAST = 2
"""This many of the places of `_places`, the last ones, are taken only where no other has room."""
CROSSWISE = 2
"""A tool lies crosswise if its pocket is at least so many times as wide as it is deep; own choice."""

LabelPlace: TypeAlias = tuple[int, int, bool]
"""Middle of the label from the left and from the front, and whether it reads from bottom to top."""


@dataclass(frozen=True, slots=True)
class _Foam:
    """What is left of an organizer's top between its cuts."""

    cuts: STRtree
    field: Rectangle

    def holds(self, area: Rectangle) -> bool:
        """Whether a label there is on foam, ``CLEAR`` of every cut."""
        off = CLEAR - 1
        around = box(area.left - off, area.front - off, area.right + off, area.back + off)
        return area.within(self.field) and not len(self.cuts.query(around, predicate="intersects"))


def labelled(layout: Layout, pieces: Sequence[SizedPiece], margin: int, taken: Sequence[Rectangle] = ()) -> Layout:
    """The layout with a label for every pocket: on foam beside it, which may be the margin, else in the pocket.

    Where something is ``taken`` out of the foam there are none. A case has no foam round it, so its label is on the
    case. Tools of one kind and drive that lie the same way have their labels on the same side as far as there is room.
    """
    foam = _foam(layout, margin, taken)
    alike: dict[tuple[str, str, bool], list[tuple[Ring, int]]] = {}
    named = []
    for pocket in layout.pockets:
        piece = pieces[pocket.piece].piece
        sort = (piece.kind, piece.drive, _crosswise(pocket.ring))
        alike.setdefault(sort, []).append((pocket.ring, len(piece.mark)))
        named.append((sort, pocket.ring, len(piece.mark)))
    sides = {sort: _sides(members, foam, HEIGHTS[0]) for sort, members in alike.items()}
    written: list[Rectangle] = []
    labels = []
    for sort, ring, count in named:
        free = () if sort[0] == "cased" else _free(ring, count, sides[sort], foam, written)
        label = next(iter(free), None) or _inside(ring, count, HEIGHTS[0])
        written.append(_area(label, count))
        labels.append(label)
    return replace(layout, labels=tuple(labels))


def _foam(layout: Layout, margin: int, taken: Sequence[Rectangle]) -> _Foam:
    rings = [pocket.ring for pocket in layout.pockets] + [notch.ring for notch in layout.notches]
    shapes = [*map(Polygon, rings), *(box(one.left, one.front, one.right, one.back) for one in taken)]
    field = Rectangle(-margin, -margin, layout.width + 2 * margin, layout.depth + 2 * margin)
    return _Foam(STRtree(shapes), field)


def _sides(alike: Sequence[tuple[Ring, int]], foam: _Foam, height: int) -> list[int]:
    """The places of `_places` as tried for like pockets: those where most have room first, the ``LAST`` ones last."""
    rooms = [0] * len(_places(*alike[0], height))
    for ring, count in alike:
        for side, place in enumerate(_places(ring, count, height)):
            rooms[side] += place is not None and foam.holds(_area(_label(place, height), count))
    last = len(rooms) - LAST
    return [*sorted(range(last), key=lambda side: (-rooms[side], side)), *range(last, len(rooms))]


def _free(
    ring: Ring,
    count: int,
    sides: Sequence[int],
    foam: _Foam,
    written: Sequence[Rectangle],
) -> Iterator[Label]:
    """Labels beside a pocket that touch neither a cut nor another label, the best first."""
    for height in HEIGHTS:
        places = _places(ring, count, height)
        for place in (places[side] for side in sides):
            if place is None:
                continue
            label = _label(place, height)
            area = _area(label, count)
            if not any(area.overlaps(other) for other in written) and foam.holds(area):
                yield label


def _label(place: LabelPlace, height: int) -> Label:
    x, y, upright = place
    return Label(x, y, height, upright, on_foam=True)


def _crosswise(ring: Ring) -> bool:
    """Whether a pocket's tool lies crosswise."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return max(xs) - min(xs) >= CROSSWISE * (max(ys) - min(ys))


def _places(ring: Ring, count: int, high: int) -> list[LabelPlace | None]:
    """Places for a label of ``count`` characters beside a pocket, the best first; ``None`` if it is too short for one.

    They come in the same order for all pockets that lie the same way: in front of the pocket and behind it, or if it
    lies crosswise to its left and right; then along its sides, as near to its outline as possible there.
    """
    wide, off = int(RATIO * high * count), CLEAR + high // 2 + 1
    swapped = tuple((y, x) for x, y in ring)
    (left, front), (right, back) = map(min, zip(*ring, strict=True)), map(max, zip(*ring, strict=True))
    ahead, behind = _middle(ring, front, front + FOOT), _middle(ring, back - FOOT, back)
    outside: list[LabelPlace | None] = [(ahead, front - off, False), (behind, back + off, False)]
    sides = [place and (place[1], place[0], True) for place in _beside(ring, wide, high)]
    sides += [place and (place[0], place[1], False) for place in _beside(swapped, wide, high)]
    if _crosswise(ring):
        end = CLEAR + max(wide, high) // 2 + 1
        first, second = _middle(swapped, left, left + FOOT), _middle(swapped, right - FOOT, right)
        return [(left - end, first, False), (right + end, second, False), *sides, *outside]
    fits = wide <= right - left + 2 * BEYOND
    return [*(outside if fits else (None, None)), *sides, *outside]


def _middle(ring: Ring, begin: int, end: int) -> int:
    """The middle, from left to right, of the part of a pocket between two distances from the front."""
    return sum(_reached(ring, begin, end)) // 2


def _beside(ring: Ring, wide: int, high: int) -> list[tuple[int, int] | None]:
    """Middles of labels at several places along a pocket, to its right and its left: distances along it and across it.

    There are none at a place so near to an end that the label would reach past it.
    """
    low, high_end = min(y for _, y in ring), max(y for _, y in ring)
    found: list[tuple[int, int] | None] = []
    for share in (5, 3, 7, 1, 9):
        along = low + (high_end - low) * share // 10
        begin, end = along - wide // 2, along + wide // 2
        if low <= begin and end <= high_end:
            near, far = _reached(ring, begin, end)
            found += (along, far + CLEAR + high // 2 + 1), (along, near - CLEAR - high // 2 - 1)
        else:
            found += None, None
    return found


def _reached(ring: Ring, begin: int, end: int) -> tuple[int, int]:
    """How far left and right a pocket reaches between two distances from the front; beyond its ends, at its ends."""
    left, low, top = min(x for x, _ in ring), min(y for _, y in ring), max(y for _, y in ring)
    first, last = max(begin, low) - low, min(end, top) - low
    near, far = ends(moved(ring, -left, -low), first, max(last, first + 1))
    return left + near, left + far


def _inside(ring: Ring, count: int, most: int) -> Label:
    """A label in the middle of the pocket, along it, no larger than the pocket has room for."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    width, depth = max(xs) - min(xs), max(ys) - min(ys)
    height = min(most, min(width, depth) // 2, int(max(width, depth) / (RATIO * count)))
    return Label((min(xs) + max(xs)) // 2, (min(ys) + max(ys)) // 2, height, depth > width, on_foam=False)


def _area(label: Label, count: int) -> Rectangle:
    """The rectangle that a label of so many characters takes."""
    wide, high = int(RATIO * label.height * count) // 2, label.height // 2
    across, along = (high, wide) if label.upright else (wide, high)
    return between(label.x - across, label.y - along, label.x + across, label.y + along)
