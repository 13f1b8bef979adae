"""Plans kept, drawers kept free and alternatives in the assignment, against brute force over all plans."""

from __future__ import annotations

from dataclasses import replace

import pytest

from matcher.assignment.alternatives import others
from matcher.assignment.problem import Problem
from matcher.assignment.stages import assign
from matcher.records.words import Fill
from tests.brute_force import GOALS, best, different, small, values, wished
from tests.test_assignment import check


def problem(seed: int, fill: Fill = "spread") -> Problem:
    return wished(small(seed, crowded=seed % 2 == 0, fill=fill), seed)


@pytest.mark.parametrize("fill", ["spread", "pack"])
@pytest.mark.parametrize("block", range(3))
def test_with_a_plan_to_keep_and_drawers_to_stay_free_every_goal_equals_brute_force(block: int, fill: Fill) -> None:
    for seed in range(2000 + 50 * block, 2050 + 50 * block):
        check(problem(seed, fill))


def test_moves_count_wherever_they_stand_among_the_goals() -> None:
    for seed in range(2200, 2240):
        check(replace(problem(seed), goals=("moves", "neighbors", "order")))
        check(replace(problem(seed), goals=("drawers", "order", "moves", "reach")))


def test_the_best_plan_kept_is_given_back_without_a_move() -> None:
    for seed in range(2300, 2360):
        plain = small(seed, crowded=seed % 2 == 0)
        found = assign(plain)
        if found.status == "found":
            again = assign(replace(plain, kept=dict(enumerate(found.places)), goals=("drawers", "moves", *GOALS[1:])))
            assert again.places == found.places
            assert [goal.value for goal in again.goals if goal.name == "moves"] == [0]


@pytest.mark.parametrize("fill", ["spread", "pack"])
def test_alternatives_are_the_next_best_plans_and_no_exchange_of_equal_drawers(fill: Fill) -> None:
    """In the order of brute force, each unique and proved, until there is none left."""
    ends = set()
    for seed in range(2400, 2460):
        given = problem(seed, fill) if seed % 3 else small(seed, crowded=seed % 2 == 0, fill=fill)
        found = assign(given)
        if found.status != "found":
            continue
        expected = different(given)
        rest = others(given, found.places, 4)
        assert [other.places for other in rest.assignments] == list(expected[1:5])
        assert all(other.unique for other in rest.assignments)
        assert rest.end == ("found" if len(expected) > 4 else "impossible")
        ends.add(rest.end)
        for other in rest.assignments:
            counted = values(given, other.places)
            assert [goal.value for goal in other.goals] == [counted[goal.name] for goal in other.goals]
    assert ends == {"found", "impossible"}


def test_other_company_in_equal_drawers_is_another_plan() -> None:
    """Drawers all equal and level, two groups of the one family at most in each: plans differ by who lies with whom."""
    several = 0
    for seed in range(2600, 2630):
        plain = small(seed, crowded=True, fill="pack" if seed % 2 else "spread")
        given = replace(
            plain,
            boxes=tuple(replace(box, kind=0, load=None, floor=0) for box in plain.boxes),
            nodes=tuple(replace(node, family="a", share=True) for node in plain.nodes),
            together=lambda box, groups: "yes" if len(groups) <= 2 else "no",
        )
        found, expected = assign(given), different(given)
        if found.status == "found":
            rest = others(given, found.places, 6)
            assert [other.places for other in rest.assignments] == list(expected[1:7])
            assert (rest.end == "impossible") == (len(expected) < 7)
            several += len(expected) > 1
    assert several > 5


def test_alternatives_without_budget_claim_nothing() -> None:
    none = replace(small(0, crowded=False).work, drawers=0.0, order=0.0, neighbors=0.0, recut=0.0, reach=0.0)
    for seed in range(2500, 2520):
        given = replace(small(seed, crowded=seed % 2 == 0), work=none)
        ranked = best(given)
        if ranked:
            rest = others(given, ranked[0], 2)
            assert all(other.places in ranked for other in rest.assignments)
            assert rest.end != "impossible" or len(different(given)) == 1
