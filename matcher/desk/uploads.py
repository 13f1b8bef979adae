"""A catalogue that comes as a workbook through the browser: read from a temporary file, never kept on disk."""

from __future__ import annotations

import tempfile
from dataclasses import replace
from pathlib import Path
from typing import TypeAlias
from zipfile import BadZipFile, ZipFile

from matcher.catalogue import read_catalogue
from matcher.records import Catalogue, CatalogueError, UsageError

Source: TypeAlias = Path | bytes
"""Where a catalogue came from: its folder or workbook on this machine, or the bytes of an upload."""
LARGEST = 20_000_000
"""Bytes of a workbook that are taken."""
UNPACKED = 200_000_000
"""Bytes it may unpack to: a workbook is an archive, and a small one may hold a great deal."""
HELD_AS = "upload.xlsx"


class TooLargeError(Exception):
    """More was sent than is taken."""


def read_upload(content: bytes, name: str) -> Catalogue:
    """The catalogue in a workbook's bytes. ``name`` is only ever shown: it is part of no path.

    Raises
    ------
    CatalogueError
        As `read_catalogue`, with ``name`` as the file.
    UsageError
        Nothing was sent.
    TooLargeError
        The workbook unpacks to more than `UNPACKED`.
    """
    if not content:
        raise UsageError("no file was chosen: expected an .xlsx workbook")
    with tempfile.TemporaryDirectory(prefix="matcher-") as folder:
        held = Path(folder, HELD_AS)
        held.write_bytes(content)
        if _unpacked(held) > UNPACKED:
            raise TooLargeError(f"{name}: a workbook that unpacks to at most {UNPACKED // 10**6} MB is taken")
        try:
            return read_catalogue(held)
        except CatalogueError as refused:
            cells = (replace(cell, file=name) if cell.file == HELD_AS else cell for cell in refused.cells)
            raise CatalogueError(cells) from None


def _unpacked(held: Path) -> int:
    try:
        with ZipFile(held) as archive:
            return sum(member.file_size for member in archive.infolist())
    except (BadZipFile, OSError, ValueError):
        return 0  # no archive: reading it will say so
