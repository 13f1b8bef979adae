"""Where in a catalogue's files a drawer stands, for whoever has to mend its row."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from matcher.catalogue.contents import contents
from matcher.catalogue.tables import read_table


def drawer_places(path: Path) -> Mapping[tuple[str, str], str]:
    """File, sheet if it has several, and row of every drawer, by cabinet and drawer; of a catalogue that was read.

    Raises
    ------
    UnknownNameError
        There is no such folder or workbook any more.
    """
    tables, _ = read_table(path, "drawers")
    drawers = contents(tables, []).drawers
    if drawers.table is None:
        return {}
    place = drawers.table.file + (f", sheet {drawers.table.sheet}" if drawers.table.sheet else "")
    return {(row.cabinet, row.drawer): f"{place}, row {row.at}" for row in drawers.rows}
