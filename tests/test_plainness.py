"""The plainest layout that goes in: what a person would lay by hand (common practice, no source)."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.fitting.openings import Opening, clear_rectangles
from matcher.fitting.room_left import fitting
from matcher.layout.curves import realize
from matcher.layout.styles import styles
from matcher.planning.plainest import plainest
from matcher.records.laid_out import Group, Layout
from matcher.records.rectangles import Rectangle
from tests.pieces import HOUSE, boxes, group_of, mm, socket, wrench

WRENCHES = group_of(*(wrench(size) for size in (8, 10, 12, 13, 17, 19)))


def space_of(width: float, depth: float, height: float = 70) -> Opening:
    return Opening(mm(width), mm(depth), mm(height), (), 0, 0)


def plain(group: Group, space: Opening) -> Layout:
    point, style = plainest(group, Rectangle(0, 0, space.width, space.depth), space, HOUSE)
    return realize(group, HOUSE, point, style)


def test_with_room_wrenches_lie_in_one_row_along_the_depth() -> None:
    placed = boxes(plain(WRENCHES, space_of(600, 420)))
    assert {front for _, front, _, _ in placed} == {0}
    assert all(back - front > right - left for left, front, right, back in placed)
    assert [left for left, *_ in placed] == sorted(left for left, *_ in placed)


def test_in_a_shallow_drawer_they_lie_one_behind_another_across() -> None:
    """The longest is 235 mm long: across in 300 mm, not along in 240."""
    placed = boxes(plain(group_of(*map(wrench, (10, 13, 17, 19))), space_of(300, 240)))
    assert all(right - left > back - front for left, front, right, back in placed)
    assert [front for _, front, _, _ in placed] == sorted(front for _, front, _, _ in placed)


@pytest.mark.parametrize(("width", "depth"), [(600, 420), (300, 420), (420, 300)])
def test_heads_lie_one_way_where_there_is_room(width: float, depth: float) -> None:
    """The jaw is the wider end: the box of every pocket is filled more at the same end."""
    layout = plain(WRENCHES, space_of(width, depth))
    ends = set()
    for pocket in layout.pockets:
        xs, ys = [x for x, _ in pocket.ring], [y for _, y in pocket.ring]
        along = ys if max(ys) - min(ys) > max(xs) - min(xs) else xs
        ends.add(sum(along) / len(along) > (min(along) + max(along)) / 2)
    assert len(ends) == 1


groups = st.lists(st.integers(6, 24), min_size=1, max_size=7, unique=True).flatmap(
    lambda sizes: st.sampled_from([group_of(*map(wrench, sizes)), group_of(*map(socket, sizes))])
)


@settings(max_examples=40, deadline=None)
@given(group=groups, width=st.integers(60, 500), depth=st.integers(60, 400), height=st.integers(20, 70))
def test_whatever_goes_in_has_a_plainest_layout_that_goes_in(group: Group, width: int, depth: int, height: int) -> None:
    space = space_of(width, depth, height)
    if not fitting(group, clear_rectangles(space), space, HOUSE):
        with pytest.raises(ValueError, match="no ordered layout"):
            plain(group, space)
        return
    layout = plain(group, space)
    margins = 2 * HOUSE.pocket.margin
    assert layout.width + margins <= space.width
    assert layout.depth + margins <= space.depth
    assert layout.height <= space.height


@settings(max_examples=15, deadline=None)
@given(seed=st.randoms(use_true_random=False))
def test_the_order_of_pieces_in_the_group_changes_nothing(seed: Random) -> None:
    shuffled = list(WRENCHES.pieces)
    seed.shuffle(shuffled)
    space = space_of(300, 300)
    assert boxes(plain(group_of(*shuffled), space)) == boxes(plain(WRENCHES, space))


def test_the_freest_style_is_all_that_the_house_allows() -> None:
    found = styles(HOUSE.layout)
    assert len(set(found)) == len(found)
    assert found[0].lying == ("along",)
    assert found[-1].alternate
    assert found[-1].stagger
    assert found[-1].stretched
    assert found[-1].banded
    banded = [style.banded for style in found]
    assert banded == sorted(banded), "bands come last"
    assert not any(style.banded for style in styles(replace(HOUSE.layout, bands=False)))
