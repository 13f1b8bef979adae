"""One label an organizer, to cut out: part, revision, cabinet, drawer, what lies beside it, which edge is the front."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from matcher.records import Cabinet, Group, Plan, listed
from matcher.report.paper.drawer_index import in_order
from matcher.report.paper.poster_paper import color_of
from matcher.report.paper.sheets import FAINT, INK, MARGIN, Sheets

COLUMNS, HEIGHT, BAND = 2, 50.0, 6.0
"""Labels side by side; a label's height and the width of the band in its family's color, in millimeters."""


def label_pages(sheets: Sheets, plan: Plan, cabinet: Cabinet, colors: Mapping[str, str]) -> None:
    """Labels of all organizers in the order of their drawers; cased equipment has none."""
    groups = {group.name: group for group in plan.groups}
    labels = [
        (groups[placement.group], drawer, [other.group for other in held if other != placement])
        for drawer in in_order(cabinet)
        if (held := [placement for placement in plan.placements if placement.drawer == drawer.name])
        for placement in held
        if not groups[placement.group].cased
    ]
    rows = int((sheets.paper.height - 2 * MARGIN) // HEIGHT)
    for number, (group, drawer, beside) in enumerate(labels):
        place = number % (rows * COLUMNS)
        if place == 0:
            sheets.page()
        width = (sheets.width - 2 * MARGIN) / COLUMNS
        where = f"{plan.cabinet}, drawer {drawer.name}"
        corner = MARGIN + place % COLUMNS * width, MARGIN + place // COLUMNS * HEIGHT
        sheets.box(*corner, BAND, HEIGHT, fill=color_of(colors[group.family]), pen=0.05)
        _label(sheets, group, (f"set {plan.set}", where, beside), corner, width)


def _label(
    sheets: Sheets, group: Group, place: tuple[str, str, Sequence[str]], corner: tuple[float, float], width: float
) -> None:
    """A label: what the organizer is called, of which set, where it goes and beside which others."""
    (of, where, beside), (left, top) = place, corner
    sheets.box(left, top, width, HEIGHT, color=FAINT, pen=0.15, dash=1.5)
    room = width - 10 - BAND
    ready = group.organizer
    given = (("part", ready.part), ("revision", ready.revision)) if ready else ()
    part = ", ".join(f"{word} {value}" for word, value in given if value)
    sheets.write(left + BAND + 4, top + 9, group.name, 13, room=room)
    sheets.write(left + BAND + 4, top + 16, part, 9, room=room)
    sheets.write(left + BAND + 4, top + 22, of, 9, room=room)
    sheets.write(left + BAND + 4, top + 29, where, 11, room=room)
    if beside:
        sheets.write(left + BAND + 4, top + 34, f"beside {listed(beside)}", 7, room=room)
    _arrow(sheets, left + width / 2, top + HEIGHT - 3)


def _arrow(sheets: Sheets, x: float, tip: float) -> None:
    """FRONT, and an arrow that points to the label's lower edge."""
    sheets.ring([(x - 7, tip - 6), (x + 7, tip - 6), (x, tip)], fill=INK)
    sheets.write(x, tip - 8, "FRONT", 10, align="C")
