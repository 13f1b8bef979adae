"""Measured minus nominal by cabinet and drawer, and nominal sizes that are off in several readings."""

import json
from dataclasses import replace
from statistics import median

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.places import places
from matcher.records.given import Cabinet, Measurement
from matcher.records.units import PER_MM, mm
from matcher.report.nominal_views import nominal_rows
from matcher.studies.nominals import nominals_off
from tests.builders import HOUSE, catalogue, drawer

KNOWN = catalogue(
    cabinets=[
        Cabinet("b", (drawer("1", width=500, cabinet="b"),)),
        Cabinet("a", (drawer("top", width=500, cabinet="a"), drawer("low", row=2, width=500, cabinet="a"))),
    ]
)


def _rows(*widths, name="a", where="top", **more):
    return [Measurement(name, where, mm(width), **more) for width in widths]


def test_each_drawer_has_its_readings_less_the_nominal_size_with_their_number():
    rows = [*_rows(498, 499, order="SO-1"), *_rows(501, name="b", where="1", serial="7"), *_rows(500, where="low")]
    shown = nominal_rows(nominals_off(KNOWN, HOUSE, rows))
    told = [(one["cabinet"], one["drawer"], one["readings"]) for one in shown]
    assert told == [("a", "top", 2), ("a", "low", 1), ("b", "1", 1)]
    top, low, other = nominals_off(KNOWN, HOUSE, rows)
    assert (top.offs, top.median, top.units) == ((mm(-2), mm(-1)), mm(-1) - PER_MM // 2, ("SO-1",))
    assert (low.offs, low.units, other.units) == ((0,), (), ("7",))
    assert nominals_off(KNOWN, HOUSE, []) == ()


@pytest.mark.parametrize(
    ("widths", "doubted"),
    [
        ((498, 498), False),  # two readings are too few
        ((498, 498, 498), True),
        ((499, 499, 499), False),  # off by 1 mm, no more
        ((499, 499, 498), False),  # one of three
        ((499, 498, 498), True),
        ((502, 501.5, 495), True),  # one reading far off the other way
        ((498, 498, 502, 502), False),
    ],
)
def test_a_nominal_size_is_doubted_if_the_median_of_three_readings_is_more_than_a_millimeter_off(widths, doubted):
    (one,) = nominals_off(KNOWN, HOUSE, _rows(*widths))
    assert one.doubted is doubted


def test_how_many_readings_and_how_far_off_are_house_rules():
    house = replace(HOUSE, measure=replace(HOUSE.measure, doubt=mm(3), doubt_readings=1))
    assert [one.doubted for width in (497, 496) for one in nominals_off(KNOWN, house, _rows(width))] == [False, True]


@given(st.lists(st.integers(1, 1000 * PER_MM), min_size=1, max_size=7), st.randoms())
@settings(max_examples=60, deadline=None)
def test_the_order_of_readings_changes_nothing_and_the_median_is_the_median(widths, chance):
    rows = [Measurement("a", "top", width, order=str(n)) for n, width in enumerate(widths)]
    shuffled = chance.sample(rows, len(rows))
    (one,) = found = nominals_off(KNOWN, HOUSE, rows)
    assert found == nominals_off(KNOWN, HOUSE, shuffled)
    assert one.median == int(median(width - mm(500) for width in widths))
    assert one.doubted is (len(widths) >= 3 and abs(median(width - mm(500) for width in widths)) > PER_MM)


def test_check_names_the_row_and_the_numbers(run, folder, tmp_path):
    taken = [f"wide,2,{width},{width},W-1" for width in (557, 558, 556.5)]
    rows = "\n".join(["cabinet,drawer,inside_width_mm,order,serial", *taken])
    path = tmp_path / "tape.csv"
    path.write_text(rows, encoding="utf-8")
    code, out, _ = run("check", folder, "--measured", path)
    told = " ".join(out.split())
    lines = (folder / "drawers.csv").read_text(encoding="utf-8").splitlines()
    line = next(n for n, row in enumerate(lines, 1) if row.startswith("wide,2,"))
    assert code == 0
    assert f"look again: drawers.csv, row {line}: wide, drawer 2: inside width 560.0 mm, but 3 readings are off" in told
    assert "-3.0 mm (median; -3.5 to -2.0 mm, all of one cabinet, W-1)" in told
    assert "inside width 560.0 3 -3.0 -3.5 to -2.0" in told
    assert places(folder)["drawers", "wide", "2"] == f"drawers.csv, row {line}"
    code, out, _ = run("check", folder, "--measured", path, "--json")
    (row,) = json.loads(out)["measured_sizes"]
    assert (row["nominal_mm"], row["readings"], row["median_off_mm"], row["doubted"]) == (560, 3, -3, True)


def test_check_without_readings_doubts_no_size_and_a_bad_file_is_refused(run, folder, tmp_path):
    assert json.loads(run("check", folder, "--json")[1])["measured_sizes"] == []
    path = tmp_path / "tape.csv"
    path.write_text("cabinet,drawer,inside_width_mm\nwide,99,557\n", encoding="utf-8")
    code, _, err = run("check", folder, "--measured", path)
    assert (code, "row 2" in err, "99" in err) == (2, True, True)
