"""The goals one after another: minimize, fix, next; at the end the plan is made unique."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeAlias

from ortools.sat.python.cp_model import LinearExprT

from matcher.assignment.board import board_of
from matcher.assignment.counting import Count, Refusal, fewest_used, most_used
from matcher.assignment.goals import GOALS
from matcher.assignment.problem import Assignment, GoalValue, Places, Problem
from matcher.assignment.searching import search
from matcher.assignment.sharing import Sharing
from matcher.assignment.unique import smallest
from matcher.assignment.values import drawers_value
from matcher.records import GoalName

Progress: TypeAlias = Callable[[str, int, int], None]
"""Told the goal just solved, its value and its bound."""


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
    stages = _Stages(problem, sharing, fewest if problem.fill == "pack" else most, progress)
    return stages.run(hint, most, fewest)


class _Stages:
    """A run over the goals; keeps the best plan so far and whether all before it was proved."""

    def __init__(self, problem: Problem, sharing: Sharing, count: Count, progress: Progress | None):
        self.problem = problem
        self.sharing = sharing
        self.count = count
        self.progress = progress
        self.places = count.places
        self.proved = True
        self.values: list[GoalValue] = []
        counted = "drawers" in problem.goals
        self.board = board_of(problem, sharing, alone=counted and count.used == len(problem.nodes))
        if counted and not self.board.alone:
            self.board.model.add(self.board.used == count.used)

    def run(self, hint: Places | None, most: Count, fewest: Count) -> Assignment:
        """Solve every goal, then make the plan unique."""
        for name in self.problem.goals:
            if name == "drawers":
                self._count()
            else:
                self._minimize(name, hint or self.places)
                hint = None
        last = smallest(self.board, self.places)
        boxes = len(self.problem.boxes)
        return Assignment(
            status="found",
            places=last.places,
            goals=self._recounted(last.places),
            most_free=boxes - fewest.used,
            fewest_free=boxes - most.used,
            free_proved=(fewest.proved, most.proved),
            unique=last.proved and self.proved,
            undecided=_undecided(self.sharing),
        )

    def _count(self) -> None:
        free = len(self.problem.boxes)
        bound = self.count.bound if self.problem.fill == "pack" else free - self.count.bound
        self._note("drawers", _value(self.problem, "drawers", self.places), bound)

    def _minimize(self, name: GoalName, start: Places) -> None:
        goal = GOALS[name]
        objective = goal.expression(self.board)
        found = search(self.board, objective, goal.work(self.problem.work), start)
        if found.places is not None and goal.value(self.problem, found.places) < goal.value(self.problem, self.places):
            self.places = found.places
        value = goal.value(self.problem, self.places)
        bound = 0 if found.bound is None or self._in_doubt() else min(found.bound, value)
        self._note(name, value, bound)
        self._fix(objective, value, bound)
        goal.narrow(self.board, value)

    def _recounted(self, places: Places) -> tuple[GoalValue, ...]:
        """The goals by the final plan: a later search may have bettered a goal that was not proved."""
        return tuple(replace(goal, value=_value(self.problem, goal.name, places)) for goal in self.values)

    def _in_doubt(self) -> bool:
        """Whether undecided sharing was left out, so that a bound of the model is none of the problem."""
        return not self.board.alone and bool(self.sharing.undecided)

    def _note(self, name: GoalName, value: int, bound: int) -> None:
        self.proved = self.proved and value == bound
        self.values.append(GoalValue(name, value, bound, self.proved))
        if self.progress is not None:
            self.progress(name, value, bound)

    def _fix(self, objective: LinearExprT, value: int, bound: int) -> None:
        if not isinstance(objective, int):
            self.board.model.add_linear_constraint(objective, bound, value)


def _value(problem: Problem, name: GoalName, places: Places) -> int:
    return drawers_value(problem, places) if name == "drawers" else GOALS[name].value(problem, places)


def _undecided(sharing: Sharing) -> tuple[tuple[int, frozenset[int]], ...]:
    return tuple((misfit.kind, misfit.groups) for misfit in sharing.undecided)
