"""Refusals by counting, whatever the layout: the first rungs of `reasons`, over the table instead of a case.

Of a group that has to be split one piece counts, as `verdicts` has it: parts prove nothing, they may be others.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from matcher.assignment import deficient_set
from matcher.fitting import Shortfall
from matcher.planning import load_reason, short_reason, too_few_reason
from matcher.records import Reason
from matcher.screening.book import Book, CabinetTable


def reasons_by_counting(book: Book, board: CabinetTable, rows: Iterable[int]) -> tuple[Reason, ...]:
    """Why these groups do not go into the cabinet in any layout, or nothing if counting does not say."""
    listed = list(rows)
    for rung in (_shortfalls, _too_few, _load):
        found = tuple(replace(reason, scope="any layout") for reason in rung(book, board, listed))
        if found:
            return found
    return ()


def _shortfalls(book: Book, board: CabinetTable, rows: list[int]) -> Iterator[Reason]:
    """Groups that go into no drawer at all, each with its nearest drawer."""
    for row in rows:
        if not board.fits.possible[row].any():
            lack = _nearest(board, [row], range(len(board.drawers)))
            told = lack and (lack[0], board.drawers[lack[2]].name)
            yield short_reason(book.groups[row], book.known.house.layout.cased_in_foam, told or _other(board, row))


def _other(board: CabinetTable, row: int) -> tuple[Shortfall, str] | None:
    """The nearest drawer by load or area, where no size is known that would do."""
    lacks = [(lack, d) for d, lack in enumerate(board.fits.lack[row]) if lack and lack.axis in ("load", "area")]
    found = min(lacks, key=lambda lack: (lack[0].short, lack[1]), default=None)
    return found and (found[0], board.drawers[found[1]].name)


def _too_few(book: Book, board: CabinetTable, rows: list[int]) -> Iterator[Reason]:
    """A smallest set of groups, no two of which can share, with fewer drawers than groups."""
    drawers_of = {row: np.flatnonzero(board.fits.possible[row]).tolist() for row in rows}
    rank = {row: place for place, row in enumerate(rows)}
    chosen: list[int] = []
    for row in sorted(rows, key=lambda row: (len(drawers_of[row]), rank[row])):
        if not any(book.can_share(row, other, board, drawers_of) for other in chosen):
            chosen.append(row)
    chosen.sort(key=lambda row: rank[row])
    lacking = deficient_set([drawers_of[row] for row in chosen])
    if lacking:
        members = [chosen[place] for place in lacking.groups]
        others = [d for d in range(len(board.drawers)) if d not in lacking.drawers]
        nearest = _nearest(board, members, others)
        yield too_few_reason(
            tuple(book.groups[row] for row in members),
            tuple(board.drawers[d].name for d in lacking.drawers),
            nearest and (nearest[0], book.names[nearest[1]], board.drawers[nearest[2]].name),
        )


def _load(book: Book, board: CabinetTable, rows: list[int]) -> Iterator[Reason]:
    """Loads that exceed the drawers' in sum."""
    reached = np.flatnonzero(board.fits.possible[rows].any(axis=0)).tolist()
    rated = [load for d in reached if (load := board.drawers[d].load_rating) is not None]
    mass = sum(book.groups[row].mass_low for row in rows)
    if len(rated) == len(reached) and mass > sum(rated):
        yield load_reason(mass, sum(rated))


def _nearest(board: CabinetTable, rows: Iterable[int], drawers: Iterable[int]) -> tuple[Shortfall, int, int] | None:
    """The group and drawer, of these, for which the drawer would have to grow least."""
    listed = list(drawers)
    lacks = [
        (lack, place, d, row)
        for place, row in enumerate(rows)
        for d in listed
        if (lack := board.fits.lack[row, d]) and lack.enough
    ]
    found = min(lacks, key=lambda lack: (lack[0].growth, *lack[1:3]), default=None)
    return found and (found[0], found[3], found[2])
