"""Text that runs on from page to page under one heading."""

from __future__ import annotations

from matcher.report.paper.sheets import FAINT, MARGIN, Sheets

HEAD, TEXT = 13.0, 9.0
"""Sizes of headings and text, in points."""


class Flow:
    """A place on upright pages that moves down; a page that is full is followed by another with the same heading."""

    def __init__(self, sheets: Sheets, heading: str, under: str = "") -> None:
        self.sheets = sheets
        self._heading, self._under = heading, under
        self.y = 0.0
        self._begin()

    @property
    def room(self) -> float:
        """Width of a line."""
        return self.sheets.width - 2 * MARGIN

    def need(self, height: float) -> None:
        """Go to the next page if less than ``height`` is left on this one."""
        if self.y + height > self.sheets.height - MARGIN - 6:
            self._begin()

    def subhead(self, text: str, *, keep: float = 12) -> None:
        """A heading within the page, never the last thing on it."""
        self.need(keep)
        self.y += 3
        self.sheets.write(MARGIN, self.y, text, 10.5, room=self.room)
        self.y += 1.8
        self.sheets.line((MARGIN, self.y), (MARGIN + self.room, self.y), color=FAINT, pen=0.15)
        self.y += 4

    def paragraph(self, text: str, *, indent: float = 0) -> None:
        """A text in lines."""
        for line in self.sheets.lines(text, TEXT, self.room - indent):
            self.need(5)
            self.sheets.write(MARGIN + indent, self.y, line, TEXT)
            self.y += 4.4

    def _begin(self) -> None:
        again = self.y > 0
        self.sheets.page()
        self.sheets.write(MARGIN, MARGIN + 5, f"{self._heading}{' (continued)' if again else ''}", HEAD, room=self.room)
        self.y = MARGIN + 11
        if self._under:
            self.sheets.write(MARGIN, self.y, self._under, TEXT, room=self.room, color=FAINT)
            self.y += 6
