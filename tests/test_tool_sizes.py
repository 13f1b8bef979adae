"""The table of sizes: filled in by hand and put into the catalogue, it wins over estimates, exactly and by row."""

from __future__ import annotations

import re
from fractions import Fraction

import openpyxl
import pytest

from matcher.catalogue.reading import read_catalogue
from matcher.catalogue.tables import tables
from matcher.catalogue.writing import write_workbook
from matcher.records.errors import CatalogueError
from matcher.records.units import inch, kg, mm
from matcher.tools.dimensions import sized
from tests import catalogue_files

HEAD = "set,tool,kind,count,system,size,drive,length_mm,width_mm,height_mm,mass_kg,likely_length_mm,basis,source"
ROW = "Oak,wrench 10,combination wrench,1,metric,10,,141.3,22,8.1,0.05,135,estimated,a rule"


def wrenches(folder):
    return [piece for piece in read_catalogue(folder).pieces if piece.tool == "wrench 10"]


def refused(folder):
    with pytest.raises(CatalogueError) as wrong:
        read_catalogue(folder)
    return [str(cell) for cell in wrong.value.cells]


def with_sizes(at, *rows, head=HEAD):
    return catalogue_files.folder(at, sizes="\n".join((head, *rows)))


def test_what_is_filled_in_is_measured_and_exact_on_the_grid(tmp_path):
    (piece,) = wrenches(with_sizes(tmp_path, ROW))
    assert (piece.length, piece.width) == (mm(Fraction("141.3")), mm(22))
    assert (piece.height, piece.mass) == (mm(Fraction("8.1")), kg(Fraction("0.05")))
    assert sized(piece).basis == "measured"


def test_inches_and_shop_fractions_as_elsewhere(tmp_path):
    (piece,) = wrenches(with_sizes(tmp_path, "Oak,wrench 10,5 9/16", head="set,tool,length_in"))
    assert piece.length == inch(5.5625)


def test_blank_rows_say_nothing_even_of_tools_that_are_gone(tmp_path):
    bare = with_sizes(tmp_path, "Oak,wrench 10,", "Oak,gone,", head="set,tool,length_mm")
    (piece,) = wrenches(bare)
    assert piece.length is None


def test_without_a_set_it_is_about_every_set(tmp_path):
    tools = catalogue_files.SOUND["tools"] + "Fir,wrench 10,combination wrench,1,metric,10,,,,,,,,\n"
    folder = catalogue_files.folder(tmp_path, tools=tools, sizes="tool,length_mm\nwrench 10,141.3")
    assert [piece.length for piece in wrenches(folder)] == [mm(Fraction("141.3"))] * 2


def test_it_may_be_a_workbook_of_its_own_in_the_folder(tmp_path):
    with_sizes(tmp_path, ROW)
    write_workbook({"sizes": tables(tmp_path)["sizes"]}, tmp_path / "sizes.xlsx")
    assert any("one table sizes" in line for line in refused(tmp_path))
    (tmp_path / "sizes.csv").unlink()
    assert wrenches(tmp_path)[0].length == mm(Fraction("141.3"))


def test_a_workbook_in_the_folder_without_its_sheet_is_refused(tmp_path):
    folder = catalogue_files.folder(tmp_path)
    openpyxl.Workbook().save(folder / "sizes.xlsx")
    assert refused(folder) == ["sizes.xlsx: expected a sheet called sizes"]
    (folder / "sizes.xlsx").write_text("none")
    assert refused(folder) == ["sizes.xlsx: expected a workbook (XLSX)"]


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("Oak,wrench 11,,,,,,9,,", "column tool: 'wrench 11': expected a tool of the set Oak in the table tools (near"),
        ("Elm,wrench 10,,,,,,9,,", "column set: 'Elm': expected a set of the table tools, or blank for every set"),
        ("Oak,wrench 10,socket,,,,,9,,", "column kind: 'socket': expected combination wrench, as the table tools has"),
        ("Oak,wrench 10,,,,11,,9,,", "column size: '11': expected 10, as the table tools has it for wrench 10 of the"),
        ("Oak,wrench 10,,,,,1/2,9,,", "column drive: '1/2': expected a blank cell, as the table tools has it"),
        ("Oak,wrench 10,,,,,,nine,,", "column length_mm: 'nine': expected a length above 0"),
        ("Oak,bench puller,,,,,,301,,", "column length_mm: '301': expected 300.0 mm, as row 6 of the table tools says"),
    ],
)  # fmt: skip
def test_a_filled_row_that_fits_nothing_is_one_error(tmp_path, row, told):
    folder = with_sizes(tmp_path, row, head="set,tool,kind,count,system,size,drive,length_mm,width_mm,height_mm")
    (line,) = refused(folder)
    assert line.startswith("sizes.csv, row 2, ")
    assert told in line


def test_a_value_that_the_tool_has_already_may_stand_there(tmp_path):
    folder = with_sizes(tmp_path, "Oak,bench puller,300,120.5", head="set,tool,length_mm,mass_kg")
    assert refused(folder) == [
        "sizes.csv, row 2, column mass_kg: '120.5': expected 2.5 kg, as row 6 of the table tools says, or a blank cell"
    ]


def test_two_rows_about_one_tool_are_refused(tmp_path):
    (line,) = refused(with_sizes(tmp_path, "Oak,wrench 10,141", ",wrench 10,142", head="set,tool,length_mm"))
    assert re.search(r"row 3, column tool: 'wrench 10': expected each tool in one row; row 2 has it already", line)


def test_a_fault_in_a_tool_s_own_row_is_not_told_twice(tmp_path):
    spoiled = catalogue_files.with_cell("tools", 4, "count", "none")
    folder = catalogue_files.folder(tmp_path, tools=spoiled, sizes=f"{HEAD}\n{ROW}")
    (line,) = refused(folder)
    assert line.startswith("tools.csv, row 4, column count")


def test_a_column_that_no_list_of_sizes_has_is_refused(tmp_path):
    (line,) = refused(with_sizes(tmp_path, "Oak,wrench 10,141", head="set,tool,lenght_mm"))
    assert "expected a known column (nearest: length_mm)" in line
