"""Goals switched off and changing places by the house rules, from the file to the plan."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest

from matcher.house.reading import read_house
from matcher.planning.answering import plan
from matcher.planning.outcome import Fits
from matcher.records.errors import CatalogueError
from matcher.records.given import GroupRule, Relation
from matcher.records.units import PER_INCH, mm
from tests.builders import cabinet, catalogue, drawer, organizer, piece

AFTER = ("order", "neighbors", "recut", "reach")


def planned(folder: Path, rules: str) -> Fits:
    """Group `a` of tier 1 is used 9 times a week, `b` of tier 2 once; hands are at 60, 35 and 30 in, the last drawer is
    a bank off. `a` wishes to be near `b`; `a` fits the lowest drawer without a gap."""
    boxes = (
        drawer("high", 1, 1, above_ground=60 * PER_INCH - mm(50)),
        drawer("good", 1, 2, above_ground=35 * PER_INCH - mm(50)),
        drawer("far", 3, 3, width=503.2, above_ground=30 * PER_INCH - mm(50)),
    )
    known = catalogue(
        [piece(name, group=name, use=use) for name, use in (("a", 9), ("b", 1))],
        [organizer(name, tier=tier, family=name) for name, tier in (("a", 1), ("b", 2))],
        [cabinet(*boxes)],
        group_rules=(GroupRule("a"), GroupRule("b")),
        relations=(Relation("a", "b", "near"),),
    )
    path = folder / "house.toml"
    path.write_text(rules, encoding="utf-8")
    outcome = plan(known, read_house(path), "set", "cabinet")
    assert isinstance(outcome, Fits)
    assert all(goal.proved for goal in outcome.goals)
    return outcome


def places(outcome: Fits) -> dict[str, str]:
    return {placed.group: placed.drawer for placed in outcome.plan.placements}


def values(outcome: Fits) -> dict[str, int]:
    return {goal.name: goal.value for goal in outcome.goals}


@pytest.mark.parametrize(
    ("first", "best"),
    [
        ("order", {"a": "high", "b": "good"}),
        ("neighbors", {"a": "high", "b": "good"}),
        ("recut", {"a": "good", "b": "far"}),
        ("reach", {"a": "good", "b": "far"}),
    ],
)
def test_the_goal_put_first_decides(tmp_path: Path, first: str, best: dict[str, str]) -> None:
    """Order and neighbors: `a` over `b`, one row apart. Least gaps: one of both in the drawer that has none across, the
    other as near over it as can be. Reach: both between knuckle and elbow."""
    rest = [goal for goal in AFTER if goal != first]
    outcome = planned(tmp_path, f"[goals]\norder = {['drawers', first, *rest]}")
    assert places(outcome) == best


def test_all_orders_of_the_goals_tell_them_in_that_order(tmp_path: Path) -> None:
    """Each goal is best given those before it, so the list of values in its order is the least of all orders' plans."""
    found = {order: planned(tmp_path, f"[goals]\norder = {['drawers', *order]}") for order in permutations(AFTER)}
    for order, outcome in found.items():
        assert [goal.name for goal in outcome.goals] == ["together", "drawers", *order]
        mine = [values(outcome)[name] for name in order]
        assert all(mine <= [values(other)[name] for name in order] for other in found.values())


def test_goals_not_named_keep_their_places_at_the_end(tmp_path: Path) -> None:
    outcome = planned(tmp_path, "[goals]\norder = ['drawers', 'reach']")
    assert [goal.name for goal in outcome.goals] == ["together", "drawers", "reach", "order", "neighbors", "recut"]


@pytest.mark.parametrize("off", [*AFTER, "drawers"])
def test_a_goal_switched_off_is_neither_told_nor_sought(tmp_path: Path, off: str) -> None:
    """With `order` off nothing keeps `a` up where the hand does not like it, once nearness is off as well."""
    outcome = planned(tmp_path, f"[goals]\noff = ['{off}']")
    assert [goal.name for goal in outcome.goals] == [name for name in ("together", "drawers", *AFTER) if name != off]
    assert outcome.verdict == "fits"


def test_what_is_off_no_longer_binds(tmp_path: Path) -> None:
    assert places(planned(tmp_path, ""))["a"] == "high"
    assert places(planned(tmp_path, "[goals]\noff = ['order', 'neighbors', 'recut']")) == {"a": "good", "b": "far"}


def test_drawers_stay_first(tmp_path: Path) -> None:
    with pytest.raises(CatalogueError) as refused:
        planned(tmp_path, "[goals]\norder = ['reach', 'drawers']")
    assert "begins with drawers" in refused.value.cells[0].expected
