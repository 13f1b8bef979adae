"""The table of contents of the goals: how each is written on a board, and what its value rules out.

Goal ``drawers`` is decided first, by ``counting``; the others are minimized in the order the planner gives.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from matcher.assignment.board import Board
from matcher.assignment.layers import Layer, layer
from matcher.assignment.nearness import neighbors
from matcher.assignment.ordering import narrow_by_order, order
from matcher.assignment.problem import Places
from matcher.house import WorkBudgets
from matcher.records import GoalName

RECUT_STEP = 10**9
"""One step of work on the foam outweighs all gaps: 64 groups x two axes x 10 m in 1/320 mm stay below it."""


def moves(board: Board) -> Layer:
    """Groups in another drawer than in the plan to keep."""
    kept = board.problem.kept
    return placed(board, {(group, box): int(kept.get(group, box) != box) for group, box in board.problem.options})


def recut_parts(value: int) -> tuple[int, int]:
    """Work on the foam and room left over (1/320 mm) that make a value of goal ``recut``."""
    return divmod(value, RECUT_STEP)


def recut(board: Board) -> tuple[Layer, Layer]:
    """Work on the foam, then gaps: two layers, so that no factor between them is needed."""
    options = board.problem.options
    work = {pair: option.how_cost for pair, option in options.items()}
    return placed(board, work), placed(board, {pair: option.gap for pair, option in options.items()})


def reach(board: Board) -> Layer:
    """Use lost to heights that are not the best."""
    return placed(board, {pair: option.reach for pair, option in board.problem.options.items()})


def snug(board: Board) -> Layer:
    """Room that drawers have beyond what lies in them: no goal, but what decides between plans equal in all of them."""
    return placed(board, {pair: option.empty for pair, option in board.problem.options.items()})


def placed(board: Board, costs: Mapping[tuple[int, int], int]) -> Layer:
    """Sum of the costs of the pairs chosen."""

    def value(places: Places) -> int:
        return sum(costs[pair] for pair in enumerate(places))

    return layer(
        ([(costs[group, box], board.at[group, box]) for box in board.boxes_of(group)] for group in board.groups), value
    )


def _keep_all(board: Board, value: int) -> None:
    """No drawer is ruled out by the value of this goal."""


def only_value(values: tuple[int, ...]) -> int:
    """The value of a goal of one layer."""
    return values[0]


@dataclass(frozen=True, slots=True)
class GoalRule:
    """How to write a goal in layers, make one value of theirs, budget it, and what its value rules out."""

    layers: Callable[[Board], tuple[Layer, ...]]
    work: Callable[[WorkBudgets], float]
    value: Callable[[tuple[int, ...]], int] = only_value
    narrow: Callable[[Board, int], None] = _keep_all


GOALS: Mapping[GoalName, GoalRule] = MappingProxyType(
    {
        "moves": GoalRule(lambda board: (moves(board),), lambda work: work.order),
        "order": GoalRule(lambda board: (order(board),), lambda work: work.order, narrow=narrow_by_order),
        "neighbors": GoalRule(lambda board: (neighbors(board),), lambda work: work.neighbors),
        "recut": GoalRule(recut, lambda work: work.recut, value=lambda parts: RECUT_STEP * parts[0] + parts[1]),
        "reach": GoalRule(lambda board: (reach(board),), lambda work: work.reach),
    }
)
