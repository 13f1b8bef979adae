"""Rectangles into a rectangle: published packings, exhaustive search on tiny rooms, and what must never be said."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.packing.problem import Packing, Size
from matcher.packing.rectangles import pack
from matcher.records.rectangles import Rectangle
from tests.instances.packing import HOPPER_TURTON

ORDER_21 = (2, 4, 6, 7, 8, 9, 11, 15, 16, 17, 18, 19, 24, 25, 27, 29, 33, 35, 37, 42, 50)
"""Sides of the squared square of side 112: Duijvestijn, 1978; CSPLib problem 009."""
SMALLEST_SQUARE = (1, 3, 5, 7, 9, 11, 13, 15, 18, 21, 24, 27)
"""Side of the smallest square that holds squares of sides 1 to n: OEIS A005842."""
SMALLEST_RECTANGLE = (1, 6, 15, 35, 60, 99, 154)
"""Area of the smallest rectangle that holds squares of sides 1 to n: OEIS A038666 (Korf)."""

WORK = {"work": 20.0, "seed": 1}


def squares(*sides: int) -> list[list[Size]]:
    return [[(side, side)] for side in sides]


def assert_sound(
    packing: Packing, choices: list[list[Size]], width: int, depth: int, blocked: tuple[Rectangle, ...] = ()
) -> None:
    """Every item in one of its sizes, in the room, clear of all others and of the blocks."""
    taken = list(blocked)
    assert len(packing.positions) == len(choices)
    for sizes, (choice, x, y) in zip(choices, packing.positions, strict=True):
        w, d = sizes[choice]
        assert 0 <= x <= width - w
        assert 0 <= y <= depth - d
        for left, front, wide, deep in taken:
            assert x + w <= left or left + wide <= x or y + d <= front or front + deep <= y
        taken.append((x, y, w, d))


def possible(choices: list[list[Size]], width: int, depth: int, blocked: tuple[Rectangle, ...] = ()) -> bool:
    """Try every whole position of every size, cell by cell: slow and plain."""
    cells = [
        [
            {(i, j) for i in range(x, x + w) for j in range(y, y + d)}
            for w, d in sizes
            for x, y in product(range(width - w + 1), range(depth - d + 1))
        ]
        for sizes in choices
    ]
    gone = {(i, j) for x, y, w, d in blocked for i in range(x, x + w) for j in range(y, y + d)}

    def place(n: int, used: set[tuple[int, int]]) -> bool:
        return n == len(cells) or any(place(n + 1, used | spot) for spot in cells[n] if not used & spot)

    return place(0, gone)


# ------------------------------------------------------------------------------------------------ published packings


def test_squared_square_of_order_21_is_found() -> None:
    choices = squares(*ORDER_21)
    answer = pack(choices, 112, 112, **WORK)
    assert answer.status == "found"
    assert sum(side * side for side in ORDER_21) == 112 * 112
    assert_sound(answer, choices, 112, 112)


@pytest.mark.parametrize(("count", "side"), list(enumerate(SMALLEST_SQUARE, 1)))
def test_consecutive_squares_go_into_the_smallest_square_and_no_smaller(count: int, side: int) -> None:
    choices = squares(*range(1, count + 1))
    answer = pack(choices, side, side, **WORK)
    assert answer.status == "found"
    assert_sound(answer, choices, side, side)
    assert pack(choices, side - 1, side - 1, **WORK).status == "excluded"


@pytest.mark.parametrize(("count", "area"), list(enumerate(SMALLEST_RECTANGLE, 1)))
def test_consecutive_squares_need_the_smallest_rectangle(count: int, area: int) -> None:
    """Every rectangle of less area is excluded; one of this area is found."""
    choices = squares(*range(1, count + 1))
    rooms = [(width, area // width) for width in range(count, area + 1) if area % width == 0]
    assert "found" in {pack(choices, *room, **WORK).status for room in rooms}
    least = range(count, area)
    smaller = {(width, (area - 1) // width) for width in least if (area - 1) // width >= count}
    assert all(pack(choices, *room, **WORK).status == "excluded" for room in smaller)


def test_four_dominoes_round_a_hole_need_more_than_straight_cuts() -> None:
    """The pinwheel in 3 x 3 around a hole of 1 x 1 is the smallest packing that no side-to-side cut can part."""
    choices: list[list[Size]] = [[(2, 1)], [(1, 2)], [(2, 1)], [(1, 2)]]
    answer = pack(choices, 3, 3, **WORK)
    assert answer.status == "found"
    assert_sound(answer, choices, 3, 3)


@pytest.mark.parametrize("name", sorted(HOPPER_TURTON))
def test_rectangles_cut_from_one_without_waste_go_back_into_it(name: str) -> None:
    """Hopper and Turton, C1 and C2: the areas fill the room exactly; with a strip less they are too much."""
    (width, depth), sizes = HOPPER_TURTON[name]
    choices = [[(w, d), (d, w)] for w, d in sizes]
    assert sum(w * d for w, d in sizes) == width * depth
    answer = pack(choices, width, depth, **WORK)
    assert answer.status == "found"
    assert_sound(answer, choices, width, depth)
    assert pack(choices, width, depth - 1, **WORK).status == "excluded"


# ---------------------------------------------------------------------------------------------------- tiny, exhaustive

sizes = st.tuples(st.integers(1, 4), st.integers(1, 4))
items = st.lists(st.lists(sizes, min_size=1, max_size=2), min_size=1, max_size=4)
rooms = st.tuples(st.integers(1, 5), st.integers(1, 5))
corners, sides = st.integers(-1, 4), st.integers(1, 3)
blocks = st.lists(st.builds(Rectangle, corners, corners, sides, sides), max_size=2)


@settings(max_examples=150, deadline=None)
@given(choices=items, room=rooms, blocked=blocks)
def test_equals_trying_everything(choices: list[list[Size]], room: Size, blocked: list[Rectangle]) -> None:
    answer = pack(choices, *room, blocked, **WORK)
    assert answer.status == ("found" if possible(choices, *room, tuple(blocked)) else "excluded")
    if answer.status == "found":
        assert_sound(answer, choices, *room, tuple(blocked))


four_items = st.lists(
    st.lists(st.tuples(st.integers(1, 6), st.integers(1, 6)), min_size=1, max_size=3), min_size=4, max_size=4
)


@settings(max_examples=300, deadline=None)
@given(choices=four_items, room=st.tuples(st.integers(4, 8), st.integers(4, 8)))
def test_cuts_and_wheels_are_all_there_is_for_four(choices: list[list[Size]], room: Size) -> None:
    """Decided without search, as by trying every place."""
    answer = pack(choices, *room, work=0.0, seed=1)
    assert answer.status == ("found" if possible(choices, *room, ()) else "excluded")
    if answer.status == "found":
        assert_sound(answer, choices, *room)


@given(st.permutations(range(4)), *(st.integers(1, 30) for _ in range(5)))
def test_four_that_fill_a_room_round_a_hole_are_found(
    order: list[int], a: int, b: int, c: int, d: int, hole: int
) -> None:
    """A wheel of any measure, turned either way."""
    wheel, room = [(a + hole, b), (c, b + hole), (a, hole + d), (hole + c, d)], (a + hole + c, b + hole + d)
    for turned in (slice(None), slice(None, None, -1)):
        choices = [[wheel[n][turned]] for n in order]
        answer = pack(choices, *room[turned], work=0.0, seed=1)
        assert answer.status == "found"
        assert_sound(answer, choices, *room[turned])


@settings(max_examples=60, deadline=None)
@given(data=st.data(), width=st.integers(6, 40), depth=st.integers(6, 40), unit=st.sampled_from((1, 32, 127)))
def test_a_room_cut_apart_goes_back_together(data: st.DataObject, width: int, depth: int, unit: int) -> None:
    """Feasible by construction, without any waste: may be open, is never excluded."""
    pieces = [(width, depth)]
    for _ in range(data.draw(st.integers(1, 8))):
        wide, deep = pieces.pop(0)
        lengthwise = data.draw(st.booleans()) if min(wide, deep) > 1 else wide > 1
        if max(wide, deep) == 1:
            pieces.append((wide, deep))
            continue
        cut = data.draw(st.integers(1, (wide if lengthwise else deep) - 1))
        pieces += [(cut, deep), (wide - cut, deep)] if lengthwise else [(wide, cut), (wide, deep - cut)]
    choices = [[(w * unit, d * unit)] for w, d in pieces]
    answer = pack(choices, width * unit, depth * unit, work=2, seed=1)
    assert answer.status != "excluded"
    if answer.status == "found":
        assert_sound(answer, choices, width * unit, depth * unit)


@given(choices=items, room=rooms, grow=st.integers(0, 3))
@settings(max_examples=60, deadline=None)
def test_more_room_never_turns_yes_into_no(choices: list[list[Size]], room: Size, grow: int) -> None:
    if pack(choices, *room, **WORK).status == "found":
        assert pack(choices, room[0] + grow, room[1], **WORK).status == "found"


@given(choices=items, room=rooms)
@settings(max_examples=60, deadline=None)
def test_order_of_items_does_not_matter(choices: list[list[Size]], room: Size) -> None:
    assert pack(choices, *room, **WORK).status == pack(choices[::-1], *room, **WORK).status


# ------------------------------------------------------------------------------------------------------- boundaries


def test_exactly_equal_fits_and_one_unit_less_does_not() -> None:
    """Three organizers of 7 1/2 in side by side fill 22 1/2 in; 1 in = 8128 units."""
    choices: list[list[Size]] = [[(60960, 100)]] * 3
    assert pack(choices, 22 * 8128 + 4064, 100, **WORK).status == "found"
    assert pack(choices, 22 * 8128 + 4063, 100, **WORK).status == "excluded"


def test_an_item_is_turned_only_if_its_sizes_say_so() -> None:
    assert pack([[(3, 1)]], 1, 3, **WORK).status == "excluded"
    assert pack([[(3, 1), (1, 3)]], 1, 3, **WORK) == Packing("found", ((1, 0, 0),))


def test_items_may_offer_many_sizes() -> None:
    """Two curves of area 2500 or a little more: 100 x 50 is filled by two of 50 x 50, 99 x 50 is too small in area."""
    curve = [(width, -(-2500 // width)) for width in range(1, 2501)]
    answer = pack([curve, curve], 100, 50, **WORK)
    assert answer.status == "found"
    assert_sound(answer, [curve, curve], 100, 50)
    assert pack([curve, curve], 99, 50, **WORK).status == "excluded"


def test_blocks_may_overlap_and_reach_outside() -> None:
    blocked = (Rectangle(-5, -5, 10, 10), Rectangle(0, 0, 5, 5), Rectangle(3, 3, 2, 2), Rectangle(9, 0, 5, 10))
    assert pack([[(4, 10)]], 10, 10, blocked, **WORK) == Packing("found", ((0, 5, 0),))
    assert pack([[(5, 10)]], 10, 10, blocked, **WORK).status == "excluded"


def test_a_room_all_blocked_holds_nothing() -> None:
    assert pack([[(1, 1)]], 4, 4, [Rectangle(0, 0, 4, 4)], **WORK).status == "excluded"


def test_nothing_to_pack_always_goes_in() -> None:
    assert pack([], 0, 0, **WORK) == Packing("found")


def test_no_room_at_all() -> None:
    assert pack([[(1, 1)]], -3, 5, **WORK).status == "excluded"


def test_an_item_without_sizes_goes_nowhere() -> None:
    assert pack([[]], 5, 5, **WORK).status == "excluded"


@pytest.mark.parametrize("size", [(0, 3), (3, 0), (-1, 2)])
def test_sizes_must_be_above_zero(size: Size) -> None:
    with pytest.raises(ValueError, match="above 0"):
        pack([[size]], 5, 5, **WORK)


def test_without_work_an_undecided_packing_is_open() -> None:
    """The squared square exists, so no budget however small may call it impossible."""
    assert pack(squares(*ORDER_21), 112, 112, work=0.001, seed=1).status == "open"


def test_same_input_same_positions() -> None:
    choices = squares(*range(1, 13))
    assert pack(choices, 27, 27, **WORK) == pack(choices, 27, 27, **WORK)
