"""Time to proof of the assignment's goals, beside a plain one-shot CP-SAT model and HiGHS on the same goals.

Run as ``python -m tests.benchmarks.assignment_proof [seeds] [seconds for each rival] [families, e.g. 12x18,24x30]``.
Prints medians over generated cases and the rivals' medians over ours, all from one run on one worker. A rival that runs
into its limit counts with the time it used, so its ratio is then a lower bound; beside it stands how many it proved.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Sequence
from itertools import permutations
from statistics import median
from time import perf_counter

from ortools.sat.python import cp_model

from matcher.assignment.distances import wish_cost
from matcher.assignment.problem import Problem
from matcher.assignment.stages import assign
from tests.benchmarks.assignment_cases import FAMILIES, case
from tests.highs import Program

TURNS = {"drawers": "drawers", "order": "order", "neighbors": "neighbors to reach"}
"""Goals that are reported at the end of a turn; `neighbors`, `recut` and `reach` are solved together."""
SEEDS, SECONDS = 10, 20.0


def ours(problem: Problem) -> tuple[dict[str, float], bool]:
    """Seconds of each turn and of all, and whether every goal was proved."""
    start = last = perf_counter()
    times: dict[str, float] = {}

    def told(name: str, value: int, bound: int) -> None:
        nonlocal last
        if name in TURNS:
            times[TURNS[name]] = perf_counter() - last
        last = perf_counter()

    found = assign(problem, progress=told)
    times["unique"] = perf_counter() - last
    times["all"] = perf_counter() - start
    return times, all(goal.proved for goal in found.goals)


class OneShot:
    """The obvious model: all goals in one weighted sum, order softly over all pairs, wishes by tables of distances."""

    def __init__(self, problem: Problem):
        self.problem = problem
        self.model = cp_model.CpModel()
        self.at = {pair: self.model.new_bool_var("") for pair in problem.options}
        for group in range(len(problem.nodes)):
            self.model.add_exactly_one(variable for (g, _), variable in self.at.items() if g == group)
        for box in range(len(problem.boxes)):
            self.model.add_at_most_one(variable for (_, b), variable in self.at.items() if b == box)
        self.model.minimize(10**15 * self.breaks() + 10**11 * self.wishes() + 10**3 * self.recut() + self.reach())

    def place(self, group: int, values: Sequence[int]) -> cp_model.LinearExprT:
        """The value of the drawer that a group is in."""
        return sum(values[box] * variable for (g, box), variable in self.at.items() if g == group)

    def breaks(self) -> cp_model.LinearExprT:
        """One soft constraint per pair of groups of different tier."""
        nodes, floors = self.problem.nodes, [box.floor for box in self.problem.boxes]
        swap, breaks = self.model.new_bool_var(""), []
        for i, j in permutations(range(len(nodes)), 2):
            first, second = nodes[i].tier, nodes[j].tier
            swapped = tuple(sorted((first, second))) in self.problem.swap
            if first < second or (swapped and first != second):
                breaks.append(self.model.new_bool_var(""))
                valid = [~breaks[-1]] + ([swap if first > second else ~swap] if swapped else [])
                rise = self.place(j, floors) - self.place(i, floors)
                self.model.add(rise <= self.problem.level).only_enforce_if(valid)
        return sum(breaks)

    def wishes(self) -> cp_model.LinearExprT:
        """One cost variable and one table per wish."""
        boxes, costs = self.problem.boxes, []
        for i, j, wish, weight in self.problem.relations:
            mine, others = ([d for g, d in self.at if g == group] for group in (i, j))
            table = [(d, e, wish_cost(wish, boxes[d], boxes[e])) for d in mine for e in others if d != e]
            cost = self.model.new_int_var(0, max(row[2] for row in table), "")
            numbers = range(len(boxes))
            self.model.add_allowed_assignments([self.place(i, numbers), self.place(j, numbers), cost], table)
            costs.append(weight * cost)
        return sum(costs)

    def recut(self) -> cp_model.LinearExprT:
        """Work on the foam before gaps in millimeters."""
        options = self.problem.options
        return sum((options[p].how_cost * 10_000 + options[p].gap // 320) * variable for p, variable in self.at.items())

    def reach(self) -> cp_model.LinearExprT:
        """Use lost to heights, in fifths of a use: the generated uses are whole."""
        return sum(self.problem.options[pair].reach // 200 * variable for pair, variable in self.at.items())


def one_shot(problem: Problem, seconds: float) -> tuple[dict[str, float], bool]:
    """The obvious model under a clock limit."""
    start = perf_counter()
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    proved = solver.solve(OneShot(problem).model) == cp_model.OPTIMAL
    return {"all": perf_counter() - start}, proved


def highs(problem: Problem, seconds: float) -> tuple[dict[str, float], bool]:
    """The goals one after another in HiGHS, as long as the time lasts."""
    start = last = perf_counter()
    program = Program(problem, seconds)
    times: dict[str, float] = {}
    proved = program.order().proved
    times["order"], last = perf_counter() - last, perf_counter()
    for stage in (program.neighbors, lambda: program.recut()[1], program.reach):
        program.model.setOptionValue("time_limit", max(0.1, seconds - (perf_counter() - start)))
        proved = proved and stage().proved
    times["neighbors to reach"] = perf_counter() - last
    times["all"] = perf_counter() - start
    return times, proved


def report(family: tuple[int, int], seeds: int, seconds: float) -> None:
    """Print the rows of one family."""
    runs: dict[str, list[tuple[dict[str, float], bool]]] = defaultdict(list)
    for seed in range(seeds):
        problem = case(*family, seed)
        runs["ours"].append(ours(problem))
        runs["one-shot"].append(one_shot(problem, seconds))
        runs["HiGHS"].append(highs(problem, seconds))
    proved = {name: sum(done for _, done in results) for name, results in runs.items()}
    for turn in ("drawers", "order", "neighbors to reach", "unique", "all"):
        base = median(times[turn] for times, _ in runs["ours"])
        cells = [f"{family[0]} x {family[1]}", f"{turn:<18}", f"{base:7.2f}"]
        for name in ("one-shot", "HiGHS"):
            measured = [times[turn] for times, _ in runs[name] if turn in times]
            cells.append(f"{median(measured) / base:7.1f}" if measured else "      -")
        told = " ".join(f"{name} {count}/{seeds}" for name, count in proved.items()) if turn == "all" else ""
        print(" | ".join([*cells, told]), flush=True)


def main() -> None:
    """Print the table."""
    seeds = int(sys.argv[1]) if len(sys.argv) > 1 else SEEDS
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else SECONDS
    families = [tuple(map(int, name.split("x"))) for name in sys.argv[3].split(",")] if len(sys.argv) > 3 else FAMILIES
    print("groups x drawers | turn | ours, s (median) | one-shot / ours | HiGHS / ours | all proved")
    for groups, drawers in families:
        report((groups, drawers), seeds, seconds)


if __name__ == "__main__":
    main()
