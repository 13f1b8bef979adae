"""What a neighbor wish costs for two drawers, as the design defines it."""

from __future__ import annotations

from matcher.assignment.problem import Box
from matcher.records import Wish


def rows_apart(box: Box, other: Box) -> int:
    """Rows between two drawers."""
    return abs(box.row - other.row)


def banks_apart(box: Box, other: Box) -> int:
    """Banks between two drawers; 0 if a drawer that spans banks reaches the other's bank."""
    return max(0, other.bank - box.last_bank, box.bank - other.last_bank)


def wish_cost(wish: Wish, box: Box, other: Box) -> int:
    """Cost, before weighting, of a group in ``box`` that wishes to be near, beside, below or left of one in ``other``.

    ``left_of`` costs 1 unless the group's drawer ends in a bank left of the other's, or both share a drawer (where the
    layout decides on left and right).
    """
    if wish == "near":
        return rows_apart(box, other) + banks_apart(box, other)
    if wish == "beside":
        return rows_apart(box, other) + max(0, banks_apart(box, other) - 1)
    if wish == "below":
        return banks_apart(box, other) + abs(box.row - other.row - 1)
    return 0 if box.last_bank < other.bank or box.name == other.name else 1
