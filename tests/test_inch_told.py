"""A cabinet in inches is told in fractions of an inch everywhere; exact values stay at hand."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from io import BytesIO

import openpyxl
import pytest
from lxml import html

from matcher.house.rules import LengthRules
from matcher.planning.answering import plan
from matcher.records.units import inch, kg, to_mm
from matcher.report.document import plan_document
from matcher.report.pages.plan_page import plan_page
from matcher.report.paper import guide_pdf, paper_named
from matcher.report.workbook import fit_book, plan_book
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer
from tests.pdf_reading import words

SIDES = ("359/16", "63/4", "47/16")
MILLIMETERS = re.compile(r"\d mm\b")
FRACTION = re.compile(r"\b\d+(?: \d+/(?:2|4|8|16|32))? in\b|\b\d+/(?:2|4|8|16|32) in\b")


def boxed(*sides, number=2):
    width, depth, height = (inch(Fraction(side)) for side in sides)
    box = replace(drawer("1"), inside_width=width, inside_depth=depth, clear_height=height)
    return cabinet(*(replace(box, name=str(row), row=row) for row in range(1, number + 1)))


def answer(box, house=HOUSE, **tray):
    return plan(catalogue(organizers=[organizer("tray", **tray)], cabinets=[box]), house, "set", "cabinet")


@pytest.fixture(scope="module")
def fitting():
    return answer(boxed(*SIDES))


def test_what_is_short_is_told_up_to_a_32nd():
    """600 mm and 1.6 mm at each side are 603.2 mm; 22 7/16 in are 569.9125: 33.2875 mm short are 1.3105 in."""
    found = answer(boxed(*SIDES), width=600)
    (reason,) = found.reasons
    assert "1 5/16 in wider" in reason.text
    assert not MILLIMETERS.search(reason.text)
    assert plan_document(found)["reasons"][0]["short_mm"] == pytest.approx(33.2875, abs=0.01)


def test_cautions_and_goals_are_in_inches_too():
    """A tray of 560 mm leaves 569.9125 - 560 - 3.2 = 6.7125 mm: 0.264 in, 1/4 to the nearest 32nd."""
    found = answer(boxed(*SIDES), width=560, depth=396)
    (loose,) = [one.text for one in found.cautions if one.code == "loose"]
    assert "is 1/4 in loose in width" in loose
    assert "at least 1/2 in" in loose  # 12 mm are 0.4724 in, above 15/32
    (recut,) = [goal for goal in found.goals if goal.name == "recut"]
    assert FRACTION.search(recut.told)
    assert not any(MILLIMETERS.search(text) for text in (recut.told, *recut.contributions))


def test_the_page_begins_in_inches_and_keeps_the_exact_value(fitting):
    page = html.fromstring(plan_page(fitting))
    assert page.xpath("//input[@id='inch']/@checked")
    assert not page.xpath("//input[@id='metric']/@checked")
    spans = page.xpath("//span[@class='in']")
    told = [span.text for span in spans]
    assert "19 23/32 × 15 in" in " ".join(told) or any("19 11/16" in one for one in told)
    assert all(re.fullmatch(r"(?:(?:\d+(?: \d+/\d+)?|\d+/\d+|under 1/32)(?: × )?)+ (?:in|lb)", one) or "lb" in one
               for one in told)  # fmt: skip
    titles = [span.get("title") for span in spans if span.get("title")]
    assert titles
    assert all(title.startswith("exactly ") for title in titles)


def test_the_guide_tells_free_drawers_in_inches_rounded_down(fitting):
    text = " ".join(" ".join(words(guide_pdf(fitting, paper_named("A4")))).split())
    assert "22 7/16 x 15 3/4 x 2 15/16 in inside" in text
    assert "22 7/16 × 15 3/4 × 2 15/16 in" in text  # on the poster


def test_the_workbook_holds_exact_numbers_that_show_as_fractions(fitting):
    document = plan_document(fitting)
    sheet = openpyxl.load_workbook(BytesIO(plan_book(document)))["placements"]
    heads = [cell.value for cell in sheet[1]]
    cell = sheet.cell(2, heads.index("width (in)") + 1)
    assert cell.value == pytest.approx(document["placements"][0]["width_mm"] / 25.4)
    assert cell.number_format == "# ??/32"
    assert not any("(mm)" in str(head) for head in heads)
    metric = plan_document(answer(cabinet(drawer("1"))))
    mixed = openpyxl.load_workbook(BytesIO(fit_book([document, metric])))["placements"]
    assert "width (mm)" in [cell.value for cell in mixed[1]]


@pytest.mark.parametrize(("unit", "box"), [("in", cabinet(drawer("1"))), ("mm", boxed(*SIDES))])
def test_the_house_may_say_in_which_unit(unit, box):
    house = replace(HOUSE, lengths=LengthRules(unit))
    found = answer(box, house, width=700)
    (reason,) = found.reasons
    assert (" in wider" in reason.text) == (unit == "in")
    assert (" mm wider" in reason.text) == (unit == "mm")
    assert plan_document(found)["lengths"] == unit


def test_the_exact_value_stays_in_the_document(fitting):
    rows = plan_document(fitting)["margins"]
    assert rows[0]["least_width_mm"] == pytest.approx(500 + 2 * to_mm(HOUSE.clearance.side))


METRIC = cabinet(drawer("1"), drawer("2", row=2))


@pytest.mark.parametrize(
    ("box", "over", "share"), [(boxed(*SIDES), "4.4 lb over", "22.0 lb, 91%"), (METRIC, "2.0 kg over", "10.0 kg, 91%")]
)
def test_masses_are_in_pounds_beside_inches_and_in_kilograms_beside_millimeters(box, over, share):
    """10 kg are 22.05 lb: 2 kg over a rating of 8 kg, 91 % of one of 11 kg."""

    def rated(most):
        return cabinet(*(replace(one, load_rating=kg(most)) for one in box.drawers))

    assert over in answer(rated(8), mass=kg(10)).reasons[0].text
    (caution,) = [one.text for one in answer(rated(11), mass=kg(10)).cautions if one.code == "LOAD-D"]
    assert share in caution
    assert ("kg" in caution) == (box is METRIC)
