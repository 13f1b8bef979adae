"""An existing organizer is drawn from its listed tools, each once, in its field, hatched and told as not on file."""

from dataclasses import replace

import pytest
from shapely import LineString

from matcher.planning.answering import plan
from matcher.records.units import mm
from matcher.report.drawing import drawing_of
from matcher.report.listed_tools import listed_tools
from matcher.report.pages.plan_page import plan_page
from matcher.report.pages.poster_view import poster_svg
from matcher.report.poster import UNKNOWN, poster_of
from matcher.report.poster_places import PosterRoom
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece

WRENCHES = [piece(f"wrench {n}", 100 + 10 * n, 20, 8, group="tray") for n in range(6)]
ROOM = PosterRoom(900, 590, em=12.5, least=10.5)


def outcome(pieces=WRENCHES, **field):
    ready = replace(organizer("tray", 300, 300), **{name: mm(length) for name, length in field.items()})
    return plan(catalogue(pieces, [ready], [cabinet(drawer("1", width=304, depth=304))]), HOUSE, "set", "cabinet")


def lines(found):
    (group,), (placement,) = found.plan.groups, found.plan.placements
    return listed_tools(group, placement)


def test_every_listed_tool_lies_inside_the_field_and_over_no_other():
    drawn = lines(outcome(field_width=220, field_depth=280))
    boxes = [LineString(one).bounds for one in drawn]
    assert len(boxes) == len(WRENCHES)
    for left, front, right, back in boxes:
        assert mm(40) <= left < right <= mm(260)
        assert mm(10) <= front < back <= mm(290)
    for number, one in enumerate(boxes):
        for other in boxes[:number]:
            assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def test_a_tool_is_drawn_as_large_as_it_is_and_as_often_as_it_is_there():
    drawn = lines(outcome([replace(piece("bar", 150, 20, 8, group="tray"), count=3)]))
    assert len(drawn) == 3
    high = max(y for _, y in drawn[0]) - min(y for _, y in drawn[0])
    assert high == pytest.approx(mm(150), abs=2)


def test_tools_that_do_not_go_in_side_by_side_are_not_drawn():
    assert lines(outcome([replace(piece("bar", 150, 20, 8, group="tray"), count=60)])) == ()
    assert lines(outcome(())) == ()


def test_every_picture_hatches_them_and_says_that_positions_are_not_on_file():
    found = outcome()
    (drawn,) = poster_of(found, ROOM).drawers
    assert len(drawn.tools) == len(WRENCHES)
    assert drawn.organizers[0].hatch
    assert UNKNOWN in [word.text for word in drawn.words]
    for picture in (poster_svg(found), drawing_of(found, "tray"), plan_page(found)):
        assert UNKNOWN in picture
        assert 'class="hatch"' in picture


def test_the_key_of_the_sheet_tells_the_hatching_and_the_families():
    drawing = poster_svg(outcome())
    assert "existing organizer, positions not on file" in drawing
    assert "% of the drawer under tools and webs" in drawing
