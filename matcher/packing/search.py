"""The exact search: rectangles without overlap as a CP-SAT model, made stronger by sums along both axes."""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise

from ortools.sat.python import cp_model

from matcher.packing.problem import Packing, PackingProblem, Sizes
from matcher.packing.solving import solve

RECTANGLES = 20
DETERMINISTIC_SHARE = 0.2
"""Deterministic time that a unit of work means up to ``RECTANGLES``; beyond, the less the more rectangles there are.

The solver counts this kind of work low: measured, a second of search is 0.2 for 20 rectangles and 0.03 for 130.
"""


def searched(problem: PackingProblem, work: float, seed: int) -> Packing:
    """Search within ``work``, units of about a second on a slow core; ``open`` if that did not decide."""
    model = _PackingModel(problem)
    rectangles = sum(map(len, problem.items))
    answer = solve(model.model, work * DETERMINISTIC_SHARE * min(1, RECTANGLES / rectangles), seed)
    if answer.found:
        return Packing("found", tuple(model.position(answer.solver, n) for n in range(len(problem.items))))
    return Packing("excluded" if answer.status == "infeasible" else "open")


class _PackingModel:
    """Start of every item along both axes and which of its sizes it takes."""

    def __init__(self, problem: PackingProblem) -> None:
        self.problem = problem
        self.model = cp_model.CpModel()
        self.x = [self._start(problem.width - min(w for _, w, _ in item)) for item in problem.items]
        self.y = [self._start(problem.depth - min(d for _, _, d in item)) for item in problem.items]
        self.taken = [[self.model.new_bool_var("") for _ in item] for item in problem.items]
        self._forbid_overlap()
        self._break_symmetry()

    def position(self, solver: cp_model.CpSolver, n: int) -> tuple[int, int, int]:
        """Size index, left and front of item ``n`` in the solution."""
        chosen = next(k for k, taken in enumerate(self.taken[n]) if solver.boolean_value(taken))
        return self.problem.items[n][chosen][0], solver.value(self.x[n]), solver.value(self.y[n])

    def _start(self, last: int) -> cp_model.IntVar:
        return self.model.new_int_var(0, last, "")

    def _forbid_overlap(self) -> None:
        """No two rectangles overlap; at every cut the widths and depths it meets stay within the room (redundant)."""
        across, along, widths, depths = [], [], [], []
        for left, front, wide, deep in self.problem.blocked:
            across.append(self.model.new_fixed_size_interval_var(left, wide, ""))
            along.append(self.model.new_fixed_size_interval_var(front, deep, ""))
            widths.append(wide)
            depths.append(deep)
        for n, item in enumerate(self.problem.items):
            self.model.add_exactly_one(self.taken[n])
            for taken, (_, wide, deep) in zip(self.taken[n], item, strict=True):
                across.append(self.model.new_optional_fixed_size_interval_var(self.x[n], wide, taken, ""))
                along.append(self.model.new_optional_fixed_size_interval_var(self.y[n], deep, taken, ""))
                self.model.add(self.x[n] <= self.problem.width - wide).only_enforce_if(taken)
                self.model.add(self.y[n] <= self.problem.depth - deep).only_enforce_if(taken)
                widths.append(wide)
                depths.append(deep)
        self.model.add_no_overlap_2d(across, along)
        self.model.add_cumulative(across, depths, self.problem.depth)
        self.model.add_cumulative(along, widths, self.problem.width)

    def _break_symmetry(self) -> None:
        """Equal items from left to right; without blocks the largest item nearer to the left and front walls."""
        twins: dict[Sizes, list[int]] = defaultdict(list)
        for n, item in enumerate(self.problem.items):
            twins[item].append(n)
        largest = max(self.problem.items, key=lambda item: (min(w * d for _, w, d in item), item))
        for item, members in twins.items():
            if item != largest or self.problem.blocked:
                for one, other in pairwise(members):
                    self.model.add(self.x[one] <= self.x[other])
        if not self.problem.blocked:
            self._keep_to_corner(twins[largest][0])

    def _keep_to_corner(self, n: int) -> None:
        """Mirrored left to right or front to back, a packing stays one."""
        for taken, (_, wide, deep) in zip(self.taken[n], self.problem.items[n], strict=True):
            self.model.add(2 * self.x[n] <= self.problem.width - wide).only_enforce_if(taken)
            self.model.add(2 * self.y[n] <= self.problem.depth - deep).only_enforce_if(taken)
