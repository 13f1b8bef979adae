"""Whether a released plan still holds: as a document and as lines, drawer by drawer."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.planning import DrawerStanding, PlanStanding
from matcher.records import counted, listed


def standing_document(found: PlanStanding) -> dict[str, Any]:
    """Whether it holds, what broke in which drawer, and what changed without breaking anything."""
    return {
        "set": found.plan.snapshot.set,
        "cabinet": found.plan.snapshot.cabinet,
        "holds": found.holds,
        "broke": list(found.broke),
        "changed": list(found.changed),
        "drawers": [
            {
                "drawer": one.drawer,
                "groups": list(one.groups),
                "parts": list(one.parts),
                "holds": one.holds,
                "broke": list(one.broke),
                "changed": list(one.changed),
            }
            for one in found.drawers
        ],
    }


def standing_words(found: PlanStanding) -> str:
    """The answer in one sentence."""
    told, broken = found.plan.snapshot, [one.drawer for one in found.drawers if not one.holds]
    if found.holds:
        drawers = counted(len(found.drawers), "drawer")
        return f"The plan of {told.set} in {told.cabinet} still holds in all of its {drawers}."
    return f"The plan of {told.set} in {told.cabinet} no longer holds{f' in {listed(broken)}' if broken else ''}."


def standing_view(found: PlanStanding) -> RenderableType:
    """The answer in one line, then every drawer in which something broke or changed."""
    return Stack(*_lines(found))


def _lines(found: PlanStanding) -> Iterator[Text]:
    yield Text(standing_words(found), "bold green" if found.holds else "bold red")
    yield from (Text(f"  {words}") for words in found.broke)
    for one in found.drawers:
        yield from _drawer(one)
    yield from (Text(f"  {words}") for words in found.changed)
    held = [one.drawer for one in found.drawers if one.holds]
    if held and not found.holds:
        yield Text(f"Still as released: {listed(held)}.")


def _drawer(one: DrawerStanding) -> Iterator[Text]:
    if one.broke or one.changed:
        parts = f" ({listed(one.parts)})" if one.parts else ""
        verdict = "broken" if one.broke else "changed, but holds"
        yield Text(f"{one.drawer}, {listed(one.groups)}{parts}: {verdict}", "bold")
        yield from (Text(f"  {words}") for words in (*one.broke, *one.changed))
