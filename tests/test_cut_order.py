"""One order of cuts: inside before outside, shallow before deep, thin webs last (common practice, no source)."""

from __future__ import annotations

import io
from dataclasses import replace
from itertools import pairwise

import ezdxf

from matcher.cutting.contours import Contour
from matcher.cutting.cut_order import cut_steps, in_cutting_order
from matcher.records.given import Obstruction
from matcher.records.units import mm, to_mm
from matcher.report.cut_files import cut_dxf, cut_svg
from matcher.report.cut_sheets import cut_document
from tests.builders import HOUSE, group, organizer
from tests.cutting_cases import NOTCHED, box_ring, cabinet, cut, drawer, example, foam, outcome, placement, tools
from tests.test_cut_files import shown


def cutting(part, depth, left, front, width=20, deep=20) -> Contour:
    return Contour(part, mm(depth), tuple((x, y, 0.0) for x, y in box_ring(left, front, width, deep)))


def test_pockets_before_what_goes_through_shallow_before_deep_wide_webs_before_thin_ones():
    whole, hole = cutting("outer", 30, 0, 0, 300, 200), cutting("cutout", 30, 280, 180)
    shallow, alone = cutting("pocket", 6, 100, 100), cutting("pocket", 18, 200, 100)
    close, closer = cutting("pocket", 18, 20, 20), cutting("pocket", 18, 46, 20)
    assert in_cutting_order([whole, hole, close, closer, alone, shallow]) == (
        shallow,
        alone,
        close,
        closer,
        hole,
        whole,
    )
    near = cutting("notch", 18, 72, 20)  # 6 mm from `closer`, which is as near to `close`
    assert in_cutting_order([near, closer, alone, close]) == (alone, close, closer, near)


def test_a_notch_that_runs_into_its_pocket_has_no_web_there():
    pocket, notch = cutting("pocket", 18, 20, 20), cutting("notch", 18, 35, 20)
    other = cutting("pocket", 18, 70, 20)
    assert in_cutting_order([notch, other, pocket])[0] == pocket, "30 mm from the other; the notch 15 mm"


def test_steps_name_each_depth_its_cutter_and_what_is_so_deep():
    steps = cut_steps(NOTCHED, HOUSE.cutters)
    assert [(to_mm(one.depth), to_mm(one.cutter), one.pockets, one.notches) for one in steps] == [
        (9.5, 3.175, 1, 0),
        (18, 6.35, 1, 1),
    ]
    assert [one.cutter for one in cut_steps(NOTCHED, ())] == [0, 0]


def test_every_cutter_is_taken_up_once():
    """The finest that reaches: once a depth is beyond one, so are all later ones."""
    for steps in (cut_steps(NOTCHED, HOUSE.cutters), cut_steps(NOTCHED, HOUSE.cutters[:1])):
        assert sorted(one.cutter for one in steps) == [one.cutter for one in steps]


def test_files_hold_contours_in_the_order_of_cuts():
    made = example()
    drawn = made.jobs[0].drawing.contours
    lines = ezdxf.read(io.StringIO(cut_dxf(made))).modelspace().query("LWPOLYLINE")
    layers = [line.dxf.layer for line in lines if line.dxf.layer != "SIZES_LINES"]
    assert layers == [f"{one.part.upper()}_{to_mm(one.depth):.1f}MM" for one in drawn]
    found = [cut_svg(made).index(f'data-layer="{layer}"') for layer in dict.fromkeys(layers)]
    assert all(one < other for one, other in pairwise(found))


def test_what_is_cut_out_comes_before_the_outline():
    place = replace(drawer(width=303.2, depth=203.2), obstructions=(Obstruction(mm(100), 0, mm(20), mm(30), mm(40)),))
    made = cut(outcome(cabinet(place), [tools()], [placement(laid=NOTCHED)], stock=[foam()]))
    assert [one.part for one in made.jobs[0].drawing.contours][-2:] == ["cutout", "outer"]


def test_the_setup_sheet_and_the_document_tell_the_order():
    text = shown(example())
    assert text.index("9.5 mm deep: 1 pocket") < text.index("18.0 mm deep: 1 pocket and 1 notch")
    assert text.index("18.0 mm deep") < text.index("then the outline")
    (sheet,) = cut_document(example())["setup_sheets"]
    assert [(one["depth_mm"], one["pockets"], one["notches"]) for one in sheet["order_of_cuts"]] == [
        (9.5, 1, 0),
        (18.0, 1, 1),
    ]


# ------------------------------------------------------------------------------------------------------ stock on hand


def with_stock(on_hand, batch):
    ready = group("ready", ready=replace(organizer("ready", 300, 210, part="P-1"), on_hand=on_hand))
    seat = placement("ready", "2", "trim", 300, 200, how_width="as is", how_depth="trim")
    return cut(outcome(cabinet(drawer("2", row=2)), [ready], [seat]), batch=batch)


def test_stock_on_hand_is_told_against_the_batch():
    made = with_stock(5, 10)
    assert "ready (part P-1), drawer 2: 5 in stock, 10 wanted: 5 short" in shown(made)
    (row,) = cut_document(made)["in_stock"]
    assert (row["in_stock"], row["wanted"], row["lacking"]) == (5, 10, 5)
    enough = shown(with_stock(10, 10))
    assert "10 in stock, 10 wanted" in enough
    assert "short" not in enough


def test_stock_that_the_catalogue_does_not_give_is_not_taken_for_none():
    made = with_stock(None, 10)
    assert "stock not given, 10 wanted" in shown(made)
    assert cut_document(made)["in_stock"][0]["in_stock"] is None
    assert "short" not in shown(made)


def test_organizers_used_as_they_are_count_too_and_new_foam_does_not():
    assert [(one.group, one.wanted) for one in example(batch=3).in_stock] == [("ready", 3), ("kept", 3)]
