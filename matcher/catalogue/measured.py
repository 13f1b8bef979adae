"""A buyer's readings from a file of their own, set against a catalogue already read."""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

from matcher.catalogue.assembling import assembled
from matcher.catalogue.consistency import consistency_faults
from matcher.catalogue.contents import contents
from matcher.catalogue.references import Names, reference_faults
from matcher.catalogue.tables import read_table
from matcher.errors import CatalogueError
from matcher.records import Catalogue, Measurement


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
    found = contents(tables, faults)
    faults.extend(consistency_faults(found, path.parent))
    faults.extend(reference_faults(found, _names(catalogue)))
    if faults:
        raise CatalogueError(sorted(set(faults), key=lambda fault: (fault.row, fault.column)))
    return assembled(found, contents({}, []), "", "").measured


def _names(catalogue: Catalogue) -> Names:
    drawers: dict[str, list[str]] = defaultdict(list)
    for cabinet in catalogue.cabinets:
        drawers[cabinet.name] = [drawer.name for drawer in cabinet.drawers if drawer.cabinet == cabinet.name]
    return Names(frozenset(), frozenset(), frozenset(), frozenset(drawers), drawers, {})
