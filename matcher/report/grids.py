"""Tables for a terminal of any width: as columns where there is room for them, else as one record a row.

The first column holds the name of the row and is never left out. Words are broken at spaces only, unless one is wider
than the terminal.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from rich import box
from rich.cells import cell_len
from rich.console import Console, ConsoleOptions, RenderResult
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

GAP = 2
"""Characters between two columns."""
NARROWEST = 14
"""A column of words is not made narrower than this; a table that asks for it is shown as records."""
INDENT = 2
"""Characters by which a record's further rows stand in."""

CellText: TypeAlias = str | Text


@dataclass(frozen=True, slots=True)
class GridColumn:
    """One column: ``figure`` stands to the right, ``wraps`` is broken into lines where the table is too wide.

    In a record a value comes after its heading, but for a ``bare`` one, which says what it is.
    """

    heading: str
    figure: bool = False
    wraps: bool = False
    bare: bool = False


def column(marked: str) -> GridColumn:
    """A column by its heading with marks before it: ``*`` a figure, ``~`` words that wrap, ``=`` bare in a record."""
    heading = marked.lstrip("*~=")
    marks = marked[: len(marked) - len(heading)]
    return GridColumn(heading, "*" in marks, "~" in marks, "=" in marks)


class Grid:
    """A table that is filled row by row; a row whose name is blank goes on with the row before it."""

    def __init__(self, *headings: str, title: str = "") -> None:
        self.columns = tuple(map(column, headings))
        self.title = title
        self.rows: list[tuple[Text, ...]] = []

    def add_row(self, *cells: CellText) -> None:
        """One row; a cell may hold several lines."""
        self.rows.append(tuple(cell if isinstance(cell, Text) else Text(cell) for cell in cells))

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        """Columns where they fit, else records."""
        widths = self._widths(options.max_width)
        if self.title:
            yield Text(self.title, "bold")
        if widths:
            yield self._table(widths)
        else:
            yield from self._records()

    def _widths(self, room: int) -> list[int]:
        """The width of each column, those of words made narrower as far as it takes; none if there is no room."""
        lines = [[_lines(row[n]) for row in self.rows] for n in range(len(self.columns))]
        heads = [max(map(cell_len, one.heading.splitlines()), default=0) for one in self.columns]
        widths = [
            max([head, *(cell_len(line) for cell in held for line in cell)])
            for head, held in zip(heads, lines, strict=True)
        ]
        least = [
            min(width, max(NARROWEST, _longest_word(one.heading, cells))) if one.wraps else width
            for one, width, cells in zip(self.columns, widths, lines, strict=True)
        ]
        over = sum(widths) + GAP * (len(widths) - 1) - room
        while over > 0:
            widest = max(range(len(widths)), key=lambda n: (widths[n] > least[n], widths[n]))
            if widths[widest] <= least[widest]:
                return []
            widths[widest] -= 1
            over -= 1
        return widths

    def _table(self, widths: Sequence[int]) -> Table:
        table = Table(box=box.SIMPLE_HEAD, show_edge=False, padding=(0, GAP - 1, 0, 0), pad_edge=False)
        for one, width in zip(self.columns, widths, strict=True):
            side: Literal["right", "left"] = "right" if one.figure else "left"
            table.add_column(one.heading, justify=side, width=width, no_wrap=not one.wraps, overflow="fold")
        for row in self.rows:
            table.add_row(*row)
        return table

    def _records(self) -> RenderResult:
        for row in self.rows:
            name, told = row[0], _told(self.columns[1:], row[1:])
            if not name.plain.strip():
                yield Padding(told, (0, 0, 0, INDENT))
                continue
            bold = name.copy()
            bold.stylize("bold")
            yield Text(": " if told.plain else "").join([bold, told])


def grid(*headings: str, rows: Iterable[Sequence[CellText]] = (), title: str = "") -> Grid:
    """A table with its rows."""
    made = Grid(*headings, title=title)
    for row in rows:
        made.add_row(*row)
    return made


def _told(columns: Sequence[GridColumn], cells: Sequence[Text]) -> Text:
    """The values of a record that are there, each after its heading."""
    told = []
    for one, cell in zip(columns, cells, strict=True):
        value = Text(" ").join(cell.split("\n"))
        if value.plain.strip():
            heading = "" if one.bare else " ".join(one.heading.split())
            told.append(Text.assemble(f"{heading} " if heading else "", value))
    return Text("; ").join(told)


def _lines(cell: Text) -> list[str]:
    return cell.plain.splitlines()


def _longest_word(heading: str, cells: Iterable[Sequence[str]]) -> int:
    words = [*heading.split(), *(word for cell in cells for line in cell for word in line.split())]
    return max(map(cell_len, words), default=0)
