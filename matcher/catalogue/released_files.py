"""A catalogue with the rows of a release beside the plan's document: all of it is there, or nothing is."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from math import ceil, floor
from pathlib import Path

import pandas as pd

from matcher.catalogue.tables import TABLES, column_name, tables
from matcher.catalogue.writing import write_folder, write_workbook
from matcher.records import PER_INCH, PER_KG, PER_LB, PER_MM, Organizer, UsageError, whole_folder

PLAN = "plan.json"
RULES = "house.toml"
LENGTHS = ("width", "depth", "height", "field_width", "field_depth", "field_left", "field_front")
DOWN = ("field_left", "field_front")
"""Lengths that are rounded down when they are read; all others are rounded up."""
TOLD = (
    *("set", "group", *LENGTHS, "mass", "family", "tier", "system", "part", "revision", "unit_cost", "foam"),
    *("cabinet", "drawer", "pieces", "part_of", "first_piece"),
)
"""Columns of a new row; nothing is on hand of it."""
DIGITS = 9
"""Decimals of an inch or pound that is no shop fraction: finer than any length is kept."""


def plan_beside(path: Path) -> Path:
    """Where the plan's document lies: in the folder, or beside the workbook under its name."""
    return path.with_suffix(f".{PLAN}") if path.suffix.lower() == ".xlsx" else path / PLAN


def write_release(source: Path, path: Path, rows: Iterable[Organizer], document: str) -> tuple[str, ...]:
    """Copy a catalogue with new rows of organizers to a folder or workbook, the plan's document beside it; what stays.

    Rows that are there keep their cells. A folder also gets house rules and drawings of outlines.

    Raises
    ------
    UsageError
        Something is there already, or cannot be written there.
    CatalogueError
        A file or sheet of the source is no table.
    """
    if plan_beside(path).exists() or (path.suffix and path.exists()):
        there = plan_beside(path) if plan_beside(path).exists() else path
        raise UsageError(f"{there}: is there already; a release is never replaced")
    read = tables(source)
    read["organizers"] = with_new_rows(read.get("organizers"), list(rows))
    ordered = {name: read[name] for name in TABLES if name in read}
    try:
        if path.suffix.lower() == ".xlsx":
            _workbook(ordered, path, document)
            return tuple(_left_behind(source, read))
        _folder(ordered, source, path, document)
    except OSError as closed:
        raise UsageError(f"{path}: cannot be written: {closed.strerror or closed}") from closed
    return ()


def _folder(ordered: Mapping[str, pd.DataFrame], source: Path, path: Path, document: str) -> None:
    with whole_folder(path) as made:
        write_folder(ordered, made)
        (made / PLAN).write_text(document, encoding="utf-8")
        for file in _files(source, ordered):
            (made / file).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile((source if source.is_dir() else source.parent) / file, made / file)


def _workbook(ordered: Mapping[str, pd.DataFrame], path: Path, document: str) -> None:
    """Both files; the plan's document is taken back if the workbook cannot take its place."""
    beside = plan_beside(path)
    part = beside.with_name(f".{beside.name}.part")
    try:
        part.write_text(document, encoding="utf-8")
        part.replace(beside)
        _or_else(lambda: write_workbook(ordered, path), lambda: beside.unlink(missing_ok=True))
    finally:
        part.unlink(missing_ok=True)


def _or_else(act: Callable[[], None], undo: Callable[[], None]) -> None:
    try:
        act()
    except BaseException:
        undo()
        raise


def _files(source: Path, read: Mapping[str, pd.DataFrame]) -> list[str]:
    """House rules of a folder, and the drawings of outlines that its tools name."""
    rules = [RULES] if source.is_dir() and (source / RULES).is_file() else []
    return [*rules, *_outlines(read)]


def _outlines(read: Mapping[str, pd.DataFrame]) -> list[str]:
    frame = read.get("tools", pd.DataFrame())
    named = [header for header in frame.columns if column_name(header) == "outline"]
    return sorted({text.strip() for header in named for text in frame[header] if text.strip()})


def _left_behind(source: Path, read: Mapping[str, pd.DataFrame]) -> Iterable[str]:
    if RULES in _files(source, read):
        yield f"the house rules are no table: name {source / RULES} whenever the workbook is used"
    if _outlines(read):
        yield "drawings of outlines are not copied: their names are looked up beside the workbook"


def with_new_rows(frame: pd.DataFrame | None, rows: list[Organizer]) -> pd.DataFrame:
    """The table of organizers with new rows at its end, in the columns and units it has and others that they need."""
    if frame is None:
        frame = pd.DataFrame(columns=["set", "group", *(f"{name}_mm" for name in LENGTHS[:3])], dtype=str)
    headers = {_field(header): header for header in frame.columns}
    needed = [
        name for name in TOLD if name not in headers and any(getattr(row, name) not in (None, "") for row in rows)
    ]
    added = {name: f"{name}_mm" if name in LENGTHS else f"{name}_kg" if name == "mass" else name for name in needed}
    headers |= added
    columns = [*frame.columns, *added.values()]
    told = [{headers[name]: _cell(row, name, headers[name]) for name in TOLD if name in headers} for row in rows]
    whole = pd.concat([frame, pd.DataFrame(told, columns=columns, dtype=str)], ignore_index=True)
    return whole.reindex(columns=columns).fillna("")


def _field(header: str) -> str:
    """The field that a column holds: its name without the unit."""
    name = column_name(header)
    return next((name.removesuffix(unit) for unit in ("_mm", "_in", "_kg", "_lb") if name.endswith(unit)), name)


def _cell(row: Organizer, name: str, header: str) -> str:
    """A value as its column's unit has it, so that it is read back exactly."""
    value = getattr(row, name)
    if value is None or value == "":
        return ""
    unit = column_name(header)
    if name in LENGTHS:
        return _decimal(Fraction(value, PER_INCH if unit.endswith("_in") else PER_MM), up=name in DOWN)
    if name == "mass":
        return _decimal(Fraction(value, PER_LB if unit.endswith("_lb") else PER_KG), up=False)
    return f"{value:.2f}" if isinstance(value, float) else str(value)


def _decimal(value: Fraction, *, up: bool) -> str:
    """A decimal that is rounded back to the value."""
    scaled = value * 10**DIGITS
    whole = ceil(scaled) if up else floor(scaled)
    return f"{whole // 10**DIGITS}.{whole % 10**DIGITS:0{DIGITS}d}".rstrip("0").rstrip(".")
