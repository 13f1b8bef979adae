"""The demonstration catalogue, an invented scenario that comes with the package, as files of a planner's own."""

from __future__ import annotations

from importlib.resources import as_file, files
from importlib.resources.abc import Traversable
from pathlib import Path

import pandas as pd

from matcher.catalogue.tables import tables
from matcher.records import UsageError, whole_folder

CABINET_TABLES = ("drawers", "obstructions", "cabinets", "foam")


def write_demo(folder: Path) -> None:
    """Write the demonstration catalogue to a new or empty ``folder``, whole or not at all.

    Raises
    ------
    UsageError
        There is a file of that name, the folder is not empty, or it cannot be written.
    """
    if folder.exists() and not (folder.is_dir() and not any(folder.iterdir())):
        raise UsageError(f"{folder} is there already; expected a new or empty folder")
    above = folder.absolute().parent
    if not above.is_dir():
        raise UsageError(f"{folder}: the folder {above} does not exist")
    try:
        with whole_folder(folder) as made:
            for file in _packaged().iterdir():
                (made / file.name).write_bytes(file.read_bytes())
    except OSError as closed:
        raise UsageError(f"{folder} cannot be written: {closed.strerror}") from closed


def cabinet_tables(source: Path | None = None) -> dict[str, pd.DataFrame]:
    """The tables that tell of cabinets and foam: of a catalogue, or else of the demonstration.

    Raises
    ------
    UsageError
        The catalogue has no drawers.
    """
    if source is None:
        with as_file(_packaged()) as folder:
            return cabinet_tables(folder)
    found = tables(source)
    if "drawers" not in found:
        raise UsageError(f"{source}: has no table of drawers")
    return {name: found[name] for name in CABINET_TABLES if name in found}


def _packaged() -> Traversable:
    """The catalogue's place: in the package, or beside it in a checkout, where it lies once for all."""
    package = files("matcher")
    demo = package / "demo"
    return demo if demo.is_dir() else package.joinpath("..", "data", "workshop")
