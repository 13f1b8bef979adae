"""From files to a catalogue: tables, rows, checks across tables, records."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from hashlib import sha256
from importlib import resources
from pathlib import Path

from matcher.catalogue.assembling import assembled
from matcher.catalogue.consistency import consistency_faults, place_faults
from matcher.catalogue.contents import Contents, contents
from matcher.catalogue.references import names, reference_faults
from matcher.catalogue.tables import Table, read_tables
from matcher.records import Catalogue, CatalogueError, CellError, remembered


def read_catalogue(path: Path) -> Catalogue:
    """Read a catalogue from a folder of CSV files or a workbook (XLSX).

    Lengths are rounded against the fit: tools, organizers and blocks up, openings down; masses up, ratings down.

    Raises
    ------
    CatalogueError
        Something in the files is wrong; holds every bad cell, by file, row and column.
    UnknownNameError
        There is no such folder or workbook.
    """
    tables, faults = read_tables(path)
    faults.extend(_missing(path, tables, faults))
    folder = path if path.is_dir() else path.parent
    house = house_tables()
    found = contents(tables, faults)
    only_cells = all(fault.row > 1 and fault.column for fault in faults)
    faults.extend(consistency_faults(found, folder))
    if only_cells:  # else names would seem unknown only because their table could not be read
        faults.extend(reference_faults(found, names(found, (row.group for row in house.groups.rows))))
    _refuse(faults)
    catalogue = assembled(found, house, _digest(tables, found, folder), str(folder))
    _refuse(place_faults(found.pins, {cabinet.name: cabinet for cabinet in catalogue.cabinets}))
    return catalogue


@remembered(1)
def house_tables() -> Contents:
    """The default groups and relations as shipped."""
    with resources.as_file(resources.files("matcher.house") / "defaults") as folder:
        tables, faults = read_tables(folder)
    found = contents(tables, faults)
    _refuse(faults)
    return found


def _missing(path: Path, tables: Mapping[str, Table], faults: Collection[CellError]) -> Iterator[CellError]:
    """Needed tables that are not there or have no rows, unless there is one that cannot be read."""
    filled = {name for name, table in tables.items() if len(table.frame)}
    tried = {*filled, *((fault.sheet or Path(fault.file).stem).strip().lower() for fault in faults)}
    if path.is_file() and not tables and faults:
        return
    if "drawers" not in tried:
        yield _absent(path, "drawers", "this table with at least one row; it is needed")
    if not tried & {"tools", "organizers"}:
        yield _absent(path, "tools", "this table, or organizers, or both, with at least one row")


def _absent(path: Path, table: str, expected: str) -> CellError:
    in_folder = path.is_dir()
    return CellError(f"{table}.csv" if in_folder else path.name, 0, "", "", expected, "" if in_folder else table)


def _refuse(faults: Iterable[CellError]) -> None:
    """Raise what is wrong, sorted, one fault per cell: the first one found is the cause of any other."""
    per_cell: dict[tuple[str, str, int, str], CellError] = {}
    for fault in faults:
        per_cell.setdefault((fault.file, fault.sheet, fault.row, fault.column), fault)
    if per_cell:
        raise CatalogueError(per_cell[cell] for cell in sorted(per_cell))


def _digest(tables: Mapping[str, Table], found: Contents, folder: Path) -> str:
    """First 16 digits of the SHA-256 over names and texts of all tables and the outline files they name."""
    sums = sha256()
    for name in sorted(tables):
        sums.update(f"{name}\n{tables[name].frame.to_csv(index=False)}\n".encode())
    for outline in sorted({row.outline for row in found.tools.rows} - {""}):
        sums.update(outline.encode() + (folder / outline).read_bytes())
    return sums.hexdigest()[:16]
