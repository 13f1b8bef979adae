"""The goals one after another, after the number of drawers; at the end the plan is made unique."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import takewhile
from typing import TypeAlias

from matcher.assignment.board import board_of, use_exactly
from matcher.assignment.counting import DrawerCount, Refusal, fewest_used, most_used, single
from matcher.assignment.descent import Descent, Settled
from matcher.assignment.goals import GOALS
from matcher.assignment.problem import Assignment, GoalValue, Places, Problem
from matcher.assignment.sharing import Sharing
from matcher.assignment.unique import make_smallest
from matcher.records import GoalName

Progress: TypeAlias = Callable[[str, int, int], None]
"""Told a goal's value and bound as it is begun and as it is settled."""


def assign(problem: Problem, hint: Places | None = None, progress: Progress | None = None) -> Assignment:
    """The best plan by the goals in their order, unique, with what is proved.

    Without goals only whether there is a plan is decided. ``hint`` is a plan to start from; it changes no proved value.
    """
    sharing = Sharing(problem)
    most = most_used(problem, sharing)
    if isinstance(most, Refusal):
        return Assignment("impossible" if most.proved else "open", undecided=_undecided(sharing))
    if not problem.goals:
        return Assignment("found", most.places)
    fewest = fewest_used(problem, sharing, most.places)
    report = _Report(progress)
    descent = _descent(problem, sharing, fewest if problem.fill == "pack" else most, hint, report)
    for names in _turns(problem.goals):
        _settle(descent, names, report)
    unique = all(goal.proved for goal in report.values) and make_smallest(descent, problem.work.unique)
    boxes = len(problem.boxes)
    return Assignment(
        status="found",
        places=descent.places,
        goals=tuple(report.values),
        most_free=boxes - fewest.used,
        fewest_free=boxes - most.used,
        free_proved=(fewest.proved, most.proved),
        unique=unique,
        undecided=_undecided(sharing),
    )


@dataclass(slots=True)
class _Report:
    """Values of the goals so far; a goal is proved only if all before it are."""

    progress: Progress | None
    values: list[GoalValue] = field(default_factory=list)

    def begin(self, name: GoalName, value: int) -> None:
        """Tell what is proved next, with its value so far; costs are at least 0."""
        if self.progress is not None:
            self.progress(name, value, 0)

    def add(self, name: GoalName, value: int, bound: int) -> None:
        proved = value == bound and all(goal.proved for goal in self.values)
        self.values.append(GoalValue(name, value, bound, proved))
        if self.progress is not None:
            self.progress(name, value, bound)


def _descent(problem: Problem, sharing: Sharing, count: DrawerCount, hint: Places | None, report: _Report) -> Descent:
    """Start from the number of drawers, fixed if it is a goal; groups that then have a drawer each share with none."""
    if "drawers" not in problem.goals:
        return Descent(board_of(problem, sharing), count.places, hint)
    board = board_of(problem, sharing, single(problem, count.used))
    use_exactly(board, count.used)
    boxes = len(problem.boxes)
    value, bound = (count.used, count.bound) if problem.fill == "pack" else (boxes - count.used, boxes - count.bound)
    report.add("drawers", value, bound)
    return Descent(board, count.places, hint)


def _turns(goals: Sequence[GoalName]) -> list[list[GoalName]]:
    """Goals solved in one turn: leading ``moves`` and ``order`` one by one, as they rule out much; then the rest."""
    rest: list[GoalName] = [name for name in goals if name != "drawers"]
    first = list(takewhile(lambda name: name in ("moves", "order"), rest))
    return [*([name] for name in first), rest[len(first) :]]


def _settle(descent: Descent, names: Sequence[GoalName], report: _Report) -> None:
    work = descent.board.problem.work
    layers = {name: GOALS[name].layers(descent.board) for name in names}
    budgets = [GOALS[name].work(work) / len(layers[name]) for name in names for _ in layers[name]]
    for name in names:
        report.begin(name, GOALS[name].value(tuple(part.value(descent.places) for part in layers[name])))
    settled = iter(descent.settle([part for name in names for part in layers[name]], budgets))
    for name in names:
        own: list[Settled] = [next(settled) for _ in layers[name]]
        value = GOALS[name].value(tuple(part.value for part in own))
        report.add(name, value, GOALS[name].value(_bounds(own)))
        GOALS[name].narrow(descent.board, value)


def _bounds(parts: Sequence[Settled]) -> tuple[int, ...]:
    """Bounds of the parts of one goal; costs are at least 0, which is all that is known after a part not proved."""
    return tuple(part.bound if all(before.proved for before in parts[:rank]) else 0 for rank, part in enumerate(parts))


def _undecided(sharing: Sharing) -> tuple[tuple[int, frozenset[int]], ...]:
    return tuple((misfit.kind, misfit.groups) for misfit in sharing.undecided)
