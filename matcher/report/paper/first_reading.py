"""The page after the poster: what to know before loading, where each kind lies, and what the bundle does not bring."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from matcher.planning import Fits, piece_words
from matcher.records import Level, listed
from matcher.report.paper.at_the_cabinet import always_told, free_told, told_at
from matcher.report.paper.drawer_index import IndexPlace, in_order, kind_index
from matcher.report.paper.flow import LINE, Flow
from matcher.report.paper.sheets import MARGIN, Sheets

COLUMNS, BETWEEN, INDENT = 3, 6.0, 3.0
"""Columns of the index; the distance between them and how far in an entry goes on, in millimeters."""
TEXT, STEP = 8.0, 3.9
"""Size of the index in points, height of its lines in millimeters."""


HEADINGS: Mapping[Level, str] = {"error": "Stop", "caution": "Cautions for this cabinet with these tools"}


def first_reading(sheets: Sheets, outcome: Fits, pages: Mapping[str, int]) -> None:
    """Cautions first, those that say stop before all; ``pages`` says where each drawer is drawn."""
    flow = Flow(sheets, "Before you open a drawer")
    for level, heading in HEADINGS.items():
        texts = told_at(outcome, level)
        if texts:
            flow.points(heading, texts)
    flow.points("At the cabinet", tuple(always_told(outcome)))
    free = tuple(free_drawers_told(outcome))
    if free:
        flow.points("Free for your own tools", free)
    _index(flow, outcome, pages)
    missing = tuple(not_included(outcome))
    if missing:
        flow.points("Not included", missing)


def _index(flow: Flow, outcome: Fits, pages: Mapping[str, int]) -> None:
    """All kinds down one column, then the next; columns as equal as they can be."""
    width = (flow.room - BETWEEN * (COLUMNS - 1)) / COLUMNS
    entries = [
        flow.sheets.lines(
            f"{entry.name}: {', '.join(_place(place, pages) for place in entry.places)}", TEXT, width - INDENT
        )
        for entry in kind_index(outcome)
    ]
    lines = [(INDENT if number else 0.0, line) for entry in entries for number, line in enumerate(entry)]
    high = -(-len(lines) // COLUMNS)
    flow.subhead("Where each kind lies: drawer and page", high * STEP, 2 * LINE)
    for row in range(high):
        flow.need(STEP)
        for column, (indent, line) in enumerate(lines[row::high]):
            flow.sheets.write(MARGIN + column * (width + BETWEEN) + indent, flow.y, line, TEXT, room=width)
        flow.y += STEP


def _place(place: IndexPlace, pages: Mapping[str, int]) -> str:
    """A drawer with its page, e.g. ``B4 p. 5 (metric)``."""
    system = f" ({place.system})" if place.system else ""
    page = f" p. {pages[place.drawer]}" if place.drawer in pages else ""
    return f"{place.drawer}{page}{system}".replace(" p. ", "\u00a0p.\u00a0")


def free_drawers_told(outcome: Fits) -> Iterator[str]:
    """Free drawers that are alike in one line: how large they are inside, what they are for, how much they may hold."""
    unit, plan = outcome.question.unit, outcome.plan
    alike: dict[str, list[str]] = {}
    for drawer in in_order(outcome.question.cabinet):
        if drawer.name in plan.free_drawers:
            sides = (drawer.inside_width, drawer.inside_depth, drawer.clear_height)
            use = ", for things in their own cases" if drawer.slot == "no foam" else ""
            alike.setdefault(f"{unit.inside(*sides)} {unit.name} inside{use}", []).append(drawer.name)
    for told, names in alike.items():
        yield f"{'drawer' if len(names) == 1 else 'drawers'} {listed(names)}: {told}"
    if alike:
        yield (
            f"Put in {listed(free_told(outcome))}, and never more than the maker's rating and manual allow: so the "
            "cabinet does not tip when one drawer is open, however full the others are."
        )


def not_included(outcome: Fits) -> Iterator[str]:
    """What a buyer might expect and does not get."""
    plan = outcome.plan
    left = outcome.question.left_out
    for name in dict.fromkeys(one.group for one in left):
        yield f"of {name}: {', '.join(piece_words(one) for one in left if one.group == name)}"
    cased = [group.name for group in plan.groups if group.cased]
    if cased:
        yield f"foam for {', '.join(cased)}: they stay in their own cases"
    unlisted = [group.name for group in plan.groups if not group.pieces]
    if unlisted:
        yield f"a list of the pieces of {', '.join(unlisted)}: their organizers come ready-made, see what they name"
