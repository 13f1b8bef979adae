"""Organizers that share a drawer, spread over all of it."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box, union_all

from matcher.planning.filling import Packed, filled
from matcher.records.rectangles import Rectangle

ROOM = Rectangle(0, 0, 100, 60)


@st.composite
def cut_apart(draw: st.DrawFn) -> list[Rectangle]:
    """Rectangles that a room is cut into by straight cuts: a packing without waste, some of it then taken away."""
    pieces: list[Rectangle] = [ROOM]
    for _ in range(draw(st.integers(0, 4))):
        left, front, width, depth = pieces.pop(draw(st.integers(0, len(pieces) - 1)))
        share = draw(st.integers(1, 9))
        if draw(st.booleans()):
            cut = max(width * share // 10, 1)
            halves = [Rectangle(left, front, cut, depth), Rectangle(left + cut, front, width - cut, depth)]
        else:
            cut = max(depth * share // 10, 1)
            halves = [Rectangle(left, front, width, cut), Rectangle(left, front + cut, width, depth - cut)]
        pieces += [half for half in halves if min(half.width, half.depth) > 0]
    kept = draw(st.lists(st.sampled_from(sorted(pieces)), min_size=1, unique=True))
    shrunk = [
        Rectangle(x, y, max(w - draw(st.integers(0, 3)), 1), max(d - draw(st.integers(0, 3)), 1)) for x, y, w, d in kept
    ]
    return sorted(shrunk)


@settings(max_examples=200, deadline=None)
@given(places=cut_apart(), data=st.data())
def test_nothing_overlaps_or_shrinks_and_what_is_ready_made_stays(places: list[Rectangle], data: st.DataObject) -> None:
    """Against shapely; the sizes that suffice are those packed."""
    fixed = [data.draw(st.booleans()) for _ in places]
    packed = [Packed(place, () if kept else (place[2:],)) for place, kept in zip(places, fixed, strict=True)]
    found = filled(packed, ROOM)
    shapes = [box(x, y, x + w, y + d) for x, y, w, d in found]
    assert all(one.intersection(other).area == 0 for one, other in combinations(shapes, 2))
    assert box(0, 0, *ROOM[2:]).covers(union_all(shapes))
    for old, new, kept in zip(places, found, fixed, strict=True):
        assert new == old if kept else (new[2] >= old[2] and new[3] >= old[3])


def test_two_that_can_stand_side_by_side_share_the_whole_drawer() -> None:
    """Widths 20 and 30 of 100: what is left is shared two to three, 40 and 60."""
    packed = [Packed(Rectangle(0, 0, 50, 20), ((50, 20), (20, 60))), Packed(Rectangle(50, 0, 30, 30), ((30, 30),))]
    assert filled(packed, ROOM) == ((0, 0, 40, 60), (40, 0, 60, 60))


def test_two_that_cannot_lie_one_behind_another() -> None:
    packed = [Packed(Rectangle(0, 0, 80, 10), ((80, 10),)), Packed(Rectangle(0, 10, 70, 20), ((70, 20),))]
    assert filled(packed, ROOM) == ((0, 0, 100, 20), (0, 20, 100, 40))


@pytest.mark.parametrize("block", [Rectangle(90, 50, 10, 10), Rectangle(0, 58, 100, 2)])
def test_blocks_stay_clear(block: Rectangle) -> None:
    packed = [Packed(Rectangle(0, 0, 40, 40), ((40, 40),)), Packed(Rectangle(40, 0, 40, 40), ((40, 40),))]
    for x, y, w, d in filled(packed, ROOM, [block]):
        taken = box(block.left, block.front, block.right, block.back)
        assert box(x, y, x + w, y + d).intersection(taken).area == 0
