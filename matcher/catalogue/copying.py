"""A catalogue from one form to the other: a folder of CSV files to a workbook and back, texts and row order kept."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from matcher.catalogue.tables import TABLES, tables
from matcher.catalogue.writing import write_folder, write_workbook
from matcher.records import UsageError, whole_folder


def copy_catalogue(source: Path, path: Path, *, as_workbook: bool) -> tuple[str, ...]:
    """Write all tables of ``source`` to ``path``, whole or not at all; returns what stays behind, told.

    It is a workbook, or a new or empty folder.

    Raises
    ------
    UsageError
        The copy cannot be written there.
    CatalogueError
        A file or sheet of the source is no table.
    """
    read = tables(source)
    ordered = {name: read[name] for name in TABLES if name in read}
    try:
        if as_workbook:
            write_workbook(ordered, path)
        else:
            with whole_folder(path) as made:
                write_folder(ordered, made)
    except OSError as closed:
        raise UsageError(f"{path}: cannot be written: {closed.strerror}") from closed
    return tuple(
        _left_behind(source, any("outline" in frame and frame["outline"].astype(bool).any() for frame in read.values()))
    )


def _left_behind(source: Path, outlines: bool) -> Iterator[str]:
    """Files beside the tables that are not copied."""
    folder = source if source.is_dir() else source.parent
    if source.is_dir() and (folder / "house.toml").is_file():
        yield f"the house rules are no table: name {folder / 'house.toml'} whenever the copy is used"
    if outlines:
        yield f"outline files are not copied: their names are looked up beside the copy, they lie in {folder}"
