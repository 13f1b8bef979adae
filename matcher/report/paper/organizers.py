"""Every drawer with its organizers from above, true to scale with a scale bar."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from matcher.records import Cabinet, Drawer, Group, Placement, Plan, show_mm, to_mm
from matcher.report.front import FrontBox
from matcher.report.paper.poster_paper import color_of
from matcher.report.paper.shapes import PaperShape, ShapePart, drawer_shapes, organizer_shapes
from matcher.report.paper.sheets import FAINT, MARGIN, POINT, Sheets, scale_bar, scale_for, turned
from matcher.report.paper.surfaces import Color, Point
from matcher.report.paper.tick_list import in_order
from matcher.report.picture_labels import PictureLabel, picture_labels
from matcher.report.poster import UNKNOWN, hatched

FILLS: dict[ShapePart, Color | None] = {
    "drawer": None,
    "taken": (143, 138, 128),
    "foam": None,
    "notch": (255, 255, 255),
    "pocket": (160, 166, 172),
    "tool": (247, 249, 250),
    "hole": (160, 166, 172),
    "seam": None,
}
LEAST, MOST = 6.0, 9.0
"""Smallest and largest size of written words, in points; smaller ones are left out: the tick list has them too."""
HATCH = 6.0
"""Distance between the lines over an organizer of which no pockets are known, in millimeters on paper."""


def organizer_pages(sheets: Sheets, plan: Plan, cabinet: Cabinet, colors: Mapping[str, str]) -> None:
    """One page a drawer with pockets, in the order of the drawers; where none are known there is nothing to see."""
    groups = {group.name: group for group in plan.groups}
    for drawer in in_order(cabinet):
        held = [placement for placement in plan.placements if placement.drawer == drawer.name]
        if any(placement.layout for placement in held):
            _page(sheets, drawer, [(groups[placement.group], placement) for placement in held], colors)


def _page(
    sheets: Sheets, drawer: Drawer, contents: Sequence[tuple[Group, Placement]], colors: Mapping[str, str]
) -> None:
    sheets.page(landscape=True)
    room = sheets.width - 2 * MARGIN
    names = " + ".join(group.name for group, _ in contents)
    sheets.write(MARGIN, MARGIN + 4, f"Drawer {drawer.name}: {names}", 12, room=room)
    sizes = "; ".join(f"{group.name} {_size(placement)}, {placement.how}" for group, placement in contents)
    sheets.write(MARGIN, MARGIN + 9, sizes, 8.5, room=room, color=FAINT, least=LEAST)
    width, depth = to_mm(drawer.inside_width), to_mm(drawer.inside_depth)
    scale = scale_for(width, depth, room, sheets.height - 2 * MARGIN - 17)
    left, floor = MARGIN + (room - width / scale) / 2, MARGIN + 11 + depth / scale
    for shape in drawer_shapes(drawer):
        _draw(sheets, shape, left, floor, scale, FILLS[shape.part])
    for group, placement in contents:
        corner = left + to_mm(placement.left) / scale, floor - to_mm(placement.front) / scale
        for shape in organizer_shapes(group, placement):
            fill = color_of(colors[group.family]) if shape.part == "foam" else FILLS[shape.part]
            _draw(sheets, shape, *corner, scale, fill)
        if not placement.layout and not group.cased:
            _unknown(sheets, placement, corner, scale)
        for word in picture_labels(group, placement, drawer.inside_width):
            _word(sheets, word, *corner, scale)
    sheets.write(MARGIN + room / 2, floor + 4.5, "FRONT", 9, align="C")
    scale_bar(sheets, MARGIN, floor + 4, scale, 100)


def _size(placement: Placement) -> str:
    size, layout = f"{to_mm(placement.width):.1f} x {to_mm(placement.depth):.1f} mm", placement.layout
    if layout is None or not layout.base:
        return size
    return f"{size}, {show_mm(layout.thickness - layout.base)} on a base of {show_mm(layout.base)}"


def _draw(sheets: Sheets, shape: PaperShape, left: float, bottom: float, scale: float, fill: Color | None) -> None:
    points, dash = turned(shape.ring, left, bottom, scale), 1.5 if shape.part == "drawer" else 0
    if shape.part == "seam":
        sheets.trace(points, color=FAINT, pen=0.08)
    else:
        sheets.ring(points, fill=fill, pen=0.1 if shape.part in ("tool", "hole") else 0.2, dash=dash)


def _unknown(sheets: Sheets, placement: Placement, corner: Point, scale: float) -> None:
    """Lines and words over a ready-made organizer of which no pockets are known."""
    width, depth = to_mm(placement.width) / scale, to_mm(placement.depth) / scale
    for start, end in hatched(FrontBox(corner[0], corner[1] - depth, width, depth), HATCH):
        sheets.line(start, end, pen=0.1)
    middle = corner[0] + width / 2, corner[1] - depth / 2
    sheets.box(middle[0] - 20, middle[1] - 3, 40, 4.5, fill=(255, 255, 255), color=(255, 255, 255), pen=0.01)
    sheets.write(*middle, UNKNOWN, 8, align="C")


def _word(sheets: Sheets, word: PictureLabel, left: float, bottom: float, scale: float) -> None:
    points = min(word.height / scale / POINT, MOST)
    if points < LEAST:
        return
    x, y = turned([(word.x, word.y)], left, bottom, scale)[0]
    shift = 0.35 * points * POINT
    if word.upright:
        sheets.write_up(x + shift, y, word.text, points)
    else:
        sheets.write(x, y + shift, word.text, points, align="C")
