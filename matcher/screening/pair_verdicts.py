"""One pair after the other, by the first of these that decides it.

1. Matching: a drawer for every group, with the least work on the foam, then the snuggest. No plan uses more drawers.
2. Rows: as few groups as need be beside others of their family. No plan uses more drawers than the matching.
3. The full model, for refusals, for other ways of sharing, pins, and for groups divided or mixed.

The first two keep groups whole and families apart, so what they find is what the full model would find first.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from scipy.optimize import linear_sum_assignment

from matcher.planning import matches, meant_by, pins_allow
from matcher.records import FAULT, Fault, Group, Pin, Reason, or_fault
from matcher.screening.book import Book, CabinetTable
from matcher.screening.figures import figures
from matcher.screening.fitting import Array
from matcher.screening.modelling import modelled
from matcher.screening.pairs import Pair
from matcher.screening.rowing import in_rows


def decide(book: Book, sets: Sequence[int], cabinets: Sequence[int]) -> list[Pair]:
    """The pairs of these sets with these cabinets (by index), in order of the sets, then of the cabinets."""
    columns = []
    for index in cabinets:
        board = book.board(index)
        columns.append([_pair_or_fault(book, board, number, book.known.groups_of[number]) for number in sets])
    return [column[place] for place in range(len(sets)) for column in columns]


def _pair_or_fault(book: Book, board: CabinetTable, number: int, rows: tuple[int, ...]) -> Pair:
    """The pair; undecided where the program fails on it, so that the others are not lost."""
    name, cabinet = book.known.sets[number], board.cabinet.name
    found = or_fault(cabinet, lambda: _pair(book, board, number, rows))
    if isinstance(found, Fault):
        return Pair(name, cabinet, "undecided", "fault", None, (Reason("fault", f"{FAULT}: {found.text}"),))
    return found


def _pair(book: Book, board: CabinetTable, number: int, rows: tuple[int, ...]) -> Pair:
    name, cabinet = book.known.sets[number], board.cabinet.name
    held = [book.groups[row] for row in rows]
    pins = tuple(pin for pin in board.pins if pin.set in ("", name) and not _void(pin, held))
    cost = board.fits.cost[list(rows)]
    made = any(one.made.set in ("", name) and one.made.cabinet in ("", cabinet) for one in book.known.catalogue.parts)
    if made or any(pin.count is not None or pin.rule == "together" for pin in pins):
        return modelled(book.known, name, board.cabinet)
    if pins:
        cost = np.where(_allowed(book, board, rows, pins), cost, np.inf)
    drawers = _matched(cost)
    if drawers is not None:
        alone = [((row,), drawer) for row, drawer in zip(rows, drawers.tolist(), strict=True)]
        return Pair(name, cabinet, "fits", "matching", figures(book, board, alone))
    if not pins:
        units = in_rows(book, board, rows)
        if units:
            return Pair(name, cabinet, "fits", "rows", figures(book, board, units))
    return modelled(book.known, name, board.cabinet)


def _void(pin: Pin, groups: Sequence[Group]) -> bool:
    """Whether it wants groups together of which the set does not have both."""
    return pin.rule == "together" and not (meant_by(pin.group, groups) and meant_by(pin.other, groups))


def _matched(cost: Array) -> Array | None:
    """A drawer for each group at the least cost in all, or nothing if there is none."""
    groups, drawers = cost.shape
    if groups > drawers or not np.isfinite(cost).any(axis=1).all():
        return None
    try:
        return np.asarray(linear_sum_assignment(cost)[1])
    except ValueError:  # infeasible: some group is left without a drawer
        return None


def _allowed(book: Book, board: CabinetTable, rows: Iterable[int], pins: tuple[Pin, ...]) -> Array:
    """Which drawers the pins leave to which groups."""
    kept = [any(pin.rule == "keep free" and matches(pin, drawer) for pin in pins) for drawer in board.drawers]
    return np.array(
        [
            [
                not free and pins_allow(pins, book.groups[row], drawer)
                for drawer, free in zip(board.drawers, kept, strict=True)
            ]
            for row in rows
        ],
        bool,
    ).reshape(-1, len(board.drawers))
