"""What makes up the value of each goal, in words a planner can check against the plan."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from matcher.admission import effort_of
from matcher.assignment import Problem, order_breaks, wish_costs
from matcher.posing import Case
from matcher.records import GoalName, Placement
from matcher.units import show_mm

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
    for g, d in enumerate(places):
        group, floor = case.groups[g], case.drawers[d].above_ground
        share = case.house.height.score(floor) if floor is not None else 1
        if share < 1 and (group.use or any(piece.mass_high > case.house.lift.mass for piece in group.pieces)):
            used = f"used {group.use:g} times a week" if group.use else "holds a single heavy piece"
            height = f"{show_mm(floor or 0)} above the ground"
            yield f"{group.name} ({used}) lie at {height}, a height worth {share:g} of the best"


_Teller = Callable[[Case, Problem, Sequence[int], Sequence[Placement]], Iterator[str]]
_TOLD: Mapping[GoalName, _Teller] = {
    "drawers": _drawers,
    "order": _order,
    "neighbors": _neighbors,
    "recut": _recut,
    "reach": _reach,
}
