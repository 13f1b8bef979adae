"""Whether the values of a row, and of rows that belong together, make sense side by side."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from math import floor
from pathlib import Path

from matcher.catalogue.assembling import piece_of
from matcher.catalogue.contents import Contents
from matcher.catalogue.parsing import ReadTable
from matcher.catalogue.rows import (
    DrawerRow,
    GroupRow,
    MeasuredRow,
    ObstructionRow,
    OrganizerRow,
    PinRow,
    RelationRow,
    ToolRow,
)
from matcher.catalogue.stacks import stack
from matcher.catalogue.trade import piece_faults
from matcher.records import Cabinet, CellError, Drawer, show_mm

PIN_NEEDS: Mapping[str, tuple[str, ...]] = {
    "in": ("group", "drawer, bank or row"),
    "not in": ("group", "drawer, bank or row"),
    "apart": ("group", "other"),
    "together": ("group", "other"),
    "keep free": ("drawer, bank or row",),
}
"""What each rule of a pin is about; anything else it is given would say nothing."""


def consistency_faults(found: Contents, folder: Path) -> Iterator[CellError]:
    """Everything that is wrong between good cells."""
    yield from _tool_faults(found.tools, folder)
    yield from _organizer_faults(found.organizers)
    yield from _same_place(found.drawers)
    yield from _outside_drawer(found.obstructions, found.drawers)
    yield from _endless(found)
    yield from _pin_faults(found.pins)
    yield from _kinds_twice(found.groups)
    yield from _self_related(found.relations)
    yield from _nothing_measured(found.measured)


def _tool_faults(tools: ReadTable[ToolRow], folder: Path) -> Iterator[CellError]:
    for row in tools.rows:
        if row.outline and not _inside(folder, row.outline):
            yield tools.fault(row.at, "outline", "a file in the catalogue's folder")
            continue
        for column, expected in piece_faults(piece_of(row, folder)):
            yield tools.fault(row.at, column, expected)


def _inside(folder: Path, name: str) -> bool:
    file = (folder / name).resolve()
    return file.is_file() and file.is_relative_to(folder.resolve())


def _organizer_faults(organizers: ReadTable[OrganizerRow]) -> Iterator[CellError]:
    """The pocket field lies inside the organizer; where it begins means something only if its size is given."""
    for row in organizers.rows:
        for column in ("cabinet", "drawer", "part_of"):
            if getattr(row, column) and row.pieces is None:
                yield organizers.fault(row.at, "pieces", f"how many tools it was made for, because {column} is given")
                break
        axes = (
            (row.width, row.field_width, row.field_left, "field_width", "field_left"),
            (row.depth, row.field_depth, row.field_front, "field_depth", "field_front"),
        )
        for outside, size, start, size_column, start_column in axes:
            if start is not None and size is None:
                yield organizers.fault(row.at, size_column, f"a value, because {start_column} is given")
            elif size is not None and size > outside:
                yield organizers.fault(row.at, size_column, f"at most the outside, {show_mm(outside)}")
            elif size is not None and start is not None and start + size > outside:
                most = show_mm(outside - size)
                yield organizers.fault(row.at, start_column, f"at most {most}, so that the field stays inside")


def _same_place(drawers: ReadTable[DrawerRow]) -> Iterator[CellError]:
    taken: dict[tuple[str, int, int], int] = {}
    for box in drawers.rows:
        places = [(box.cabinet, bank, box.row) for bank in range(box.bank[0], box.bank[1] + 1)]
        others = [taken[place] for place in places if place in taken]
        if others:
            yield drawers.fault(box.at, "row", f"one drawer per bank and row of a cabinet; row {others[0]} is there")
        taken.update((place, box.at) for place in places if place not in taken)


def _outside_drawer(blocks: ReadTable[ObstructionRow], drawers: ReadTable[DrawerRow]) -> Iterator[CellError]:
    """Blocks beyond the inside walls; compared rounded down, so that one that just reaches the wall stays good."""
    boxes = {(box.cabinet, box.drawer): box for box in drawers.rows}
    for block in blocks.rows:
        box = boxes.get((block.cabinet, block.drawer))
        if box is None:
            continue
        axes = (
            ("width", block.left + block.width, box.inside_width.length),
            ("depth", block.front + block.depth, box.inside_depth.length),
        )
        for column, end, inside in axes:
            if inside is not None and floor(end) > inside:
                over = show_mm(floor(end) - inside)
                yield blocks.fault(block.at, column, f"an end inside the drawer; this one is {over} beyond its wall")


def _endless(found: Contents) -> Iterator[CellError]:
    bases = {row.cabinet: row.stands_on for row in found.cabinets.rows}
    for row in found.cabinets.rows:
        if bases.get(stack(row.cabinet, bases)[-1]) == row.cabinet:
            yield found.cabinets.fault(row.at, "stands_on", f"a base that does not stand on {row.cabinet} in turn")


def _pin_faults(pins: ReadTable[PinRow]) -> Iterator[CellError]:
    for row in pins.rows:
        given = {"group": row.group, "other": row.other, "drawer": row.drawer, "bank": row.bank, "row": row.row}
        wanted = PIN_NEEDS[row.rule]
        for need in wanted:
            if not any(given[name] for name in given if name in need.replace(",", "").split()):
                yield pins.fault(row.at, need.split(",")[0], f"a {need}, which the rule {row.rule!r} needs", "")
        allowed = " ".join(wanted).replace(",", "").split()
        for name, value in given.items():
            if value and name not in allowed:
                yield pins.fault(row.at, name, f"a blank cell: the rule {row.rule!r} is about {' and '.join(wanted)}")
        if row.rule in ("apart", "together") and row.group and row.group == row.other:
            yield pins.fault(row.at, "other", "another group")


def place_faults(pins: ReadTable[PinRow], cabinets: Mapping[str, Cabinet]) -> Iterator[CellError]:
    """Pins whose drawer, bank and row together name no place, at the cell after which none is left."""
    for row in pins.rows:
        here = [cabinets[row.cabinet]] if row.cabinet else list(cabinets.values())
        boxes = [box for cabinet in here for box in cabinet.drawers]
        for column in ("drawer", "bank", "row"):
            boxes = [box for box in boxes if _at_place(box, column, getattr(row, column))]
            if not boxes:
                yield pins.fault(row.at, column, f"a place that {row.cabinet or 'some cabinet'} has")
                break


def _at_place(box: Drawer, column: str, value: str | int | None) -> bool:
    if value in ("", None):
        return True
    if column == "bank":
        return value in range(box.bank, box.last_bank + 1)
    return value == (box.name if column == "drawer" else box.row)


def _kinds_twice(groups: ReadTable[GroupRow]) -> Iterator[CellError]:
    """A kind in two groups would leave open where its pieces go."""
    owners: dict[tuple[str, str], list[str]] = defaultdict(list)
    for row in groups.rows:
        for kind in row.kinds:
            others = [name for name in owners[kind, row.system] if name != row.group]
            if others:
                yield groups.fault(row.at, "kinds", f"each kind in one group; {kind} is in {others[0]} already")
            owners[kind, row.system].append(row.group)


def _self_related(relations: ReadTable[RelationRow]) -> Iterator[CellError]:
    for row in relations.rows:
        if row.group == row.other:
            yield relations.fault(row.at, "other", "another group")


def _nothing_measured(measured: ReadTable[MeasuredRow]) -> Iterator[CellError]:
    for row in measured.rows:
        if row.inside_width is row.inside_depth is row.clear_height is None:
            yield measured.fault(row.at, "inside_width", "at least one of inside width, inside depth and clear height")
