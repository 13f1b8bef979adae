"""Where in a catalogue's files a thing stands, for whoever has to mend or look at its row."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from pathlib import Path
from typing import TypeAlias

from matcher.catalogue.contents import contents
from matcher.catalogue.tables import read_tables
from matcher.records import listed

PlaceKey: TypeAlias = tuple[str, ...]
"""A table and what its rows are known by: ``("drawers", cabinet, drawer)``."""
KNOWN_BY: Mapping[str, tuple[str, ...]] = {
    "tools": ("set", "tool"),
    "drawers": ("cabinet", "drawer"),
    "cabinets": ("cabinet",),
    "foam": ("foam",),
}
"""Tables whose rows are looked for, and the columns that tell them."""


def places(path: Path) -> Mapping[PlaceKey, str]:
    """File, sheet if it has several, and rows of tools, drawers, cabinets and foam; of a catalogue that was read.

    Raises
    ------
    UnknownNameError
        There is no such folder or workbook any more.
    """
    tables, _ = read_tables(path)
    found = contents(tables, [])
    told: dict[PlaceKey, str] = {}
    for name, columns in KNOWN_BY.items():
        read, rows = getattr(found, name), defaultdict[tuple[str, ...], list[int]](list)
        for row in read.rows:
            rows[tuple(getattr(row, column) for column in columns)].append(row.at)
        for key, numbers in rows.items():
            file = read.table.file + (f", sheet {read.table.sheet}" if read.table.sheet else "")
            told[name, *key] = f"{file}, row{'s' if numbers[1:] else ''} {listed([str(at) for at in numbers])}"
    return told
