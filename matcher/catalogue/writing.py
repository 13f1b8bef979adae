"""Tables of text to files, rows in the order given; a file is complete before it takes its name."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pandas as pd

from matcher.catalogue.spreadsheet import BookSheet, SheetColumn, workbook


def write_workbook(tables: Mapping[str, pd.DataFrame], path: Path) -> None:
    """Write tables as the sheets of a workbook.

    All its cells are text, so that no spreadsheet turns 3/8 into a date or a name into a formula.
    """
    sheets = [_sheet(name, frame) for name, frame in tables.items()]
    _in_place(path, lambda part: part.write_bytes(workbook(sheets)))


def write_folder(tables: Mapping[str, pd.DataFrame], path: Path) -> None:
    """Write tables as CSV files into a folder, which is made if it is not there."""
    path.mkdir(parents=True, exist_ok=True)
    for name, frame in tables.items():
        _in_place(path / f"{name}.csv", lambda part, frame=frame: _write_csv(frame, part))  # type: ignore[misc]


def _in_place(path: Path, write: Callable[[Path], object]) -> None:
    part = path.with_name(f".{path.name}.part")
    try:
        write(part)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def _write_csv(frame: pd.DataFrame, path: Path) -> None:
    frame.to_csv(path, index=False, encoding="utf-8", lineterminator="\n")


def _sheet(name: str, frame: pd.DataFrame) -> BookSheet:
    columns = tuple(SheetColumn(heading) for heading in frame.columns)
    return BookSheet(name, columns, tuple(frame.itertuples(index=False, name=None)))
