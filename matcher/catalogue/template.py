"""A blank catalogue to fill in: every table as a sheet, and a guide to all columns.

A sheet without rows is an empty table, and for every table but one that is the same as none. Without relations there
are no wishes between groups, so that sheet comes filled with the default ones: left as it is, it changes nothing.
"""

from __future__ import annotations

from collections.abc import Iterator

from matcher.catalogue.parsing import parsers
from matcher.catalogue.reading import house_tables
from matcher.catalogue.rows import MODELS, Row
from matcher.catalogue.spreadsheet import BookSheet, SheetColumn, workbook
from matcher.catalogue.tables import GUIDE
from matcher.catalogue.trade import KIND_WORDS, needs_of

BLANK = 500
"""Rows made ready for typing in every table."""
NEEDED_TABLES = {
    "drawers": "yes",
    "tools": "this or organizers",
    "organizers": "this or tools",
    "relations": "no; here are the defaults: change or delete rows, without any there are no wishes",
}
HEADINGS = ("table", "table needed", "column", "needed in every row", "or in another unit", "expected")


def template() -> bytes:
    """The bytes of the blank catalogue, a workbook."""
    return workbook([*(_blank(name, model) for name, model in MODELS.items()), _guide()])


def _blank(name: str, model: type[Row]) -> BookSheet:
    """The sheet of a table, with the rows that hold by default where none would mean something else."""
    columns = tuple(
        SheetColumn(_names(field, parser.units)[0], choices=_choices(parser.choices), needed=_needed(model, field))
        for field, parser in parsers(model).items()
    )
    rows = _default_relations([column.heading for column in columns]) if name == "relations" else ()
    return BookSheet(name, columns, rows, BLANK)


def _default_relations(headings: list[str]) -> list[list[str]]:
    held = house_tables().relations.table
    assert held is not None
    return [list(row) for row in held.frame[headings].itertuples(index=False)]


def _choices(words: tuple[str, ...]) -> tuple[str, ...] | str:
    """Few words stand in the list itself; the kinds are too many for it and stand in the guide."""
    place = "ABCDEFGHIJ"[len(HEADINGS)]
    return f"={GUIDE}!${place}$2:${place}${len(words) + 1}" if words == KIND_WORDS else words


def _guide() -> BookSheet:
    """Every column of every table; beside them the kinds of tools with the columns each needs."""
    told = [line for name, model in MODELS.items() for line in _lines(name, model)]
    kinds = [(kind, ", ".join(needs_of(kind))) for kind in KIND_WORDS]
    height = max(len(told), len(kinds))
    left = told + [("",) * len(HEADINGS)] * (height - len(told))
    right = kinds + [("", "")] * (height - len(kinds))
    columns = tuple(map(SheetColumn, (*HEADINGS, "kinds of tools", "a kind needs")))
    return BookSheet(GUIDE, columns, [(*one, *other) for one, other in zip(left, right, strict=True)])


def _lines(name: str, model: type[Row]) -> Iterator[tuple[str, ...]]:
    for field, parser in parsers(model).items():
        first, *others = _names(field, parser.units)
        needed = "yes" if _needed(model, field) else ""
        yield name, NEEDED_TABLES.get(name, "no"), first, needed, " or ".join(others), parser.expected


def _names(field: str, units: tuple[str, ...]) -> list[str]:
    return [f"{field}_{unit}" if unit else field for unit in units]


def _needed(model: type[Row], field: str) -> bool:
    return model.model_fields[field].is_required()
