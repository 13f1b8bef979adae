"""What makes up the value of each goal, in words a planner can check against the plan."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal

from matcher.admission import effort_of
from matcher.assignment import Problem, order_breaks, wish_costs
from matcher.posing import Case
from matcher.reaching import counted_uses, hand_height, has_lift, reach_cost
from matcher.records import GoalName, Placement
from matcher.units import show_kg, show_mm

WISH_WORDS = {"near": "near", "beside": "beside", "below": "right below", "left_of": "left of"}


def contributions(
    name: GoalName, case: Case, problem: Problem, places: Sequence[int], placed: Sequence[Placement]
) -> tuple[str, ...]:
    """Sentences about everything that adds to the goal ``name``; empty where nothing does."""
    return tuple(_TOLD[name](case, problem, places, placed))


def _drawers(case: Case, problem: Problem, places: Sequence[int], placed: Sequence[Placement]) -> Iterator[str]:
    held = set(places)
    for d, drawer in enumerate(case.drawers):
        if d not in held and problem.fill == "spread":
            yield f"drawer {drawer.name} holds nothing"
        if d in held and problem.fill == "pack":
            groups = [case.groups[g].name for g in range(len(places)) if places[g] == d]
            yield f"drawer {drawer.name} holds {' and '.join(groups)}"


def _order(case: Case, problem: Problem, places: Sequence[int], placed: Sequence[Placement]) -> Iterator[str]:
    for earlier, later in order_breaks(problem, tuple(places)):
        upper, lower = case.groups[earlier], case.groups[later]
        yield (
            f"{upper.name} (tier {upper.tier}, drawer {case.drawers[places[earlier]].name}) lie lower than "
            f"{lower.name} (tier {lower.tier}, drawer {case.drawers[places[later]].name})"
        )


def _neighbors(case: Case, problem: Problem, places: Sequence[int], placed: Sequence[Placement]) -> Iterator[str]:
    for (g, other, wish, weight), cost in wish_costs(problem, tuple(places)):
        if cost:
            yield (
                f"{case.groups[g].name} (drawer {case.drawers[places[g]].name}) should be {WISH_WORDS[wish]} "
                f"{case.groups[other].name} (drawer {case.drawers[places[other]].name}): "
                f"{cost // max(weight, 1)} away, weight {weight}"
            )


def _recut(case: Case, problem: Problem, places: Sequence[int], placed: Sequence[Placement]) -> Iterator[str]:
    for placement in placed:
        effort = effort_of(placement.how)
        if effort:
            yield f"{placement.group} in drawer {placement.drawer}: {placement.how}, {effort} of work on the foam"
    gap = sum(placement.gap_width + placement.gap_depth for placement in placed)
    if gap:
        yield f"{show_mm(gap)} of room left over across and along all drawers"


def _reach(case: Case, problem: Problem, places: Sequence[int], placed: Sequence[Placement]) -> Iterator[str]:
    uses = counted_uses(case.groups, case.house)
    for g, d in enumerate(places):
        group, alone = case.groups[g], case.fits[g, d].alone
        hand = hand_height(case.drawers[d], alone.height) if alone else None
        if hand is not None and reach_cost(uses[g], hand, case.house):
            where = f"at a hand height of {show_mm(hand)}, worth {case.house.height.score(hand):g} of the best"
            yield f"{group.name} (drawer {case.drawers[d].name}, {_counted(case, g, uses[g])}) lie {where}"


def _counted(case: Case, g: int, use: Decimal) -> str:
    """Why a group counts as often used as it does."""
    group = case.groups[g]
    if has_lift(group, case.house):
        return f"holds a single piece of {show_kg(case.house.lift.mass)} or more: counts as the most used, {use:g}"
    if group.use is not None:
        return f"used {use:g} times a week"
    return f"tier {group.tier}, no use given: counts as {use:g}"


_Teller = Callable[[Case, Problem, Sequence[int], Sequence[Placement]], Iterator[str]]
_TOLD: Mapping[GoalName, _Teller] = {
    "drawers": _drawers,
    "order": _order,
    "neighbors": _neighbors,
    "recut": _recut,
    "reach": _reach,
}
