"""All that screening knows ahead of the pairs: distinct groups, distinct drawers, which of them a set or cabinet has.

A `Known` is what the catalogue says and goes to every worker; a `Book` is what one worker makes of it and adds to.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields

import numpy as np

from matcher.fitting import GoesIn, admit, box_of
from matcher.house import House
from matcher.planning import (
    NotTogether,
    content_of,
    groups_of,
    narrowest,
    pose,
    question_of,
    share,
    usable,
    whole_or_parts,
)
from matcher.records import Cabinet, Catalogue, Drawer, Group, Pin
from matcher.screening.fitting import Array, FitTable, extended, fits_of, room_of, stacked


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
        tuple(groups.setdefault(content_of(group), len(groups)) for group in groups_of(catalogue, name))
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
    """The table of one worker, to which the parts of split groups are added as they come up."""

    def __init__(self, known: Known):
        assert known.fits is not None
        self.known = known
        self.groups = list(known.groups)
        self.names = [group.name for group in self.groups]
        self._fits = known.fits
        self._rows = {group: row for row, group in enumerate(self.groups)}
        self._added: list[FitTable] = []
        self._parts: dict[tuple[int, frozenset[int]], tuple[int, ...]] = {}
        self._least: dict[tuple[int, tuple[int, ...]], int] = {}
        self._classes: dict[tuple[int, ...], int] = {}
        self._together: dict[tuple[int, int, int], bool] = {}
        self._larger = _larger(known.drawers)
        self._room = np.array([room_of(drawer, known.house) for drawer in known.drawers]).reshape(-1, 5)

    def rows(self, index: int, sets: Iterable[int]) -> dict[int, tuple[int, ...]]:
        """Rows of what the sets bring into the cabinet ``index``: groups, or their parts where one must be split."""
        boxes = self.known.drawers_of[index]
        cost = self._fits.cost[: len(self.known.groups), list(boxes)]
        taken: Array = np.asarray(np.isfinite(cost).any(axis=1))
        all_taken = bool(taken.all())
        found = {}
        for number in sets:
            groups = self.known.groups_of[number]
            whole = all_taken or bool(taken[list(groups)].all())
            found[number] = groups if whole else self._resolved(groups, taken, boxes)
        return found

    def board(self, index: int) -> CabinetTable:
        """The cabinet ``index`` with every row there is by now."""
        if self._added:
            self._fits, self._added = extended(self._fits, stacked(self._added)), []
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
            families = {group.family for group in held if group.share}
            self._classes[rows] = len(families) + sum(not group.share for group in held)
        return self._classes[rows]

    def willing(self, row: int, other: int) -> bool:
        """Whether the house lets two groups share a drawer at all: same family, both willing."""
        one, two = self.groups[row], self.groups[other]
        return one.share and two.share and one.family == two.family

    def can_share(self, row: int, other: int, board: CabinetTable, drawers_of: Mapping[int, Sequence[int]]) -> bool:
        """Whether some drawer might take both in some layout; groups of different families never share."""
        if not self.willing(row, other):
            return False
        one, two = self.groups[row], self.groups[other]
        common = {board.boxes[d] for d in set(drawers_of[row]) & set(drawers_of[other])}
        if one.pieces or two.pieces:
            return bool(common)
        return any(self._goes_together(row, other, box) for box in sorted(common))

    def _goes_together(self, row: int, other: int, box: int) -> bool:
        """Whether it is not excluded that two ready-made organizers go into one drawer."""
        key = min(row, other), max(row, other), box
        if key not in self._together:
            drawer = self.known.drawers[box]
            pair = tuple(map(self.groups.__getitem__, key[:2]))
            asked = question_of(self.known.catalogue, self.known.house, (), Cabinet("", (drawer,)), pair)
            self._together[key] = not isinstance(share(pose(asked, pair, admit), 0, (0, 1)), NotTogether)
        return self._together[key]

    def certain(self, board: CabinetTable, number: int, rows: tuple[int, ...]) -> tuple[int, ...]:
        """Rows of what the set brings into the cabinet however it is split: one piece of each group not among ``rows``.

        They may be new to the table: a board made before does not hold them.
        """
        groups = self.known.groups_of[number]
        return tuple(group if group in rows else self._narrowest(group, board) for group in groups)

    def _narrowest(self, group: int, board: CabinetTable) -> int:
        key = group, tuple(sorted(board.boxes))
        if key not in self._least:
            drawers, house = map(self.known.drawers.__getitem__, board.boxes), self.known.house
            self._least[key] = self._row(narrowest(self.groups[group], drawers, house, admit, "any layout"))
        return self._least[key]

    def _resolved(self, groups: tuple[int, ...], taken: Array, boxes: tuple[int, ...]) -> tuple[int, ...]:
        rows: list[int] = []
        for group in groups:
            rows += (group,) if taken[group] or not self.groups[group].split else self._split(group, boxes)
        order = sorted(rows, key=lambda row: (self.groups[row].tier, self.groups[row].family, self.names[row]))
        return tuple(order)

    def _split(self, group: int, boxes: tuple[int, ...]) -> tuple[int, ...]:
        """Rows of the group's parts; they depend only on the drawers that none of the others surpasses."""
        present = frozenset(boxes)
        largest = frozenset(box for box in present if not self._larger[box] & present)
        key = group, largest
        if key not in self._parts:
            drawers = [self.known.drawers[box] for box in sorted(largest)]

            def goes_in(part: Group) -> bool:
                return any(isinstance(admit(part, drawer, self.known.house), GoesIn) for drawer in drawers)

            self._parts[key] = tuple(self._row(part) for part in whole_or_parts(self.groups[group], goes_in))
        return self._parts[key]

    def _row(self, part: Group) -> int:
        if part not in self._rows:
            self._rows[part] = len(self.groups)
            self.groups.append(part)
            self.names.append(part.name)
            self._added.append(fits_of(part, self.known.drawers, self.known.house))
        return self._rows[part]


def _larger(drawers: tuple[Drawer, ...]) -> list[frozenset[int]]:
    """For each drawer those that take all that it takes; of equals the first."""

    def above(one: int, other: int) -> bool:
        mutual = _surpasses(drawers[one], drawers[other])
        return _surpasses(drawers[other], drawers[one]) and (not mutual or other < one)

    every = range(len(drawers))
    return [frozenset(other for other in every if other != one and above(one, other)) for one in every]


def _surpasses(one: Drawer, other: Drawer) -> bool:
    """Whether ``one`` takes whatever ``other`` takes."""
    rated = one.load_rating is None or (other.load_rating is not None and one.load_rating >= other.load_rating)
    return (
        rated
        and one.slot == other.slot
        and not one.obstructions
        and one.corner_radius <= other.corner_radius
        and one.inside_width >= other.inside_width
        and one.inside_depth >= other.inside_depth
        and one.clear_height - one.liner >= other.clear_height - other.liner
    )
