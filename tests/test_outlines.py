"""Outlines are simple shapes that fill their box, never smaller than what they stand for, and look like the tool."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box

from matcher.records.units import mm
from matcher.tools.dimensions import sized
from matcher.tools.kinds import KINDS
from matcher.tools.outlines import outline
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
    """ISO 2936, s 5: arms 85 and 33 long, 5.67 across corners, so about 5.67 x (85 + 33 - 5.67) square millimeters."""
    shape = outline(sized(a_piece("hex key", "5")), standing=False)
    assert shape.area / 320**2 == pytest.approx(5.67 * (85 + 33 - 5.67), rel=0.02)
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
