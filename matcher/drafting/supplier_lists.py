"""A supplier's list to lines, from a text table or a workbook: columns found, merged cells filled, headings apart."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from io import StringIO
from pathlib import Path
from typing import Any
from zipfile import is_zipfile

from matcher.catalogue import DamagedError, calculated_book, cell_text
from matcher.drafting.line_reading import ListLine
from matcher.drafting.vocabulary import Vocabulary, plain_heading
from matcher.records import CatalogueError, CellError, UnknownNameError, bounded_bytes

SEPARATORS = (";", "\t", ",", "|")
_ADVERTISED = re.compile(
    r"\(?\b(\d{2,4})[ -]*(?:pcs?|pieces?|tlg|teilig\w*|teile|pi[eè]ces?|piezas?)\b\.?\)?", re.IGNORECASE
)

_CODE = re.compile(r"(?=.*\d)(?=.*[A-Za-z./-]|\d{5})[\w./-]+")
"""A number of an article or an amount of money: of no meaning for what the line is."""


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with the lines below it; ``advertised`` is the number of pieces it tells."""

    heading: str
    lines: tuple[ListLine, ...]
    advertised: int | None = None


@dataclass(frozen=True, slots=True)
class SupplierList:
    """A list as read: sections in order; rows of one cell, which are likely headings; rows that are surely no lines."""

    name: str
    sections: tuple[Section, ...]
    headings: tuple[ListLine, ...]
    others: tuple[ListLine, ...]


@dataclass(frozen=True, slots=True)
class _Row:
    """A row of cells; ``spans`` says that one cell is merged over several columns."""

    sheet: str
    at: int
    cells: tuple[str, ...]
    spans: bool = False


@dataclass(slots=True)
class _Below:
    """What is collected under one heading."""

    heading: str = ""
    set: str = ""
    advertised: int | None = None
    lines: list[ListLine] = field(default_factory=list)


def supplier_list(path: Path, known: Vocabulary) -> SupplierList:
    """The lines of a list: a text file with separators, or a workbook of which every sheet is read.

    Raises
    ------
    CatalogueError
        The file cannot be read as either.
    UnknownNameError
        There is no such file.
    """
    if not path.is_file():
        raise UnknownNameError(f"{path}: no such file")
    rows = list(_workbook(path) if is_zipfile(path) else _text_table(path))
    if not any(any(row.cells) for row in rows):
        raise CatalogueError([CellError(path.name, 0, "", "", "a list with at least one line")])
    return _lines(path.stem, rows, known)


def _workbook(path: Path) -> Iterator[_Row]:
    try:
        book = calculated_book(path)
    except DamagedError as damage:
        raise CatalogueError([CellError(path.name, damage.row, "", "", str(damage), damage.sheet)]) from damage
    for sheet in book.worksheets:
        yield from _sheet(sheet)


def _sheet(sheet: Any) -> Iterator[_Row]:
    """Rows of a sheet: a cell merged downwards counts in every row, one merged to the right once."""
    filled: dict[tuple[int, int], str] = {}
    wide: set[int] = set()
    for merged in sheet.merged_cells.ranges:
        text = _shown(sheet.cell(merged.min_row, merged.min_col))
        filled.update({(row, merged.min_col): text for row in range(merged.min_row, merged.max_row + 1)})
        if merged.max_col > merged.min_col + 1:
            wide.add(merged.min_row)
    for at, row in enumerate(sheet.iter_rows(), 1):
        cells = tuple(filled.get((at, place), "") or _shown(cell) for place, cell in enumerate(row, 1))
        yield _Row(sheet.title, at, cells, at in wide)


def _shown(cell: Any) -> str:
    return " ".join(cell_text(cell).split())


def _text_table(path: Path) -> Iterator[_Row]:
    raw = bounded_bytes(path)
    if b"\0" in raw and not raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise CatalogueError([CellError(path.name, 0, "", "", "a text table or a workbook (XLSX)")])
    text = _decoded(raw)
    separator = max(SEPARATORS, key=lambda sign: (_steady(text, sign), -SEPARATORS.index(sign)))
    for at, cells in enumerate(csv.reader(StringIO(text, newline=""), delimiter=separator), 1):
        yield _Row("", at, tuple(" ".join(cell.split()) for cell in cells))


def _decoded(raw: bytes) -> str:
    """The text of a file in UTF-8, UTF-16 with its mark, or else Windows' western letters."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16", errors="replace")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")


def _steady(text: str, separator: str) -> int:
    """How many lines have as many cells as the first one, if that has more than one."""
    rows = [row for row in csv.reader(StringIO(text, newline=""), delimiter=separator) if row]
    width = len(rows[0]) if rows else 0
    return sum(len(row) == width for row in rows) if width > 1 else 0


def _lines(name: str, rows: Sequence[_Row], known: Vocabulary) -> SupplierList:
    columns: dict[str, list[int]] = {}
    sheet = None
    headings: list[ListLine] = []
    below, sections, others = _Below(set=name), [], []
    for row in rows:
        if not any(row.cells):
            continue
        if sheet != row.sheet:
            columns, sheet = {}, row.sheet
            sections.append(_closed(below))
            below = _Below(set=name)
        if (found := _columns(row, known)) and not row.spans:
            columns = found
            others.append(ListLine(row.sheet, row.at, name, " | ".join(filter(None, row.cells))))
        elif _is_heading(row, columns):
            sections.append(_closed(below))
            heading = next(filter(None, row.cells))
            (others if row.spans else headings).append(ListLine(row.sheet, row.at, name, heading))
            below = _under(heading, name)
        else:
            below.lines.append(_line(row, columns, below))
    sections.append(_closed(below))
    return SupplierList(name, tuple(section for section in sections if section.lines), tuple(headings), tuple(others))


def _closed(below: _Below) -> Section:
    return Section(below.heading, tuple(below.lines), below.advertised)


def _under(heading: str, name: str) -> _Below:
    """A heading that tells a number of pieces is that of a set, which has its name."""
    found = _ADVERTISED.search(heading)
    if not found:
        return _Below(heading, name)
    own = " ".join((heading[: found.start()] + heading[found.end() :]).split()).strip(" ,;:-()")
    return _Below(heading, own or name, int(found[1]))


def _columns(row: _Row, known: Vocabulary) -> dict[str, list[int]]:
    """Columns by what they mean, where a row is their names: one of the text, most known or none with a figure."""
    told = [(place, _meaning(cell, known)) for place, cell in enumerate(row.cells) if cell]
    meant: dict[str, list[int]] = {}
    for place, meaning in told:
        meant.setdefault(meaning, []).append(place)
    known_cells = sum(bool(meaning) for _, meaning in told)
    plain = not any(any(map(str.isdigit, cell)) for cell in row.cells)
    return meant if "text" in meant and (plain or 2 * known_cells > len(told)) else {}


def _meaning(cell: str, known: Vocabulary) -> str:
    """What a column of this name holds; of a name in two languages, such as ``Artikel / Description``, either."""
    parts = [cell, *re.split(r"[/|,;()]| - ", cell)]
    found = [meaning for part in parts if (meaning := known.columns.get(plain_heading(part), ""))]
    return next((meaning for meaning in found if meaning != "-"), found[0] if found else "")


def _is_heading(row: _Row, columns: dict[str, list[int]]) -> bool:
    """Whether a row holds one text only, merged over the columns, or alone where other rows have more cells."""
    filled = [cell for cell in row.cells if cell]
    return len(set(filled)) == 1 and (row.spans or (len(columns) > 1 and len(row.cells) > 1))


def _line(row: _Row, columns: dict[str, list[int]], below: _Below) -> ListLine:
    def cell(meaning: str) -> str:
        places = [place for place in columns.get(meaning, ()) if place < len(row.cells)]
        return ", ".join(filter(None, (row.cells[place] for place in places)))

    text = cell("text") if columns else max(row.cells, key=lambda one: sum(map(str.isalpha, one)))
    unread = cell("") if columns else ", ".join(one for one in row.cells if one and one != text)
    return ListLine(
        sheet=row.sheet,
        row=row.at,
        set=cell("set") or below.set,
        text=text,
        size=cell("size"),
        drive=cell("drive"),
        count=cell("count"),
        pieces=cell("pieces"),
        heading=below.heading,
        unsure=f"in a column that is not understood: {unread}" if unread and not _CODE.fullmatch(unread) else "",
    )
