"""A piece's own drawing is scaled, closed and simple, or refused with what is wrong."""

from __future__ import annotations

from collections.abc import Callable
from math import pi
from pathlib import Path

import ezdxf
import pytest
from ezdxf import units
from ezdxf.layouts import Modelspace
from shapely import Polygon

from matcher.records.given import Piece
from matcher.records.units import inch, mm, to_mm
from matcher.tools.dimensions import sized
from matcher.tools.notation import SizingError
from matcher.tools.outlines import outline

RECTANGLE = [(0, 0), (200, 0), (200, 50), (0, 50)]
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="250mm" viewBox="0 0 100 250">{}</svg>'


def dxf(folder: Path, draw: Callable[[Modelspace], object], unit: int = units.MM) -> Path:
    document = ezdxf.new()
    document.units = unit
    draw(document.modelspace())
    document.saveas(folder / "piece.dxf")
    return folder / "piece.dxf"


def svg(folder: Path, inside: str) -> Path:
    (folder / "piece.svg").write_text(SVG.format(inside), encoding="utf-8")
    return folder / "piece.svg"


def pliers(path: Path, length: int | None = None, width: int | None = None) -> Piece:
    return Piece("set", "tool", "combination pliers", 1, size="200", outline=str(path), length=length, width=width)


def shape_of(path: Path) -> Polygon:
    return outline(sized(pliers(path)), standing=False)


def test_a_rectangle_is_taken_exactly_and_its_long_side_stands_up(tmp_path: Path) -> None:
    piece = sized(pliers(dxf(tmp_path, lambda space: space.add_lwpolyline(RECTANGLE, close=True))))
    assert (piece.length, piece.width) == (mm(200), mm(50))
    assert piece.source.startswith("length, width: measured")
    assert outline(piece, standing=False).bounds == (0, 0, mm(50), mm(200))


def test_inches_are_scaled(tmp_path: Path) -> None:
    corners = [(0, 0), (2, 0), (2, 8), (0, 8)]
    piece = sized(pliers(dxf(tmp_path, lambda space: space.add_lwpolyline(corners, close=True), units.IN)))
    assert (piece.length, piece.width) == (inch(8), inch(2))


def test_loose_lines_and_arcs_close_up(tmp_path: Path) -> None:
    def draw(space: Modelspace) -> None:
        for start, end in (((0, 0), (30, 0)), ((30, 100), (0, 100)), ((0, 100), (0, 0))):
            space.add_line(start, end)
        space.add_arc((30, 50), 50, -90, 90)

    shape = shape_of(dxf(tmp_path, draw))
    true_area = 30 * 100 + pi * 50**2 / 2  # a rectangle and half a disc
    assert true_area <= shape.area / 320**2 <= 1.01 * true_area


def test_curves_are_never_cut_short(tmp_path: Path) -> None:
    """A circle of radius 20 mm must stay inside its pocket."""
    shape = shape_of(dxf(tmp_path, lambda space: space.add_circle((5, 5), 20)))
    assert shape.exterior.distance(shape.centroid) >= 20 * 320 - 1
    assert to_mm(int(shape.bounds[2])) < 40.3


def test_a_hole_inside_does_not_count(tmp_path: Path) -> None:
    def draw(space: Modelspace) -> None:
        space.add_circle((0, 0), 25)
        space.add_circle((0, 0), 10)

    assert not shape_of(dxf(tmp_path, draw)).interiors


def test_the_drawing_s_right_end_becomes_the_working_head(tmp_path: Path) -> None:
    arrow = [(0, 20), (150, 20), (150, 0), (200, 25), (150, 50), (150, 30), (0, 30)]
    shape = shape_of(dxf(tmp_path, lambda space: space.add_lwpolyline(arrow, close=True)))
    widest = [y for x, y in shape.exterior.coords if x == 0]
    assert min(widest) == mm(150)


def test_svg_shapes_with_units_transforms_and_curves(tmp_path: Path) -> None:
    path = '<g transform="scale(2)"><path d="M 0 0 L 40 0 C 50 30 50 60 40 90 L 0 90 Z"/></g>'
    piece = sized(pliers(svg(tmp_path, path)))
    # the curve's farthest point, half way: x = (40 + 3*50 + 3*50 + 40) / 8 = 47.5, doubled 95 mm
    assert 180 <= to_mm(piece.length) < 180.3
    assert 95 <= to_mm(piece.width) < 95.3


def test_svg_is_not_mirrored(tmp_path: Path) -> None:
    """An SVG page's y points down: what is drawn at the top of the page is the working head."""
    shape = shape_of(svg(tmp_path, '<polygon points="10,10 60,10 60,30 40,30 40,210 30,210 30,30 10,30"/>'))
    assert min(y for x, y in shape.exterior.coords if x == 0) == pytest.approx(mm(180), abs=1)


def test_columns_win_over_a_drawing_that_agrees(tmp_path: Path) -> None:
    path = dxf(tmp_path, lambda space: space.add_lwpolyline(RECTANGLE, close=True))
    piece = sized(pliers(path, length=mm(200.8)))
    assert (piece.length, piece.width) == (mm(200.8), mm(50))
    assert outline(piece, standing=False).bounds == (0, 0, mm(50), mm(200.8))


def test_a_drawing_that_disagrees_with_its_columns_is_refused(tmp_path: Path) -> None:
    path = dxf(tmp_path, lambda space: space.add_lwpolyline(RECTANGLE, close=True))
    with pytest.raises(SizingError, match=r"length 180.0 mm as in its column; it measures 200.0 mm"):
        sized(pliers(path, length=mm(180)))


def add_two(space: Modelspace) -> None:
    space.add_circle((0, 0), 5)
    space.add_circle((50, 0), 5)


@pytest.mark.parametrize(
    ("draw", "expected"),
    [
        (lambda space: space.add_lwpolyline(RECTANGLE), "a closed line; it is open near"),
        (lambda space: space.add_lwpolyline([(0, 0), (9, 9), (9, 0), (0, 9)], close=True), "does not cross itself"),
        (add_two, "one closed shape; there are 2"),
        (lambda space: space.add_text("a wrench"), "with a closed line in it"),
        (lambda space: space.add_line((0, 0), (10, 0)), "a closed line"),
        (lambda space: space.add_circle((0, 0), 9000), "at most 10 m"),
    ],
)
def test_drawings_that_are_no_simple_shape(tmp_path: Path, draw: Callable[[Modelspace], object], expected: str) -> None:
    with pytest.raises(SizingError, match=expected) as refused:
        sized(pliers(dxf(tmp_path, draw)))
    assert refused.value.column == "outline"


@pytest.mark.parametrize(
    ("name", "content", "expected"),
    [
        ("piece.dxf", b"\x00\xff not a drawing", "a DXF file; this one cannot be read"),
        ("piece.dxf", b"", "a DXF file; this one cannot be read"),
        ("piece.svg", b"<svg><rect", "an SVG file; this one cannot be read"),
        ("piece.svg", b"", "an SVG file; this one cannot be read"),
        ("piece.svg", SVG.format("").encode(), "with a closed line in it"),
        ("piece.png", b"", "a DXF or SVG file"),
    ],
)
def test_files_that_are_no_drawings(tmp_path: Path, name: str, content: bytes, expected: str) -> None:
    (tmp_path / name).write_bytes(content)
    with pytest.raises(SizingError, match=expected):
        sized(pliers(tmp_path / name))


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(SizingError, match=r"there is no lost.dxf"):
        sized(pliers(tmp_path / "lost.dxf"))
