"""A buyer's readings from a file of their own, set against a catalogue already read."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from pathlib import Path

import pandas as pd

from matcher.catalogue.assembling import assembled
from matcher.catalogue.consistency import consistency_faults
from matcher.catalogue.contents import contents
from matcher.catalogue.references import Names, reference_faults
from matcher.catalogue.tables import Table, read_table
from matcher.records import Catalogue, CatalogueError, CellError, Measurement


def read_measured(path: Path, catalogue: Catalogue) -> tuple[Measurement, ...]:
    """Readings from a CSV file with the columns of the table `measured`, or from that table of a catalogue.

    Raises
    ------
    CatalogueError
        Something in the file is wrong, or it names a cabinet or drawer that the catalogue does not have.
    UnknownNameError
        There is no such file.
    """
    tables, faults = read_table(path, "measured")
    return _measured(tables, faults, path.parent, catalogue)


def typed_measured(
    rows: Iterable[tuple[str, str, str, str, str]], unit: str, catalogue: Catalogue
) -> tuple[Measurement, ...]:
    """Readings as typed: cabinet, drawer, inside width, inside depth and clear height, as cells of a file's table.

    ``unit`` is ``mm`` or ``in``; a blank size was not measured.

    Raises
    ------
    CatalogueError
        As `read_measured`; the first row given counts as row 2.
    """
    sizes = (f"{name}_{unit}" for name in ("inside_width", "inside_depth", "clear_height"))
    frame = pd.DataFrame(list(rows), columns=["cabinet", "drawer", *sizes], dtype=str)
    return _measured({"measured": Table("measured", "measured", "", frame)}, [], Path(), catalogue)


def _measured(
    tables: dict[str, Table], faults: list[CellError], folder: Path, catalogue: Catalogue
) -> tuple[Measurement, ...]:
    found = contents(tables, faults)
    faults.extend(consistency_faults(found, folder))
    faults.extend(reference_faults(found, _names(catalogue)))
    if faults:
        raise CatalogueError(sorted(set(faults), key=lambda fault: (fault.row, fault.column)))
    return assembled(found, contents({}, []), "", "").measured


def _names(catalogue: Catalogue) -> Names:
    drawers: dict[str, list[str]] = defaultdict(list)
    for cabinet in catalogue.cabinets:
        drawers[cabinet.name] = [drawer.name for drawer in cabinet.drawers if drawer.cabinet == cabinet.name]
    return Names(frozenset(), frozenset(), frozenset(), frozenset(drawers), drawers, {})
