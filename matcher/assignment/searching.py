"""One search on a board: minimize, look into the shared drawers of the plan, rule out what does not go in, again."""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python.cp_model import LinearExprT

from matcher.assignment.board import Board, forbid
from matcher.assignment.problem import Places
from matcher.assignment.sharing import Misfit
from matcher.packing import solve

PARAMETERS: dict[str, object] = {
    "linearization_level": 2,
    "cp_model_probing_level": 0,
    "max_presolve_iterations": 1,
    "cut_level": 0,
}
"""The linear relaxation closes these models by itself: probing and cuts cost more than they save."""
LEAST_WORK = 1e-3
"""Charged for every run, so that a budget is used up even by runs that count no work."""


@dataclass(frozen=True, slots=True)
class Search:
    """The best plan found, if any, and the bound on the objective over all plans of the board.

    ``impossible`` and ``proved`` (no plan of the board is better) are said only when true.
    """

    places: Places | None
    bound: int | None
    impossible: bool = False
    work: float = 0.0
    proved: bool = False


def search(board: Board, objective: LinearExprT, work: float, start: Places | None) -> Search:
    """Minimize ``objective`` within a budget of deterministic work, beginning with the plan ``start``, if given.

    A person may stop the search if there is a plan to fall back on.
    """
    yielding = start is not None
    board.model.minimize(objective)
    bound: int | None = None
    spent = 0.0
    while spent < work:
        if start is not None:
            board.hint(start)
        answer = solve(board.model, work - spent, board.problem.seed, yielding=yielding, **PARAMETERS)
        spent += max(answer.work, LEAST_WORK)
        if answer.status == "infeasible":
            return Search(None, bound, impossible=True, work=spent)
        bound = _larger(bound, answer.bound)
        if not answer.found:
            return Search(None, bound, work=spent)
        start = board.places(answer)
        misfits = _misfits(board, start)
        if not misfits:
            return Search(start, bound, work=spent, proved=answer.status == "optimal")
        forbid(board, misfits)
    return Search(None, bound, work=spent)


def _misfits(board: Board, places: Places) -> list[Misfit]:
    if board.alone:
        return []
    return [misfit for misfit in board.sharing.learn_from(places) if misfit.side == "no" or not board.hopeful]


def _larger(bound: int | None, other: int | None) -> int | None:
    known = [value for value in (bound, other) if value is not None]
    return max(known, default=None)
