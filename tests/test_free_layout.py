"""The free layout: sound when found, exact for boxes, and never a no where there is a layout."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon

from matcher.layout.curves import curve, layout_of
from matcher.layout.free import FreeAnswer, free
from matcher.layout.nesting import nested
from matcher.layout.poses import Rules, poses, rules_for, sheets
from matcher.records.given import Piece
from matcher.records.laid_out import Group, SizedPiece
from matcher.records.rectangles import Rectangle
from matcher.tools.dimensions import sized
from tests.pieces import HOUSE, boxes, faults, group_of, made, mm, socket, wrench

QUICK = replace(HOUSE, work=replace(HOUSE.work, free_layout=1.0))
WEB, FIT = HOUSE.pocket.web, 2 * HOUSE.pocket.fit
TALL = mm(200)

small_groups = st.lists(
    st.one_of(
        st.builds(socket, st.integers(6, 27), st.just("1/2"), st.just("metric")),
        st.builds(wrench, st.integers(6, 14)),
        st.builds(made, st.just("file"), st.just(1), st.integers(60, 200), st.integers(5, 40), st.integers(5, 80)),
    ),
    min_size=1,
    max_size=5,
).map(lambda some: group_of(*some))


def assert_sound(answer: FreeAnswer, group: Group, width: int, depth: int, height: int) -> None:
    assert answer.layout is not None
    assert (answer.layout.width, answer.layout.depth) == (width, depth)
    assert answer.layout.height <= height
    assert not answer.layout.ordered
    assert faults(answer.layout, group) == []


@settings(max_examples=40, deadline=None)
@given(group=small_groups)
def test_what_has_an_ordered_layout_is_never_excluded(group: Group) -> None:
    points = curve(group, QUICK)
    for point in points[:: max(1, len(points) // 5)]:
        answer = free(group, point.width, point.depth, point.height, QUICK)
        assert answer.status != "excluded"
        if answer.status == "found":
            assert_sound(answer, group, point.width, point.depth, point.height)


@settings(max_examples=40, deadline=None)
@given(group=small_groups, width=st.integers(20, 300), depth=st.integers(20, 300), height=st.integers(20, 120))
def test_every_answer_is_sound(group: Group, width: int, depth: int, height: int) -> None:
    answer = free(group, mm(width), mm(depth), mm(height), QUICK)
    if answer.status == "found":
        assert_sound(answer, group, mm(width), mm(depth), mm(height))
    else:
        assert answer.layout is None
        assert bool(answer.scope) == (answer.status == "excluded")


def test_two_equal_boxes_go_in_exactly() -> None:
    """Two pockets of 40 x 100 mm and a web of 6 mm: 86 x 100 mm, or 100 x 86; one unit less is too small for boxes."""
    pair = group_of(made("file", 1, 100, 40, 30, count=2))
    width, depth = mm(80) + 2 * FIT + WEB, mm(100) + FIT
    for field in ((width, depth), (depth, width)):
        assert_sound(free(pair, *field, TALL, HOUSE), pair, *field, TALL)
    for field in ((width - 1, depth), (width, depth - 1)):
        assert free(pair, *field, TALL, HOUSE) == FreeAnswer("excluded", "house layout")


def test_the_free_layout_holds_more_than_rows() -> None:
    """Four pockets of 40 x 24 mm, webs of 6: no ordered layout goes into 70 x 70, a pinwheel round a hole does."""
    four = group_of(made("file", 1, 38.4, 22.4, 30, count=4))
    side = mm(40 + 24) + WEB
    assert not any(point.width <= side and point.depth <= side for point in curve(four, HOUSE))
    assert_sound(free(four, side, side, TALL, HOUSE), four, side, side, TALL)


def test_webs_of_deeper_pockets_are_kept() -> None:
    """Pockets 30 mm deep need 9 mm: 0.3 x 30. Shallow ones beside each other still need only 6.

    With 3 mm more than the tightest row of deep, shallow, shallow a layout is found; with less than that row none is.
    """
    deep = made("file", 1, 50, 50, 60)
    flat = made("file", 2, 50, 50, 30)
    three = group_of(deep, flat, flat)
    width, depth = 3 * mm(50) + 3 * FIT + mm(9) + mm(6), mm(50) + FIT
    assert_sound(free(three, width + mm(3), depth, TALL, HOUSE), three, width + mm(3), depth, TALL)
    assert free(three, width - 1, depth, TALL, HOUSE).status != "found"


def test_height_decides_whether_a_socket_stands() -> None:
    """A socket 40 mm long stands in a field of 26 x 26 mm if there are 6 + 40 mm below the top, and lies in none so
    small."""
    one = group_of(socket(16, across=24, length=40))
    side = mm(24) + FIT
    answer = free(one, side, side, mm(46), HOUSE)
    assert answer.layout is not None
    assert answer.layout.pockets[0].standing
    assert free(one, side, side, mm(46) - 1, HOUSE).status == "excluded"


def test_what_no_layout_can_hold_says_so() -> None:
    bar = group_of(made("pry bar", 1, 500, 20, 20))
    assert free(bar, mm(300), mm(300), TALL, HOUSE) == FreeAnswer("excluded", "any layout")
    assert free(bar, mm(600), mm(300), mm(25), HOUSE) == FreeAnswer("excluded", "any layout")


def test_a_piece_that_fits_only_at_an_angle_lies_so() -> None:
    bar = group_of(made("pry bar", 1, 500, 1, 30))
    assert_sound(free(bar, mm(400), mm(400), TALL, HOUSE), bar, mm(400), mm(400), TALL)


@pytest.mark.parametrize("narrow", [3, 40])
def test_blocks_stay_clear(narrow: int) -> None:
    """A block in the middle of the field, narrower than a web or wider: pockets stay off it, but need no web to it."""
    block = Rectangle(mm(100), mm(40), mm(narrow), mm(20))
    two = group_of(made("file", 1, 98, 38, 30, count=2), made("file", 2, 30, 14, 30))
    answer = free(two, mm(100 + narrow + 100), mm(100), TALL, HOUSE, [block])
    assert_sound(answer, two, mm(100 + narrow + 100), mm(100), TALL)
    assert answer.layout is not None
    left, front, wide, deep = block
    for a, b, c, d in boxes(answer.layout):
        assert c <= left or left + wide <= a or d <= front or front + deep <= b


def test_labels_stay_off_a_block() -> None:
    """Two pockets in front of a block as wide as the field; their labels would be behind them, where it is."""
    group = group_of(*(made("file", n, 38, 98, 30) for n in (1, 2)))
    block = Rectangle(0, mm(42), mm(210), mm(30))
    layout = free(group, mm(210), mm(72), TALL, HOUSE, [block]).layout
    assert layout is not None
    taken = Polygon.from_bounds(block.left, block.front, block.right, block.back)
    for label in layout.labels:
        assert not (label.on_foam and taken.intersects(Point(label.x, label.y).buffer(label.height / 2)))


def test_a_block_takes_room() -> None:
    one = group_of(made("file", 1, 98.4, 38.4, 30))
    field = mm(100), mm(40)
    assert free(one, *field, TALL, HOUSE).status == "found"
    corner = Rectangle(mm(95), mm(35), mm(20), mm(20))
    assert free(one, *field, TALL, HOUSE, [corner]).status == "excluded"


def test_cases_are_turned_but_keep_no_web() -> None:
    three = group_of(*(made("cased", 0, 300, 200, 90) for _ in range(3)), cased=True)
    answer = free(three, mm(500), mm(400), mm(90), HOUSE)
    assert answer.layout is not None
    assert answer.layout.ordered, "cases have no order that could be lost"
    assert faults(answer.layout, three) == []
    assert free(three, mm(500), mm(399), mm(90), HOUSE) == FreeAnswer("excluded", "house layout")


def test_many_pieces_without_an_answer_stay_open() -> None:
    """Pieces of many sizes in a field with 1 % to spare: neither found nor excluded, and not called impossible."""
    sizes = [(41 + 7 * n % 53, 23 + 11 * n % 31) for n in range(24)]
    many = group_of(*(made("file", n, length, width, 30) for n, (length, width) in enumerate(sizes)))
    area = sum((mm(a) + FIT + WEB) * (mm(b) + FIT + WEB) for a, b in sizes)
    side = int((1.01 * area) ** 0.5) - WEB
    tight = replace(HOUSE, work=replace(HOUSE.work, free_layout=0.1))
    assert free(many, side, side, TALL, tight) == FreeAnswer("open")


def test_the_same_answer_every_time() -> None:
    group = group_of(*(socket(n) for n in range(8, 20)), *(wrench(n) for n in range(8, 14)))
    sides = product((mm(250),), (mm(200), mm(300)))
    assert all(free(group, w, d, TALL, QUICK) == free(group, w, d, TALL, QUICK) for w, d in sides)


# ------------------------------------------------------------------------------------------------------ true outlines


def drawn(kind: str, size: str, length: float, width: float, height: float, count: int = 1) -> SizedPiece:
    """A piece with its kind's own outline, of the size given."""
    return sized(
        Piece("set", f"{kind} {size}", kind, count, size=size, length=mm(length), width=mm(width), height=mm(height))
    )


def test_outlines_go_in_where_their_boxes_do_not() -> None:
    """Two hammers 300 x 120 mm, heads at opposite ends: their boxes side by side take 249 mm, their outlines less."""
    hammers = group_of(drawn("hammer", "500 g", 300, 120, 30, count=2))
    boxes_wide = 2 * mm(120) + 2 * FIT + WEB
    width, depth = boxes_wide - mm(30), mm(300) + FIT
    answer = free(hammers, width, depth, TALL, HOUSE)
    assert_sound(answer, hammers, width, depth, TALL)


def test_outlines_that_are_not_found_stay_open() -> None:
    """Less than a head and a handle side by side: not found, but true outlines are never called impossible for it."""
    hammers = group_of(drawn("hammer", "500 g", 300, 120, 30, count=2))
    assert free(hammers, mm(140), mm(300) + FIT, TALL, QUICK) == FreeAnswer("open")


@settings(max_examples=25, deadline=None)
@given(
    kinds=st.lists(st.sampled_from((("hammer", "500 g"), ("snips", "250"), ("adjustable wrench", "250"))), max_size=6),
    width=st.integers(100, 500),
    depth=st.integers(100, 500),
)
def test_nests_of_outlines_are_sound(kinds: list[tuple[str, str]], width: int, depth: int) -> None:
    named = [("combination pliers", "180"), *kinds]
    tools = group_of(*(drawn(*kind, 120 + 30 * n, 40 + 8 * n, 24 + n) for n, kind in enumerate(named)))
    choices = [tuple(pose.alone for pose in poses(piece, sheet_of(tools))) for piece in tools.pieces]
    spots = nested(choices, mm(width), mm(depth))
    if spots is not None:
        layout = layout_of(spots, range(len(named)), sheet_of(tools))
        assert (layout.width <= mm(width), layout.depth <= mm(depth)) == (True, True)
        assert faults(layout, tools) == []


def sheet_of(group: Group) -> Rules:
    return sheets(group.pieces, rules_for(group, HOUSE))[0]
