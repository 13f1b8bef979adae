"""Room left by a plan: a drawer shrunk to its least size still holds it, a unit less does not."""

from dataclasses import replace

import pytest
from rich.console import Console

from matcher.planning.answering import plan
from matcher.records.units import kg, mm
from matcher.report.terminal import plan_view, show
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer

TRAY = organizer("tray", width=500, depth=380, height=50, field_width=mm(450), field_depth=mm(340), mass=kg(3))


def _planned(**changes):
    box = replace(drawer("1", load_rating=kg(40)), **changes)
    spare = drawer("2", row=2, height=30, load_rating=kg(20))
    known = catalogue((), [TRAY], [cabinet(box, spare)])
    return plan(known, HOUSE, "set", "cabinet")


@pytest.mark.parametrize(
    ("side", "least"),
    [("inside_width", "least_width"), ("inside_depth", "least_depth"), ("clear_height", "least_height")],
)
def test_the_least_size_is_exact(side, least):
    (margin,) = _planned().margins
    size = getattr(margin, least)
    assert _planned(**{side: size}).verdict == "fits"
    assert _planned(**{side: size - 1}).verdict == "does not fit"


def test_spare_room_and_load_are_what_the_drawer_has_beyond_its_contents():
    (margin,) = _planned().margins
    # trimmed as far as it goes the tray is 450 + 2 x 12 mm wide; with 1.6 mm each side it needs 477.2 mm of 560
    assert margin.spare_width == mm(560) - mm(450 + 24) - 2 * HOUSE.clearance.side
    assert margin.spare_height == mm(100 - 50 - 3)
    assert margin.load_left == kg(37)


def test_all_used_drawers_may_be_at_their_least_at_once():
    boxes = [drawer(str(row), row=row, height=60 + 20 * row) for row in (1, 2, 3)]
    trays = [replace(TRAY, group=name, height=mm(height)) for name, height in (("a", 50), ("b", 70), ("c", 90))]
    known = catalogue((), trays, [cabinet(*boxes)])
    room = {margin.drawer: margin for margin in plan(known, HOUSE, "set", "cabinet").margins}
    least = [
        replace(
            box,
            inside_width=room[box.name].least_width,
            inside_depth=room[box.name].least_depth,
            clear_height=room[box.name].least_height,
        )
        for box in boxes
    ]
    outcome = plan(replace(known, cabinets=(cabinet(*least),)), HOUSE, "set", "cabinet")
    assert outcome.verdict == "fits"
    assert [margin.tightest for margin in outcome.margins] == [0, 0, 0]


def test_the_plan_says_what_to_measure_first_and_what_a_free_drawer_takes():
    console = Console(width=300)
    with console.capture() as captured:
        show(plan_view(_planned(), why=True), console)
    assert (
        "measure first: drawer 1, 32.8 mm to spare front to back: the plan holds as long as it is at least "
        "477.2 mm wide, 367.2 mm front to back and 53.0 mm high inside"
    ) in captured.get()
    assert "(free, up to 20.0 kg)" in captured.get()


def test_free_drawers_are_listed_with_their_clear_sizes():
    (free,) = _planned().free
    assert (free.drawer, free.height, free.slot, free.load_left) == ("2", mm(30), "foam", kg(20))


@pytest.mark.parametrize("radius", [10, 40, 60])
def test_rounded_corners_leave_less_to_trim(radius):
    """By its field and margins it may be trimmed to 474 mm; in such corners its pockets would lose their margin."""
    (margin,) = _planned(corner_radius=mm(radius)).margins
    least = {"inside_width": margin.least_width, "inside_depth": margin.least_depth}
    assert _planned(corner_radius=mm(radius), **least).verdict == "fits", "both at once"
    narrower = least | {"inside_width": margin.least_width - 1}
    assert _planned(corner_radius=mm(radius), **narrower).verdict != "fits"
    shorter = least | {"inside_depth": margin.least_depth - 1}
    assert _planned(corner_radius=mm(radius), **shorter).verdict != "fits"
    if radius > 40:
        assert margin.least_width + margin.least_depth > mm(450 + 340 + 48) + 4 * HOUSE.clearance.side
