"""A mixed drawer and a divided group are told in one plain sentence each, in every form of the answer."""

import io

import pytest
from lxml import html
from openpyxl import load_workbook

from matcher.cutting import cut, packing_of
from matcher.planning.answering import plan
from matcher.planning.outcome import Fits, together_words
from matcher.report.comparison_views import fit_view
from matcher.report.cut_sheets import cut_document, cut_view
from matcher.report.document import plan_document
from matcher.report.pages.plan_page import plan_page
from matcher.report.paper import guide_pdf, paper_named, shipping_pdf
from matcher.report.terminal import plan_view, show
from matcher.report.workbook import cut_book, plan_book
from tests.builders import HOUSE, cabinet, catalogue, drawer, piece
from tests.pdf_reading import words


@pytest.fixture(scope="module")
def mixed() -> Fits:
    """Two families in the only drawer."""
    pieces = [piece("bar", 150, 200, 30, group="bars"), piece("block", 150, 200, 30, group="blocks")]
    outcome = plan(catalogue(pieces, (), [cabinet(drawer("1", depth=200 + 60))]), HOUSE, "set", "cabinet")
    assert isinstance(outcome, Fits)
    return outcome


@pytest.fixture(scope="module")
def divided() -> Fits:
    """Four plates of 200 x 200 mm, of which a drawer of 560 x 300 mm takes two: two in each of two drawers."""
    plates = [piece(f"plate {n}", 200, 200, 20, group="plates") for n in range(1, 5)]
    boxes = [drawer(str(n), row=n, depth=300) for n in (1, 2)]
    outcome = plan(catalogue(plates, (), [cabinet(*boxes)]), HOUSE, "set", "cabinet")
    assert isinstance(outcome, Fits)
    return outcome


def sentences(outcome):
    return list(together_words(outcome))


def cells(book):
    sheets = load_workbook(io.BytesIO(book)).worksheets
    return "\n".join(str(cell.value) for sheet in sheets for row in sheet.iter_rows() for cell in row if cell.value)


def printed(view, capsys):
    show(view)
    return " ".join(capsys.readouterr().out.split())


def test_one_sentence_a_drawer_and_one_a_group(mixed, divided):
    assert sentences(mixed) == ["drawer 1 holds bars and blocks together"]
    (told,) = sentences(divided)
    assert told.startswith("plates are divided: ")
    assert " in 1 and " in told
    assert told.endswith(" in 2")


@pytest.mark.parametrize("name", ["mixed", "divided"])
def test_every_form_of_the_plan_tells_it(name, request, capsys):
    outcome = request.getfixturevalue(name)
    (told,) = sentences(outcome)
    assert plan_document(outcome)["together_in_words"] == [told]
    assert told in printed(plan_view(outcome), capsys)
    assert told in printed(fit_view([outcome]), capsys)
    assert told in cells(plan_book(plan_document(outcome)))
    page = html.fromstring(plan_page(outcome))
    assert [item.text_content() for item in page.xpath("//ul[@class='together']/li")] == [told]
    pages = [" ".join(text.split()) for text in words(shipping_pdf(outcome, packing_of(outcome), paper_named("A4")))]
    assert any("Packing list" in text and told in text for text in pages)


@pytest.mark.parametrize("name", ["mixed", "divided"])
def test_the_guide_shows_it_drawer_by_drawer(name, request):
    outcome = request.getfixturevalue(name)
    text = " ".join(" ".join(words(guide_pdf(outcome, paper_named("A4")))).split())
    held = {where: [one.group for one in outcome.plan.placements if one.drawer == where] for where in ("1", "2")}
    for where, groups in held.items():
        if groups:
            assert f"Drawer {where}: {' + '.join(groups)}" in text


@pytest.mark.parametrize("name", ["mixed", "divided"])
def test_what_is_cut_tells_it(name, request, capsys):
    made = cut(request.getfixturevalue(name))
    (told,) = sentences(made.outcome)
    assert cut_document(made)["together_in_words"] == [told]
    assert told in printed(cut_view(made), capsys)
    assert told in cells(cut_book(cut_document(made)))


def test_a_label_names_what_lies_beside(mixed, divided):
    labels = words(shipping_pdf(mixed, packing_of(mixed), paper_named("A4")))[-1]
    assert "beside blocks" in labels
    assert "beside bars" in labels
    alone = words(shipping_pdf(divided, packing_of(divided), paper_named("A4")))[-1]
    assert "plates (1 of 2)" in alone
    assert "beside" not in alone


def test_a_drawer_is_headed_by_all_that_it_holds(mixed):
    page = html.fromstring(plan_page(mixed))
    (head,) = page.xpath("//article[@data-drawer='1']/h3")
    assert " ".join(head.text_content().split()) == "Drawer 1: bars and blocks"


def test_where_nothing_is_mixed_or_divided_nothing_is_told(capsys):
    apart = plan(catalogue([piece("bar", group="bars")], (), [cabinet(drawer("1"))]), HOUSE, "set", "cabinet")
    assert sentences(apart) == []
    assert not html.fromstring(plan_page(apart)).xpath("//ul[@class='together']")
    assert "What lies together" not in "".join(words(shipping_pdf(apart, packing_of(apart), paper_named("A4"))))
    refused = plan(catalogue([piece("bar", 900)], (), [cabinet(drawer("1"))]), HOUSE, "set", "cabinet")
    assert refused.verdict == "does not fit"
    assert sentences(refused) == []
    assert plan_document(refused)["together_in_words"] == []
