"""Packs rectangles into a rectangle, exactly: short proofs first, then quick constructions, then a search."""

from __future__ import annotations

from collections.abc import Sequence

from matcher.packing.corners import cornered
from matcher.packing.problem import Packing, PackingProblem, Size, posed, reduced
from matcher.packing.proofs import excluded
from matcher.packing.search import searched
from matcher.packing.slicing import MOST, sliced
from matcher.packing.wheels import wheeled
from matcher.records import Rectangle

FEW = 4
"""Up to this many items, in a room with nothing blocked, every packing can be brought to one that straight cuts from
side to side take apart, or to a wheel (`matcher.packing.wheels`). If neither is found, there is no packing."""


def pack(
    choices: Sequence[Sequence[Size]],
    width: int,
    depth: int,
    blocked: Sequence[Rectangle] = (),
    *,
    work: float,
    seed: int,
) -> Packing:
    """Place every item, in one of its sizes, in a room without overlap and with sides parallel to the room's.

    Parameters
    ----------
    choices : for each item the sizes (width, depth) it may take; an item that may be turned has both sizes
    width, depth : size of the room
    blocked : rectangles of the room that no item may overlap; they may overlap each other and reach outside the room
    work : budget of the search in units of about a second on a slow core; it is counted work, not clock time
    seed : random seed of the search

    Returns
    -------
    Packing
        ``found`` with positions, ``excluded`` if proved impossible, ``open`` if the budget was too small to decide.

    Raises
    ------
    ValueError
        A size is not positive.
    """
    problem = posed(choices, width, depth, blocked)
    if not problem.items:
        return Packing("found")
    if excluded(problem):
        return Packing("excluded")
    small = reduced(problem)
    if excluded(small):
        return Packing("excluded")
    answer = _decided(small, work, seed)
    return Packing(answer.status, small.restored(answer.positions))


def _decided(problem: PackingProblem, work: float, seed: int) -> Packing:
    """The answer by a quick construction, else by the search."""
    if not problem.blocked and len(problem.items) <= MOST:
        positions = sliced(problem)
        if positions is None and len(problem.items) == FEW:
            positions = wheeled(problem)
        if positions is None and len(problem.items) <= FEW:
            return Packing("excluded")
    else:
        positions = cornered(problem)
    if positions is not None:
        return Packing("found", positions)
    return searched(problem, work, seed)
