"""The next best different plans: each time the best of all plans but those already found."""

from __future__ import annotations

from dataclasses import dataclass, replace

from matcher.assignment.problem import Assignment, Places, Problem, Status
from matcher.assignment.stages import assign


@dataclass(frozen=True, slots=True)
class Others:
    """Other plans, by the goals in their order; ``end`` tells what the search for one more gave.

    ``found``: it was not looked for; ``impossible``: there is none, proved; ``open``: none was found.
    """

    assignments: tuple[Assignment, ...]
    end: Status


def others(problem: Problem, best: Places, number: int) -> Others:
    """Up to ``number`` plans after the best one; none is another with only equal drawers exchanged."""
    found: list[Assignment] = []
    while len(found) < number:
        passed = (best, *(other.places for other in found))
        other = assign(replace(problem, passed_over=passed), hint=best)
        if other.status != "found":
            return Others(_ranked(found), other.status)
        found.append(other)
    return Others(_ranked(found), "found")


def _ranked(found: list[Assignment]) -> tuple[Assignment, ...]:
    """By goals; they come in this order unless a goal is not proved."""
    return tuple(sorted(found, key=lambda other: [goal.value for goal in other.goals]))
