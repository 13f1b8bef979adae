"""The last tie-break: of all plans with these goal values, the lexicographically smallest list of drawers."""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python import cp_model

from matcher.assignment.board import Board
from matcher.assignment.problem import Places
from matcher.assignment.searching import search

FIRST_IS_SMALLEST: dict[str, object] = {
    "search_branching": cp_model.FIXED_SEARCH,
    "keep_all_feasible_solutions_in_presolve": True,
    "symmetry_level": 0,
}


@dataclass(frozen=True, slots=True)
class Smallest:
    """A plan, and whether no smaller one has the same goal values."""

    places: Places
    proved: bool


def smallest(board: Board, start: Places) -> Smallest:
    """Depth-first search in the order of groups and drawers: it meets the smallest plan first.

    Where that exceeds the budget of the last goal, ``start`` stays.
    """
    order = [board.at[group, box] for group in board.groups for box in board.boxes_of(group)]
    board.model.add_decision_strategy(order, cp_model.CHOOSE_FIRST, cp_model.SELECT_MAX_VALUE)
    found = search(board, None, board.problem.work.reach, None, **FIRST_IS_SMALLEST)
    return Smallest(start, proved=False) if found.places is None else Smallest(found.places, proved=True)
