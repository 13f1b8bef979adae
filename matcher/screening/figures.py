"""A plan in figures, over the table: which groups are in which drawer is all that has to be known."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from matcher.fitting import least_trimmed
from matcher.records import EVERY_HOW, How
from matcher.screening.book import Book, CabinetTable
from matcher.screening.fitting import load_share
from matcher.screening.pairs import Figures


def figures(book: Book, board: CabinetTable, units: Iterable[tuple[tuple[int, ...], int]]) -> Figures:
    """Figures of the plan with these rows (more than one in a row) in these drawers, as many as can be used."""
    units = list(units)
    fits, boxes = board.fits, len(board.drawers)
    rows = tuple(row for unit, _ in units for row in unit)
    alone = [(unit[0], d) for unit, d in units if len(unit) == 1]
    listed, drawers = [row for row, _ in alone], [d for _, d in alone]
    counts: Counter[How] = Counter()
    for how, count in Counter(fits.how[listed, drawers].tolist()).items():
        counts[EVERY_HOW[how]] += count
    spares = fits.spare[listed, drawers].tolist()
    loads = fits.load[listed, drawers].tolist()
    for unit, d in units:
        if len(unit) > 1:
            hows, spare = _row(book, board, unit, d)
            counts.update(hows)
            spares.append(spare)
            loads.append(load_share(sum(book.groups[row].mass_high for row in unit), board.drawers[d]))
    load = max(loads, default=-1.0)
    return Figures(
        fewest_free=boxes - len(units),
        fewest_free_proved=True,
        most_free=boxes - len(units),
        most_free_bound=boxes - book.classes(rows),
        hows=tuple((how, counts[how]) for how in EVERY_HOW if counts[how]),
        tightest=min(spares, default=0),
        load_use=load if load >= 0 else None,
    )


def _row(book: Book, board: CabinetTable, unit: tuple[int, ...], d: int) -> tuple[list[How], int]:
    """How each of several groups gets into a row, and the smallest spare size of the drawer with all of them in."""
    needed = board.fits.beside[list(unit), d]
    width, depth, height, _, inset = board.room[d].tolist()
    axis = 0 if needed[:, 0, 0].sum() <= width else 1
    length, breadth = (width, depth) if axis == 0 else (depth, width)
    left = length - int(needed[:, axis, 0].sum())
    hows: list[How] = []
    across = 0
    trimmed_off = 0
    for row, (along, other, _, how) in zip(unit, needed[:, axis].tolist(), strict=True):
        ready, way = book.groups[row].organizer, EVERY_HOW[how]
        if ready is not None and way in ("as is", "trim"):
            whole = (ready.width, ready.depth) if axis == 0 else (ready.depth, ready.width)
            off = whole[0] - along
            if off <= left - trimmed_off and whole[1] <= breadth:
                way, trimmed_off = "as is", trimmed_off + off
            other = least_trimmed(ready, book.known.house)[1 - axis]
        hows.append(way)
        across = max(across, other)
    return hows, min(left + inset, breadth - across + inset, height - int(needed[:, axis, 2].max()))
