"""A catalogue from one form to the other: a folder of CSV files to a workbook and back, texts and row order kept."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from matcher.catalogue.tables import TABLES, tables
from matcher.catalogue.writing import write_tables
from matcher.records import UsageError


def copy_catalogue(source: Path, path: Path) -> tuple[str, ...]:
    """Write all tables of ``source`` to ``path``, a workbook (.xlsx) or a new folder; returns what stays behind, told.

    Raises
    ------
    UsageError
        The folder above ``path`` does not exist, or ``path`` is neither a workbook nor a new or empty folder.
    CatalogueError
        A file or sheet of the source is no table.
    """
    above = path.absolute().parent
    if not above.is_dir():
        raise UsageError(f"--out {path}: the folder {above} does not exist")
    is_book = path.suffix.lower() == ".xlsx"
    if not is_book and (path.suffix or path.is_file() or (path.is_dir() and any(path.iterdir()))):
        raise UsageError(f"--out {path}: expected a name ending in .xlsx, or a new or empty folder")
    read = tables(source)
    try:
        write_tables({name: read[name] for name in TABLES if name in read}, path)
    except OSError as closed:
        raise UsageError(f"--out {path}: cannot be written: {closed.strerror}") from closed
    return tuple(
        _left_behind(source, any("outline" in frame and frame["outline"].astype(bool).any() for frame in read.values()))
    )


def _left_behind(source: Path, outlines: bool) -> Iterator[str]:
    """Files beside the tables that are not copied."""
    folder = source if source.is_dir() else source.parent
    if source.is_dir() and (folder / "house.toml").is_file():
        yield f"the house rules are no table: give them to each command with --house {folder / 'house.toml'}"
    if outlines:
        yield f"outline files are not copied: their names are looked up beside the copy, they lie in {folder}"
