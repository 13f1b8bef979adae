"""One label an organizer, to cut out: part, revision, cabinet, drawer, and which edge is the front."""

from __future__ import annotations

from matcher.records import Cabinet, Drawer, Group, Plan
from matcher.report.paper.sheets import FAINT, INK, MARGIN, Sheets
from matcher.report.paper.tick_list import in_order

COLUMNS, HEIGHT = 2, 50.0
"""Labels side by side, and a label's height in millimeters."""


def label_pages(sheets: Sheets, plan: Plan, cabinet: Cabinet) -> None:
    """Labels of all organizers in the order of their drawers; cased equipment has none."""
    groups = {group.name: group for group in plan.groups}
    labels = [
        (groups[placement.group], drawer)
        for drawer in in_order(cabinet)
        for placement in plan.placements
        if placement.drawer == drawer.name and not groups[placement.group].cased
    ]
    rows = int((sheets.paper.height - 2 * MARGIN) // HEIGHT)
    for number, (group, drawer) in enumerate(labels):
        place = number % (rows * COLUMNS)
        if place == 0:
            sheets.page()
        width = (sheets.width - 2 * MARGIN) / COLUMNS
        _label(sheets, plan, group, drawer, MARGIN + place % COLUMNS * width, MARGIN + place // COLUMNS * HEIGHT, width)


def _label(sheets: Sheets, plan: Plan, group: Group, drawer: Drawer, left: float, top: float, width: float) -> None:
    sheets.box(left, top, width, HEIGHT, color=FAINT, pen=0.15, dash=1.5)
    room = width - 10
    ready = group.organizer
    part = ready.part if ready and ready.part else "not given"
    revision = ready.revision if ready and ready.revision else "not given"
    sheets.write(left + 5, top + 9, group.name, 13, room=room)
    sheets.write(left + 5, top + 16, f"part {part}, revision {revision}", 9, room=room)
    sheets.write(left + 5, top + 22, f"set {plan.set}", 9, room=room)
    sheets.write(left + 5, top + 29, f"{plan.cabinet}, drawer {drawer.name}", 11, room=room)
    _arrow(sheets, left + width / 2, top + HEIGHT - 3)


def _arrow(sheets: Sheets, x: float, tip: float) -> None:
    """FRONT, and an arrow that points to the label's lower edge."""
    sheets.ring([(x - 7, tip - 6), (x + 7, tip - 6), (x, tip)], fill=INK)
    sheets.write(x, tip - 8, "FRONT", 10, align="C")
