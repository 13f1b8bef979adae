"""Statics of a cabinet with drawers open, against a case computed by hand and against brute force.

Hand-derived case, inches and pounds. Front contact line 2 in behind the drawer faces, 20 in between contacts. Case with
top and casters: 180 lb, arm 10, height 20. Eight drawers, each 12 lb empty, arm 9 closed, travel 20.
"""

from dataclasses import replace
from itertools import combinations, product
from math import atan, atan2, degrees, inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matcher.cautions.stability import (
    Stand,
    Tray,
    WeightedPart,
    front_reaction,
    heaviest_first,
    loaded,
    moment,
    most_open,
    only_loaded,
    parts,
    push_at,
    push_to_tip,
    slope_limit,
    weight,
)

HEIGHTS = (38, 34, 30, 26, 22, 18, 13, 8)
CONTENTS = (20, 30, 40, 50, 60, 60, 80, 100)
SPAN = 20


def stand(contents=CONTENTS, trail=0.0):
    """The hand-derived case; swivel casters turned rearward move the contact line back by ``trail``."""
    trays = tuple(
        Tray(str(place), 12, load, load, 9 - trail, height, 20)
        for place, (load, height) in enumerate(zip(contents, HEIGHTS, strict=True), 1)
    )
    return Stand(WeightedPart(180, 180, 10 - trail, 20), trays, 2 + trail)


def heaviest(cabinet, count):
    return heaviest_first(cabinet)[:count]


def test_closed():
    # W = 180 + 536; M = 180 x 10 + 536 x 9 = 1800 + 4824; height of the center 14388 / 716, reversed 18118 / 716
    closed = parts(stand())
    assert weight(closed) == 716
    assert moment(closed) == 6624
    assert sum(part.high * part.height for part in closed) / 716 == pytest.approx(20.095, abs=5e-4)
    upside = parts(stand(CONTENTS[::-1]))
    assert sum(part.high * part.height for part in upside) / 716 == pytest.approx(25.304, abs=5e-4)


# case: drawers open, moment, center of gravity behind the line, push at 22 in, slope heavy low and high, front caster
TABLE = {
    "A": (0, 6624, 9.2514, None, 24.72, 20.08, 192.4),
    "B": (1, 4384, 6.1229, 199.3, 16.95, 13.60, 248.4),
    "C": (2, 2544, 3.5531, 115.6, 10.03, 7.99, 294.4),
    "D": (3, 1104, 1.5419, 50.2, 4.39, 3.49, 330.4),
}


@pytest.mark.parametrize(("count", "left", "arm", "push", "low", "high", "caster"), TABLE.values(), ids=TABLE)
def test_heaviest_drawers_open(count, left, arm, push, low, high, caster):
    things = parts(stand(), heaviest(stand(), count))
    upside = stand(CONTENTS[::-1])
    assert moment(things) == left
    assert moment(things) / weight(things) == pytest.approx(arm, abs=5e-5)
    assert push is None or push_at(left, 22) == pytest.approx(push, abs=0.05)
    assert slope_limit(things) == pytest.approx(low, abs=0.005)
    assert slope_limit(parts(upside, heaviest(upside, count))) == pytest.approx(high, abs=0.005)
    assert front_reaction(things, SPAN) / 2 == pytest.approx(caster, abs=0.05)


def test_four_heaviest_open_tips_and_so_does_all_open():
    assert moment(parts(stand(), heaviest(stand(), 4))) == -336  # case E
    assert moment(parts(stand(), heaviest(stand(), 8))) == -4096  # case F
    assert slope_limit(parts(stand(), heaviest(stand(), 4))) == 0


def test_any_three_may_be_open_and_the_lightest_five():
    assert all(moment(parts(stand(), three)) > 0 for three in combinations("12345678", 3))
    assert most_open(stand()) == 3
    assert moment(parts(stand(), "12345")) == 1424
    # the six lightest are short by 16, and of them the fourth and fifth weigh the same
    assert moment(parts(stand(), "123456")) == -16


def test_push_at_one_open_drawer():
    assert push_to_tip(stand(), "8") == pytest.approx(199.3, abs=0.05)  # 4384 / 22
    assert push_at(100, 0) == inf


def test_swivel_casters_turned_rearward():
    assert moment(parts(stand(trail=1.5), heaviest(stand(), 3))) == 30  # 1104 - 716 x 1.5
    assert moment(parts(stand(trail=1.5), heaviest(stand(), 1))) == 3310  # 4384 - 1074
    assert push_to_tip(stand(trail=1.5), "8") == pytest.approx(3310 / 23.5)


@pytest.mark.parametrize(("load", "left"), [(100, 1324), (200, 224), (2424 / 11, 0)])
def test_nearly_empty_cabinet_with_one_loaded_drawer_open(load, left):
    """Case G: W = 276 + q, M = 2664 - 240 + q (9 - 20) = 2424 - 11 q; tips at q = 220.4."""
    alone = loaded(only_loaded(stand(), "8"), "8", load)
    assert moment(parts(alone, "8")) == pytest.approx(left, abs=1e-9)


def test_case_g_pushed_and_on_swivel_casters():
    alone = loaded(only_loaded(stand(), "8"), "8", 200)
    assert push_to_tip(alone, "8") == pytest.approx(10.2, abs=0.05)  # 224 / 22
    swivel = loaded(only_loaded(stand(trail=1.5), "8"), "8", 200)
    assert moment(parts(swivel, "8")) == -490  # 224 - 476 x 1.5


# ------------------------------------------------------------------------------------------------------- properties

sizes = st.integers(0, 60)


@st.composite
def trays(draw, name):
    low = draw(sizes)
    return Tray(name, draw(sizes), low, low + draw(sizes), draw(st.integers(-20, 40)), draw(sizes), draw(sizes))


@st.composite
def stands(draw):
    names = "abcde"[: draw(st.integers(0, 5))]
    own = draw(st.integers(1, 300))
    case = WeightedPart(own, own, draw(st.integers(-5, 30)), draw(st.integers(1, 60)))
    return Stand(case, tuple(draw(trays(name)) for name in names), draw(st.integers(0, 5)))


def corners(cabinet, opened):
    """Every choice of each weight at one of its bounds."""
    things = parts(cabinet, opened)
    for weights in product(*({part.low, part.high} for part in things)):
        yield tuple(replace(part, low=own, high=own) for part, own in zip(things, weights, strict=True))


@given(stands(), st.sets(st.sampled_from("abcde")))
def test_the_bounds_are_taken_at_their_worst(cabinet, opened):
    things = parts(cabinet, opened)
    assert moment(things) == min(moment(choice) for choice in corners(cabinet, opened))
    # Slope limit atan(a / h) of the center of gravity, for each choice of weights.
    limits = [
        degrees(atan2(moment(choice), sum(part.high * part.height for part in choice)))
        for choice in corners(cabinet, opened)
    ]
    assert slope_limit(things) == pytest.approx(max(0.0, min(limits)), abs=1e-6)


@given(stands())
def test_most_open_means_any_that_many(cabinet):
    names = [tray.name for tray in cabinet.trays]
    safe = [
        count
        for count in range(len(names) + 1)
        if all(moment(parts(cabinet, some)) > 0 for some in combinations(names, count))
    ]
    assert most_open(cabinet) == max(safe, default=0)


@given(stands())
def test_a_push_of_just_that_much_leaves_no_moment(cabinet):
    for tray in cabinet.trays:
        distance, push = tray.travel + cabinet.front, push_to_tip(cabinet, tray.name)
        if distance > 0 and push > 0:
            pushed = (*parts(cabinet, {tray.name}), WeightedPart(push, push, -distance, 0))
            assert moment(pushed) == pytest.approx(0, abs=1e-6)


@given(stands(), st.integers(1, 40))
def test_front_and_rear_together_carry_the_weight(cabinet, span):
    exact = next(corners(cabinet, ()))
    rear = front_reaction([replace(part, arm=span - part.arm) for part in exact], span)
    assert front_reaction(exact, span) + rear == pytest.approx(weight(exact))


@given(stands(), st.permutations(range(5)))
def test_on_a_level_floor_no_height_enters(cabinet, order):
    count = len(cabinet.trays)
    heights = [cabinet.trays[place].height for place in order if place < count]
    moved = replace(
        cabinet, trays=tuple(replace(tray, height=h) for tray, h in zip(cabinet.trays, heights, strict=True))
    )
    names = heaviest_first(cabinet)
    assert [moment(parts(moved, names[:n])) for n in range(count + 1)] == [
        moment(parts(cabinet, names[:n])) for n in range(count + 1)
    ]


@given(stands(), st.integers(1, 30))
def test_more_in_an_open_drawer_or_more_travel_never_steadies(cabinet, more):
    for tray in cabinet.trays:
        for worse in (replace(tray, high=tray.high + more), replace(tray, travel=tray.travel + more)):
            heavier = replace(cabinet, trays=tuple(worse if one is tray else one for one in cabinet.trays))
            assert moment(parts(heavier, {tray.name})) <= moment(parts(cabinet, {tray.name}))
            assert most_open(heavier) <= most_open(cabinet)


@given(st.integers(0, 40), st.integers(1, 40))
def test_slope_limit_of_one_block(arm, height):
    block = WeightedPart(1, 1, arm, height)
    assert slope_limit([block]) == pytest.approx(degrees(atan(arm / height)), abs=1e-9)
