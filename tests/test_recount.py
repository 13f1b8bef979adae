"""The goals recounted from a plan: values derived by hand, published instances, closed forms."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import kendalltau

from matcher.house.reading import default_house
from matcher.records.answered import Placement, Plan
from matcher.records.given import Cabinet, Catalogue, Drawer, GroupRule, Organizer, Relation
from matcher.records.laid_out import Group
from matcher.records.units import Number
from matcher.records.units import mm as exact_mm
from matcher.verification.goals import recount


def mm(value: Number) -> int:
    """Length of a value as written."""
    return exact_mm(Decimal(str(value)))


HOUSE = default_house()
NUG12 = (
    (0, 5, 2, 4, 1, 0, 0, 6, 2, 1, 1, 1),
    (5, 0, 3, 0, 2, 2, 2, 0, 4, 5, 0, 0),
    (2, 3, 0, 0, 0, 0, 0, 5, 5, 2, 2, 2),
    (4, 0, 0, 0, 5, 2, 2, 10, 0, 0, 5, 5),
    (1, 2, 0, 5, 0, 10, 0, 0, 0, 5, 1, 1),
    (0, 2, 0, 2, 10, 0, 5, 1, 1, 5, 4, 0),
    (0, 2, 0, 2, 0, 5, 0, 10, 5, 2, 3, 3),
    (6, 0, 5, 10, 0, 1, 10, 0, 0, 0, 5, 0),
    (2, 4, 5, 0, 0, 1, 5, 0, 0, 0, 10, 10),
    (1, 5, 2, 0, 5, 5, 2, 0, 0, 0, 5, 0),
    (1, 0, 2, 5, 1, 4, 3, 5, 10, 5, 0, 2),
    (1, 0, 2, 5, 1, 0, 3, 0, 10, 0, 2, 0),
)
"""Flows of QAPLIB's nug12, from memory; both values below agree with them."""


def group(name: str, tier: int = 1, part_of: str = "") -> Group:
    made = None if part_of else Organizer("set", name, mm(10), mm(10), mm(10), tier=tier)
    return Group(name, "family", tier, "", True, True, False, (), made, 0, 0, None, part_of)


def drawer(name: str, bank: int, row: int, above: float | None = None, last: int | None = None) -> Drawer:
    height = None if above is None else mm(above)
    size = mm(100)
    return Drawer("cabinet", name, bank, last or bank, row, size, size, size, above_ground=height)


def placed(name: str, where: str, left: int = 0) -> Placement:
    return Placement(name, where, "as is", "as is", "as is", left, 0, mm(10), mm(10), mm(10), 0, 0)


def value(
    goal: str,
    groups: list[Group],
    drawers: list[Drawer],
    placements: list[Placement],
    relations: tuple[Relation, ...] = (),
    swap: tuple[tuple[int, int], ...] = ((4, 5),),
    rules: tuple[GroupRule, ...] = (),
) -> int:
    catalogue = Catalogue((), (), (Cabinet("cabinet", tuple(drawers)),), rules, relations)
    plan = Plan("set", "cabinet", "spread", tuple(groups), tuple(placements), ())
    house = replace(HOUSE, order=replace(HOUSE.order, swap=swap))
    return recount(catalogue, house, plan)[goal]  # type: ignore[index]


# ------------------------------------------------------------------------------------------------------------ drawers


def test_unused_when_spreading_used_when_packing_blocked_never() -> None:
    """Five drawers, one blocked; two groups share one, a third has its own: two used, two free."""
    drawers = [drawer(name, 1, row) for row, name in enumerate("abcde", 1)]
    drawers[4] = replace(drawers[4], slot="blocked")
    groups = [group(name) for name in "xyz"]
    catalogue = Catalogue((), (), (Cabinet("cabinet", tuple(drawers)),), (), ())
    placements = (placed("x", "a"), placed("y", "a", mm(10)), placed("z", "d"))
    plan = Plan("set", "cabinet", "spread", tuple(groups), placements, ("b", "c"))
    assert recount(catalogue, HOUSE, plan)["drawers"] == 2
    seven = replace(plan, placements=(*placements[:2], placed("z", "a", mm(20))))
    assert recount(catalogue, HOUSE, seven)["drawers"] == 3
    assert recount(catalogue, HOUSE, replace(seven, fill="pack"))["drawers"] == 1


# -------------------------------------------------------------------------------------------------------------- order


@given(st.permutations(range(8)))
def test_order_counts_inversions(tiers: list[int]) -> None:
    """In one bank with a tier per drawer the breaks are the discordant pairs of Kendall's tau: n(n-1)(1 - tau)/4."""
    groups = [group(str(tier), tier) for tier in tiers]
    drawers = [drawer(f"d{row}", 1, row, 1000 - 100 * row) for row in range(8)]
    placements = [placed(str(tier), f"d{row}") for row, tier in enumerate(tiers)]
    tau = kendalltau(range(8), tiers).statistic
    assert value("order", groups, drawers, placements, swap=()) == round(8 * 7 * (1 - tau) / 4)


@given(st.permutations(range(6)))
def test_swaps_take_the_best_of_both_orders(tiers: list[int]) -> None:
    def breaks(names: list[int], swap: tuple[tuple[int, int], ...]) -> int:
        groups = [group(str(place), tier) for place, tier in enumerate(names)]
        drawers = [drawer(f"d{row}", 1, row, 1000 - 100 * row) for row in range(6)]
        return value("order", groups, drawers, [placed(str(row), f"d{row}") for row in range(6)], swap=swap)

    other = [{2: 3, 3: 2}.get(tier, tier) for tier in tiers]
    assert breaks(tiers, ((2, 3),)) == min(breaks(tiers, ()), breaks(other, ()))


def test_tiers_change_places_as_a_whole() -> None:
    """5 4 5 4 from top to bottom: 4 before 5 has three breaks, 5 before 4 has one. No mixture of the two has none."""
    drawers = [drawer(f"d{row}", 1, row, 1000 - 100 * row) for row in range(4)]
    groups = [group(f"g{row}", tier) for row, tier in enumerate((5, 4, 5, 4))]
    placements = [placed(f"g{row}", f"d{row}") for row in range(4)]
    assert value("order", groups, drawers, placements, swap=()) == 3
    assert value("order", groups, drawers, placements) == 1


@pytest.mark.parametrize(("lower", "breaks"), [(15, 0), (15.1, 1), (-200, 0)])
def test_floors_up_to_15_mm_apart_are_level(lower: float, breaks: int) -> None:
    """Rows of two banks need not line up; what counts is how much lower the earlier tier's floor is."""
    drawers = [drawer("left", 1, 5, 500 - lower), drawer("right", 2, 1, 500)]
    groups = [group("early", 1), group("late", 2)]
    assert value("order", groups, drawers, [placed("early", "left"), placed("late", "right")]) == breaks


def test_rows_stand_in_for_floors_that_are_not_all_given() -> None:
    drawers = [drawer("low", 1, 2, 900), drawer("high", 2, 1)]
    groups = [group("early", 1), group("late", 2)]
    assert value("order", groups, drawers, [placed("early", "low"), placed("late", "high")]) == 1
    assert value("order", groups, drawers, [placed("early", "high"), placed("late", "low")]) == 0


def test_the_catalogue_has_the_last_word_on_tiers() -> None:
    """The house puts the group in tier 1, its own row in tier 3: then it lies rightly below tier 2."""
    drawers = [drawer("high", 1, 1, 900), drawer("low", 1, 2, 500)]
    groups = [group("a", 1), group("b", 2)]
    placements = [placed("a", "low"), placed("b", "high")]
    assert value("order", groups, drawers, placements) == 1
    assert value("order", groups, drawers, placements, rules=(GroupRule("a", tier=3),)) == 0


# ---------------------------------------------------------------------------------------------------------- neighbors


PLACES = {"a1": (1, 1), "a2": (1, 2), "b1": (2, 1), "c3": (3, 3)}


@pytest.mark.parametrize(
    ("wish", "one", "other", "cost"),
    [
        ("near", "a1", "a1", 0),
        ("near", "a1", "c3", 4),
        ("beside", "a1", "b1", 0),
        ("beside", "a1", "a1", 0),
        ("beside", "a1", "a2", 1),
        ("beside", "a1", "c3", 3),
        ("below", "a2", "a1", 0),
        ("below", "a1", "a2", 2),
        ("below", "a1", "a1", 1),
        ("below", "c3", "a1", 3),
        ("left_of", "a1", "b1", 0),
        ("left_of", "b1", "a1", 1),
        ("left_of", "a2", "a1", 1),
    ],
)
def test_wishes_cost_what_their_definition_says(wish: str, one: str, other: str, cost: int) -> None:
    drawers = [drawer(name, *place) for name, place in PLACES.items()]
    relations = (Relation("x", "y", wish, 7),)  # type: ignore[arg-type]
    placements = [placed("x", one), placed("y", other, mm(-5))]
    assert value("neighbors", [group("x"), group("y")], drawers, placements, relations) == 7 * cost


def test_left_of_in_one_drawer_costs_nothing_however_the_organizers_lie() -> None:
    drawers, groups = [drawer("a", 1, 1)], [group("x"), group("y")]
    relations = (Relation("x", "y", "left_of", 3),)
    assert value("neighbors", groups, drawers, [placed("x", "a"), placed("y", "a", mm(10))], relations) == 0
    assert value("neighbors", groups, drawers, [placed("x", "a", mm(10)), placed("y", "a")], relations) == 0


def test_a_spanning_drawer_is_in_each_of_its_banks() -> None:
    """Banks 1 to 3 are no bank apart from 2 and one from 4."""
    drawers = [drawer("wide", 1, 2, last=3), drawer("over", 2, 1), drawer("beside", 4, 2)]
    relations = (Relation("x", "y", "near", 1), Relation("x", "z", "near", 10))
    placements = [placed("x", "wide"), placed("y", "over"), placed("z", "beside")]
    assert value("neighbors", [group("x"), group("y"), group("z")], drawers, placements, relations) == 1 + 10


def test_every_pair_of_parts_counts_and_absent_groups_do_not() -> None:
    """Parts of x at rows 1 and 2, y at row 4, in one bank: 3 + 2, and 2 x 1 as the parts are not beside each other. The
    second relation names a group of another set."""
    drawers = [drawer(f"d{row}", 1, row) for row in (1, 2, 4)]
    groups = [group("x 1", part_of="x"), group("x 2", part_of="x"), group("y")]
    placements = [placed("x 1", "d1"), placed("x 2", "d2"), placed("y", "d4")]
    relations = (Relation("x", "y", "near", 1), Relation("x", "absent", "near", 9))
    assert value("neighbors", groups, drawers, placements, relations) == 5 + 2
    own = (Relation("x", "x", "near", 1),)
    assert value("neighbors", groups, drawers, placements, own) == 2 + 2, "each part near the other, both ways"


def nearness(places: tuple[int, ...], banks: int) -> int:
    """Neighbors of facilities of nug12 at these places of a grid, ``near`` by flow; each pair once."""
    count = len(places)
    drawers = [drawer(str(place), 1 + place % banks, 1 + place // banks) for place in range(count)]
    relations = tuple(
        Relation(str(i), str(j), "near", NUG12[i][j]) for i in range(count) for j in range(i) if NUG12[i][j]
    )
    placements = [placed(str(facility), str(place)) for facility, place in enumerate(places)]
    return value("neighbors", [group(str(i)) for i in range(count)], drawers, placements, relations)


def test_nug12_evaluates_to_its_published_value() -> None:
    """QAPLIB: nug12 has the optimum 578, counting each pair twice; its permutation of facilities from memory."""
    facility_at = (12, 7, 9, 3, 4, 8, 11, 1, 5, 6, 10, 2)
    places = tuple(facility_at.index(facility) for facility in range(1, 13))
    assert 2 * nearness(places, banks=4) == 578


def test_the_first_six_facilities_of_nug12_on_two_by_three() -> None:
    """QAPLIB's nug12 cut down to six facilities on a 2 x 3 grid: the least over all 720 plans is 86 / 2."""
    assert min(nearness(places, banks=3) for places in permutations(range(6))) == 43


# -------------------------------------------------------------------------------------------------------------- reach


@pytest.mark.parametrize(("floor", "lost"), [(310, 200), (636.5, 200), (636.6, None), (736.5, None), (736.6, 0)])
def test_reach_of_groups_that_share_is_told_where_no_height_in_their_drawer_is_better(
    floor: float, lost: int | None
) -> None:
    """A drawer 103 mm high less 3 mm on top, and the knuckle at 736.6 mm: from a floor of 636.6 mm on it reaches it."""
    one, two = group("x"), group("y")
    box = replace(drawer("a", 1, 1, floor), clear_height=mm(103))
    catalogue = Catalogue((), (), (Cabinet("cabinet", (box,)),), (), ())
    plan = Plan("set", "cabinet", "spread", (one, two), (placed("x", "a"), placed("y", "a", mm(10))), ())
    found = recount(catalogue, HOUSE, plan)
    assert "recut" not in found
    assert found.get("reach") == (None if lost is None else 2 * lost)
