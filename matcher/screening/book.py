"""All that screening knows ahead of the pairs: distinct groups, distinct drawers, which of them a set or cabinet has.

A `Known` is what the catalogue says and goes to every worker; a `Book` is what one worker makes of it and adds to.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from matcher.fitting import box_of
from matcher.house import House
from matcher.planning import content_of, groups_of, usable
from matcher.records import Cabinet, Catalogue, Drawer, Group, Pin
from matcher.screening.fitting import Array, FitTable, fits_of, room_of


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """Distinct groups and drawers, the groups (by index) of each set, the drawers of each cabinet, and the table.

    One is the same as another only if it is that one: so its book is found without looking through it.
    """

    catalogue: Catalogue
    house: House
    sets: tuple[str, ...]
    cabinets: tuple[Cabinet, ...]
    groups: tuple[Group, ...]
    drawers: tuple[Drawer, ...]
    groups_of: tuple[tuple[int, ...], ...]
    drawers_of: tuple[tuple[int, ...], ...]
    fits: FitTable | None = None


def given(catalogue: Catalogue, house: House, sets: tuple[str, ...], cabinets: tuple[Cabinet, ...]) -> Known:
    """What the catalogue says of these sets and cabinets, still without the table of fits."""
    groups: dict[Group, int] = {}
    drawers: dict[Drawer, int] = {}
    groups_by_set = tuple(
        tuple(
            groups.setdefault(content_of(group), len(groups))
            for group in groups_of(catalogue, name, house.pocket.estimates)
        )
        for name in sets
    )
    drawers_by_cabinet = tuple(
        tuple(drawers.setdefault(box_of(drawer), len(drawers)) for drawer in usable(cabinet)) for cabinet in cabinets
    )
    return Known(catalogue, house, sets, cabinets, tuple(groups), tuple(drawers), groups_by_set, drawers_by_cabinet)


def row_of(known: Known, group: int) -> FitTable:
    """One row of the table: the unit of work of making it."""
    return fits_of(known.groups[group], known.drawers, known.house)


@dataclass(frozen=True, slots=True)
class CabinetTable:
    """One cabinet's part of the table: ``fits`` of all groups in its drawers, the room in these; pins about it.

    ``index`` is the cabinet's, ``boxes`` are those of its drawers.
    """

    index: int
    cabinet: Cabinet
    drawers: tuple[Drawer, ...]
    boxes: tuple[int, ...]
    fits: FitTable
    room: Array
    pins: tuple[Pin, ...]


class Book:
    """The table of one worker, by cabinet."""

    def __init__(self, known: Known):
        assert known.fits is not None
        self.known = known
        self.groups = known.groups
        self._fits = known.fits
        self._classes: dict[tuple[int, ...], int] = {}
        self._room = np.array([room_of(drawer, known.house) for drawer in known.drawers]).reshape(-1, 5)

    def board(self, index: int) -> CabinetTable:
        """The cabinet ``index`` with every row."""
        boxes = self.known.drawers_of[index]
        cabinet = self.known.cabinets[index]
        columns = list(boxes)
        fits = FitTable(*(getattr(self._fits, field.name)[:, columns] for field in fields(FitTable)))
        pins = tuple(pin for pin in self.known.catalogue.pins if pin.cabinet in ("", cabinet.name))
        return CabinetTable(index, cabinet, usable(cabinet), boxes, fits, self._room[columns], pins)

    def classes(self, rows: tuple[int, ...]) -> int:
        """How many drawers the groups need at least: no two of different families, or unwilling, share one."""
        if rows not in self._classes:
            held = [self.groups[row] for row in rows]
            free = self.known.house.together.mix == "free"
            families = {("" if free else group.family, group.cased) for group in held if group.share}
            self._classes[rows] = len(families) + sum(not group.share for group in held)
        return self._classes[rows]

    def willing(self, row: int, other: int) -> bool:
        """Whether two groups may share a drawer where no families mix."""
        one, two = self.groups[row], self.groups[other]
        return one.share and two.share and (one.family, one.cased) == (two.family, two.cased)
