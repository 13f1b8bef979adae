"""Goal ``neighbors``: what the wishes cost, as a linear sum over pairs of drawers with tight marginals.

For two related groups there is a variable for every two drawers they may be in; its sums over either drawer are the
groups' own variables. With one group per drawer, all groups related to one group also share out the other drawers
among them (the reformulation of Adams and Sherali, restricted to wished pairs), which nearly closes the bound.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import product
from typing import TypeAlias

from ortools.sat.python.cp_model import IntVar

from matcher.assignment.board import Board
from matcher.assignment.distances import wish_cost
from matcher.assignment.layers import Layer, layer
from matcher.assignment.values import neighbors_value

GroupPair: TypeAlias = tuple[int, int]
Joint: TypeAlias = dict[GroupPair, IntVar]
"""For two groups: whether the first is in the first drawer and the second in the second."""


def neighbors(board: Board) -> Layer:
    """Weighted cost of all neighbor wishes on the board."""
    costs = _pair_costs(board)
    joints = {pair: _joint(board, pair) for pair in costs}
    _related_groups_share_out_the_drawers(board, joints)
    return layer(
        ([(costs[pair][places], variable) for places, variable in joint.items()] for pair, joint in joints.items()),
        lambda places: neighbors_value(board.problem, places),
        joint=True,
    )


def _pair_costs(board: Board) -> dict[GroupPair, dict[GroupPair, int]]:
    """Cost of every two drawers for every two related groups (lower index first), over all their wishes."""
    boxes = board.problem.boxes
    costs: dict[GroupPair, dict[GroupPair, int]] = {}
    for group, other, wish, weight in board.problem.relations:
        pair, turned = ((group, other), False) if group < other else ((other, group), True)
        table = costs.setdefault(pair, dict.fromkeys(product(board.boxes_of(pair[0]), board.boxes_of(pair[1])), 0))
        for first, second in table:
            box, beside = (second, first) if turned else (first, second)
            table[first, second] += weight * wish_cost(wish, boxes[box], boxes[beside])
    return costs


def _joint(board: Board, pair: GroupPair) -> Joint:
    """Joint places of two groups, with their marginals."""
    first, second = (board.boxes_of(group) for group in pair)
    joint = {
        (box, beside): board.model.new_bool_var("")
        for box, beside in product(first, second)
        if box != beside or board.may_share(*pair, box)
    }
    for box in first:
        board.model.add(sum(joint[box, e] for e in second if (box, e) in joint) == board.at[pair[0], box])
    for box in second:
        board.model.add(sum(joint[d, box] for d in first if (d, box) in joint) == board.at[pair[1], box])
    return joint


def _related_groups_share_out_the_drawers(board: Board, joints: dict[GroupPair, Joint]) -> None:
    """With a group in one drawer, of the groups related to it no two that may not share are in any other drawer; and
    of all of them no more than one and those that join it."""
    related: dict[tuple[int, int, int], dict[int, IntVar]] = defaultdict(dict)
    for (group, other), joint in joints.items():
        for (box, beside), variable in joint.items():
            related[group, box, beside][other] = variable
            related[other, beside, box][group] = variable
    cliques: dict[tuple[int, tuple[int, ...]], set[tuple[int, ...]]] = {}
    for (group, box, beside), others in related.items():
        key = board.problem.boxes[beside].kind, tuple(others)
        if key not in cliques:
            cliques[key] = _cliques(board, beside, key[1])
        for clique in cliques[key]:
            board.model.add(sum(others[other] for other in clique) <= board.at[group, box])
        there = [*others, group] if box == beside else [*others]
        joins = [board.joins[other, beside] for other in there if (other, beside) in board.joins]
        if joins and len(others) > 1:
            board.model.add(sum(others.values()) <= board.at[group, box] + sum(joins))


def _cliques(board: Board, box: int, groups: tuple[int, ...]) -> set[tuple[int, ...]]:
    """For each group a largest set, by first come, of groups of which no two may share the drawer."""
    found = set()
    for first in groups:
        clique = [first]
        for other in groups:
            if other != first and not any(board.may_share(member, other, box) for member in clique):
                clique.append(other)
        found.add(tuple(sorted(clique)))
    return {clique for clique in found if len(clique) > 1}
