"""A drawer with its organizers from above, true to scale, in its place on a page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeAlias

from matcher.records import Drawer, Group, Placement, to_mm
from matcher.report.fitted_words import extent
from matcher.report.front import FrontBox
from matcher.report.paper.poster_paper import color_of
from matcher.report.paper.shapes import PaperShape, ShapePart, drawer_shapes, organizer_shapes
from matcher.report.paper.sheets import FAINT, POINT, Sheets, length_bar, turned
from matcher.report.paper.surfaces import Color, Point
from matcher.report.picture_labels import (
    PictureHeading,
    PictureLabel,
    needs_numbers,
    paper_labels,
    picture_headings,
    takes_numbers,
)
from matcher.report.poster import UNKNOWN, hatched

HeldGroups: TypeAlias = Sequence[tuple[Group, Placement]]
"""What lies in a drawer."""

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
"""Sizes of written words, in points."""
HEADING = 3.4
"""Height of a line of headings over a picture, in millimeters."""
NUMBERED = "numbers: see the list"
"""What is said of a picture in which tools have numbers."""
BAR_GAP = 1.5
"""Between a picture's scale bar and the word for its front edge, in millimeters."""
ROOMY = 64.0
"""From this width on a picture has room for that under it, in millimeters."""
HATCH = 6.0
"""Distance between the lines over an organizer of which no pockets are known, in millimeters on paper."""


def head_of(drawer: Drawer, contents: HeldGroups) -> float:
    """Room over the picture for headings of columns, in millimeters."""
    levels = [heading.level for one in contents for heading in picture_headings(*one, drawer)]
    return HEADING * (max(levels, default=-1) + 1)


def labels_at(
    drawer: Drawer, group: Group, placement: Placement, numbers: Mapping[str, int], scale: float
) -> tuple[PictureLabel, ...]:
    """What is written beside the tools of an organizer at 1 : ``scale``."""
    return paper_labels(group, placement, drawer, tuple(size * POINT * scale for size in POINTS), numbers)


def numbered_in(drawer: Drawer, contents: HeldGroups, scale: float) -> frozenset[str]:
    """The groups of which the tools have numbers at that scale, for sizes have no room."""
    least = POINTS[-1] * POINT * scale
    return frozenset(group.name for group, placement in contents if needs_numbers(group, placement, drawer, least))


def all_told(drawer: Drawer, contents: HeldGroups, numbers: Mapping[str, int], scale: float) -> bool:
    """Whether every tool of which the place is known has its size or its number at that scale."""
    numbered, least = numbered_in(drawer, contents, scale), POINTS[-1] * POINT * scale
    return all(takes_numbers(*one, least, numbers) for one in contents if one[0].name in numbered)


def draw_drawer(
    sheets: Sheets,
    drawer: Drawer,
    contents: HeldGroups,
    place: tuple[float, float],
    scale: float,
    colors: Mapping[str, str],
    numbers: Mapping[str, int],
) -> float:
    """The drawer at 1 : ``scale`` with headings above and a scale bar below, from left and top on; where it ends."""
    at, top = place[0], place[1] + head_of(drawer, contents)
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
        for heading in picture_headings(group, placement, drawer):
            _heading(sheets, heading, corner[0], top, scale)
        for label in labels_at(drawer, group, placement, numbers, scale):
            _label(sheets, label, *corner, scale)
    right = left + to_mm(drawer.inside_width) / scale
    after = length_bar(sheets, left, floor + 2.4, scale, 100) + extent("FRONT", 7 * POINT) / 2 + BAR_GAP
    sheets.write(max((left + right) / 2, after), floor + 3.4, "FRONT", 7, align="C")
    if right - left >= ROOMY and numbered_in(drawer, contents, scale):
        sheets.write(right, floor + 3.4, NUMBERED, 7, align="R", color=FAINT)
    return floor


def _draw(sheets: Sheets, shape: PaperShape, left: float, bottom: float, scale: float, fill: Color | None) -> None:
    points = turned(shape.ring, left, bottom, scale)
    if shape.part == "seam":
        sheets.trace(points, color=FAINT, pen=0.08)
    else:
        sheets.ring(points, fill=fill, pen=0.08 if shape.part in ("tool", "hole") else 0.15)


def _unknown(sheets: Sheets, placement: Placement, corner: Point, scale: float) -> None:
    """Lines and words over a ready-made organizer of which no pockets are known."""
    width, depth = to_mm(placement.width) / scale, to_mm(placement.depth) / scale
    for start, end in hatched(FrontBox(corner[0], corner[1] - depth, width, depth), HATCH):
        sheets.line(start, end, pen=0.1)
    middle = corner[0] + width / 2, corner[1] - depth / 2
    sheets.box(middle[0] - 20, middle[1] - 3, 40, 4.5, fill=(255, 255, 255), color=(255, 255, 255), pen=0.01)
    sheets.write(*middle, UNKNOWN, 8, align="C")


def _heading(sheets: Sheets, heading: PictureHeading, left: float, top: float, scale: float) -> None:
    """A line over a column with its words in the middle; of a drive in a narrow column the figures alone."""
    start, end = left + heading.left / scale, left + heading.right / scale
    y = top - HEADING * heading.level - 0.6
    narrow = sheets.extent(heading.text, POINTS[1]) > end - start
    sheets.line((start, y), (end, y), pen=0.2)
    text = heading.text.removesuffix(" drive") if narrow else heading.text
    sheets.write((start + end) / 2, y - 0.6, text, POINTS[1], align="C")


def _label(sheets: Sheets, label: PictureLabel, left: float, bottom: float, scale: float) -> None:
    points = label.height / scale / POINT
    x, y = turned([(label.x, label.y)], left, bottom, scale)[0]
    if label.kind == "number":
        draw_number(sheets, x, y, label.text, points)
    else:
        sheets.write(x, y + 0.35 * points * POINT, label.text, points, align="C")


def draw_number(sheets: Sheets, x: float, y: float, text: str, points: float, wide: float = 0) -> None:
    """A tool's number in a white box round its middle, at least ``wide``."""
    wide, high = max(wide, number_width(sheets, text, points)), 0.95 * points * POINT
    sheets.box(x - wide / 2, y - high / 2, wide, high, fill=(255, 255, 255), color=FAINT, pen=0.12)
    sheets.write(x, y + 0.35 * points * POINT, text, points, align="C")


def number_width(sheets: Sheets, text: str, points: float = POINTS[-1]) -> float:
    """How wide the box of a number is, in millimeters."""
    return sheets.extent(text, points) + 0.25 * points * POINT
