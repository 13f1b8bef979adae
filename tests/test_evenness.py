"""Layouts spread over a room: columns begin in one line, lines of a series are alike. Common practice, no source."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.layout.curves import curve, evened
from matcher.layout.styles import ORDERLY
from matcher.records.laid_out import Footprint, Group, Layout, SizedPiece
from matcher.records.units import mm
from tests.pieces import HOUSE, boxes, faults, group_of, made, socket

LYING = replace(HOUSE, layout=replace(HOUSE.layout, standing_sockets=False))
IN_COLUMNS = replace(HOUSE, layout=replace(HOUSE.layout, bands=False))


UNBROKEN = replace(ORDERLY, stretched=False)


def lying(group: Group, width: float, depth: float) -> Layout:
    """The layout of lying tools in a room, from the least deep footprint within it."""
    room = mm(width), mm(depth)
    inside = [point for point in curve(group, LYING, UNBROKEN) if point.width <= room[0] and point.depth <= room[1]]
    point = min(inside, key=lambda point: (point.depth, point))
    layout, _, _ = evened(group, LYING, Footprint(room[0], point.depth, point.height), room, UNBROKEN)
    assert not faults(layout, group)
    return layout


def fronts(layout: Layout) -> Counter[int]:
    """How many pockets begin at every distance from the front."""
    return Counter(front for _, front, _, _ in boxes(layout))


@pytest.mark.parametrize(("count", "lines"), [(10, [5, 5]), (9, [5, 4]), (16, [8, 8])])
def test_equal_tools_lie_in_lines_of_equal_numbers(count: int, lines: list[int]) -> None:
    """Extensions of one size; nine in a line have no room, and of more than one line none is nearly empty."""
    one = made("extension", 1, 75, 16, 16, drive="3/8")
    group = group_of(*(replace(one, rank=n) for n in range(count)))
    width = 1.3 * max(lines) * 22
    assert sorted(fronts(lying(group, width, 400)).values(), reverse=True) == lines


def test_no_line_is_nearly_empty_only_because_that_is_shallowest() -> None:
    """Seven extensions of 100 to 220 mm where six lie side by side: one and six take least depth, three and four are
    even; the room has depth to spare."""
    group = group_of(*(made("extension", n, 100 + 20 * n, 16, 16, drive="3/8") for n in range(7)))
    assert sorted(fronts(lying(group, 6 * 24, 600)).values()) == [3, 4]


drives = st.sampled_from(("1/4", "3/8", "1/2"))
some_sockets = st.lists(
    st.builds(socket, st.integers(6, 24), drives, st.sampled_from(("inch", "metric"))), min_size=2, max_size=12
)


@settings(max_examples=40, deadline=None)
@given(some_sockets, st.integers(0, mm(200)), st.integers(0, mm(200)), st.data())
def test_all_columns_begin_in_one_line(sockets: list[SizedPiece], wider: int, deeper: int, data: st.DataObject) -> None:
    """With their pockets or the notches of these."""
    group = group_of(*sockets)
    point = data.draw(st.sampled_from(curve(group, IN_COLUMNS)))
    layout, _, _ = evened(group, IN_COLUMNS, point, (point.width + wider, point.depth + deeper))
    assert not faults(layout, group)
    begins: dict[tuple[str, str], list[int]] = defaultdict(list)
    for number, (pocket, (_, front, _, _)) in enumerate(zip(layout.pockets, boxes(layout), strict=True)):
        piece = group.pieces[pocket.piece].piece
        begins[piece.system, piece.drive].append(front)
        for notch in layout.notches:
            if number in notch.pockets:
                begins[piece.system, piece.drive].append(min(y for _, y in notch.ring))
    assert {min(own) for own in begins.values()} == {0}


def test_a_point_of_a_long_series_is_hardly_larger_than_its_layout() -> None:
    """Forty sockets have more lengths of lines than count: what is lost is less than a thousandth of the longest."""
    group = group_of(*(replace(socket(4), rank=n, diameter=mm(8 + n / 2)) for n in range(40)))
    points = curve(group, HOUSE, replace(ORDERLY, lying=("along",)))
    most = max(points[-1].width, points[0].depth) // 1000
    for point in points[:: len(points) // 8]:
        layout, _, _ = evened(group, HOUSE, point, style=replace(ORDERLY, lying=("along",)))
        assert not faults(layout, group)
        assert 0 <= point.width - layout.width <= most
        assert 0 <= point.depth - layout.depth <= most
