"""Groups that share drawers in plain rows, where not every group can have a drawer of its own.

Two rectangles in a rectangle are always side by side or one behind the other, so for two groups this misses nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import TypeAlias

import numpy as np

from matcher.assignment import matching
from matcher.screening.book import Book, CabinetTable

SharedRow: TypeAlias = tuple[int, ...]
"""Rows of the table that share a drawer."""


def in_rows(book: Book, board: CabinetTable, rows: Sequence[int]) -> list[tuple[SharedRow, int]]:
    """Groups that share, and their drawer: as many drawers as a matching finds for single groups, so never too few.

    Groups join one by one, each time so that one group less is left without a drawer; empty if that does not succeed.
    """
    units: list[SharedRow] = [(row,) for row in rows]
    drawers_of = {unit: _drawers(book, board, unit) for unit in units}
    left = _left(units, drawers_of)
    while left:
        joined = next(_joined(book, board, units, drawers_of, left), None)
        if joined is None:
            return []
        units, left = joined
    places = matching([drawers_of[unit] for unit in units])
    return [(unit, place) for unit, place in zip(units, places, strict=True) if place is not None]


def _joined(
    book: Book, board: CabinetTable, units: list[SharedRow], drawers_of: dict[SharedRow, list[int]], left: int
) -> Iterator[tuple[list[SharedRow], int]]:
    """The units with two of them joined so that fewer are left without a drawer, and how many still are."""
    for one, other in combinations(units, 2):
        if not book.willing(one[0], other[0]):
            continue
        unit = (*one, *other)
        if unit not in drawers_of:
            drawers_of[unit] = _drawers(book, board, unit)
        if drawers_of[unit]:
            found = [held for held in units if held not in (one, other)] + [unit]
            still = _left(found, drawers_of)
            if still < left:
                yield found, still


def _left(units: list[SharedRow], drawers_of: dict[SharedRow, list[int]]) -> int:
    """Units without a drawer in a largest matching."""
    return sum(place is None for place in matching([drawers_of[unit] for unit in units]))


def _drawers(book: Book, board: CabinetTable, unit: SharedRow) -> list[int]:
    """Drawers that take the groups of a unit, several of them in one row."""
    listed = list(unit)
    taken = np.isfinite(board.fits.cost[listed]).all(axis=0)
    if len(unit) > 1:
        needed = board.fits.beside[listed, :, :, 0].sum(axis=0)
        mass = sum(book.groups[row].mass_high for row in unit)
        taken &= (needed <= board.room[:, :2]).any(axis=1) & (mass <= board.room[:, 3])
    return [int(d) for d in np.flatnonzero(taken)]
