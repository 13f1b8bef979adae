"""Room left by a plan: a drawer shrunk to its least size still holds it, a unit less does not."""

from dataclasses import replace

import pytest

from matcher.planning import plan
from matcher.units import kg, mm
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


def test_free_drawers_are_listed_with_their_clear_sizes():
    (free,) = _planned().free
    assert (free.drawer, free.height, free.slot, free.load_left) == ("2", mm(30), "foam", kg(20))
