"""Pocket depths in steps of the house: a handful for an organizer, none shallower, foam below them in thin sheets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from statistics import median

import pytest

from matcher.catalogue.reading import read_catalogue
from matcher.house.rules import House
from matcher.layout.curves import curve, realize
from matcher.layout.easing import eased
from matcher.layout.poses import Pose, Rules, poses, rules_for, sheets
from matcher.planning.grouping import groups_of, sets_of
from matcher.records.laid_out import Group, SizedPiece
from tests.pieces import HOUSE, UNSTEPPED, group_of, made, mm, socket, wrench

WORKSHOP = Path(__file__).resolve().parents[1] / "data" / "workshop"
STEP = HOUSE.pocket.depth_step


def only(piece: SizedPiece, house: House = HOUSE) -> tuple[Pose, Rules]:
    """How a tool lies or stands by nature in foam chosen for it alone."""
    sheet = sheets([piece], rules_for(group_of(piece), house))[0]
    return poses(piece, sheet)[0], sheet


# ------------------------------------------------------------------------------------------------------ worked by hand


def test_a_wrench_lies_at_the_next_step() -> None:
    """12.3 mm thick and let in by all of it: the next multiple of 1.5 mm is 13.5."""
    pose, sheet = only(made("open-end wrench", 1, 150, 30, 12.3))
    assert (pose.cut, sheet.thickness, pose.rise) == (mm(13.5), mm(25.4), mm(25.4))


def test_a_depth_on_a_step_stays() -> None:
    assert only(made("open-end wrench", 1, 150, 30, 12))[0].cut == mm(12)


def test_without_steps_a_pocket_is_as_deep_as_its_tool_asks_for() -> None:
    assert only(made("open-end wrench", 1, 150, 30, 12.3), UNSTEPPED)[0].cut == mm(12.3)


def test_the_floor_in_a_thin_sheet_ends_the_step() -> None:
    """12.1 + 6 + 0.8 = 18.9 mm of foam: 19.05, in which 12.25 leave the floor in a thin sheet, not 13.5."""
    pose, sheet = only(made("open-end wrench", 1, 150, 30, 12.1))
    assert (sheet.thickness, pose.cut) == (mm(19.05), mm(12.25))


def test_the_reach_of_the_finer_cutter_ends_the_step() -> None:
    """15.3 mm: 16.5 would take the wider cutter, which the finer one's reach of 16 mm spares."""
    assert only(made("open-end wrench", 1, 150, 30, 15.3))[0].cut == mm(16)


def test_the_deepest_pocket_of_the_kind_ends_the_step() -> None:
    house = replace(HOUSE, pocket=replace(HOUSE.pocket, depth_max=(("default", mm(13)),)))
    assert only(made("open-end wrench", 1, 150, 30, 12.3), house)[0].cut == mm(13)


def test_a_step_does_not_take_the_grip() -> None:
    """A socket 21 mm long, 12.6 deep: 13.5 would leave 7.5 mm to be gripped instead of 8, so it is 13."""
    pair = group_of(socket(10, across=20, length=21), socket(14, across=20, length=21))
    laid = realize(pair, HOUSE, max(curve(pair, HOUSE), key=lambda point: point.height))
    assert all(pocket.standing for pocket in laid.pockets)
    assert {pocket.depth for pocket in laid.pockets} == {mm(13)}
    assert laid.notches == ()


def test_over_a_base_every_pocket_that_may_ends_where_the_top_sheet_does() -> None:
    """Top sheet of 12.7 mm: no pocket is cut 0.8 mm into the base only because 13.5 is a step."""
    house = replace(HOUSE, pocket=replace(HOUSE.pocket, base=mm(9.525)))
    pair = group_of(*(made("open-end wrench", n, 150, 30, thick) for n, thick in ((1, 8), (2, 11.3), (3, 13.2))))
    laid = realize(pair, house, curve(pair, house)[0])
    assert [pocket.depth for pocket in laid.pockets] == [mm(12.7), mm(12.7), mm(13.5)]


# ----------------------------------------------------------------------------------------------------------- all groups


def bundled() -> Iterator[Group]:
    catalogue = read_catalogue(WORKSHOP)
    for name in sets_of(catalogue):
        yield from (group for group in groups_of(catalogue, name) if group.pieces and not group.cased)


def naturals(group: Group, house: House) -> tuple[Rules, list[Pose]]:
    sheet = sheets(group.pieces, rules_for(group, house))[0]
    return sheet, [poses(piece, sheet)[0] for piece in group.pieces]


def test_steps_are_in_the_same_foam_never_shallower_and_by_less_than_one_deeper() -> None:
    for group in bundled():
        (sheet, stepped), (plain_sheet, plain) = naturals(group, HOUSE), naturals(group, UNSTEPPED)
        assert sheet.thickness == plain_sheet.thickness, "steps ask for no thicker foam"
        for piece, one, other in zip(group.pieces, stepped, plain, strict=True):
            assert 0 <= one.cut - other.cut < STEP, piece.piece.tool
            assert one.rise <= other.rise, piece.piece.tool
            assert one.finger == 0 or other.finger or other.notch, piece.piece.tool
            room = sheet.thickness - HOUSE.pocket.floor
            eased_later = room - HOUSE.pocket.stock_tolerance <= one.cut <= room
            gripped = one.rise - sheet.thickness == HOUSE.notch.grip
            limits = {HOUSE.pocket.deepest(piece.piece.kind), *(cutter.reach for cutter in HOUSE.cutters)}
            assert one.cut % STEP == 0 or one.cut in limits or eased_later or gripped, piece.piece.tool


def depths(group: Group, house: House) -> int:
    """How many depths an organizer has, pockets and notches, once the floor in thin sheets is kept."""
    laid = realize(group, house, min(curve(group, house), key=lambda point: (point.width * point.depth, point)))
    laid = eased(laid, house.pocket, laid.height + mm(10))
    return len({cut.depth for cut in (*laid.pockets, *laid.notches)})


@pytest.mark.slow
def test_an_organizer_has_a_handful_of_depths() -> None:
    """Of the bundled groups of twelve pieces or more, small ones first so that the test is quick."""
    groups = sorted((group for group in bundled() if len(group.pieces) >= 12), key=lambda group: len(group.pieces))[:30]
    few, many = ([depths(group, house) for group in groups] for house in (HOUSE, UNSTEPPED))
    assert max(few) <= 12
    assert median(few) <= 7 < median(many)
    assert all(one <= other for one, other in zip(few, many, strict=True))


def test_a_layout_of_large_and_small_wrenches_has_fewer_depths_than_tools() -> None:
    wrenches = group_of(*(wrench(size) for size in range(6, 25)))
    assert depths(wrenches, HOUSE) < depths(wrenches, UNSTEPPED) / 2
