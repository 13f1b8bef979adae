"""Every plan of the bundled catalogue keeps to the trade's habits. All of it is common practice, no source."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from matcher.catalogue.reading import read_catalogue
from matcher.house.reading import default_house
from matcher.planning.answering import answer
from matcher.planning.deciding import verdict_of
from matcher.planning.grouping import sets_of
from matcher.planning.outcome import Fits
from matcher.planning.question import ask_each
from matcher.records.answered import Placement
from matcher.records.given import Drawer
from matcher.records.laid_out import Group, Layout
from tests.pieces import drive_spans, drives_outside_in, sizes_apart

CATALOGUE = read_catalogue(Path(__file__).resolve().parents[1] / "data" / "workshop")
HOUSE = replace(default_house(), goals=replace(default_house().goals, order=("drawers", "order")))
"""What is habit must hold whatever the other goals find."""
SETS = sorted(sets_of(CATALOGUE))

pytestmark = pytest.mark.slow


@cache
def plans(set_name: str) -> tuple[Fits, ...]:
    """Plans of a set in every cabinet of the lines that take sets whole, if it goes in with its order kept."""
    cabinets = [cabinet for cabinet in CATALOGUE.cabinets if cabinet.name.startswith(("Moor", "Dune"))]
    asked = ask_each(CATALOGUE, HOUSE, set_name, cabinets)
    found = [answer(question) for question in asked if verdict_of(question, True, 0.02) == "fits"]
    assert found
    fitting = tuple(outcome for outcome in found if isinstance(outcome, Fits))
    assert len(fitting) == len(found)
    return fitting


def seats(outcome: Fits) -> list[tuple[Group, Placement, Drawer]]:
    drawers = {drawer.name: drawer for drawer in outcome.question.cabinet.drawers}
    groups = {group.name: group for group in outcome.plan.groups}
    return [(groups[p.group], p, drawers[p.drawer]) for p in outcome.plan.placements]


def layouts(set_name: str) -> Iterator[tuple[Group, Layout]]:
    for outcome in plans(set_name):
        for group, placement, _ in seats(outcome):
            if placement.layout and placement.layout.ordered and not group.cased:
                yield group, placement.layout


@pytest.mark.parametrize("set_name", SETS)
def test_drawers_and_order_are_proved_and_sockets_lie_on_top(set_name: str) -> None:
    """Where groups are divided or mixed there may be more divisions than a search sees through in its time."""
    for outcome in plans(set_name):
        goals = {goal.name: goal for goal in outcome.goals}
        assert goals["drawers"].proved or not goals["together"].proved
        assert goals["order"].proved or goals["together"].value
        top = max(drawer.above_ground for _, _, drawer in seats(outcome))
        sockets = [drawer.above_ground for group, _, drawer in seats(outcome) if group.tier == 1]
        assert goals["order"].value > 0 or not sockets or top - max(sockets) <= HOUSE.order.level


@pytest.mark.parametrize("set_name", SETS)
def test_tiers_follow_each_other_downwards_unless_breaks_are_proved_unavoidable(set_name: str) -> None:
    """Sockets, drive accessories right beneath, specialty wrenches and screwdrivers, then wrenches."""
    for outcome in plans(set_name):
        if {goal.name: goal.value for goal in outcome.goals}["order"]:
            continue
        floors = defaultdict(list)
        for group, _, drawer in seats(outcome):
            floors[group.tier].append(drawer.above_ground)
        for upper, lower in ((1, 2), (2, 3), (3, 4), (3, 5)):
            if upper in floors and lower in floors:
                assert min(floors[upper]) >= max(floors[lower]) - HOUSE.order.level


@pytest.mark.parametrize("set_name", SETS)
def test_cases_stand_in_deep_drawers_without_foam_and_nothing_else_does(set_name: str) -> None:
    for outcome in plans(set_name):
        for group, _, drawer in seats(outcome):
            assert (drawer.slot == "no foam") == group.cased


def in_nests(group: Group) -> bool:
    """Whether all its tools may lie freely, drive by drive and kind by kind (`tests.test_kind_nests`)."""
    return all(piece.piece.kind in HOUSE.layout.nests for piece in group.pieces)


@pytest.mark.parametrize("set_name", SETS)
def test_inch_lies_left_of_metric_and_large_drives_lie_outside(set_name: str) -> None:
    for group, layout in layouts(set_name):
        spans = drive_spans(group, layout)
        inch, metric = ([drive for s, drive in sorted(spans) if s == system] for system in ("inch", "metric"))
        for one, other in product(inch, metric):
            assert spans["inch", one][1] < spans["metric", other][0]
        assert in_nests(group) or drives_outside_in(group, layout)


@pytest.mark.parametrize("set_name", SETS)
def test_of_two_sizes_the_larger_lies_further_right_or_further_back(set_name: str) -> None:
    for group, layout in layouts(set_name):
        assert in_nests(group) or sizes_apart(group, layout)
