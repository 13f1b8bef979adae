"""A plan written earlier as a JSON document, read back as far as another plan is compared with it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, get_args

from matcher.records import PER_KG, PER_MM, Fill, GoalName, KeptOrganizer, Organizer, Snapshot, UsageError, bounded_text

GOALS, FILLS = get_args(GoalName), get_args(Fill)
MOST_MM = 10_000
MOST_KG = 10_000
EXPECTED = "expected the JSON document of a plan"


def read_kept(path: Path) -> Snapshot:
    """The plan in a file that holds the JSON document of one.

    Raises
    ------
    UsageError
        The file cannot be read, holds something else, or an answer without a plan.
    """
    return _plan(json_of(path, EXPECTED), path)


def read_earlier(path: Path) -> tuple[Snapshot, ...]:
    """The plan in a file that holds the JSON document of one, after those that it was itself added to.

    Raises
    ------
    UsageError
        As `read_kept` does.
    """
    document = json_of(path, EXPECTED)
    plan = _plan(document, path)
    run = document.get("run")
    wishes = run.get("wishes") if isinstance(run, dict) else None
    before = wishes.get("add_to") if isinstance(wishes, dict) else None
    return (*(_plan(one, path) for one in (before if isinstance(before, list) else ())), plan)


def _plan(document: Any, path: Path) -> Snapshot:
    if isinstance(document, dict) and document.get("verdict") in ("does not fit", "undecided"):
        raise UsageError(f"{path}: holds no plan: the verdict there is {document['verdict']!r}")
    try:
        return _snapshot(document)
    except (KeyError, TypeError, ValueError) as wrong:
        place = f"{wrong.args[0]!r} is missing or wrong" if isinstance(wrong, KeyError) else "not of this form"
        raise UsageError(f"{path}: {place}; {EXPECTED}") from wrong


def json_of(path: Path, expected: str) -> Any:
    """What a JSON file holds.

    Raises
    ------
    UsageError
        The file cannot be read, or is no JSON; says what was ``expected``.
    """
    try:
        return json.loads(bounded_text(path))
    except OSError as broken:
        raise UsageError(f"{path}: {broken.strerror or broken}; {expected}") from broken
    except (ValueError, RecursionError) as broken:
        raise UsageError(f"{path}: no JSON; {expected}") from broken


def _snapshot(document: Any) -> Snapshot:
    drawers = tuple((_text(row, "group"), _text(row, "drawer")) for row in _rows(document, "placements"))
    if len(dict(drawers)) != len(drawers):
        raise KeyError("placements")
    return Snapshot(
        set=_text(document, "set"),
        cabinet=_text(document, "cabinet"),
        drawers=drawers,
        free=tuple(_of(name, str, "free_drawers") for name in _rows(document, "free_drawers")),
        goals=tuple(
            (row["name"], _of(row["value"], int, "goals")) for row in _rows(document, "goals") if row["name"] in GOALS
        ),
        fill=document["fill"] if document["fill"] in FILLS else _of(None, str, "fill"),
        organizers=tuple(_organizer(row) for row in _rows(document, "placements") if "pieces" in row),
        settled=all(
            _of(row.get("proved", True), bool, "goals") for row in _rows(document, "goals") if row["name"] == "together"
        ),
    )


def _organizer(row: Any) -> KeptOrganizer:
    """An organizer of the plan; its field may be unknown, all else is there."""
    names = ("left_mm", "front_mm", "width_mm", "depth_mm", "height_mm")
    left, front, width, depth, height = (_length(row[name], name) for name in names)
    fields = ("field_width_mm", "field_depth_mm", "field_left_mm", "field_front_mm")
    wide, deep, begin, front_edge = (None if row[name] is None else _length(row[name], name) for name in fields)
    made = Organizer("", _text(row, "group"), width, depth, height, None, wide, deep, begin, front_edge)
    pieces = row["pieces"] if type(row["pieces"]) is int else _of(None, int, "pieces")
    low, high = (_mass(row.get(name), name) for name in ("mass_low_kg", "mass_high_kg"))
    return KeptOrganizer(_text(row, "drawer"), made, left, front, pieces, _text(row, "part_of"), low, high)


def _mass(value: Any, name: str) -> int:
    """Kilograms as a document tells them; 0 where it does not."""
    if value is None:
        return 0
    if type(value) not in (int, float) or not 0 <= value <= MOST_KG:
        raise KeyError(name)
    return round(float(value) * PER_KG)


def _length(value: Any, name: str) -> int:
    """Millimeters as a document tells them: a whole number of the grid's units."""
    if type(value) not in (int, float) or not 0 <= value <= MOST_MM:
        raise KeyError(name)
    return round(float(value) * PER_MM)


def _rows(document: Any, name: str) -> list[Any]:
    return _of(document[name], list, name)  # type: ignore[no-any-return]


def _text(row: Any, name: str) -> str:
    return _of(row[name], str, name)  # type: ignore[no-any-return]


def _of(value: Any, kind: type, name: str) -> Any:
    """The value if it is of that kind; the fault of the key ``name`` if not."""
    if not isinstance(value, kind):
        raise KeyError(name)
    return value
