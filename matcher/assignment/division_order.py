"""Goal ``order`` over all divisions: how often two groups break the order at least, however each is divided."""

from __future__ import annotations

from itertools import permutations

from ortools.sat.python.cp_model import IntVar

from matcher.assignment.division_model import DivisionModel
from matcher.assignment.ordering import tiers_before


def order_breaks_at_least(built: DivisionModel) -> IntVar:
    """Pairs of groups of which some part of the earlier lies too low for some part of the later.

    Pairs of parts are counted in a plan, so that this is exact for whole groups and a bound for divided ones.
    """
    problem = built.division.problem
    heights = sorted({box.floor for box in problem.boxes})
    tiers = {part.group: problem.nodes[node].tier for node, part in enumerate(built.division.parts)}
    low = {(group, top): _any_part(built, group, most=top) for group in tiers for top in heights}
    high = {(group, top): _any_part(built, group, above=top + problem.level) for group in tiers for top in heights}
    before, breaks = tiers_before(built.model, problem), []
    for i, j in permutations(tiers, 2):
        earlier = before.get((tiers[i], tiers[j]))
        if earlier is None:
            continue
        breaks.append(built.model.new_bool_var(f"group {i} breaks with {j}"))
        for top in heights:
            built.model.add_bool_or(~low[i, top], ~high[j, top], breaks[-1], ~earlier)
    total = built.model.new_int_var(0, len(breaks), "breaks")
    built.model.add(sum(breaks) <= total)
    return total


def _any_part(built: DivisionModel, group: int, *, most: int | None = None, above: int | None = None) -> IntVar:
    """Whether a group has some part whose floor is at ``most`` this high, or ``above`` it; true where it has."""
    found = built.model.new_bool_var("")
    boxes = {
        box
        for box, place in enumerate(built.division.problem.boxes)
        if (most is not None and place.floor <= most) or (above is not None and place.floor > above)
    }
    for unit in range(built.division.units[group]):
        here = [
            variable for (node, box), variable in built.at.items() if box in boxes and _covers(built, node, group, unit)
        ]
        if here:
            built.model.add(sum(here) <= found)
    return found


def _covers(built: DivisionModel, node: int, group: int, unit: int) -> bool:
    part = built.division.parts[node]
    return part.group == group and part.begin <= unit < part.end
