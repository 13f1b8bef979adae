"""``matcher fit`` with a tape at hand: as measured, which sizes decide, the sheet; several cabinets at once."""

import csv
import json

import pytest

# Trays of 550 x 390 x 50 mm; 3 mm are kept free above, 1.6 mm at each wall. "wide" has three drawers of 560 x 400 x 100
# mm, "low" one of 560 x 400 x 40 mm.
READINGS = """cabinet,drawer,inside_width_mm,inside_depth_mm,clear_height_mm
wide,1,558,398,98
wide,2,558,398,{height}
wide,3,558,398,{height}
low,1,560,400,41
"""


@pytest.fixture
def readings(tmp_path_factory):
    def written(height):
        path = tmp_path_factory.mktemp("buyer") / "tape.csv"
        path.write_text(READINGS.format(height=height), encoding="utf-8")
        return path

    return written


@pytest.mark.parametrize(("height", "verdict", "code"), [(98, "fits", 0), (30, "does not fit", 1)])
def test_a_cabinet_as_measured(run, folder, readings, height, verdict, code):
    told, out, _ = run("fit", folder, "trays", "wide", "--measured", readings(height), "--json")
    (document,) = json.loads(out)
    assert (told, document["verdict"], document["nominal"]["verdict"]) == (code, verdict, "fits")


def test_what_depends_on_the_tape_is_open(run, folder, readings):
    # Two trays need two drawers of 53 mm; a reading of 52 mm, good to 1.5 mm, may be more or less.
    code, out, _ = run("fit", folder, "trays", "wide", "--measured", readings(52))
    assert code == 3
    assert "depends on the tape" in out


@pytest.mark.parametrize("cabinets", [[], ["wide"]])
def test_without_readings_there_is_no_answer(run, folder, tmp_path, cabinets):
    """A file without rows, and a catalogue that has no such table: neither is a yes."""
    (tmp_path / "tape.csv").write_text("cabinet,drawer,inside_width_mm\n")
    for measured in (tmp_path / "tape.csv", folder):
        code, out, err = run("fit", folder, "trays", *cabinets, "--measured", measured)
        assert (code, out) == (2, "")
        assert "no readings" in err


def test_without_a_cabinet_all_that_were_measured_are_answered(run, folder, readings, tmp_path):
    table = tmp_path / "told.csv"
    code, out, _ = run("fit", folder, "trays", "--measured", readings(98), "--json", "--out", table)
    assert [one["cabinet"] for one in json.loads(out)] == ["low", "wide"]
    assert code == 1, "low stays too low"
    rows = list(csv.DictReader(table.open(encoding="utf-8")))
    assert {row["cabinet"] for row in rows} == {"wide"}, "without a nominal plan there is no foam to set in"


def test_the_sizes_that_decide(run, folder):
    code, out, _ = run("fit", folder, "trays", "low", "wide", "--tolerance", "13", "--json")
    low, wide = json.loads(out)
    assert code == 1
    assert (low["within_mm"], low["all_larger"]) == (13, "does not fit")
    assert wide["verdict"] == "fits"
    assert wide["all_smaller"] == "does not fit", "550 mm and two clearances of 1.6 mm are more than 560 less 13 mm"


def test_the_sheet_for_each_cabinet(run, folder):
    code, out, _ = run("fit", folder, "trays", "wide", "--sheet")
    assert code == 0
    assert "Measure before ordering: trays in wide" in out


def test_three_questions_are_not_answered_at_once(run, folder, readings):
    code, out, err = run("fit", folder, "trays", "--sheet", "--measured", readings(98))
    assert (code, out) == (2, "")
    assert "questions of their own" in err
