"""What goals that were settled for one division of the groups say of all divisions."""

from __future__ import annotations

from dataclasses import replace

from matcher.assignment import Assignment, Bounds, GoalValue
from matcher.fitting import opening
from matcher.layout import units
from matcher.planning.grouping import divisible
from matcher.planning.pins import matches
from matcher.planning.posing import Case
from matcher.planning.summing import least_asked


def over_every_division(case: Case, found: Assignment, together: GoalValue, bounds: Bounds) -> Assignment:
    """The plan's goals with bounds that hold however groups are divided and mixed, and proved only where met.

    Nothing is proved where goal ``together`` is not. Costs are at least 0. Drawers that nothing may go into are unused
    in every plan, and so are those beyond one for each part that the cuts allowed make; the drawers used have at least
    the area that the pockets ask for. ``bounds`` are what the search for the division proved besides.
    """
    known = len(case.drawers) - (len(case.drawers) if bounds.most_used is None else bounds.most_used)
    unused = max(known, _never_used(case), len(case.drawers) - _most_parts(case, together.value))
    used = max(bounds.fewest_used, _least_used(case))
    least = {"drawers": used if case.question.fill == "pack" else unused, "order": bounds.order}
    goals: list[GoalValue] = []
    for goal in found.goals:
        bound = least.get(goal.name, 0)
        proved = together.proved and goal.value == bound and all(before.proved for before in goals)
        goals.append(GoalValue(goal.name, goal.value, bound, proved))
    most = len(case.drawers) - used
    ends = together.proved and found.most_free == most, together.proved and found.fewest_free == unused
    return replace(found, goals=tuple(goals), free_proved=ends, unique=False)


def _most_parts(case: Case, cost: int) -> int:
    """How many parts the groups fall into at most at such a cost of goal ``together``."""
    rules, groups, sides = case.house.together, case.question.groups, case.house.layout.sides
    between = sum(len(units(group, sides, lambda _: 1)) - 1 for group in groups if divisible(group, case.house))
    cheap = min(between, cost // rules.part) if rules.part <= rules.cut else 0
    return len(groups) + cheap + (cost - cheap * rules.part) // rules.cut


def _never_used(case: Case) -> int:
    """How many drawers no plan uses: those kept free, and those without foam where nothing is cased."""
    cased = any(group.cased for group in case.groups)
    kept = [pin for pin in case.pins if pin.rule == "keep free" and pin.count is None]
    return sum(
        any(matches(pin, drawer) for pin in kept) or (drawer.slot == "no foam" and not cased) for drawer in case.drawers
    )


def _least_used(case: Case) -> int:
    """How many drawers every plan uses at least, by area: the largest of them together hold what is asked for."""
    pocket, spaces = case.house.pocket, [opening(drawer, case.house) for drawer in case.drawers]
    if 2 * pocket.margin < pocket.web:
        return 1
    need = sum(least_asked(group, case.house) for group in case.question.groups)
    used = 0
    for area in sorted(((space.width + pocket.web) * (space.depth + pocket.web) for space in spaces), reverse=True):
        if need <= 0:
            break
        need, used = need - area, used + 1
    return used
