"""Every bad cell is named: file, row, column, value, what was expected; all of them at once."""

from __future__ import annotations

import csv
import datetime
import os
import pickle
from dataclasses import replace
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.reading import read_catalogue
from matcher.catalogue.tables import tables
from matcher.cutting.guesses import Guess, GuessedSizesError
from matcher.records.errors import CatalogueError, CellError, MatcherError, UnknownNameError
from tests.catalogue_files import SOUND, folder, records, with_cell, workbook

SIZE = "a length above 0 and at most 10 m"
FROM_ZERO = "a length from 0 to 10 m"
MASS = "a mass from 0 to 10,000 kg"
DATED = "turned into a date by a spreadsheet: format the column as text"


def faults(at: Path) -> tuple[CellError, ...]:
    with pytest.raises(CatalogueError) as refused:
        read_catalogue(at)
    return refused.value.cells


def only_fault(at: Path) -> CellError:
    (fault,) = faults(at)
    return fault


CELLS = [
    # numbers that are none, or out of range
    ("drawers", 2, "inside_width_mm", "-3", SIZE),
    ("drawers", 2, "inside_width_mm", "0", SIZE),
    ("drawers", 2, "inside_width_mm", "NaN", SIZE),
    ("drawers", 2, "inside_width_mm", "inf", SIZE),
    ("drawers", 2, "inside_width_mm", "1e999", SIZE),
    ("drawers", 2, "inside_width_mm", "9" * 400, SIZE),
    ("drawers", 2, "inside_width_mm", "10000.1", SIZE),
    ("drawers", 2, "inside_width_mm", "wide", SIZE),
    ("drawers", 2, "inside_width_mm", "٥٦٠", SIZE),
    ("drawers", 2, "inside_width_mm", "", SIZE),
    ("drawers", 2, "inside_width_mm", "561,2", f"{SIZE}, with a decimal point and no comma"),
    ("drawers", 2, "inside_width_mm", "22 7/16", f"{SIZE}; a fraction belongs in a column whose name ends in _in"),
    ("drawers", 2, "inside_width_mm", "22 in", f"{SIZE}, in millimeters as the name of the column says"),
    ("drawers", 2, "inside_width_mm", "56 cm", f"{SIZE}, in millimeters as the name of the column says"),
    ("organizers", 2, "width_in", "560 mm", f"{SIZE}, in inches as the name of the column says"),
    ("organizers", 2, "width_in", "22 17/16", SIZE),
    ("organizers", 2, "width_in", "22 1/3", SIZE),
    ("organizers", 2, "height_in", "2025-03-08", f"{SIZE}; this looks like 3/8 {DATED}"),
    ("organizers", 2, "mass_lb", "-1", MASS),
    ("organizers", 2, "mass_lb", "22047", MASS),
    ("drawers", 2, "above_ground_mm", "-1", FROM_ZERO),
    ("drawers", 2, "load_rating_kg", "10001", MASS),
    ("drawers", 2, "row", "0", "a whole number from 1 to 999"),
    ("drawers", 2, "row", "1.5", "a whole number from 1 to 999"),
    ("drawers", 2, "bank", "0", "a bank such as 2, or a range such as 1-2"),
    ("drawers", 2, "bank", "2-1", "a bank such as 2, or a range such as 1-2"),
    ("tools", 2, "count", "0", "a whole number from 1 to 10,000"),
    ("tools", 2, "count", "two", "a whole number from 1 to 10,000"),
    ("tools", 2, "use", "-1", "a number of times a week from 0 to 100,000"),
    ("cabinets", 2, "price", "free", "an amount from 0 to 1,000,000,000"),
    ("demand", 2, "units", "-5", "a number from 0 to 1,000,000,000"),
    ("relations", 2, "weight", "-1", "a whole number from 0 to 1,000"),
    # words
    ("tools", 2, "kind", "sockett", "a known kind of tool (nearest: socket, deep socket or impact socket)"),
    ("tools", 2, "system", "imperial", "metric, inch or blank (nearest: metric)"),
    ("tools", 2, "two_hands", "maybe", "yes or no"),
    ("drawers", 2, "slot", "foams", "foam, no foam or blocked (nearest: foam)"),
    ("pins", 2, "rule", "on", "in, not in, apart, together or keep free (nearest: in)"),
    ("relations", 2, "wish", "besides", "near, beside, below or left_of (nearest: beside)"),
    (
        "groups",
        2,
        "kinds",
        "socket; rachet",
        "a known kind of tool (nearest: ratchet, stubby ratchet or flex-head ratchet) instead of 'rachet'",
    ),
    ("demand", 2, "offered", "perhaps", "yes, must or no"),
    ("tools", 2, "set", "", "a name"),
    # sizes and drives, and what spreadsheets make of them
    ("tools", 2, "drive", "8-Mar", f"a square drive: 1/4, 3/8, 1/2, 3/4 or 1; this looks like 3/8 {DATED}"),
    ("tools", 2, "drive", "7/8", "a square drive: 1/4, 3/8, 1/2, 3/4 or 1"),
    ("tools", 3, "size", "16-Sep", f"a size such as 13, 9/16, T25 or PH2; this looks like 9/16 {DATED}"),
    ("tools", 3, "size", "May-32", f"a size such as 13, 9/16, T25 or PH2; this looks like 5/32 {DATED}"),
    ("tools", 2, "drive", "", "a drive, which this kind needs (socket)"),
    ("tools", 2, "size", "", "a size, which this kind needs (socket)"),
    ("tools", 2, "size", "125x2", "a metric size such as 13"),
    ("tools", 2, "system", "inch", "an inch size such as 3/8"),
    ("tools", 6, "length_mm", "", "a length, which this kind needs (other)"),
    ("tools", 7, "height_mm", "", "a height, which this kind needs (cased)"),
    # references
    ("organizers", 2, "foam", "blck", "a foam of the table foam (nearest: black)"),
    ("obstructions", 2, "cabinet", "Lo", "a cabinet that has drawers (nearest: Low)"),
    ("obstructions", 2, "drawer", "3", "a drawer of Low"),
    ("pins", 2, "set", "Oka", "a known set, or several joined by + (nearest: Oak)"),
    ("pins", 5, "set", "Oak+Fur", "a known set, or several joined by + (nearest: Fir)"),
    ("pins", 2, "cabinet", "Lowe", "a cabinet that has drawers (nearest: Low)"),
    ("pins", 2, "group", "drive tool", "a known group (nearest: drive tools)"),
    ("pins", 4, "other", "hexkeys", "a known group (nearest: hex keys)"),
    ("pins", 5, "drawer", "2", "a drawer of Wide: 02, if a spreadsheet has changed the leading zeros"),
    ("pins", 3, "row", "9", "a place that Top has"),
    ("pins", 5, "bank", "3", "a place that Wide has"),
    ("relations", 2, "group", "puller", "a known group (nearest: pullers)"),
    ("measured", 2, "drawer", "9", "a drawer of Low"),
    ("demand", 3, "cabinet", "Tap", "a cabinet that has drawers (nearest: Top)"),
    ("cabinets", 3, "cabinet", "Lew", "a cabinet that has drawers (nearest: Low)"),
    ("cabinets", 2, "stands_on", "Lew", "a cabinet that has drawers (nearest: Low)"),
    # what does not go together
    ("cabinets", 3, "stands_on", "Low", "a base that does not stand on Low in turn"),
    ("organizers", 2, "field_width_in", "22 1/2", "at most the outside, 569.9 mm"),
    ("organizers", 2, "field_left_in", "3", "at most 61.9 mm, so that the field stays inside"),
    ("organizers", 2, "field_depth_in", "", "a value, because field_front is given"),
    ("obstructions", 2, "left_mm", "490.1", "an end inside the drawer; this one is 0.1 mm beyond its wall"),
    ("drawers", 3, "row", "1", "one drawer per bank and row of a cabinet; row 2 is there"),
    ("pins", 2, "drawer", "", "a drawer, bank or row, which the rule 'in' needs"),
    ("pins", 4, "group", "", "a group, which the rule 'apart' needs"),
    ("pins", 4, "drawer", "1", "a blank cell: the rule 'apart' is about group and other"),
    ("pins", 3, "group", "pullers", "a blank cell: the rule 'keep free' is about drawer, bank or row"),
    ("pins", 4, "other", "chrome sockets", "another group"),
    ("relations", 2, "other", "pullers", "another group"),
    ("measured", 2, "inside_width_in", "", "at least one of inside width, inside depth and clear height"),
]


ELSEWHERE = {
    ("system", "inch"): ("size", "13"),
    ("left_mm", "490.1"): ("width_mm", "80"),
}
"""Cells that are good in themselves and spoil another one of their row, where the fault is shown."""


@pytest.mark.parametrize(("table", "row", "column", "value", "expected"), CELLS)
def test_a_bad_cell_is_named(tmp_path, table, row, column, value, expected):
    found = faults(folder(tmp_path, **{table: with_cell(table, row, column, value)}))
    fault = next(cell for cell in found if cell.expected.startswith(expected))
    assert (fault.file, fault.row) == (f"{table}.csv", row)
    assert (fault.column, fault.value) == ELSEWHERE.get((column, value), (column, value))


@pytest.mark.parametrize(("table", "row", "column", "value", "expected"), CELLS[::4])
def test_a_workbook_names_the_same_cells_with_their_sheet(tmp_path, table, row, column, value, expected):
    spoiled = folder(tmp_path, **{table: with_cell(table, row, column, value)})
    by_file = [(Path(cell.file).stem, cell.row, cell.column, cell.value, cell.expected) for cell in faults(spoiled)]
    in_book = faults(workbook(spoiled, tmp_path / "book.xlsx"))
    assert {cell.file for cell in in_book} == {"book.xlsx"}
    assert [(cell.sheet, cell.row, cell.column, cell.value, cell.expected) for cell in in_book] == by_file


HEADERS = [
    ("drawers", "inside_width_mm", "inside_widht_mm", "a known column (nearest: inside_width_mm)"),
    ("drawers", "inside_width_mm", "inside_width", "the unit in the column's name: inside_width_mm or inside_width_in"),
    ("tools", "kind", "kin", "a known column (nearest: kind)"),
    ("drawers", "liner_mm", "inside_width_in", "one column for inside_width, and inside_width_mm is there too"),
    ("drawers", "liner_mm", "Slot", "each column once"),
    ("drawers", "liner_mm", "xyzzy", "a known column"),
]


@pytest.mark.parametrize(("table", "column", "to", "expected"), HEADERS)
def test_a_bad_column_is_named(tmp_path, table, column, to, expected):
    found = faults(folder(tmp_path, **{table: with_cell(table, 1, column, "", to)}))
    fault = next(cell for cell in found if cell.expected == expected)
    assert (fault.file, fault.row, fault.column, fault.value) == (f"{table}.csv", 1, to, to)
    assert len(found) == (2 if to == "Slot" else 1)


def test_a_missing_column_is_named_once(tmp_path):
    rows = "cabinet,drawer,bank,row,inside_width_mm,clear_height_mm\nLow,1,1,1,500,60\nLow,2,1,2,500,60\n"
    fault = only_fault(folder(tmp_path, drawers=rows))
    assert (fault.file, fault.row, fault.column) == ("drawers.csv", 1, "inside_depth_mm or inside_depth_in")
    assert fault.expected == "this column, which is needed"


REPEATED = {
    "organizers": ("group", "the same set, group once only; row 2 has it already"),
    "drawers": ("drawer", "the same cabinet, drawer once only; row 2 has it already"),
    "cabinets": ("cabinet", "the same cabinet once only; row 2 has it already"),
    "groups": ("group", "the same group once only; row 2 has it already"),
    "relations": ("other", "the same group, other, wish once only; row 2 has it already"),
    "measured": ("drawer", "the same cabinet, drawer, order, serial once only; row 2 has it already"),
    "foam": ("foam", "the same foam once only; row 2 has it already"),
    "demand": ("cabinet", "the same set, cabinet, year once only; row 2 has it already"),
}


@pytest.mark.parametrize("table", REPEATED)
def test_the_same_thing_twice(tmp_path, table):
    lines = SOUND[table].strip().splitlines()
    found = faults(folder(tmp_path, **{table: "\n".join([*lines, lines[1]])}))
    column, expected = REPEATED[table]
    fault = next(cell for cell in found if cell.expected == expected)
    assert (fault.row, fault.column) == (len(lines) + 1, column)


def test_a_kind_in_two_groups(tmp_path):
    text = "group,kinds,system\nmine,ratchet; socket,metric\nyours,socket,inch\nother,socket,metric\n"
    fault = only_fault(folder(tmp_path, groups=text))
    assert (fault.row, fault.column) == (4, "kinds")
    assert fault.expected == "each kind in one group; socket is in mine already"


@pytest.mark.parametrize("outline", ["nowhere.svg", "../outside.svg", "/outside.svg"])
def test_an_outline_must_be_a_file_in_the_folder(tmp_path, outline):
    (tmp_path / "outside.svg").write_text("<svg/>")
    tools = with_cell("tools", 6, "group", outline, to="outline")
    fault = next(c for c in faults(folder(tmp_path / "in", tools=tools, relations=None, pins=None)) if c.row)
    assert (fault.column, fault.value, fault.expected) == ("outline", outline, "a file in the catalogue's folder")


FILES = [
    (b"", 0, "a row with the names of the columns"),
    (b"\n \n", 0, "a row with the names of the columns"),
    (b",,\n,,\n", 0, "a row with the names of the columns"),
    (b"\x89PNG\r\n\x1a\n\0\0\0", 0, "a text file of comma-separated values, not a binary file"),
    (b"PK\x03\x04rest", 0, "a text file of comma-separated values, not a binary file"),
    ("cabinet,drawer\nA,1\n".encode("utf-16"), 0, "UTF-8 text, not UTF-16: save it as 'CSV UTF-8'"),
    ("cabinet,drawer\nA,\u00fc\n".encode("latin-1"), 2, "UTF-8 text: save it as 'CSV UTF-8'"),
    (b"cabinet;drawer\nA;1\n", 1, "columns separated by commas, not by semicolons or tabs"),
    (b'cabinet,drawer\nA,"1\n', 2, "comma-separated values (unexpected end of data)"),
    (b"cabinet,,drawer\nA,x,1\n", 1, "a name for column number 2"),
]


@pytest.mark.parametrize(("content", "row", "expected"), FILES)
def test_a_file_that_is_no_table(tmp_path, content, row, expected):
    """It is the only complaint: what refers to the file's rows is not blamed for it."""
    sound = folder(tmp_path)
    (sound / "drawers.csv").write_bytes(content)
    fault = only_fault(sound)
    assert (fault.file, fault.row, fault.expected) == ("drawers.csv", row, expected)


def test_what_stands_for_a_file_but_is_none_is_not_left_out(tmp_path):
    """An optional table in the way of which a folder or a broken link stands would silently count for nothing."""
    sound = folder(tmp_path, pins=None, relations=None, groups=None, foam=None)
    (sound / "pins.csv").mkdir()
    (sound / "relations.csv").symlink_to(sound / "gone.csv")
    (sound / "groups.csv").symlink_to(sound / "groups.csv")
    os.mkfifo(sound / "Foam.csv")
    assert [(cell.file, cell.row, cell.expected) for cell in faults(sound)] == [
        ("Foam.csv", 0, "a file, but this is no file of text"),
        ("groups.csv", 0, "a file, but this is a link that leads nowhere"),
        ("pins.csv", 0, "a file, but this is a folder"),
        ("relations.csv", 0, "a file, but this is a link that leads nowhere"),
    ]


def test_a_link_to_a_table_is_read_as_the_table(tmp_path):
    sound = folder(tmp_path / "linked", pins=None)
    (tmp_path / "elsewhere.csv").write_text(SOUND["pins"].strip())
    (sound / "pins.csv").symlink_to(tmp_path / "elsewhere.csv")
    assert read_catalogue(sound).pins == read_catalogue(folder(tmp_path / "whole")).pins


@pytest.mark.parametrize("instead", ["folder", "link"])
def test_house_rules_that_are_no_file_are_not_left_out(run, tmp_path, instead):
    own = folder(tmp_path) / "house.toml"
    if instead == "folder":
        own.mkdir()
    else:
        own.symlink_to(tmp_path / "gone.toml")
    code, out, err = run("check", tmp_path)
    assert (code, out) == (2, "")
    assert err.startswith("error: house.toml: ")
    assert err.endswith(": expected a readable TOML file\n")


@pytest.mark.parametrize("cells", ["Low,3,1,3", "Low,3,1,3,570,400,75,40,600,foam,2,9"])
def test_a_ragged_row(tmp_path, cells):
    found = faults(folder(tmp_path, drawers=f"{SOUND['drawers']}{cells}\n"))
    fault = next(cell for cell in found if not cell.column)
    assert (fault.row, fault.value) == (8, f"{cells.count(',') + 1} cells")
    assert fault.expected == "11 cells, as in the header"


def test_control_characters_and_failed_formulas(tmp_path):
    bad = folder(
        tmp_path, tools=with_cell("tools", 2, "tool", "so\x07cket"), foam=with_cell("foam", 2, "price", "#N/A")
    )
    assert [(cell.file, cell.row, cell.column, cell.expected) for cell in faults(bad)] == [
        ("foam.csv", 2, "price", "a value, but the formula here has failed"),
        ("tools.csv", 2, "tool", "text without control characters"),
    ]


def test_a_name_that_turns_the_direction_of_a_sentence_is_refused_and_one_in_arabic_is_not(tmp_path):
    bad = folder(tmp_path / "bad", tools=with_cell("tools", 2, "tool", "so\u202ecket"))
    assert only_fault(bad).expected == "text without signs that turn its direction round"
    good = folder(tmp_path / "good", tools=with_cell("tools", 2, "tool", "\u0645\u0641\u062a\u0627\u062d"))
    read_catalogue(good)


def test_unknown_and_missing_tables(tmp_path):
    sound = folder(tmp_path, tools=None, organizers=None, pins=None, relations=None, drawers=None)
    (sound / "tolls.csv").write_text("a\nb\n")
    assert [(cell.file, cell.expected) for cell in faults(sound)] == [
        ("drawers.csv", "this table with at least one row; it is needed"),
        ("tolls.csv", "a known table (nearest: tools)"),
        ("tools.csv", "this table, or organizers, or both, with at least one row"),
    ]


@pytest.mark.parametrize("kind", ["folder", "book.xlsx"])
@pytest.mark.parametrize(
    ("empty", "table", "expected"),
    [
        (["drawers"], "drawers", "this table with at least one row; it is needed"),
        (["tools", "organizers"], "tools", "this table, or organizers, or both, with at least one row"),
    ],
)
def test_a_needed_table_without_rows_is_named(tmp_path, kind, empty, table, expected):
    headers = {name: ",".join(records(name)[0]) for name in empty}
    at = folder(tmp_path / "folder", **(dict.fromkeys(SOUND) | {"tools": SOUND["tools"], "drawers": SOUND["drawers"]}))
    folder(at, **(dict.fromkeys(SOUND) | headers))
    at = at if kind == "folder" else workbook(at, tmp_path / kind)
    fault = only_fault(at)
    assert (fault.sheet or Path(fault.file).stem, fault.row, fault.expected) == (table, 0, expected)


def test_the_columns_of_a_table_without_rows_are_looked_at(tmp_path):
    fault = only_fault(folder(tmp_path, pins="set,cabinet,role,group\n"))
    assert (fault.file, fault.row, fault.column) == ("pins.csv", 1, "role")


def test_the_same_table_twice(tmp_path):
    sound = folder(tmp_path)
    (sound / "Tools.csv").write_text(SOUND["tools"].strip())
    assert only_fault(sound).expected == "one table tools, and Tools.csv is there too"


def test_no_catalogue_there(tmp_path):
    with pytest.raises(UnknownNameError, match="nowhere: no such catalogue"):
        read_catalogue(tmp_path / "nowhere")
    with pytest.raises(CatalogueError, match=r"^drawers\.csv: expected this table with at least one row; it is needed"):
        read_catalogue(tmp_path)


EMPTY_ARCHIVE = b"PK\x05\x06" + bytes(18)
"""The end record of a ZIP archive that holds nothing."""


@pytest.mark.parametrize(
    ("name", "content", "expected"),
    [
        ("book.xlsx", b"no archive", "a folder of CSV files or a workbook (XLSX)"),
        ("book.xlsx", b"PK\x03\x04", "a folder of CSV files or a workbook (XLSX)"),
        ("book.xlsx", EMPTY_ARCHIVE, "a workbook (XLSX) that opens"),
        ("book.xls", b"\xd0\xcf\x11\xe0", "a folder of CSV files or a workbook (XLSX)"),
        ("tools.csv", b"set\nOak\n", "a folder of CSV files or a workbook (XLSX)"),
    ],
)
def test_a_file_that_is_no_workbook(tmp_path, name, content, expected):
    (tmp_path / name).write_bytes(content)
    fault = only_fault(tmp_path / name)
    assert (fault.file, fault.row, fault.expected) == (name, 0, expected)


def spoiled_workbook(at: Path, sheet: str, cell: str, value: object) -> Path:
    book = openpyxl.load_workbook(workbook(folder(at / "csv"), at / "book.xlsx"))
    book[sheet][cell].number_format = "General"
    book[sheet][cell].value = value
    book.save(at / "book.xlsx")
    return at / "book.xlsx"


@pytest.mark.parametrize(
    ("sheet", "cell", "value", "column", "shown", "fraction"),
    [
        ("tools", "G2", datetime.datetime(2025, 3, 8), "drive", "2025-03-08", "3/8"),
        ("tools", "F3", datetime.datetime(2025, 9, 16), "size", "2025-09-16", "9/16"),
        ("tools", "F3", datetime.date(1932, 11, 1), "size", "1932-11-01", "11/32"),
    ],
)
def test_a_size_that_became_a_date_in_a_workbook(tmp_path, sheet, cell, value, column, shown, fraction):
    fault = only_fault(spoiled_workbook(tmp_path, sheet, cell, value))
    assert (fault.file, fault.sheet, fault.row, fault.column) == ("book.xlsx", sheet, int(cell[1:]), column)
    assert fault.value == shown
    assert f"looks like {fraction} turned into a date by a spreadsheet" in fault.expected


def test_a_time_and_a_formula_in_a_workbook(tmp_path):
    timed = only_fault(spoiled_workbook(tmp_path, "drawers", "E2", datetime.time(9, 30)))
    assert (timed.row, timed.column, timed.value, timed.expected) == (2, "inside_width_mm", "09:30:00", SIZE)
    formula = only_fault(spoiled_workbook(tmp_path, "drawers", "E2", "=500+70"))
    assert (formula.sheet, formula.row) == ("drawers", 2)
    assert formula.expected == "a calculated value in E2: open and save the workbook once"


def test_an_unknown_sheet(tmp_path):
    book = openpyxl.load_workbook(workbook(folder(tmp_path / "csv"), tmp_path / "book.xlsx"))
    book.create_sheet("drawer")
    book.save(tmp_path / "book.xlsx")
    fault = only_fault(tmp_path / "book.xlsx")
    assert (fault.sheet, fault.value, fault.expected) == ("drawer", "drawer", "a known table (nearest: drawers)")


def test_all_bad_cells_at_once_in_order(tmp_path):
    """A bad cell hides neither the others of its row nor those of other files, nor what is wrong between tables."""
    tools = with_cell("tools", 3, "count", "-1").replace('"socket"', '"sockte"', 1)
    drawers = with_cell("drawers", 2, "inside_width_mm", "-3").replace('"no foam"', '"nofoam"')
    bad = folder(tmp_path, tools=tools, drawers=drawers, measured=with_cell("measured", 2, "drawer", "7"))
    assert [(cell.file, cell.row, cell.column, cell.value) for cell in faults(bad)] == [
        ("drawers.csv", 2, "inside_width_mm", "-3"),
        ("drawers.csv", 3, "slot", "nofoam"),
        ("measured.csv", 2, "drawer", "7"),
        ("tools.csv", 2, "kind", "sockte"),
        ("tools.csv", 3, "count", "-1"),
    ]


ANYTHING = st.one_of(
    st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=8),
    st.sampled_from(
        ["0", "-1", "1e308", "nan", "1/0", "0/2", "1-", "x", "#", "T999", "PH", "1x", "10x12", "8-Mar", "45000"]
    ),
    st.integers(-(10**12), 10**12).map(str),
    st.sampled_from([word for table in SOUND.values() for word in table.replace("\n", ",").split(",")]),
)
PLACES = [
    (table, row, column) for table in SOUND for row in range(2, len(records(table)) + 1) for column in records(table)[0]
]


@settings(max_examples=100, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(PLACES), ANYTHING), min_size=1, max_size=3))
def test_whatever_a_cell_holds_the_answer_is_a_catalogue_or_bad_cells(tmp_path_factory, changes):
    rows = {table: records(table) for table in SOUND}
    for (table, row, column), value in changes:
        rows[table][row - 1][rows[table][0].index(column)] = value
    at = tmp_path_factory.mktemp("spoiled")
    for table, cells in rows.items():
        with (at / f"{table}.csv").open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows(cells)
    assert all(cell.file and cell.row and cell.column and cell.expected for cell in bad_cells(at))


def bad_cells(at: Path) -> tuple[CellError, ...]:
    try:
        read_catalogue(at)
    except CatalogueError as refused:
        return refused.cells
    return ()


def test_the_message_reads_well(tmp_path):
    with pytest.raises(CatalogueError) as refused:
        read_catalogue(folder(tmp_path, drawers=with_cell("drawers", 3, "inside_width_mm", "-3")))
    assert str(refused.value) == f"drawers.csv, row 3, column inside_width_mm: '-3': expected {SIZE}"


def test_tables_refuses_what_is_no_table(tmp_path):
    (tmp_path / "tools.csv").write_bytes(b"")
    with pytest.raises(CatalogueError):
        tables(tmp_path)


@pytest.mark.parametrize(
    "error",
    [
        UnknownNameError("no set 'x'"),
        CatalogueError(CellError("tools.csv", row, "size", "13", "a width") for row in (2, 3)),
        GuessedSizesError([Guess("sockets", "socket 13", 2, "estimated", "like others of its kind")]),
    ],
    ids=lambda error: type(error).__name__,
)
def test_an_error_says_and_holds_the_same_in_another_process(error: MatcherError) -> None:
    there = pickle.loads(pickle.dumps(error))
    assert type(there) is type(error)
    assert (str(there), vars(there)) == (str(error), vars(error))


@pytest.mark.parametrize("place", ["A1048576", "XFD1", "XFD1048576"])
def test_a_space_at_the_far_end_of_a_sheet_is_nothing(tmp_path, place):
    read = read_catalogue(spoiled_workbook(tmp_path, "drawers", place, " "))
    assert replace(read, folder="") == replace(read_catalogue(tmp_path / "csv"), folder="")


def test_a_value_far_below_a_table_is_named(tmp_path):
    fault = only_fault(spoiled_workbook(tmp_path, "drawers", "A1048576", "x"))
    assert (fault.sheet, fault.row) == ("drawers", 1048576)
    assert fault.expected == "no more than 10,000 empty rows above a row"


def test_a_value_far_beside_a_table_is_no_column(tmp_path):
    (fault, *_) = faults(spoiled_workbook(tmp_path, "drawers", "XFD1", "x"))
    assert (fault.sheet, fault.row) == ("drawers", 1)


def test_a_workbook_that_unpacks_to_far_more_than_any_is_refused_before_it_is(tmp_path):
    made = tmp_path / "large.xlsx"
    with (
        ZipFile(made, "w", ZIP_DEFLATED) as packed,
        packed.open("xl/worksheets/sheet1.xml", "w", force_zip64=True) as part,
    ):
        for _ in range(600):
            part.write(bytes(10**6))
    assert made.stat().st_size < 10**6
    assert only_fault(made).expected == "a workbook that unpacks to 500 MB at most; it has 600 MB"
