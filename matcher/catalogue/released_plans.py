"""A released plan in its JSON document, read back whole."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from matcher.catalogue.kept import json_of
from matcher.catalogue.record_documents import from_document
from matcher.records import ReleasedPlan, UsageError

EXPECTED = "expected the document of a released plan"


def read_released(path: Path) -> ReleasedPlan:
    """The released plan in a file that ``release`` wrote.

    Raises
    ------
    UsageError
        The file cannot be read, or holds no released plan.
    """
    document = json_of(path, EXPECTED)
    if not isinstance(document, dict) or "released" not in document:
        raise UsageError(f"{path}: holds no released plan; {EXPECTED}")
    try:
        return _sound(from_document(ReleasedPlan, document["released"]))
    except KeyError as wrong:
        raise UsageError(f"{path}: {wrong.args[0]!r} is missing or wrong; {EXPECTED}") from wrong


def _sound(plan: ReleasedPlan) -> ReleasedPlan:
    """The plan, if every organizer has a drawer of the plan, groups are there once, and pockets have their tools."""
    drawers = {drawer.name for drawer in plan.drawers}
    if len({one.planned_for for one in plan.organizers}) < len(plan.organizers):
        raise KeyError("group")
    for one in plan.organizers:
        if one.placement.drawer not in drawers:
            raise KeyError("drawer")
        if one.row is None and one.placement.how not in ("cased", "unordered"):
            raise KeyError("row")
        if one.placement.layout and any(not 0 <= p.piece < len(one.tools) for p in one.placement.layout.pockets):
            raise KeyError("piece")
    return plan


def is_released(path: Path) -> bool:
    """Whether a plan's document is that of a release; no where it cannot be read at all.

    Raises
    ------
    UsageError
        The file cannot be read, or holds no JSON.
    """
    document: Any = json_of(path, EXPECTED)
    return isinstance(document, dict) and "released" in document
