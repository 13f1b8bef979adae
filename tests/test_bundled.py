"""The bundled catalogue reads without a fault and is what a workshop and a cabinet maker would know."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

from matcher.catalogue.reading import read_catalogue
from matcher.house.reading import default_house
from matcher.planning.answering import plan
from matcher.planning.grouping import groups_of
from matcher.records.given import Cabinet, Catalogue, Piece
from matcher.records.units import in_inches, kg, mm

FOLDER = Path(__file__).resolve().parents[1] / "data" / "workshop"


def sizes(text: str) -> tuple[str, ...]:
    return tuple(text.split())


METRIC = sizes("4 4.5 5 5.5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 21 22 24 27 30 32 36 41 46 50")
"""6 to 19 every mm, then 21, 22, 24, 27, 30, 32, 36: set series of the trade, common practice, no source. 41, 46, 50:
flats of M27, M30, M33 in ISO 4014, read at second hand. Below 6: from memory."""

INCH = (*(str(Fraction(k, 16)) for k in range(4, 25)), "13/8", "7/4", "15/8", "2")
"""Every sixteenth from 1/4 to 1-1/2, then every eighth: common practice, no source."""

SMALL_INCH = sizes("5/32 3/16 7/32 1/4 9/32 5/16 11/32 3/8 7/16 1/2 9/16")
"""Sockets and drivers for small hexagons also come in thirty-seconds: common practice, no source."""

ISO_2936 = sizes("0.7 0.9 1.3 1.5 2 2.5 3 3.5 4 4.5 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19")
"""Sizes of hex keys in ISO 2936, read at second hand in a public copy."""

KEY_SET = sizes("1.5 2 2.5 3 4 5 6 8 10 12 14 17 19")
"""The sizes of ISO 2936 that socket head screws need, as key sets hold them: common practice, no source."""

ASME_B18_3 = sizes("0.050 1/16 5/64 3/32 7/64 1/8 9/64 5/32 3/16 7/32 1/4 5/16 3/8 7/16 1/2 9/16 5/8 3/4")
"""Sizes of inch hex keys in ASME B18.3, read at second hand in a public copy."""

RUNS = (
    "socket",
    "deep socket",
    "impact socket",
    "deep impact socket",
    "universal-joint socket",
    "combination wrench",
    "stubby combination wrench",
    "ratcheting wrench",
    "reversible ratcheting wrench",
    "flex-head ratcheting wrench",
    "stubby ratcheting wrench",
    "crowfoot wrench",
)
"""Kinds that are bought as a run of sizes without a gap."""


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return read_catalogue(FOLDER)


def by_set(catalogue: Catalogue) -> dict[str, list[Piece]]:
    sets = defaultdict(list)
    for piece in catalogue.pieces:
        sets[piece.set].append(piece)
    return sets


def own_drawers(cabinet: Cabinet) -> list:
    """A chest's own drawers, without those of its base."""
    return [drawer for drawer in cabinet.drawers if drawer.cabinet == cabinet.name]


def plain(size: str) -> str:
    """``1-1/16`` as ``17/16``; metric sizes as they stand."""
    return str(sum(Fraction(part) for part in size.split("-"))) if "/" in size or "-" in size else size


def is_run(sizes: list[str], series: tuple[str, ...]) -> bool:
    """Whether ``sizes``, each once, are what stands between their first and last in ``series``."""
    if not set(sizes) <= set(series) or len(set(sizes)) != len(sizes):
        return False
    places = sorted(series.index(size) for size in sizes)
    return places[-1] - places[0] == len(places) - 1


# ----------------------------------------------------------------------------------------------------------------- sets


def test_there_are_sets_of_60_to_900_pieces_and_each_name_tells_the_count(catalogue):
    counts = {name: sum(piece.count for piece in pieces) for name, pieces in by_set(catalogue).items()}
    assert len(counts) >= 5
    assert all(60 <= count <= 900 for count in counts.values())
    assert {name: int(name.rpartition("-")[2]) for name in counts} == counts


def test_sets_mix_systems_and_drives(catalogue):
    sets = by_set(catalogue).values()
    assert all(len({piece.drive for piece in pieces} - {""}) >= 2 for pieces in sets)
    assert sum({"metric", "inch"} <= {piece.system for piece in pieces} for pieces in sets) >= 4
    assert sum(len({piece.drive for piece in pieces} - {""}) >= 3 for pieces in sets) >= 4


@pytest.mark.parametrize("kind", RUNS)
def test_every_size_series_is_complete(catalogue, kind):
    series = defaultdict(list)
    for piece in catalogue.pieces:
        if piece.kind == kind:
            series[piece.set, piece.drive, piece.system].append(plain(piece.size))
    assert series, f"no set holds a {kind}"
    for (name, drive, system), sizes in sorted(series.items()):
        known = METRIC if system == "metric" else SMALL_INCH if drive == "1/4" else INCH
        assert len(sizes) >= 6, f"{name}: {len(sizes)} sizes of {kind} {drive} {system} are no series"
        assert is_run(sizes, known), f"{name}: {kind} {drive} {system} {sizes} has gaps or repeats"


@pytest.mark.parametrize(
    ("system", "run", "standard"), [("metric", KEY_SET, ISO_2936), ("inch", ASME_B18_3, ASME_B18_3)]
)
def test_hex_keys_are_a_run_of_sizes_that_the_standard_lists(catalogue, system, run, standard):
    keys = defaultdict(list)
    for piece in catalogue.pieces:
        if piece.kind == "hex key" and piece.system == system:
            keys[piece.set].append(piece.size)
    assert keys
    assert all(is_run(held, run) and set(held) <= set(standard) for held in keys.values())


def test_no_set_holds_the_same_tool_twice_in_two_rows(catalogue):
    names = Counter((piece.set, piece.tool) for piece in catalogue.pieces)
    assert [name for name, times in names.items() if times > 1] == []
    alike = Counter(
        (piece.set, piece.kind, piece.system, piece.size, piece.drive)
        for piece in catalogue.pieces
        if piece.size and piece.length is None and piece.kind != "insert bit"
    )
    assert [key for key, times in alike.items() if times > 1] == []


def test_every_ratchet_drive_has_sockets_and_every_socket_drive_a_ratchet(catalogue):
    for name, pieces in by_set(catalogue).items():
        turned = {piece.drive for piece in pieces if piece.kind == "ratchet"}
        turning = {piece.drive for piece in pieces if piece.kind == "socket"}
        assert turned == turning, name


def test_cased_equipment_is_measured_and_what_takes_two_hands_is_marked(catalogue):
    cased = [piece for piece in catalogue.pieces if piece.kind == "cased"]
    assert len(cased) >= 20
    assert all(None not in (piece.length, piece.width, piece.height, piece.mass) for piece in cased)
    # 7 kg: where this workshop asks for two hands, our own rule
    assert all(piece.two_hands == (piece.mass >= kg(7)) for piece in cased)
    assert any(piece.two_hands for piece in cased)


def test_the_largest_set_has_as_many_groups_as_a_planner_handles(catalogue):
    sets = by_set(catalogue)
    largest = max(sets, key=lambda name: sum(piece.count for piece in sets[name]))
    assert 20 <= len(groups_of(catalogue, largest)) <= 30


# ------------------------------------------------------------------------------------------------------------- cabinets


def test_there_are_variants_in_lines_and_no_two_have_the_same_drawers(catalogue):
    lines = Counter(cabinet.model_line for cabinet in catalogue.cabinets)
    assert len(catalogue.cabinets) >= 12
    assert len(lines) >= 3
    assert min(lines.values()) >= 3
    boxes = [
        sorted(
            (d.bank, d.last_bank, d.row, d.inside_width, d.inside_depth, d.clear_height, d.slot, d.obstructions)
            for d in cabinet.drawers
        )
        for cabinet in catalogue.cabinets
    ]
    assert all(first != second for at, first in enumerate(boxes) for second in boxes[:at])


def test_some_variants_look_alike_from_the_front_and_differ_inside(catalogue):
    fronts = defaultdict(set)
    for cabinet in catalogue.cabinets:
        seen = tuple(sorted((d.bank, d.row, d.above_ground, d.clear_height) for d in own_drawers(cabinet)))
        inside = sorted((d.name, d.inside_width, d.inside_depth, d.slot, d.obstructions) for d in own_drawers(cabinet))
        fronts[cabinet.model_line, cabinet.width, seen].add(tuple(inside))
    assert sum(len(inside) > 1 for inside in fronts.values()) >= 2


def test_drawers_stand_over_one_another_inside_their_cabinet(catalogue):
    for cabinet in catalogue.cabinets:
        drawers = own_drawers(cabinet)
        for bank in {bank for d in drawers for bank in range(d.bank, d.last_bank + 1)}:
            column = sorted((d for d in drawers if d.bank <= bank <= d.last_bank), key=lambda d: d.row)
            assert [d.row for d in column] == sorted({d.row for d in column}), cabinet.name
            for upper, lower in pairwise(column):
                assert upper.above_ground >= lower.above_ground + lower.clear_height, (upper.name, lower.name)
        assert all(d.inside_depth < cabinet.depth for d in drawers)
        assert all(d.inside_width < cabinet.width for d in drawers)
        assert all(d.travel <= d.inside_depth for d in drawers)


def test_inside_sizes_are_those_of_the_trade(catalogue):
    """Depth 400 to 570 mm and clear height 45 to 245 mm: common practice, no source; chests are shallower."""
    for cabinet in catalogue.cabinets:
        for d in own_drawers(cabinet):
            assert mm(45) <= d.clear_height <= mm(245)
            assert mm(300) <= d.inside_depth <= mm(570)


def test_deep_bottom_drawers_are_the_ones_without_foam(catalogue):
    """Cased equipment stays low: common practice, no source."""
    for cabinet in catalogue.cabinets:
        if cabinet.stands_on:
            continue
        lowest = min(d.above_ground for d in cabinet.drawers)
        bare = [d for d in cabinet.drawers if d.slot == "no foam"]
        assert bare, cabinet.name
        assert all(d.above_ground == lowest for d in bare)
        assert all(d.clear_height == max(e.clear_height for e in cabinet.drawers if e.bank == d.bank) for d in bare)


def test_a_chest_stands_on_its_base_and_its_drawers_above_the_base(catalogue):
    cabinets = {cabinet.name: cabinet for cabinet in catalogue.cabinets}
    chests = [cabinet for cabinet in catalogue.cabinets if cabinet.stands_on]
    assert len(chests) >= 2
    for chest in chests:
        base = cabinets[chest.stands_on]
        assert base.model_line == chest.model_line
        assert min(d.above_ground for d in own_drawers(chest)) >= base.height
        assert len(chest.drawers) == len(own_drawers(chest)) + len(base.drawers)


# ----------------------------------------------------------------------------------------------------- demand and stock


def test_demand_names_what_must_and_what_must_not_be_offered(catalogue):
    assert {row.offered for row in catalogue.demand} == {"yes", "must", "no"}
    assert len({(row.set, row.cabinet) for row in catalogue.demand}) == len(catalogue.demand)
    assert {row.set for row in catalogue.demand} == set(by_set(catalogue))


def test_a_buyers_readings_are_within_a_few_millimeters_of_the_catalogue(catalogue):
    drawers = {(cabinet.name, d.name): d for cabinet in catalogue.cabinets for d in own_drawers(cabinet)}
    assert len(catalogue.measured) >= 3
    for reading in catalogue.measured:
        nominal = drawers[reading.cabinet, reading.drawer]
        for name in ("inside_width", "inside_depth", "clear_height"):
            read = getattr(reading, name)
            assert read is None or abs(read - getattr(nominal, name)) <= mm(5)


def test_every_organizer_belongs_to_a_group_with_pieces_and_its_field_leaves_a_margin(catalogue):
    assert len(catalogue.organizers) >= 6
    for organizer in catalogue.organizers:
        names = {group.name for group in groups_of(catalogue, organizer.set) if group.pieces}
        assert organizer.group in names
        assert mm(10) <= organizer.width - organizer.field_width <= mm(130)
        assert mm(10) <= organizer.depth - organizer.field_depth <= mm(130)


# ------------------------------------------------------------------------------------------------------------- verdicts


def test_the_starter_set_just_fits_the_smallest_cabinet(catalogue):
    """By hand: four families, which may not share, in four drawers for foam; the fifth, without foam, is free."""
    outcome = plan(catalogue, default_house(), "Alder-64", "Glen-5", "spread")
    assert outcome.verdict == "fits"
    assert outcome.plan.free_drawers == ("A5",)
    assert (outcome.fewest_free, outcome.most_free) == (1, 1)


def families(catalogue: Catalogue, set_name: str) -> set[str]:
    return {group.family for group in groups_of(catalogue, set_name) if not group.cased}


@pytest.mark.parametrize(("cabinet", "more"), [("Glen-5", 3), ("Glen-7", 1)])
def test_seven_families_mix_where_fewer_drawers_take_foam(catalogue, cabinet, more):
    """Seven families in 4 and 6 drawers for foam: at least 3 and 1 are beyond the first of a drawer, at 2 each."""
    assert len(families(catalogue, "Birch-134")) == 7
    outcome = plan(catalogue, default_house(), "Birch-134", cabinet, "spread")
    assert outcome.verdict == "fits"
    assert outcome.goals[0].value == 2 * more


def test_a_drawer_lost_to_a_power_strip_leaves_just_room_for_the_cases(catalogue):
    """By hand: of 516.8 x 456.8 mm, two torque wrench cases take 498 x 195, the taps 395 x 255 behind them (450 deep in
    all), and the multimeter lies lengthwise, 115 x 235, in the 121.8 mm left beside the taps.
    """
    outcome = plan(catalogue, default_house(), "Cedar-229", "Moor-13D", "spread")
    assert outcome.verdict == "fits"
    cases = {group.name for group in outcome.plan.groups if group.cased}
    assert len(cases) == 3
    assert {place.drawer for place in outcome.plan.placements if place.group in cases} == {"A7"}


def test_foam_is_named_by_what_it_is(catalogue):
    """Color and thickness in plain words, as a planner would say them; nobody's grade or part number."""
    for foam in catalogue.foam:
        assert f"{foam.color} {in_inches(foam.thickness)} in" in foam.name
        assert not re.search("[A-Z]", foam.name)
