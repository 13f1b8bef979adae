"""Groups to parts and parts to drawers at the least cost: cuts within groups, and families beyond one in a drawer.

Of the divisions of that cost the one that suits goals ``drawers`` and ``order`` best is chosen, with what holds for all
of them. Those goals are then settled anew for the parts chosen, with all others.
"""

from __future__ import annotations

from dataclasses import replace

from ortools.sat.python.cp_model import LinearExprT

from matcher.assignment.division_model import division_model
from matcher.assignment.division_order import order_breaks_at_least
from matcher.assignment.division_records import Bounds, Divided, Division, cost_of, held
from matcher.assignment.division_search import DivisionSearch

FIRST_SHARE = 4
"""This share of the budget goes to whether there is any division at all, and the same to one of any cost at the end."""


def divided(division: Division, least: int, most: int, work: float) -> Divided:
    """The cheapest division from ``least`` to ``most``, value by value from below; else any that is found.

    Each value below the one found is proved impossible, or the bound says how far that was proved.
    """
    built = division_model(division)
    built.within(least, most)
    if built.solved(work / FIRST_SHARE).status == "infeasible":
        return Divided("impossible", bound=most + 1)
    search, bound, rising = DivisionSearch(built), least, work - work / FIRST_SHARE
    for value in range(least, most + 1):
        if built.spent >= rising:
            break
        status, chosen = search.any_of_cost(value, value, (rising - built.spent) / 2)
        if status == "found":
            return _suited(search, Divided("found", chosen, cost_of(division, chosen), bound))
        if status == "impossible" and bound == value:
            bound += 1
    if bound > most:
        return Divided("impossible", bound=bound)
    found = _any(search, bound, most, work)
    return _suited(search, found) if found.status == "found" else found


def _any(search: DivisionSearch, bound: int, most: int, work: float) -> Divided:
    """A division of any cost, and ever cheaper ones until none is found within the budget."""
    built = search.built
    found = Divided("open", bound=bound)
    while built.spent < work and bound <= most:
        status, chosen = search.any_of_cost(bound, most, work - built.spent)
        if status != "found":
            break
        found = Divided("found", chosen, cost_of(built.division, chosen), bound)
        most = found.cost - 1
    return found


def _suited(search: DivisionSearch, found: Divided) -> Divided:
    """Of the divisions of the cost found the one that goals ``drawers`` and ``order`` ask for, as far as they come."""
    problem, built = search.built.division.problem, search.built
    built.within(0, found.cost)
    if "drawers" in problem.goals:
        found = _with_drawers(search, found)
    if "order" in problem.goals[: 1 + ("drawers" in problem.goals)]:
        built.tell_floors_apart()
        found = _with_order(search, found)
    return found


def _with_drawers(search: DivisionSearch, found: Divided) -> Divided:
    """Both ends of the drawers used; as many are used from now on as the goal asks for."""
    built, problem = search.built, search.built.division.problem
    used: LinearExprT = sum(built.holds.values())
    boxes, share = len(problem.boxes), problem.work.drawers / 2
    sign = 1 if problem.fill == "pack" else -1
    chosen, ends = found.chosen, {}
    for end in (-sign, sign):
        built.hint(chosen)
        best = search.least(end * used, 1 if end > 0 else -boxes, share)
        ends[end] = abs(best.bound)
        if end == sign and best.chosen is not None:
            chosen = best.chosen
    built.model.clear_objective()  # type: ignore[no-untyped-call]
    built.model.add(sign * used <= sign * len(held(chosen)))
    bounds = Bounds(ends[1], ends[-1])
    return replace(found, chosen=chosen, cost=cost_of(built.division, chosen), bounds=bounds)


def _with_order(search: DivisionSearch, found: Divided) -> Divided:
    """The fewest breaks of order, in which a divided group counts once at least with each other group."""
    built = search.built
    breaks = order_breaks_at_least(built)
    built.hint(found.chosen)
    best = search.least(breaks, 0, built.division.problem.work.order)
    chosen = best.chosen or found.chosen
    bounds = replace(found.bounds, order=best.bound)
    return replace(found, chosen=chosen, cost=cost_of(built.division, chosen), bounds=bounds)
