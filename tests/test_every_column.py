"""Every column of every table with every kind of bad cell: refused where it has to be, at its row, and nowhere else."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from matcher.catalogue.parsing import parsers
from matcher.catalogue.reading import read_catalogue
from matcher.catalogue.rows import MODELS
from matcher.records.errors import CatalogueError
from tests.catalogue_files import SOUND, folder

CELLS = {
    "missing": "",
    "text": "abc",
    "negative": "-5",
    "zero": "0",
    "no number": "NaN",
    "infinite": "inf",
    "huge": "1e30",
    "tiny": "1e-30",
    "thin": "0.0001",
    "other unit": "22 furlongs",
    "date": "8-Mar",
    "date in full": "2025-03-08",
    "date's number": "45724",
    "path": "../../etc/passwd",
    "control": "a\x07b",
    "turned round": "\u202eabc",
    "long": "x" * 40_000,
}
"""What may stand in a cell, one row each."""
NEVER = {"control", "turned round", "long"}
WORDS = {*CELLS} - {"missing"}
NO_NUMBER = NEVER | {"text", "no number", "infinite", "huge", "other unit", "date", "date in full", "path"}
QUANTITY = NO_NUMBER | {"negative"}
REFUSED = {
    "text": NEVER,
    "name": NEVER | {"missing"},
    "one of": WORDS,
    "needed one of": {*CELLS},
    "length": QUANTITY | {"zero", "tiny", "thin", "date's number"},
    "needed length": QUANTITY | {"zero", "tiny", "thin", "date's number", "missing"},
    "length from 0": QUANTITY | {"date's number"},
    "needed length from 0": QUANTITY | {"date's number", "missing"},
    "mass": QUANTITY | {"date's number"},
    "amount": QUANTITY,
    "needed amount": QUANTITY | {"missing"},
    "needed gain": NO_NUMBER | {"missing"},
    "density": QUANTITY | {"date's number"},
    "from 1": QUANTITY | {"zero", "tiny", "thin", "date's number"},
    "needed from 1": QUANTITY | {"zero", "tiny", "thin", "date's number", "missing"},
    "from 0": QUANTITY | {"tiny", "thin", "date's number"},
    "stock": QUANTITY | {"tiny", "thin"},
}
"""Kinds of columns, and which cells none of them takes. A serial number of a day is a number up to a billion."""

COLUMNS = {
    "tools": {
        "name": "set tool",
        "needed one of": "kind size drive",  # a socket needs both sizes
        "needed from 1": "count",
        "one of": "system two_hands outline",
        "length": "length width height",
        "mass": "mass",
        "text": "group",
        "amount": "use",
    },
    "sizes": {
        "needed one of": "tool",
        "one of": "set kind system drive",
        "length": "length width height",
        "mass": "mass",
    },
    "organizers": {
        "name": "set group",
        "needed length": "width depth height field_width field_depth",  # the row says where the field begins
        "mass": "mass",
        "length from 0": "field_left field_front",
        "text": "family part revision cabinet drawer part_of",
        "from 0": "tier pieces",
        "one of": "system foam",
        "stock": "on_hand",
        "amount": "unit_cost",
        "from 1": "first_piece",
    },
    "drawers": {
        "name": "cabinet drawer",
        "needed one of": "bank",
        "needed from 1": "row",
        "needed length": "inside_width inside_depth clear_height",
        "mass": "load_rating mass",
        "text": "rating_basis",
        "length from 0": "above_ground corner_radius liner",
        "one of": "slot",
        "length": "travel",
    },
    "obstructions": {
        "needed one of": "cabinet drawer",
        "needed length from 0": "left front",
        "needed length": "width depth height",
    },
    "cabinets": {
        "needed one of": "cabinet",
        "text": "label model_line revision",
        "one of": "stands_on",
        "length": "width depth height contact_span",
        "mass": "mass load_rating caster_load",
        "amount": "price",
        "length from 0": "cg_depth cg_height contact_front caster_trail",
    },
    "pins": {
        "needed one of": "rule group drawer",  # the row's rule needs both
        "one of": "set cabinet other",
        "from 1": "bank row",
    },
    "groups": {
        "name": "group",
        "text": "family",
        "from 0": "tier",
        "one of": "kinds system share split by",
    },
    "relations": {"needed one of": "group other wish", "from 0": "weight"},
    "measured": {
        "needed one of": "cabinet drawer",
        "needed length": "inside_width",  # the row has no other reading
        "length": "inside_depth clear_height",
        "text": "by date order serial",
    },
    "foam": {
        "name": "foam",
        "needed length": "length width thickness",
        "length from 0": "tolerance",
        "text": "color",
        "density": "density",
        "amount": "price",
    },
    "demand": {
        "needed one of": "set cabinet",
        "needed amount": "units",
        "needed gain": "margin",
        "text": "year",
        "one of": "offered",
        "amount": "installed",
    },
}
CASES = [
    (table, column, REFUSED[kind])
    for table, kinds in COLUMNS.items()
    for kind, named in kinds.items()
    for column in named.split()
]
ROWS = SOUND | {"sizes": "tool,set,kind,system,size,drive,length_mm\nsocket 13,Oak,socket,metric,13,3/8,25\n"}


def test_every_column_of_every_table_is_tried():
    tried = {table: {column for at, column, _ in CASES if at == table} for table in MODELS}
    missed = {(table, column) for table, model in MODELS.items() for column in parsers(model)} - {
        (table, column) for table, columns in tried.items() for column in columns
    }
    assert missed == {("sizes", "size")}, "any text: it only says which row of the tools is meant"


def spoiled(at: Path, table: str, field: str) -> tuple[Path, str]:
    """The sound catalogue with a table that has a row for each bad cell; and the column's name."""
    rows = list(csv.reader(ROWS[table].strip().splitlines()))
    header, row = rows[0], rows[1]
    units = parsers(MODELS[table])[field].units
    names = [f"{field}_{unit}" if unit else field for unit in units]
    column = next((name for name in names if name in header), names[0])
    if column not in header:
        header, row = [*header, column], [*row, ""]
    place = header.index(column)
    made = [[*row[:place], cell, *row[place + 1 :]] for cell in CELLS.values()]
    folder(at, **ROWS | {table: None})
    with (at / f"{table}.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([header, *made])
    return at, column


@pytest.mark.parametrize(("table", "field", "refused"), CASES, ids=[f"{table} {column}" for table, column, _ in CASES])
def test_bad_cells_of_a_column_are_refused_at_their_rows_and_the_others_are_not(tmp_path, table, field, refused):
    at, column = spoiled(tmp_path, table, field)
    with pytest.raises(CatalogueError) as told:
        read_catalogue(at)
    here = {cell.row: cell for cell in told.value.cells if (cell.file, cell.column) == (f"{table}.csv", column)}
    rows = dict(enumerate(CELLS, 2))
    wrong = {rows[row] for row, cell in here.items() if " once only" not in cell.expected}
    assert wrong == refused
    for row, cell in here.items():
        assert cell.value in (CELLS[rows[row]], CELLS[rows[row]][:20] + "...", repr(CELLS[rows[row]]))
        assert cell.expected
        assert str(cell).startswith(f"{table}.csv, row {row}, column {column}: ")


def test_the_rows_that_are_spoiled_are_sound(tmp_path):
    assert read_catalogue(folder(tmp_path, **ROWS)).pieces
