"""For every hard rule a way to damage a good plan that breaks that rule alone; then other ways, by what is placed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import ceil, hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

import matcher.verification
from matcher.records.given import GroupRule, Pin
from matcher.records.laid_out import Notch, Pocket
from matcher.verification.checker import verify
from matcher.verification.goals import recount
from matcher.verification.hard_rules import RULES
from tests.bench import (
    CASE,
    CATALOGUE,
    CORNER,
    DEEP,
    DEEP_LINE,
    FINGER_SLOT,
    FLOOR,
    GOOD,
    HOUSE,
    MADE,
    MARGIN,
    PLAN,
    PLIERS,
    PLIERS_PLACED,
    RULE_ROWS,
    SIDE,
    SOCKET_LINE,
    SOCKETS,
    WEB,
    WRENCH_LINE,
    WRENCHES,
    Bench,
    group_of,
    kg,
    line,
    mm,
    on_base,
    placed_new,
    rectangle,
    rules_of,
)


def test_the_good_plan_holds() -> None:
    assert GOOD.violations == ()
    assert on_base(GOOD).violations == ()


# ------------------------------------------------------------------------------------------- one damage per rule


def without_last_pocket() -> Bench:
    """The field ends where the fifth pocket does."""
    width = SOCKET_LINE.width - WEB - mm(21.6)
    return GOOD.place("chrome sockets", layout=replace(SOCKET_LINE, width=width, pockets=SOCKET_LINE.pockets[:-1]))


def placed_twice() -> Bench:
    again = replace(PLIERS_PLACED, drawer="B2")
    bench = GOOD.without_pin("in").without_pin("keep free").free()
    return replace(bench, plan=replace(bench.plan, placements=(*bench.plan.placements, again)))


CLEAR = {"gap_width": mm(96.8), "gap_depth": mm(96.8)}
"""What B2, 400 x 300 mm, leaves beside a case of 300 x 200 mm."""


def case_in_foam() -> Bench:
    return GOOD.without_pin("in").without_pin("keep free").free("C1").place("drill", drawer="B2", **CLEAR)


def swapped_sizes() -> Bench:
    return GOOD.pocket("chrome sockets", 3, piece=4).pocket("chrome sockets", 4, piece=3)


def moved_pocket(by: int) -> Bench:
    ring = tuple((x + by, y) for x, y in SOCKET_LINE.pockets[2].ring)
    return GOOD.pocket("chrome sockets", 2, ring=ring)


def narrower_pocket(by: int) -> Bench:
    return GOOD.pocket("chrome sockets", 2, ring=rectangle(2 * mm(27.6), 0, mm(21.6) - by, mm(21.6)))


def thicker_base(by: int) -> Bench:
    """The sockets in foam with another base; their pieces may rise a millimeter more than they need to."""
    bench = on_base(GOOD)
    laid = bench.placement("chrome sockets").layout
    assert laid is not None
    return bench.place("chrome sockets", layout=replace(laid, thickness=laid.thickness + by, base=laid.base + by))


DAMAGES: dict[str, tuple[Callable[[], Bench], str, int]] = {
    "R1": (without_last_pocket, "1/2 17 metric socket", 1),
    "R2": (placed_twice, "pliers", 1),
    "R3": (case_in_foam, "drill", 1),
    "R4": (lambda: GOOD.shift("pliers", left=-100), "pliers", 100),
    "R5": (lambda: GOOD.place("pliers", height=mm(80) - mm(3) + 7), "pliers", 7),
    "R6": (lambda: GOOD.shift("deep chrome sockets", left=-50), "A1", 50),
    "R7": (lambda: GOOD.group("chrome sockets", share=False), "A1", 1),
    # eight sockets of 0.1 kg each, rated 5 mass units too low
    "R8": (lambda: GOOD.drawer("A1", load_rating=kg(0.8) - 5), "A1", 5),
    # the wrenches are 115.8 mm wide and begin 3.475 mm from the wall: 119.275 mm, and 148.4 mm is where they must end
    "R9": (lambda: GOOD.shift("metric wrenches", left=mm(148.4) - mm(119.275) + 30), "metric wrenches", 30),
    # a field corner 13.6 mm from both walls, radius 20 - 13.6 = 6.4 mm: (sqrt 2 - 1) x 6.4 mm beyond the arc
    "R10": (lambda: GOOD.shift("metric wrenches", -CORNER, -CORNER), "metric wrenches", ceil((sqrt(2) - 1) * mm(6.4))),
    "R11": (lambda: GOOD.pins(Pin("not in", group="pliers", row=2)), "pliers", 1),
    "R12": (lambda: moved_pocket(11), "chrome sockets", 11),
    "R13": (lambda: GOOD.place("chrome sockets", field_left=MARGIN - 9), "chrome sockets", 9),
    "R14": (lambda: narrower_pocket(40), "chrome sockets", 40),
    # field 360 mm and two margins of 12 mm allow 384 mm
    "R15": (lambda: GOOD.place("pliers", width=mm(384) - 13, field_left=MARGIN - 6), "pliers", 13),
    "R16": (swapped_sizes, "chrome sockets", 1),
    "R17": (lambda: GOOD.free("A1", "B2"), "A1", 1),
    # a base 5 units thicker than the house's, on top sheets as they are
    "R18": (lambda: thicker_base(5), "chrome sockets", 5),
}


@pytest.mark.parametrize("rule", RULES)
def test_each_rule_is_broken_alone_and_measured(rule: str) -> None:
    damage, thing, excess = DAMAGES[rule]
    broken = damage().violations
    assert [(violation.rule, violation.thing, violation.excess) for violation in broken] == [(rule, thing, excess)]
    assert broken[0].text


def test_every_rule_has_a_damage_a_check_and_one_sentence() -> None:
    assert list(DAMAGES) == list(RULES) == list(matcher.verification.checker.CHECKS)
    assert all(text.endswith(".") and text.count(".") == 1 for text in RULES.values())


# ------------------------------------------------------------------------------------- every rule in its other ways


def test_an_unknown_cabinet_is_said_first() -> None:
    bench = Bench(plan=replace(PLAN, cabinet="chest"))
    assert [(v.rule, v.thing) for v in bench.violations] == [("R2", "chest")]
    assert recount(CATALOGUE, HOUSE, bench.plan) == {}


def test_pieces_lost_between_set_and_groups_are_counted() -> None:
    more = replace(CATALOGUE, pieces=(*CATALOGUE.pieces[1:], replace(CATALOGUE.pieces[0], count=4)))
    assert [(v.rule, v.excess) for v in Bench(more).violations] == [("R1", 3)]


def test_pieces_of_other_sets_are_not_asked_for() -> None:
    other = replace(CATALOGUE.pieces[0], set="garage")
    both = replace(CATALOGUE, pieces=(*CATALOGUE.pieces, other))
    assert Bench(both).violations == ()
    assert [v.rule for v in Bench(both, replace(PLAN, set="garage+shop")).violations] == ["R1"]


def test_a_measured_size_that_the_plan_does_not_know_is_another_piece() -> None:
    wider = replace(CATALOGUE, pieces=(replace(CATALOGUE.pieces[0], width=mm(21)), *CATALOGUE.pieces[1:]))
    assert rules_of(Bench(wider)) == {"R1"}


def test_organizers_left_out_or_made_up_are_found() -> None:
    assert rules_of(Bench(replace(CATALOGUE, organizers=()))) == {"R1"}
    other = (MADE, replace(MADE, set="garage"))
    assert Bench(replace(CATALOGUE, organizers=other)).violations == ()
    two = (MADE, replace(MADE, group="files"))
    assert [(v.rule, v.thing) for v in Bench(replace(CATALOGUE, organizers=two)).violations] == [("R1", "files")]


def test_pieces_in_the_wrong_group_are_strangers() -> None:
    stranger = GroupRule("chrome sockets", "chrome sockets", 1, ("impact socket",))
    rules = GOOD.rules(stranger, *RULE_ROWS[1:])
    assert [(v.rule, v.excess) for v in rules.violations] == [("R1", 6)]


def test_a_piece_goes_where_its_own_row_puts_it() -> None:
    def named(group: str) -> Bench:
        moved = tuple(replace(one, piece=replace(one.piece, group=group)) for one in DEEP.pieces)
        own = tuple(one.piece for one in moved)
        rest = tuple(row for row in CATALOGUE.pieces if row.kind != "deep socket")
        bench = GOOD.group("deep chrome sockets", pieces=moved)
        return replace(bench, catalogue=replace(bench.catalogue, pieces=(*rest, *own)))

    assert named("deep chrome sockets").violations == ()
    assert [(v.rule, v.thing, v.excess) for v in named("chrome sockets").violations] == [
        ("R1", "deep chrome sockets", 2)
    ]


def test_two_groups_of_one_name_and_parts_of_a_ready_made_organizer() -> None:
    empty = replace(PLIERS, organizer=None)
    twice = Bench(plan=replace(PLAN, groups=(empty, *PLAN.groups))).violations
    assert [(v.rule, v.excess) for v in twice if v.rule == "R2"] == [("R2", 1)]
    assert [(v.rule, v.thing) for v in GOOD.group("pliers", part_of="tools").violations] == [
        ("R2", "tools"),
        ("R2", "pliers"),
    ]


def test_parts_are_named_by_their_place_and_run_in_reading_order() -> None:
    """The wrenches are 10, 13 and 17: with the names exchanged the largest would come before the others."""
    first, second = "metric wrenches (1 of 2)", "metric wrenches (2 of 2)"
    split = split_wrenches().plan

    def renamed(other: dict[str, str]) -> list[tuple[str, str, int]]:
        groups = tuple(replace(group, name=other.get(group.name, group.name)) for group in split.groups)
        placements = tuple(replace(one, group=other.get(one.group, one.group)) for one in split.placements)
        bench = Bench(plan=replace(split, groups=groups, placements=placements)).without_pin("keep free")
        return [(v.rule, v.thing, v.excess) for v in bench.violations]

    assert renamed({first: second, second: first}) == [("R2", "metric wrenches", 2)]
    assert renamed({first: "metric wrenches 1"}) == [("R2", "metric wrenches 1", 1)]


def test_pockets_for_no_piece_are_counted() -> None:
    past_the_end = GOOD.pocket("chrome sockets", 5, piece=6).violations
    assert [(v.rule, v.excess) for v in past_the_end] == [("R1", 1), ("R1", 1)]
    extra = Pocket(9, rectangle(0, 0, mm(10), mm(10)), mm(5), mm(10))
    layout = replace(DEEP_LINE, pockets=(*(replace(p, piece=9) for p in DEEP_LINE.pockets), extra))
    broken = GOOD.place("deep chrome sockets", layout=layout).violations
    assert [v.excess for v in broken if v.rule == "R1"] == [1, 1, 3]


def test_the_catalogue_s_own_rows_say_first_where_a_kind_belongs() -> None:
    """Deep sockets are of the house's row, unless a row of the catalogue names their kind, or their kind and system."""
    for row, strange in (
        (GroupRule("long", kinds=("deep socket",), house=True), 0),
        (GroupRule("long", kinds=("deep socket",)), 2),
        (GroupRule("long", kinds=("deep socket",), system="metric", house=True), 2),
        (GroupRule("long", kinds=("deep socket",), system="inch"), 0),
    ):
        broken = GOOD.rules(*RULE_ROWS, row).violations
        assert [(v.rule, v.excess) for v in broken] == [("R1", strange)] * (strange > 0)


def test_a_group_without_a_layout_holds_none_of_its_pieces() -> None:
    assert sum(v.excess for v in GOOD.place("chrome sockets", layout=None).violations if v.rule == "R1") == 6


def test_an_empty_group_is_refused() -> None:
    assert ("R1", "pliers") in {(v.rule, v.thing) for v in GOOD.group("pliers", organizer=None).violations}


def test_groups_unplaced_unknown_or_in_unknown_drawers() -> None:
    plan = replace(PLAN, placements=PLAN.placements[1:])
    assert [(v.rule, v.thing) for v in Bench(plan=plan).violations] == [("R2", "chrome sockets")]
    assert rules_of(GOOD.place("drill", drawer="Z9").free("B2", "C1")) == {"R2"}
    renamed = tuple(replace(placed, group="saw") if placed.group == "drill" else placed for placed in PLAN.placements)
    bench = Bench(plan=replace(PLAN, placements=renamed)).free("B2", "C1")
    assert [(v.rule, v.thing) for v in bench.violations] == [("R2", "drill"), ("R2", "saw")]


SLOTS = (
    Notch(rectangle(mm(10), mm(130), mm(40), mm(28)), mm(8), (0, 1)),
    Notch(rectangle(mm(3), mm(168), mm(20), mm(28)), mm(8), (0,)),
)
"""A notch through two wrenches behind the shorter one, and one behind the third, 181.6 mm long."""


def split_wrenches(**changes: object) -> Bench:
    """The wrenches in two organizers, in B1 and B2."""
    mine = [("metric wrenches (1 of 2)", WRENCHES.pieces[:2]), ("metric wrenches (2 of 2)", WRENCHES.pieces[2:])]
    named = {"family": WRENCHES.family, "tier": WRENCHES.tier}
    parts = tuple(
        replace(group_of(name, pieces=pieces, **named), part_of="metric wrenches", **changes)  # type: ignore[arg-type]
        for name, pieces in mine
    )
    rooms = [(mm(26.6), mm(length + 1.6)) for length in (140, 160, 180)]
    first = replace(line(rooms[:2], mm(8), FLOOR + mm(8)), notches=SLOTS[:1])
    second = replace(line(rooms[2:], mm(8), FLOOR + mm(8)), notches=SLOTS[1:], depth=mm(168 + 28))
    placements = (
        *(placed for placed in PLAN.placements if placed.group != "metric wrenches"),
        placed_new("metric wrenches (1 of 2)", "B1", SIDE + CORNER, SIDE + CORNER, first),
        placed_new("metric wrenches (2 of 2)", "B2", SIDE, SIDE, second),
    )
    groups = (SOCKETS, DEEP, *parts, PLIERS, CASE)
    plan = replace(PLAN, groups=groups, placements=placements, free_drawers=())
    return Bench(plan=plan).without_pin("keep free")


def test_a_group_may_be_split_if_all_say_so() -> None:
    assert split_wrenches().violations == ()
    assert [(v.rule, v.thing, v.excess) for v in split_wrenches(split=False).violations] == [
        ("R2", "metric wrenches", 2)
    ]
    forbidden = split_wrenches().rules(*RULE_ROWS[:2], replace(RULE_ROWS[2], split=False))
    assert rules_of(forbidden) == {"R2"}


def test_parts_of_a_group_that_no_row_names_are_of_one_family() -> None:
    """They bear its name, each its own number, and may share a drawer."""
    bench = split_wrenches().rules(*RULE_ROWS[:2], replace(RULE_ROWS[2], family=""))
    bench = bench.place("metric wrenches (2 of 2)", drawer="B1")
    assert "R7" not in rules_of(bench)


def test_pins_mean_every_part_of_a_split_group() -> None:
    broken = split_wrenches().pins(Pin("in", group="metric wrenches", drawer="B1")).violations
    assert [(v.rule, v.thing) for v in broken] == [("R11", "metric wrenches (2 of 2)")]


def test_slots_take_what_they_are_for() -> None:
    assert {v.thing for v in GOOD.drawer("A2", slot="no foam").violations} == {"pliers"}
    assert rules_of(GOOD.drawer("C1", slot="blocked")) == {"R3"}
    allowing = replace(HOUSE, layout=replace(HOUSE.layout, cased_in_foam=True))
    in_foam = case_in_foam()
    assert verify(in_foam.catalogue, allowing, in_foam.plan) == ()


@given(left=st.integers(-20_000, 20_000), front=st.integers(-20_000, 20_000))
def test_walls_are_kept_or_the_overshoot_is_told(left: int, front: int) -> None:
    bench = GOOD.shift("drill", left, front)
    over = [max(-left, left + mm(300) + 2 * SIDE - mm(700)), max(-front, front + mm(200) + 2 * SIDE - mm(400))]
    assert [v.excess for v in bench.violations if v.rule == "R4"] == [off for off in over if off > 0]


@given(left=st.integers(-70_000, 70_000), front=st.integers(-40_000, 40_000))
def test_overlap_is_the_way_apart(left: int, front: int) -> None:
    """An overlap is gone once one of the two moves by just that much along one axis."""
    bench = GOOD.shift("deep chrome sockets", left, front)
    for violation in (v for v in bench.violations if v.rule == "R6"):
        ways = [(violation.excess, 0), (-violation.excess, 0), (0, violation.excess), (0, -violation.excess)]
        assert any("R6" not in rules_of(bench.shift("deep chrome sockets", *way)) for way in ways)
        short = [tuple((abs(step) - 1) * (step > 0) - (abs(step) - 1) * (step < 0) for step in way) for way in ways]
        assert all("R6" in rules_of(bench.shift("deep chrome sockets", *way)) for way in short)


def test_sharing_needs_the_groups_will_and_the_houses_for_families() -> None:
    """Families may mix unless the house says no; by record and by catalogue."""
    never = replace(HOUSE, together=replace(HOUSE.together, mix="no"))
    strange = GOOD.group("deep chrome sockets", family="other")
    assert rules_of(strange) == set()
    assert {v.rule for v in verify(strange.catalogue, never, strange.plan)} == {"R7"}
    own = replace(RULE_ROWS[0], share=False)
    assert rules_of(GOOD.rules(own, *RULE_ROWS[1:])) == {"R7"}
    moved = replace(RULE_ROWS[0], family="impact sockets")
    bench = GOOD.rules(moved, *RULE_ROWS[1:])
    assert {v.rule for v in verify(bench.catalogue, never, bench.plan)} == {"R7"}


def test_a_given_mass_above_the_recorded_one_counts() -> None:
    heavy = tuple(replace(one, piece=replace(one.piece, mass=kg(4))) for one in DEEP.pieces)
    bench = GOOD.group("deep chrome sockets", pieces=heavy)
    # six sockets of 0.1 kg and two of 4 kg, of which the group is said to weigh 0.2 kg
    broken = [(v.thing, v.excess) for v in bench.drawer("A1", load_rating=kg(8)).violations if v.rule == "R8"]
    assert broken == [("deep chrome sockets", kg(7.8)), ("A1", kg(0.6))]


def test_a_group_weighs_what_its_pieces_do() -> None:
    for bound in ("mass_low", "mass_high"):
        broken = GOOD.group("chrome sockets", **{bound: kg(0.6) - 1}).violations
        assert [(v.rule, v.thing, v.excess) for v in broken] == [("R8", "chrome sockets", 1)]


def test_no_rating_means_nothing_to_check() -> None:
    assert GOOD.drawer("A1", load_rating=None).violations == ()


def test_unordered_foam_may_be_cut_round_an_obstruction() -> None:
    """Its pockets then keep side clearance and margin, 13.6 mm, from the block at 150 mm."""
    loose = replace(WRENCH_LINE, ordered=False)
    whole = GOOD.place(
        "metric wrenches", how="unordered", how_width="unordered", how_depth="unordered", layout=loose, width=mm(280)
    )
    assert whole.violations == ()
    # the last pocket ends at 1.6 + 1.875 + 12 + 91.8 = 107.275 mm
    far = MARGIN + mm(136.4) - mm(107.275)
    assert whole.place("metric wrenches", field_left=far).violations == ()
    near = whole.place("metric wrenches", field_left=far + 20).violations
    assert [(v.rule, v.excess) for v in near] == [("R9", 20)]


def test_notches_keep_off_obstructions_and_corners_as_pockets_do() -> None:
    """The third wrench begins 65.2 mm from the first: a notch of its own reaches 10 mm beyond it to either side."""
    beside = Notch(rectangle(mm(55.2), mm(150), mm(46.6), mm(28)), mm(8), (2,))
    layout = replace(WRENCH_LINE, notches=(FINGER_SLOT, beside), width=mm(101.8), ordered=False)
    told = {"how": "unordered", "how_width": "unordered", "how_depth": "unordered", "width": mm(280)}
    whole = GOOD.place("metric wrenches", layout=layout, **told)
    # the block begins at 150 mm; 13.6 mm are kept from it
    far = mm(136.4) - SIDE - CORNER - mm(101.8)
    clear = whole.place("metric wrenches", field_left=far).violations
    assert "R9" not in {violation.rule for violation in clear}
    near = whole.place("metric wrenches", field_left=far + 20).violations
    assert [violation.excess for violation in near if violation.rule == "R9"] == [20]
    corner = Notch(rectangle(0, 0, mm(26.6), mm(28)), mm(8), (0,))
    inside = tuple(
        replace(pocket, ring=tuple((x, y + mm(20)) for x, y in pocket.ring)) for pocket in WRENCH_LINE.pockets
    )
    for notches, broken in (((), False), ((corner,), True)):
        bench = GOOD.place(
            "metric wrenches", layout=replace(WRENCH_LINE, pockets=inside, notches=notches), left=SIDE, front=SIDE
        )
        assert ("R10" in rules_of(bench)) == broken


@given(left=st.integers(0, mm(20)), front=st.integers(0, mm(20)))
def test_corner_excess_is_the_distance_past_the_arc(left: int, front: int) -> None:
    """Distance from the center of the arc, 20 mm from both walls, less its radius of 6.4 mm."""
    bench = GOOD.place("metric wrenches", left=left, front=front)
    dx, dy = mm(20) - MARGIN - left, mm(20) - MARGIN - front
    past = ceil(hypot(dx, dy) - mm(6.4)) if dx > 0 and dy > 0 else 0
    assert [v.excess for v in bench.violations if v.rule == "R10"] == ([past] if past > 0 else [])


def test_a_ready_made_organizer_counts_with_the_margin_it_has() -> None:
    """Its field is 18 mm and 22.5 mm in: with the corner's radius 40 mm less 1.6 mm and 12 mm, 26.4 mm are left."""
    assert GOOD.drawer("A2", corner_radius=mm(20)).violations == ()
    broken = GOOD.drawer("A2", corner_radius=mm(40)).violations
    dx, dy = mm(40) - SIDE - mm(18), mm(40) - SIDE - mm(22.5)
    expected = ceil(hypot(dx, dy) - mm(26.4))
    assert expected <= 0
    assert broken == ()
    assert rules_of(GOOD.drawer("A2", corner_radius=mm(90))) == {"R10"}


def test_a_case_keeps_its_own_corner_clear() -> None:
    broken = GOOD.drawer("C1", corner_radius=mm(11.6)).violations
    assert [(v.rule, v.excess) for v in broken] == [("R10", ceil((sqrt(2) - 1) * mm(10)))]


@pytest.mark.parametrize(
    "pin",
    [
        Pin("in", group="pliers", drawer="A2", bank=2),
        Pin("in", "shop", group="pliers", drawer="Z9"),
        Pin("not in", group="drill", bank=2),
        Pin("apart", group="chrome sockets", other="deep chrome sockets"),
        Pin("keep free", drawer="A2"),
        Pin("keep free", row=2, bank=1),
        Pin("keep free", count=2),
        Pin("keep free", count=1, height=mm(50), bank=1),
    ],
)
def test_pins_of_every_kind_can_be_broken(pin: Pin) -> None:
    assert [(v.rule, v.excess) for v in GOOD.pins(pin).violations] == [("R11", 1)]


def test_so_many_drawers_stay_free_of_the_height_above_their_liner() -> None:
    """B2 alone is free; blocked drawers never count."""
    lined, height = GOOD.drawer("B2", liner=mm(2)), mm(118)
    assert lined.pins(Pin("keep free", count=1, height=height)).violations == ()
    broken = lined.pins(Pin("keep free", count=3), Pin("keep free", count=1, height=height + 1)).violations
    assert [(v.rule, v.thing, v.excess) for v in broken] == [("R11", "bench", 2), ("R11", "bench", 1)]


def test_free_drawers_named_twice_left_out_or_blocked() -> None:
    assert [(v.rule, v.excess) for v in GOOD.free("B2", "B2").violations] == [("R17", 1)]
    assert [v.thing for v in GOOD.free().violations] == ["B2"]
    assert [v.thing for v in GOOD.free("B2", "C2").violations] == ["C2"]


def test_foam_has_the_base_of_the_house_and_the_floor_is_left_in_it() -> None:
    """9.6 mm of base less 6 of floor and twice 0.8 of tolerance: 2 mm may be cut into it, not a unit more."""
    based = on_base(GOOD)
    assert "R18" not in rules_of(based.pocket("metric wrenches", 0, depth=mm(10)))
    deeper = based.pocket("metric wrenches", 0, depth=mm(10) + 1).violations
    assert [v.excess for v in deeper if v.rule == "R18"] == [1]
    one_sheet = replace(based.house, pocket=replace(based.house.pocket, base=0))
    assert [(v.rule, v.excess) for v in replace(based, house=one_sheet).violations] == [("R18", mm(9.6))] * 3
    plain = {v.thing for v in replace(GOOD, house=based.house).violations if v.rule == "R18"}
    assert plain == {"chrome sockets", "deep chrome sockets", "metric wrenches"}, "no case, no tray"
