"""The picture of the trade-off curve: true places, equal points told once, notes that say where it stops paying."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matcher.offer.curve import CurvePoint, LastWorth, stops_paying
from matcher.offer.model import Choice
from matcher.report.fitted_words import extent
from matcher.report.offer_documents import offer_document
from matcher.report.pages.offer_page import NARROW
from matcher.report.pages.trade_off import FONT, LINE, curve_of, equal_rows
from tests import page_cases

POINT = {"new_sizes": 0, "bundles": 1, "units": 1.0, "setup": 0.0, "proved": True, "within_budget": True}


def document(gains, stops=None, bounds=None):
    """An offer's document, as far as its curve goes: so much gained with 0, 1, 2, ... new sizes."""
    points = [
        POINT | {"limit": limit, "gain": gain, "bound": bound, "proved": gain == bound}
        for limit, (gain, bound) in enumerate(zip(gains, bounds or gains, strict=True))
    ]
    most = {"new_sizes": 99, "gain": max([0, *gains]) + 1}
    return {"curve": points, "new_sizes": 0, "stops_paying": stops, "without_limits": most}


@given(st.lists(st.integers(-(10**8), 10**8).map(lambda cents: cents / 100), min_size=1, max_size=30))
def test_dots_of_the_curve_are_as_far_apart_as_their_gains(gains):
    curve = curve_of(document(gains))
    ends = curve.up[0], curve.up[-1]
    scale = (ends[1].at - ends[0].at) / (ends[1].value - ends[0].value)
    assert ends[0].value <= min(0, *gains)
    assert ends[1].value >= max(gains)
    for dot in curve.dots:
        assert dot.y == pytest.approx(ends[0].at + scale * (dot.gain - ends[0].value), abs=1e-6)
        assert curve.left <= dot.x <= dot.end <= curve.right + 1e-6
    told = [(limit, dot.gain) for dot in curve.dots for limit in range(dot.first, dot.last + 1)]
    assert told == list(enumerate(gains))


def test_an_open_point_shows_its_bound_and_no_points_no_curve():
    curve = curve_of(document([1.0], bounds=[2.0]))
    assert curve.dots[0].bound < curve.dots[0].y, "the bound stands above the dot"
    assert curve_of(document([])) is None


def test_equal_points_are_told_once_with_the_largest_of_their_bounds():
    rows = equal_rows(document([0.0, 5.0, 5.0, 5.0, 7.0], bounds=[0.0, 6.0, 7.0, 8.0, 8.0])["curve"])
    assert [(row["first"], row["last"], row["gain"], row["bound"]) for row in rows] == [
        (0, 0, 0.0, 0.0),
        (1, 3, 5.0, 8.0),
        (4, 4, 7.0, 8.0),
    ]
    proved = equal_rows(document([5.0, 5.0], bounds=[5.0, 6.0])["curve"])
    assert len(proved) == 2, "what is proved is not told as if it were not"


def choice(sizes, gain, proved=True):
    return Choice((), tuple(range(sizes)), 0, gain, gain, proved)


def test_more_sizes_stop_paying_where_as_much_is_gained_as_without_a_limit():
    points = [CurvePoint(limit, choice(min(limit, 2), 10 * min(limit, 2))) for limit in range(5)]
    assert stops_paying(points, choice(2, 20)) == LastWorth(2, proved=True)
    assert stops_paying(points, choice(9, 90)) is None, "the curve still rises at its end"
    assert stops_paying(points, choice(2, 20, proved=False)) == LastWorth(2, proved=False)
    open_ = [CurvePoint(0, choice(0, 0, proved=False)), *points[2:]]
    assert stops_paying(open_, choice(2, 20)) == LastWorth(2, proved=False), "with fewer sizes there might be as much"


@pytest.mark.parametrize("size", [(1216.0, 420.0), NARROW])
def test_the_curve_says_where_it_stops_paying_or_that_it_still_rises(size):
    gains = [0.0, 10.0, 20.0, 20.0, 20.0]
    stopped = curve_of(document(gains, {"new_sizes": 2, "proved": True}), *size)
    note = next(note for note in stopped.notes if note.kind == "stops")
    dot = next(dot for dot in stopped.dots if dot.first == 2)
    assert (note.x, note.y) == (dot.x, dot.y)
    assert "stops paying at 2 new sizes" in " ".join(line for _, line in note.lines)
    open_ = curve_of(document(gains, {"new_sizes": 2, "proved": False}), *size)
    assert "not proved" in " ".join(line for note in open_.notes for _, line in note.lines)
    rising = curve_of(document(gains), *size)
    told = " ".join(line for note in rising.notes if note.kind == "rises" for _, line in note.lines)
    assert told == "still rises: 21.00 with 99 new sizes and no limit"
    for curve in (stopped, open_, rising):
        for note in curve.notes:
            for y, line in note.lines:
                ends = (note.x, note.x + extent(line, FONT)) if note.anchor == "start" else (
                    note.x - extent(line, FONT), note.x)  # fmt: skip
                assert 0 <= ends[0] <= ends[1] <= curve.width
                assert LINE <= y <= curve.floor


def test_the_offer_of_the_page_stops_paying_where_its_document_says():
    told = offer_document(page_cases.offered())
    assert told["stops_paying"] == {"new_sizes": 1, "proved": True}
    assert told["without_limits"]["gain"] == told["gain"]
