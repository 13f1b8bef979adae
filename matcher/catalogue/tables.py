"""Files to tables of text: a folder of CSV files or one workbook, every cell as text, row order kept."""

from __future__ import annotations

import csv
import re
import unicodedata
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import StringIO
from pathlib import Path
from typing import TypeAlias
from zipfile import is_zipfile

import pandas as pd

from matcher.catalogue.workbooks import LONGEST_TEXT, MOST_CELLS, DamagedError, sheets
from matcher.records import CatalogueError, CellError, UnknownNameError, bounded_bytes, counted, with_nearest

Records: TypeAlias = list[list[str]]
"""Rows of cells as a spreadsheet shows them, header first."""

TABLES = (
    "tools",
    "sizes",
    "organizers",
    "drawers",
    "obstructions",
    "cabinets",
    "pins",
    "groups",
    "relations",
    "measured",
    "foam",
    "demand",
)
GUIDE, LIST = "guide", "list"
"""Sheets of a workbook that are for people: a guide to all columns, and a list that tools were drafted from."""
OVERRIDES = ("LRE", "RLE", "LRO", "RLO", "PDF")
"""Classes of signs that embed or override a direction, and would scramble what stands beside a name (UAX 9)."""
FAILED_FORMULA = re.compile(r"#(N/A|REF!|VALUE!|DIV/0!|NAME\?|NUM!|NULL!|SPILL!|CALC!)")


@dataclass(frozen=True, slots=True)
class Table:
    """A table as read. ``frame`` holds text only; its first row is row 2 of the file, and it may have none."""

    name: str
    file: str
    sheet: str
    frame: pd.DataFrame


@dataclass(frozen=True, slots=True)
class _Source:
    file: str
    sheet: str = ""

    def fault(self, expected: str, row: int = 0, column: str = "", value: str = "") -> CellError:
        return CellError(self.file, row, column, value, expected, self.sheet)


def tables(path: Path) -> dict[str, pd.DataFrame]:
    """Tables of a catalogue by name, all cells as text, rows in the order of the file.

    Parameters
    ----------
    path
        A folder of CSV files or a workbook (XLSX).

    Raises
    ------
    CatalogueError
        A file or sheet is no table; names each.
    UnknownNameError
        There is no such folder or workbook.
    """
    found, faults = read_tables(path)
    if faults:
        raise CatalogueError(faults)
    return {name: table.frame for name, table in found.items()}


def read_tables(path: Path) -> tuple[dict[str, Table], list[CellError]]:
    """Tables by name and everything that is wrong with the files, before any cell is looked at."""
    if not path.exists():
        raise UnknownNameError(f"{path}: no such catalogue")
    faults: list[CellError] = []
    found: dict[str, Table] = {}
    for name, source, records in _folder(path, faults) if path.is_dir() else _workbook(path, faults):
        if name in found:
            other = found[name].sheet or found[name].file
            faults.append(source.fault(f"one table {name}, and {other} is there too"))
        elif name not in TABLES:
            faults.append(source.fault(with_nearest("a known table", name, TABLES), value=name))
        elif (frame := _frame(source, records, faults)) is not None:
            found[name] = Table(name, source.file, source.sheet, frame)
    return found, faults


def read_table(path: Path, name: str) -> tuple[dict[str, Table], list[CellError]]:
    """One CSV file, or that table of a folder or workbook, as the table ``name``, and everything wrong with it."""
    if not path.exists():
        raise UnknownNameError(f"{path}: no such file")
    if path.is_dir() or _is_archive(path):
        found, faults = read_tables(path)
        return {name: found[name]} if name in found else {}, faults
    faults, source = [], _Source(path.name)
    try:
        frame = _frame(source, _csv_records(path), faults)
    except DamagedError as damage:
        return {}, [source.fault(str(damage), damage.row)]
    return {} if frame is None else {name: Table(name, path.name, "", frame)}, faults


def _folder(path: Path, faults: list[CellError]) -> Iterator[tuple[str, _Source, Records]]:
    for file in sorted(filter(is_table, path.iterdir())):
        source = _Source(file.name)
        name = file.stem.strip().lower()
        try:
            yield name, source, _csv_records(file) if file.suffix.lower() == ".csv" else _sheet_records(file, name)
        except DamagedError as damage:
            faults.append(source.fault(str(damage), damage.row))


def is_table(path: Path) -> bool:
    """Whether a file in a catalogue's folder is read: a CSV file, or a workbook that is called like a table."""
    book = path.suffix.lower() == ".xlsx" and path.stem.strip().lower() in TABLES
    return (path.suffix.lower() == ".csv" or book) and not path.name.startswith(".")


def _is_archive(path: Path) -> bool:
    """Whether it is a file that may be a workbook; nothing else is looked into, a device would never end."""
    return path.is_file() and is_zipfile(path)


def _sheet_records(file: Path, name: str) -> Records:
    """The sheet of a table in a workbook of its name."""
    if not _is_archive(file):
        raise DamagedError("a workbook (XLSX)")
    for title, records in sheets(file):
        if title.strip().lower() == name:
            return records
    raise DamagedError(f"a sheet called {name}")


def _workbook(path: Path, faults: list[CellError]) -> Iterator[tuple[str, _Source, Records]]:
    if not _is_archive(path):
        faults.append(_Source(path.name).fault("a folder of CSV files or a workbook (XLSX)"))
        return
    try:
        for title, records in sheets(path):
            name = title.strip().lower()
            if name not in (GUIDE, LIST):
                yield name, _Source(path.name, title), records
    except DamagedError as damage:
        faults.append(_Source(path.name, damage.sheet).fault(str(damage), damage.row))


def _csv_records(file: Path) -> Records:
    if not file.is_file():
        raise DamagedError(f"a file, but this is {_instead_of_file(file)}")
    try:
        raw = bounded_bytes(file)
    except OSError as closed:
        raise DamagedError(f"a file that can be read ({closed.strerror})") from closed
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise DamagedError("UTF-8 text, not UTF-16: save it as 'CSV UTF-8'")
    if b"\0" in raw or raw.startswith(b"PK\x03\x04"):
        raise DamagedError("a text file of comma-separated values, not a binary file")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as broken:
        row = raw.count(b"\n", 0, broken.start) + 1
        raise DamagedError("UTF-8 text: save it as 'CSV UTF-8'", row) from broken
    return _parsed_csv(text)


def _instead_of_file(path: Path) -> str:
    if path.is_dir():
        return "a folder"
    return "no file of text" if path.exists() else "a link that leads nowhere"


def _parsed_csv(text: str) -> Records:
    reader = csv.reader(StringIO(text, newline=""), strict=True)
    records: Records = []
    cells = 0
    try:
        for row in reader:
            records.append(row)
            cells += len(row)
            if cells > MOST_CELLS:
                raise DamagedError(f"no more than {MOST_CELLS:,} cells in a table", len(records))
    except csv.Error as broken:
        raise DamagedError(f"comma-separated values ({broken})", len(records) + 1) from broken
    header = records[0] if records else []
    if len(header) == 1 and (";" in header[0] or "\t" in header[0]):
        raise DamagedError("columns separated by commas, not by semicolons or tabs", 1)
    return records


def _frame(source: _Source, records: Records, faults: list[CellError]) -> pd.DataFrame | None:
    """The table as text, without rows where it has a header only; nothing where it has none, with the faults added."""
    while records and not any(cell.strip() for cell in records[-1]):
        records.pop()
    if not records:
        faults.append(source.fault("a row with the names of the columns"))
        return None
    width = max((place for place, cell in enumerate(records[0], 1) if cell.strip()), default=0)
    header = records[0][:width]
    bad_header = list(_header_faults(source, header))
    faults.extend(bad_header)
    if bad_header:
        return None
    rows = [_row(source, at, header, cells, faults) for at, cells in enumerate(records[1:], 2)]
    return pd.DataFrame(rows, columns=header, dtype=str)


def _header_faults(source: _Source, header: Sequence[str]) -> Iterator[CellError]:
    if not header:
        yield source.fault("the names of the columns", 1)
    counts = Counter(column_name(column) for column in header)
    for place, column in enumerate(header, 1):
        if not column.strip():
            yield source.fault(f"a name for column number {place}", 1)
        elif counts[column_name(column)] > 1:
            yield source.fault("each column once", 1, column, column)


def column_name(header: str) -> str:
    """A column's name as it is compared: spaces round it and capitals do not matter."""
    return header.strip().lower()


def _row(source: _Source, at: int, header: Sequence[str], cells: list[str], faults: list[CellError]) -> list[str]:
    """One row of clean text, as wide as the header."""
    blank = not any(cell.strip() for cell in cells)
    if not blank and (len(cells) < len(header) or any(cell.strip() for cell in cells[len(header) :])):
        faults.append(
            source.fault(f"{counted(len(header), 'cell')}, as in the header", at, value=counted(len(cells), "cell"))
        )
    padded = [*cells[: len(header)], *[""] * (len(header) - len(cells))]
    return [_clean(source, at, column, cell, faults) for column, cell in zip(header, padded, strict=True)]


def _clean(source: _Source, at: int, column: str, cell: str, faults: list[CellError]) -> str:
    text = cell.replace("\r\n", "\n").replace("\r", "\n")
    if len(text) > LONGEST_TEXT:
        faults.append(source.fault(f"at most {LONGEST_TEXT} characters", at, column, text[:20] + "..."))
        return ""
    if not text.isprintable() and any(unicodedata.category(sign) == "Cc" and sign not in "\n\t" for sign in text):
        faults.append(source.fault("text without control characters", at, column, text))
        return ""
    if not text.isprintable() and any(unicodedata.bidirectional(sign) in OVERRIDES for sign in text):
        faults.append(source.fault("text without signs that turn its direction round", at, column, repr(text)))
        return ""
    if FAILED_FORMULA.fullmatch(text.strip()):
        faults.append(source.fault("a value, but the formula here has failed", at, column, text))
        return ""
    return text
