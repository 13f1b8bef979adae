"""Goal ``order`` over all divisions: how often two groups break the order at least, however each is divided."""

from __future__ import annotations

from itertools import permutations
from typing import TypeAlias

from ortools.sat.python.cp_model import IntVar

from matcher.assignment.division_model import DivisionModel
from matcher.assignment.ordering import tiers_before


def order_breaks_at_least(built: DivisionModel) -> IntVar:
    """Pairs of groups of which some part of the earlier lies too low for some part of the later.

    Pairs of parts are counted in a plan, so that this is exact for whole groups and a bound for divided ones.
    """
    problem, covering = built.division.problem, _covering(built)
    heights = sorted({box.floor for box in problem.boxes})
    tiers = {part.group: problem.nodes[node].tier for node, part in enumerate(built.division.parts)}
    before = tiers_before(built.model, problem)
    pairs = [(i, j) for i, j in permutations(tiers, 2) if (tiers[i], tiers[j]) in before]
    above = {top: {n for n, box in enumerate(problem.boxes) if box.floor > top + problem.level} for top in heights}
    most = {top: {n for n, box in enumerate(problem.boxes) if box.floor <= top} for top in heights}
    low = {(i, top): _any_part(built, covering[i], most[top]) for i in {i for i, _ in pairs} for top in heights}
    high = {(j, top): _any_part(built, covering[j], above[top]) for j in {j for _, j in pairs} for top in heights}
    breaks = []
    for i, j in pairs:
        breaks.append(built.model.new_bool_var(f"group {i} breaks with {j}"))
        for top in heights:
            built.model.add_bool_or(~low[i, top], ~high[j, top], breaks[-1], ~before[tiers[i], tiers[j]])
    total = built.model.new_int_var(0, len(breaks), "breaks")
    built.model.add(sum(breaks) <= total)
    return total


UnitPlaces: TypeAlias = list[tuple[int, IntVar]]
"""Drawers with what says that a part lies there."""


def _covering(built: DivisionModel) -> list[list[UnitPlaces]]:
    """For each unit of each group where the parts that hold it may lie."""
    found: list[list[UnitPlaces]] = [[[] for _ in range(units)] for units in built.division.units]
    for (node, box), variable in built.at.items():
        part = built.division.parts[node]
        for unit in range(part.begin, part.end):
            found[part.group][unit].append((box, variable))
    return found


def _any_part(built: DivisionModel, units: list[UnitPlaces], boxes: set[int]) -> IntVar:
    """Whether some part of a group lies in one of these drawers; true where one does."""
    found = built.model.new_bool_var("")
    for places in units:
        here = [variable for box, variable in places if box in boxes]
        if here:
            built.model.add(sum(here) <= found)
    return found
