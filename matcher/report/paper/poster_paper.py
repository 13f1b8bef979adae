"""The poster drawn on paper from its records."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from matcher.records import LengthUnit
from matcher.report.fitted_words import extent
from matcher.report.front import FrontBox
from matcher.report.paper.sheets import INK, POINT
from matcher.report.paper.surfaces import Color, Point, Surface
from matcher.report.poster import Poster, PosterDrawer, PosterWord
from matcher.report.poster_key import KeyEntry
from matcher.report.poster_outside import OutsideShelf

EMPTY: Color = (255, 255, 255)
TAKEN: Color = (143, 138, 128)
TOOL: Color = (247, 249, 250)
BARS: dict[str, Color] = {"fill": (74, 84, 94), "load": (26, 32, 38)}

SOLID = ("blocked", "earlier")
"""States of an empty drawer that is not drawn dashed: nothing can be put into it."""


def color_of(shade: str) -> Color:
    """A color written ``#rrggbb`` as its three parts."""
    red, green, blue = (int(shade[at : at + 2], 16) for at in (1, 3, 5))
    return red, green, blue


def draw_poster(sheets: Surface, poster: Poster, left: float, top: float, unit: LengthUnit) -> None:
    """All drawers, the poster's upper left corner at (left, top); masses in kilograms with mm, else in pounds."""
    hidden = "in" if unit.name == "mm" else "mm"
    for drawer in poster.drawers:
        _drawer(sheets, drawer, poster.scale, (left, top), hidden)
    if poster.outside:
        _outside(sheets, poster, poster.outside, (left, top))


def draw_key(sheets: Surface, entries: Iterable[KeyEntry], left: float, top: float) -> None:
    """A key from its upper left corner on: each mark drawn as what it stands for, its words beside it."""
    for entry in entries:
        box, corner = entry.box, (left, top)
        if entry.kind in BARS:
            half = FrontBox(box.x, box.y + 0.3 * box.height, 0.6 * box.width, 0.4 * box.height)
            _box(sheets, replace(half, width=box.width), corner, fill=EMPTY, pen=0.1)
            _box(sheets, half, corner, fill=BARS[entry.kind], pen=0)
        else:
            fill = color_of(entry.color) if entry.color else TAKEN if entry.kind == "taken" else EMPTY
            dashed = not entry.color and entry.kind not in ("taken", *SOLID)
            _box(sheets, box, corner, fill=fill, pen=0.2, dash=0.6 if dashed else 0)
        if entry.kind == "blocked":
            _cross(sheets, box, corner)
        for start, end in entry.hatch:
            sheets.line(_moved(start, corner), _moved(end, corner), pen=0.1)
        sheets.write(*_moved((entry.x, entry.y), corner), entry.text, entry.size / POINT)


def _outside(sheets: Surface, poster: Poster, shelf: OutsideShelf, corner: Point) -> None:
    """What stays outside, beside a line that the drawers end at."""
    if poster.beside:
        top, bottom = (poster.beside, 0.0), (poster.beside, max(poster.height, shelf.box.y + shelf.box.height))
        sheets.line(_moved(top, corner), _moved(bottom, corner), pen=0.15, dash=0.8)
    for one in shelf.groups:
        for line in one.tools:
            sheets.ring([_moved(point, corner) for point in line], fill=color_of(one.color), pen=0.08)
    for word in (*shelf.words, *(word for one in shelf.groups for word in one.words)):
        sheets.write(*_moved((word.x, word.y), corner), word.text, word.size / POINT)


def _drawer(sheets: Surface, drawer: PosterDrawer, scale: float, corner: Point, hidden: str) -> None:
    empty = not drawer.organizers
    _box(
        sheets,
        drawer.box,
        corner,
        fill=EMPTY,
        pen=0.2,
        dash=1.2 if empty and drawer.state not in ("blocked", "earlier") else 0,
    )
    for one in drawer.organizers:
        _box(sheets, one.box, corner, fill=color_of(one.color), pen=0.2, dash=0.6 if one.cased else 0)
    for taken in drawer.taken:
        _box(sheets, taken, corner, fill=TAKEN, pen=0.1)
    back = corner[0] + drawer.box.x, corner[1] + drawer.box.y
    for ring in drawer.tools:
        sheets.ring([(back[0] + x * scale, back[1] + y * scale) for x, y in ring], fill=TOOL, pen=0.08)
    for start, end in (line for one in drawer.organizers for line in one.hatch):
        sheets.line(_moved(start, corner), _moved(end, corner), pen=0.1)
    if drawer.state == "blocked":
        _cross(sheets, drawer.box, corner)
    for bar in drawer.bars:
        full = FrontBox(bar.box.x, bar.box.y, bar.box.width * bar.share, bar.box.height)
        _box(sheets, bar.box, corner, fill=EMPTY, pen=0.1)
        _box(sheets, full, corner, fill=BARS[bar.kind], pen=0)
    for word in drawer.words:
        if word.kind != hidden:
            _word(sheets, word, corner)


def _cross(sheets: Surface, box: FrontBox, corner: Point) -> None:
    sheets.line(_moved((box.x, box.y), corner), _moved((box.x + box.width, box.y + box.height), corner), pen=0.15)
    sheets.line(_moved((box.x, box.y + box.height), corner), _moved((box.x + box.width, box.y), corner), pen=0.15)


def _word(sheets: Surface, word: PosterWord, corner: Point) -> None:
    x, y = _moved((word.x, word.y), corner)
    points = word.size / POINT
    if word.kind == "unknown" or (word.kind == "holds" and word.anchor == "middle"):
        _plate(sheets, word, x, y)
    if word.upright:
        sheets.write_up(x, y, word.text, points)
    else:
        sheets.write(x, y, word.text, points, align="C" if word.anchor == "middle" else "L", color=INK)


def _plate(sheets: Surface, word: PosterWord, x: float, y: float) -> None:
    """White under words that stand on tools or lines."""
    long, high = extent(word.text, word.size), 1.1 * word.size
    if word.upright:
        sheets.box(x - 0.85 * high, y - long / 2, high, long, fill=EMPTY, color=EMPTY, pen=0.01)
    else:
        sheets.box(x - long / 2, y - 0.85 * high, long, high, fill=EMPTY, color=EMPTY, pen=0.01)


def _box(
    sheets: Surface, box: FrontBox, corner: Point, *, fill: Color | None = None, pen: float = 0.2, dash: float = 0
) -> None:
    sheets.box(*_moved((box.x, box.y), corner), box.width, box.height, fill=fill, pen=pen, dash=dash)


def _moved(point: Point, corner: Point) -> Point:
    return corner[0] + point[0], corner[1] + point[1]
