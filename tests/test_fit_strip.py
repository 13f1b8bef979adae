"""A fit strip: the pocket of one tool at five clearances, cut as the plan would cut it."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pytest
from shapely import Polygon, box

from matcher.cutting.fit_strip import LETTERS, WIDEST, fit_strip
from matcher.cutting.guesses import GuessedSizesError
from matcher.layout.pocket_rings import pocket_ring, radius_for
from matcher.planning.answering import answer
from matcher.planning.question import ask
from matcher.records.errors import UnknownNameError, UsageError
from matcher.records.units import mm
from matcher.report.cut_sheets import READ_FIRST
from matcher.report.fit_strip_views import strip_document, strip_writers
from tests.builders import HOUSE, cabinet, catalogue, drawer, piece
from tests.cutting_cases import foam

FOLDER = Path(__file__).resolve().parents[1] / "data" / "workshop"
FITS = tuple(map(mm, ("0.4", "0.6", "0.8", "1.0", "1.2")))
TOOLS = (
    piece("pin", 80, 6, 6),
    piece("socket 13", 40, 18, 18, kind="socket", size="13", system="metric", drive="3/8"),
    piece("wrench 13", 170, 30, 8, kind="combination wrench", size="13", system="metric"),
    piece("case", 200, 150, 40, kind="cased"),
)
BENCH = cabinet(*(drawer(str(row), row=row) for row in (1, 2, 3)), drawer("4", row=4, slot="no foam"))


def _question(house=HOUSE, stock=(), pieces=TOOLS):
    known = replace(catalogue(pieces, cabinets=[BENCH]), foam=tuple(stock))
    return ask(known, house, "set", "cabinet")


def _planned(*args, **more):
    return answer(_question(*args, **more))


def _contours(strip, part="pocket"):
    """Those of a part from left to right."""
    return sorted((one for one in strip.drawing.contours if one.part == part), key=lambda one: min(one.corners))


def _pockets(strip, part="pocket"):
    return [Polygon([(x, y) for x, y, _ in one.corners]) for one in _contours(strip, part)]


@pytest.mark.parametrize("tool", ["pin", "socket 13", "wrench 13"])
def test_five_pockets_from_the_pockets_own_function_a_step_apart(tool):
    question = _question()
    strip = fit_strip(answer(question), tool)
    assert strip.fits == FITS
    (sized,) = (one for group in question.groups for one in group.pieces if one.piece.tool == tool)
    pockets = _contours(strip)
    for pocket, fit in zip(pockets, FITS, strict=True):
        left, front = min(x for x, _, _ in pocket.corners), min(y for _, y, _ in pocket.corners)
        ring = tuple((x - left, y - front) for x, y, _ in pocket.corners)
        assert ring == pocket_ring(sized, strip.standing, fit, radius_for(pocket.depth, HOUSE.cutters))
    widths = [right - left for left, _, right, _ in (pocket.bounds for pocket in _pockets(strip))]
    assert [later - earlier for earlier, later in pairwise(widths)] == [2 * mm("0.2")] * 4


@pytest.mark.parametrize("tool", ["pin", "socket 13", "wrench 13"])
def test_the_middle_pocket_is_the_one_of_the_plan(tool):
    question = _question()
    planned = answer(question)
    strip = fit_strip(planned, tool)
    groups = {group.name: group for group in planned.plan.groups}
    (own,) = (
        pocket
        for placed in planned.plan.placements
        if placed.layout
        for pocket in placed.layout.pockets
        if groups[placed.group].pieces[pocket.piece].piece.tool == tool
    )
    middle = _contours(strip)[2]
    assert (middle.depth, strip.standing) == (own.depth, own.standing)
    assert Polygon([(x, y) for x, y, _ in middle.corners]).area == Polygon(own.ring).area


@pytest.mark.parametrize("tool", ["pin", "socket 13", "wrench 13"])
def test_webs_margins_and_marks_are_in_the_foam_and_clear_of_pockets(tool):
    strip = fit_strip(_planned(), tool)
    drawn = strip.drawing
    deep = max(one.depth for one in drawn.contours[:-1])
    cut = [*_pockets(strip), *_pockets(strip, "notch")]
    for n, one in enumerate(_pockets(strip)):
        others = [other for m, other in enumerate(_pockets(strip)) if m != n]
        assert all(one.distance(other) >= HOUSE.pocket.web_for(deep) for other in others)
    field = box(*(HOUSE.pocket.margin,) * 2, drawn.width - HOUSE.pocket.margin, drawn.depth - HOUSE.pocket.margin)
    assert all(field.covers(one) for one in cut)
    marks = []
    for words in drawn.sizes:
        wide = len(words.text) * LETTERS * WIDEST / 2
        marks.append(box(words.x - wide, words.y - words.height / 2, words.x + wide, words.y + words.height / 2))
    foam_left = box(0, 0, drawn.width, drawn.depth)
    assert all(foam_left.covers(mark) and mark.distance(one) > 0 for mark in marks for one in cut)
    assert all(one.distance(other) > 0 for one, other in pairwise(marks))
    assert [words.text for words in drawn.sizes] == ["0.4 mm", "0.6 mm", "0.8 mm", "1.0 mm", "1.2 mm"]
    assert [words.x for words in drawn.sizes] == [round(one.envelope.centroid.x - 0.01) for one in _pockets(strip)]


def test_a_house_chooses_clearance_and_step():
    house = replace(HOUSE, pocket=replace(HOUSE.pocket, fit=mm(1)), cut=replace(HOUSE.cut, strip_step=mm("0.5")))
    assert fit_strip(_planned(house), "pin").fits == (0, mm("0.5"), mm(1), mm("1.5"), mm(2))
    tight = replace(HOUSE, pocket=replace(HOUSE.pocket, fit=mm("0.3")))
    with pytest.raises(UsageError, match=r"0\.3 mm, leaves no room for 2 smaller ones 0\.2 mm apart; .* strip_step_mm"):
        fit_strip(_planned(tight), "pin")


def test_foam_is_the_groups_and_a_base_is_told():
    strip = fit_strip(_planned(stock=[foam("thick", thickness="38.1")]), "wrench 13")
    assert (strip.setup.foam, strip.drawing.thickness, strip.setup.batch) == ("thick", mm("38.1"), 1)
    two = replace(HOUSE, pocket=replace(HOUSE.pocket, base=mm("9.525")))
    based = fit_strip(_planned(two), "wrench 13", batch=4)
    assert "two sheets" in based.drawing.note
    assert (based.setup.base_thickness, based.setup.batch) == (mm("9.525"), 4)


def test_a_tool_that_is_not_there_or_has_no_pocket_is_refused():
    with pytest.raises(UnknownNameError, match=r"no piece 'wrench 31' in set \(nearest: wrench 13\)"):
        fit_strip(_planned(), "wrench 31")
    with pytest.raises(UsageError, match="'case' lies in a case"):
        fit_strip(_planned(), "case")
    with pytest.raises(UsageError, match="no plan of set in cabinet with a pocket of 'pin'"):
        fit_strip(_planned(pieces=(*TOOLS, piece("anvil", 900, 500, 90))), "pin")


def test_a_guessed_size_is_refused_unless_allowed_and_then_marked():
    planned = _planned(pieces=[piece("known", 80), replace(TOOLS[2], length=None, width=None, height=None)])
    assert fit_strip(planned, "known").drawing.production
    with pytest.raises(GuessedSizesError, match="wrench 13"):
        fit_strip(planned, "wrench 13")
    strip = fit_strip(planned, "wrench 13", allow_estimates=True)
    assert not strip.drawing.production
    assert [guess.tool for guess in strip.guesses] == ["wrench 13"]
    assert strip_document(strip)["note"] == "not for production"
    assert "NOT FOR PRODUCTION" in strip_writers(strip)[".svg"]()


def test_the_drawing_is_read_by_others_and_carries_the_caution():
    strip = fit_strip(_planned(), "socket 13")
    document = ezdxf.read(io.StringIO(strip_writers(strip)[".dxf"]()))
    assert not document.audit().errors
    lines = document.modelspace().query("LWPOLYLINE")
    assert sum(line.dxf.layer.startswith("POCKET_") for line in lines) == 5
    texts = {text.dxf.text for text in document.modelspace().query("TEXT")}
    assert {"0.4 mm", "1.2 mm", "fit strip of socket 13", READ_FIRST} <= texts
    root = ElementTree.fromstring(strip_writers(strip)[".svg"]())
    assert READ_FIRST in {element.text for element in root.iter() if element.tag.endswith("text")}


def test_the_command_draws_a_strip(run, tmp_path):
    path = tmp_path / "strip.svg"
    asked = ("cut", FOLDER, "Alder-64", "Glen-7", "--fit-strip", "hex key 5 mm")
    code, out, err = run(*asked, "--allow-estimates", "--json", "--out", path)
    document = json.loads(out)
    assert (code, document["tool"], document["clearances_mm"]) == (0, "hex key 5 mm", [0.4, 0.6, 0.8, 1.0, 1.2])
    assert document["setup_sheet"]["cautions"] == document["work_cautions"]
    assert "fit strip of hex key 5 mm" in path.read_text(encoding="utf-8")
    code, _, err = run(*asked)
    assert (code, "--allow-estimates" in err) == (2, True)
    code, _, err = run(*asked, "--allow-estimates", "--out", tmp_path / "strip.csv")
    assert (code, ".csv" in err) == (2, True)
