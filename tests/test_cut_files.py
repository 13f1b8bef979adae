"""Cut files read back by other programs: ezdxf's audit and areas, svgelements, the standard library."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pytest
import svgelements
from ezdxf import units
from ezdxf.math import area
from ezdxf.path import make_path
from rich.console import Console
from shapely import Polygon

from matcher.catalogue.reading import read_catalogue
from matcher.cutting.guesses import GuessedSizesError
from matcher.cutting.jobs import Cut, cut
from matcher.house.reading import default_house
from matcher.planning.answering import plan
from matcher.records.units import PER_MM, to_mm
from matcher.report.cut_files import SPACING, cut_dxf, cut_svg, cut_writers
from matcher.report.cut_sheets import READ_FIRST, cut_document, cut_rows, cut_view
from matcher.report.files import write
from tests.builders import cabinet, drawer
from tests.cutting_cases import example, outcome, without_plan

ROUNDED_AREA = 300 * 200 - (4 - 3.141592653589793) * 18.4**2
"""Square millimeters of the example's outline: its corners rounded by 20 - 1.6 mm."""


def read(text: str) -> ezdxf.document.Drawing:
    return ezdxf.read(io.StringIO(text))


def polylines(document, layer: str):
    return [line for line in document.modelspace().query("LWPOLYLINE") if line.dxf.layer == layer]


def area_of(line) -> float:
    """Square millimeters within a closed polyline, its arcs flattened to a micrometer."""
    return abs(area(make_path(line).flattening(0.001)))


def test_the_dxf_opens_without_audit_errors_in_millimeters():
    document = read(cut_dxf(example()))
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    assert document.units == units.MM
    assert document.header["$INSUNITS"] == 4


def test_every_outline_is_a_closed_polyline_on_a_layer_that_carries_its_depth():
    document = read(cut_dxf(example()))
    lines = [line for line in document.modelspace().query("LWPOLYLINE") if line.dxf.layer != "SIZES_LINES"]
    assert all(line.closed for line in lines)
    assert sorted(line.dxf.layer for line in lines) == ["NOTCH_18.0MM", "OUTER_30.0MM", "POCKET_18.0MM", "POCKET_9.5MM"]
    assert all(line.dxf.layer in document.layers for line in lines)


def test_areas_come_back_as_they_were_drawn():
    made = example()
    document = read(cut_dxf(made))
    (outer,) = polylines(document, "OUTER_30.0MM")
    assert area_of(outer) == pytest.approx(ROUNDED_AREA, rel=1e-5)
    for contour in made.jobs[0].drawing.contours[:-1]:
        layer = f"{contour.part.upper()}_{to_mm(contour.depth):.1f}MM"
        (line,) = polylines(document, layer)
        drawn = Polygon([(to_mm(x), to_mm(y)) for x, y, _ in contour.corners]).area
        assert area_of(line) == pytest.approx(drawn, rel=1e-9)


def test_the_outline_has_real_arcs():
    (outer,) = polylines(read(cut_dxf(example())), "OUTER_30.0MM")
    arcs = [part for part in outer.virtual_entities() if part.dxftype() == "ARC"]
    assert [arc.dxf.radius for arc in arcs] == [pytest.approx(18.4)] * 4


def test_sizes_and_names_are_texts_and_the_origin_is_marked():
    document = read(cut_dxf(example()))
    texts = {(text.dxf.layer, text.dxf.text) for text in document.modelspace().query("TEXT")}
    assert texts == {("SIZES", "13"), ("NAME", "group, drawer 1"), ("CAUTION", READ_FIRST)}
    marks = document.modelspace().query('LINE[layer=="ORIGIN"]')
    assert [(mark.dxf.start + mark.dxf.end).magnitude for mark in marks] == [0, 0]


@pytest.mark.parametrize("render", [cut_dxf, cut_svg])
def test_drawings_from_estimates_say_so_and_others_do_not(render):
    assert "NOT FOR PRODUCTION" in render(example("estimated"))
    assert "NOT FOR PRODUCTION" not in render(example())


def test_the_warning_lies_on_a_layer_of_its_own():
    (text,) = read(cut_dxf(example("estimated"))).modelspace().query('TEXT[layer=="NOT_FOR_PRODUCTION"]')
    assert text.dxf.text == "NOT FOR PRODUCTION"


def test_organizers_stand_side_by_side_each_from_its_own_origin():
    one = example()
    document = read(cut_dxf(Cut(one.outcome, 1, one.jobs * 3)))
    lefts = sorted(min(x for x, *_ in line.get_points()) for line in polylines(document, "OUTER_30.0MM"))
    assert lefts == [0, 300 + SPACING, 2 * (300 + SPACING)]


@pytest.mark.parametrize("render", [cut_dxf, cut_svg])
def test_the_same_cut_gives_the_same_file(render):
    assert render(example()) == render(example())


def test_the_dxf_leaves_ezdxf_as_it_was():
    before = ezdxf.options.write_fixed_meta_data_for_testing
    cut_dxf(example())
    assert ezdxf.options.write_fixed_meta_data_for_testing is before


def svg_paths(text: str) -> dict[str, svgelements.Path]:
    root = ElementTree.fromstring(text)
    found = root.iter("{http://www.w3.org/2000/svg}path")
    return {path.get("class"): svgelements.Path(path.get("d")) for path in found}


def test_the_svg_is_true_to_scale():
    root = ElementTree.fromstring(cut_svg(example()))
    assert (root.get("width"), root.get("height")) == ("420mm", "320mm")
    assert root.get("viewBox") == "0 0 420 320"


def test_svg_areas_come_back_as_they_were_drawn():
    paths = svg_paths(cut_svg(example()))
    points = [paths["outer"].point(step / 4000) for step in range(4000)]
    assert Polygon([(p.x, p.y) for p in points]).area == pytest.approx(ROUNDED_AREA, rel=1e-4)
    assert paths["notch"].bbox() == pytest.approx((40, -118, 120, -90))


def test_the_svg_escapes_what_names_may_hold():
    text = cut_svg(example())
    assert ElementTree.fromstring(text).find(".//{*}g").get("id") == "group, drawer 1"


@pytest.mark.parametrize("suffix", [".dxf", ".svg"])
def test_no_plan_no_drawing(tmp_path, suffix):
    path = tmp_path / f"cut{suffix}"
    refused, finished = Cut(without_plan()), Cut(outcome(cabinet(drawer()), [], []))
    assert write([path], cut_writers(refused)) == [f"{path}: no drawing, there is no plan"]
    assert write([path], cut_writers(finished)) == [f"{path}: no drawing, no new foam is needed"]
    assert not path.exists()


def test_every_suffix_is_written(tmp_path):
    made = example("estimated")
    for suffix in ("dxf", "svg", "json", "csv"):
        write([tmp_path / f"cut.{suffix}"], cut_writers(made))
    assert not ezdxf.readfile(tmp_path / "cut.dxf").audit().errors
    assert ElementTree.parse(tmp_path / "cut.svg").getroot().tag.endswith("svg")
    assert json.loads((tmp_path / "cut.json").read_text()) == json.loads(json.dumps(cut_document(made)))
    (row,) = csv.DictReader(io.StringIO(Path(tmp_path / "cut.csv").read_text()))
    assert (row["group"], row["width_mm"], row["note"]) == ("group", "300.0", "not for production")


def test_the_document_shows_what_was_computed():
    made = example("estimated", batch=3)
    document = cut_document(made)
    assert (document["sheets"], document["batch"], document["note"]) == (made.sheets, 3, "not for production")
    (stock,) = document["stocks"]
    for way in ("free", "guillotine"):
        assert (stock[way]["value"], stock[way]["proved"]) == (1, True)
        assert [sheet["note"] for sheet in stock[way]["sheets"]] == ["not for production"]
        assert len(stock[way]["sheets"][0]["blanks"]) == 3
    assert [guess["basis"] for guess in document["guesses"]] == ["estimated"]
    assert [refit["part"] for refit in document["refits"]] == ["P-1"]
    assert document["material_cost"] == pytest.approx(10.0 / 3, abs=0.01)


def test_rows_are_one_a_blank():
    assert [row["how"] for row in cut_rows(example())] == ["new"]


def shown(made: Cut) -> str:
    console = Console(width=100, file=io.StringIO())
    console.print(cut_view(made))
    return console.file.getvalue()


def test_a_person_sees_blanks_sheets_refits_and_guesses():
    text = shown(example("estimated"))
    for word in (
        "NOT FOR PRODUCTION",
        "300.0 x 200.0 x 30.0",
        "1 sheet (proved)",
        "trim 300.0 x 210.0 mm to 300.0 x 200.0 mm",
        "not measured: group (2 estimated): 2 x wrench 13 mm",
        "data sheet first",
    ):
        assert word in text
    assert "NOT FOR PRODUCTION" not in shown(example())


def test_a_person_sees_why_there_is_nothing_to_cut():
    assert "does not fit" in shown(Cut(without_plan()))


def test_a_setup_sheet_is_shown_whole():
    text = shown(example("estimated"))
    sheet = text[text.index("Setup sheet: group, drawer 1") :]
    for word in (
        "NOT FOR PRODUCTION",
        "face up: the face that shows, black",
        "origin: front left",
        "outside width: 300.0 mm",
        "Guards",
    ):
        assert word in sheet


WORKSHOP = Path(__file__).resolve().parents[1] / "data" / "workshop"


def test_a_bundled_plan_becomes_files_that_open():
    """From the catalogue's files to a drawing: an outline a blank, every pocket with its area."""
    catalogue, house = read_catalogue(WORKSHOP), default_house()
    planned = plan(catalogue, house, "Alder-64", "Glen-5")
    with pytest.raises(GuessedSizesError) as refused:
        cut(planned)
    assert sum(guess.count for guess in refused.value.guesses) == planned.basis.estimated + planned.basis.standard
    made = cut(planned, allow_estimates=True)
    document = read(cut_dxf(made))
    assert not document.audit().errors
    lines = list(document.modelspace().query("LWPOLYLINE"))
    drawn = sum(area_of(line) for line in lines if line.dxf.layer.startswith("POCKET"))
    rings = [pocket.ring for seat in planned.plan.placements if seat.how == "new" for pocket in seat.layout.pockets]
    assert drawn == pytest.approx(sum(Polygon(ring).area for ring in rings) / PER_MM**2, rel=1e-9)
    assert len([line for line in lines if line.dxf.layer.startswith("OUTER")]) == len(made.jobs) > 0
    assert all(job.foam.thickness >= job.blank.needed for job in made.jobs)
    assert all(count.proved for stock in made.stocks for count in (stock.free, stock.guillotine))
