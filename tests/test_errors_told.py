"""How what is wrong with many files and rows is told: causes first, and the same thing not a thousand times."""

from __future__ import annotations

from pathlib import Path

import pytest

from matcher.records.errors import MOST_ALIKE, CatalogueError, CellError

WORKSHOP = Path(__file__).parents[1] / "data" / "workshop"


def lines(*cells: CellError) -> list[str]:
    return list(CatalogueError(cells).lines)


@pytest.mark.parametrize(("column", "meant"), [("sze", "size"), ("driv", "drive")])
def test_a_misspelled_column_is_told_first_and_what_comes_of_it_is_counted(run, tmp_path, column, meant):
    for file in WORKSHOP.glob("*.csv"):
        text = file.read_text(encoding="utf-8")
        (tmp_path / file.name).write_text(text.replace(f",{meant},", f",{column},", 1), encoding="utf-8")
    code, out, err = run("check", tmp_path)
    assert (code, out) == (2, "")
    cause, count = err.splitlines()
    assert cause == f"error: tools.csv, row 1, column {column}: '{column}': expected a known column (nearest: {meant})"
    assert count.startswith("error: tools.csv: ")
    assert count.endswith(" values missing below, perhaps for that")


def test_a_wrong_value_below_a_wrong_column_is_told_all_the_same():
    cause = CellError("tools.csv", 1, "sze", "sze", "a known column")
    lacks, wrong = CellError("tools.csv", 2, "size", "", "a size"), CellError("tools.csv", 3, "count", "-1", "a number")
    other = CellError("drawers.csv", 2, "row", "", "a number")
    assert lines(other, lacks, wrong, cause) == [
        str(cause),
        "tools.csv: 1 value missing below, perhaps for that",
        str(other),
        str(wrong),
    ]


def test_the_same_fault_in_many_rows_is_told_for_some_and_counted_for_the_others():
    many = [CellError("drawers.csv", row, "row", "x", "a number") for row in range(2, 1002)]
    another = CellError("drawers.csv", 7, "bank", "x", "a bank")
    told = lines(*many, another)
    assert told[:MOST_ALIKE] == [str(cell) for cell in many[:MOST_ALIKE]]
    assert told[MOST_ALIKE:] == ["drawers.csv, column row: the same 980 times more, rows 22 to 1001", str(another)]


def test_every_bad_place_is_held_however_it_is_told():
    many = [CellError("b.xlsx", row, "row", "x", "a number", sheet="drawers") for row in range(2, 1002)]
    assert CatalogueError(many).cells == tuple(many)
    assert lines(*many)[-1] == "b.xlsx, sheet drawers, column row: the same 980 times more, rows 22 to 1001"
