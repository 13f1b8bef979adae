"""How full the used drawers are, and how the free ones are told: by size, number and where the hand is."""

from math import pi

import pytest

from matcher.layout.bounds import taken_area
from matcher.planning.answering import plan
from matcher.planning.free_drawers import free_drawers, free_told
from matcher.planning.outcome import Fits
from matcher.records.answered import Plan
from matcher.records.laid_out import Layout, Pocket
from matcher.records.units import mm, to_mm
from matcher.report.terminal import plan_view, show
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece, question

TRAY = organizer("tray", width=500, depth=380, height=50, field_width=mm(450), field_depth=mm(340))


def left(*drawers, free):
    asked = question(cabinet(*drawers))
    return free_drawers(asked, Plan("set", "cabinet", "spread", (), (), tuple(free)))


def told(*drawers, free):
    return [(words, [one.drawer for one in alike]) for words, alike in free_told(left(*drawers, free=free))]


def test_drawers_that_are_alike_are_told_as_one():
    """Heights of 50, 50, 50 and 150 mm are 75 on average: a third less is small, a third more large."""
    boxes = [drawer(str(n), row=n, height=50, above_ground=mm(1000 - 60 * n)) for n in (1, 2, 3)]
    boxes.append(drawer("4", row=4, height=150, above_ground=mm(600)))
    assert told(*boxes, free=("1", "2", "3", "4")) == [
        ("1 large drawer between lower leg and knuckle", ["4"]),
        ("3 small drawers between knuckle and elbow", ["1", "2", "3"]),
    ]


def test_a_drawer_without_foam_and_one_of_unknown_height_are_told_apart():
    boxes = [drawer("1"), drawer("2", row=2, slot="no foam"), drawer("3", row=3, slot="blocked")]
    assert told(*boxes, free=("1", "2")) == [("1 medium drawer", ["1"]), ("1 medium drawer without foam", ["2"])]
    assert [one.above_ground for one in left(*boxes, free=("1", "2"))] == [None, None]


@pytest.mark.parametrize(
    ("floor", "where"),
    [
        (304.7, "below the lower leg"),
        (304.8, "between lower leg and knuckle"),
        (736.6, "between knuckle and elbow"),
        (1066.8, "between knuckle and elbow"),
        (1066.9, "between elbow and shoulder"),
        (1219.3, "above the shoulder"),
    ],
)
def test_where_the_hand_is_by_the_heights_of_the_house(floor, where):
    """Edges belong to the better band: 29 to 42 in are knuckle to elbow (house.toml names their sources)."""
    (one,) = left(drawer("1", above_ground=mm(floor)), free=("1",))
    assert one.reach == where


def test_the_liner_lifts_what_lies_in_a_drawer():
    (one,) = left(drawer("1", above_ground=mm(735), liner=mm(3)), free=("1",))
    assert (one.above_ground, one.reach, one.height) == (mm(738), "between knuckle and elbow", mm(97))


def test_nothing_free_is_told_as_nothing():
    assert told(drawer("1"), free=()) == []


# ---------------------------------------------------------------------------------------------------------------- fill


def test_area_under_a_pocket_is_its_own_with_half_its_web_round_it():
    """100 x 50 mm with 6 mm of web: 5000 + 300 x 3 + pi x 3^2 by Steiner's formula for convex shapes."""
    ring = ((0, 0), (mm(100), 0), (mm(100), mm(50)), (0, mm(50)))
    layout = Layout(mm(100), mm(50), mm(30), (Pocket(0, ring, mm(20), mm(25)),), (), ())
    square = taken_area(layout, HOUSE) / mm(1) ** 2
    assert square == pytest.approx(5000 + 300 * 3 + pi * 9, rel=1e-3)


def planned(box, *pieces, organizers=()):
    outcome = plan(catalogue(pieces, organizers, [cabinet(box)]), HOUSE, "set", "cabinet")
    assert isinstance(outcome, Fits)
    return outcome


def test_ready_made_organizers_count_by_their_field_or_whole():
    """450 x 340 of 560 x 400 mm are 68.3 %, 500 x 380 of it are 84.8 %."""
    (by_field,) = planned(drawer("1"), organizers=[TRAY]).margins
    (whole,) = planned(drawer("1"), organizers=[organizer("tray", width=500, depth=380, height=50)]).margins
    assert (by_field.fill, whole.fill) == (0.683, 0.848)


def test_a_case_counts_by_what_it_stands_on():
    """300 x 200 of 560 x 400 mm."""
    box = drawer("1", slot="no foam")
    (margin,) = planned(box, piece("case", kind="cased", length=300, width=200, height=50)).margins
    assert margin.fill == pytest.approx(0.268, abs=0.001)


def test_more_pieces_fill_more_and_never_all():
    fills = [planned(drawer("1"), piece("block", 90, 60, 30, count=count)).margins[0].fill for count in (1, 4, 12)]
    assert fills == sorted(fills)
    assert 0 < fills[0] < fills[-1] < 1


def test_the_table_shows_how_full_each_drawer_is_and_what_stays_free(capsys):
    box, spare = drawer("1", above_ground=mm(900)), drawer("2", row=2, above_ground=mm(780))
    known = catalogue((), [TRAY], [cabinet(box, spare)])
    show(plan_view(plan(known, HOUSE, "set", "cabinet")))
    lines = capsys.readouterr().out.splitlines()
    assert any(line.split()[:1] == ["1"] and line.rstrip().endswith("68 %") for line in lines)
    assert "free: 1 medium drawer between knuckle and elbow: 2, 560 x 400 x 100 mm" in lines
    assert to_mm(spare.clear_height) == 100
