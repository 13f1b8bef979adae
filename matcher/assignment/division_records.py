"""What is to be divided, and the division found: plain records."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TypeAlias

from matcher.assignment.problem import Problem, Status

Chosen: TypeAlias = tuple[tuple[int, int], ...]
"""Parts with their drawers, by index."""


@dataclass(frozen=True, slots=True)
class Part:
    """A run of units of a group, from ``begin`` to before ``end``; ``cost`` is that of the cut after it."""

    group: int
    begin: int
    end: int
    cost: int


@dataclass(frozen=True, slots=True)
class Division:
    """What is to be divided: a node of ``problem`` is one of the ``parts`` that its group might fall into.

    ``units`` says how many units each group has. ``per_family`` is the cost of each family beyond the first in a
    drawer. ``no_larger`` lists for each drawer those that take nothing that it does not take, itself included.
    """

    problem: Problem
    parts: tuple[Part, ...]
    units: tuple[int, ...]
    per_family: int
    no_larger: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Bounds:
    """What holds for every division of the least cost: drawers used, and order breaks with as many used as chosen."""

    fewest_used: int = 0
    most_used: int | None = None
    order: int = 0


@dataclass(frozen=True, slots=True)
class Divided:
    """The parts chosen, if ``found``, at what cost, and what no division of these parts goes below.

    ``rivals`` are all choices of parts that cost no more, the one chosen included, where they are but a few."""

    status: Status
    chosen: Chosen = ()
    cost: int = 0
    bound: int = 0
    bounds: Bounds = Bounds()
    rivals: tuple[tuple[int, ...], ...] = ()


def held(chosen: Chosen) -> dict[int, frozenset[int]]:
    """The parts in each drawer."""
    found: dict[int, set[int]] = defaultdict(set)
    for node, box in chosen:
        found[box].add(node)
    return {box: frozenset(nodes) for box, nodes in found.items()}


def cost_of(division: Division, chosen: Chosen) -> int:
    """Cuts, and families beyond the first of each drawer."""
    families = sum(len({division.problem.nodes[node].family for node in nodes}) - 1 for nodes in held(chosen).values())
    return sum(division.parts[node].cost for node, _ in chosen) + division.per_family * families
