"""Standing tools in rows, every second one set off by half a pitch."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, box

from matcher.layout.curves import curve, evened, realize
from matcher.layout.cutouts import moved
from matcher.layout.facing import Facing
from matcher.layout.poses import Pose
from matcher.layout.profiles import FAR
from matcher.layout.staggered import ROWS, Staggered, staggered
from matcher.layout.styles import ORDERLY
from matcher.records.laid_out import Footprint, Group
from matcher.records.units import mm
from matcher.tools.outlines import outline
from tests.pieces import HOUSE, faults, group_of, sizes_apart, socket

STRAIGHT = replace(HOUSE, layout=replace(HOUSE.layout, stagger=False))
FREE = replace(ORDERLY, stagger=True)


def standing(diameter: int, web: int = mm(6), **more: object) -> Pose:
    """A round tool on end, its pocket as wide as it is."""
    ring = outline(replace(socket(10), diameter=diameter), True).exterior.coords[:-1]
    low_x, low_y = (min(point[side] for point in ring) for side in (0, 1))
    whole = tuple((round(x - low_x), round(y - low_y)) for x, y in ring)
    wide, deep = (max(point[side] for point in whole) for side in (0, 1))
    return replace(Pose("standing", wide, deep, mm(40), mm(20), web, whole), **more)  # type: ignore[arg-type]


diameters = st.lists(st.integers(mm(8), mm(50)), min_size=4, max_size=14)


@pytest.mark.parametrize("columns", [2, 3, 10])
@pytest.mark.parametrize("rows", ROWS)
def test_equal_sockets_lie_in_the_triangular_lattice(rows: int, columns: int) -> None:
    """Centers of equal circles at the corners of equilateral triangles, a pitch p apart: (columns - 1/2) p between the
    first and the last, rows p sqrt(3)/2 apart (elementary geometry). Corners of the pockets add half a percent."""
    diameter, web = mm(20), mm(6)
    known = Staggered(Facing([standing(diameter)] * (rows * columns)), rows)
    pitch = diameter + web
    length, depth = int(known.length[0, -1]), int(known.depth[0, -1])
    assert length == pytest.approx((columns - 0.5) * pitch + diameter, rel=0.006)
    assert depth == pytest.approx((rows - 1) * pitch * sqrt(3) / 2 + diameter, rel=0.006)
    assert depth >= (rows - 1) * pitch * sqrt(3) / 2 + diameter


@given(diameters, st.sampled_from(ROWS), st.integers(0, mm(25)), st.integers(0, mm(60)), st.integers(0, mm(60)))
def test_pockets_keep_their_webs_in_rows_that_are_read_as_such(
    given_sizes: list[int], rows: int, web: int, wider: int, deeper: int
) -> None:
    """Whatever the sizes, in every field, as tight as it comes and spread over a larger room."""
    poses = [standing(size, web) for size in given_sizes]
    known = Staggered(Facing(poses), rows)
    for first, last in combinations(range(len(poses)), 2):
        count = last + 1 - first
        if count % rows or count == rows:
            assert known.length[first, last] == FAR
            continue
        room = int(known.length[first, last]) + wider, int(known.depth[first, last]) + deeper
        laid, slot = known.laid(first, last + 1, room)
        assert slot is None
        assert [one.pose for one in laid] == poses[first : last + 1]
        pockets = [Polygon(moved(one.pose.pocket, one.along, one.across)) for one in laid]
        assert all(box(0, 0, *room).covers(pocket) for pocket in pockets)
        assert all(one.distance(other) >= web for one, other in combinations(pockets, 2))
        columns = known.abreast(count)
        lines = [pockets[n : n + columns] for n in range(0, count, columns)]
        assert all(one.bounds[2] <= other.bounds[0] for line in lines for one, other in pairwise(line))
        assert all(a.bounds[3] <= b.bounds[1] for one, other in pairwise(lines) for a in one for b in other)


def test_tools_that_need_a_notch_or_do_not_stand_are_not_staggered() -> None:
    for odd in (standing(mm(12), finger=mm(20)), None):
        poses = [standing(mm(11)), odd, *[standing(mm(13 + n)) for n in range(4)]]
        known = Staggered(Facing(poses), 2)
        assert (known.length[:2] == FAR).all()
        assert known.length[2, 5] < FAR


def test_nothing_is_staggered_where_the_house_says_so() -> None:
    assert staggered(Facing([standing(mm(20))] * 4), ORDERLY) == ()
    assert len(staggered(Facing([standing(mm(20))] * 4), FREE)) == len(ROWS)


def equal_sockets(count: int) -> Group:
    """Sockets of one size, one for each rank."""
    return group_of(*(replace(socket(13), rank=n) for n in range(count)))


def test_staggered_rows_go_in_where_straight_ones_do_not() -> None:
    """Twelve sockets in three rows of four, as wide as four and a half, as deep as a triangular lattice and one
    per cent."""
    group = equal_sockets(12)
    pocket = group.pieces[0].diameter + 2 * HOUSE.pocket.fit  # type: ignore[operator]
    pitch = pocket + HOUSE.pocket.web_for(realize(group, HOUSE, curve(group, HOUSE)[0]).pockets[0].depth)
    width = int(3.6 * pitch) + pocket
    depth = int(2 * pitch * sqrt(3) / 2 * 1.01) + pocket
    height = max(point.height for point in curve(group, HOUSE))
    field = Footprint(width, depth, height)
    with pytest.raises(ValueError, match="no ordered layout"):
        realize(group, STRAIGHT, field)
    layout = realize(group, HOUSE, field)
    assert not faults(layout, group)
    assert all(pocket.standing for pocket in layout.pockets)


@given(st.lists(st.integers(4, 30), min_size=4, max_size=16, unique=True), st.data())
def test_every_layout_of_standing_sockets_reads_in_order(ranks: list[int], data: st.DataObject) -> None:
    group = group_of(*map(socket, sorted(ranks)))
    point = data.draw(st.sampled_from(curve(group, HOUSE)))
    more = data.draw(st.integers(0, mm(100)))
    layout, _, _ = evened(group, HOUSE, point, (point.width + more, point.depth + more))
    assert not faults(layout, group)
    assert sizes_apart(group, layout)


@given(st.lists(st.integers(4, 30), min_size=4, max_size=12, unique=True))
def test_staggering_never_takes_more_foam(ranks: list[int]) -> None:
    """Every field that straight rows go into takes them staggered or not."""
    group = group_of(*map(socket, sorted(ranks)))
    free = curve(group, HOUSE)
    for point in curve(group, STRAIGHT):
        assert any(p.width <= point.width and p.depth <= point.depth and p.height <= point.height for p in free)
