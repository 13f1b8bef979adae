"""The list of sizes: sorted by what leaves most in doubt, as a table, files to fill in, and read back as measured."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
from pathlib import Path

import openpyxl
import pytest

from matcher.catalogue.reading import read_catalogue
from matcher.planning.answering import plan
from matcher.records.units import mm
from matcher.report.size_views import size_rows
from matcher.studies.size_lists import in_doubt, sizes_of, worth_measuring
from tests import catalogue_files
from tests.builders import HOUSE

BUNDLED = Path(__file__).resolve().parents[1] / "data" / "workshop"


@pytest.fixture(scope="module")
def listed():
    return sizes_of(read_catalogue(BUNDLED), "Birch-134", "likely")


def rows_of(file):
    with file.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def test_estimates_come_first_by_the_room_they_leave_in_doubt_and_measured_ones_last(listed):
    bases = [piece.basis for piece in listed.pieces]
    assert bases == sorted(bases, key=["estimated", "from standard", "measured"].index)
    for basis in set(bases):
        rooms = [in_doubt(piece) for piece in listed.pieces if piece.basis == basis]
        assert rooms == sorted(rooms, reverse=True)
    assert listed.basis.total == 134


def test_room_in_doubt_counts_every_tool_of_a_row(listed):
    """Greatest less least area: 270 x 84.375 less 237.5 x 54 mm for the adjustable wrench, by its rule's shares."""
    first = listed.pieces[0]
    assert first.piece.tool == "adjustable wrench 250 mm"
    assert in_doubt(first) == pytest.approx((270 * 84.375 - 237.5 * 54) * 320**2)
    (row,) = [row for row in size_rows(listed.pieces) if row["tool"] == first.piece.tool]
    assert row["in_doubt_cm2"] == pytest.approx(99.6, abs=0.05)
    assert row["least_length_mm"] <= row["likely_length_mm"] <= row["greatest_length_mm"]


def test_the_order_of_pieces_changes_nothing(listed):
    assert worth_measuring(reversed(listed.pieces)) == listed.pieces


def test_the_table_stays_readable_at_80_columns(run, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    code, out, _ = run("check", BUNDLED, "--sizes", "Birch-134")
    assert code == 0
    assert max(map(len, out.splitlines())) <= 80
    line = next(line for line in out.splitlines() if "screwdriver PH3" in line)
    told = " ".join(out.split())
    assert "order: estimated sizes first, those that leave the most room in doubt at the top" in told
    assert "basis: 134 pieces: 9 measured, 20 from standard, 105 estimated" in told
    assert "from 1: " in told
    assert re.search(r"screwdriver PH3 +1 +260\.0 +34\.0 +34\.0 +170\.8 +estimated +81\.5 +\d", line)


def test_json_tells_every_piece_with_its_bounds_basis_and_source(run):
    document = json.loads(run("check", BUNDLED, "--sizes", "Birch-134", "--json")[1])
    assert sum(row["count"] for row in document["sizes"]) == document["basis"]["pieces"] == 134
    for row in document["sizes"]:
        assert row["source"]
        for name in ("length_mm", "width_mm", "height_mm", "mass_kg"):
            least, likely, most = (row[f"{word}_{name}"] for word in ("least", "likely", "greatest"))
            assert least <= likely <= most
            if row[name] is not None:
                assert least == likely == most == row[name]


def test_the_workbook_holds_numbers_with_their_unit_and_is_one_page_wide(run, tmp_path):
    assert run("check", BUNDLED, "--sizes", "Birch-134", "--out", tmp_path / "list.xlsx")[0] == 0
    book = openpyxl.load_workbook(tmp_path / "list.xlsx")
    assert book.sheetnames == ["sizes", "bounds"]
    heads = [cell.value for cell in book["sizes"][1]]
    assert heads[7:15] == ["length_mm", "width_mm", "height_mm", "mass_kg", "likely length (mm)", "likely width (mm)",
                           "likely height (mm)", "likely mass (kg)"]  # fmt: skip
    assert [cell.value for cell in book["sizes"][2]][7:12] == [None, None, None, None, 250]
    for sheet in book.worksheets:
        assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)  # 1 where it says nothing
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        for cells in sheet.iter_cols(min_row=2):
            head = str(sheet.cell(1, cells[0].column).value)
            if head.endswith(("_mm", "_kg", "(mm)", "(kg)", "(cm2)")):
                assert {cell.data_type for cell in cells} == {"n"}, head


def filled(file, tool, **values):
    """The CSV list with cells of one tool filled in."""
    rows = rows_of(file)
    (row,) = [row for row in rows if row["tool"] == tool]
    row.update(values)
    stream = io.StringIO()
    writer = csv.DictWriter(stream, fieldnames=list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return stream.getvalue()


@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_written_filled_in_and_put_into_the_catalogue_a_piece_is_measured_and_planned_so(run, tmp_path, form):
    own, made = catalogue_files.folder(tmp_path / "own"), tmp_path / f"sizes.{form}"
    assert run("check", own, "--sizes", "Oak", "--out", made)[0] == 0
    if form == "csv":
        (own / "sizes.csv").write_text(filled(made, "wrench 10", length_mm="141.3", width_mm="23", height_mm="7.9"))
    else:
        book = openpyxl.load_workbook(made)
        sheet = book["sizes"]
        at = next(cell.row for cell in sheet["B"] if cell.value == "wrench 10")
        for column, value in zip("HIJ", (141.3, 23, 7.9), strict=True):
            sheet[f"{column}{at}"] = value
        book.save(own / "sizes.xlsx")
    assert run("check", own)[0] == 0
    rows = {row["tool"]: row for row in json.loads(run("check", own, "--sizes", "Oak", "--json")[1])["sizes"]}
    assert rows["wrench 10"]["basis"] == "measured"
    assert rows["wrench 10"]["likely_length_mm"] == pytest.approx(141.3, abs=1 / 320)
    assert rows["socket 13"]["basis"] == "estimated"
    outcome = plan(read_catalogue(own), HOUSE, "Oak", "Low")
    (wrench,) = [one for group in outcome.question.groups for one in group.pieces if one.piece.tool == "wrench 10"]
    assert (wrench.basis, wrench.width) == ("measured", mm(23))


def test_the_list_written_as_it_is_and_read_back_changes_no_size(run, tmp_path):
    own = tmp_path / "own"
    shutil.copytree(BUNDLED, own)
    assert run("check", own, "--sizes", "Birch-134", "--out", tmp_path / "sizes.csv")[0] == 0
    before = read_catalogue(own).pieces
    shutil.copy(tmp_path / "sizes.csv", own)
    assert read_catalogue(own).pieces == before


def test_names_that_a_spreadsheet_would_run_come_back(run, tmp_path):
    tools = catalogue_files.SOUND["tools"].replace("wrench 10", "=wrench 10")
    own = catalogue_files.folder(tmp_path / "own", tools=tools)
    run("check", own, "--sizes", "Oak", "--out", tmp_path / "sizes.csv")
    (own / "sizes.csv").write_text(filled(tmp_path / "sizes.csv", "'=wrench 10", width_mm="23"))
    assert [piece.width for piece in read_catalogue(own).pieces if piece.tool == "=wrench 10"] == [mm(23)]


def test_the_plan_s_workbook_holds_the_sizes(run, tmp_path):
    assert run("plan", BUNDLED, "Alder-64", "Glen-7", "--out", tmp_path / "plan.xlsx")[0] == 0
    sheet = openpyxl.load_workbook(tmp_path / "plan.xlsx")["sizes"]
    assert sum(cell.value for cell in sheet["D"][1:]) == 64


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--sizes", "Elm"), "no set 'Elm' in the catalogue"),
        (("--sizes", "Oak", "--out", "sizes.pdf"), "expected a name ending in one of .csv, .xlsx, .json"),
        (("--sizes", "Trays"), "the set Trays has no pieces in the table tools, only ready-made organizers"),
    ],
)
def test_what_cannot_be_listed_is_one_line(run, tmp_path, words, told):
    organizers = "set,group,width_mm,depth_mm,height_mm\nTrays,tray,200,200,40"
    own = catalogue_files.folder(tmp_path, organizers=organizers)
    code, out, err = run("check", own, *words)
    assert (code, out, len(err.splitlines())) == (2, "", 1)
    assert told in err


def test_a_list_is_not_written_over_the_catalogue_s_own(run, tmp_path):
    own = catalogue_files.folder(tmp_path)
    for name in ("sizes.csv", "sizes.xlsx"):
        code, _, err = run("check", own, "--sizes", "Oak", "--out", own / name)
        assert code == 2
        assert "would be read as part of" in err
