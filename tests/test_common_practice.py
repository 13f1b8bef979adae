"""Plans of the bundled catalogue keep to the trade's habits. All of it is common practice, no source."""

from functools import cache
from pathlib import Path

import pytest

from matcher.catalogue import read_catalogue
from matcher.house import default_house
from matcher.planning import find_cabinet, plan

CATALOGUE = read_catalogue(Path(__file__).resolve().parents[1] / "data" / "workshop")
HOUSE = default_house()
PAIRS = [("Alder-64", "Glen-7"), ("Birch-134", "Glen-9"), ("Birch-134", "Moor-13L"), ("Cedar-229", "Moor-13")]


@cache
def _outcome(set_name, cabinet):
    outcome = plan(CATALOGUE, HOUSE, set_name, cabinet)
    assert outcome.plan is not None
    return outcome


def _seats(set_name, cabinet):
    outcome = _outcome(set_name, cabinet)
    drawers = {drawer.name: drawer for drawer in find_cabinet(CATALOGUE, cabinet).drawers}
    groups = {group.name: group for group in outcome.plan.groups}
    return [(groups[p.group], p, drawers[p.drawer]) for p in outcome.plan.placements]


@pytest.mark.parametrize("pair", PAIRS)
def test_drawers_and_order_are_proved_and_sockets_lie_on_top(pair):
    goals = {goal.name: goal for goal in _outcome(*pair).goals}
    assert goals["drawers"].proved
    assert goals["order"].proved
    seats = _seats(*pair)
    top = max(drawer.above_ground for _, _, drawer in seats)
    chrome = [drawer.above_ground for group, _, drawer in seats if group.family == "chrome sockets"]
    assert goals["order"].value > 0 or top in chrome


@pytest.mark.parametrize("pair", PAIRS)
def test_drive_accessories_lie_between_sockets_and_wrenches(pair):
    if {goal.name: goal.value for goal in _outcome(*pair).goals}["order"]:
        pytest.skip("this cabinet's shallow rows force breaks of the order")
    level = HOUSE.order.level
    heights = {}
    for group, _, drawer in _seats(*pair):
        heights.setdefault(group.tier, []).append(drawer.above_ground)
    for upper, lower in ((1, 2), (2, 3), (3, 4), (3, 5)):
        if upper in heights and lower in heights:
            assert min(heights[upper]) >= max(heights[lower]) - level


@pytest.mark.parametrize("pair", PAIRS)
def test_cases_stand_in_deep_drawers_without_foam_and_nothing_else_does(pair):
    for group, _, drawer in _seats(*pair):
        assert (drawer.slot == "no foam") == group.cased


@pytest.mark.parametrize("pair", PAIRS)
def test_inch_lies_left_of_metric_and_large_drives_lie_outside(pair):
    for group, placement, _ in _seats(*pair):
        if not placement.layout or not placement.layout.ordered or group.family != "chrome sockets":
            continue
        centers = {}
        for pocket in placement.layout.pockets:
            piece = group.pieces[pocket.piece].piece
            xs = [x for x, _ in pocket.ring]
            centers.setdefault((piece.system, piece.drive), []).append((min(xs) + max(xs)) / 2)
        inch = {drive: max(xs) for (system, drive), xs in centers.items() if system == "inch"}
        metric = {drive: min(xs) for (system, drive), xs in centers.items() if system == "metric"}
        assert not inch or not metric or max(inch.values()) < min(metric.values())
        for outer, inner in (("1/2", "3/8"), ("3/8", "1/4")):
            if outer in inch and inner in inch:
                assert inch[outer] < inch[inner]
            if inch and outer in metric and inner in metric:
                assert metric[inner] < metric[outer]
