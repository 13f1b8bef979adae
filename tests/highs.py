"""The goals of the assignment once more, without sharing, as mixed integer programs solved by HiGHS."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import permutations, product

import highspy

from matcher.assignment.distances import wish_cost
from matcher.assignment.problem import Problem


@dataclass(frozen=True, slots=True)
class Stage:
    """A goal's optimum, and whether HiGHS proved it within its time."""

    value: int
    proved: bool


def solver(seconds: float) -> highspy.Highs:
    """HiGHS, silent, exact and on one thread (which must be the same for all of a process)."""
    model = highspy.Highs()
    model.silent()
    model.setOptionValue("time_limit", seconds)
    model.setOptionValue("threads", 1)
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("mip_abs_gap", 0.5)
    return model


class Program:
    """One binary per group and drawer, at most one group per drawer; goals are added one after another."""

    def __init__(self, problem: Problem, seconds: float):
        self.problem = problem
        self.model = solver(seconds)
        self.at = {pair: self.model.addBinary() for pair in sorted(problem.options) if pair[1] not in problem.kept_free}
        by_group, by_box = defaultdict(list), defaultdict(list)
        for (group, box), variable in self.at.items():
            by_group[group].append(variable)
            by_box[box].append(variable)
        for variables in by_group.values():
            self.model.addConstr(sum(variables) == 1)
        for variables in by_box.values():
            self.model.addConstr(sum(variables) <= 1)

    def minimize(self, costs: list[tuple[int, highspy.highs.highs_var]]) -> Stage:
        """Minimize a sum of costs, then keep it from growing."""
        if not any(cost for cost, _ in costs):
            return Stage(0, proved=True)
        total = sum(cost * variable for cost, variable in costs if cost)
        self.model.minimize(total)
        proved = self.model.getModelStatus() == highspy.HighsModelStatus.kOptimal
        value = round(self.model.getObjectiveValue()) if self.model.getInfo().primal_solution_status == 2 else -1
        if value >= 0:
            self.model.addConstr(total <= value)
        return Stage(value, proved)

    def order(self) -> Stage:
        """Breaks of the order: one binary per pair, forced by every two heights that break it; swaps as binaries."""
        nodes, boxes, level = self.problem.nodes, self.problem.boxes, self.problem.level
        swapped = {frozenset(pair): self.model.addBinary() for pair in self.problem.swap}
        breaks = []
        for i, j in permutations(range(len(nodes)), 2):
            swap = swapped.get(frozenset((nodes[i].tier, nodes[j].tier)))
            if nodes[i].tier == nodes[j].tier or (nodes[i].tier > nodes[j].tier and swap is None):
                continue
            breaks.append((1, self.model.addBinary()))
            off = 0 if swap is None else swap if nodes[i].tier < nodes[j].tier else 1 - swap
            for height in sorted({box.floor for box in boxes}):
                low = [x for (g, d), x in self.at.items() if g == i and boxes[d].floor <= height]
                high = [x for (g, d), x in self.at.items() if g == j and boxes[d].floor > height + level]
                if low and high:
                    self.model.addConstr(sum(low) + sum(high) - breaks[-1][1] - off <= 1)
        return self.minimize(breaks)

    def neighbors(self) -> Stage:
        """Wishes over pairs of drawers, with the joint variables' sums tied to the groups' own."""
        boxes, costs = self.problem.boxes, []
        for i, j, wish, weight in self.problem.relations:
            joint = defaultdict(list)
            places = [[(g, d) for g, d in self.at if g == group] for group in (i, j)]
            for (g, d), (h, e) in product(*places):
                if d != e:
                    variable = self.model.addVariable(0, 1)
                    costs.append((weight * wish_cost(wish, boxes[d], boxes[e]), variable))
                    joint[g, d].append(variable)
                    joint[h, e].append(variable)
            for pair, variables in joint.items():
                self.model.addConstr(sum(variables) == self.at[pair])
        return self.minimize(costs)

    def recut(self) -> tuple[Stage, Stage]:
        """Work on the foam, then gaps in whole millimeters of the generated cases."""
        options = self.problem.options
        work = self.minimize([(options[pair].how_cost, variable) for pair, variable in self.at.items()])
        return work, self.minimize([(options[pair].gap // 320, variable) for pair, variable in self.at.items()])

    def reach(self) -> Stage:
        """Use lost to heights."""
        costs = {pair: option.reach for pair, option in self.problem.options.items()}
        return self.minimize([(costs[pair], variable) for pair, variable in self.at.items()])
