"""Tables of text to rows: every bad cell is reported, every good row is kept."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Generic, NamedTuple, TypeVar, get_args

from pydantic import BeforeValidator, ValidationError
from pydantic_core import ErrorDetails

from matcher.catalogue.cells import Cell, Parser
from matcher.catalogue.rows import Row
from matcher.catalogue.tables import Table, column_name
from matcher.records import CellError, nearest, remembered, with_nearest

R_co = TypeVar("R_co", bound=Row, covariant=True)
R = TypeVar("R", bound=Row)


_SIGNS = re.compile(r"[ _()]+")
"""What may stand between the words of a column that is not read: ``likely length (mm)`` is ``likely_length_mm``."""


class Column(NamedTuple):
    """Where a field stands in a table, and the unit its name ends in."""

    header: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class ReadTable(Generic[R_co]):
    """The good rows of a table, with what is needed to point at one of its cells."""

    rows: tuple[R_co, ...] = ()
    table: Table | None = None
    columns: Mapping[str, Column] = field(default_factory=dict)

    def fault(self, at: int, name: str, expected: str, value: str | None = None) -> CellError:
        """A fault in field ``name`` of row ``at``; the value shown is the cell's text unless another is given."""
        assert self.table is not None
        found = _fault(self.table, at, self.columns.get(name, Column(name)), expected)
        return found if value is None else replace(found, value=value)

    def texts(self, *names: str) -> Iterator[tuple[int, tuple[str, ...]]]:
        """Row number and texts of the named fields wherever one of them is given, bad rows included."""
        if self.table is not None:
            wanted = {name: self.columns[name] for name in names if name in self.columns}
            for at, texts in enumerate(_texts(self.table, wanted), 2):
                if any(texts.values()):
                    yield at, tuple(texts.get(name, "") for name in names)


def reading(model: type[R], table: Table | None, faults: list[CellError]) -> ReadTable[R]:
    """Rows of ``table`` as ``model``; what is wrong is added to ``faults``."""
    if table is None:
        return ReadTable()
    columns = _columns(model, table, faults)
    rows = []
    for at, texts in enumerate(_texts(table, columns), 2):
        cells = {name: Cell(text, columns[name].unit) for name, text in texts.items() if text}
        if cells:
            try:
                rows.append(model.model_validate({"at": at, **cells}))
            except ValidationError as bad:
                faults.extend(_cell_faults(model, table, columns, at, bad))
    return ReadTable(tuple(rows), table, columns)


def _texts(table: Table, columns: Mapping[str, Column]) -> Iterator[dict[str, str]]:
    """The texts of every row by field; runs of spaces and line breaks count as one space."""
    tidied = [[" ".join(text.split()) for text in table.frame[column.header]] for column in columns.values()]
    for at in range(len(table.frame)):
        yield {name: texts[at] for name, texts in zip(columns, tidied, strict=True)}


def _cell_faults(
    model: type[Row], table: Table, columns: Mapping[str, Column], at: int, bad: ValidationError
) -> Iterator[CellError]:
    for error in bad.errors(include_url=False):
        name = str(error["loc"][0])
        if name in columns:
            yield _fault(table, at, columns[name], _expected(model, name, error))


def _expected(model: type[Row], name: str, error: ErrorDetails) -> str:
    return parsers(model)[name].expected if error["type"] == "missing" else str(error["ctx"]["error"])


def _fault(table: Table, at: int, column: Column, expected: str) -> CellError:
    known = column.header in table.frame.columns
    text = str(table.frame[column.header].iloc[at - 2]) if known else ""
    return CellError(table.file, at, column.header.strip(), text, expected, table.sheet)


@remembered(128)
def parsers(model: type[Row]) -> Mapping[str, Parser[object]]:
    """The parser of every field that has a column."""
    found: dict[str, Any] = {}
    for name, info in model.model_fields.items():
        optional = [rule for part in get_args(info.annotation) for rule in getattr(part, "__metadata__", ())]
        rules = [rule for rule in (*info.metadata, *optional) if isinstance(rule, BeforeValidator)]
        found.update((name, rule.func) for rule in rules)
    return found


def _names(model: type[Row]) -> dict[str, tuple[str, str]]:
    """Every right column name with its field and unit."""
    return {
        f"{name}_{unit}" if unit else name: (name, unit)
        for name, parser in parsers(model).items()
        for unit in parser.units
    }


def _columns(model: type[Row], table: Table, faults: list[CellError]) -> dict[str, Column]:
    """Which column holds which field; unknown, doubled and missing ones are added to ``faults``."""
    right = _names(model)
    columns: dict[str, Column] = {}
    meant = set()
    for header in table.frame.columns:
        name, unit = right.get(column_name(header), ("", ""))
        if not name and _SIGNS.sub("_", column_name(header)).strip("_") in model.told:
            continue
        if not name:
            faults.append(_header_fault(table, header, _unknown(model, column_name(header), right)))
            meant.add(right.get(nearest(header, right), ("", ""))[0])
        elif name in columns:
            other = columns[name].header
            faults.append(_header_fault(table, header, f"one column for {name}, and {other} is there too"))
        else:
            columns[name] = Column(header, unit)
    needed = [name for name in parsers(model) if model.model_fields[name].is_required()]
    faults.extend(
        _header_fault(table, _choices(model, name), "this column, which is needed", "")
        for name in needed
        if name not in columns and name not in meant
    )
    return columns


def _unknown(model: type[Row], header: str, right: Mapping[str, object]) -> str:
    if header in parsers(model):
        return f"the unit in the column's name: {_choices(model, header)}"
    return with_nearest("a known column", header, right)


def _choices(model: type[Row], name: str) -> str:
    units = parsers(model)[name].units
    return " or ".join(f"{name}_{unit}" if unit else name for unit in units)


def _header_fault(table: Table, header: str, expected: str, value: str | None = None) -> CellError:
    return CellError(table.file, 1, header.strip(), header if value is None else value, expected, table.sheet)
