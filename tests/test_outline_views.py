"""How a drawing of an outline was read is told, drawn full size, and kept consistent with the columns beside it."""

from __future__ import annotations

import json
import re
from xml.etree import ElementTree

import pytest
from ezdxf import units
from shapely import Polygon

from matcher.records.units import mm
from matcher.tools.dimensions import sized
from matcher.tools.outline_files import outline_reading
from tests import catalogue_files
from tests.test_outline_files import RECTANGLE, dxf, pliers, svg

HEAD = "set,tool,kind,count,size,length_mm,width_mm,height_mm,outline"


def own(tmp_path, row="S,pliers 200,combination pliers,1,200,,,,piece.dxf", **tables):
    others = dict.fromkeys(catalogue_files.SOUND, None) | {"drawers": catalogue_files.SOUND["drawers"]}
    return catalogue_files.folder(tmp_path, **{**others, "tools": f"{HEAD}\n{row}", **tables})


def wrench(space):
    """A head with a hole, on a shank, in one closed line and a circle."""
    space.add_lwpolyline([(0, 10), (90, 10), (90, 0), (120, 0), (120, 30), (90, 30), (90, 20), (0, 20)], close=True)
    space.add_circle((105, 15), 8)


def test_a_drawing_is_told_by_unit_box_corners_area_and_what_was_done_to_it(run, tmp_path):
    file = dxf(tmp_path, wrench)
    code, out, _ = run("check", own(tmp_path), "--outline", file, "--json")
    assert code == 0
    told = json.loads(out)
    assert (told["unit"], told["length_mm"], told["width_mm"]) == ("millimeters", 120, 30)
    assert (told["corners"], told["simplified"], told["turned"], told["areas_filled"]) == (8, False, True, 1)
    assert told["area_cm2"] == 18.0  # 90 x 10 and 30 x 30 mm, the hole filled
    (tool,) = told["tools"]
    assert (tool["tool"], tool["length_mm"], tool["width_mm"]) == ("pliers 200", 120, 30)


def test_the_file_is_found_beside_the_tables_too(run, tmp_path):
    dxf(tmp_path, wrench)
    out = run("check", own(tmp_path), "--outline", "piece.dxf")[1]
    assert "turned a quarter left: its right end is the working head" in out
    assert "1 area inside filled" in out
    assert "outline of pliers 200 (S): 120.0 x 30.0 x" in out


def test_curves_are_told_as_thinned_out(tmp_path):
    reading = outline_reading(dxf(tmp_path, lambda space: space.add_circle((0, 0), 40)))
    assert reading.corners < reading.corners_drawn


@pytest.mark.parametrize(
    ("unit", "told", "wide"), [(units.IN, "inches", 25.4), (units.CM, "centimeters", 10), (0, "no unit, taken as", 1)]
)
def test_the_unit_of_a_dxf_file(tmp_path, unit, told, wide):
    reading = outline_reading(dxf(tmp_path, lambda space: space.add_lwpolyline(RECTANGLE, close=True), unit))
    assert reading.unit.startswith(told)
    assert reading.shape.bounds[2] == pytest.approx(mm(200) * wide, abs=1)


def test_the_unit_of_an_svg_file(tmp_path):
    box = '<rect width="60" height="200"/>'
    assert outline_reading(svg(tmp_path, box)).unit == "a page of 100mm x 250mm"
    (tmp_path / "bare.svg").write_text(f'<svg xmlns="http://www.w3.org/2000/svg">{box}</svg>')
    bare = outline_reading(tmp_path / "bare.svg")
    assert bare.unit == "no unit, taken as pixels of 1/96 in"
    assert bare.shape.bounds[3] == pytest.approx(mm(200) * 25.4 / 96, abs=3.2)  # ends meet to 0.01 mm


def test_the_drawing_is_at_full_size_with_its_box_and_dimensions(run, tmp_path):
    """Read back as a drawing it is the same shape: 1 mm of paper is 1 mm of tool."""
    made = tmp_path / "made.svg"
    file = dxf(tmp_path, wrench)
    assert run("check", own(tmp_path), "--outline", file, "--out", made)[0] == 0
    root = ElementTree.fromstring(made.read_text())
    places = {element.get("id"): element for element in root.iter() if element.get("id")}
    page = [float(root.get(side).removesuffix("mm")) for side in ("width", "height")]
    assert root.get("viewBox").split()[2:] == [f"{size:.3f}" for size in page]
    assert [float(places["box"].get(side)) for side in ("width", "height")] == [30, 120]
    corners = [tuple(map(float, pair)) for pair in re.findall(r"([\d.]+) ([\d.]+)", places["outline"].get("d"))]
    assert Polygon(corners).area == pytest.approx(1800)
    left, top = (float(places["box"].get(side)) for side in ("x", "y"))
    assert Polygon(corners).bounds == pytest.approx((left, top, left + 30, top + 120))
    assert [text.text for text in root.iter("{http://www.w3.org/2000/svg}text")] == ["30.00 mm", "120.00 mm"]


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("lost.dxf", None, "a DXF or SVG file; there is no lost.dxf"),
        ("bad.dxf", b"none", "a DXF file; this one cannot be read"),
        ("bad.svg", b"<svg/>", "a drawing with a closed line in it"),
        ("bad.png", b"", "a DXF or SVG file"),
    ],
)
def test_a_bad_file_is_one_clear_error(run, tmp_path, name, content, told):
    folder = own(tmp_path, "S,pliers 200,combination pliers,1,200,,,,")
    if content is not None:
        (tmp_path / name).write_bytes(content)
    code, out, err = run("check", folder, "--outline", tmp_path / name)
    assert (code, out) == (2, "")
    assert err == f"error: outline {tmp_path / name}: expected {told}\n"


def test_one_question_at_a_time(run, tmp_path):
    assert run("check", own(tmp_path, "S,x,other,1,,9,9,9,"), "--outline", "a.dxf", "--sizes", "S")[0] == 2


# --------------------------------------------------------------------------------- the drawing beside other sizes


def test_a_drawing_wins_over_every_rule_but_its_height_is_a_rule_s(tmp_path):
    drawn = sized(pliers(dxf(tmp_path, lambda space: space.add_lwpolyline(RECTANGLE, close=True))), "high")
    ruled = sized(pliers("")), sized(pliers(""), "high")
    assert (drawn.length, drawn.width) == (mm(200), mm(50))
    assert ruled[0].width != mm(50)
    assert drawn.height == ruled[1].height > ruled[0].height


@pytest.mark.parametrize("table", ["tools", "sizes"])
def test_a_column_must_agree_with_the_drawing_whichever_table_it_is_in(run, tmp_path, table):
    dxf(tmp_path, lambda space: space.add_lwpolyline(RECTANGLE, close=True))

    def told(length):
        if table == "tools":
            return run("check", own(tmp_path, f"S,p,combination pliers,1,200,{length},,,piece.dxf"), *asked)
        row = "S,p,combination pliers,1,200,,,,piece.dxf"
        return run("check", own(tmp_path, row, sizes=f"tool,length_mm\np,{length}"), *asked)

    asked = ("--sizes", "S", "--json")
    code, out, _ = told("202.9")
    assert code == 0
    assert json.loads(out)["sizes"][0]["likely_length_mm"] == pytest.approx(202.9, abs=1 / 320)
    code, _, err = told("204")
    assert code == 2
    assert "column outline: 'piece.dxf': expected a drawing of length 204.0 mm as in its column" in err
