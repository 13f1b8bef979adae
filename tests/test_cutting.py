"""Blanks, sheets, minutes, drawings, setup sheets: against worked examples, published instances, other programs."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import partial
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box

from matcher.cutting.blanks import Blank
from matcher.cutting.contours import QUARTER
from matcher.cutting.drawings import drawing, outline
from matcher.cutting.guesses import Guess, GuessedSizesError, guesses
from matcher.cutting.guillotine import Guillotine
from matcher.cutting.jobs import cut
from matcher.cutting.minutes import cutter_for, organizer_minutes, pocket_minutes, profile_minutes
from matcher.cutting.nesting import Nest, fewest
from matcher.cutting.offcuts import largest_offcut
from matcher.cutting.sheets import SheetCount, stocks
from matcher.house.rules import Cutter
from matcher.packing.rectangles import pack
from matcher.records.errors import UsageError
from matcher.records.given import Obstruction
from matcher.records.laid_out import Notch
from matcher.records.rectangles import Rectangle
from matcher.records.units import inch, mm, to_mm
from tests.builders import HOUSE, cabinet, drawer, group, organizer, piece
from tests.cutting_cases import (
    NOTCHED,
    ROUNDED,
    box_ring,
    example,
    foam,
    layout,
    outcome,
    placement,
    pocket,
    tools,
    without_plan,
)

CHECKS = Path(__file__).resolve().parents[2] / "shared" / "checks"
BERKEY_WANG = CHECKS / "berkey_wang_class3_n20.json"

GRID = [((48, 96), 10), ((24, 48), 2), ((36, 72), 3)]
"""Sheet in inches, and blanks of 22 x 18 in on it at 1/4 in spacing and 1/2 in edge trim: worked by hand.

In rows and columns, the better of both ways round: floor((W - 2E + k) / (w + k)) * floor((H - 2E + k) / (h + k)); trade
practice.
"""


def blank(width=300, depth=200, needed=20, planned=0, **more) -> Blank:
    return Blank("group", "1", "new", mm(width), mm(depth), mm(needed), mm(planned), **more)


# ------------------------------------------------------------------------------------------------------------- blanks


def test_a_blank_is_the_outside_and_the_thinnest_foam_over_floor_and_deepest_pocket():
    """Floor 6 + deepest 18 = 24 mm: 25 mm with a tolerance of 1 mm will just do, 25 with 1.1 will not.

    Trade practice: T >= b + f t."""
    rows = [foam("thin", thickness=25, tolerance=1.1), foam("just", thickness=25, tolerance=1), foam("thick")]
    made = example(stock=rows)
    assert [(job.blank.width, job.blank.depth, job.blank.needed) for job in made.jobs] == [(mm(300), mm(200), mm(24))]
    assert made.jobs[0].foam.name == "just"
    assert made.jobs[0].drawing.thickness == mm(25)


def test_foam_as_thick_as_the_layout_was_made_for_is_taken_and_a_thin_floor_told():
    """Pockets cut down to the floor of a 25 mm sheet: one 1 mm thinner leaves 5 mm of the 6."""
    laid = replace(layout(pocket(cut=19)), thickness=mm(25))
    made = example(laid=laid, stock=[foam("as planned", thickness=25, tolerance=1), foam("thick")])
    assert made.jobs[0].foam.name == "as planned"
    assert any("1.0 mm short" in note for note in made.jobs[0].setup.notes)


def test_a_notch_deeper_than_its_pockets_asks_for_thicker_foam():
    deep = replace(NOTCHED, notches=(replace(NOTCHED.notches[0], depth=mm(20)),))
    assert example(laid=deep).jobs[0].blank.needed == mm(26)


def test_only_foam_that_must_be_cut_gets_a_blank_and_trimming_is_a_job_of_its_own():
    made = example()
    assert [job.blank.group for job in made.jobs] == ["group"]
    (refit,) = made.refits
    assert (refit.group, refit.part, refit.from_depth, refit.depth) == ("ready", "P-1", mm(210), mm(200))
    assert (refit.strip_width, refit.strip_depth) == (0, 0)


def test_a_gap_is_filled_by_strips():
    """Trade practice, reuse check: 22 in organizer, 23.5 in drawer, 0.125 in a side: shim 1.25 in."""
    ready = group("ready", ready=replace(organizer("ready", depth=200), width=inch(22)))
    seat = placement("ready", "1", "shim", depth=200, width=to_mm(inch(22)), how_depth="as is", gap_width=inch(1.25))
    place = cabinet(drawer())
    made = cut(outcome(place, [ready], [seat]))
    assert [(refit.strip_width, refit.strip_depth) for refit in made.refits] == [(inch(1.25), 0)]
    assert made.jobs == made.stocks == ()


def test_a_recut_organizer_keeps_the_foam_of_the_one_it_replaces():
    rows = [foam("cheap", price=1.0, color="black"), foam("old", price=9.0, color="black on gray")]
    (stock,) = stocks([blank(like="old")], rows, HOUSE)
    assert stock.foam.name == "old"
    (stock,) = stocks([blank(like="unknown")], rows, HOUSE)
    assert stock.foam.name == "cheap"


@pytest.mark.parametrize(
    ("row", "fits"),
    [
        (foam(length=325.4, width=225.4), True),
        (foam(length=325.3, width=225.4), False),
        (foam(length=225.4, width=325.4), True),
        (foam(length=2440, width=1220), True),
        (foam(length=2441, width=1220), False),
    ],
)
def test_a_sheet_less_its_trimmed_edges_takes_the_blank_and_goes_on_the_bed(row, fits):
    """Edges of 12.7 mm: 300 + 25.4; the bed is 2440 x 1220 mm (common practice, no source)."""
    assert bool(stocks([blank()], [row], HOUSE)) is fits


def test_without_foam_that_fits_the_blank_is_still_drawn_and_the_sheet_says_so():
    made = example(stock=[])
    assert made.stocks == ()
    assert made.jobs[0].drawing.thickness == mm(24)
    assert made.cost is None
    assert "No foam of the catalogue" in made.jobs[0].setup.notes[0]


# ------------------------------------------------------------------------------------------------------------- sheets


@pytest.mark.parametrize(("size", "count"), GRID)
def test_the_search_proves_that_no_layout_holds_more_than_the_grid(size, count):
    short, long = sorted(size)
    row = foam(length=to_mm(inch(long)), width=to_mm(inch(short)))
    piece = replace(blank(), width=inch(22), depth=inch(18))
    for number, sheets in ((count, 1), (count + 1, 2)):
        (stock,) = stocks([piece], [row], HOUSE, batch=number)
        for found in (stock.free, stock.guillotine):
            assert (found.value, found.bound, found.proved) == (sheets, sheets, True)


def instances():
    if not BERKEY_WANG.exists():
        return [pytest.param(None, marks=pytest.mark.skip(reason=f"no {BERKEY_WANG.name} beside the checkout"))]
    return [pytest.param(one, id=one["name"]) for one in json.loads(BERKEY_WANG.read_text())["instances"]]


def free_nest(items, width, depth) -> Nest:
    return fewest(items, width, depth, partial(pack, width=width, depth=depth, work=5, seed=1), work=5, seed=1)


def straight_nest(items, width, depth) -> Nest:
    return fewest(items, width, depth, Guillotine(width, depth).packing, work=5, seed=1)


@pytest.mark.parametrize("instance", instances())
def test_published_bins_are_reached_and_proved(instance):
    """Berkey and Wang (1987), class 3, 20 items, not turned: the best known numbers of bins."""
    found = free_nest([((w, d),) for w, d in instance["items"]], *instance["bin"])
    assert (found.value, found.proved) == (instance["bins"], True)


@pytest.mark.parametrize("instance", instances())
def test_rectpack_never_needs_fewer_sheets(instance):
    rectpack = pytest.importorskip("rectpack", reason="rectpack is a development tool")
    for turn in (False, True):
        packer = rectpack.newPacker(rotation=turn)
        for n, item in enumerate(instance["items"]):
            packer.add_rect(*item, rid=n)
        packer.add_bin(*instance["bin"], count=len(instance["items"]))
        packer.pack()
        assert sum(len(held) for held in packer) == len(instance["items"])
        items = [((w, d), (d, w)) if turn and w != d else ((w, d),) for w, d in instance["items"]]
        assert free_nest(items, *instance["bin"]).value <= len(packer)


def test_a_pinwheel_needs_no_straight_cut():
    """Four blanks of 6 x 4 round a hole in 10 x 10: the pattern that no side-to-side cut parts; from memory."""
    blades = [((6, 4), (4, 6))] * 4
    free, straight = free_nest(blades, 10, 10), straight_nest(blades, 10, 10)
    assert (free.value, free.proved) == (1, True)
    assert (straight.value, straight.proved) == (2, True)


def test_blanks_that_fit_only_turned_are_turned_if_the_house_allows_it():
    row, piece = foam(length=325.4, width=225.4), blank(200, 300)
    (stock,) = stocks([piece], [row], HOUSE)
    assert stock.free.sheets[0].placed[0].turned
    upright = replace(HOUSE, cut=replace(HOUSE.cut, turn=False))
    assert stocks([piece], [row], upright) == ()


def cuttable(rooms: list[tuple[int, int, int, int]]) -> bool:
    """Whether rectangles (left, front, right, back) can be parted by straight cuts, by trying every edge."""
    if len(rooms) < 2:
        return True
    for axis in (0, 1):
        for edge in {room[axis + 2] for room in rooms}:
            before = [room for room in rooms if room[axis + 2] <= edge]
            after = [room for room in rooms if room[axis] >= edge]
            if after and len(before) + len(after) == len(rooms):
                return cuttable(before) and cuttable(after)
    return False


def check_sheets(found: SheetCount, blanks, row, batch: int, house) -> None:
    """Every blank ``batch`` times, apart by spacing or kerf, off the edges, and the offcut free of them."""
    gap, edge = max(house.cut.spacing, house.cut.kerf), max(house.cut.edge, house.cut.kerf)
    held = sorted(placed.blank for sheet in found.sheets for placed in sheet.placed)
    assert held == sorted([*range(len(blanks))] * batch)
    inside = box(edge, edge, row.length - edge, row.width - edge)
    for sheet in found.sheets:
        rooms = []
        for placed in sheet.placed:
            sides = (blanks[placed.blank].width, blanks[placed.blank].depth)
            wide, deep = sides[::-1] if placed.turned else sides
            rooms.append((placed.left, placed.front, placed.left + wide, placed.front + deep))
        assert all(inside.covers(box(*room)) for room in rooms)
        for one, other in combinations(rooms, 2):
            assert max(other[0] - one[2], one[0] - other[2], other[1] - one[3], one[1] - other[3]) >= gap
        left, front, width, depth = sheet.offcut
        if width and depth:
            offcut = box(left, front, left + width, front + depth)
            assert inside.covers(offcut)
            assert all(offcut.distance(box(*room)) >= gap - 1e-6 for room in rooms)
        if found.way == "guillotine":
            assert cuttable(rooms)


SIDES = st.integers(60, 560)


@settings(max_examples=20, deadline=None)
@given(st.lists(st.tuples(SIDES, SIDES), min_size=1, max_size=5), st.integers(1, 2), st.integers(0, 12))
def test_sheets_hold_every_blank_apart_and_bounds_hold(sides, batch, kerf):
    house = replace(HOUSE, cut=replace(HOUSE.cut, kerf=mm(kerf)))
    blanks, row = [blank(*size) for size in sides], foam()
    (stock,) = stocks(blanks, [row], house, batch)
    for found in (stock.free, stock.guillotine):
        check_sheets(found, blanks, row, batch, house)
        assert sum(b.area for b in blanks) * batch <= found.value * row.length * row.width
        assert found.bound <= found.value <= len(blanks) * batch
    assert stock.free.bound <= stock.guillotine.bound
    assert stock.free.value <= stock.guillotine.value or not stock.free.proved


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 8), st.integers(1, 8)), min_size=1, max_size=6))
def test_guillotine_sheets_are_the_fewest_by_brute_force(sides):
    """Against a recursion over all straight cuts at whole numbers of a 9 x 8 sheet, and all ways to part the items."""
    items = [((w, d),) for w, d in sides]
    found = straight_nest(items, 9, 8)
    assert found.proved
    assert found.value == brute_force(tuple(sides))


def brute_force(sides: tuple[tuple[int, int], ...]) -> int:
    """Fewest sheets: the first item with every set of others that goes on its sheet."""
    if not sides:
        return 0
    first, *others = sides
    best = len(sides)
    for size in range(len(others), -1, -1):
        for chosen in combinations(range(len(others)), size):
            if cut_from(9, 8, (first, *(others[n] for n in chosen))):
                rest = tuple(other for n, other in enumerate(others) if n not in chosen)
                best = min(best, 1 + brute_force(rest))
    return best


def cut_from(width: int, depth: int, items: tuple[tuple[int, int], ...]) -> bool:
    if not items:
        return True
    if sum(w * d for w, d in items) > width * depth or any(w > width or d > depth for w, d in items):
        return False
    if len(items) == 1:
        return True
    first, *others = items
    for size in range(len(others)):
        for chosen in combinations(range(len(others)), size):
            one = (first, *(others[n] for n in chosen))
            other = tuple(item for n, item in enumerate(others) if n not in chosen)
            wide, deep = max(w for w, _ in one), max(d for _, d in one)
            if any(cut_from(x, depth, one) and cut_from(width - x, depth, other) for x in range(wide, width)):
                return True
            if any(cut_from(width, y, one) and cut_from(width, depth - y, other) for y in range(deep, depth)):
                return True
    return False


@given(
    st.lists(st.builds(Rectangle, *[st.integers(0, 6)] * 2, *[st.integers(1, 4)] * 2), max_size=4), st.integers(0, 2)
)
def test_the_largest_offcut_is_the_largest_of_all_rectangles(taken, gap):
    """Against every rectangle with whole corners in a 7 x 6 room."""
    rooms = [
        (x, y, w - gap, d - gap)
        for x in range(7)
        for y in range(6)
        for w in range(gap + 1, 8 - x)
        for d in range(gap + 1, 7 - y)
        if not any(x < a + c and a < x + w and y < b + e and b < y + d for a, b, c, e in taken)
    ]
    _, _, width, depth = found = largest_offcut(7, 6, taken, gap)
    assert width * depth == max((w * d for _, _, w, d in rooms), default=0)
    assert width * depth == 0 or found in rooms


def test_blanks_of_one_material_share_the_size_of_sheet_that_costs_least():
    """One blank a 10.00 sheet; of twelve, six sheets at 10.00 against one of 50.00 that holds eighteen."""
    rows = [foam("half", 650, 430, price=10.0), foam("full", 2000, 1200, price=50.0)]
    pieces = [blank()] * 2
    assert [stock.foam.name for stock in stocks(pieces, rows, HOUSE)] == ["half"]
    (stock,) = stocks(pieces, rows, HOUSE, batch=10)
    assert (stock.foam.name, stock.cost) == ("full", 50.0)
    assert stocks(pieces, rows[::-1], HOUSE, batch=10) == (stock,)


def test_a_blank_too_large_for_one_size_of_sheet_takes_another():
    rows = [foam("square", 700, 700, price=1.0), foam("strip", 1400, 300, price=1.0)]
    found = stocks([blank(600, 600), blank(1300, 250)], rows, HOUSE)
    assert sorted((stock.foam.name, stock.blanks) for stock in found) == [("square", (0,)), ("strip", (1,))]


def test_cost_is_shared_by_area_and_adds_up():
    laid = layout(pocket())
    groups = [tools(name="a"), tools(name="b")]
    seats = [placement("a", "1", laid=laid), placement("b", "2", laid=laid, width=300, depth=400)]
    place = cabinet(drawer("1"), drawer("2", row=2))
    made = cut(outcome(place, groups, seats, stock=[foam(price=30.0)]))
    assert [job.cost for job in made.jobs] == [pytest.approx(10.0), pytest.approx(20.0)]
    assert made.cost == pytest.approx(sum(stock.cost for stock in made.stocks))
    unpriced = cut(outcome(place, groups, seats, stock=[foam()]))
    assert unpriced.cost is None


# ------------------------------------------------------------------------------------------------------------ minutes


def test_machine_minutes_as_worked_by_hand():
    """Trade practice, section 2: 100 in2 at 1/8 in, two passes of 1/2 in, 200 in/min; 80 in in two passes."""
    assert pocket_minutes(100, 1.0, 0.125, 200, 0.5) == pytest.approx(8.0)
    assert profile_minutes(80, 1.0, 200, 0.5) == pytest.approx(0.8)


def test_an_organizer_takes_the_minutes_of_its_pockets_notches_and_outline():
    """The first example again as pockets of 10 x 10 in cut 1 in deep with a 1/4 in bit at the default rules."""
    cutters = (Cutter(inch(0.25), inch(2)),)
    side = to_mm(inch(10))
    square = pocket(0, 0, 0, side, side, to_mm(inch(1)))
    found = organizer_minutes(layout(square), to_mm(inch(80)), inch(1), HOUSE.cut, cutters)
    assert (found.pockets, found.profile) == (pytest.approx(8.0), pytest.approx(0.8))
    half_out = Notch(box_ring(side / 2, 0, side, side), inch(1), (0,))
    notched = organizer_minutes(layout(square, notches=(half_out,)), 0, inch(1), HOUSE.cut, cutters)
    assert notched.pockets == pytest.approx(12.0)


def test_a_pocket_is_cut_by_the_finest_cutter_that_reaches_down():
    fine, long = Cutter(mm(3), mm(16)), Cutter(mm(6), mm(32))
    assert cutter_for(mm(16), (long, fine)) == fine
    assert cutter_for(mm(16) + 1, (fine, long)) == long
    assert cutter_for(mm(40), (fine, long)) == long
    assert cutter_for(mm(1), ()) is None


@pytest.mark.parametrize("rule", ["feed_mm_min", "pass_depth"])
def test_a_feed_or_pass_of_nothing_is_refused(rule):
    house = replace(HOUSE, cut=replace(HOUSE.cut, **{rule: 0}))
    with pytest.raises(UsageError, match="above 0"):
        example(house=house)


# ------------------------------------------------------------------------------------------------------------ guesses


@pytest.mark.parametrize("basis", ["from standard", "estimated"])
def test_nothing_is_cut_from_guesses(basis):
    with pytest.raises(GuessedSizesError) as refused:
        example(basis, allow_estimates=False)
    (guess,) = refused.value.guesses
    assert (guess.group, guess.tool, guess.count, guess.basis) == ("group", "wrench 13 mm", 2, basis)
    assert guess.source == "ISO 3318"
    assert f"  group (2 {basis}): 2 x wrench 13 mm" in str(refused.value)


def test_guesses_are_listed_with_sizes_ascending():
    def key(size, rank):
        return replace(tools("estimated", size=size).pieces[0], piece=piece(f"key {size}"), rank=rank)

    held = replace(tools(), pieces=(key("10", 100), key("1.5", 15), key("2", 20)))
    assert [guess.tool for guess in guesses([held])] == ["key 1.5", "key 2", "key 10"]


def test_one_guess_is_told_as_one_piece():
    told = str(GuessedSizesError([Guess("keys", "hex key 2 mm", 1, "estimated", "common practice")]))
    assert "the sizes of 1 piece are not measured" in told


def test_a_long_list_of_guesses_is_told_by_group():
    def guess(group, n, basis="estimated"):
        return Guess(group, f"socket {n} mm", 1, basis, "common practice")

    listed = [guess("sockets", n) for n in range(10, 15)] + [guess("keys", 2, "from standard"), guess("keys", 3)]
    told = str(GuessedSizesError(listed)).splitlines()
    assert "the sizes of 7 pieces are not measured" in told[0]
    assert told[2:] == [
        "  sockets (5 estimated): socket 10 mm, socket 11 mm, socket 12 mm, and 2 more",
        "  keys (1 estimated, 1 from standard): socket 2 mm, socket 3 mm",
    ]
    assert GuessedSizesError(listed).guesses == tuple(listed)


def test_estimates_allowed_are_not_for_production():
    made = example("estimated")
    assert not made.production
    assert not made.jobs[0].drawing.production
    assert not made.jobs[0].setup.production
    assert len(made.guesses) == 1


def test_what_is_measured_is_for_production_with_or_without_estimates():
    assert example(allow_estimates=False) == example(allow_estimates=True)
    assert example().production


def test_an_organizer_on_hand_needs_no_measured_pieces():
    """Its size is the catalogue's; only the pieces that foam is cut for count."""
    ready = replace(tools("estimated"), organizer=organizer("group", 300, 210))
    seat = placement("group", "1", "trim", how_width="as is")
    place = cabinet(drawer())
    made = cut(outcome(place, [ready], [seat]))
    assert made.production
    assert len(made.refits) == 1


def test_without_a_plan_there_is_nothing_to_cut():
    made = cut(without_plan())
    assert (made.jobs, made.sheets, made.minutes) == ((), 0, 0)


# ----------------------------------------------------------------------------------------------------------- drawings


def shape_of(corners) -> Polygon:
    """The outline with its arcs as fine polygons, drawn from the bulges' centers."""
    points = []
    for (x, y, bulge), (x2, y2, _) in zip(corners, [*corners[1:], corners[0]], strict=True):
        points.append((x, y))
        if bulge:
            assert bulge == QUARTER
            middle, half = complex(x + x2, y + y2) / 2, complex(x2 - x, y2 - y) / 2
            center = middle + half * 1j
            start = complex(x, y) - center
            points += [
                (p.real, p.imag) for p in (center + start * complex(0, 1) ** (step / 16) for step in range(1, 16))
            ]
    return Polygon(points)


@settings(max_examples=50, deadline=None)
@given(st.integers(0, 60), st.floats(1.6, 40), st.floats(1.6, 40))
def test_the_outline_keeps_the_side_clearance_from_rounded_corners(radius, left, front):
    """R10 seen from outside: the drawer as a rounded rectangle, drawn in by the clearance, covers the organizer."""
    place = drawer(width=400, depth=300, corner_radius=mm(radius))
    off = (mm(left), mm(front))
    size = (mm(400) - 2 * off[0], mm(300) - 2 * off[1])
    seat = replace(placement(), left=off[0], front=off[1], width=size[0], depth=size[1])
    floor = box(mm(radius), mm(radius), mm(400 - radius), mm(300 - radius)).buffer(mm(radius), quad_segs=200)
    room = floor.buffer(-HOUSE.clearance.side, quad_segs=200)
    shape = shape_of(outline(seat, place, HOUSE))
    assert shape.is_valid
    reach = [room.distance(Point(x + off[0], y + off[1])) for x, y in shape.exterior.coords]
    assert max(reach) <= 3
    assert size[0] * size[1] - shape.area <= 4 * mm(radius) ** 2


def test_a_corner_clear_of_the_drawers_stays_sharp():
    seat = placement(width=250, depth=150)
    assert outline(seat, ROUNDED, HOUSE)[0][2] == QUARTER
    assert [bulge for _, _, bulge in outline(seat, ROUNDED, HOUSE)].count(QUARTER) == 1
    assert {bulge for _, _, bulge in outline(seat, drawer(), HOUSE)} == {0.0}


def test_contours_stand_where_the_plan_has_them():
    """The field of 200 x 100 mm lies in the middle of 300 x 200 mm: 50 mm in on both axes.

    The shallow pocket comes first; of the cuts 18 mm deep the notch, 10 mm from it, after the pocket, 20 mm from it.
    """
    second, first, notch, outer = example().jobs[0].drawing.contours
    assert [contour.part for contour in (outer, first, second, notch)] == ["outer", "pocket", "pocket", "notch"]
    assert [contour.depth for contour in (outer, first, second, notch)] == [mm(30), mm(18), mm(9.5), mm(18)]
    assert shape_of(first.corners).bounds == tuple(map(mm, (50, 50, 110, 150)))
    assert shape_of(notch.corners).bounds == tuple(map(mm, (40, 90, 120, 118)))
    expected = 2 * (300 + 200) - 8 * 18.4 + 2 * 3.14159265 * 18.4
    assert outer.length == pytest.approx(expected)


def test_foam_is_cut_out_round_obstructions_with_the_side_clearance():
    block = Obstruction(mm(100), 0, mm(20), mm(30), mm(40))
    place = replace(drawer(width=303.2, depth=203.2), obstructions=(block, replace(block, left=mm(400))))
    seat = placement(laid=NOTCHED)
    drawn = drawing(seat, NOTCHED, tools(), place, mm(30), HOUSE, True)
    (hole,) = [contour for contour in drawn.contours if contour.part == "cutout"]
    assert shape_of(hole.corners).bounds == pytest.approx((mm(100 - 3.2), 0, mm(120), mm(30)))
    assert hole.depth == mm(30)


def test_sizes_are_written_in_the_pocket_where_the_layout_has_no_labels():
    plain = replace(NOTCHED, labels=())
    first, second = example(laid=plain).jobs[0].drawing.sizes
    assert (first.text, first.x, first.y, first.upright) == ("13", mm(80), mm(100), True)
    assert second.height <= mm(7)
    labeled = example().jobs[0].drawing.sizes
    assert [(words.x, words.y, words.height) for words in labeled] == [
        (mm(80), mm(100), mm(6)),
        (mm(145), mm(105), mm(5)),
    ]


# -------------------------------------------------------------------------------------------------------- setup sheet


def test_a_setup_sheet_holds_what_to_measure_first():
    """300 x 400 x 500: the diagonal of the smallest whole right triangle, a hundred times."""
    laid = layout(pocket(cut=18), pocket(left=80, cut=9.5))
    place = cabinet(drawer(width=400, depth=500))
    seat = placement(laid=laid, width=300, depth=400)
    made = cut(outcome(place, [tools()], [seat], stock=[foam()]), batch=7)
    sheet = made.jobs[0].setup
    assert [check.length for check in sheet.first_article] == [mm(300), mm(400), mm(18), mm(500)]
    assert (sheet.foam, sheet.thickness, sheet.batch) == ("black 30", mm(30), 7)
    assert [tool.depths for tool in sheet.tools] == [(mm(9.5),), (mm(18),)]
    assert all(tool.reach >= max(tool.depths) for tool in sheet.tools)


@pytest.mark.parametrize(
    "word",
    ["data sheet first", "maker's manual", "Guards", "Hold the sheet down", "extraction", "eye", "Fire and fumes"],
)
def test_the_usual_cautions_are_on_every_setup_sheet(word):
    """Common practice, no source."""
    assert any(word in caution for caution in example().jobs[0].setup.cautions)


def test_notes_tell_thicker_foam_and_a_cutter_too_short():
    planned = replace(NOTCHED, thickness=mm(30))
    assert example(laid=planned).jobs[0].setup.notes == ()
    thick = example(laid=planned, stock=[foam(thickness=40)]).jobs[0].setup.notes
    assert "10.0 mm thicker" in thick[0]
    assert "No cutter reaches through 40.0 mm" in thick[1]
