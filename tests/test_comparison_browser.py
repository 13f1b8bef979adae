"""Comparisons and offers in a real browser: one scale, words large enough, a group followed, a curve in step.

Needs Chromium (Debian package ``chromium``); skipped with a reason where there is none.
"""

import re
from dataclasses import replace

import pytest

from matcher.records.units import to_mm
from matcher.report.document import comparison_document
from matcher.report.offer_documents import offer_document
from matcher.report.pages.comparison_page import comparison_page
from matcher.report.pages.offer_page import offer_page
from matcher.studies.compared import Variant
from matcher.studies.variants import steps
from tests import page_cases
from tests.browsing import chromium, needs_chromium, watched

pytestmark = needs_chromium
MANY = 22
"""Cabinets that a matrix shows at once on a screen of 1280 px."""


def wide_matrix():
    """The two sets in many cabinets, all of them copies of the three compared ones."""

    def copied(number: int, variant: Variant) -> Variant:
        question = variant.outcome.question
        renamed = replace(question.cabinet, name=f"Heath-{number}N")
        return replace(variant, outcome=replace(variant.outcome, question=replace(question, cabinet=renamed)))

    found = []
    for one in page_cases.compared(2)[0]:
        copies = [copied(number, one.variants[number % len(one.variants)]) for number in range(10, 10 + MANY)]
        found.append(replace(one, variants=tuple(copies), model=""))
    return comparison_page(found, [() for _ in found])


@pytest.fixture(scope="module")
def pages():
    return {
        "compare": comparison_page(*page_cases.compared()),
        "many": wide_matrix(),
        "offer": offer_page(page_cases.offered()),
    }


@pytest.fixture(scope="module")
def browser():
    with chromium() as opened:
        yield opened


@pytest.fixture
def visit(browser, pages, tmp_path):
    with watched(browser, lambda url: re.fullmatch(r"file://\S+\.html(#\S*)?", url)) as opened:

        def shown(name, width=1280, **more):
            file = tmp_path / f"{name}.html"
            file.write_text(pages[name], encoding="utf-8")
            return opened(file.as_uri(), width, **more)

        yield shown


WORDS = """[...document.querySelectorAll("svg text, .matrix *, .organizers *, .sizes *")]
  .filter(one => one.checkVisibility() && one.textContent.trim() && !one.closest(".unseen"))
  .map(one => {
    const scale = one.getScreenCTM ? Math.hypot(one.getScreenCTM().a, one.getScreenCTM().b) : 1;
    return [one.textContent, parseFloat(getComputedStyle(one).fontSize) * scale];
  })"""


@pytest.mark.parametrize("name", ["compare", "many", "offer"])
@pytest.mark.parametrize("width", [390, 1280, 1920])
def test_no_word_is_smaller_than_nine_pixels(visit, name, width):
    found = visit(name, width).evaluate(WORDS)
    assert found
    assert [(text, size) for text, size in found if size < 9] == []


@pytest.mark.parametrize("name", ["compare", "many", "offer"])
@pytest.mark.parametrize("width", [390, 1280])
def test_wide_tables_scroll_and_the_page_never_does(visit, name, width):
    assert visit(name, width).evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("width", [390, 1280, 1920])
def test_all_fronts_are_seen_at_one_scale_with_their_groups(visit, width):
    page = visit("compare", width)
    (comparison,), _ = page_cases.compared()
    widths = {
        (variant.outcome.cabinet, drawer.name): to_mm(drawer.inside_width)
        for variant in comparison.variants
        for drawer in variant.outcome.question.cabinet.drawers
    }
    boxes = page.evaluate(
        """[...document.querySelectorAll(".fronts [data-drawer]")].map(one =>
          [one.closest("li").dataset.cabinet, one.dataset.drawer, one.getBoundingClientRect().width])"""
    )
    assert {(cabinet, drawer) for cabinet, drawer, _ in boxes} == set(widths)
    scales = [seen / widths[cabinet, drawer] for cabinet, drawer, seen in boxes]
    assert max(scales) == pytest.approx(min(scales), rel=0.02)
    told = page.locator(".fronts li").first.locator("text.holds").all_text_contents()
    assert {"sockets", "trays"} <= {" ".join(text.split()) for text in told}


def test_a_group_is_followed_through_all_fronts_without_any_script(visit):
    page = visit("compare", java_script_enabled=False)
    cells = page.locator(".fronts .cell")

    def faint():
        return cells.evaluate_all("all => all.map(one => Number(getComputedStyle(one).opacity) < 1)")

    assert not any(faint())
    page.get_by_label("sockets", exact=True).check()
    shown = [one for one, pale in zip(cells.all(), faint(), strict=True) if not pale]
    assert 0 < len(shown) < cells.count()
    assert all("sockets" in " ".join(one.locator("text").all_text_contents()) for one in shown)
    page.get_by_label("all", exact=True).check()
    assert not any(faint())


def test_the_matrix_fits_the_screen_and_says_numbers(visit):
    page = visit("many")
    table = page.locator("table.matrix")
    assert table.locator("thead th").count() == 1 + MANY
    box = table.bounding_box()
    assert box["x"] + box["width"] <= 1280
    inside = page.evaluate("(() => { const s = document.querySelector('table.matrix').closest('.scroll');"
                           " return s.scrollWidth - s.clientWidth })()")  # fmt: skip
    assert inside <= 0, "all of it is seen at once"
    for verdict in ("fits", "does not fit"):
        texts = table.locator(f'[data-verdict="{verdict}"] a').evaluate_all(
            "all => all.map(one => [...one.childNodes].filter(n => !n.classList?.contains('unseen'))"
            ".map(n => n.textContent).join('').trim())"
        )
        assert texts
        assert all(re.search(r"\d", text) for text in texts), texts
    link = table.locator('[data-verdict="does not fit"] a').first
    link.click()
    target = page.locator(link.get_attribute("href"))
    assert target.is_visible(), "the part in which it stands unfolds"


def test_a_bar_is_as_long_as_the_free_drawers_differ(visit):
    page = visit("compare")
    variants = {one["cabinet"]: one for one in comparison_document(page_cases.compared()[0][0])["variants"]}
    bars = page.evaluate(
        """[...document.querySelectorAll("tr[data-cabinet]")].filter(row => row.querySelector(".range")).map(row => {
          const at = name => row.querySelector(name).getBoundingClientRect();
          return [row.dataset.cabinet, at(".range").left, at(".range").right, at(".plan").left + at(".plan").width / 2];
        })"""
    )
    assert {one[0] for one in bars} == {name for name, one in variants.items() if one["verdict"] == "fits"}
    for name, left, right, plan in bars:
        assert left <= plan <= right
        assert (right - left > 8) == (variants[name]["most_free"] > variants[name]["fewest_free"])


def test_curve_and_table_are_in_step(visit):
    page = visit("offer")
    curve = page.locator("svg.curve.wide")
    rows = page.locator("table.trade tbody tr")
    assert curve.locator("a").count() == rows.count()
    assert curve.bounding_box()["width"] >= 1200, "as wide as the page"
    last = rows.last
    curve.locator("a").last.hover()
    assert "on" in last.get_attribute("class").split()
    rows.first.hover()
    assert "on" not in last.get_attribute("class").split()
    assert "on" in curve.locator("a").first.get_attribute("class").split()
    curve.locator("a").last.focus()
    page.keyboard.press("Enter")
    assert page.url.endswith(f"#{last.get_attribute('id')}")
    told = offer_document(page_cases.offered())
    stops = told["stops_paying"]["new_sizes"]
    assert f"stops paying at {stops} new size" in curve.locator("g.stops").text_content()
    assert {"New foam sizes allowed", "Gain in a year, set-up taken off"} <= set(
        curve.locator("text.axis").all_text_contents()
    )


def test_the_curve_is_drawn_anew_for_a_narrow_screen(visit):
    page = visit("offer", 390)
    assert not page.locator("svg.curve.wide").is_visible()
    assert page.locator("svg.curve.narrow").is_visible()


@pytest.mark.parametrize("name", ["compare", "offer"])
def test_no_word_is_cut_off_in_print(visit, name):
    page = visit(name, 1040)
    page.emulate_media(media="print")
    assert page.evaluate("document.documentElement.scrollWidth") <= 1040
    assert [size for _, size in page.evaluate(WORDS) if size < 8] == [], "6 points are 8 CSS pixels"


def test_steps_of_a_comparison_know_no_before_that_could_mean_earlier():
    (comparison,), _ = page_cases.compared()
    assert steps(comparison)
    shown = comparison_page([comparison], [steps(comparison)]).split("<main")[1]
    words = re.sub(r"<[^>]+>", " ", re.sub(r"<script.*?</script>", " ", shown, flags=re.DOTALL))
    assert " before" not in words
