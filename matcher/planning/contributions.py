"""What makes up the value of each goal, in words a planner can check against the plan."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal

from matcher.assignment import Box, Problem, banks_apart, rows_apart, wish_costs
from matcher.fitting import GoesIn, counted_uses, effort_of, hand_height, has_lift, reach_cost
from matcher.planning.order_words import order_told
from matcher.planning.posing import Case
from matcher.planning.togetherness import together_told
from matcher.records import GoalName, How, counted

WISH_WORDS = {"near": "near", "beside": "beside", "below": "right below", "left_of": "left of"}
MOST = 3
"""So many of the groups with the largest gaps are named."""


def contributions(
    name: GoalName, case: Case, problem: Problem, places: Sequence[int], hows: Sequence[How]
) -> tuple[str, ...]:
    """Sentences about everything that adds to the goal ``name``; empty where nothing does.

    ``places`` are the drawers of the groups (by index), ``hows`` how they are placed there.
    """
    if name == "recut":
        return (*_work(case, problem, places, hows), *_gaps(case, problem, places))
    return tuple(_TOLD[name](case, problem, places))


def _together(case: Case, problem: Problem, places: Sequence[int]) -> Iterator[str]:
    return together_told(case.groups, case.drawers, places, case.house.layout.sides)


def _drawers(case: Case, problem: Problem, places: Sequence[int]) -> Iterator[str]:
    held = set(places)
    for d, drawer in enumerate(case.drawers):
        if d not in held and problem.fill == "spread":
            yield f"drawer {drawer.name} holds nothing"
        if d in held and problem.fill == "pack":
            groups = [case.groups[g].name for g in range(len(places)) if places[g] == d]
            yield f"drawer {drawer.name} holds {' and '.join(groups)}"


def _moves(case: Case, problem: Problem, places: Sequence[int]) -> Iterator[str]:
    for g, d in sorted(problem.kept.items()):
        if places[g] != d:
            was = case.drawers[d].name if d >= 0 else "a drawer that is no more"
            yield f"{case.groups[g].name} move from {was} to {case.drawers[places[g]].name}"


def _neighbors(case: Case, problem: Problem, places: Sequence[int]) -> Iterator[str]:
    for (g, other, wish, weight), cost in wish_costs(problem, tuple(places)):
        if cost:
            yield (
                f"{case.groups[g].name} (drawer {case.drawers[places[g]].name}) should be {WISH_WORDS[wish]} "
                f"{case.groups[other].name} (drawer {case.drawers[places[other]].name}) but lie "
                f"{_where(problem.boxes[places[g]], problem.boxes[places[other]])}: {cost // weight} x weight {weight}"
            )


def _where(box: Box, other: Box) -> str:
    """Where a drawer lies as seen from another."""
    rows, banks = rows_apart(box, other), banks_apart(box, other)
    up = "in the same row" if not rows else f"{counted(rows, 'row')} {'above' if box.row < other.row else 'below'}"
    aside = f"{counted(banks, 'bank')} to the {'left' if box.bank < other.bank else 'right'}"
    return f"{up}, {aside}" if banks else up


def _work(case: Case, problem: Problem, places: Sequence[int], hows: Sequence[How]) -> Iterator[str]:
    """The work on each group's foam as the goal counts it, alone in its drawer; and how it is placed, if otherwise."""
    for g, d in enumerate(places):
        effort, fit = problem.options[g, d].how_cost, case.fits[g, d]
        if isinstance(fit, GoesIn) and (effort or effort_of(hows[g])):
            others = [case.groups[other].name for other, place in enumerate(places) if place == d and other != g]
            shared = f"{hows[g]} beside {' and '.join(others)}, counted as if alone there: "
            yield (
                f"{case.groups[g].name} in drawer {case.drawers[d].name}: {'' if hows[g] == fit.alone.how else shared}"
                f"{fit.alone.how}, {counted(effort, 'step')} of work on the foam"
            )


def _gaps(case: Case, problem: Problem, places: Sequence[int]) -> Iterator[str]:
    gaps = {(g, d): problem.options[g, d].gap for g, d in enumerate(places)}
    if any(gaps.values()):
        most = sorted(gaps, key=lambda pair: (-gaps[pair], pair))[:MOST]
        told = [f"{case.groups[g].name} (drawer {case.drawers[d].name}) {case.unit.show(gaps[g, d])}" for g, d in most]
        yield (
            f"{case.unit.show(sum(gaps.values()))} of gaps across and along, each group counted alone in its drawer; "
            f"the most: {', '.join(told)}"
        )


def _reach(case: Case, problem: Problem, places: Sequence[int]) -> Iterator[str]:
    """Groups at heights that are not the best, those worth the same told as one, the worst first."""
    uses = counted_uses(case.groups, case.house)
    alike: dict[float, list[str]] = defaultdict(list)
    for g, d in enumerate(places):
        group, fit = case.groups[g], case.fits[g, d]
        hand = hand_height(case.drawers[d], fit.alone.height) if isinstance(fit, GoesIn) else None
        if hand is not None and reach_cost(uses[g], hand, case.house):
            where = f"drawer {case.drawers[d].name}, {_counted(case, g, uses[g])}"
            worth = float(case.house.height.score(hand))
            alike[worth].append(f"{group.name} ({where}) at a hand height of {case.unit.show(hand)}")
    for worth, told in sorted(alike.items()):
        yield f"not at the best height, worth {worth:g} of it: {'; '.join(told)}"


def _counted(case: Case, g: int, use: Decimal) -> str:
    """Why a group counts as often used as it does."""
    group = case.groups[g]
    if has_lift(group, case.house):
        least = case.unit.in_mass(case.house.lift.mass)
        return f"a single piece weighs {least} or more: counts as the most used, {float(use):g}"
    if group.use is not None:
        return f"used {counted(float(use), 'time')} a week"
    return f"tier {group.tier}, no use given: counts as {float(use):g}"


_Teller = Callable[[Case, Problem, Sequence[int]], Iterator[str]]
_TOLD: Mapping[GoalName, _Teller] = {
    "together": _together,
    "drawers": _drawers,
    "moves": _moves,
    "order": order_told,
    "neighbors": _neighbors,
    "reach": _reach,
}
