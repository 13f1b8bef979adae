"""Sheets of paper to draw and write on, in millimeters from the top left corner.

The same input gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from importlib.resources import as_file, files

from fpdf import FPDF, ViewerPreferences
from fpdf.fonts import TTFFont

from matcher.records import UsageError
from matcher.report.fitted_words import extent
from matcher.report.paper.surfaces import Color, Point, Surface

MADE = datetime(2000, 1, 1, tzinfo=UTC)
"""Time written into every file, so that its bytes do not depend on the clock."""
INK: Color = (22, 25, 30)
FAINT: Color = (107, 111, 118)
POINT = 25.4 / 72
MARGIN = 14.0
"""Left free on every side: common printers do not reach the paper's edge (common practice)."""


LACKING = "{} and the like stand for signs that the font of this print lacks; pages (.html) and tables show them."


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper, upright."""

    name: str
    width: float
    height: float


PAPERS = {"a4": Paper("A4", 210, 297), "letter": Paper("Letter", 215.9, 279.4)}
"""ISO 216 A4; ANSI/ASME Y14.1 size A, 8.5 x 11 in."""


def paper_named(name: str) -> Paper:
    """The size of paper of that name, capitals aside.

    Raises
    ------
    UsageError
        It is none of the two.
    """
    if name.lower() not in PAPERS:
        raise UsageError(f"--paper {name!r}: expected A4 or Letter")
    return PAPERS[name.lower()]


class Sheets:
    """A PDF file in the making. A sign that the font lacks is written as its number, e.g. ``[U+4E2D]``."""

    def __init__(self, paper: Paper, title: str, *, numbered: bool = False) -> None:
        """Pages are ``numbered`` at their foot, beside the title."""
        self.paper = paper
        self._foot = title if numbered else ""
        self._pdf = FPDF(unit="mm", format=(paper.width, paper.height))
        self._pdf.set_creation_date(MADE)
        self._pdf.set_title(title)
        self._pdf.set_auto_page_break(False)
        self._pdf.viewer_preferences = ViewerPreferences(print_scaling="None")
        with as_file(files("matcher.report.paper") / "font" / "DejaVuSans.ttf") as path:
            self._pdf.add_font("sans", "", path)
        self._pdf.set_font("sans", size=10)
        self._pdf.set_text_shaping(True)
        self._pdf.c_margin = 0
        font = self._pdf.fonts["sans"]
        assert isinstance(font, TTFFont)
        self._known = frozenset(font.cmap)
        self._numbered: set[str] = set()
        self._extents: dict[tuple[str, float], float] = {}

    def page(self, *, landscape: bool = False) -> None:
        """Begin a new page."""
        self._pdf.add_page(orientation="L" if landscape else "P")
        if self._foot:
            base, end = self.height - MARGIN / 2, self.width - MARGIN
            self.write(MARGIN, base, self._foot, 7, room=0.7 * self.width, color=FAINT)
            self.write(end, base, f"page {self.number} of {{nb}}", 7, align="R", color=FAINT)

    @property
    def number(self) -> int:
        """Number of the page begun last."""
        return int(self._pdf.page_no())

    @property
    def width(self) -> float:
        """Width of this page."""
        return float(self._pdf.w)

    @property
    def height(self) -> float:
        """Height of this page."""
        return float(self._pdf.h)

    def output(self) -> bytes:
        """The finished file; at the foot of its last page it says so where signs stand as numbers."""
        if self._numbered:
            told = LACKING.format(self._signs(min(self._numbered)))
            self.write(MARGIN, self.height - MARGIN / 2 - 3.2, told, 7, room=self.width - 2 * MARGIN, color=FAINT)
        return bytes(self._pdf.output())

    # ------------------------------------------------------------------------------------------------------- words

    def write(
        self,
        x: float,
        y: float,
        text: str,
        size: float = 10,
        *,
        align: str = "L",
        room: float = 0,
        color: Color = INK,
        least: float = 0,
    ) -> None:
        """One line on the baseline ``y``; ``size`` in points.

        Within ``room`` it is set smaller, down to ``least`` or two thirds of its size, then cut off.
        """
        words, size = self._fitted(self._signs(text), size, room, least or size * 2 / 3)
        self._pdf.set_font_size(size)
        self._pdf.set_text_color(*color)
        width = self._pdf.get_string_width(words)
        start = x - width * {"L": 0.0, "C": 0.5, "R": 1.0}[align]
        self._pdf.x, self._pdf.y = start, y - 0.8 * size * POINT  # set_xy would take what is off the page from its end
        self._pdf.cell(width + 1, size * POINT, words)

    def write_up(self, x: float, y: float, text: str, size: float, *, align: str = "C") -> None:
        """One line that reads from bottom to top through the point."""
        with self._pdf.rotation(90, x, y):
            self.write(x, y, text, size, align=align)

    def extent(self, text: str, size: float) -> float:
        """Length of a line of text."""
        if (text, size) not in self._extents:
            self._pdf.set_font_size(size)
            self._extents[text, size] = float(self._pdf.get_string_width(self._signs(text)))
        return self._extents[text, size]

    def lines(self, text: str, size: float, room: float) -> list[str]:
        """A text broken into lines no longer than ``room``."""
        self._pdf.set_font_size(size)
        words = self._signs(text)
        broken = self._pdf.multi_cell(room, size * POINT, words, align="L", dry_run=True, output="LINES")
        assert isinstance(broken, list)
        return broken

    def paragraph(self, x: float, y: float, text: str, size: float, room: float) -> float:
        """A text in lines from the baseline ``y`` on; the baseline after the last one."""
        for line in self.lines(text, size, room):
            self.write(x, y, line, size)
            y += 1.35 * size * POINT
        return y

    def _signs(self, text: str) -> str:
        spaced = " ".join(text.split())
        self._numbered.update(sign for sign in spaced if ord(sign) not in self._known)
        return "".join(sign if ord(sign) in self._known else f"[U+{ord(sign):04X}]" for sign in spaced)

    def _fitted(self, words: str, size: float, room: float, least: float) -> tuple[str, float]:
        """Set smaller down to ``least``; what is longer still ends in an ellipsis."""
        self._pdf.set_font_size(size)
        width = self._pdf.get_string_width(words)
        if not room or width <= room:
            return words, size
        smaller = max(size * room / width, least)
        self._pdf.set_font_size(smaller)
        while words and self._pdf.get_string_width(words) > room * 1.001:
            words = f"{words.removesuffix('…')[:-1]}…" if len(words) > 1 else ""
        return words, smaller

    # ------------------------------------------------------------------------------------------------------- shapes

    def ring(
        self,
        points: Sequence[Point],
        *,
        fill: Color | None = None,
        color: Color = INK,
        pen: float = 0.25,
        dash: float = 0,
    ) -> None:
        """A closed line through points."""
        self._pen(color, pen, dash)
        if fill:
            self._pdf.set_fill_color(*fill)
        self._pdf.polygon(list(points), style="DF" if fill else "D")
        self._pdf.set_dash_pattern()

    def box(self, x: float, y: float, width: float, height: float, **look: object) -> None:
        """A rectangle by its top left corner; ``look`` as for `ring`."""
        corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
        self.ring(corners, **look)  # type: ignore[arg-type]

    def line(self, start: Point, end: Point, *, color: Color = INK, pen: float = 0.25, dash: float = 0) -> None:
        """A straight line."""
        self._pen(color, pen, dash)
        self._pdf.line(*start, *end)
        self._pdf.set_dash_pattern()

    def trace(self, points: Sequence[Point], *, color: Color = INK, pen: float = 0.25) -> None:
        """An open line through points."""
        self._pen(color, pen, 0)
        self._pdf.polyline(list(points), style="D")

    @contextmanager
    def within(self, x: float, y: float, width: float, height: float) -> Iterator[None]:
        """What is drawn in it shows only inside this rectangle."""
        with self._pdf.rect_clip(x, y, width, height):
            yield

    def _pen(self, color: Color, width: float, dash: float) -> None:
        self._pdf.set_draw_color(*color)
        self._pdf.set_line_width(width)
        if dash:
            self._pdf.set_dash_pattern(dash, dash)


def scale_for(width: float, height: float, room_width: float, room_height: float) -> float:
    """The largest usual scale (1 : returned) at which ``width`` x ``height`` goes into the room."""
    least = max(width / room_width, height / room_height)
    return next((scale for scale in SCALES if scale >= least), least)


SCALES = (1, 2, 2.5, 3, 4, 5, 6, 7.5, 8, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100)


def length_bar(sheets: Surface, x: float, y: float, scale: float, length: float) -> float:
    """A short bar that stands for ``length`` millimeters, with the length beside it; where that ends."""
    end = x + length / scale
    sheets.line((x, y), (end, y), pen=0.4)
    for at in (x, end):
        sheets.line((at, y - 0.9), (at, y + 0.9), pen=0.25)
    told = f"{length:g} mm"
    sheets.write(end + 1.5, y + 0.9, told, 7, color=FAINT)
    return end + 1.5 + extent(told, 7 * POINT)


def scale_bar(sheets: Surface, x: float, y: float, scale: float, length: float, told: str = "") -> None:
    """A bar that stands for ``length`` millimeters: beside it the scale in words, or what is ``told`` under it."""
    end = x + length / scale
    sheets.line((x, y), (end, y), pen=0.5)
    for at in (x, (x + end) / 2, end):
        sheets.line((at, y - 1.2), (at, y + 1.2), pen=0.25)
    if told:
        sheets.write(x, y + 4.5, f"{length:g} mm; {told}", 7.5, color=FAINT)
    else:
        sheets.write(end + 2, y + 1, f"{length:g} mm; {printed_at(scale)}", 7.5, color=FAINT)


def printed_at(scale: float) -> str:
    """A scale in words."""
    return f"scale 1 : {scale:g} when printed at 100 %"


def turned(ring: Iterable[Point], left: float, bottom: float, scale: float = 1) -> list[Point]:
    """Points with y to the back on a page with y down: the origin comes to (left, bottom)."""
    return [(left + x / scale, bottom - y / scale) for x, y in ring]
