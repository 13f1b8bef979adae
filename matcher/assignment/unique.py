"""The last tie-break: of all plans with these goal values, the lexicographically smallest list of drawers."""

from __future__ import annotations

from matcher.assignment.board import Board
from matcher.assignment.descent import Descent
from matcher.assignment.layers import Layer, layer


def make_smallest(descent: Descent, work: float) -> bool:
    """Take each group in turn to its first possible drawer; whether that was carried through.

    Where it exceeds the budget, the smallest plan so far stays.
    """
    places = [_place(descent.board, group) for group in descent.board.groups]
    limit = descent.spent + work
    return all(descent.together(batch, limit - descent.spent) for batch in descent.batches(places))


def _place(board: Board, group: int) -> Layer:
    """The drawer of a group, by its index."""
    return layer([[(box, board.at[group, box]) for box in board.boxes_of(group)]], lambda places: places[group])
