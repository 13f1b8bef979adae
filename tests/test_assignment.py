"""The assignment against brute force over all plans, whatever the fill, the goals and their order."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from dataclasses import replace
from itertools import permutations

import pytest

from matcher.assignment.problem import Assignment, Option, Problem, Side
from matcher.assignment.stages import assign
from matcher.assignment.values import order_breaks, wish_costs
from matcher.records.words import Fill, GoalName
from tests.benchmarks.assignment_cases import case
from tests.brute_force import GOALS, best, plans, small, values


def check(problem: Problem, found: Assignment | None = None) -> None:
    """The answer is the brute-force optimum of every goal, the smallest such plan, and proved."""
    found, ranked = found or assign(problem), best(problem)
    if not ranked:
        assert found.status == "impossible"
        assert found.places == ()
        assert found.goals == ()
        assert found.most_free is None
        return
    assert found.status == "found"
    assert found.places == ranked[0]
    assert found.unique
    expected = values(problem, ranked[0])
    assert [(goal.name, goal.value) for goal in found.goals] == [(name, expected[name]) for name in problem.goals]
    assert all(goal.proved and goal.bound == goal.value for goal in found.goals)
    used = {len(set(places)) for places in ranked}
    assert found.most_free == len(problem.boxes) - min(used)
    assert found.fewest_free == len(problem.boxes) - max(used)
    assert found.free_proved == (True, True)


@pytest.mark.parametrize("crowded", [False, True])
@pytest.mark.parametrize("fill", ["spread", "pack"])
@pytest.mark.parametrize("block", range(5))
def test_every_goal_and_the_plan_equal_brute_force(block: int, fill: Fill, crowded: bool) -> None:
    for seed in range(40 * block, 40 * (block + 1)):
        check(small(seed, crowded=crowded, fill=fill))


@pytest.mark.slow
@pytest.mark.parametrize("crowded", [False, True])
@pytest.mark.parametrize("fill", ["spread", "pack"])
def test_thousands_of_cases_equal_brute_force(fill: Fill, crowded: bool) -> None:
    for seed in range(1000, 1750):
        check(small(seed, crowded=crowded, fill=fill))


def test_goals_in_any_order_and_any_of_them_off_equal_brute_force() -> None:
    """2-5 may be reordered, each may be off; without ``drawers`` the number of drawers is free."""
    rng = random.Random(11)
    orders: list[tuple[GoalName, ...]] = [("drawers", *rest) for rest in permutations(GOALS[1:])]
    for seed in range(200, 320):
        goals = tuple(goal for goal in rng.choice(orders) if rng.random() < 0.8) or GOALS[:1]
        check(replace(small(seed, crowded=seed % 2 == 0), goals=goals))


def test_without_goals_only_the_verdict_is_given() -> None:
    for seed in range(400, 500):
        problem = replace(small(seed, crowded=True), goals=())
        found = assign(problem)
        some = next(plans(problem), None)
        assert found.status == ("impossible" if some is None else "found")
        assert found.goals == ()
        assert found.places == () or found.places in set(plans(problem))


def test_hint_changes_nothing_that_is_proved() -> None:
    for seed in range(500, 530):
        problem = small(seed, crowded=False)
        hint = (len(problem.boxes) - 1,) * len(problem.nodes)
        check(problem, assign(problem, hint=hint))


def test_progress_tells_every_goal_as_it_is_begun_and_settled() -> None:
    told: list[tuple[str, int, int]] = []
    found = assign(small(2, crowded=False), progress=lambda name, value, bound: told.append((name, value, bound)))
    assert list({name: (value, bound) for name, value, bound in told}.items()) == [
        (goal.name, (goal.value, goal.bound)) for goal in found.goals
    ]
    begun = {name: value for name, value, _ in reversed(told)}
    assert all(begun[goal.name] >= goal.value for goal in found.goals)


def test_what_makes_up_order_and_neighbors_adds_up_to_their_values() -> None:
    for seed in range(530, 560):
        problem = small(seed, crowded=False)
        found = assign(problem)
        if found.status == "found":
            assert len(order_breaks(problem, found.places)) == found.goals[1].value
            assert sum(cost for _, cost in wish_costs(problem, found.places)) == found.goals[2].value


# ------------------------------------------------------------------------------------------------ honest when unsure


@pytest.mark.parametrize("work", [0.0, 1e-5, 1e-3, 5e-3])
def test_small_budgets_never_claim_too_much(work: float) -> None:
    """Bounds lie below the optimum of the goals before, `impossible` and `proved` are said only when true."""
    budget = replace(small(0, crowded=False).work, drawers=work, order=work, neighbors=work, recut=work, reach=work)
    for seed in range(600, 640):
        problem = replace(small(seed, crowded=seed % 2 == 0, fill="pack" if seed % 3 else "spread"), work=budget)
        found, ranked = assign(problem), best(problem)
        if found.status != "found":
            assert found.status == "open" or not ranked
            continue
        assert found.places in ranked
        _check_claims(problem, found, ranked)


def test_order_lowered_by_a_later_search_is_told_as_it_is_in_the_plan() -> None:
    """Without work of its own `order` keeps its first value until the search for another goal finds a lower one."""
    rng, lowered = random.Random(5), 0
    orders: list[tuple[GoalName, ...]] = [("drawers", "order", *rest) for rest in permutations(GOALS[2:])]
    for seed in range(1000, 1070):
        problem = small(seed, crowded=seed % 2 == 0)
        problem = replace(problem, goals=rng.choice(orders)[seed % 3 == 0 :], work=replace(problem.work, order=0.0))
        told: list[tuple[str, int]] = []
        found = assign(problem, progress=lambda name, value, _, told=told: told.append((name, value)))
        if found.status == "found":
            _check_claims(problem, found, best(problem))
            lowered += sum(name == "order" for name, _ in told) > 2
    assert lowered


@pytest.mark.parametrize(
    "goals",
    [
        ("drawers", "order", "neighbors", "recut", "reach"),
        ("drawers", "recut", "reach", "order", "neighbors"),
        ("drawers", "reach", "neighbors", "order", "recut"),
    ],
)
def test_a_goal_lowered_by_a_later_search_stays_so_and_its_bound_holds(goals: tuple[GoalName, ...]) -> None:
    """12 groups, 18 drawers, too little work for every goal; the bound is checked against the search with enough."""
    for seed in range(3):
        problem = replace(case(12, 18, seed), goals=goals)
        tight = replace(problem.work, order=1e-3, neighbors=0.05, recut=1e-3, reach=1e-3)
        told: list[int] = []
        found = assign(
            replace(problem, work=tight),
            progress=lambda name, value, _, told=told: told.append(value) if name == goals[1] else None,
        )
        counted = values(problem, found.places)
        assert {goal.name: goal.value for goal in found.goals} == {name: counted[name] for name in goals}
        assert told == sorted(told, reverse=True)
        optimum = assign(replace(problem, goals=goals[:2])).goals[1]
        assert optimum.proved
        assert found.goals[1].bound <= optimum.value <= found.goals[1].value == told[-1]


def _check_claims(problem: Problem, found: Assignment, ranked: tuple[tuple[int, ...], ...]) -> None:
    mine, left = values(problem, found.places), list(ranked)
    for goal in found.goals:
        least = min(values(problem, places)[goal.name] for places in left)
        assert goal.value == mine[goal.name]
        assert goal.bound <= least <= goal.value
        assert not goal.proved or goal.value == least
        before = found.goals[: found.goals.index(goal)]
        assert goal.proved == (goal.value == goal.bound and all(other.proved for other in before))
        left = [places for places in left if values(problem, places)[goal.name] == goal.value]
    used = [len(set(places)) for places in ranked]
    assert found.most_free is not None
    assert found.fewest_free is not None
    assert found.fewest_free <= len(problem.boxes) - len(set(found.places)) <= found.most_free
    assert len(problem.boxes) - max(used) <= found.fewest_free <= found.most_free <= len(problem.boxes) - min(used)
    assert not found.free_proved[0] or found.most_free == len(problem.boxes) - min(used)
    assert not found.free_proved[1] or found.fewest_free == len(problem.boxes) - max(used)
    assert not found.unique or found.places == left[0]


@pytest.mark.parametrize("fill", ["spread", "pack"])
def test_undecided_sharing_is_not_used_and_proves_nothing(fill: Fill) -> None:
    """With ``open`` read as ``no`` the plan must hold; with ``open`` read as ``yes`` every claim must."""
    verdicts = set()
    for seed in range(700, 800):
        problem = small(seed, crowded=True, fill=fill)
        doubtful = replace(problem, together=_doubting(problem, seed))
        strict = replace(problem, together=lambda b, g, ask=doubtful.together: "yes" if ask(b, g) == "yes" else "no")
        hopeful = replace(problem, together=lambda b, g, ask=doubtful.together: "no" if ask(b, g) == "no" else "yes")
        found, safe, possible = assign(doubtful), best(strict), best(hopeful)
        verdicts.add(found.status)
        if found.status == "found":
            assert found.places in safe
            _check_claims(hopeful, found, possible)
        else:
            assert not safe
            assert found.status == ("open" if possible else "impossible")
            assert found.undecided or not possible
    assert verdicts == {"found", "open", "impossible"}


def _doubting(problem: Problem, seed: int):
    """Some answers that no packing decided; monotone: what holds a doubtful set is doubtful or refused."""
    rng = random.Random(seed)
    doubts = [frozenset(rng.sample(range(len(problem.nodes)), 2)) for _ in range(2)]

    def together(box: int, groups: frozenset[int]) -> Side:
        answer = problem.together(box, groups)
        return "open" if answer == "yes" and any(doubt <= groups for doubt in doubts) else answer

    return together


# ----------------------------------------------------------------------------------------------------------- the edges


def test_no_groups_leave_every_drawer_free() -> None:
    problem = replace(small(0, crowded=False), nodes=(), options={}, relations=(), apart=())
    found = assign(problem)
    assert found.status == "found"
    assert found.places == ()
    assert found.most_free == found.fewest_free == len(problem.boxes)


def test_no_drawers_hold_no_group() -> None:
    assert assign(replace(small(0, crowded=False), boxes=(), options={}, kept_free=frozenset())).status == "impossible"


def test_a_group_that_goes_nowhere_is_impossible() -> None:
    problem = small(0, crowded=False)
    options = {pair: option for pair, option in problem.options.items() if pair[0] != 1}
    assert assign(replace(problem, options=options)).status == "impossible"


def test_same_answer_twice_and_under_another_hash_seed() -> None:
    """Sets and dictionaries of the program must not leak their order into the plan."""
    code = (
        "from tests.brute_force import small; from matcher.assignment import assign;"
        "print([assign(small(seed, crowded=seed % 2 == 0, fill='pack')).places for seed in range(20)])"
    )
    runs = [
        subprocess.run(
            [sys.executable, "-c", code], env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in ("1", "2")
    ]
    assert runs[0] == runs[1]
    here = [assign(small(seed, crowded=seed % 2 == 0, fill="pack")).places for seed in range(20)]
    assert runs[0].decode().strip() == str(here)


def test_numbers_too_large_for_one_objective_are_minimized_one_after_another() -> None:
    """Heavy wishes and gaps of many meters: the layers no longer make one number, the values stay exact."""
    for seed in range(900, 930):
        problem = small(seed, crowded=False)
        options = {
            pair: Option(option.how_cost, option.gap * 10_007 + pair[1]) for pair, option in problem.options.items()
        }
        relations = tuple((i, j, wish, weight * 10_000_019) for i, j, wish, weight in problem.relations)
        check(replace(problem, options=options, relations=relations))
