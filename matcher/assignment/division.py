"""Groups to parts and parts to drawers at the least cost: cuts within groups, and families beyond one in a drawer.

Of the divisions of that cost the one that suits goals ``drawers`` and ``order`` best is chosen, with what holds for all
of them. Those goals are then settled anew for the parts chosen, with all others.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeAlias

from matcher.assignment.division_cuts import cutting, few_divisions
from matcher.assignment.division_model import division_model, limits, most_of
from matcher.assignment.division_order import order_breaks_at_least
from matcher.assignment.division_records import Bounds, Chosen, Divided, Division, cost_of, held
from matcher.assignment.division_search import DivisionSearch
from matcher.assignment.division_start import bettered, first, start
from matcher.assignment.problem import AFTER_OPEN, Status

PROBE = 1.5
"""Work of asking whether what was learned so far rules out every cost."""
START_SHARE = 0.3
"""Share of the budget for a division to start from."""
CUTTING_SHARE = 0.6
"""Share of the budget that is gone when groups have been cut one by one."""
HOPELESS_SHARE = 0.4
"""Share of the budget where no division is known to start from."""
ANY_SHARE = 0.0625
"""Share of it for whether there is any division at all, where none was found to start from."""

ORDER_SHARE = 0.2
"""Share of the budget of goal ``order`` for its bound over all divisions."""
BETTERED_SHARE = 0.25
"""Share of the budget of goal ``order`` in which a division found is bettered by laying drawers anew."""


def divided(division: Division, least: int, most: int, work: float) -> Divided:
    """The cheapest division from ``least`` to ``most``, of those the one that suits the goals after it best."""
    search, bound = DivisionSearch(division_model(division)), least
    known = start(search, work * START_SHARE)
    if not known or cost_of(division, known) > most:
        status, known = _any(division, most, work * ANY_SHARE)
        if status == "impossible":
            return Divided("impossible", bound=most + 1)
        work = work if known else work * HOPELESS_SHARE
    while bound <= most and search.built.spent < work * CUTTING_SHARE:
        found = cutting(search, bound, work * CUTTING_SHARE - search.built.spent)
        if found.chosen:
            return _suited(search, Divided("found", found.chosen, cost_of(division, found.chosen), bound), found.ways)
        if found.ways:
            break
        bound += 1
        if bound == least + 1 and search.none_within(bound, most, PROBE):
            return Divided("impossible", bound=most + 1)
    most = cost_of(division, known) if known else most
    best = search.least(search.built.value, bound, most, work - search.built.spent, known)
    if not best.chosen:
        return Divided("impossible" if best.proved else "open", bound=best.bound)
    return _suited(search, Divided("found", best.chosen, cost_of(division, best.chosen), best.bound), [None])


def divides(division: Division, most: int, laying: float, searching: float) -> Status:
    """Whether there is any division of at most this cost: first by laying drawer by drawer, then by the solver."""
    if first(DivisionSearch(division_model(division)), laying):
        return "found"
    return _any(division, most, searching)[0]


def _any(division: Division, most: int, work: float) -> tuple[Status, Chosen]:
    """Any division of at most this cost; on a model of its own, as it may rule out without proof."""
    search = DivisionSearch(division_model(division))
    limits(search.built.value, 0, most)
    return search.any_with(frozenset(range(len(division.units))), work)


WaysToCut: TypeAlias = Sequence[frozenset[int] | None]
"""The groups that may be cut, in each of several ways; any if ``None``."""


def _suited(search: DivisionSearch, found: Divided, ways: WaysToCut) -> Divided:
    """Of the divisions of the cost found the one that goals ``drawers`` and ``order`` ask for, as far as they come."""
    limits(search.built.value, 0, found.cost)
    problem = search.built.division.problem
    rivals = few_divisions(search.built.division, ways, found.cost)
    found = replace(found, bounds=Bounds(most_used=len(problem.boxes)), rivals=rivals)
    if rivals:
        return found
    if problem.goals:
        chosen = bettered(search, found.chosen, problem.work.order * BETTERED_SHARE)
        found = replace(found, chosen=chosen, cost=cost_of(search.built.division, chosen))
    if "drawers" in problem.goals:
        found = _with_drawers(search, found, ways)
    if "order" in problem.goals[: 1 + ("drawers" in problem.goals)]:
        found = _with_order(search, found, ways)
    return found


def _with_drawers(search: DivisionSearch, found: Divided, ways: WaysToCut) -> Divided:
    """Both ends of the drawers used; as many are used from now on as the goal asks for."""
    problem, model, chosen = search.built.division.problem, search.built.model, found.chosen
    boxes, share = len(problem.boxes), _share(found) * problem.work.drawers / 2
    free = model.new_int_var(0, boxes, "unused")
    used = model.new_int_var(0, boxes, "used")
    model.add(used == sum(search.built.holds.values()))
    model.add(free == boxes - used)
    ends = {}
    for end in (used, free) if problem.fill == "spread" else (free, used):
        now = len(held(chosen)) if end is used else boxes - len(held(chosen))
        best = search.least_over(ways, end, 0, now, share, chosen)
        limits(end, 0, boxes)
        ends[end.name] = best
    limits(end, 0, best.value)
    bounds = Bounds(ends["used"].bound, boxes - ends["unused"].bound)
    return replace(found, chosen=best.chosen, cost=cost_of(search.built.division, best.chosen), bounds=bounds)


def _with_order(search: DivisionSearch, found: Divided, ways: WaysToCut) -> Divided:
    """The fewest breaks of order, in which a divided group counts once at least with each other group."""
    breaks = order_breaks_at_least(search.built)
    share = ORDER_SHARE * _share(found) * search.built.division.problem.work.order
    best = search.least_over(ways, breaks, 0, most_of(breaks), share, found.chosen)
    bounds = replace(found.bounds, order=best.bound)
    return replace(found, chosen=best.chosen, cost=cost_of(search.built.division, best.chosen), bounds=bounds)


def _share(found: Divided) -> float:
    """How much of their budgets the goals after the cost get: no goal is proved where it is not."""
    return 1.0 if found.cost <= found.bound else AFTER_OPEN
