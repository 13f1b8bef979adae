"""Costs of neighbor wishes and of heights, each derived by hand from its definition."""

from __future__ import annotations

from dataclasses import replace

import pytest

from matcher.assignment import Box, Node, Option, assign
from matcher.assignment.distances import banks_apart, wish_cost
from matcher.assignment.reach import height_score, reach_costs
from matcher.records import Wish
from matcher.units import PER_INCH, PER_KG
from tests.brute_force import small


def box(bank: int, row: int, last_bank: int | None = None) -> Box:
    return Box(f"{bank}.{row}", bank, last_bank or bank, row, -row, None, 0)


@pytest.mark.parametrize(
    ("wish", "place", "other", "cost"),
    [
        ("near", box(1, 1), box(3, 2), 3),  # 1 row + 2 banks
        ("near", box(1, 1), box(1, 1), 0),  # same drawer
        ("beside", box(1, 1), box(2, 1), 0),  # next bank
        ("beside", box(1, 1), box(3, 1), 1),  # one bank between
        ("beside", box(1, 1), box(1, 2), 1),  # next row
        ("beside", box(1, 1), box(1, 1), 0),  # same drawer
        ("below", box(1, 2), box(1, 1), 0),  # right under it
        ("below", box(1, 1), box(1, 2), 2),  # right above it: |1 - 2 - 1|
        ("below", box(2, 4), box(1, 1), 3),  # 1 bank + |4 - 1 - 1|
        ("below", box(1, 1), box(1, 1), 1),  # same drawer: |0 - 1|
        ("left_of", box(1, 1), box(2, 5), 0),
        ("left_of", box(2, 1), box(1, 1), 1),
        ("left_of", box(1, 1), box(1, 2), 1),  # same bank, other drawer
        ("left_of", box(1, 1), box(1, 1), 0),  # same drawer
        ("left_of", box(1, 1, 2), box(2, 5), 1),  # reaches into the other's bank
        ("near", box(1, 3, 2), box(2, 3), 0),  # spans the other's bank
        ("near", box(1, 3, 2), box(4, 3), 2),  # from the nearer end
    ],
)
def test_wish_costs_by_hand(wish: Wish, place: Box, other: Box, cost: int) -> None:
    assert wish_cost(wish, place, other) == cost


def test_banks_apart_is_the_same_both_ways() -> None:
    places = [box(1, 1), box(2, 1), box(4, 2), box(1, 3, 2), box(2, 3, 4)]
    assert all(banks_apart(one, two) == banks_apart(two, one) for one in places for two in places)


@pytest.mark.parametrize(
    ("inches", "tenths"),
    [(0, 4), (11.99, 4), (12, 8), (28.99, 8), (29, 10), (42, 10), (42.01, 8), (48, 8), (48.01, 4), (70, 4), (None, 10)],
)
def test_height_bands_and_their_edges(inches: float | None, tenths: int) -> None:
    """Bands 12, 29, 42, 48 in with scores 0.4, 0.8, 1, 0.8, 0.4; an edge belongs to the better band."""
    assert height_score(None if inches is None else round(inches * PER_INCH)) == tenths


def bench(uses: list[float], heaviest: list[int], heights: list[int]):
    """Groups that may not share over equal drawers at given hand heights in inches."""
    nodes = tuple(
        Node(f"{g}", 1, "f", 1, use, share=False, cased=False, heaviest=kg * PER_KG)
        for g, (use, kg) in enumerate(zip(uses, heaviest, strict=True))
    )
    boxes = tuple(
        Box(f"{d}", 1, 1, d + 1, -d, None, 0, hand_height=height * PER_INCH) for d, height in enumerate(heights)
    )
    options = {(g, d): Option(0, 0) for g in range(len(nodes)) for d in range(len(boxes))}
    like = replace(small(0, crowded=False), relations=(), apart=(), kept_free=frozenset(), swap=())
    return replace(like, nodes=nodes, boxes=boxes, options=options, goals=("drawers", "reach"))


def test_what_is_used_most_takes_the_best_heights() -> None:
    """Rearrangement inequality: in equal drawers, uses falling against losses rising cost least.

    Losses 0, 0.2, 0.6 for 35, 45 and 55 in; uses 9, 4, 1: 4 x 0.2 + 1 x 0.6 = 1.4 times a week.
    """
    found = assign(bench([1, 9, 4], [1, 1, 1], [55, 45, 35]))
    assert found.places == (0, 2, 1)
    assert found.goals[-1].value == 1400


def test_a_single_heavy_piece_counts_as_what_is_used_most() -> None:
    """Over 3 kg is a lift; 3 kg itself is not."""
    assert assign(bench([5, 1], [1, 4], [35, 60])).goals[-1].value == 5 * 600
    costs = reach_costs(bench([5, 1], [1, 3], [60, 60]))
    assert costs[0, 0] == 3000
    assert costs[1, 0] == 600
    assert reach_costs(bench([5, 1], [1, 4], [60, 60]))[1, 0] == 3000
