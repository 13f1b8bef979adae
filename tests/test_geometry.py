"""Pockets as a cutter makes them: room for the tool, no corner sharper and no passage narrower than the cutter."""

from __future__ import annotations

from math import pi, sqrt

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from matcher.layout.cutouts import chamfered, cut_out, moved, whole_ring, with_relief
from matcher.layout.profiles import STRIP, pitch, profile, reach
from tests.pieces import mm

CUTTER, FIT = mm(1.6), mm(0.8)

corners = st.lists(st.tuples(st.integers(0, 100), st.integers(0, 100)), min_size=3, max_size=8)


def tool_of(points: list[tuple[int, int]]) -> Polygon:
    """A shape without holes, 3 mm thick at least."""
    return Polygon([(mm(x), mm(y)) for x, y in points]).convex_hull.buffer(mm(1.5), quad_segs=4)


@settings(max_examples=60, deadline=None)
@given(points=corners)
def test_the_tool_goes_in_and_the_cutter_goes_everywhere(points: list[tuple[int, int]]) -> None:
    tool = tool_of(points)
    pocket = cut_out(tool, FIT, CUTTER)
    assert pocket.is_valid
    assert tool.difference(pocket.buffer(1)).area == pytest.approx(0, abs=1)
    by_cutter = pocket.buffer(-CUTTER, quad_segs=16).buffer(CUTTER, quad_segs=16)
    assert pocket.difference(by_cutter.buffer(mm(0.05))).area == pytest.approx(0, abs=mm(1))


@settings(max_examples=60, deadline=None)
@given(points=corners)
def test_few_whole_corners_lie_round_the_pocket(points: list[tuple[int, int]]) -> None:
    """0.05 mm are eased outward twice, corners are rounded to whole units."""
    pocket = cut_out(tool_of(points), FIT, CUTTER)
    ring = whole_ring(pocket)
    assert len(ring) <= 80
    assert Polygon(ring).is_valid
    assert pocket.difference(Polygon(ring).buffer(1)).area == pytest.approx(0, abs=1)
    assert Polygon(ring).difference(pocket.buffer(mm(0.1) + 2)).area == pytest.approx(0, abs=1)


def test_a_sharp_corner_is_as_round_as_the_cutter() -> None:
    """A square's corner loses r (sqrt 2 - 1) along its diagonal to a cutter of radius r."""
    pocket = cut_out(box(0, 0, mm(20), mm(20)), FIT, CUTTER)
    lost = pocket.distance(Polygon([(mm(20) + FIT, mm(20) + FIT), (mm(30), mm(20) + FIT), (mm(30), mm(30))]))
    assert lost == pytest.approx(CUTTER * (sqrt(2) - 1), rel=0.05)


def test_relief_lets_a_square_corner_touch_the_cutter_s_circle() -> None:
    """Dog-bone: the circle through the corner, its middle on the diagonal, reaches r (1 - 1/sqrt 2) past the sides."""
    tool = box(0, 0, mm(20), mm(20))
    pocket = with_relief(cut_out(tool, FIT, CUTTER), tool.buffer(FIT, join_style="mitre"), CUTTER)
    assert tool.buffer(FIT, join_style="mitre").difference(pocket.buffer(1)).is_empty
    beyond = CUTTER * (1 - 1 / sqrt(2))
    assert pocket.bounds == pytest.approx((-FIT - beyond, -FIT - beyond, mm(20.8) + beyond, mm(20.8) + beyond), abs=2)


@settings(max_examples=60, deadline=None)
@given(points=corners)
def test_relieved_pockets_hold_all_of_the_tool(points: list[tuple[int, int]]) -> None:
    """Corners as sharp as they come, in the pocket as the round cutter really leaves it; its circle is a polygon in the
    pocket, so a circle 3 % smaller goes round in it."""
    hull = Polygon([(mm(x), mm(y)) for x, y in points]).convex_hull
    assume(hull.buffer(-mm(1.5)).area > 0)
    plain = cut_out(hull, FIT, CUTTER)
    relieved = with_relief(plain, hull.buffer(FIT / 2, join_style="mitre", mitre_limit=20), CUTTER)
    assert plain.difference(relieved.buffer(1)).is_empty
    left = relieved.buffer(-0.97 * CUTTER, quad_segs=16).buffer(0.97 * CUTTER, quad_segs=16)
    assert hull.difference(left.buffer(mm(0.05))).is_empty


def test_a_thin_blade_still_lets_the_cutter_through() -> None:
    """A blade 2 mm wide with 0.8 mm of fit would leave 3.6 mm; a cutter of 6.4 mm makes at least that of it."""
    tool = box(0, 0, mm(20), mm(40)).union(box(mm(9), mm(40), mm(11), mm(90)))
    pocket = cut_out(tool, FIT, mm(3.2))
    across = pocket.intersection(box(0, mm(60), mm(20), mm(60) + 1)).bounds
    assert across[2] - across[0] >= mm(6.3)
    assert across[2] - across[0] <= mm(6.8)  # and no more than one pass
    assert pocket.bounds[3] >= mm(90)
    assert pocket.contains(box(mm(9), mm(20), mm(11), mm(90)))
    assert pocket.buffer(-mm(3.1)).geom_type == "Polygon"


@pytest.mark.parametrize("across", [0.3, 0.5, 0.8, 1])
def test_a_needle_thinner_than_its_clearance_has_a_pocket(across: float) -> None:
    """A handle 10 mm wide and a needle of 30 mm; the end of a needle is two sharp corners."""
    tool = box(0, 0, mm(10), mm(40)).union(box(mm(5 - across / 2), mm(40), mm(5 + across / 2), mm(70)))
    pocket = cut_out(tool, FIT, mm(3.2))
    assert pocket.contains(box(mm(5 - across / 2), mm(30), mm(5 + across / 2), mm(69)))
    assert pocket.bounds[3] >= mm(69)
    assert pocket.buffer(-mm(3.1)).geom_type == "Polygon"


def test_both_arms_of_a_thin_key_are_one_pass_wide() -> None:
    """Arms 2 mm wide at right angles: a cutter of 6.4 mm goes once along each, and round the corner between them."""
    tool = box(0, 0, mm(2), mm(60)).union(box(0, 0, mm(20), mm(2)))
    pocket = cut_out(tool, FIT, mm(3.2))
    upright, foot = (
        pocket.intersection(box(mm(-9), mm(30), mm(30), mm(31))),
        pocket.intersection(box(mm(12), mm(-9), mm(13), mm(30))),
    )
    assert upright.bounds[2] - upright.bounds[0] == pytest.approx(mm(6.4), abs=mm(0.8))
    assert foot.bounds[3] - foot.bounds[1] == pytest.approx(mm(6.4), abs=mm(0.8))
    assert pocket.contains(tool.intersection(box(mm(1), mm(1), mm(19), mm(59))))
    assert pocket.buffer(-mm(3.1)).geom_type == "Polygon"


@given(width=st.integers(2, 9000), depth=st.integers(2, 9000), cutter=st.integers(0, 2000))
def test_a_chamfered_box_holds_what_the_cutter_leaves_of_it(width: int, depth: int, cutter: int) -> None:
    """The cut-off corner of a square of side r loses r^2 (1 - pi / 4); the chamfer takes off no more."""
    ring = Polygon(chamfered(width, depth, cutter))
    assert ring.is_valid
    assert ring.bounds == (0, 0, width, depth)
    assert width * depth - ring.area <= 4 * cutter**2 * (1 - pi / 4) + 1


@settings(max_examples=100, deadline=None)
@given(one=corners, other=corners, up=st.one_of(st.just(0), st.integers(-100, 100)), web=st.sampled_from((0, 6, 9)))
def test_pitch_keeps_the_web_and_wastes_little(
    one: list[tuple[int, int]], other: list[tuple[int, int]], up: int, web: int
) -> None:
    """Against shapely: never nearer than the web, and 4 mm nearer it is too near, unless they pass each other."""
    rings = [whole_ring(tool_of(points)) for points in (one, other)]
    apart = pitch(reach((rings[0],), 0, mm(web)), profile((rings[1],), mm(up)))
    if apart < -mm(1000):
        return
    left, right = Polygon(rings[0]), Polygon(moved(rings[1], apart, mm(up)))
    assert left.distance(right) >= mm(web) - 1e-6
    if up == 0 and left.bounds[3] + mm(web) + STRIP > right.bounds[1]:
        nearer = Polygon(moved(rings[1], apart - mm(4) - 2 * STRIP, 0))
        assert left.distance(nearer) < mm(web) + STRIP
