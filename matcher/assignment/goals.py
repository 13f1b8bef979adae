"""The table of contents of the goals: how each is written on a board and counted in a plan.

Goal ``drawers`` is decided first, by ``counting``; the others are minimized in the order the planner gives.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ortools.sat.python.cp_model import LinearExprT

from matcher.assignment.board import Board
from matcher.assignment.nearness import neighbors
from matcher.assignment.ordering import narrow_by_order, order
from matcher.assignment.problem import Places, Problem
from matcher.assignment.reach import reach_costs
from matcher.assignment.values import neighbors_value, order_value, reach_value, recut_costs, recut_value
from matcher.house import Work
from matcher.records import GoalName


def recut(board: Board) -> LinearExprT:
    """Work on the foam, then gaps."""
    return _placed(board, recut_costs(board.problem))


def reach(board: Board) -> LinearExprT:
    """Use lost to heights that are not the best."""
    return _placed(board, reach_costs(board.problem))


def _placed(board: Board, costs: Mapping[tuple[int, int], int]) -> LinearExprT:
    """Sum of the costs of the pairs chosen."""
    return sum(costs[pair] * variable for pair, variable in board.at.items())


def _keep_all(board: Board, value: int) -> None:
    """No drawer is ruled out by the value of this goal."""


@dataclass(frozen=True, slots=True)
class Goal:
    """How to write a goal, count it, budget it, and what its value rules out."""

    expression: Callable[[Board], LinearExprT]
    value: Callable[[Problem, Places], int]
    work: Callable[[Work], float]
    narrow: Callable[[Board, int], None] = _keep_all


GOALS: Mapping[GoalName, Goal] = MappingProxyType(
    {
        "order": Goal(order, order_value, lambda work: work.order, narrow_by_order),
        "neighbors": Goal(neighbors, neighbors_value, lambda work: work.neighbors),
        "recut": Goal(recut, recut_value, lambda work: work.recut),
        "reach": Goal(reach, reach_value, lambda work: work.reach),
    }
)
