"""Workbooks of plain cells: text stays text, headers stay in sight, the same input gives the same bytes."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import ceil
from typing import Any, Literal, TypeAlias

import xlsxwriter

Value: TypeAlias = str | int | float | bool | None

MADE = datetime(2000, 1, 1)
"""Time written into every workbook, so that its bytes do not depend on the clock."""
TEXT = "@"
"""Number format of a cell that stays text when somebody edits it."""
MIXED = "General"
"""Number format of a column of texts and numbers."""
NARROWEST, WIDEST, LINE, MOST_LINES = 8, 60, 15, 20
"""Width of a column, in characters; height of a line, in points; most lines a row shows (the cell holds them all)."""
SHRINK = 0.5
"""Size of a picture on its sheet: it is twice as fine as a screen, so that it prints well."""
PICTURED = "The poster of the plan: front and drawers from above"
CHART_WIDTH, CHART_LEAST, CHART_ROW = 760, 320, 18
"""Width and least height of a chart and what each bar adds, in pixels."""
HEAD = {"bold": True, "text_wrap": True, "valign": "top", "num_format": TEXT, "bg_color": "#E4E7EA", "bottom": 1}
NEEDED = HEAD | {"bg_color": "#C9D3DA"}


@dataclass(frozen=True, slots=True)
class SheetColumn:
    """A column: its heading, the number format of its cells, the words a person may choose from, if it must be filled.

    ``choices`` may also be a reference to cells, such as ``=guide!$A$2:$A$9``.
    """

    heading: str
    number: str = TEXT
    choices: tuple[str, ...] | str = ()
    needed: bool = False


@dataclass(frozen=True, slots=True)
class SheetChart:
    """A chart under a sheet's rows, of its own cells: ``kind`` is bar or line.

    ``across`` is the heading of the column that names or places each row, ``shown`` are those of the columns whose
    numbers are drawn. ``across_title`` and ``title`` stand at the axes.
    """

    kind: Literal["bar", "line"]
    heading: str
    across: str
    shown: tuple[str, ...]
    across_title: str
    title: str


@dataclass(frozen=True, slots=True)
class BookSheet:
    """A sheet: one row of cells per row, as many as there are columns. ``blank`` rows are made ready for typing.

    ``picture`` (PNG) stands beside the cells, ``chart`` under them.
    """

    name: str
    columns: tuple[SheetColumn, ...]
    rows: Sequence[Sequence[Value]]
    blank: int = 0
    picture: bytes = b""
    chart: SheetChart | None = None


def workbook(sheets: Iterable[BookSheet]) -> bytes:
    """The bytes of a workbook. No text in it is a date, formula, link or number, however it looks."""
    stream = io.BytesIO()
    book = xlsxwriter.Workbook(stream, {"in_memory": True})
    book.set_properties({"created": MADE})
    formats: dict[str, Any] = {}
    for sheet in sheets:
        _fill(book, formats, sheet)
    book.close()
    return stream.getvalue()


def _fill(book: Any, formats: dict[str, Any], sheet: BookSheet) -> None:
    page = book.add_worksheet(sheet.name)
    last = max(len(sheet.rows) + sheet.blank, 1)
    page.freeze_panes(1, 0)
    page.ignore_errors({"number_stored_as_text": f"A1:XFD{last + 1}"})
    page.set_landscape()
    page.fit_to_pages(1, 0)
    page.repeat_rows(0)
    widths = [_width(column, [row[place] for row in sheet.rows]) for place, column in enumerate(sheet.columns)]
    for at, row in enumerate([[column.heading for column in sheet.columns], *sheet.rows]):
        page.set_row(at, LINE * _lines(row, widths, 3 if at == 0 else 0))
    for place, column in enumerate(sheet.columns):
        cells = [row[place] for row in sheet.rows]
        look = _format(book, formats, column.number)
        page.set_column(place, place, widths[place], look)
        page.write_string(0, place, column.heading, _head(book, formats, column))
        for at, value in enumerate(cells, 1):
            _write(page, at, place, value, look)
        if column.choices:
            page.data_validation(1, place, last, place, _choice(column.choices))
    if sheet.columns:
        page.autofilter(0, 0, last, len(sheet.columns) - 1)
    if sheet.picture:
        look = {"image_data": io.BytesIO(sheet.picture), "x_scale": SHRINK, "y_scale": SHRINK, "description": PICTURED}
        page.insert_image(1, len(sheet.columns) + 1, "poster.png", look)
    if sheet.chart and sheet.rows:
        page.insert_chart(last + 2, 0, _chart(book, sheet, sheet.chart), {"object_position": 1})


def _chart(book: Any, sheet: BookSheet, told: SheetChart) -> Any:
    """A chart that refers to the cells of its sheet, so that it follows whoever changes them."""
    places = {column.heading: place for place, column in enumerate(sheet.columns)}
    last, line = len(sheet.rows), told.kind == "line"
    made = book.add_chart({"type": "scatter", "subtype": "straight_with_markers"} if line else {"type": "bar"})
    for heading in told.shown:
        made.add_series(
            {
                "name": [sheet.name, 0, places[heading]],
                "categories": [sheet.name, 1, places[told.across], last, places[told.across]],
                "values": [sheet.name, 1, places[heading], last, places[heading]],
            }
        )
    made.set_title({"name": told.heading})
    across, along = {"name": told.across_title}, {"name": told.title, "min": 0}
    made.set_x_axis(across if line else along)
    made.set_y_axis(along if line else across | {"reverse": True})
    if len(told.shown) < 2:
        made.set_legend({"none": True})
    made.set_size({"width": CHART_WIDTH, "height": max(CHART_LEAST, CHART_ROW * last * len(told.shown))})
    return made


def _write(page: Any, at: int, place: int, value: Value, look: Any) -> None:
    """One cell by its own kind, never by how its text looks."""
    if isinstance(value, bool):
        value = "yes" if value else "no"
    if value is None or value == "":
        page.write_blank(at, place, None, look)
    elif isinstance(value, str):
        page.write_string(at, place, value, look)
    else:
        page.write_number(at, place, value, look)


def _choice(choices: tuple[str, ...] | str) -> dict[str, Any]:
    """A list to choose from; another word is warned about, not refused, as the catalogue knows a few more spellings."""
    source = choices if isinstance(choices, str) else list(choices)
    return {"validate": "list", "source": source, "error_type": "warning"}


def _head(book: Any, formats: dict[str, Any], column: SheetColumn) -> Any:
    name = "needed" if column.needed else "head"
    if name not in formats:
        formats[name] = book.add_format(NEEDED if column.needed else HEAD)
    return formats[name]


def _format(book: Any, formats: dict[str, Any], number: str) -> Any:
    if number not in formats:
        aside = {"align": "left", "indent": 1} if number in (TEXT, MIXED) else {"align": "right"}
        formats[number] = book.add_format({"num_format": number, "text_wrap": number == TEXT, "valign": "top", **aside})
    return formats[number]


def _lines(cells: Iterable[Value], widths: Sequence[int], taken: int) -> int:
    """Lines that a row's texts take when broken to their columns, ``taken`` characters of which are in use."""
    counts = [
        sum(
            1 if len(line) + taken <= width else ceil(len(line) / (0.85 * (width - taken))) for line in cell.split("\n")
        )
        for cell, width in zip(cells, widths, strict=True)
        if isinstance(cell, str)
    ]
    return min(max(counts, default=1), MOST_LINES)


def _width(column: SheetColumn, cells: Iterable[Value]) -> int:
    """As wide as the longest cell or word of the heading, within limits; the filter's arrow takes three characters."""
    heading = max((len(word) for word in column.heading.split()), default=0) + 3
    longest = max((len(line) for cell in cells for line in str(cell).splitlines()), default=0) + 2
    return min(max(heading, longest, NARROWEST), WIDEST)
