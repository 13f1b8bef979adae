"""Where there are but a few ways to divide the groups at the least cost: each is settled, and the best is told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from matcher.assignment import Assignment, GoalValue, Problem, assign
from matcher.planning.posing import Case

FIRST = 2
"""So many goals are settled for every rival; only those that are best by them are settled further."""


@dataclass(frozen=True, slots=True)
class Rival:
    """A way to divide the groups, and the best plan of its parts as far as it was settled."""

    case: Case
    problem: Problem
    found: Assignment

    @property
    def values(self) -> tuple[int, ...]:
        """The goals' values."""
        return tuple(goal.value for goal in self.found.goals)

    @property
    def least(self) -> tuple[int, ...]:
        """What its plans never go below, goal after goal; 0 after one that is not proved."""
        known = [goal.value for goal in self.found.goals if goal.proved]
        first_open = [goal.bound for goal in self.found.goals[len(known) : len(known) + 1]]
        return (*known, *first_open, *(0 for _ in self.problem.goals[len(known) + len(first_open) :]))


def best_rival(posed: Sequence[tuple[Case, Problem]]) -> Rival | None:
    """The best plan over all ways to divide, with its goals proved where no other way can beat them."""
    first = [Rival(case, problem, assign(replace(problem, goals=problem.goals[:FIRST]))) for case, problem in posed]
    open_ = any(rival.found.status == "open" for rival in first)
    found = [rival for rival in first if rival.found.status == "found"]
    if not found:
        return None
    best = min(rival.values for rival in found)
    ahead = [_settled(rival) for rival in found if rival.values == best]
    chosen = min(ahead, key=lambda rival: rival.values)
    others = [rival for rival in found if rival.values != best] + [rival for rival in ahead if rival is not chosen]
    return replace(chosen, found=_over_all(chosen, others, open_))


def _settled(rival: Rival) -> Rival:
    """With all goals."""
    return replace(rival, found=assign(rival.problem, hint=rival.found.places, known=rival.found.places))


def _over_all(chosen: Rival, others: Sequence[Rival], open_: bool) -> Assignment:
    """The plan's goals with bounds over all ways to divide."""
    goals: list[GoalValue] = []
    for n, goal in enumerate(chosen.found.goals):
        equal = [rival for rival in others if rival.least[:n] <= chosen.values[:n]]
        bound = min([goal.bound, *(rival.least[n] if rival.least[:n] == chosen.values[:n] else 0 for rival in equal)])
        bound = 0 if open_ else min(bound, goal.value)
        proved = goal.proved and bound == goal.value and all(before.proved for before in goals)
        goals.append(GoalValue(goal.name, goal.value, bound, proved))
    ends = [rival.found for rival in (chosen, *others)]
    proved_ends = [all(end.free_proved[side] for end in ends) and not open_ for side in (0, 1)]
    return replace(
        chosen.found,
        goals=tuple(goals),
        most_free=max(end.most_free for end in ends if end.most_free is not None),
        fewest_free=min(end.fewest_free for end in ends if end.fewest_free is not None),
        free_proved=(proved_ends[0], proved_ends[1]),
        unique=False,
    )
