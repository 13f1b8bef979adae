"""The last tie-break: of all plans with these goal values, the lexicographically smallest list of drawers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ortools.sat.python.cp_model import LinearExprT

from matcher.assignment.board import Board
from matcher.assignment.problem import Places
from matcher.assignment.searching import search

AT_ONCE = 1_000_000
"""Groups are taken together as long as they have no more joint choices of drawers: the largest factor stays below."""


@dataclass(frozen=True, slots=True)
class Smallest:
    """A plan, and whether no smaller one has the same goal values."""

    places: Places
    proved: bool


def smallest(board: Board, start: Places) -> Smallest:
    """Minimize the drawers of the first groups, fix them, go on with the next.

    Where that exceeds the budget of the last goal, the smallest plan so far stays.
    """
    work = board.problem.work.reach
    places, proved = start, True
    for groups in _chunks(board):
        if not proved or all(places[group] == board.boxes_of(group)[0] for group in groups):
            _fix(board, groups, places)
            continue
        found = search(board, _number(board, groups), work, places)
        work -= found.work
        if found.places is not None and _listed(found.places, groups) < _listed(places, groups):
            places = found.places
        proved = found.proved
        _fix(board, groups, places)
    return Smallest(places, proved)


def _chunks(board: Board) -> Iterator[list[int]]:
    """Runs of groups in order, as long as their joint choices allow."""
    chunk: list[int] = []
    choices = 1
    for group in board.groups:
        choices *= len(board.boxes_of(group))
        if chunk and choices > AT_ONCE:
            yield chunk
            chunk, choices = [], len(board.boxes_of(group))
        chunk.append(group)
    if chunk:
        yield chunk


def _number(board: Board, groups: list[int]) -> LinearExprT:
    """The drawers of these groups as one number, the first group in its highest place."""
    terms = []
    factor = 1
    for group in reversed(groups):
        boxes = board.boxes_of(group)
        terms += [factor * rank * board.at[group, box] for rank, box in enumerate(boxes)]
        factor *= len(boxes)
    return sum(terms)


def _listed(places: Places, groups: list[int]) -> list[int]:
    return [places[group] for group in groups]


def _fix(board: Board, groups: list[int], places: Places) -> None:
    for group in groups:
        board.model.add(board.at[group, places[group]] == 1)
