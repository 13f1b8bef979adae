"""Goal ``order``: pairs of groups of different tier of which the earlier lies lower by more than the level tolerance.

Each group has a variable per floor height, 'not higher than this'; a break needs one clause per height and pair. What
every group must break at a given height, whatever the others do, is counted by matching and cuts the search short.
"""

from __future__ import annotations

from itertools import permutations

from ortools.sat.python import cp_model
from ortools.sat.python.cp_model import IntVar

from matcher.assignment.board import Board
from matcher.assignment.layers import Layer, count
from matcher.assignment.matching import matching
from matcher.assignment.problem import Problem
from matcher.assignment.values import order_value, tier_orders


def order(board: Board) -> Layer:
    """Number of order breaks on the board."""
    heights = sorted({box.floor for box in board.problem.boxes})
    low = {group: _not_above(board, group, heights) for group in board.groups}
    _no_more_groups_than_drawers(board, heights, low)
    breaks = _breaks(board, heights, low)
    _at_least_what_is_unavoidable(board, breaks)
    return count(breaks.values(), lambda places: order_value(board.problem, places))


def narrow_by_order(board: Board, value: int) -> None:
    """Drop the drawers in which a group would break the order more often than ``value`` in all."""
    least = _least_breaks(board)
    lowest = {group: min(least[group, box] for box in board.boxes_of(group)) for group in board.groups}
    total = sum(lowest.values())

    def unavoidable(group: int, box: int) -> int:
        here = least[group, box]
        return max(here, -(-(total - lowest[group] + here) // 2))

    board.restrict({pair for pair in board.at if unavoidable(*pair) <= value})


# -------------------------------------------------------------------------------------------------- levels and breaks


def _not_above(board: Board, group: int, heights: list[int]) -> list[IntVar]:
    """For each height, whether the group's floor is at most there."""
    boxes = board.boxes_of(group)
    found: list[IntVar] = []
    before = -1
    for height in heights:
        at = [board.at[group, box] for box in boxes if board.problem.boxes[box].floor <= height]
        if len(at) in (0, len(boxes)):
            found.append(board.model.new_constant(int(bool(at))))
        elif len(at) == before:
            found.append(found[-1])
        else:
            found.append(board.model.new_bool_var(f"group {group} not above {height}"))
            board.model.add(sum(at) == found[-1])
        before = len(at)
    return found


def _no_more_groups_than_drawers(board: Board, heights: list[int], low: dict[int, list[IntVar]]) -> None:
    """Below and above every height; follows from one group per drawer, and lets the search see it early."""
    single = sorted(board.single)
    floors = [board.problem.boxes[box].floor for box in board.boxes if board.single.intersection(board.groups_of(box))]
    for index, height in enumerate(heights):
        below = sum(low[group][index] for group in single)
        drawers = sum(floor <= height for floor in floors)
        board.model.add_linear_constraint(below, len(single) - (len(floors) - drawers), drawers)


def _breaks(board: Board, heights: list[int], low: dict[int, list[IntVar]]) -> dict[tuple[int, int], IntVar]:
    """For each pair whose first may be the earlier, whether it lies too low."""
    level = board.problem.level
    highest_level = [max(k for k, top in enumerate(heights) if top <= height + level) for height in heights]
    before = tiers_before(board.model, board.problem)
    breaks = {}
    for i, j in permutations(board.groups, 2):
        earlier = before.get((board.problem.nodes[i].tier, board.problem.nodes[j].tier))
        if earlier is None:
            continue
        breaks[i, j] = board.model.new_bool_var(f"{i} breaks with {j}")
        clauses = {
            (low[i][k].index, low[j][top].index): (low[i][k], low[j][top]) for k, top in enumerate(highest_level)
        }
        for too_low, not_high in clauses.values():
            board.model.add_bool_or(~too_low, not_high, breaks[i, j], ~earlier)
    return breaks


def tiers_before(model: cp_model.CpModel, problem: Problem) -> dict[tuple[int, int], IntVar]:
    """For each pair of tiers whose first may be the earlier, whether it is, by the tiers that change places."""
    orders = tier_orders(problem)
    chosen = [model.new_bool_var(f"tier order {number}") for number in range(len(orders))]
    model.add_exactly_one(chosen)
    found = {}
    for first, second in permutations(orders[0], 2):
        saying = [literal for literal, ranks in zip(chosen, orders, strict=True) if ranks[first] < ranks[second]]
        if len(saying) == len(orders):
            found[first, second] = model.new_constant(1)
        elif saying:
            found[first, second] = model.new_bool_var(f"tier {first} before {second}")
            model.add(sum(saying) == found[first, second])
    return found


# ------------------------------------------------------------------------------------------------- unavoidable breaks


def _at_least_what_is_unavoidable(board: Board, breaks: dict[tuple[int, int], IntVar]) -> None:
    least = _least_breaks(board)
    for group in board.groups:
        own = [variable for pair, variable in breaks.items() if group in pair]
        if own:
            needed = (least[group, box] * board.at[group, box] for box in board.boxes_of(group))
            board.model.add(sum(own) >= sum(needed))


def _least_breaks(board: Board) -> dict[tuple[int, int], int]:
    """Breaks of each group in each drawer that no placing of the others avoids.

    Those left over when the groups that share with none are matched to drawers in which they do not break with it, and
    those of the others that have no such drawer at all.
    """
    floors = {box: board.problem.boxes[box].floor for box in board.boxes}
    boxes_of = [board.boxes_of(group) for group in board.groups]
    by_floor: dict[tuple[int, int], int] = {}
    for group, floor in sorted({(group, floors[box]) for group, box in board.at}):
        good = [_peaceful(board.problem, (group, floor), other, boxes_of[other]) for other in board.groups]
        alone = matching([good[other] for other in sorted(board.single)]).count(None)
        by_floor[group, floor] = alone + sum(not good[other] for other in board.groups if other not in board.single)
    return {(group, box): by_floor[group, floors[box]] for group, box in board.at}


def _peaceful(problem: Problem, here: tuple[int, int], other: int, boxes: list[int]) -> list[int]:
    """Drawers in which ``other`` may be without a break with a group at a floor height: ``here``."""
    group, floor = here
    floors, level = problem.boxes, problem.level
    if group == other:
        return [box for box in boxes if floors[box].floor == floor]
    precedes = {ranks[problem.nodes[group].tier] - ranks[problem.nodes[other].tier] for ranks in tier_orders(problem)}
    if max(precedes) < 0:
        return [box for box in boxes if floors[box].floor - floor <= level]
    if min(precedes) > 0:
        return [box for box in boxes if floor - floors[box].floor <= level]
    return boxes
