"""The poster drawn on paper from its records."""

from __future__ import annotations

from matcher.records import LengthUnit
from matcher.report.fitted_words import extent
from matcher.report.front import FrontBox
from matcher.report.paper.sheets import INK, POINT, Color, Point, Sheets
from matcher.report.poster import Poster, PosterDrawer, PosterWord

EMPTY: Color = (255, 255, 255)
TAKEN: Color = (143, 138, 128)
TOOL: Color = (247, 249, 250)
BARS: dict[str, Color] = {"fill": (74, 84, 94), "load": (26, 32, 38)}


def color_of(shade: str) -> Color:
    """A color written ``#rrggbb`` as its three parts."""
    red, green, blue = (int(shade[at : at + 2], 16) for at in (1, 3, 5))
    return red, green, blue


def draw_poster(sheets: Sheets, poster: Poster, left: float, top: float, unit: LengthUnit) -> None:
    """All drawers, the poster's upper left corner at (left, top); masses in kilograms with mm, else in pounds."""
    hidden = "in" if unit.name == "mm" else "mm"
    for drawer in poster.drawers:
        _drawer(sheets, drawer, poster.scale, (left, top), hidden)


def _drawer(sheets: Sheets, drawer: PosterDrawer, scale: float, corner: Point, hidden: str) -> None:
    empty = not drawer.organizers
    _box(sheets, drawer.box, corner, fill=EMPTY, pen=0.2, dash=1.2 if empty and drawer.state != "blocked" else 0)
    for one in drawer.organizers:
        _box(sheets, one.box, corner, fill=color_of(one.color), pen=0.2, dash=0.6 if one.cased else 0)
        for start, end in one.hatch:
            sheets.line(_moved(start, corner), _moved(end, corner), pen=0.1)
    for taken in drawer.taken:
        _box(sheets, taken, corner, fill=TAKEN, pen=0.1)
    back = corner[0] + drawer.box.x, corner[1] + drawer.box.y
    for ring in drawer.tools:
        sheets.ring([(back[0] + x * scale, back[1] + y * scale) for x, y in ring], fill=TOOL, pen=0.08)
    if drawer.state == "blocked":
        box = drawer.box
        sheets.line(_moved((box.x, box.y), corner), _moved((box.x + box.width, box.y + box.height), corner), pen=0.15)
        sheets.line(_moved((box.x, box.y + box.height), corner), _moved((box.x + box.width, box.y), corner), pen=0.15)
    for bar in drawer.bars:
        full = FrontBox(bar.box.x, bar.box.y, bar.box.width * bar.share, bar.box.height)
        _box(sheets, bar.box, corner, fill=EMPTY, pen=0.1)
        _box(sheets, full, corner, fill=BARS[bar.kind], pen=0)
    for word in drawer.words:
        if word.kind != hidden:
            _word(sheets, word, corner)


def _word(sheets: Sheets, word: PosterWord, corner: Point) -> None:
    x, y = _moved((word.x, word.y), corner)
    points = word.size / POINT
    if word.kind == "unknown" or (word.kind == "holds" and word.anchor == "middle"):
        _plate(sheets, word, x, y)
    if word.upright:
        sheets.write_up(x, y, word.text, points)
    else:
        sheets.write(x, y, word.text, points, align="C" if word.anchor == "middle" else "L", color=INK)


def _plate(sheets: Sheets, word: PosterWord, x: float, y: float) -> None:
    """White under words that stand on tools or lines."""
    long, high = extent(word.text, word.size), 1.1 * word.size
    if word.upright:
        sheets.box(x - 0.85 * high, y - long / 2, high, long, fill=EMPTY, color=EMPTY, pen=0.01)
    else:
        sheets.box(x - long / 2, y - 0.85 * high, long, high, fill=EMPTY, color=EMPTY, pen=0.01)


def _box(
    sheets: Sheets, box: FrontBox, corner: Point, *, fill: Color | None = None, pen: float = 0.2, dash: float = 0
) -> None:
    sheets.box(*_moved((box.x, box.y), corner), box.width, box.height, fill=fill, pen=pen, dash=dash)


def _moved(point: Point, corner: Point) -> Point:
    return corner[0] + point[0], corner[1] + point[1]
