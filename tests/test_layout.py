"""Layouts as the trade orders them (common practice, no source), and bounds that hold for any layout."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise, product
from math import ceil, sqrt
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, union_all

from matcher.catalogue.reading import read_catalogue
from matcher.house.rules import House
from matcher.layout.bounds import Excluded, excluded_by, least_height
from matcher.layout.curves import curve, evened, realize
from matcher.layout.easing import eased
from matcher.packing.slicing import MOST
from matcher.planning.grouping import groups_of
from matcher.records.answered import Placement, Plan
from matcher.records.given import Cabinet, Catalogue, Drawer
from matcher.records.laid_out import Footprint, Group, Layout, Pocket, SizedPiece
from matcher.records.words import System
from matcher.verification.belonging import belonging
from matcher.verification.scene import Scene, Seat
from matcher.verification.sequence import order_kept
from tests.bench import rectangle
from tests.catalogue_files import SOUND, folder
from tests.pieces import (
    HOUSE,
    as_tuples,
    boxes,
    drive_spans,
    drives_outside_in,
    faults,
    group_of,
    made,
    mm,
    pareto,
    sizes_apart,
    socket,
    wrench,
)

EQUAL_CIRCLES = pytest.mark.parametrize(
    ("count", "radius"),
    [
        (2, 1 / (2 + sqrt(2))),
        (4, 1 / 4),
        (5, (sqrt(2) - 1) / 2),
        (8, 1 / (2 + sqrt(2) + sqrt(6))),
        (9, 1 / 6),
        (10, 0.148204),
        (16, 1 / 8),
    ],
)
"""Largest radius of equal circles in a unit square: closed forms, from memory; of 10, numeric, from memory."""
IN_LINES = replace(HOUSE, layout=replace(HOUSE.layout, nests=()))
IN_COLUMNS = replace(IN_LINES, layout=replace(IN_LINES.layout, bands=False))
LYING_ONLY = replace(HOUSE, layout=replace(HOUSE.layout, standing_sockets=False))

# -------------------------------------------------------------------------------------------------- generated groups

systems: st.SearchStrategy[System] = st.sampled_from(("metric", "inch", ""))
sockets = st.builds(
    socket,
    st.integers(4, 30),
    st.sampled_from(("1/4", "3/8", "1/2", "3/4")),
    systems,
    st.sampled_from(("socket", "deep socket")),
)
long_tools = st.builds(
    lambda kind, drive, length: made(kind, int(length), length, 0.1 * length, 0.08 * length, drive=drive),
    st.sampled_from(("ratchet", "breaker bar", "extension")),
    st.sampled_from(("1/4", "3/8", "1/2")),
    st.integers(100, 500),
)
wrenches = st.builds(wrench, st.integers(6, 32), systems)
groups = st.lists(st.one_of(sockets, long_tools, wrenches), min_size=1, max_size=12).map(lambda some: group_of(*some))


def sample(group: Group, house: House = HOUSE, most: int = 6) -> list[tuple[Footprint, Layout]]:
    """Layouts of a few points of the curve, spread over it."""
    points = curve(group, house)
    step = max(1, len(points) // most)
    return [(point, realize(group, house, point)) for point in points[::step]]


@settings(max_examples=60, deadline=None)
@given(group=groups)
def test_every_point_is_a_sound_layout_of_exactly_its_size(group: Group) -> None:
    for point, layout in sample(group):
        assert Footprint(layout.width, layout.depth, layout.height) == point
        assert layout.ordered
        assert faults(layout, group) == []


def test_bands_are_no_lower_than_their_points_say() -> None:
    """Of more depths than are tried the same are tried at every height, else a lower layout is found too high."""
    lengths = ((100, "1/4"), (100, "1/4"), (100, "1/4"), (103, "1/4"), (104, "1/4"), (100, "3/8"))
    ratchets = (made("ratchet", n, n, 0.1 * n, 0.08 * n, drive=drive) for n, drive in lengths)
    group = group_of(*ratchets, socket(4, "1/4", ""), socket(14, "1/4", "", "deep socket"))
    for point in curve(group, HOUSE):
        assert realize(group, HOUSE, point).height == point.height


@settings(max_examples=40, deadline=None)
@given(group=groups)
def test_inch_lies_left_of_metric_and_pieces_of_neither_in_front_or_between(group: Group) -> None:
    """Common practice, no source."""
    for _, layout in sample(group):
        by_system = defaultdict(list)
        for pocket, box in zip(layout.pockets, boxes(layout), strict=True):
            by_system[group.pieces[pocket.piece].piece.system].append(box)
        for inch, metric in product(by_system["inch"], by_system["metric"]):
            assert inch[2] < metric[0]
        plain, inch, metric = by_system[""], by_system["inch"], by_system["metric"]
        in_front = all(one[3] < half[1] for one, half in product(plain, inch + metric))
        inner = (product(inch, plain), product(plain, metric)) if inch else (product(metric, plain),)
        assert in_front or all(one[2] < other[0] for pairs in inner for one, other in pairs)


@settings(max_examples=40, deadline=None)
@given(group=groups)
def test_drives_lie_outside_in(group: Group) -> None:
    """1/2 outside, then 3/8, 1/4, mirrored in the right one of two halves. Common practice, no source."""
    both = {"inch", "metric"} <= {piece.piece.system for piece in group.pieces}
    for _, layout in sample(group, IN_COLUMNS):
        spans = drive_spans(group, layout)
        for system in {system for system, _ in spans}:
            drives = sorted(drive for s, drive in spans if s == system)
            left_to_right = drives if both and system == "metric" else drives[::-1]
            for one, other in pairwise(left_to_right):
                assert spans[system, one][1] < spans[system, other][0]


@settings(max_examples=40, deadline=None)
@given(group=groups)
def test_in_bands_too_the_larger_of_two_drives_lies_further_out(group: Group) -> None:
    """Of pockets side by side the larger drive's is the outer one. Common practice, no source."""
    for _, layout in sample(group, IN_LINES, most=12):
        assert drives_outside_in(group, layout)


@settings(max_examples=40, deadline=None)
@given(group=groups)
def test_no_larger_size_lies_left_of_and_in_front_of_a_smaller_one(group: Group) -> None:
    """Of two sizes of a series the larger is further right or further back. Common practice, no source."""
    for _, layout in sample(group, IN_LINES):
        assert sizes_apart(group, layout)


@settings(max_examples=40, deadline=None)
@given(group=groups, wider=st.integers(0, 200), deeper=st.integers(0, 200))
def test_the_checker_can_read_every_layout(group: Group, wider: int, deeper: int) -> None:
    """Inch left of metric, drives outside in, sizes in stretches, rows and lines: R16, which is derived on its own."""
    for point in curve(group, HOUSE)[::11]:
        layout, _, _ = evened(group, HOUSE, point, (point.width + mm(wider), point.depth + mm(deeper)))
        assert [violation.text for violation in order_kept(scene_with(group, layout))] == []


def scene_with(group: Group, layout: Layout) -> Scene:
    """A scene of one organizer of which nothing but its group and layout is looked at."""
    drawer = Drawer("cabinet", "A1", 1, 1, 1, mm(2000), mm(2000), mm(200))
    placed = Placement(
        group.name, "A1", "new", "new", "new", 0, 0, layout.width, layout.depth, layout.height, 0, 0, layout
    )
    plan = Plan("set", "cabinet", "spread", (group,), (placed,), ())
    cabinet = Cabinet("cabinet", (drawer,))
    catalogue = Catalogue(tuple(piece.piece for piece in group.pieces), (), (cabinet,), (), ())
    held = belonging(catalogue, {"set"}, ())
    return Scene(catalogue, HOUSE, plan, cabinet, frozenset(["set"]), (Seat(placed, group, drawer),), (), held)


HALVES = (("1/2", 10), ("1/2", 12), ("1/2", 13), ("3/8", 8), ("3/8", 9))
IN_BANDS = ((0, 0), (0, 60), (40, 60), (40, 0), (80, 60))
DRIVES_BEHIND = ((0, 0), (40, 0), (80, 0), (0, 60), (40, 60))


@pytest.mark.parametrize(
    ("corners", "system", "house", "wrong"),
    [
        (IN_BANDS, "metric", HOUSE, 0),
        (IN_BANDS, "metric", IN_COLUMNS, 1),
        (DRIVES_BEHIND, "metric", HOUSE, 1),
        (DRIVES_BEHIND, "", HOUSE, 0),
        (DRIVES_BEHIND[3:] + DRIVES_BEHIND[:3], "", HOUSE, 1),
    ],
    ids=["bands", "bands not allowed", "a half without its outermost drive", "no halves", "small drives in front"],
)
def test_the_checker_reads_bands(
    corners: tuple[tuple[int, int], ...], system: System, house: House, wrong: int
) -> None:
    """R16 by hand: pockets 30 mm wide, by their front left corners in mm, of three 1/2 sockets and two of 3/8."""
    group = group_of(*(socket(rank, drive, system) for drive, rank in HALVES))
    made_of = {(piece.piece.drive, piece.rank): n for n, piece in enumerate(group.pieces)}
    pockets = tuple(
        Pocket(made_of[one], rectangle(mm(left), mm(front), mm(30), mm(30)), mm(20), mm(40), standing=True)
        for one, (left, front) in zip(HALVES, corners, strict=True)
    )
    scene = scene_with(group, Layout(mm(110), mm(90), mm(40), pockets))
    assert len(list(order_kept(replace(scene, house=house)))) == wrong


@settings(max_examples=30, deadline=None)
@given(group=groups)
def test_deep_sockets_lie_behind_shallow_ones(group: Group) -> None:
    """Within a drive shallow is in front of deep. Common practice, no source."""
    for _, layout in sample(group):
        found = [(group.pieces[p.piece].piece, box) for p, box in zip(layout.pockets, boxes(layout), strict=True)]
        for (one, a), (other, b) in product(found, found):
            same = (one.system, one.drive) == (other.system, other.drive)
            if same and (one.kind, other.kind) == ("socket", "deep socket"):
                assert a[3] < b[1]


@settings(max_examples=30, deadline=None)
@given(group=groups, seed=st.randoms(use_true_random=False))
def test_the_order_of_pieces_in_the_group_changes_nothing(group: Group, seed: Random) -> None:
    pieces = list(group.pieces)
    seed.shuffle(pieces)
    assert curve(group_of(*pieces), HOUSE) == curve(group, HOUSE)


@settings(max_examples=40, deadline=None)
@given(group=groups, wider=st.integers(0, 300), deeper=st.integers(0, 200))
def test_a_layout_spreads_over_a_larger_field_and_keeps_webs_and_order(group: Group, wider: int, deeper: int) -> None:
    for point in curve(group, HOUSE)[::7]:
        field = point.width + mm(wider), point.depth + mm(deeper)
        layout, left, front = evened(group, HOUSE, point, field)
        assert min(left, front) >= 0
        assert left + layout.width <= field[0]
        assert front + layout.depth <= field[1]
        assert faults(layout, group) == []
        plain = realize(group, HOUSE, point)
        assert [pocket.piece for pocket in layout.pockets] == [pocket.piece for pocket in plain.pockets]


def test_slack_is_shared_alike_by_webs_and_margins() -> None:
    """Four equal files with 8 mm to spare: 2 mm more for each web, 1 mm for each margin; 10 mm of depth in halves."""
    row = group_of(made("file", 1, 100, 20, 30, count=4))
    point = next(point for point in curve(row, HOUSE) if point.depth == mm(101.6))
    layout, left, front = evened(row, HOUSE, point, (point.width + mm(8), point.depth + mm(10)))
    assert (left, front, layout.width, layout.depth) == (mm(1), mm(5), point.width + mm(6), point.depth)
    assert [box[0] for box in boxes(layout)] == [n * mm(21.6 + 6 + 2) for n in range(4)]


@settings(max_examples=30, deadline=None)
@given(group=groups)
def test_labels_touch_neither_pockets_nor_each_other(group: Group) -> None:
    """A label on foam keeps its corners out of every pocket and notch, and within the margin."""
    margin = HOUSE.pocket.margin
    for _, layout in sample(group, most=3):
        cut = union_all([Polygon(one.ring) for one in (*layout.pockets, *layout.notches)])
        assert len(layout.labels) == len(layout.pockets)
        for pocket, label in zip(layout.pockets, layout.labels, strict=True):
            if label.on_foam:
                assert not cut.intersects(Point(label.x, label.y).buffer(label.height / 2))
                assert -margin <= label.x <= layout.width + margin
                assert -margin <= label.y <= layout.depth + margin
            else:
                assert Polygon(pocket.ring).envelope.contains(Point(label.x, label.y))


# ---------------------------------------------------------------------------------------------- standing and lying


def test_sockets_stand_where_the_height_allows_and_lie_where_it_does_not() -> None:
    """A socket 28 mm long and 20.5 mm across on a floor of 6 mm rises 34 mm standing and 26.5 mm lying."""
    row = group_of(socket(14), socket(14))
    heights = {point.height for point in curve(row, HOUSE)}
    assert (min(heights), max(heights)) == (mm(26.5), mm(34))
    for point, layout in sample(row, most=100):
        assert all(pocket.standing == (point.height == mm(34)) for pocket in layout.pockets)


def test_nothing_stands_where_the_house_says_so() -> None:
    assert {point.height for point in curve(group_of(socket(14)), LYING_ONLY)} == {mm(26.5)}


def test_long_tools_of_one_drive_may_lie_side_by_side() -> None:
    """A ratchet and a breaker bar: in a drawer 300 mm deep they only go in along the depth, next to each other."""
    pair = group_of(made("ratchet", 1, 250, 30, 30, drive="1/2"), made("breaker bar", 1, 290, 30, 30, drive="1/2"))
    assert any(point.width < mm(100) and point.depth < mm(300) for point in curve(pair, HOUSE))


def test_a_footprint_between_two_points_is_laid_out_within() -> None:
    row = group_of(*(socket(n) for n in range(8, 20)))
    point = curve(row, HOUSE)[3]
    layout = realize(row, HOUSE, Footprint(point.width + 1, point.depth + 1, point.height + 1))
    assert layout.width <= point.width + 1
    assert layout.depth <= point.depth + 1
    assert faults(layout, row) == []


def test_a_footprint_below_the_curve_is_refused() -> None:
    row = group_of(socket(10))
    with pytest.raises(ValueError, match="no ordered layout"):
        realize(row, HOUSE, Footprint(mm(10), mm(10), mm(100)))


# ------------------------------------------------------------------------------------------------------------- cases


def case(length: float, width: float, height: float, count: int = 1) -> SizedPiece:
    return made("cased", 0, length, width, height, count=count)


def test_one_case_may_face_either_way_and_needs_no_foam() -> None:
    box = group_of(case(300, 200, 90), cased=True)
    assert as_tuples(curve(box, HOUSE)) == [(mm(200), mm(300), mm(90)), (mm(300), mm(200), mm(90))]
    layout = realize(box, HOUSE, curve(box, HOUSE)[0])
    assert [(p.depth, p.rise, p.standing) for p in layout.pockets] == [(0, mm(90), False)]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 9), st.integers(1, 9)), min_size=2, max_size=2))
def test_two_cases_take_the_least_of_all_boxes(sizes: list[tuple[int, int]]) -> None:
    """Either case either way round, side by side or one behind the other."""
    both = group_of(*(case(length, width, 5) for length, width in sizes), cased=True)
    turned = product(*(((length, width), (width, length)) for length, width in sizes))
    fields = [f for (a, b), (c, d) in turned for f in ((a + c, max(b, d)), (max(a, c), b + d))]
    assert as_tuples(curve(both, HOUSE)) == sorted((mm(w), mm(d), mm(5)) for w, d in pareto(fields))


@pytest.mark.parametrize("count", [3, MOST, MOST + 3])
def test_several_cases_stand_without_overlap(count: int) -> None:
    cases = group_of(*(case(300 - 20 * n, 180 - 10 * n, 60 + n) for n in range(count)), cased=True)
    points = curve(cases, HOUSE)
    assert {point.height for point in points} == {mm(60 + count - 1)}
    for point, layout in sample(cases):
        assert (layout.width, layout.depth) == (point.width, point.depth)
        assert faults(layout, cases) == []


# ------------------------------------------------------------------------------------------------ bounds on any layout


@settings(max_examples=40, deadline=None)
@given(group=groups)
def test_bounds_never_exclude_what_has_a_layout(group: Group) -> None:
    for point in curve(group, HOUSE):
        assert excluded_by(group, point.width, point.depth, point.height, HOUSE) is None
    assert least_height(group, HOUSE) <= min(point.height for point in curve(group, HOUSE))


def test_too_low_by_one_unit() -> None:
    """A wrench 9 mm thick on a floor of 6 mm needs 15 mm."""
    one = group_of(made("open-end wrench", 1, 100, 20, 9))
    assert least_height(one, HOUSE) == mm(15)
    assert excluded_by(one, mm(500), mm(500), mm(15), HOUSE) is None
    assert excluded_by(one, mm(500), mm(500), mm(15) - 1, HOUSE) == Excluded("short", "height", 1)


def test_a_piece_that_may_stand_counts_in_its_lowest_pose() -> None:
    """A socket 40 mm across and 30 mm long is lower standing."""
    low = group_of(socket(32, across=40, length=30))
    assert least_height(low, HOUSE) == mm(36)


def test_a_piece_as_long_as_the_diagonal() -> None:
    """3-4-5: 500 mm lie in 300 x 400 mm at an angle, and in nothing smaller; 0.8 mm of fit at both ends."""
    bar = group_of(made("pry bar", 1, 500, 1, 1))
    width, depth, fit = mm(300), mm(400), 2 * HOUSE.pocket.fit
    assert excluded_by(bar, width + fit, depth + fit, mm(100), HOUSE) is None
    assert excluded_by(bar, width + fit, depth + fit - 1, mm(100), HOUSE) == Excluded("short", "depth", 1)


def test_the_shortfall_of_the_largest_piece_is_along_the_axis_that_lacks_less() -> None:
    """500 mm in 300 x 100 mm: sqrt(500^2 - 300^2) = 400 lacks 300 in depth, sqrt(500^2 - 100^2) = 489.9 lacks 189.9."""
    bar = group_of(made("pry bar", 1, 500, 1, 1))
    fit = 2 * HOUSE.pocket.fit
    short = ceil(sqrt(mm(500) ** 2 - mm(100) ** 2)) - mm(300)
    assert excluded_by(bar, mm(300) + fit, mm(100) + fit, mm(100), HOUSE) == Excluded("short", "width", short)


def test_area() -> None:
    """A bar of 100 mm covers at least 100 x 7.6 + pi/4 x 7.6^2 = 805.4 mm2 with clearance and half a web round it.

    A field of 94 x 94 mm with half a web round it is 100 x 100: room for 12 such bars (9664.4), not for 13 (10469.8).
    """
    twelve, thirteen = (group_of(made("file", 1, 100, 1, 1, count=n)) for n in (12, 13))
    assert excluded_by(twelve, mm(94), mm(94), mm(100), HOUSE) is None
    assert excluded_by(thirteen, mm(94), mm(94), mm(100), HOUSE) == Excluded("area", "area", 0)


@EQUAL_CIRCLES
def test_equal_circles_in_a_square(count: int, radius: float) -> None:
    """Largest radius of equal circles in a unit square (closed forms, from memory): the best packing is not excluded.

    Standing sockets with clearance and half a web round them are circles in the field with half a web round it. A
    square in which the circles' area alone exceeds it is excluded.
    """
    grown = 2 * HOUSE.pocket.fit + HOUSE.pocket.web
    field = group_of(made("socket", 1, 2000, 20, 2000, diameter=20, count=count))
    field = replace(field, pieces=(replace(field.pieces[0], width=mm(2000)),))
    circle = mm(20) + grown
    best = ceil(circle / 2 / radius) - HOUSE.pocket.web
    assert excluded_by(field, best, best, mm(3000), HOUSE) is None
    too_small = int(circle * sqrt(0.78539 * count)) - HOUSE.pocket.web
    assert excluded_by(field, too_small, too_small, mm(3000), HOUSE) is not None


def test_cases_are_bounded_by_their_boxes() -> None:
    two = group_of(case(300, 200, 90, count=2), cased=True)
    assert excluded_by(two, mm(400), mm(300), mm(90), HOUSE) is None
    assert excluded_by(two, mm(400), mm(300) - 1, mm(90), HOUSE) == Excluded("area", "area", 0)
    assert excluded_by(two, mm(400), mm(300), mm(90) - 1, HOUSE) == Excluded("short", "height", 1)


# ------------------------------------------------------------------------------------------------------------- easing


@given(group=groups, room=st.integers(0, 3))
def test_the_floor_holds_in_the_thinnest_sheet_where_the_height_allows(group: Group, room: int) -> None:
    """Trade practice: sheet less tolerance at least floor and pocket; every piece still stands on its pocket's floor,
    and with no height to spare nothing changes."""
    layout = realize(group, HOUSE, curve(group, HOUSE)[0])
    rules = HOUSE.pocket
    lower = eased(layout, rules, layout.height + mm(room))
    for old, new in zip(layout.pockets, lower.pockets, strict=True):
        assert new.depth + new.rise == old.depth + old.rise
        assert new.depth <= old.depth
    assert lower.height <= layout.height + mm(room)
    if room and layout.thickness in rules.stock:
        deepest = max(cut.depth for cut in (*lower.pockets, *lower.notches))
        assert layout.thickness - rules.stock_tolerance >= rules.floor + deepest


@EQUAL_CIRCLES
def test_a_field_of_equal_sockets_is_no_smaller_than_the_best_packing_of_circles(count: int, radius: float) -> None:
    """Largest radius of equal circles in a unit square (closed forms, from memory; 10 numeric, from memory).

    Standing sockets with clearance and half a web round them are circles in the field with half a web round it. Squares
    of 4, 9 and 16 are packed best in rows (1/4, 1/6, 1/8), which is what the trade does: there the bound is reached.
    """
    same = group_of(replace(socket(20, length=26), piece=replace(socket(20).piece, count=count)))
    circle = same.pieces[0].width + 2 * HOUSE.pocket.fit + HOUSE.pocket.web
    least = circle / 2 / radius - HOUSE.pocket.web
    found = min(max(point.width, point.depth) for point in curve(same, HOUSE))
    assert found >= least - 1
    if count in (4, 9, 16):
        assert found == pytest.approx(least, abs=2)


INCHES = (
    ("wrench 10", "combination wrench", "10", "metric", ("6", "1", "0.25")),
    ("wrench 13", "combination wrench", "13", "metric", ("7.5", "1.25", "0.375")),
    ("pliers", "combination pliers", "", "", ("8", "2", "0.75")),
    ("hammer", "hammer", "500 g", "", ("12", "4", "1.125")),
)


def test_layouts_do_not_depend_on_the_unit_in_which_tools_were_typed(tmp_path: Path) -> None:
    """1 in is 25.4 mm: the same tools typed either way give the same curves and the same layouts."""
    laid = []
    for unit, factor in (("in", Decimal(1)), ("mm", Decimal("25.4"))):
        rows = [
            ",".join(("Oak", tool, kind, "1", size, system, *(str(Decimal(length) * factor) for length in lengths)))
            for tool, kind, size, system, lengths in INCHES
        ]
        table = "\n".join([f"set,tool,kind,count,size,system,length_{unit},width_{unit},height_{unit}", *rows])
        only: dict[str, str | None] = {name: None for name in SOUND if name not in ("tools", "drawers")}
        known = read_catalogue(folder(tmp_path / unit, **{**only, "tools": table}))
        groups = groups_of(known, "Oak")
        laid.append([(curve(group, HOUSE), realize(group, HOUSE, curve(group, HOUSE)[0])) for group in groups])
    assert laid[0]
    assert laid[0] == laid[1]
