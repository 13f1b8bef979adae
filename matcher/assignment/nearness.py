"""Goal ``neighbors``: what the wishes cost, as a linear sum over pairs of drawers with tight marginals.

For two related groups there is a variable for every two drawers they may be in; its sums over either drawer are the
groups' own variables. With one group per drawer, all groups related to one group also share out the other drawers
among them (the reformulation of Adams and Sherali, restricted to wished pairs), which nearly closes the bound.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import product
from typing import TypeAlias

from ortools.sat.python.cp_model import IntVar, LinearExprT

from matcher.assignment.board import Board
from matcher.assignment.distances import wish_cost

Pair: TypeAlias = tuple[int, int]
Joint: TypeAlias = dict[Pair, IntVar]
"""For two groups: whether the first is in the first drawer and the second in the second."""


def neighbors(board: Board) -> LinearExprT:
    """Weighted cost of all neighbor wishes on the board."""
    costs = _pair_costs(board)
    joints = {pair: _joint(board, pair) for pair in costs}
    if board.alone:
        _related_groups_share_out_the_drawers(board, joints)
    terms = [
        (variable, costs[pair][places])
        for pair, joint in joints.items()
        for places, variable in joint.items()
        if costs[pair][places]
    ]
    return sum(cost * variable for variable, cost in terms)


def _pair_costs(board: Board) -> dict[Pair, dict[Pair, int]]:
    """Cost of every two drawers for every two related groups (lower index first), over all their wishes."""
    boxes = board.problem.boxes
    costs: dict[Pair, dict[Pair, int]] = {}
    for group, other, wish, weight in board.problem.relations:
        pair, turned = ((group, other), False) if group < other else ((other, group), True)
        table = costs.setdefault(pair, dict.fromkeys(product(board.boxes_of(pair[0]), board.boxes_of(pair[1])), 0))
        for first, second in table:
            box, beside = (second, first) if turned else (first, second)
            table[first, second] += weight * wish_cost(wish, boxes[box], boxes[beside])
    return costs


def _joint(board: Board, pair: Pair) -> Joint:
    """Joint places of two groups, with their marginals."""
    first, second = (board.boxes_of(group) for group in pair)
    share = board.may_share(*pair)
    joint = {
        places: board.model.new_bool_var("") for places in product(first, second) if share or places[0] != places[1]
    }
    for box in first:
        board.model.add(sum(joint[box, e] for e in second if (box, e) in joint) == board.at[pair[0], box])
    for box in second:
        board.model.add(sum(joint[d, box] for d in first if (d, box) in joint) == board.at[pair[1], box])
    return joint


def _related_groups_share_out_the_drawers(board: Board, joints: dict[Pair, Joint]) -> None:
    """With a group in one drawer, at most one group related to it is in any other drawer."""
    together: dict[tuple[int, int, int], list[IntVar]] = defaultdict(list)
    for (group, other), joint in joints.items():
        for (box, beside), variable in joint.items():
            together[group, box, beside].append(variable)
            together[other, beside, box].append(variable)
    for (group, box, _), variables in together.items():
        if len(variables) > 1:
            board.model.add(sum(variables) <= board.at[group, box])
