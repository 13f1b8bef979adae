"""A release: the plan's document with its parts, and a table for the terminal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.catalogue import to_document
from matcher.planning import Fits, Outcome
from matcher.records import Organizer, ReleasedOrganizer, ReleasedPlan, counted, to_kg, to_mm
from matcher.report.document import plan_document
from matcher.report.grids import Grid
from matcher.report.terminal import plan_view

LENGTHS = ("width", "depth", "height", "field_width", "field_depth", "field_left", "field_front")


def release_document(outcome: Outcome, plan: ReleasedPlan | None) -> dict[str, Any]:
    """The plan's own document, its parts as rows, and all that is needed to check it later; no parts without a plan."""
    parts = [_part(one, one.row) for one in plan.organizers if one.row] if plan else []
    return plan_document(outcome) | {"parts": parts, "released": to_document(plan) if plan else None}


def _part(one: ReleasedOrganizer, row: Organizer) -> dict[str, Any]:
    sizes = {name: getattr(row, name) for name in LENGTHS}
    return {
        "group": one.planned_for,
        "part_of": one.part_of,
        "part": row.part,
        "revision": row.revision,
        "new": one.new,
        "instead_of": one.instead_of or None,
        "planned": one.planned,
        "drawer": one.placement.drawer,
        "pieces": one.tool_count,
        **{f"{name}_mm": None if size is None else to_mm(size) for name, size in sizes.items()},
        "mass_kg": None if row.mass is None else to_kg(row.mass),
        "foam": row.foam,
        "unit_cost": row.unit_cost,
    }


def release_view(outcome: Outcome, plan: ReleasedPlan | None) -> RenderableType:
    """What is released; why not where there is no plan."""
    if plan is None or not isinstance(outcome, Fits):
        return Stack(Text("nothing is released: there is no plan", "bold"), plan_view(outcome))
    return Stack(*_lines(outcome, plan))


def release_shown(outcome: Outcome, plan: ReleasedPlan | None) -> dict[str, Any]:
    """What a page shows of a release: a heading, a row a part, and how many pieces in new parts nobody measured."""
    held = [one for one in plan.organizers if one.row] if plan else []
    columns = ("group", "drawer", "part", "what", "foam", "cost")
    return {
        "heading": _heading(outcome, plan) if plan else "",
        "rows": [dict(zip(columns, _row(one), strict=True)) for one in held],
        "guessed": _guessed(plan) if plan else 0,
    }


def _heading(outcome: Outcome, plan: ReleasedPlan) -> str:
    held = [one for one in plan.organizers if one.row]
    new = sum(one.new for one in held)
    told = f"{counted(len(held), 'organizer')}, {counted(new, 'new part')}; {len(held) - new} keep theirs"
    return f"{outcome.set} in {outcome.cabinet}: {told}"


def _guessed(plan: ReleasedPlan) -> int:
    """Pieces with estimated sizes in new parts."""
    return sum(tool.count for one in plan.organizers if one.new for tool in one.tools if tool.basis == "estimated")


def _lines(outcome: Fits, plan: ReleasedPlan) -> Iterator[RenderableType]:
    yield Text(_heading(outcome, plan), "bold")
    table = Grid("~group", "drawer", "part", "~=what it is", "~foam", "*cost")
    for one in plan.organizers:
        if one.row:
            table.add_row(*_row(one))
    yield table
    if guessed := _guessed(plan):
        yield Text(
            f"! {counted(guessed, 'piece')} in new parts have estimated sizes: measure them before foam is cut",
            "yellow",
        )


def _row(one: ReleasedOrganizer) -> tuple[str, ...]:
    row = one.row
    assert row is not None
    cost = "" if row.unit_cost is None else f"{row.unit_cost:.2f}"
    part = f"{row.part} {row.revision}".strip() or "-"
    return one.planned_for, one.placement.drawer, part, _what(one), row.foam, cost


def _what(one: ReleasedOrganizer) -> str:
    if not one.new:
        return "keeps its part" if one.planned == "as is" else f"keeps its part, {one.planned}"
    if one.planned == "trim":
        return f"new, trimmed from {one.instead_of or 'the one there is'}"
    return f"new, instead of {one.instead_of}" if one.instead_of else "new"
