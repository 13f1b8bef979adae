"""Which plans are one plan but for an exchange of equal drawers."""

from __future__ import annotations

from typing import TypeAlias

from matcher.assignment.problem import Places, Problem

DrawerSets: TypeAlias = frozenset[tuple[int, frozenset[int]]]
"""What lies together, and in drawers equal to which."""


def equal_drawers(problem: Problem) -> tuple[int, ...]:
    """For each drawer the first one equal to it: in size, obstructions, slot, load rating and height of its floor."""
    first: dict[tuple[int, int], int] = {}
    return tuple(first.setdefault((box.kind, box.floor), index) for index, box in enumerate(problem.boxes))


def contents(problem: Problem, places: Places) -> DrawerSets:
    """A plan without regard to which of equal drawers is which: the same for two plans that differ in nothing else."""
    equal = equal_drawers(problem)
    held: dict[int, list[int]] = {}
    for group, box in enumerate(places):
        held.setdefault(box, []).append(group)
    return frozenset((equal[box], frozenset(groups)) for box, groups in held.items())
