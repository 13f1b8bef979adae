"""The exact search: a CP-SAT model of rectangles that do not overlap, with redundant sums along both axes."""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise

from ortools.sat.python import cp_model

from matcher.packing.problem import Packing, PackingProblem, Sizes
from matcher.packing.solving import solve

RECTANGLES = 20
"""Sizes of all items together up to which a unit of work means the whole of ``DETERMINISTIC_SHARE``."""
DETERMINISTIC_SHARE = 0.2
"""CP-SAT's deterministic time that a unit of work means; with more than ``RECTANGLES`` sizes, less in proportion.

The solver counts this kind of work low: measured, a second of search counts as 0.2 with 20 rectangles and as 0.03 with
130.
"""


def searched(problem: PackingProblem, work: float, seed: int) -> Packing:
    """The answer of a search within ``work`` units of about a second on a slow core; ``open`` if they were too few."""
    model = _PackingModel(problem)
    rectangles = sum(map(len, problem.items))
    answer = solve(model.model, work * DETERMINISTIC_SHARE * min(1, RECTANGLES / rectangles), seed)
    if answer.found:
        return Packing("found", tuple(model.position(answer.solver, n) for n in range(len(problem.items))))
    return Packing("excluded" if answer.status == "infeasible" else "open")


class _PackingModel:
    """The model. Its variables are the left and front sides of every item and which of its sizes the item takes."""

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
        """No two rectangles overlap.

        It follows, and is said as well, that the depths of all rectangles that a line from front to back meets add up
        to no more than the room's, and so do the widths of those that a line from left to right meets.
        """
        x_spans, y_spans, widths, depths = [], [], [], []
        for left, front, wide, deep in self.problem.blocked:
            x_spans.append(self.model.new_fixed_size_interval_var(left, wide, ""))
            y_spans.append(self.model.new_fixed_size_interval_var(front, deep, ""))
            widths.append(wide)
            depths.append(deep)
        for n, item in enumerate(self.problem.items):
            self.model.add_exactly_one(self.taken[n])
            for taken, (_, wide, deep) in zip(self.taken[n], item, strict=True):
                x_spans.append(self.model.new_optional_fixed_size_interval_var(self.x[n], wide, taken, ""))
                y_spans.append(self.model.new_optional_fixed_size_interval_var(self.y[n], deep, taken, ""))
                self.model.add(self.x[n] <= self.problem.width - wide).only_enforce_if(taken)
                self.model.add(self.y[n] <= self.problem.depth - deep).only_enforce_if(taken)
                widths.append(wide)
                depths.append(deep)
        self.model.add_no_overlap_2d(x_spans, y_spans)
        self.model.add_cumulative(x_spans, depths, self.problem.depth)
        self.model.add_cumulative(y_spans, widths, self.problem.width)

    def _break_symmetry(self) -> None:
        """Of packings that differ by exchanging equal items or by mirroring, one is enough.

        Items of equal sizes are in order from left to right. If nothing is blocked, the center of one of the largest
        items lies in the left half and in the front half; those equal to it are then in no order.
        """
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
        """Item ``n`` is no further from the left and front walls than from the others: mirroring makes it so."""
        for taken, (_, wide, deep) in zip(self.taken[n], self.problem.items[n], strict=True):
            self.model.add(2 * self.x[n] <= self.problem.width - wide).only_enforce_if(taken)
            self.model.add(2 * self.y[n] <= self.problem.depth - deep).only_enforce_if(taken)
