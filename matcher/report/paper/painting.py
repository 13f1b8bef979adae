"""A picture in pixels, for a place that takes no drawing, such as a sheet of a workbook.

Drawn with Pillow, which the PDF library brings along: no browser and no further library is needed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.resources import files
from io import BytesIO
from itertools import pairwise
from math import dist

from PIL import Image, ImageDraw, ImageFont

from matcher.records import remembered
from matcher.report.paper.sheets import INK, POINT
from matcher.report.paper.surfaces import Color, Point

PER_MM = 6
"""Pixels a millimeter: a sheet is then about as fine as a large screen."""
FINER = 2
"""So much finer is drawn than is kept, so that slanted lines are even."""


class Painting:
    """A picture in the making, white at first. A sign that the font lacks shows as a box."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self._scale = PER_MM * FINER
        self._image = Image.new("RGB", (round(width * self._scale), round(height * self._scale)), "white")
        self._draw = ImageDraw.Draw(self._image)

    def png(self) -> bytes:
        """The finished picture; the same drawing gives the same bytes."""
        size = round(self.width * PER_MM), round(self.height * PER_MM)
        stream = BytesIO()
        smooth = self._image.resize(size, Image.Resampling.BOX)
        smooth.quantize(256, dither=Image.Dither.NONE).save(stream, "PNG", optimize=True)
        return stream.getvalue()

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
        """One line on the baseline ``y``; ``size`` in points; within ``room`` as `Sheets.write` sets it."""
        words, size = self._fitted(text, size, room, least or size * 2 / 3)
        anchor = {"L": "ls", "C": "ms", "R": "rs"}[align]
        self._draw.text(self._at((x, y)), words, fill=color, font=self._font(size), anchor=anchor)

    def write_up(self, x: float, y: float, text: str, size: float, *, align: str = "C") -> None:
        """One line that reads from bottom to top through the point."""
        font = self._font(size)
        left, top, right, bottom = font.getbbox(text, anchor="ls")
        mask = Image.new("L", (max(1, round(right - left)), max(1, round(bottom - top))), 0)
        ImageDraw.Draw(mask).text((-left, -top), text, fill=255, font=font, anchor="ls")
        turned = mask.transpose(Image.Transpose.ROTATE_90)
        across, along = self._at((x, y))
        start = along + {"L": 0.0, "C": turned.height / 2, "R": turned.height}[align] - turned.height
        self._image.paste(INK, (round(across + top), round(start)), turned)

    def lines(self, text: str, size: float, room: float) -> list[str]:
        """A text broken at spaces into lines no longer than ``room``."""
        broken: list[str] = []
        for word in text.split():
            longer = f"{broken[-1]} {word}" if broken else word
            if broken and self._long(longer, size) <= room:
                broken[-1] = longer
            else:
                broken.append(word)
        return broken or [""]

    def ring(
        self,
        points: Sequence[Point],
        *,
        fill: Color | None = None,
        color: Color = INK,
        pen: float = 0.25,
        dash: float = 0,
    ) -> None:
        """A closed line through points; no line with a ``pen`` of 0."""
        corners = [self._at(point) for point in points]
        if fill:
            self._draw.polygon(corners, fill=fill)
        if pen:
            for start, end in pairwise([*points, points[0]]):
                self.line(start, end, color=color, pen=pen, dash=dash)

    def box(self, x: float, y: float, width: float, height: float, **look: object) -> None:
        """A rectangle by its top left corner; ``look`` as for `ring`."""
        self.ring([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], **look)  # type: ignore[arg-type]

    def line(self, start: Point, end: Point, *, color: Color = INK, pen: float = 0.25, dash: float = 0) -> None:
        """A straight line."""
        thick = max(1, round(pen * self._scale))
        for one, other in _dashes(start, end, dash) if dash else ((start, end),):
            self._draw.line([self._at(one), self._at(other)], fill=color, width=thick)

    def _at(self, point: Point) -> Point:
        return point[0] * self._scale, point[1] * self._scale

    def _font(self, points: float) -> ImageFont.FreeTypeFont:
        return _font(round(points * POINT * self._scale, 2))

    def _long(self, text: str, size: float) -> float:
        return self._font(size).getlength(text) / self._scale

    def _fitted(self, text: str, size: float, room: float, least: float) -> tuple[str, float]:
        """Set smaller down to ``least``; what is longer still ends in an ellipsis."""
        words, long = " ".join(text.split()), self._long(text, size)
        if not room or long <= room:
            return words, size
        smaller = max(size * room / long, least)
        while words and self._long(words, smaller) > room * 1.001:
            words = f"{words.removesuffix('…')[:-1]}…" if len(words) > 1 else ""
        return words, smaller


@remembered(32)
def _font(pixels: float) -> ImageFont.FreeTypeFont:
    with (files("matcher.report.paper") / "font" / "DejaVuSans.ttf").open("rb") as stream:
        return ImageFont.truetype(BytesIO(stream.read()), pixels)


def _dashes(start: Point, end: Point, dash: float) -> Iterator[tuple[Point, Point]]:
    """Every other stretch of a line."""
    long = dist(start, end)
    for number in range(int(long / dash / 2) + 1):
        low, high = 2 * number * dash, min((2 * number + 1) * dash, long)
        if low < high:
            yield _between(start, end, low / long), _between(start, end, high / long)


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
