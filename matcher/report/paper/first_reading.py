"""The page after the poster: what to know before loading, where each kind lies, and what the bundle does not bring."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from matcher.planning import Fits, piece_words
from matcher.records import Level
from matcher.report.paper.at_the_cabinet import always_told, told_at
from matcher.report.paper.drawer_index import in_order, kind_index
from matcher.report.paper.flow import LINE, Flow
from matcher.report.paper.sheets import MARGIN, Sheets

COLUMNS, BETWEEN, INDENT = 3, 6.0, 3.0
"""Columns of the index; the distance between them and how far in an entry goes on, in millimeters."""
TEXT, STEP = 8.0, 3.9
"""Size of the index in points, height of its lines in millimeters."""


HEADINGS: Mapping[Level, str] = {"error": "Stop", "caution": "Cautions for this cabinet with these tools"}


def first_reading(sheets: Sheets, outcome: Fits) -> None:
    """Cautions first, those that say stop before all."""
    flow = Flow(sheets, "Before you open a drawer")
    for level, heading in HEADINGS.items():
        texts = told_at(outcome, level)
        if texts:
            flow.points(heading, texts)
    flow.points("At the cabinet", tuple(always_told(outcome)))
    _index(flow, outcome)
    flow.points("Not included", not_included(outcome))


def _index(flow: Flow, outcome: Fits) -> None:
    """All kinds down one column, then the next; columns as equal as they can be."""
    width = (flow.room - BETWEEN * (COLUMNS - 1)) / COLUMNS
    entries = [
        flow.sheets.lines(f"{entry.name}: {', '.join(entry.drawers)}", TEXT, width - INDENT)
        for entry in kind_index(outcome)
    ]
    lines = [(INDENT if number else 0.0, line) for entry in entries for number, line in enumerate(entry)]
    high = -(-len(lines) // COLUMNS)
    flow.subhead("Where each kind lies, by drawer", high * STEP, 2 * LINE)
    for row in range(high):
        flow.need(STEP)
        for column, (indent, line) in enumerate(lines[row::high]):
            flow.sheets.write(MARGIN + column * (width + BETWEEN) + indent, flow.y, line, TEXT, room=width)
        flow.y += STEP


def not_included(outcome: Fits) -> Iterator[str]:
    """What a buyer might expect and does not get."""
    plan = outcome.plan
    left = outcome.question.left_out
    for name in dict.fromkeys(one.group for one in left):
        yield f"of {name}: {', '.join(piece_words(one) for one in left if one.group == name)}"
    for drawer in in_order(outcome.question.cabinet):
        if drawer.name in plan.free_drawers:
            sides = (drawer.inside_width, drawer.inside_depth, drawer.clear_height)
            size = f"{outcome.question.unit.inside(*sides)} {outcome.question.unit.name}"
            foam = ", takes no foam" if drawer.slot == "no foam" else ""
            yield f"anything for drawer {drawer.name}: it is free for your own tools ({size} inside{foam})"
    cased = [group.name for group in plan.groups if group.cased]
    if cased:
        yield f"foam for {', '.join(cased)}: they stay in their own cases"
    unlisted = [group.name for group in plan.groups if not group.pieces]
    if unlisted:
        yield f"a list of the pieces of {', '.join(unlisted)}: their organizers come ready-made, see what they name"
    yield "anything that is not in this guide"
