"""Hard rules about pockets, about how an organizer gets in, and about order: ways to break them, and ways not to."""

from __future__ import annotations

from dataclasses import replace
from math import ceil, cos, pi, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matcher.records.answered import Placement, Plan
from matcher.records.given import Cabinet, Catalogue, Drawer, Organizer
from matcher.records.laid_out import Layout, Notch, Pocket
from matcher.records.units import Toward, inch
from matcher.verification.checker import verify
from matcher.verification.hard_rules import Violation
from tests.bench import (
    CASE,
    CATALOGUE,
    DEEP,
    DEEP_LINE,
    FINGER_SLOT,
    FLOOR,
    GOOD,
    HOUSE,
    MADE,
    MARGIN,
    PLAN,
    SOCKET_LINE,
    SOCKETS,
    WEB,
    WRENCH_LINE,
    WRENCHES,
    Bench,
    group_of,
    mm,
    rectangle,
    rules_of,
)


def test_webs_grow_with_the_deeper_pocket() -> None:
    """Three tenths of 25 mm are 7.5 mm: 1.5 mm more than there is, on both sides of the deep pocket."""
    broken = GOOD.pocket("chrome sockets", 2, depth=mm(25)).violations
    assert [v.excess for v in broken if v.rule == "R12"] == [mm(1.5)] * 2


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


def two_cases(apart: int, ordered: bool = True) -> Bench:
    """Two drills in one drawer, the second so far behind the end of the first."""
    pockets = tuple(Pocket(0, rectangle(0, front, mm(300), mm(150)), 0, mm(100)) for front in (0, mm(150) + apart))
    layout = Layout(mm(300), mm(300) + apart, mm(100), pockets, ordered)
    drill = replace(CASE.pieces[0], piece=replace(CASE.pieces[0].piece, count=2), width=mm(150))
    pieces = tuple(drill.piece if one.tool == "drill" else one for one in CATALOGUE.pieces)
    mass = 2 * drill.mass_high
    bench = GOOD.group("drill", pieces=(drill,), mass_low=mass, mass_high=mass)
    bench = bench.place("drill", layout=layout, depth=mm(310), gap_depth=mm(86.8))
    return replace(bench, catalogue=replace(CATALOGUE, pieces=pieces))


def test_cases_touch_but_do_not_overlap() -> None:
    assert two_cases(0).violations == ()
    assert [(v.rule, v.thing, v.excess) for v in two_cases(-70).violations] == [("R12", "drill", 70)]


def test_cases_are_called_cased_or_unordered_where_no_order_is_claimed() -> None:
    told = {"how": "unordered", "how_width": "unordered", "how_depth": "unordered"}
    assert two_cases(0, ordered=False).place("drill", **told).violations == ()
    assert [(v.rule, v.excess) for v in two_cases(0).place("drill", **told).violations] == [("R15", 3)]


def test_pockets_stay_in_their_field_and_trimmed_fields_in_their_margin() -> None:
    outside = GOOD.pocket("chrome sockets", 0, ring=rectangle(-25, 0, mm(21.6), mm(21.6)))
    assert [(v.rule, v.excess) for v in outside.violations] == [("R13", 25)]
    assert [(v.rule, v.excess) for v in GOOD.place("pliers", field_left=MARGIN - 8).violations] == [("R13", 8)]


@pytest.mark.parametrize(
    ("changes", "excess"),
    [
        ({"depth": mm(20) + 3}, 3),
        ({"rise": FLOOR + mm(38) - 4}, 4),
        ({"ring": ((0, 0), (10, 0))}, 1),
        ({"ring": ()}, 1),
        ({"ring": ((0, 0), (mm(21.6), mm(21.6)), (mm(21.6), 0), (0, mm(21.6)))}, 1),
    ],
)
def test_pockets_too_deep_too_low_or_no_shape(changes: dict[str, object], excess: int) -> None:
    broken = GOOD.pocket("chrome sockets", 0, **changes).violations
    assert {v.excess for v in broken if v.rule == "R14"} == {excess}


def test_how_deep_a_pocket_is() -> None:
    """Of a socket of 38 mm half goes into the foam, 19 mm; 20 mm let it rise to 44 mm in foam of 26 mm, no higher than
    it must over the floor."""
    lower = replace(SOCKET_LINE, height=mm(45))
    bench = GOOD.place("chrome sockets", layout=lower, height=mm(45))
    assert bench.pocket("chrome sockets", 0, depth=mm(19), rise=mm(45)).violations == ()
    assert [v.excess for v in bench.pocket("chrome sockets", 0, depth=mm(19) - 1, rise=mm(46)).violations] == [1, mm(1)]


def test_a_piece_that_could_stand_lies_in_foam_that_may_be_chosen_for_it_standing() -> None:
    """Of deep sockets 20 mm thick 12 mm go into the foam; foam of 18 mm leaves 12 mm over its floor, 17 mm leave 11."""
    standing = tuple(replace(one, diameter=mm(20)) for one in DEEP.pieces)
    layout = replace(DEEP_LINE, thickness=mm(17), height=mm(26))
    for pieces, broken in ((DEEP.pieces, [mm(1)] * 3), (standing, [])):
        bench = GOOD.group("deep chrome sockets", pieces=pieces)
        pockets = tuple(replace(pocket, depth=mm(11)) for pocket in layout.pockets)
        bench = bench.place("deep chrome sockets", layout=replace(layout, pockets=pockets))
        assert [v.excess for v in bench.violations] == broken


def test_foam_is_of_a_sheet_in_stock_or_thicker_than_all_of_them() -> None:
    def of(thickness: float, *stock: float) -> list[int]:
        sheets = tuple(mm(sheet) for sheet in stock)
        house = replace(HOUSE, pocket=replace(HOUSE.pocket, stock=sheets))
        layout = replace(DEEP_LINE, thickness=mm(thickness), height=mm(thickness + 8))
        pockets = tuple(replace(pocket, rise=mm(thickness + 8)) for pocket in layout.pockets)
        layout = replace(layout, pockets=pockets)
        plan = GOOD.place("deep chrome sockets", layout=layout, height=mm(thickness + 8)).plan
        return [v.excess for v in verify(CATALOGUE, house, plan) if v.thing == "deep chrome sockets"]

    assert of(18.8, 12, 18.8, 25) == []
    assert of(18.8, 12, 18, 25) == [mm(0.8)], "none in stock is like it"
    assert of(18, 12, 18, 25) == [mm(0.8)], "with a floor of 6 mm below 12 mm it may not be thinner"
    assert of(18) == of(18, 12) == [], "thicker than any sheet, it is made for it"
    assert of(18, 18.7) == [], "a sheet of 18.7 mm may be 17.9 mm thin"
    assert of(18, 18.8) == [mm(0.8), mm(0.8)]


def test_the_field_is_as_large_as_its_pockets_and_notches() -> None:
    larger = replace(DEEP_LINE, depth=DEEP_LINE.depth + 7)
    broken = GOOD.place("deep chrome sockets", layout=larger, depth=larger.depth + 2 * MARGIN).violations
    assert [(v.rule, v.excess) for v in broken] == [("R13", 7)]
    loose = replace(larger, ordered=False)
    told = {"how": "unordered", "how_width": "unordered", "how_depth": "unordered", "layout": loose}
    assert GOOD.place("deep chrome sockets", depth=larger.depth + 2 * MARGIN, **told).violations == ()


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
        return GOOD.pocket("metric wrenches", 2, ring=ring, depth=0)

    def small(bench: Bench) -> bool:
        return any("too small" in violation.text for violation in bench.violations)

    assert not small(turned(mm(26.6) + 2))
    assert GOOD.pocket("metric wrenches", 2, ring=rectangle(0, 0, mm(181.6), mm(26.6)), depth=0).violations != ()
    upright = GOOD.pocket("metric wrenches", 2, ring=rectangle(0, 0, mm(181.6), mm(26.6)), depth=0)
    assert not small(upright)
    assert small(GOOD.pocket("metric wrenches", 2, ring=rectangle(0, 0, mm(181.6), mm(26.6) - 2), depth=0))


NOTCH_RULES = {"R12", "R13", "R14"}


def notched(*notches: Notch) -> set[str]:
    layout = replace(WRENCH_LINE, notches=notches)
    return rules_of(GOOD.place("metric wrenches", layout=layout)) & NOTCH_RULES


def test_a_standing_piece_needs_a_round_pocket() -> None:
    """A circle of 21.6 mm in a square of that size with its corners cut off: 6.32 mm of a corner leave it, 6.34 do not.

    A chamfer that is off from both sides lies (2 x 10.8 - off) / sqrt 2 from the middle, 10.8 mm for 6.327 mm.
    """

    def chamfered(off: float) -> set[str]:
        far, size = mm(off), mm(21.6)
        ring = ((far, 0), (size - far, 0), (size, far), (size, size - far), (size - far, size), (far, size))
        ring = (*ring, (0, size - far), (0, far))
        at = 2 * mm(27.6)
        return rules_of(GOOD.pocket("chrome sockets", 2, ring=tuple((x + at, y) for x, y in ring)))

    assert chamfered(6.32) == set()
    assert chamfered(6.34) == {"R14"}


def test_flush_pieces_have_a_notch_that_meets_their_pockets() -> None:
    """Three wrenches 26.6 mm wide, webs of 6 mm: their middles lie at 13.3, 45.9 and 78.5 mm."""
    through = FINGER_SLOT
    assert notched(through) == set()
    assert notched() == {"R14"}
    assert notched(replace(through, pockets=(0, 1))) == {"R12", "R14"}, "cuts into a pocket that it does not name"
    assert notched(replace(through, ring=rectangle(mm(10), mm(130), mm(30), mm(28)))) == {"R14"}, "misses the third"
    near = replace(through, ring=rectangle(mm(10), mm(130), mm(54.2), mm(28)))
    assert notched(near) == {"R12", "R14"}, "misses the third, with a web of 1 mm between them"
    narrow = replace(through, ring=rectangle(mm(10), mm(130), mm(72), mm(28) - 1))
    assert notched(narrow) == {"R14"}, "narrower than a finger where it crosses the wrenches, however long it is"


def test_a_notch_leaves_half_of_every_pocket_in_foam() -> None:
    """Pockets 141.6, 161.6 and 181.6 mm long lose 11.6, 28 and 28 mm to a notch from 130 to 158 mm: another one may
    take 52 mm of the middle one, not 54."""
    behind = replace(FINGER_SLOT, ring=rectangle(0, mm(130), mm(91), mm(28)))
    for more, broken in ((52, set()), (54, {"R14"})):
        before = replace(FINGER_SLOT, ring=rectangle(0, mm(20), mm(91), mm(more)))
        assert notched(behind, before) == broken


def test_notches_stay_in_the_field_and_off_other_pockets() -> None:
    assert notched(replace(FINGER_SLOT, ring=rectangle(-5, mm(130), mm(80), mm(28)))) == {"R13"}
    meeting, near = (Notch(rectangle(mm(5), mm(front), mm(16), mm(28)), mm(8), (0,)) for front in (105, 101))
    assert notched(FINGER_SLOT, meeting) == set(), "two notches of one pocket may meet"
    assert notched(FINGER_SLOT, near) == {"R12"}, "or else there is a web between them"


def test_a_notch_is_as_deep_as_the_deepest_pocket_that_it_opens_into() -> None:
    for depth in (mm(8) - 1, mm(8) + 1):
        assert notched(replace(FINGER_SLOT, depth=depth)) == {"R14"}


def test_a_fingertip_has_room_beside_the_pieces() -> None:
    """Behind the shortest wrench, 141.6 mm long, a notch that ends at 155.6 mm leaves half of a notch of 28 mm, 14 mm;
    between the wrenches are 6 mm."""
    assert notched(replace(FINGER_SLOT, ring=rectangle(mm(10), mm(127.6), mm(72), mm(28)))) == set()
    assert notched(replace(FINGER_SLOT, ring=rectangle(mm(10), mm(127.6) - 8, mm(72), mm(28)))) == {"R14"}
    assert notched(replace(FINGER_SLOT, ring=rectangle(mm(10), mm(50), mm(72), mm(28)))) == {"R14"}


def test_foam_leaves_its_floor_and_lifts_what_lies_in_it() -> None:
    """Wrenches 8 mm thick, flush in foam of 14 mm over a floor of 6 mm, need 14 mm."""

    def of(thickness: int, height: int = mm(14)) -> list[int]:
        layout = replace(WRENCH_LINE, thickness=thickness, height=height)
        return [v.excess for v in GOOD.place("metric wrenches", layout=layout, height=height).violations]

    assert of(mm(14)) == []
    assert of(mm(14) - 3) == [3, 3, 3, 3], "each pocket is too deep for the floor, and the foam too thin for them"
    assert of(mm(18)) == [mm(4), mm(4)], "pieces rise, and the foam itself, above 14 mm"


def test_a_given_size_beats_the_recorded_one() -> None:
    given = replace(WRENCHES.pieces[0], piece=replace(WRENCHES.pieces[0].piece, length=mm(145)))
    bench = GOOD.group("metric wrenches", pieces=(given, *WRENCHES.pieces[1:]))
    assert [v.excess for v in bench.violations if v.rule == "R14"] == [mm(5)]


def test_a_standing_piece_takes_its_diameter_or_else_its_larger_side() -> None:
    wide = replace(SOCKETS.pieces[0], diameter=mm(22))
    assert [v.excess for v in GOOD.group("chrome sockets", pieces=(wide, *SOCKETS.pieces[1:])).violations] == [mm(2)]
    oval = replace(wide, diameter=None, height=mm(23))
    assert [v.excess for v in GOOD.group("chrome sockets", pieces=(oval, *SOCKETS.pieces[1:])).violations] == [mm(3)]


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
    gap = max(0, box.inside_width - 2 * inch(0.125) - inch(22))
    place = Placement("files", "one", how, how, "as is", inch(0.125), inch(0.125), width, inch(10), inch(1), gap, 0)
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


def test_an_organizer_whose_field_is_not_known_is_used_whole_or_not_at_all() -> None:
    """Its field counts as its outside: nothing to trim, no margin of its own at a rounded corner."""
    made = replace(MADE, width=mm(390), field_width=None, field_depth=None)
    catalogue = replace(CATALOGUE, organizers=(made,))
    bench = replace(GOOD, catalogue=catalogue).group("pliers", organizer=made)
    told = {"how": "as is", "how_width": "as is", "gap_width": mm(6.8)}
    whole = bench.place("pliers", width=mm(390), field_left=0, field_front=0, **told)
    assert whole.violations == ()
    assert [v.excess for v in whole.place("pliers", gap_width=mm(6.8) - 1).violations] == [1], "a gap told wrong"
    narrow = bench.drawer("A2", inside_width=mm(389 + 3.2))
    trimmed = narrow.place("pliers", width=mm(389)).violations
    assert [(v.rule, v.excess) for v in trimmed] == [("R15", mm(390 + 2 * 12 - 389))]
    assert [v.excess for v in bench.place("pliers", width=mm(389), gap_width=mm(6.8)).violations] == [
        mm(390 + 2 * 12 - 389),
        mm(1),
    ], "trimmed without need"
    corner = whole.drawer("A2", corner_radius=mm(11.6)).violations
    assert [(v.rule, v.excess) for v in corner] == [("R10", ceil((sqrt(2) - 1) * mm(10)))]


def test_a_gap_takes_a_strip_from_the_narrowest_strip_on() -> None:
    """Depth 295 mm and 1.6 mm on each side: at 310.2 mm the gap is 12 mm, the narrowest strip; a unit less is loose."""
    loose = GOOD.drawer("A2", inside_depth=mm(310.2) - 1).place("pliers", gap_depth=mm(12) - 1)
    assert loose.violations == ()
    wide = GOOD.drawer("A2", inside_depth=mm(310.2)).place("pliers", gap_depth=mm(12))
    assert [(v.rule, v.excess) for v in wide.violations] == [("R15", 1)]
    assert wide.place("pliers", how_depth="shim").violations == ()


def test_the_whole_is_as_much_work_as_its_worse_axis() -> None:
    assert [v.excess for v in GOOD.place("pliers", how="as is").violations] == [2], "as is, shim, trim"


def recut_wrenches(how: str = "re-cut", across: str = "re-cut", **sizes: float) -> list[tuple[str, int]]:
    """The wrenches in B1, 296.8 mm between the clearances, with a ready-made organizer of 100 mm depth left unused."""
    made = Organizer("shop", "metric wrenches", depth=mm(100), height=mm(20), **{k: mm(v) for k, v in sizes.items()})
    bench = GOOD.group("metric wrenches", organizer=made)
    bench = bench.place("metric wrenches", how=how, how_width=across, how_depth=how)
    bench = replace(bench, catalogue=replace(bench.catalogue, organizers=(made, MADE)))
    return [(violation.rule, violation.excess) for violation in bench.violations]


def test_a_re_cut_organizer_has_a_ready_made_one_and_may_say_which_axis_was_fine() -> None:
    assert recut_wrenches(width=500) == []
    assert recut_wrenches(width=500, how="new", across="new") == [("R15", 1)]
    assert recut_wrenches(width=296.8, across="as is") == []
    assert recut_wrenches(width=500, across="as is") == [("R15", mm(203.2))]
    assert recut_wrenches(width=500, field_width=272.8, across="trim") == []
    assert recut_wrenches(width=500, field_width=280, across="trim") == [("R15", mm(7.2))]


def test_inch_stays_left_of_metric() -> None:
    """Pockets 2 (inch 3/8) and 3 (metric 10) change places: metric begins a web and a pocket before inch ends."""
    broken = GOOD.pocket("chrome sockets", 2, piece=3).pocket("chrome sockets", 3, piece=2).violations
    assert [(v.rule, v.excess) for v in broken] == [("R16", 2 * mm(21.6) + WEB)]


def test_drives_lie_outside_in() -> None:
    """Metric 13 (3/8) and 17 (1/2) change places: the column of 1/2 now ends a pocket and a web before 3/8 does."""
    broken = GOOD.pocket("chrome sockets", 4, piece=5).pocket("chrome sockets", 5, piece=4).violations
    assert [(v.rule, v.excess) for v in broken] == [("R16", 2 * mm(21.6) + WEB)]


def wrench_lines(order: list[tuple[int, int, int]]) -> set[str]:
    """Whether wrenches at (index, left, front) in mm, 26.6 mm wide each, break the order in a large organizer."""
    lengths = [141.6, 161.6, 181.6]
    pockets = tuple(
        Pocket(index, rectangle(mm(left), mm(front), mm(26.6), mm(lengths[index])), 0, mm(14))
        for index, left, front in order
    )
    layout = Layout(mm(400), mm(600), mm(14), pockets)
    bench = GOOD.drawer("B1", inside_width=mm(900), inside_depth=mm(900), obstructions=())
    return rules_of(bench.place("metric wrenches", layout=layout, width=mm(424), depth=mm(624))) & {"R16"}


def test_lines_read_from_left_to_right_and_front_to_back() -> None:
    assert wrench_lines([(0, 0, 0), (1, 40, 0), (2, 80, 0)]) == set()
    assert wrench_lines([(0, 0, 0), (1, 40, 50), (2, 80, 0)]) == set(), "every second one set back"
    assert wrench_lines([(0, 0, 0), (1, 40, 0), (2, 0, 180)]) == set(), "two lines"
    assert wrench_lines([(2, 0, 0), (0, 0, 200), (1, 40, 200)]) == {"R16"}, "the line of larger ones in front"
    assert wrench_lines([(0, 40, 0), (1, 0, 50), (2, 80, 0)]) == {"R16"}, "staggered and out of order"
    assert wrench_lines([(0, 80, 0), (1, 40, 0), (2, 0, 0)]) == {"R16"}, "from right to left"


def test_a_lost_order_is_no_fault_where_none_is_claimed() -> None:
    bench = GOOD.pocket("chrome sockets", 3, piece=4).pocket("chrome sockets", 4, piece=3)
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
