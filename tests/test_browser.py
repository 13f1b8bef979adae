"""Pages in a real browser: no errors, no requests, every drawer by keyboard, printing, accessibility, narrow screens.

Needs Chromium (Debian package ``chromium``); skipped with a reason where there is none.
"""

import re
from unicodedata import normalize

import pytest

from matcher.records.units import to_mm
from matcher.report.document import comparison_document
from tests import page_cases
from tests.browsing import axe, chromium, needs_chromium, watched
from tests.pdf_reading import words

pytestmark = needs_chromium
PAGES = page_cases.pages()
EVERY = pytest.mark.parametrize("name", sorted(PAGES))


@pytest.fixture(scope="module")
def browser():
    with chromium() as opened:
        yield opened


@pytest.fixture
def visit(browser, tmp_path):
    """Open a page, which may ask for nothing but itself."""
    with watched(browser, lambda url: re.fullmatch(r"file://\S+\.html(#\S*)?", url)) as opened:

        def shown(name, width=1280, **more):
            file = tmp_path / f"{name}.html"
            file.write_text(PAGES[name], encoding="utf-8")
            return opened(file.as_uri(), width, **more)

        yield shown


@EVERY
@pytest.mark.parametrize("width", [1280, 390])
def test_a_page_opens_without_errors_or_requests_and_never_scrolls_sideways(visit, name, width):
    page = visit(name, width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@EVERY
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(visit, name, scheme):
    """All rules of axe-core, WCAG 2.2 AA and good practice; the script it injects needs the content policy lifted."""
    page = visit(name, color_scheme=scheme, bypass_csp=True)
    found = axe.Axe().run(page).response["violations"]
    assert [(one["id"], one["impact"], one["nodes"][0]["html"]) for one in found] == []


def test_every_drawer_is_reached_and_opened_by_keyboard(visit):
    page = visit("plan")
    names = [drawer.name for drawer in page_cases.planned().question.cabinet.drawers]
    reached = []
    for _ in range(60):
        if len(reached) == len(names):
            break
        page.keyboard.press("Tab")
        link = page.evaluate("document.activeElement.closest('.front.main a')?.getAttribute('href') ?? ''")
        if link:
            shade = page.evaluate("getComputedStyle(document.activeElement.querySelector('.box')).strokeWidth")
            assert float(shade.removesuffix("px")) > 5, "the drawer in focus is marked"
            page.keyboard.press("Enter")
            page.wait_for_function("id => document.activeElement.id === id", arg=f"{link[1:]}-name")
            article = page.locator("article.drawer:visible")
            assert article.count() == 1, "the drawer chosen is the one that shows"
            reached.append(article.get_attribute("data-drawer"))
            page.locator(f'.front.main a[href="{link}"]').focus()
    assert reached == names


@pytest.mark.parametrize("width", [390, 1280, 1920])
def test_a_drawer_of_the_poster_is_shown_large_and_left_again(visit, width):
    """A click or Enter opens it, arrow keys go on and back round all drawers, Escape closes; the front stays."""
    page = visit("plan", width)
    names = [drawer.name for drawer in page_cases.planned().question.cabinet.drawers]
    poster, shown = page.locator(".poster:visible"), page.locator("article.drawer:visible")
    assert poster.count() == 1
    assert shown.count() == 0
    poster.locator("a").last.click()
    assert shown.get_attribute("data-drawer") == names[-1]
    assert poster.count() == 0
    assert page.locator(".front.main").is_visible()
    for key, name in [
        ("ArrowRight", names[0]),
        ("ArrowLeft", names[-1]),
        ("ArrowUp", names[-2]),
        ("ArrowDown", names[-1]),
    ]:
        page.keyboard.press(key)
        page.wait_for_function("name => document.activeElement.closest('article')?.dataset.drawer === name", arg=name)
        assert shown.count() == 1
        assert page.locator(".front.main [aria-current] .box").get_attribute("data-drawer") == name
    page.keyboard.press("Escape")
    assert shown.count() == 0
    assert poster.count() == 1
    assert page.evaluate("location.hash") == ""
    poster.locator("a").first.focus()
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.activeElement.closest('article')")
    assert shown.get_attribute("data-drawer") == names[0]
    page.get_by_role("button", name="Next").click()
    page.wait_for_function("name => document.activeElement.closest('article')?.dataset.drawer === name", arg=names[1])
    page.get_by_role("button", name="All drawers").click()
    assert shown.count() == 0


def test_arrow_keys_and_escape_do_nothing_while_no_drawer_is_open(visit):
    page = visit("plan")
    for key in ("ArrowRight", "ArrowDown", "Escape"):
        page.keyboard.press(key)
    assert page.locator("article.drawer:visible").count() == 0


WORDS = """selector => [...document.querySelectorAll(selector)].filter(one => one.checkVisibility()).map(one => {
  const { a, b } = one.getScreenCTM();
  return [one.textContent, parseFloat(getComputedStyle(one).fontSize) * Math.hypot(a, b)];
})"""
"""Every word of a picture that shows, with its font size in CSS pixels as it is seen."""


def small(page, least, selector="svg text"):
    """Words that are smaller than they may be."""
    found = page.evaluate(WORDS, selector)
    assert found
    return [(text, size) for text, size in found if size < least]


@pytest.mark.parametrize("name", ["plan", "refusal", "part", "undecided", "hostile"])
@pytest.mark.parametrize("width", [390, 1100, 1280, 1920])
def test_no_word_of_a_picture_is_smaller_than_nine_pixels(visit, name, width):
    page = visit(name, width)
    assert small(page, 9) == []
    for number in range(1, len(page_cases.planned().question.cabinet.drawers) + 1):
        page.evaluate("number => { location.hash = `drawer-${number}` }", number)
        page.wait_for_function("number => document.activeElement.id === `drawer-${number}-name`", arg=number)
        assert small(page, 9, "article.chosen svg text, .front.main text") == []


def test_no_word_of_the_poster_is_smaller_than_six_points_in_print(visit):
    """An A4 sheet less margins of 11 mm is 188 mm wide, 711 CSS pixels; 6 points are 8."""
    page = visit("plan", 711)
    page.emulate_media(media="print")
    assert small(page, 8, ".poster text, .front.main text") == []


@pytest.mark.parametrize("width", [390, 1280, 1920])
def test_all_drawers_of_a_poster_are_seen_at_one_scale(visit, width):
    page = visit("plan", width)
    drawers = {drawer.name: drawer for drawer in page_cases.planned().question.cabinet.drawers}
    boxes = page.evaluate(
        """[...document.querySelectorAll(".poster [data-above]")].filter(one => one.checkVisibility()).map(one => {
          const seen = one.getBBox(), scale = one.getScreenCTM().a;
          return [one.dataset.above, seen.width * scale, seen.height * scale];
        })"""
    )
    assert {name for name, _, _ in boxes} == set(drawers)
    scales = [wide / to_mm(drawers[name].inside_width) for name, wide, _ in boxes]
    scales += [high / to_mm(drawers[name].inside_depth) for name, _, high in boxes]
    assert max(scales) == pytest.approx(min(scales), rel=1e-3)


def test_the_first_screen_shows_verdict_front_and_every_drawer(visit):
    page = visit("plan")
    assert page.get_by_role("heading", name="Fits.").is_visible()
    lowest = page.evaluate("document.querySelector('.poster.wide').getBoundingClientRect().bottom")
    assert lowest <= 900
    assert page.evaluate("document.querySelector('.front.main').getBoundingClientRect().bottom") <= 900
    assert page.locator("details.fold").count() > 0
    assert page.locator("details.fold[open]").count() == 0, "what is long to read is folded"


@EVERY
def test_without_script_all_is_there(visit, name):
    page = visit(name, java_script_enabled=False)
    assert page.locator("article.drawer").count() == page.locator("article.drawer:visible").count()
    assert page.locator("details:not([open])").count() == 0


def test_the_switch_shows_inches_without_any_script(visit):
    page = visit("plan", java_script_enabled=False)
    cell = page.locator("[data-margin]").first
    assert " mm" in cell.inner_text()
    page.get_by_label("inch").check()
    assert " mm" not in cell.inner_text()
    assert " in" in cell.inner_text()
    assert page.locator(".front.main text.in").first.is_visible()
    assert not page.locator(".front.main text.mm").first.is_visible()


def test_the_table_of_variants_is_sorted_and_filtered_by_keyboard(visit):
    page = visit("compare")
    variants = comparison_document(page_cases.compared()[0][0])["variants"]
    rows = page.locator("table.variants tbody tr:visible")
    heading = page.locator("table.variants").get_by_role("columnheader", name="cabinet")
    heading.get_by_role("button").press("Enter")
    assert heading.get_attribute("aria-sort") == "ascending"
    heading.get_by_role("button").press("Enter")
    assert heading.get_attribute("aria-sort") == "descending"
    order = [row.get_attribute("data-cabinet") for row in rows.all()]
    assert order == sorted((one["cabinet"] for one in variants), reverse=True)
    free = page.get_by_role("columnheader", name="free", exact=True)
    free.get_by_role("button").press("Enter")
    assert heading.get_attribute("aria-sort") is None, "one column is sorted at a time"
    counts = [variant["free_drawers"] for variant in variants]
    shown = [row.locator("[data-name=free_drawers]").inner_text() for row in rows.all()]
    assert shown == [
        "–" if count is None else str(count) for count in sorted(counts, key=lambda n: -1 if n is None else n)
    ]
    page.get_by_label("Verdict").select_option("fits")
    assert rows.count() == sum(one["verdict"] == "fits" for one in variants)
    page.get_by_label("Filter by word").fill(variants[0]["cabinet"] + "zzz")
    assert rows.count() == 0
    assert page.locator("output").inner_text() == f"0 of {len(variants)} shown"


@pytest.mark.parametrize("name", ["plan", "refusal", "undecided"])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_page_prints_on_few_pages_with_all_that_a_planner_decides_from(visit, name, paper):
    page = visit(name)
    made = page.pdf(format=paper, margin=dict.fromkeys(("top", "bottom", "left", "right"), "11mm"))
    assert 1 <= len(re.findall(rb"/Type\s*/Page\b", made)) <= 3
    page.emulate_media(media="print")
    assert page.locator(".front.main").is_visible()
    assert not page.locator(".switch").is_visible()
    assert page.locator("article.drawer:visible").count() == 0
    outcome = page_cases.planned()
    if name == "plan":
        guide = page.locator(".guide").inner_text()
        for placement in outcome.plan.placements:
            assert placement.group in guide
            assert placement.drawer in guide
        assert all(drawer in guide for drawer in outcome.plan.free_drawers)
        printed = page.locator("main").inner_text()
        assert all(" ".join(caution.text.split()) in printed for caution in outcome.cautions)
        paper_words = normalize("NFKC", "".join("".join(words(made)).split()))  # ff and fi may be one letter
        told = [goal.told for goal in outcome.goals]
        told += ["sizes of pieces", "What to cut and", "Drawers to measure,", "Free drawers"]
        assert [text for text in told if "".join(text.split()) not in paper_words] == []


def test_screenshots_differ_in_light_dark_and_print(visit):
    """Three looks of one page: a style sheet that a browser could not read would leave them equal."""
    page = visit("plan")
    looks = {page.screenshot()}
    page.emulate_media(color_scheme="dark")
    looks.add(page.screenshot())
    page.emulate_media(media="print", color_scheme="light")
    looks.add(page.screenshot())
    assert len(looks) == 3
