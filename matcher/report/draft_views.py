"""A drafted catalogue: as a document, in a terminal, and as a workbook that is a catalogue with the list beside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any

from rich.console import Group as Stack
from rich.console import RenderableType

from matcher.catalogue import LIST, BookSheet, SheetColumn, workbook
from matcher.drafting import Draft, LineReading
from matcher.records import PER_MM, Piece, counted
from matcher.report.document import Document
from matcher.report.grids import Grid

SHOWN = 40
"""Lines that a terminal lists before the rest is counted."""
STATES = {
    "read": "read",
    "look": "read, look at it",
    "ask": "asked about",
    "not read": "not read",
    "no tool": "no tool",
}
"""How sure a line is, in words."""
TOOLS = (
    "set",
    "tool",
    "kind",
    "count",
    "system",
    "size",
    "drive",
    "length_mm",
    "sure",
    "look_at",
    "list_row",
    "list_text",
)


def draft_document(found: Draft) -> Document:
    """Every line as read, the tools of a catalogue, and pieces advertised against pieces read."""
    return {
        "list": found.name,
        "lines": {word: found.lines(sure) for sure, word in STATES.items()},  # type: ignore[arg-type]
        "pieces": found.pieces,
        "sections": [
            {"heading": one.heading, "advertised": one.advertised, "read": one.read, "open_lines": one.open}
            for one in found.sections
        ],
        "readings": draft_rows(found),
    }


def draft_rows(found: Draft) -> list[Document]:
    """One row a line of the list, in its order."""
    return [_row(reading) for reading in found.readings]


def _row(reading: LineReading) -> Document:
    line = reading.line
    return {
        "sheet": line.sheet,
        "row": line.row,
        "set": line.set,
        "text": _original(reading),
        "sure": STATES[reading.sure],
        "read_as": "; ".join(_told(tool) for tool in reading.tools),
        "pieces": sum(tool.count for tool in reading.tools),
        "notes": "; ".join(reading.notes),
    }


def _original(reading: LineReading) -> str:
    """The words of the line as the list has them, of all columns that were read."""
    line = reading.line
    return " | ".join(filter(None, (line.text, line.size, line.drive, line.pieces, line.count)))


def _told(tool: Piece) -> str:
    return f"{tool.count} x {tool.tool}" if tool.count > 1 else tool.tool


def draft_view(found: Draft) -> RenderableType:
    """How many lines are how sure, what does not add up, and every line that a person has to look at."""
    document = draft_document(found)
    counts = ", ".join(f"{number} {word}" for word, number in document["lines"].items() if number)
    table = Grid("row", "~=text", "=sure", "~=what to look at")
    to_do = [row for row in document["readings"] if row["sure"] not in (STATES["read"], STATES["no tool"])]
    for row in to_do[:SHOWN]:
        place = f"{row['sheet']} {row['row']}" if len({one["sheet"] for one in to_do}) > 1 else str(row["row"])
        table.add_row(place, row["text"], row["sure"], row["notes"])
    more = [f"and {counted(len(to_do) - SHOWN, 'more line')} (sheet {LIST}, or --json)"] if len(to_do) > SHOWN else []
    lines = f"{found.name}: {counted(len(found.readings), 'line')}: {counts}; {counted(found.pieces, 'piece')}"
    return Stack(lines, *_sums(document), *([table] if to_do else []), *more)


def _sums(document: Document) -> Iterator[str]:
    """A sentence for each heading whose advertised pieces are not those read."""
    for one in document["sections"]:
        if one["advertised"] != one["read"]:
            still = f", {counted(one['open_lines'], 'line')} still open" if one["open_lines"] else ""
            yield f"{one['heading']}: {one['advertised']} pieces advertised, {one['read']} read{still}"


def draft_book(found: Draft, cabinets: Mapping[str, Any]) -> bytes:
    """A catalogue: the tools with the list's own words beside them, the tables of ``cabinets``, the list as read."""
    tools = [row for reading in found.readings for row in _tool_rows(reading)]
    sheets = [_sheet("tools", TOOLS, tools)]
    for name, frame in cabinets.items():
        sheets.append(_sheet(name, tuple(frame.columns), frame.to_dict("records")))
    rows = draft_rows(found)
    sheets.append(_sheet(LIST, tuple(rows[0]), rows))
    return workbook(sheets)


def _tool_rows(reading: LineReading) -> Iterator[Document]:
    for tool in reading.tools:
        row: Document = {name: getattr(tool, name) for name in TOOLS[:7]}
        row["length_mm"] = "" if tool.length is None else f"{(Decimal(tool.length) / PER_MM).normalize():f}"
        yield row | {
            "sure": STATES[reading.sure],
            "look_at": "; ".join(reading.notes),
            "list_row": reading.line.row,
            "list_text": _original(reading),
        }


def _sheet(name: str, keys: Sequence[str], rows: Sequence[Mapping[Any, Any]]) -> BookSheet:
    columns = tuple(SheetColumn(str(key)) for key in keys)
    return BookSheet(name, columns, [[str(row[key]) for key in keys] for row in rows])
