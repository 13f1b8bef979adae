"""Costs of neighbor wishes, each derived by hand from its definition."""

from __future__ import annotations

import pytest

from matcher.assignment.distances import banks_apart, wish_cost
from matcher.assignment.problem import Box
from matcher.records.words import Wish


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
