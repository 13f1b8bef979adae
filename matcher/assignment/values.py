"""The goals' values of a plan, counted from its drawers alone, with what makes them up."""

from __future__ import annotations

from functools import cache
from itertools import permutations

from matcher.assignment.distances import wish_cost
from matcher.assignment.problem import Places, Problem, Wished
from matcher.assignment.reach import reach_costs

RECUT_STEP = 10**9
"""One step of work on the foam outweighs all gaps: 64 groups x two axes x 10 m in 1/320 mm stay below it."""


def drawers_value(problem: Problem, places: Places) -> int:
    """Unused drawers (``spread``) or used ones (``pack``)."""
    used = len(set(places))
    return used if problem.fill == "pack" else len(problem.boxes) - used


def order_value(problem: Problem, places: Places) -> int:
    """Breaks of the top-to-bottom order."""
    return len(order_breaks(problem, places))


def order_breaks(problem: Problem, places: Places) -> tuple[tuple[int, int], ...]:
    """Pairs (earlier, later) of groups with the earlier tier too low, in the best choice of tiers that change places."""
    floors = [problem.boxes[place].floor for place in places]
    choices = (
        tuple(
            (i, j)
            for i, j in permutations(range(len(places)), 2)
            if ranks[problem.nodes[i].tier] < ranks[problem.nodes[j].tier] and floors[j] - floors[i] > problem.level
        )
        for ranks in tier_orders(problem)
    )
    return min(choices, key=len)


def tier_orders(problem: Problem) -> tuple[dict[int, int], ...]:
    """Rank of every tier, for every choice of the pairs of tiers that change places; equal orders once."""
    return _tier_orders(frozenset(node.tier for node in problem.nodes), problem.swap)


@cache
def _tier_orders(tiers: frozenset[int], swap: tuple[tuple[int, int], ...]) -> tuple[dict[int, int], ...]:
    stands = [{tier: tier for tier in sorted(tiers)}]
    for first, second in swap:
        other = {first: second, second: first}
        stands += [{tier: other.get(stand, stand) for tier, stand in choice.items()} for choice in stands]
    orders = []
    for choice in stands:
        level = sorted(set(choice.values()))
        ranks = {tier: level.index(stand) for tier, stand in choice.items()}
        if ranks not in orders:
            orders.append(ranks)
    return tuple(orders)


def neighbors_value(problem: Problem, places: Places) -> int:
    """Weighted cost of the neighbor wishes."""
    return sum(cost for _, cost in wish_costs(problem, places))


def wish_costs(problem: Problem, places: Places) -> tuple[tuple[Wished, int], ...]:
    """Each wish with its weighted cost."""
    return tuple(
        (wished, wished[3] * wish_cost(wished[2], problem.boxes[places[wished[0]]], problem.boxes[places[wished[1]]]))
        for wished in problem.relations
    )


def recut_value(problem: Problem, places: Places) -> int:
    """Work on the foam in steps of ``RECUT_STEP``, plus the gaps."""
    costs = recut_costs(problem)
    return sum(costs[pair] for pair in enumerate(places))


def recut_costs(problem: Problem) -> dict[tuple[int, int], int]:
    """Cost of each group in each of its drawers: first the work on the foam, then the gaps."""
    return {pair: RECUT_STEP * option.how_cost + option.gap for pair, option in problem.options.items()}


def reach_value(problem: Problem, places: Places) -> int:
    """Use lost to heights that are not the best (``reach_costs``)."""
    costs = reach_costs(problem)
    return sum(costs[pair] for pair in enumerate(places))
