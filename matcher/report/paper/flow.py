"""Text that runs on from page to page under one heading."""

from __future__ import annotations

from collections.abc import Iterable

from matcher.report.paper.sheets import FAINT, MARGIN, Sheets

HEAD, TEXT = 13.0, 9.0
"""Sizes of headings and text, in points."""
LINE, SUBHEAD = 4.4, 8.8
"""Heights of a line of text and of a heading within the page, in millimeters."""


class Flow:
    """A place on upright pages that moves down; a page that is full is followed by another with the same heading."""

    def __init__(self, sheets: Sheets, heading: str, under: str = "") -> None:
        self.sheets = sheets
        self._heading, self._under = heading, under
        self.y = self._first = 0.0
        self._begin()

    @property
    def room(self) -> float:
        """Width of a line."""
        return self.sheets.width - 2 * MARGIN

    def need(self, height: float) -> None:
        """Go to the next page if less than ``height`` is left on this one, unless no page has as much."""
        end = self.sheets.height - MARGIN
        if self.y + height > end >= self._first + height:
            self._begin()

    def subhead(self, text: str, under: float, first: float = LINE) -> None:
        """A heading on one page with what is ``under`` it; where no page has that room, with what comes ``first``."""
        self.need(SUBHEAD + under)
        self.need(SUBHEAD + first)
        self.y += 3
        self.sheets.write(MARGIN, self.y, text, 10.5, room=self.room)
        self.y += 1.8
        self.sheets.line((MARGIN, self.y), (MARGIN + self.room, self.y), color=FAINT, pen=0.15)
        self.y += 4

    def points(self, heading: str, texts: Iterable[str]) -> None:
        """A heading over texts in lines, each begun with a dash."""
        lines = [line for text in texts for line in self.sheets.lines(f"- {text}", TEXT, self.room)]
        self.subhead(heading, LINE * len(lines))
        for line in lines:
            self.need(LINE)
            self.sheets.write(MARGIN, self.y, line, TEXT)
            self.y += LINE

    def _begin(self) -> None:
        again = self.y > 0
        self.sheets.page()
        self.sheets.write(MARGIN, MARGIN + 5, f"{self._heading}{' (continued)' if again else ''}", HEAD, room=self.room)
        self.y = MARGIN + 11
        if self._under:
            self.sheets.write(MARGIN, self.y, self._under, TEXT, room=self.room, color=FAINT)
            self.y += 6
        self._first = self.y
