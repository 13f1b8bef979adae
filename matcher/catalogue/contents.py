"""All tables of a catalogue as rows, and the names that its rows may refer to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from matcher.catalogue.parsing import ReadTable, reading
from matcher.catalogue.rows import (
    CabinetRow,
    DemandRow,
    DrawerRow,
    FoamRow,
    GroupRow,
    MeasuredRow,
    ObstructionRow,
    OrganizerRow,
    PinRow,
    RelationRow,
    SizeRow,
    ToolRow,
)
from matcher.catalogue.tables import Table
from matcher.catalogue.tool_sizes import with_sizes
from matcher.records import CellError


@dataclass(frozen=True, slots=True)
class Contents:
    """The rows of every table; an absent table has none."""

    tools: ReadTable[ToolRow]
    sizes: ReadTable[SizeRow]
    organizers: ReadTable[OrganizerRow]
    drawers: ReadTable[DrawerRow]
    obstructions: ReadTable[ObstructionRow]
    cabinets: ReadTable[CabinetRow]
    pins: ReadTable[PinRow]
    groups: ReadTable[GroupRow]
    relations: ReadTable[RelationRow]
    measured: ReadTable[MeasuredRow]
    foam: ReadTable[FoamRow]
    demand: ReadTable[DemandRow]


def contents(tables: Mapping[str, Table], faults: list[CellError]) -> Contents:
    """Rows of every table; what is wrong with their cells is added to ``faults``.

    Rows of tools hold what the table of sizes says was measured of them.
    """
    tools = reading(ToolRow, tables.get("tools"), faults)
    sizes = reading(SizeRow, tables.get("sizes"), faults)
    return Contents(
        tools=with_sizes(tools, sizes, faults),
        sizes=sizes,
        organizers=reading(OrganizerRow, tables.get("organizers"), faults),
        drawers=reading(DrawerRow, tables.get("drawers"), faults),
        obstructions=reading(ObstructionRow, tables.get("obstructions"), faults),
        cabinets=reading(CabinetRow, tables.get("cabinets"), faults),
        pins=reading(PinRow, tables.get("pins"), faults),
        groups=reading(GroupRow, tables.get("groups"), faults),
        relations=reading(RelationRow, tables.get("relations"), faults),
        measured=reading(MeasuredRow, tables.get("measured"), faults),
        foam=reading(FoamRow, tables.get("foam"), faults),
        demand=reading(DemandRow, tables.get("demand"), faults),
    )
