"""The assignment against published problems and other solvers."""

from __future__ import annotations

import json
import random
from itertools import combinations
from pathlib import Path

import highspy
import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from matcher.assignment.problem import Assignment, Box, Node, Option, Problem, Side, Together
from matcher.assignment.stages import assign
from matcher.house.reading import default_house
from matcher.packing.rectangles import pack
from matcher.records.words import Fill, GoalName
from tests.benchmarks.assignment_cases import case
from tests.highs import Program, solver
from tests.instances.assignment import BIN_PACKINGS, COST_TABLES, QUADRATICS, BinPacking, CostTable, Quadratic

WORK = default_house().work
CHECKS = Path(__file__).resolve().parents[2] / "shared" / "checks"


def never(box: int, groups: frozenset[int]) -> Side:
    raise AssertionError("no drawer is shared here")


def groups(count: int, masses: list[int] | None = None, families: list[str] | None = None) -> tuple[Node, ...]:
    return tuple(
        Node(f"{g:02}", 1, families[g] if families else "all", masses[g] if masses else 1, share=True, cased=False)
        for g in range(count)
    )


def drawers(rows: int, banks: int = 1, load: int | None = None, kinds: bool = False) -> tuple[Box, ...]:
    return tuple(
        Box(f"{bank}.{row:02}", bank, bank, row, -row, load, kind=(bank - 1) * rows + row if kinds else 0)
        for bank in range(1, banks + 1)
        for row in range(1, rows + 1)
    )


def posed(
    nodes: tuple[Node, ...],
    boxes: tuple[Box, ...],
    goals: tuple[GoalName, ...],
    costs: np.ndarray | None = None,
    together: Together = never,
    fill: Fill = "spread",
    relations: tuple = (),
) -> Problem:
    pairs = [(g, d) for g in range(len(nodes)) for d in range(len(boxes))]
    return Problem(
        nodes=nodes,
        boxes=boxes,
        options={(g, d): Option(0 if costs is None else int(costs[g, d]), 0) for g, d in pairs},
        together=together,
        relations=relations,
        apart=(),
        kept_free=frozenset(),
        swap=(),
        level=0,
        fill=fill,
        goals=goals,
        work=WORK,
        seed=1,
    )


def goal(found: Assignment, name: GoalName) -> int:
    """Value of a goal that must be proved."""
    value = next(goal for goal in found.goals if goal.name == name)
    assert value.proved
    assert value.value == value.bound
    return value.value


# --------------------------------------------------------------------------------------------------------- packing


def sums(sizes: tuple[int, ...], capacity: int) -> Together:
    return lambda box, members: "yes" if sum(sizes[g] for g in members) <= capacity else "no"


@pytest.mark.parametrize("known", BIN_PACKINGS, ids=lambda known: known.name)
def test_pack_takes_the_published_number_of_bins(known: BinPacking) -> None:
    count = len(known.sizes)
    together = sums(known.sizes, known.capacity)
    found = assign(posed(groups(count), drawers(count), ("drawers",), together=together, fill="pack"))
    assert goal(found, "drawers") == known.drawers
    assert found.most_free == count - known.drawers
    assert found.fewest_free == 0


@pytest.mark.parametrize("known", BIN_PACKINGS, ids=lambda known: known.name)
def test_loads_alone_give_the_published_number_of_bins(known: BinPacking) -> None:
    """The same sizes as masses against the load rating."""
    count = len(known.sizes)
    nodes, boxes = groups(count, masses=list(known.sizes)), drawers(count, load=known.capacity)
    found = assign(posed(nodes, boxes, ("drawers",), together=lambda box, members: "yes", fill="pack"))
    assert goal(found, "drawers") == known.drawers


def berkey_wang() -> list[dict]:
    path = CHECKS / "berkey_wang_class3_n20.json"
    return json.loads(path.read_text())["instances"] if path.exists() else []


def rectangles(instance: dict) -> Problem:
    """Items of one size each, in as many equal drawers as one more than the best known number of bins."""
    (width, depth), items = instance["bin"], instance["items"]

    def together(box: int, members: frozenset[int]) -> Side:
        choices = [((items[g][0], items[g][1]),) for g in sorted(members)]
        status = pack(choices, width, depth, work=WORK.free_layout, seed=1).status
        return {"found": "yes", "excluded": "no", "open": "open"}[status]  # type: ignore[return-value]

    nodes = tuple(Node(f"{g:02}", 1, "all", 1, share=True, cased=False, area=w * d) for g, (w, d) in enumerate(items))
    boxes = tuple(Box(f"{d:02}", 1, 1, d, -d, None, kind=0, area=width * depth) for d in range(instance["bins"] + 1))
    return posed(nodes, boxes, ("drawers",), together=together, fill="pack")


@pytest.mark.slow
@pytest.mark.skipif(not berkey_wang(), reason="the folder shared/checks is not beside the checkout")
@pytest.mark.parametrize("instance", berkey_wang(), ids=lambda instance: instance["name"])
def test_pack_takes_the_best_known_number_of_bins_for_rectangles(instance: dict) -> None:
    """Berkey and Wang (1987), class 3, 20 items, through the exact packing of a shared drawer."""
    assert goal(assign(rectangles(instance)), "drawers") == instance["bins"]


# ------------------------------------------------------------------------------------------------------ assignment


@pytest.mark.parametrize("known", COST_TABLES, ids=lambda known: known.name)
def test_least_work_equals_the_published_cost(known: CostTable) -> None:
    costs = np.array(known.costs).T
    masses = list(known.sizes) or [1] * len(costs)
    boxes = drawers(len(known.costs), load=known.capacity or 1)
    found = assign(posed(groups(len(costs), masses), boxes, ("recut",), costs, lambda box, members: "yes"))
    assert goal(found, "recut") == known.cost * 10**9


def generalized() -> list[dict]:
    path = CHECKS / "gap_c515.json"
    return json.loads(path.read_text())["instances"] if path.exists() else []


@pytest.mark.slow
@pytest.mark.skipif(not generalized(), reason="the folder shared/checks is not beside the checkout")
@pytest.mark.parametrize("instance", generalized()[:2], ids=lambda instance: instance["name"])
def test_least_work_equals_generalized_assignment(instance: dict) -> None:
    """OR-Library gap1: what a job needs depends on the agent, so every drawer is of its own kind, learned by asking."""
    weights, capacity = instance["weight"], instance["capacity"]

    def together(box: int, members: frozenset[int]) -> Side:
        return "yes" if sum(weights[box][g] for g in members) <= capacity[box] else "no"

    costs = np.array(instance["cost"]).T
    boxes = drawers(len(capacity), kinds=True)
    found = assign(posed(groups(len(costs)), boxes, ("recut",), costs, together))
    assert goal(found, "recut") == instance["minimum"] * 10**9


def test_least_work_equals_linear_assignment_of_scipy() -> None:
    rng = np.random.default_rng(5)
    for _ in range(150):
        count, more = rng.integers(1, 8), rng.integers(0, 4)
        costs = rng.integers(0, 30, (count, count + more))
        goals: tuple[GoalName, ...] = ("drawers", "recut")
        found = assign(posed(groups(count), drawers(count + more), goals, costs, lambda box, members: "no"))
        assert goal(found, "recut") == costs[linear_sum_assignment(costs)].sum() * 10**9


@pytest.mark.parametrize("known", QUADRATICS, ids=lambda known: known.name)
def test_near_is_the_published_quadratic_assignment(known: Quadratic) -> None:
    count = len(known.flows)
    near = tuple((i, j, "near", known.flows[i][j]) for i, j in combinations(range(count), 2) if known.flows[i][j])
    boxes = drawers(known.rows, known.banks)
    problem = posed(groups(count), boxes, ("drawers", "neighbors"), together=lambda box, members: "no", relations=near)
    assert goal(assign(problem), "neighbors") == known.cost


# -------------------------------------------------------------------------------------------------- another solver


def highs_drawers(problem: Problem, sizes: list[int], capacity: list[int], *, fewest: bool) -> int | None:
    """Fewest or most drawers of a one-dimensional case as a mixed integer program in HiGHS; ``None`` if impossible."""
    model = solver(seconds=60)
    at = {pair: model.addBinary() for pair in problem.options}
    used = [model.addBinary() for _ in problem.boxes]
    families = sorted({node.family for node in problem.nodes})
    of = {(f, d): model.addBinary() for f in families for d in range(len(problem.boxes))}
    for g in range(len(problem.nodes)):
        mine = [at[pair] for pair in at if pair[0] == g]
        if not mine:
            return None
        model.addConstr(sum(mine) == 1)
    for d in range(len(problem.boxes)):
        inside = [(g, at[g, d]) for g in range(len(problem.nodes)) if (g, d) in at]
        model.addConstr(sum(of[f, d] for f in families) == used[d])
        model.addConstr(sum(sizes[g] * x for g, x in inside) <= capacity[d] * used[d]) if inside else None
        model.addConstr(used[d] <= sum(x for _, x in inside)) if inside else model.addConstr(used[d] <= 0)
        for g, x in inside:
            model.addConstr(x <= of[problem.nodes[g].family, d])
    count = sum(used)
    (model.minimize if fewest else model.maximize)(count)
    if model.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return round(model.getObjectiveValue())


def test_fewest_and_most_drawers_equal_highs() -> None:
    """Sizes against capacities by kind, families that may share, some pairs forbidden."""
    rng = random.Random(7)
    impossible = 0
    for _ in range(60):
        count, space = rng.randint(3, 9), rng.randint(2, 7)
        sizes = [rng.randint(2, 9) for _ in range(count)]
        boxes = tuple(Box(f"{d}", 1, 1, d, -d, None, kind=rng.randint(0, 2)) for d in range(space))
        capacity = [9 + 4 * box.kind for box in boxes]
        families = [rng.choice("ab") for _ in range(count)]

        def together(box: int, members: frozenset[int], sizes: list = sizes, capacity: list = capacity) -> Side:
            return "yes" if sum(sizes[g] for g in members) <= capacity[box] else "no"

        problem = posed(groups(count, families=families), boxes, ("drawers",), together=together)
        found = assign(problem)
        fewest, most = (highs_drawers(problem, sizes, capacity, fewest=end) for end in (True, False))
        if fewest is None or most is None:
            impossible += 1
            assert found.status == "impossible"
        else:
            assert (found.most_free, found.fewest_free) == (space - fewest, space - most)
            assert found.free_proved == (True, True)
    assert 5 < impossible < 55


@pytest.mark.parametrize("seed", range(6))
def test_every_goal_of_a_generated_case_equals_highs(seed: int) -> None:
    """12 groups, 18 drawers; the same goals written down anew as mixed integer programs."""
    problem = case(12, 18, seed)
    program = Program(problem, seconds=60)
    stages = [program.order(), program.neighbors(), *program.recut(), program.reach()]
    assert all(stage.proved for stage in stages)
    order, neighbors, work, gaps, reach = (stage.value for stage in stages)
    found = assign(problem)
    assert all(value.proved for value in found.goals)
    expected = [len(problem.boxes) - len(problem.nodes), order, neighbors, work * 10**9 + gaps * 320, reach]
    assert [value.value for value in found.goals] == expected


@pytest.mark.slow
@pytest.mark.parametrize("fill", ["spread", "pack"])
def test_generated_sets_of_24_groups_are_proved_to_the_end(fill: Fill) -> None:
    """24 groups, 30 drawers: every goal proved, the plan unique, within the default budgets."""
    for seed in range(4):
        found = assign(case(24, 30, seed, fill))
        assert found.status == "found"
        assert found.unique
        assert all(value.proved for value in found.goals)
