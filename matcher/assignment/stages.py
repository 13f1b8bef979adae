"""The goals one after another, after the number of drawers; at the end the plan is made snug and unique.

The value told of a goal is that of the plan at hand, which a later goal's search may have lowered.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from itertools import takewhile
from typing import TypeAlias

from matcher.assignment.board import board_of, use_exactly
from matcher.assignment.counting import DrawerCount, Refusal, fewest_used, most_used, single
from matcher.assignment.descent import Descent, Settled
from matcher.assignment.goals import GOALS, only_value, snug
from matcher.assignment.problem import AFTER_OPEN, Assignment, GoalValue, Places, Problem
from matcher.assignment.sharing import Sharing
from matcher.assignment.unique import make_smallest
from matcher.records import GoalName

Progress: TypeAlias = Callable[[str, int, int], None]
"""Told a goal's value and bound as it is begun and as it is settled."""


def assign(
    problem: Problem, hint: Places | None = None, progress: Progress | None = None, known: Places | None = None
) -> Assignment:
    """The best plan by the goals in their order, unique, with what is proved.

    Without goals only whether there is a plan is decided. ``hint`` is a plan to start from; it changes no proved value.
    ``known`` is a plan that keeps all rules, for where the search finds none by itself.
    """
    sharing = Sharing(problem)
    most = most_used(problem, sharing, known)
    if isinstance(most, Refusal):
        return Assignment("impossible" if most.proved else "open", undecided=_undecided(sharing))
    if not problem.goals:
        return Assignment("found", most.places)
    fewest = fewest_used(problem, sharing, most.places)
    report = _Report(progress)
    descent = _descent(problem, sharing, fewest if problem.fill == "pack" else most, hint, report)
    for names in _turns(problem.goals):
        _settle(descent, names, report)
    proved = all(goal.proved for goal in report.values(descent.places))
    unique = proved and _made_snug(descent) and make_smallest(descent, problem.work.unique)
    boxes, used = len(problem.boxes), len(set(descent.places))
    fewest, most = replace(fewest, used=min(fewest.used, used)), replace(most, used=max(most.used, used))
    return Assignment(
        status="found",
        places=descent.places,
        goals=report.values(descent.places),
        most_free=boxes - fewest.used,
        fewest_free=boxes - most.used,
        free_proved=(fewest.proved, most.proved),
        unique=unique,
        undecided=_undecided(sharing),
    )


@dataclass(frozen=True, slots=True)
class _Ended:
    """A goal whose search has ended: its layers, and what makes one value of theirs."""

    name: GoalName
    parts: tuple[Settled, ...]
    whole: Callable[[tuple[int, ...]], int] = only_value

    def value(self, places: Places) -> int:
        """The goal's value in a plan."""
        return self.whole(tuple(part.value(places) for part in self.parts))

    def bound(self, places: Places) -> int:
        """What no plan goes below; costs are at least 0, which is all that is known after a part not proved."""
        proved = list(takewhile(lambda part: part.value(places) == part.bound, self.parts))
        known = self.parts[: len(proved) + 1]
        return self.whole((*(part.bound for part in known), *(0 for _ in self.parts[len(known) :])))


@dataclass(slots=True)
class _Report:
    """Goals whose search has ended; a goal is proved only if all before it are."""

    progress: Progress | None
    ended: list[_Ended] = field(default_factory=list)
    told: dict[str, tuple[int, int]] = field(default_factory=dict)

    def values(self, places: Places) -> tuple[GoalValue, ...]:
        """Value, bound and proof of every goal, counted in a plan."""
        found: list[GoalValue] = []
        for goal in self.ended:
            value, bound = goal.value(places), goal.bound(places)
            proved = value == bound and all(before.proved for before in found)
            found.append(GoalValue(goal.name, value, bound, proved))
        return tuple(found)

    def begin(self, name: GoalName, value: int) -> None:
        """Tell what is proved next, with its value so far; costs are at least 0."""
        if self.progress is not None:
            self.progress(name, value, 0)

    def tell(self, places: Places) -> None:
        """Tell what is new or has changed by the plan at hand."""
        if self.progress is None:
            return
        for goal in self.values(places):
            now = goal.value, goal.bound
            if self.told.get(goal.name) != now:
                self.told[goal.name] = now
                self.progress(goal.name, *now)


def _descent(problem: Problem, sharing: Sharing, count: DrawerCount, hint: Places | None, report: _Report) -> Descent:
    """Start from the number of drawers, fixed if it is a goal; groups that then have a drawer each share with none."""
    if "drawers" not in problem.goals:
        return Descent(board_of(problem, sharing), count.places, hint)
    board = board_of(problem, sharing, single(problem, count.used))
    use_exactly(board, count.used)
    report.ended.append(_Ended("drawers", (_drawers(problem, count),)))
    report.tell(count.places)
    return Descent(board, count.places, hint)


def _drawers(problem: Problem, count: DrawerCount) -> Settled:
    """Used drawers where they are packed, else unused ones, and what no plan goes below."""
    if problem.fill == "pack":
        return Settled(lambda places: len(set(places)), count.bound)
    boxes = len(problem.boxes)
    return Settled(lambda places: boxes - len(set(places)), boxes - count.bound)


def _turns(goals: Sequence[GoalName]) -> list[list[GoalName]]:
    """Goals solved in one turn: leading ``moves`` and ``order`` one by one, as they rule out much; then the rest."""
    rest: list[GoalName] = [name for name in goals if name != "drawers"]
    first = list(takewhile(lambda name: name in ("moves", "order"), rest))
    return [*([name] for name in first), rest[len(first) :]]


def _settle(descent: Descent, names: Sequence[GoalName], report: _Report) -> None:
    work, open_before = descent.board.problem.work, not all(goal.proved for goal in report.values(descent.places))
    share = AFTER_OPEN if open_before else 1.0
    layers = {name: GOALS[name].layers(descent.board) for name in names}
    budgets = [share * GOALS[name].work(work) / len(layers[name]) for name in names for _ in layers[name]]
    for name in names:
        report.begin(name, GOALS[name].value(tuple(part.value(descent.places) for part in layers[name])))
    settled = iter(descent.settle([part for name in names for part in layers[name]], budgets))
    for name in names:
        ended = _Ended(name, tuple(next(settled) for _ in layers[name]), GOALS[name].value)
        report.ended.append(ended)
        GOALS[name].narrow(descent.board, ended.value(descent.places))
    report.tell(descent.places)


def _made_snug(descent: Descent) -> bool:
    """Of the plans equal in all goals take one with small groups in small drawers; whether it is proved the best."""
    (settled,) = descent.settle([snug(descent.board)], [descent.board.problem.work.unique])
    return settled.value(descent.places) == settled.bound


def _undecided(sharing: Sharing) -> tuple[tuple[int, frozenset[int]], ...]:
    return tuple((misfit.kind, misfit.groups) for misfit in sharing.undecided)
