"""Good rows to the records of a catalogue, sorted so that the order of rows changes nothing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import fields, replace
from math import ceil, floor
from pathlib import Path
from typing import Any, TypeVar

from matcher.catalogue.contents import Contents
from matcher.catalogue.rows import CabinetRow, DrawerRow, GroupRow, ObstructionRow, RelationRow, Row, ToolRow
from matcher.catalogue.stacks import stack, unit_drawers
from matcher.catalogue.trade import with_system
from matcher.records import (
    LARGEST_INSIDE,
    Cabinet,
    Catalogue,
    Demand,
    Drawer,
    Foam,
    GroupRule,
    KeptOrganizer,
    Measurement,
    Obstruction,
    Organizer,
    Piece,
    Pin,
    Relation,
    TypedSize,
)

T = TypeVar("T")


def assembled(found: Contents, house: Contents, digest: str, folder: str) -> Catalogue:
    """The catalogue of sound rows; ``house`` holds the default groups and relations.

    The catalogue's own group rules come first. Its relations replace the default ones entirely, also where it has the
    table but no rows in it.
    """
    relations = house.relations if found.relations.table is None else found.relations
    organizers = _in_order(Organizer(**_values(row)) for row in found.organizers.rows)
    return Catalogue(
        pieces=_in_order(piece_of(row, Path(folder)) for row in found.tools.rows),
        organizers=tuple(row for row in organizers if row.pieces is None),
        cabinets=cabinets(found),
        group_rules=(
            *_in_order(_rule(row, house=False) for row in found.groups.rows),
            *_in_order(_rule(row, house=True) for row in house.groups.rows),
        ),
        relations=_in_order(map(_relation, relations.rows)),
        pins=_in_order(Pin(**_values(row)) for row in found.pins.rows),
        measured=_in_order(Measurement(**_values(row)) for row in found.measured.rows),
        foam=_in_order(Foam(**_values(row, foam="name")) for row in found.foam.rows),
        demand=_in_order(Demand(**_values(row)) for row in found.demand.rows),
        digest=digest,
        folder=folder,
        parts=tuple(
            KeptOrganizer(row.drawer, row, pieces=row.pieces, part_of=row.part_of)
            for row in organizers
            if row.pieces is not None
        ),
    )


def piece_of(row: ToolRow, folder: Path) -> Piece:
    """The piece a row of the tools table stands for; a drawing of its own by its full path."""
    piece = with_system(Piece(**_values(row)))
    return replace(piece, outline=str((folder / piece.outline).resolve())) if piece.outline else piece


def cabinets(found: Contents) -> tuple[Cabinet, ...]:
    """Every cabinet that has drawers, by name; a chest with the drawers of all it stands on."""
    own = _drawers(found.drawers.rows, found.obstructions.rows)
    rows = {row.cabinet: row for row in found.cabinets.rows}
    bases = {name: row.stands_on for name, row in rows.items()}
    units = {name: unit_drawers([(part, own[part]) for part in stack(name, bases)]) for name in own}
    return tuple(_cabinet(name, units[name], rows.get(name)) for name in sorted(own))


def _cabinet(name: str, drawers: tuple[Drawer, ...], row: CabinetRow | None) -> Cabinet:
    return Cabinet(drawers=drawers, **_values(row, cabinet="name")) if row else Cabinet(name, drawers)


def _drawers(boxes: Iterable[DrawerRow], blocks: Iterable[ObstructionRow]) -> dict[str, list[Drawer]]:
    inside = defaultdict(list)
    for block in blocks:
        inside[block.cabinet, block.drawer].append(block)
    own = defaultdict(list)
    for box in boxes:
        own[box.cabinet].append(_drawer(box, inside[box.cabinet, box.drawer]))
    return own


def _drawer(row: DrawerRow, blocks: Sequence[ObstructionRow]) -> Drawer:
    values = _values(row, drawer="name")
    first, last = values.pop("bank")
    sizes = {name: values[name.replace(" ", "_")] for name in LARGEST_INSIDE}
    values |= {name.replace(" ", "_"): _length_inside(name, size) for name, size in sizes.items()}
    values["guessed"] = tuple(name for name, size in sizes.items() if size.guessed)
    if unknown := tuple(name for name, size in sizes.items() if size.length is None):
        values |= {"unknown": unknown, "slot_told": values["slot"], "slot": "blocked"}
    blocking = _in_order(_obstruction(block, row) for block in blocks)
    return Drawer(bank=first, last_bank=last, obstructions=blocking, **values)


def _length_inside(name: str, size: TypedSize) -> int:
    """An inside size; one that is not known is as large as any."""
    return LARGEST_INSIDE[name] if size.length is None else size.length


def _obstruction(block: ObstructionRow, box: DrawerRow) -> Obstruction:
    """The block rounded outward, but not beyond the drawer's walls."""
    left, front = floor(block.left), floor(block.front)
    right = min(ceil(block.left + block.width), _length_inside("inside width", box.inside_width))
    back = min(ceil(block.front + block.depth), _length_inside("inside depth", box.inside_depth))
    return Obstruction(left, front, right - left, back - front, block.height)


def _rule(row: GroupRow, house: bool) -> GroupRule:
    return GroupRule(house=house, **_values(row))


def _relation(row: RelationRow) -> Relation:
    return Relation(**_values(row))


def _values(row: Row, **renamed: str) -> dict[str, Any]:
    """A row's values by the names its record has for them."""
    return {renamed.get(name, name): value for name, value in row if name != "at"}


def _in_order(records: Iterable[T]) -> tuple[T, ...]:
    """Records sorted by all their fields, in their order; ``None`` comes before any value."""
    return tuple(sorted(records, key=_sort_key))


def _sort_key(record: Any) -> list[tuple[bool, Any]]:
    values = [getattr(record, field.name) for field in fields(record)]
    return [(False, 0) if value is None else (True, value) for value in values]
