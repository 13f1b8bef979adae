"""The buyer's tick list: every piece by drawer, then what is not included."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from matcher.planning import Fits, piece_words
from matcher.records import Cabinet, Drawer, Group, to_mm
from matcher.report.paper.flow import TEXT, Flow
from matcher.report.paper.sheets import FAINT, MARGIN, Sheets

COLUMNS, ROW, TICK = 2, 5.2, 3.0
"""Pieces side by side; height of a line and side of a box to tick, in millimeters."""


def tick_pages(sheets: Sheets, outcome: Fits) -> None:
    """Drawer by drawer from the top, one box a piece or organizer; at the end what the bundle does not bring."""
    plan, cabinet = outcome.plan, outcome.question.cabinet
    flow = Flow(sheets, f"What is in which drawer: {outcome.set} in {outcome.cabinet}", "tick off while loading")
    groups = {group.name: group for group in plan.groups}
    for drawer in in_order(cabinet):
        for placement in plan.placements:
            if placement.drawer == drawer.name:
                _contents(flow, drawer, groups[placement.group])
    flow.points("Not included", not_included(outcome))


def in_order(cabinet: Cabinet) -> list[Drawer]:
    """Drawers as a person reads a front: row by row, then from the left."""
    return sorted(cabinet.drawers, key=lambda drawer: (drawer.row, drawer.bank, drawer.name))


def not_included(outcome: Fits) -> Iterator[str]:
    """What a buyer might expect and does not get."""
    plan = outcome.plan
    left = outcome.question.left_out
    for name in dict.fromkeys(one.group for one in left):
        yield f"of {name}: {', '.join(piece_words(one) for one in left if one.group == name)}"
    for drawer in in_order(outcome.question.cabinet):
        if drawer.name in plan.free_drawers:
            size = " x ".join(
                f"{to_mm(side):g}" for side in (drawer.inside_width, drawer.inside_depth, drawer.clear_height)
            )
            foam = ", takes no foam" if drawer.slot == "no foam" else ""
            yield f"anything for drawer {drawer.name}: it is free for your own tools ({size} mm inside{foam})"
    cased = [group.name for group in plan.groups if group.cased]
    if cased:
        yield f"foam for {', '.join(cased)}: they stay in their own cases"
    unlisted = [group.name for group in plan.groups if not group.pieces]
    if unlisted:
        yield f"a list of the pieces of {', '.join(unlisted)}: their organizers come ready-made, see what they name"
    yield "anything that is not on this list"


def pieces_of(group: Group) -> Sequence[str]:
    """The pieces of a group, one text each: by kind, drive and system, sizes ascending."""
    ordered = sorted(group.pieces, key=lambda sized: sized.listed)
    return [f"{sized.piece.count} x {sized.piece.tool}" for sized in ordered]


def _contents(flow: Flow, drawer: Drawer, group: Group) -> None:
    ready = group.organizer
    part = f", part {ready.part}" if ready and ready.part else ""
    _boxes(flow, f"Drawer {drawer.name}: {group.name}{part}", pieces_of(group) or ["organizer with its tools"])


def _boxes(flow: Flow, heading: str, texts: Sequence[str]) -> None:
    """Boxes with texts down one column, then the next; what no page holds goes on, with no line alone on a page."""
    width = flow.room / COLUMNS
    lines = -(-len(texts) // COLUMNS)
    flow.subhead(heading, lines * ROW, 2 * ROW)
    for row in range(lines):
        flow.need(ROW * min(2, lines - row))
        for column, text in enumerate(texts[row::lines]):
            left = MARGIN + column * width
            flow.sheets.box(left, flow.y - TICK + 0.4, TICK, TICK, color=FAINT, pen=0.2)
            flow.sheets.write(left + TICK + 2, flow.y, text, TEXT, room=width - TICK - 4)
        flow.y += ROW
