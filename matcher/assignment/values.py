"""Order breaks and wish costs of a plan, counted from its drawers alone: what makes up the goals' values."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations

from matcher.assignment.distances import wish_cost
from matcher.assignment.problem import Places, Problem, Wished
from matcher.records import remembered


def order_value(problem: Problem, places: Places) -> int:
    """Breaks of the top-to-bottom order."""
    return len(order_breaks(problem, places))


def order_breaks(problem: Problem, places: Places) -> tuple[tuple[int, int], ...]:
    """Pairs (earlier, later) of groups with the earlier tier too low, in the best choice of changed places of tiers."""
    return breaks_among(problem, tuple(enumerate(places)))


def breaks_among(problem: Problem, placed: Sequence[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """The same of some groups with their drawers."""
    floors = {group: problem.boxes[box].floor for group, box in placed}
    choices = (
        tuple(
            (i, j)
            for i, j in permutations(floors, 2)
            if floors[j] - floors[i] > problem.level and ranks[problem.nodes[i].tier] < ranks[problem.nodes[j].tier]
        )
        for ranks in tier_orders(problem)
    )
    return min(choices, key=len)


def tier_orders(problem: Problem) -> tuple[dict[int, int], ...]:
    """Rank of every tier, for every choice of the pairs of tiers that change places; equal orders once."""
    return _tier_orders(frozenset(node.tier for node in problem.nodes), problem.swap)


@remembered(256)
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
