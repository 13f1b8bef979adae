"""Outlines are simple shapes that fill their box, never smaller than what they stand for, and look like the tool."""

from __future__ import annotations

from itertools import combinations
from math import cos, pi, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, affinity, box

from matcher.records.units import mm
from matcher.tools.dimensions import sized
from matcher.tools.kinds import KINDS
from matcher.tools.outlines import DRAWINGS, STANDING_DRAWINGS, Picture, drawn, outline, picture
from matcher.tools.pliers_silhouettes import PLIERS_DRAWINGS
from matcher.tools.sketches import Sketch
from tests.tool_pieces import a_piece, every_piece, sizes_of


def band(shape: Polygon, low: float, high: float) -> Polygon:
    """The part of an outline between two shares of its length."""
    _, _, width, length = shape.bounds
    return shape.intersection(box(0, low * length, width, high * length))


def width_at(shape: Polygon, share: float) -> float:
    left, _, right, _ = band(shape, share - 0.002, share + 0.002).bounds
    return float(right - left)


def assert_simple(shape: Polygon, width: int, length: int) -> None:
    assert shape.geom_type == "Polygon"
    assert shape.is_valid
    assert not shape.interiors
    assert shape.bounds == (0, 0, width, length)
    assert all(x == int(x) and y == int(y) for x, y in shape.exterior.coords)


@pytest.mark.parametrize("kind", list(KINDS))
def test_every_kind_is_one_simple_shape_that_fills_its_box(kind: str) -> None:
    pieces = every_piece(kind)
    assert pieces
    for piece in pieces:
        assert_simple(outline(piece, standing=False), piece.width, piece.length)
        if KINDS[kind].stands:
            assert piece.diameter is not None
            assert_simple(outline(piece, standing=True), piece.diameter, piece.diameter)
        else:
            with pytest.raises(ValueError, match="does not stand"):
                outline(piece, standing=True)


@pytest.mark.parametrize("kind", list(KINDS))
@settings(max_examples=20, deadline=None)
@given(data=st.data())
def test_measured_dimensions_stretch_the_outline_to_their_box(kind: str, data: st.DataObject) -> None:
    lengths = st.integers(min_value=mm(2), max_value=mm(700))
    given_lengths = data.draw(st.dictionaries(st.sampled_from(("length", "width", "height")), lengths))
    piece = sized(a_piece(kind, data.draw(st.sampled_from(sizes_of(kind)[1:3] or ("",))), "1/2", **given_lengths))
    assert_simple(outline(piece, standing=False), piece.width, piece.length)


@given(st.integers(min_value=10, max_value=mm(120)))
def test_a_standing_piece_is_never_smaller_than_its_circle(diameter: int) -> None:
    shape = outline(sized(a_piece("socket", "13", length=mm(40), width=diameter)), standing=True)
    center = Point(diameter / 2, diameter / 2)
    assert shape.exterior.distance(center) >= diameter / 2 - 1e-6
    assert shape.exterior.hausdorff_distance(center) <= diameter / 2 * 1.01 + 2  # and barely larger


def test_equal_pieces_have_equal_outlines_whatever_their_set() -> None:
    first, second = (sized(a_piece("combination wrench", size)) for size in ("13", "13 mm"))
    assert outline(first, standing=False).equals_exact(outline(second, standing=False), 0)


# ----------------------------------------------------------------- what the tools look like: common practice, no source


@pytest.mark.parametrize("kind", ["combination wrench", "ratcheting wrench", "open-end wrench", "double box wrench"])
def test_wrenches_have_two_heads_and_a_slim_shank(kind: str) -> None:
    for piece in every_piece(kind):
        shape = outline(piece, standing=False)
        heads = [max(width_at(shape, share / 100) for share in shares) for shares in (range(3, 25), range(75, 98))]
        assert width_at(shape, 0.5) < 0.75 * min(heads)
        assert heads[1] == pytest.approx(piece.width, rel=0.02)  # the larger, working head is at the top


def test_a_box_end_holds_the_hexagon_it_turns() -> None:
    """Across corners a hexagon is 2/sqrt(3) of its flats: plain geometry."""
    for s in (6, 8, 10, 13, 17, 19, 24, 32):
        shape = outline(sized(a_piece("combination wrench", str(s))), standing=False)
        assert max(width_at(shape, share / 100) for share in range(3, 25)) > mm(2 / sqrt(3) * s)


def test_a_hex_key_is_two_arms_at_right_angles() -> None:
    """ISO 2936, s 5: arms 85 and 33 long, 5.67 across corners, so 5.67 times the length of the middle of the bar.

    That is 85 + 33 - 5.67, less (2 - pi / 2) times the radius of its bend, here one and a half times the bar.
    """
    shape = outline(sized(a_piece("hex key", "5")), standing=False)
    middle = 85 + 33 - 5.67 - (2 - pi / 2) * 1.5 * 5.67
    assert shape.area / 320**2 == pytest.approx(5.67 * middle, rel=0.01)
    assert width_at(shape, 0.8) == pytest.approx(5.67 * 320, rel=0.01)


@pytest.mark.parametrize(
    ("kind", "wide", "slim"),
    [
        ("ratchet", 0.9, 0.6),
        ("hammer", 0.97, 0.5),
        ("screwdriver", 0.2, 0.8),
        ("T-handle hex key", 0.05, 0.5),
        ("extension", 0.05, 0.5),
        ("adjustable wrench", 0.85, 0.4),
        ("caliper", 0.93, 0.3),
        ("mirror", 0.9, 0.6),
        ("long-nose pliers", 0.15, 0.97),
        ("breaker bar", 0.95, 0.5),
        ("torque wrench", 0.95, 0.5),
    ],
)
def test_the_wide_end_is_where_the_trade_has_it(kind: str, wide: float, slim: float) -> None:
    for piece in every_piece(kind):
        shape = outline(piece, standing=False)
        assert width_at(shape, wide) > 1.2 * width_at(shape, slim)


def test_true_outlines_leave_room_beside_the_shank() -> None:
    for kind in ("combination wrench", "ratchet", "hammer", "T-handle hex key", "hex key"):
        for piece in every_piece(kind):
            assert outline(piece, standing=False).area < 0.75 * piece.width * piece.length


def test_a_caliper_has_jaws_across_its_beam_and_a_slide_below_them() -> None:
    """The outside jaws reach further from the beam than the inside ones; the slide is little wider than the beam."""
    for piece in every_piece("caliper"):
        shape = outline(piece, standing=False)
        foot, jaws = band(shape, 0.1, 0.2).bounds, band(shape, 0.89, 0.91).bounds
        assert jaws[2] - foot[2] > 1.5 * (foot[0] - jaws[0]) > 0
        assert width_at(shape, 0.1) < width_at(shape, 0.7) < 0.5 * width_at(shape, 0.9)


# ------------------------------------------------------------------------------------ pictures: what the outline is of


def tool_of(shown: Picture) -> Polygon:
    return Polygon(shown.edge, shown.holes)


@pytest.mark.parametrize("kind", list(KINDS))
def test_every_kind_but_boxes_has_a_drawing_that_holds_at_all_its_sizes(kind: str) -> None:
    """A box stands in for a drawing only where a tool was measured to be unlike its kind, or the kind is a box."""
    if kind in ("other", "cased"):
        assert kind not in DRAWINGS
        return
    for piece in every_piece(kind):
        shown = drawn(kind, Sketch(piece.length, piece.width, dict(piece.features)))
        assert shown == picture(piece, standing=False)
        assert shown.lines or shown.holes
        assert len(shown.edge) <= 130


@pytest.mark.parametrize("kind", list(KINDS))
def test_what_is_drawn_on_a_tool_lies_on_it(kind: str) -> None:
    """Corners are at whole numbers, so by one unit of 1/320 mm at most beside it."""
    for piece in every_piece(kind):
        for standing in (False, True) if KINDS[kind].stands else (False,):
            shown = picture(piece, standing)
            tool = tool_of(shown)
            assert tool.is_valid
            assert shown.outline.buffer(1).contains(tool)
            assert all(tool.buffer(1).contains(LineString(line)) for line in shown.lines)


def test_what_stands_on_end_shows_its_upper_end() -> None:
    assert {kind for kind in KINDS if KINDS[kind].stands} == set(STANDING_DRAWINGS)
    for s in (10, 13, 24):
        opening = max(picture(sized(a_piece("socket", str(s))), standing=True).lines[1:2], key=len)
        assert inscribed(opening) == pytest.approx(s, abs=0.05)


def inscribed(ring: tuple[tuple[int, int], ...]) -> float:
    """Width across flats of a regular opening in mm: twice the distance of its middle from its edge."""
    shape = Polygon(ring)
    return float(2 * shape.exterior.distance(shape.centroid)) / 320


def nut(s: float, at: Point) -> Polygon:
    """A hexagon ``s`` mm across flats: its corners lie s / sqrt(3) from its middle."""
    turns = [(2 * corner + 1) * pi / 6 for corner in range(6)]
    return Polygon([(at.x + 320 * s / sqrt(3) * cos(turn), at.y + 320 * s / sqrt(3) * sin(turn)) for turn in turns])


def gap(shown: Picture, tilt: float, up: bool) -> tuple[float, float]:
    """Width between an open end's jaws a third of the way in, and depth of its mouth, in mm."""
    tool = affinity.rotate(tool_of(shown), tilt if up else tilt + 180, origin=(0, 0))
    left, _, right, top = tool.bounds
    first = LineString([(left, top - 640), (right, top - 640)]).intersection(tool)
    inner = sorted(part.bounds[::2] for part in first.geoms)
    middle = (inner[0][1] + inner[1][0]) / 2
    below = LineString([(middle, top + 1), (middle, top - 320 * 200)]).intersection(tool).bounds[3]
    at = top - (top - below) / 3
    across = LineString([(left, at), (right, at)]).intersection(tool)
    parts = sorted(part.bounds[::2] for part in across.geoms)
    return (parts[1][0] - parts[0][1]) / 320, (top - below) / 320


@pytest.mark.parametrize("kind", ["combination wrench", "stubby combination wrench", "ratcheting wrench"])
def test_an_open_end_is_as_wide_as_its_size_and_takes_a_nut(kind: str) -> None:
    """Its mouth is the size across flats wide and at least so deep that the nut's flats lie between the jaws."""
    for s in (6, 10, 13, 19, 24, 32):
        wide, deep = gap(picture(sized(a_piece(kind, str(s))), standing=False), 15, up=True)
        assert wide == pytest.approx(s, abs=0.12)
        assert s <= deep <= 1.5 * s


def test_both_open_ends_are_as_wide_as_their_sizes() -> None:
    for size in ("6x8", "10x12", "17x19", "30x32"):
        small, large = map(int, size.split("x"))
        shown = picture(sized(a_piece("open-end wrench", size)), standing=False)
        assert gap(shown, 15, up=True)[0] == pytest.approx(large, abs=0.12)
        assert gap(shown, 15, up=False)[0] == pytest.approx(small, abs=0.12)


@pytest.mark.parametrize(
    ("kind", "sizes"),
    [
        ("combination wrench", "8 13 19 32"),
        ("ratcheting wrench", "8 13 19"),
        ("flex-head ratcheting wrench", "8 13 19"),
        ("double box wrench", "10x12 17x19"),
        ("ratcheting double box wrench", "10x12 17x19"),
        ("half-moon wrench", "10x12 17x19"),
    ],
)
def test_the_hole_of_a_ring_is_as_wide_as_the_nut(kind: str, sizes: str) -> None:
    for size in sizes.split():
        holes = sorted(map(Polygon, picture(sized(a_piece(kind, size)), standing=False).holes), key=lambda h: h.area)
        for hole, s in zip(holes, map(float, size.split("x")), strict=True):
            assert hole.buffer(16).contains(nut(s, hole.centroid))
            assert not hole.contains(nut(s + 0.15, hole.centroid))


ALIKE = (
    [kind for kind in KINDS if "pliers" in kind],
    ["combination pliers", "diagonal cutters", "snips", "left-cut snips", "right-cut snips", "wire stripper"],
    [kind for kind in KINDS if "hammer" in kind or kind == "mallet"],
    ["ratchet", "flex-head ratchet", "breaker bar", "torque wrench", "sliding T-handle", "spinner handle"],
    ["combination wrench", "flex-head ratcheting wrench", "double box wrench", "open-end wrench", "flare-nut wrench",
     "half-moon wrench", "adjustable wrench", "pipe wrench", "ignition wrench"],
    ["extension", "universal joint", "adapter", "bit socket", "insert bit", "bit holder"],
    ["punch", "chisel", "pry bar", "file", "needle file", "scraper", "screwdriver", "tap", "screw extractor"],
)  # fmt: skip
"""Kinds among which nobody who knows tools may mistake one for another."""


@pytest.mark.parametrize(("one", "other"), [pair for family in ALIKE for pair in combinations(family, 2)])
def test_kinds_that_differ_look_different(one: str, other: str) -> None:
    """Drawn to one size they differ in more than a fiftieth of the tool, holes counted."""
    shapes = []
    for kind in (one, other):
        tool = tool_of(picture(sized(a_piece(kind)), standing=False))
        _, _, width, length = tool.bounds
        shapes.append(affinity.scale(tool, 1 / width, 1 / length, origin=(0, 0)))
    assert shapes[0].symmetric_difference(shapes[1]).area > shapes[0].area / 50


@pytest.mark.parametrize(
    ("plain", "impact"),
    [
        ("socket", "impact socket"),
        ("universal-joint socket", "swivel impact socket"),
        ("adapter", "impact adapter"),
        ("universal joint", "impact universal joint"),
    ],
)
def test_an_impact_piece_shows_the_hole_of_its_retaining_pin(plain: str, impact: str) -> None:
    """Common practice, no source: a small round hole in its drive end."""

    def pins(kind: str) -> int:
        piece = sized(a_piece(kind))
        rings = [line for line in picture(piece, standing=False).lines if line[0] == line[-1]]
        return sum(Polygon(ring).centroid.y < 0.25 * piece.length for ring in rings)

    assert (pins(plain), pins(impact)) == (0, 1)


def test_screwdriver_tips_are_told_apart() -> None:
    """A slotted blade is as wide as its shank and ground flat, a cross comes to a point, others have flutes."""
    slotted, cross, lobed = (picture(sized(a_piece("screwdriver", size)), False) for size in ("1x5.5", "PH2", "T25"))
    ends = [width_at(shown.outline, 0.999) / width_at(shown.outline, 0.9) for shown in (slotted, cross, lobed)]
    assert ends[0] == pytest.approx(1, abs=0.05)
    assert ends[1] < 0.5 < ends[2] < 0.95
    assert len(lobed.lines) == len(cross.lines) == len(slotted.lines) + 2


def test_only_a_wobble_extension_has_a_waist_in_its_square() -> None:
    """So that it stands off the axis in a socket: common practice, no source."""
    plain, wobble = (outline(sized(a_piece(kind, "150")), standing=False) for kind in ("extension", "wobble extension"))
    waists = [
        min(width_at(shape, share / 1000) for share in range(930, 990)) < 0.9 * width_at(shape, 0.985)
        for shape in (plain, wobble)
    ]
    assert waists == [False, True]


@pytest.mark.parametrize("kind", list(PLIERS_DRAWINGS))
def test_no_foam_is_left_between_the_handles_of_pliers(kind: str) -> None:
    """How far handles are apart differs most from tool to tool: what is estimated there would keep a tool out."""
    for piece in every_piece(kind):
        shown = picture(piece, standing=False)
        middle = Point(piece.width / 2, piece.length / 4)
        assert shown.outline.contains(middle)
