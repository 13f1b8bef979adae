"""One good plan, drawn by hand, and for every hard rule a way to damage it that breaks that rule alone.

Sizes follow the house rules as shipped: side 1.6 mm, top 3 mm, margin 12 mm, fit 0.8 mm, web 6 mm, floor 6 mm.
"""

from __future__ import annotations

import ast
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from math import ceil, cos, hypot, pi, sin, sqrt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import matcher.verification
from matcher.house import default_house
from matcher.records import (
    Cabinet,
    Catalogue,
    Drawer,
    Group,
    GroupRule,
    Layout,
    Obstruction,
    Organizer,
    Piece,
    Pin,
    Placement,
    Plan,
    Pocket,
    SizedPiece,
)
from matcher.units import Number, Toward, inch, kg
from matcher.units import mm as exact_mm
from matcher.verification import RULES, Violation, recount, verify


def mm(value: Number) -> int:
    """Length of a value as written: 21.6 means 21.6, not the nearest binary fraction."""
    return exact_mm(Decimal(str(value)))


HOUSE = default_house()
SIDE, MARGIN, FIT, WEB, FLOOR = mm(1.6), mm(12), mm(0.8), mm(6), mm(6)
CORNER = 600
"""Inset that clears a corner of 20 mm: (20 - 13.6) x (1 - 1/sqrt 2) = 1.8745 mm, 599.8 units, rounded up."""


# -------------------------------------------------------------------------------------------------- the good plan


def piece(tool: str, kind: str, system: str = "", size: str = "", drive: str = "", group: str = "") -> Piece:
    return Piece("shop", tool, kind, 1, system=system, size=size, drive=drive, group=group)  # type: ignore[arg-type]


def sized(row: Piece, length: int, width: int, height: int, rank: int = 0, diameter: int | None = None) -> SizedPiece:
    return SizedPiece(row, length, width, height, diameter, kg(0.1), kg(0.1), rank, "estimated", "by hand")


def socket(size: str, drive: str, system: str) -> SizedPiece:
    row = piece(f"{drive} {size} {system} socket", "socket", system, size, drive)
    return sized(row, mm(38), mm(20), mm(20), diameter=mm(20))


def group_of(name: str, family: str, tier: int, pieces: tuple[SizedPiece, ...], made: Organizer | None = None) -> Group:
    mass = sum(one.mass_high * one.piece.count for one in pieces)
    cased = bool(pieces) and all(one.piece.kind == "cased" for one in pieces)
    return Group(name, family, tier, "", True, True, cased, pieces, made, mass, mass, None)


def rectangle(left: int, front: int, width: int, depth: int) -> tuple[tuple[int, int], ...]:
    return (left, front), (left + width, front), (left + width, front + depth), (left, front + depth)


def line(rooms: list[tuple[int, int]], depth: int, rise: int, standing: bool = False) -> Layout:
    """Pockets of the given widths and depths side by side, a web apart, flush in front."""
    pockets, x = [], 0
    for index, (wide, deep) in enumerate(rooms):
        pockets.append(Pocket(index, rectangle(x, 0, wide, deep), depth, rise, standing))
        x += wide + WEB
    return Layout(x - WEB, max(deep for _, deep in rooms), rise, tuple(pockets))


def placed_new(group: str, drawer: str, left: int, front: int, layout: Layout) -> Placement:
    width, depth = layout.width + 2 * MARGIN, layout.depth + 2 * MARGIN
    return Placement(
        group, drawer, "new", "new", "new", left, front, width, depth, layout.height, 0, 0, layout, MARGIN, MARGIN
    )


SOCKETS = group_of(
    "chrome sockets",
    "chrome sockets",
    1,
    (
        socket("1/2", "1/2", "inch"),
        socket("9/16", "1/2", "inch"),
        socket("3/8", "3/8", "inch"),
        socket("10", "3/8", "metric"),
        socket("13", "3/8", "metric"),
        socket("17", "1/2", "metric"),
    ),
)
DEEP = group_of(
    "deep chrome sockets",
    "chrome sockets",
    1,
    tuple(sized(piece(f"deep {n}", "deep socket", "metric", n, "3/8"), mm(60), mm(20), mm(20)) for n in ("10", "13")),
)
WRENCHES = group_of(
    "metric wrenches",
    "metric wrenches",
    4,
    tuple(
        sized(piece(f"wrench {n}", "combination wrench", "metric", n), mm(length), mm(25), mm(8), rank=int(n))
        for n, length in (("10", 140), ("13", 160), ("17", 180))
    ),
)
MADE = Organizer("shop", "pliers", mm(420), mm(295), mm(50), field_width=mm(360), field_depth=mm(250), family="pliers")
PLIERS = group_of("pliers", "pliers", 6, (), MADE)
CASE = group_of("drill", "drill", 7, (sized(piece("drill", "cased"), mm(300), mm(200), mm(100)),))

DRAWERS = (
    Drawer("bench", "A1", 1, 1, 1, mm(400), mm(300), mm(80), load_rating=kg(20), above_ground=mm(900)),
    Drawer("bench", "A2", 1, 1, 2, mm(400), mm(300), mm(80), above_ground=mm(800)),
    Drawer(
        "bench",
        "B1",
        2,
        2,
        1,
        mm(300),
        mm(400),
        mm(60),
        above_ground=mm(900),
        corner_radius=mm(20),
        liner=mm(2),
        obstructions=(Obstruction(mm(150), mm(100), mm(50), mm(300), mm(30)),),
    ),
    Drawer("bench", "B2", 2, 2, 2, mm(400), mm(300), mm(120), above_ground=mm(800)),
    Drawer("bench", "C1", 1, 2, 3, mm(700), mm(400), mm(150), slot="no foam", above_ground=mm(500)),
    Drawer("bench", "C2", 1, 2, 4, mm(700), mm(400), mm(150), slot="blocked", above_ground=mm(300)),
)
RULE_ROWS = (
    GroupRule("chrome sockets", "chrome sockets", 1, ("socket",)),
    GroupRule("deep chrome sockets", "chrome sockets", 1, ("deep socket",), share=True, house=True),
    GroupRule("metric wrenches", "metric wrenches", 4, ("combination wrench",), "metric", share=True, split=True),
)
KEPT_PINS = (
    Pin("in", "shop", "bench", "pliers", bank=1, row=2),
    Pin("in", group="drill", bank=2, row=3),
    Pin("not in", group="metric wrenches", bank=1),
    Pin("apart", group="metric wrenches", other="chrome sockets"),
    Pin("keep free", cabinet="bench", drawer="B2"),
    Pin("not in", "another set", group="drill"),
    Pin("keep free", cabinet="another cabinet"),
)
SOCKET_ROOM, DEEP_ROOM = (mm(21.6), mm(21.6)), (mm(21.6), mm(61.6))
SOCKET_LINE = line([SOCKET_ROOM] * 6, mm(20), FLOOR + mm(38), standing=True)
DEEP_LINE = line([DEEP_ROOM] * 2, mm(12), FLOOR + mm(20))
WRENCH_LINE = line([(mm(26.6), mm(length + 1.6)) for length in (140, 160, 180)], mm(8), FLOOR + mm(8))
CASE_LINE = Layout(mm(300), mm(200), mm(100), (Pocket(0, rectangle(0, 0, mm(300), mm(200)), 0, mm(100)),))
PLIERS_PLACED = Placement(
    "pliers",
    "A2",
    "trim",
    "trim",
    "as is",
    left=SIDE,
    front=SIDE,
    width=mm(396.8),
    depth=mm(295),
    height=mm(50),
    gap_width=0,
    gap_depth=mm(1.8),
    field_left=mm(18),
    field_front=mm(22.5),
)
CASE_PLACED = Placement(
    "drill", "C1", "cased", "cased", "cased", SIDE, SIDE, mm(300), mm(200), mm(100), 0, 0, CASE_LINE
)
PLAN = Plan(
    "shop",
    "bench",
    "spread",
    (SOCKETS, DEEP, WRENCHES, PLIERS, CASE),
    (
        placed_new("chrome sockets", "A1", SIDE, SIDE, SOCKET_LINE),
        placed_new("deep chrome sockets", "A1", SIDE + SOCKET_LINE.width + 2 * MARGIN, SIDE, DEEP_LINE),
        placed_new("metric wrenches", "B1", SIDE + CORNER, SIDE + CORNER, WRENCH_LINE),
        PLIERS_PLACED,
        CASE_PLACED,
    ),
    ("B2",),
)
CATALOGUE = Catalogue(
    pieces=tuple(one.piece for group in PLAN.groups for one in group.pieces),
    organizers=(MADE,),
    cabinets=(Cabinet("bench", DRAWERS),),
    group_rules=RULE_ROWS,
    relations=(),
    pins=KEPT_PINS,
)


@dataclass(frozen=True)
class Bench:
    """A catalogue and a plan for it."""

    catalogue: Catalogue = CATALOGUE
    plan: Plan = PLAN

    @property
    def violations(self) -> tuple[Violation, ...]:
        return verify(self.catalogue, HOUSE, self.plan)

    def place(self, group: str, **changes: object) -> Bench:
        placements = tuple(replace(p, **changes) if p.group == group else p for p in self.plan.placements)
        return replace(self, plan=replace(self.plan, placements=placements))

    def shift(self, group: str, left: int = 0, front: int = 0) -> Bench:
        old = self.placement(group)
        return self.place(group, left=old.left + left, front=old.front + front)

    def placement(self, group: str) -> Placement:
        return next(placed for placed in self.plan.placements if placed.group == group)

    def group(self, name: str, **changes: object) -> Bench:
        groups = tuple(replace(g, **changes) if g.name == name else g for g in self.plan.groups)
        return replace(self, plan=replace(self.plan, groups=groups))

    def pocket(self, group: str, index: int, **changes: object) -> Bench:
        layout = self.placement(group).layout
        assert layout is not None
        pockets = tuple(replace(p, **changes) if i == index else p for i, p in enumerate(layout.pockets))
        return self.place(group, layout=replace(layout, pockets=pockets))

    def drawer(self, name: str, **changes: object) -> Bench:
        drawers = tuple(replace(d, **changes) if d.name == name else d for d in self.catalogue.cabinets[0].drawers)
        return replace(self, catalogue=replace(self.catalogue, cabinets=(Cabinet("bench", drawers),)))

    def pins(self, *pins: Pin) -> Bench:
        return replace(self, catalogue=replace(self.catalogue, pins=(*self.catalogue.pins, *pins)))

    def rules(self, *rows: GroupRule) -> Bench:
        return replace(self, catalogue=replace(self.catalogue, group_rules=rows))

    def free(self, *names: str) -> Bench:
        return replace(self, plan=replace(self.plan, free_drawers=names))

    def without_pin(self, rule: str) -> Bench:
        kept = tuple(pin for pin in self.catalogue.pins if pin.rule != rule)
        return replace(self, catalogue=replace(self.catalogue, pins=kept))


GOOD = Bench()


def test_the_good_plan_holds() -> None:
    assert GOOD.violations == ()


# ------------------------------------------------------------------------------------------- one damage per rule


def without_last_pocket() -> Bench:
    return GOOD.place("chrome sockets", layout=replace(SOCKET_LINE, pockets=SOCKET_LINE.pockets[:-1]))


def placed_twice() -> Bench:
    again = replace(PLIERS_PLACED, drawer="B2")
    bench = GOOD.without_pin("in").without_pin("keep free").free()
    return replace(bench, plan=replace(bench.plan, placements=(*bench.plan.placements, again)))


def case_in_foam() -> Bench:
    return GOOD.without_pin("in").without_pin("keep free").free("C1").place("drill", drawer="B2")


def swapped_sizes() -> Bench:
    return GOOD.pocket("chrome sockets", 3, piece=4).pocket("chrome sockets", 4, piece=3)


def moved_pocket(by: int) -> Bench:
    ring = tuple((x + by, y) for x, y in SOCKET_LINE.pockets[2].ring)
    return GOOD.pocket("chrome sockets", 2, ring=ring)


def narrower_pocket(by: int) -> Bench:
    return GOOD.pocket("chrome sockets", 2, ring=rectangle(2 * mm(27.6), 0, mm(21.6) - by, mm(21.6)))


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


def test_the_checker_imports_nothing_that_makes_plans() -> None:
    allowed = {"verification", "records", "house", "units"}
    for file in Path(matcher.verification.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("matcher"):
                assert node.module.split(".")[1] in allowed, f"{file.name} imports {node.module}"


# ------------------------------------------------------------------------------------- every rule in its other ways


def rules_of(bench: Bench) -> set[str]:
    return {violation.rule for violation in bench.violations}


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
    two = (MADE, replace(MADE, group="files"))
    assert [(v.rule, v.thing) for v in Bench(replace(CATALOGUE, organizers=two)).violations] == [("R1", "files")]


def test_pieces_in_the_wrong_group_are_strangers() -> None:
    stranger = GroupRule("chrome sockets", "chrome sockets", 1, ("impact socket",))
    assert [(v.rule, v.excess) for v in GOOD.rules(stranger).violations] == [("R1", 6)]


def test_pockets_for_no_piece_are_counted() -> None:
    extra = Pocket(9, rectangle(0, 0, mm(10), mm(10)), mm(5), mm(10))
    layout = replace(DEEP_LINE, pockets=(*(replace(p, piece=9) for p in DEEP_LINE.pockets), extra))
    broken = GOOD.place("deep chrome sockets", layout=layout).violations
    assert [v.excess for v in broken if v.rule == "R1"] == [1, 1, 3]


def test_a_group_without_a_layout_holds_none_of_its_pieces() -> None:
    assert sum(v.excess for v in GOOD.place("chrome sockets", layout=None).violations if v.rule == "R1") == 6


def test_an_empty_group_is_refused() -> None:
    assert ("R1", "pliers") in {(v.rule, v.thing) for v in GOOD.group("pliers", organizer=None).violations}


def test_groups_unplaced_unknown_or_in_unknown_drawers() -> None:
    plan = replace(PLAN, placements=PLAN.placements[1:])
    assert [(v.rule, v.thing) for v in Bench(plan=plan).violations] == [("R2", "chrome sockets")]
    assert rules_of(GOOD.place("drill", drawer="Z9").free("B2", "C1")) == {"R2"}
    assert [v.excess for v in GOOD.place("drill", group="saw").free("B2", "C1").violations] == [1, 1]


def split_wrenches(**changes: object) -> Bench:
    """The wrenches in two organizers, in B1 and B2."""
    parts = tuple(
        replace(WRENCHES, name=name, part_of="metric wrenches", pieces=pieces, **changes)  # type: ignore[arg-type]
        for name, pieces in (("wrenches 1", WRENCHES.pieces[:2]), ("wrenches 2", WRENCHES.pieces[2:]))
    )
    rooms = [(mm(26.6), mm(length + 1.6)) for length in (140, 160, 180)]
    first = line(rooms[:2], mm(8), FLOOR + mm(8))
    second = line(rooms[2:], mm(8), FLOOR + mm(8))
    placements = (
        *(placed for placed in PLAN.placements if placed.group != "metric wrenches"),
        placed_new("wrenches 1", "B1", SIDE + CORNER, SIDE + CORNER, first),
        placed_new("wrenches 2", "B2", SIDE, SIDE, second),
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


def test_pins_mean_every_part_of_a_split_group() -> None:
    broken = split_wrenches().pins(Pin("in", group="metric wrenches", drawer="B1")).violations
    assert [(v.rule, v.thing) for v in broken] == [("R11", "wrenches 2")]


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


def test_sharing_needs_one_family_by_record_and_by_catalogue() -> None:
    assert rules_of(GOOD.group("deep chrome sockets", family="other")) == {"R7"}
    own = replace(RULE_ROWS[0], share=False)
    assert rules_of(GOOD.rules(own, *RULE_ROWS[1:])) == {"R7"}
    moved = replace(RULE_ROWS[0], family="impact sockets")
    assert rules_of(GOOD.rules(moved, *RULE_ROWS[1:])) == {"R7"}


def test_a_given_mass_above_the_recorded_one_counts() -> None:
    heavy = tuple(replace(one, piece=replace(one.piece, mass=kg(4))) for one in DEEP.pieces)
    bench = GOOD.group("deep chrome sockets", pieces=heavy)
    # six sockets of 0.1 kg and two of 4 kg
    assert [v.excess for v in bench.drawer("A1", load_rating=kg(8)).violations if v.rule == "R8"] == [kg(0.6)]


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
    near = whole.shift("metric wrenches", left=mm(136.4) - mm(107.275) + 20).violations
    assert [(v.rule, v.excess) for v in near] == [("R9", 20)]


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
    ],
)
def test_pins_of_every_kind_can_be_broken(pin: Pin) -> None:
    assert [(v.rule, v.excess) for v in GOOD.pins(pin).violations] == [("R11", 1)]


def test_webs_grow_with_the_deeper_pocket() -> None:
    """Three tenths of 25 mm are 7.5 mm: 1.5 mm more than there is, on both sides of the deep pocket."""
    assert [v.excess for v in GOOD.pocket("chrome sockets", 2, depth=mm(25)).violations] == [mm(1.5)] * 2


@given(turn=st.floats(0, 2 * pi), apart=st.integers(0, mm(6)))
def test_webs_are_measured_along_any_direction(turn: float, apart: int) -> None:
    """Two round pockets: the web is the distance of the centers less both radii, whatever the direction."""
    radius = mm(10.8)
    round_one = [(radius * cos(k * pi / 64), radius * sin(k * pi / 64)) for k in range(128)]
    far = 2 * radius + apart
    shift = (far * cos(turn), far * sin(turn))
    rings = [
        tuple((round(x + dx) + mm(60), round(y + dy) + mm(60)) for x, y in round_one) for dx, dy in ((0, 0), shift)
    ]
    pockets = tuple(replace(p, ring=ring) for p, ring in zip(DEEP_LINE.pockets, rings, strict=True))
    broken = GOOD.place("deep chrome sockets", layout=replace(DEEP_LINE, pockets=pockets)).violations
    excess = sum(v.excess for v in broken if v.rule == "R12")
    assert excess == pytest.approx(mm(6) - apart, abs=8)  # the polygon lies up to 0.025 mm inside its circle


def test_pockets_stay_in_their_field_and_trimmed_fields_in_their_margin() -> None:
    outside = GOOD.pocket("chrome sockets", 0, ring=rectangle(-25, 0, mm(21.6), mm(21.6)))
    assert [(v.rule, v.excess) for v in outside.violations] == [("R13", 25)]
    assert [(v.rule, v.excess) for v in GOOD.place("pliers", field_left=MARGIN - 8).violations] == [("R13", 8)]


@pytest.mark.parametrize(
    ("changes", "excess"),
    [
        ({"depth": mm(30) + 3}, 3),
        ({"rise": FLOOR + mm(38) - 4}, 4),
        ({"ring": ((0, 0), (10, 0))}, 1),
        ({"ring": ()}, 1),
        ({"ring": ((0, 0), (mm(21.6), mm(21.6)), (mm(21.6), 0), (0, mm(21.6)))}, 1),
    ],
)
def test_pockets_too_deep_too_low_or_no_shape(changes: dict[str, object], excess: int) -> None:
    broken = GOOD.pocket("chrome sockets", 0, **changes).violations
    assert [v.excess for v in broken if v.rule == "R14"] == [excess]


def test_a_standing_pocket_stays_in_reach_of_the_cutter() -> None:
    short = replace(HOUSE, cutters=tuple(replace(cutter, reach=mm(15)) for cutter in HOUSE.cutters))
    broken = verify(CATALOGUE, short, PLAN)
    assert [(v.rule, v.excess) for v in broken] == [("R14", mm(5))] * 6


def test_a_turned_pocket_has_room_if_its_tightest_rectangle_has() -> None:
    def turned(width: int) -> Bench:
        ring = tuple(
            (round(x * cos(0.5) - y * sin(0.5)) + mm(40), round(x * sin(0.5) + y * cos(0.5)))
            for x, y in rectangle(0, 0, width, mm(181.6))
        )
        return GOOD.pocket("metric wrenches", 2, ring=ring)

    assert "R14" not in rules_of(turned(mm(26.6) + 2))
    assert GOOD.pocket("metric wrenches", 2, ring=rectangle(0, 0, mm(181.6), mm(26.6))).violations != ()
    upright = GOOD.pocket("metric wrenches", 2, ring=rectangle(0, 0, mm(181.6), mm(26.6)))
    assert "R14" not in rules_of(upright)
    assert "R14" in rules_of(GOOD.pocket("metric wrenches", 2, ring=rectangle(0, 0, mm(181.6), mm(26.6) - 2)))


def test_a_given_size_beats_the_recorded_one() -> None:
    given = replace(WRENCHES.pieces[0], piece=replace(WRENCHES.pieces[0].piece, length=mm(145)))
    bench = GOOD.group("metric wrenches", pieces=(given, *WRENCHES.pieces[1:]))
    assert [v.excess for v in bench.violations if v.rule == "R14"] == [mm(5)]


def test_an_organizer_is_as_high_as_its_pieces_rise() -> None:
    assert [(v.rule, v.excess) for v in GOOD.place("chrome sockets", height=mm(44) - 6).violations] == [("R14", 6)]


# ------------------------------------------------------------------------------------------------ ways in, order


def trimmed_in(drawer: float, placed: float) -> tuple[Violation, ...]:
    """The worked example of reuse: outside 22 in, field 20.5 in, margin 1/2 in, clearance 1/8 in on each side."""
    house = replace(HOUSE, clearance=replace(HOUSE.clearance, side=inch(0.125)))
    house = replace(house, pocket=replace(house.pocket, margin=inch(0.5)))
    made = Organizer("set", "files", inch(22), inch(10), inch(1), field_width=inch(20.5), field_depth=inch(9))
    box = Drawer("cabinet", "one", 1, 1, 1, inch(drawer, Toward.DOWN), inch(10.25), inch(3))
    group = group_of("files", "files", 1, (), made)
    how = "trim" if placed < 22 else "as is" if drawer - placed < 0.5 else "shim"
    width = inch(placed, Toward.DOWN)
    field = inch(0.5) if how == "trim" else inch(0.75)
    place = Placement("files", "one", how, how, "as is", inch(0.125), inch(0.125), width, inch(10), inch(1), 0, 0)
    plan = Plan("set", "cabinet", "spread", (group,), (replace(place, field_left=field, field_front=inch(0.5)),), ())
    return verify(Catalogue((), (made,), (Cabinet("cabinet", (box,)),), (), ()), house, plan)


def test_the_worked_example_of_reuse() -> None:
    """Common practice, no source; the arithmetic: 22.25 as is, 21.75 trim 0.5 in, 21.70 short by 0.05 in, 23.5 shim."""
    assert trimmed_in(22.25, 22) == ()
    assert trimmed_in(21.75, 21.5) == ()
    assert trimmed_in(23.5, 22) == ()
    short = trimmed_in(21.70, 21.45)
    assert [(v.rule, v.excess) for v in short] == [("R15", inch(0.05))]
    assert [v.rule for v in trimmed_in(21.70, 21.5)] == ["R4"]


@pytest.mark.parametrize(
    "changes",
    [
        {"how": "as is"},  # better than its worse axis
        {"how_depth": "shim", "depth": mm(294)},  # turned or cut without saying so
        {"how_depth": "shim"},  # a gap of 1.8 mm needs no strip
        {"height": mm(49)},  # thinned
        {"how": "cased", "how_width": "cased", "how_depth": "cased"},
        {"how": "trim", "how_depth": "trim"},  # trimmed without cutting anything off
    ],
)
def test_a_ready_made_organizer_is_used_as_said(changes: dict[str, object]) -> None:
    assert rules_of(GOOD.place("pliers", **changes)) == {"R15"}


@pytest.mark.parametrize(
    "changes",
    [
        {"how": "re-cut", "how_width": "re-cut", "how_depth": "re-cut"},
        {"how": "as is", "how_width": "as is", "how_depth": "as is"},
        {"how": "unordered", "how_width": "unordered", "how_depth": "unordered"},
        {"layout": replace(WRENCH_LINE, ordered=False)},
        {"how_width": "trim"},
    ],
)
def test_a_new_organizer_is_called_new(changes: dict[str, object]) -> None:
    assert rules_of(GOOD.place("metric wrenches", **changes)) == {"R15"}


def recut_wrenches(width: float, how: str = "re-cut", across: str = "re-cut") -> set[str]:
    """The wrenches with a ready-made organizer of the given width and 100 mm depth that is not used."""
    made = Organizer("shop", "metric wrenches", mm(width), mm(100), mm(20))
    bench = GOOD.group("metric wrenches", organizer=made).place(
        "metric wrenches", how=how, how_width=across, how_depth=how
    )
    return rules_of(replace(bench, catalogue=replace(bench.catalogue, organizers=(made, MADE))))


def test_a_re_cut_organizer_has_a_ready_made_one_and_may_say_which_axis_was_fine() -> None:
    assert recut_wrenches(500) == set()
    assert recut_wrenches(200, across="as is") == set()
    assert recut_wrenches(500, across="as is") == {"R15"}
    assert recut_wrenches(500, how="new", across="new") == {"R15"}


def test_inch_stays_left_of_metric() -> None:
    """Pockets 2 (inch 3/8) and 3 (metric 10) change places: metric begins a web and a pocket before inch ends."""
    broken = GOOD.pocket("chrome sockets", 2, piece=3).pocket("chrome sockets", 3, piece=2).violations
    assert [(v.rule, v.excess) for v in broken] == [("R16", 2 * mm(21.6) + WEB)]


def test_drives_lie_outside_in() -> None:
    """Metric 13 (3/8) and 17 (1/2) change places: the column of 1/2 now ends a pocket and a web before 3/8 does."""
    broken = GOOD.pocket("chrome sockets", 4, piece=5).pocket("chrome sockets", 5, piece=4).violations
    assert [(v.rule, v.excess) for v in broken] == [("R16", 2 * mm(21.6) + WEB)]


def wrench_lines(order: list[tuple[int, int, int]]) -> set[str]:
    """Wrenches as (index, left, front) in mm, 26.6 mm wide each, in an organizer and a drawer that are large enough."""
    lengths = [141.6, 161.6, 181.6]
    pockets = tuple(
        Pocket(index, rectangle(mm(left), mm(front), mm(26.6), mm(lengths[index])), mm(8), mm(14))
        for index, left, front in order
    )
    layout = Layout(mm(400), mm(600), mm(14), pockets)
    bench = GOOD.drawer("B1", inside_width=mm(900), inside_depth=mm(900), obstructions=())
    return rules_of(bench.place("metric wrenches", layout=layout, width=mm(424), depth=mm(624)))


def test_lines_read_from_left_to_right_and_front_to_back() -> None:
    assert wrench_lines([(0, 0, 0), (1, 40, 0), (2, 80, 0)]) == set()
    assert wrench_lines([(0, 0, 0), (1, 40, 50), (2, 80, 0)]) == set(), "every second one set back"
    assert wrench_lines([(0, 0, 0), (1, 40, 0), (2, 0, 180)]) == set(), "two lines"
    assert wrench_lines([(2, 0, 0), (0, 0, 200), (1, 40, 200)]) == {"R16"}, "the line of larger ones in front"
    assert wrench_lines([(0, 40, 0), (1, 0, 50), (2, 80, 0)]) == {"R16"}, "staggered and out of order"
    assert wrench_lines([(0, 80, 0), (1, 40, 0), (2, 0, 0)]) == {"R16"}, "from right to left"


def test_a_lost_order_is_no_fault_where_none_is_claimed() -> None:
    bench = swapped_sizes()
    layout = bench.placement("chrome sockets").layout
    assert layout is not None
    loose = replace(layout, ordered=False)
    told = {"how": "unordered", "how_width": "unordered", "how_depth": "unordered", "layout": loose}
    assert bench.place("chrome sockets", **told).violations == ()


def test_ranks_decide_where_sizes_are_no_numbers() -> None:
    names = ("T25", "T8", "T9")
    pieces = tuple(
        replace(one, piece=replace(one.piece, size=name), rank=rank)
        for one, name, rank in zip(WRENCHES.pieces, names, (25, 8, 9), strict=True)
    )
    broken = GOOD.group("metric wrenches", pieces=pieces).violations
    assert [v.excess for v in broken if v.rule == "R16"] == [2]


def test_free_drawers_named_twice_left_out_or_blocked() -> None:
    assert [(v.rule, v.excess) for v in GOOD.free("B2", "B2").violations] == [("R17", 1)]
    assert [v.thing for v in GOOD.free().violations] == ["B2"]
    assert [v.thing for v in GOOD.free("B2", "C2").violations] == ["C2"]
