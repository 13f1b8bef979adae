"""Every cell of every CSV file is a plain text or a number."""

import csv
import io

import pytest

from matcher.report.document import plain_rows
from matcher.report.files import csv_text
from tests.every_result import EVERY, catalogue, words_of

TABLES = [name for name, (_, suffixes) in EVERY.items() if "csv" in suffixes]


@pytest.fixture(scope="module")
def source(tmp_path_factory):
    return catalogue(tmp_path_factory.mktemp("cells") / "catalogue")


@pytest.mark.parametrize("name", TABLES)
def test_no_cell_holds_anything_nested(run, source, tmp_path, name):
    drawing = [tmp_path / "made.svg"] if name.startswith("group") else []
    run(*words_of(name, source, [tmp_path / "made.csv", *drawing]))
    header, *rows = csv.reader(io.StringIO((tmp_path / "made.csv").read_text(encoding="utf-8")))
    assert {len(row) for row in rows} <= {len(header)}
    assert [cell for row in (header, *rows) for cell in row if set("{}[]") & set(cell) or "None" in cell] == []


@pytest.mark.parametrize("name", ["fit", "compare"])
def test_goals_are_told_in_words(run, source, tmp_path, name):
    run(name, source, "tools", "wide", "low", "--out", tmp_path / "made.csv")
    rows = {row["cabinet"]: row for row in csv.DictReader(io.StringIO((tmp_path / "made.csv").read_text()))}
    told = rows["wide"]["goals"].split("; ")
    assert [one.split(": ")[0] for one in told] == ["together", "drawers", "order", "neighbors", "recut", "reach"]
    assert told[1] == "drawers: 1 drawer free"
    assert rows["low"]["goals"] == ""


def test_what_is_not_proved_says_so():
    goal = {"name": "order", "proved": False, "value_text": "2 breaks", "bound_text": "1 break"}
    least = goal | {"value_text": "1 break", "standing": "least with the goals before it"}
    found = [goal | {"standing": "not proved"}, least]
    rows = plain_rows({"variants": [{"cabinet": "wide", "goals": found}], "faults": []})
    told = "order: 2 breaks (not proved, at best 1 break); order: 1 break (least with the goals before it)"
    assert csv_text(rows) == f'cabinet,goals,cautions\nwide,"{told}",\n'
