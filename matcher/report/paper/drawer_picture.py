"""A drawer with its organizers from above, true to scale, in its place on a page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from matcher.records import Drawer, Group, Placement, to_mm
from matcher.report.front import FrontBox
from matcher.report.paper.poster_paper import color_of
from matcher.report.paper.shapes import PaperShape, ShapePart, drawer_shapes, organizer_shapes
from matcher.report.paper.sheets import FAINT, POINT, Sheets, length_bar, turned
from matcher.report.paper.surfaces import Color, Point
from matcher.report.picture_labels import PictureLabel, labels_of_heights
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
POINTS = (8.0, 7.0, 6.2)
"""Sizes of written words, in points; what none of them has room for is left out: the boxes to tick name it too."""
HATCH = 6.0
"""Distance between the lines over an organizer of which no pockets are known, in millimeters on paper."""


def draw_drawer(
    sheets: Sheets,
    drawer: Drawer,
    contents: Sequence[tuple[Group, Placement]],
    place: tuple[float, float, float],
    scale: float,
    colors: Mapping[str, str],
) -> float:
    """The drawer at 1 : ``scale`` with its scale bar below, at a place given by left, top and width; where it ends."""
    at, top, _ = place
    left, floor = at, top + to_mm(drawer.inside_depth) / scale
    for shape in drawer_shapes(drawer):
        _draw(sheets, shape, left, floor, scale, FILLS[shape.part])
    for group, placement in contents:
        corner = left + to_mm(placement.left) / scale, floor - to_mm(placement.front) / scale
        for shape in organizer_shapes(group, placement):
            fill = color_of(colors[group.family]) if shape.part == "foam" else FILLS[shape.part]
            _draw(sheets, shape, *corner, scale, fill)
        if not placement.layout and not group.cased:
            _unknown(sheets, placement, corner, scale)
        for word in labels_of_heights(group, placement, tuple(size * POINT * scale for size in POINTS)):
            _word(sheets, word, *corner, scale)
    sheets.write(left + to_mm(drawer.inside_width) / scale / 2, floor + 3.4, "FRONT", 7, align="C")
    length_bar(sheets, left, floor + 2.4, scale, 100)
    return floor


def _draw(sheets: Sheets, shape: PaperShape, left: float, bottom: float, scale: float, fill: Color | None) -> None:
    points, dash = turned(shape.ring, left, bottom, scale), 1.5 if shape.part == "drawer" else 0
    if shape.part == "seam":
        sheets.trace(points, color=FAINT, pen=0.08)
    else:
        sheets.ring(points, fill=fill, pen=0.08 if shape.part in ("tool", "hole") else 0.15, dash=dash)


def _unknown(sheets: Sheets, placement: Placement, corner: Point, scale: float) -> None:
    """Lines and words over a ready-made organizer of which no pockets are known."""
    width, depth = to_mm(placement.width) / scale, to_mm(placement.depth) / scale
    for start, end in hatched(FrontBox(corner[0], corner[1] - depth, width, depth), HATCH):
        sheets.line(start, end, pen=0.1)
    middle = corner[0] + width / 2, corner[1] - depth / 2
    sheets.box(middle[0] - 20, middle[1] - 3, 40, 4.5, fill=(255, 255, 255), color=(255, 255, 255), pen=0.01)
    sheets.write(*middle, UNKNOWN, 8, align="C")


def _word(sheets: Sheets, word: PictureLabel, left: float, bottom: float, scale: float) -> None:
    if word.text.endswith("…"):
        return
    points = max(POINTS[-1], min(word.height / scale / POINT, POINTS[0]))
    x, y = turned([(word.x, word.y)], left, bottom, scale)[0]
    shift = 0.35 * points * POINT
    if word.upright:
        sheets.write_up(x + shift, y, word.text, points)
    else:
        sheets.write(x, y + shift, word.text, points, align="C")
