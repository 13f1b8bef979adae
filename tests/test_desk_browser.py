"""The desk in a real browser, as a planner uses it: look, drag, undo, wish, measure, compare, take the guide away.

Needs Chromium (Debian package ``chromium``); skipped with a reason where there is none.
"""

import csv
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.browsing import axe, chromium, needs_chromium, watched

pytestmark = needs_chromium
ROOT = Path(__file__).resolve().parents[1]
SETS = {"Alder-64", "Birch-134"}
CABINETS = {"Glen-3", "Glen-7", "Glen-9", "Moor-11"}


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    """The desk of a few sets and cabinets on a free port, ended with Ctrl-C as a planner would."""
    few = _few(tmp_path_factory.mktemp("few"))
    command = [sys.executable, "-u", "-m", "matcher", "desk", str(few), "--port", "0"]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as desk:
        assert desk.stdout is not None
        yield re.search(r"http://\S+", desk.stdout.readline())[0]
        desk.send_signal(signal.SIGINT)
        assert desk.wait(20) == 0


def _few(folder):
    """Some sets and cabinets of the bundled catalogue."""
    for path in (ROOT / "data" / "workshop").glob("*.csv"):
        with path.open(newline="", encoding="utf-8") as file:
            head, *rows = csv.reader(file)
        kept = [
            row
            for row in rows
            if dict(zip(head, row, strict=True)).get("set", "") in {"", *SETS}
            and dict(zip(head, row, strict=True)).get("cabinet", "") in {"", *CABINETS}
        ]
        with (folder / path.name).open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows([head, *kept])
    return folder


@pytest.fixture(scope="module")
def browser():
    with chromium() as opened:
        yield opened


@pytest.fixture
def visit(browser, address):
    """Open the desk, which may ask for nothing but itself."""
    with watched(browser, lambda url: url.startswith(address.partition("?")[0])) as opened:
        yield lambda width=1280, **more: opened(address, width, **more)


def choose(page, set_name="Birch-134", cabinet="Glen-9"):
    page.get_by_label("Set, or several").select_option(set_name)
    page.get_by_label("Cabinet", exact=True).select_option(cabinet)
    page.get_by_role("button", name="Plan", exact=True).click()
    page.wait_for_selector(".headline[data-verdict]", timeout=60_000)


def middle(page, selector):
    box = page.locator(selector).first.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def in_drawer(page, drawer):
    """Groups whose organizers lie in a drawer of the poster."""
    cell = page.locator(f".poster.wide a:has([data-above='{drawer}']) [data-group]")
    return {one.get_attribute("data-group") for one in cell.all()}


def wishes(page):
    return [one.inner_text().split("  ")[0].removesuffix(" Remove") for one in page.locator(".pins li").all()]


@pytest.mark.slow
def test_the_first_page_is_the_matrix_which_fills_and_opens_plans(visit):
    page = visit()
    page.wait_for_function("() => !document.querySelector('section[data-filling]')", timeout=120_000)
    assert page.locator("button.pair").count() == len(SETS) * len(CABINETS)
    cell = page.locator("button[data-set='Birch-134'][data-cabinet='Glen-9']")
    told = cell.inner_text()
    assert cell.get_attribute("data-verdict") == "fits"
    assert page.locator("button[data-set='Birch-134'][data-cabinet='Glen-3']").inner_text() == "no"
    cell.click()
    page.wait_for_selector(".headline[data-verdict]", timeout=60_000)
    assert page.locator("[data-fewest]").get_attribute("data-fewest") == told.split("–")[0]


@pytest.mark.slow
def test_a_group_is_dragged_to_a_drawer_that_lights_up_and_the_move_is_undone(visit):
    page = visit()
    choose(page)
    assert in_drawer(page, "A4") == {"screwdrivers"}
    before = page.url
    page.mouse.move(*middle(page, ".poster.wide [data-group='screwdrivers']"))
    page.mouse.down()
    page.mouse.move(*middle(page, ".poster.wide [data-above='A5']"), steps=4)
    page.mouse.move(*middle(page, ".poster.wide [data-above='A7']"), steps=4)
    takes = page.locator(".poster.wide a.takes").count()
    assert takes == page.locator("[data-move='screwdrivers'] li button").count() > 0
    assert page.locator(".poster.wide a.refuses [data-above='A9']").count() == 1
    assert "drawer A7: goes in" in page.locator(".moving-told").inner_text()
    page.mouse.up()
    page.wait_for_selector("[data-moved]", timeout=60_000)
    assert "screwdrivers" in in_drawer(page, "A7")
    strip = page.locator("[data-moved]").inner_text()
    assert "screwdrivers in drawer A7" in strip
    assert "from drawer A4 to A7" in strip
    assert "more order break" in strip
    assert wishes(page) == ["screwdrivers in drawer A7"]
    page.get_by_role("button", name="Undo").click()
    page.wait_for_function("() => !document.querySelector('[data-moved]')", timeout=60_000)
    assert page.url == before
    page.go_back()
    assert wishes(page) == ["screwdrivers in drawer A7"]


@pytest.mark.slow
def test_a_drop_where_it_does_not_go_in_changes_nothing_and_says_why(visit):
    page = visit()
    choose(page)
    before = page.url
    page.mouse.move(*middle(page, ".poster.wide [data-group='screwdrivers']"))
    page.mouse.down()
    page.mouse.move(*middle(page, ".poster.wide [data-above='A9']"), steps=4)
    assert "does not take it, takes no foam" in page.locator(".moving-told").inner_text()
    page.mouse.up()
    assert page.url == before
    assert page.locator(".look.moving").count() == 0
    page.locator(".poster.wide a:has([data-above='A4'])").click()
    assert page.locator("article.chosen").get_attribute("data-drawer") == "A4", "a click still shows the drawer"


@pytest.mark.slow
def test_a_group_is_moved_by_keyboard(visit):
    page = visit()
    choose(page)
    page.locator(".front.main a:has([data-drawer='A4'])").focus()
    page.keyboard.press("m")
    assert page.locator(".look.moving").count() == 1
    page.keyboard.press("Escape")
    assert page.locator(".look.moving").count() == 0
    page.keyboard.press("m")
    for _ in range(2):
        page.keyboard.press("ArrowRight")
    drawer = page.evaluate("document.activeElement.querySelector('.box').dataset.drawer")
    assert f"drawer {drawer}: goes in" in page.locator(".moving-told").inner_text()
    page.keyboard.press("Enter")
    page.wait_for_selector("[data-moved]", timeout=60_000)
    assert wishes(page) == [f"screwdrivers in drawer {drawer}"]


@pytest.mark.slow
@pytest.mark.parametrize("script", [True, False])
def test_a_planner_chooses_wishes_measures_and_takes_the_guide(visit, script):
    page = visit(java_script_enabled=script, accept_downloads=True)
    choose(page)
    assert page.locator(".headline[data-verdict]").get_attribute("data-verdict") == "fits"
    cell = page.locator(".front.main a.cell", has=page.locator("[data-drawer=A5]"))
    assert "screwdrivers" not in cell.get_attribute("aria-label")

    page.get_by_text("Ask for something else").click()
    page.get_by_label("Group", exact=True).select_option("screwdrivers")
    page.get_by_label("Drawer", exact=True).select_option("A5")
    page.get_by_role("button", name="Pin", exact=True).click()
    page.wait_for_selector(".pins")
    assert wishes(page) == ["screwdrivers in drawer A5"]
    assert "screwdrivers" in cell.get_attribute("aria-label")

    with page.expect_download() as coming:
        page.get_by_role("link", name="Guide for the buyer").click()
    assert coming.value.suggested_filename == "Birch-134 in Glen-9.pdf"
    assert Path(coming.value.path()).read_bytes().startswith(b"%PDF-")

    page.get_by_role("button", name="Remove the wish: screwdrivers in drawer A5").click()
    page.wait_for_function("() => !document.querySelector('.pins')") if script else page.wait_for_load_state()
    assert page.locator(".pins").count() == 0

    page.get_by_text("Drawers as measured").first.click()
    for drawer in range(1, 9):
        page.get_by_label(f"Drawer A{drawer}, clear height").fill("20")
    page.get_by_role("button", name="Plan for these sizes").click()
    page.wait_for_selector("[data-as-measured]", timeout=60_000)
    assert page.locator("[data-as-measured]").get_attribute("data-as-measured") == "does not fit"


@pytest.mark.slow
def test_without_script_a_group_moves_from_its_drawers_list(visit):
    page = visit(java_script_enabled=False)
    choose(page)
    page.locator("[data-move='screwdrivers'] li[data-drawer='A7'] button").click()
    page.wait_for_selector("[data-moved]", timeout=60_000)
    assert wishes(page) == ["screwdrivers in drawer A7"]
    page.get_by_role("button", name="Keep drawer A9 free").click()
    page.wait_for_selector(".pins li:nth-child(2)", timeout=60_000)
    page.get_by_role("button", name="Undo").click()
    page.wait_for_load_state()
    assert wishes(page) == ["screwdrivers in drawer A7"]


@pytest.mark.slow
def test_a_plan_is_cancelled_while_it_is_worked_out(visit):
    page = visit()
    page.get_by_label("Set, or several").select_option(["Alder-64", "Birch-134"])
    page.get_by_label("Cabinet", exact=True).select_option("Moor-11")
    page.get_by_role("button", name="Plan", exact=True).click()
    page.get_by_role("button", name="Cancel").click(timeout=60_000)
    page.wait_for_selector("h1:has-text('cancelled')", timeout=60_000)
    assert page.get_by_role("button", name="Work it out").count() == 1


@pytest.mark.slow
def test_variants_are_compared_and_one_is_opened(visit):
    page = visit()
    page.get_by_label("Set to compare").select_option("Alder-64")
    page.get_by_role("button", name="Compare", exact=True).click()
    page.wait_for_selector("table.variants", timeout=120_000)
    assert page.locator("table.variants tbody tr").count() == len(CABINETS)
    page.get_by_label("Cabinet", exact=True).select_option("Glen-7")
    page.get_by_role("button", name="Open its plan").click()
    page.wait_for_selector("h1:has-text('Alder-64 in Glen-7')", timeout=60_000)


@pytest.mark.slow
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(visit, scheme):
    """All rules of axe-core; the script it injects needs the content policy lifted."""
    page = visit(color_scheme=scheme, bypass_csp=True)
    page.wait_for_function("() => !document.querySelector('section[data-filling]')", timeout=120_000)
    looked = [axe.Axe().run(page).response["violations"]]
    choose(page)
    page.get_by_text("Ask for something else").click()
    page.get_by_label("Group", exact=True).select_option("screwdrivers")
    page.get_by_role("button", name="Pin", exact=True).click()
    page.wait_for_selector(".pins", timeout=60_000)
    for fold in ("Ask for something else", "Drawers as measured", "Cut foam"):
        page.get_by_text(fold).first.click()
    looked.append(axe.Axe().run(page).response["violations"])
    page.locator(".poster.wide a").nth(2).click()
    looked.append(axe.Axe().run(page).response["violations"])
    page.keyboard.press("Escape")
    page.locator(".poster.wide a").nth(2).focus()
    page.keyboard.press("m")
    looked.append(axe.Axe().run(page, options=MOVING).response["violations"])
    found = [(one["id"], one["impact"], one["nodes"][0]["html"]) for violations in looked for one in violations]
    assert found == []


MOVING = {"rules": {"color-contrast": {"enabled": False}}}
"""While a group is moved the drawers that do not take it fade: they cannot be chosen then."""


@pytest.mark.slow
def test_nothing_scrolls_sideways_on_a_phone(visit):
    page = visit(390)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    choose(page)
    for fold in ("Ask for something else", "Drawers as measured", "Cut foam"):
        page.get_by_text(fold).first.click()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.locator(".poster.narrow a").nth(2).click()
    page.locator("article.chosen [data-move] li button").first.click()
    page.wait_for_selector("[data-moved]", timeout=60_000)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_the_way_from_choosing_to_a_plan_goes_by_keyboard(visit):
    page = visit()
    reached = []
    page.locator("#plan-set").focus()
    page.keyboard.press("ArrowDown")
    for _ in range(3):
        page.keyboard.press("Tab")
        reached.append(page.evaluate("document.activeElement.id || document.activeElement.textContent.trim()"))
    assert reached == ["cabinet", "plan-fill", "Plan"]
    page.keyboard.press("Enter")
    page.wait_for_selector("[data-verdict].headline, h1:has-text('worked out')", timeout=60_000)


def released_plan_of(page):
    """The parts of a plan."""
    choose(page, "Alder-64", "Glen-7")
    page.get_by_text("Release", exact=True).click()
    page.get_by_label("New parts begin with").fill("F-")
    page.get_by_role("button", name="Show the parts").click()
    page.wait_for_selector("[data-part]", timeout=60_000)


@pytest.mark.slow
@pytest.mark.parametrize("script", [True, False])
def test_a_plan_is_released_opened_again_and_added_to(visit, script, tmp_path):
    page = visit(java_script_enabled=script, accept_downloads=True)
    released_plan_of(page)
    with page.expect_download() as coming:
        page.get_by_role("link", name="Catalogue with its new parts").click()
    coming.value.save_as(tmp_path / "released.xlsx")
    assert coming.value.suggested_filename == "Alder-64 in Glen-7, released.xlsx"
    with page.expect_download() as coming:
        page.get_by_role("link", name="Released plan").click()
    coming.value.save_as(tmp_path / "plan.json")

    page.get_by_role("link", name="All sets and cabinets").click()
    page.get_by_label("Workbook").set_input_files(tmp_path / "released.xlsx")
    page.get_by_role("button", name="Check and open").click()
    page.wait_for_selector("h1:has-text('Which set')", timeout=60_000)
    page.get_by_label("Its document").set_input_files(tmp_path / "plan.json")
    page.get_by_role("button", name="Open it").click()
    page.wait_for_selector("h1:has-text('Earlier plan')", timeout=60_000)
    page.get_by_role("button", name="Look at it again").click()
    page.wait_for_selector("[data-holds='true']", timeout=60_000)
    page.get_by_role("link", name="The earlier plan").click()
    page.get_by_label("Set to add").select_option("Birch-134")
    page.get_by_role("button", name="Add", exact=True).click()
    page.wait_for_selector(".headline[data-verdict]", timeout=60_000)
    assert "beside the plan of Alder-64" in page.get_by_label("Earlier plans").inner_text()


@pytest.mark.slow
def test_what_lies_beside_is_a_button_away_from_more_free_drawers(visit):
    """A plan that uses every drawer for foam leaves none to add to, says so, and offers the one that packs."""
    page = visit()
    choose(page, "Alder-64", "Glen-7")
    page.get_by_text("Add another set").click()
    assert page.get_by_text("No drawer for foam is free.").is_visible()
    page.get_by_role("button", name="Plan anew").last.click()
    page.wait_for_selector("[data-fill='pack']", timeout=60_000)
    page.get_by_text("Add another set").click()
    assert page.get_by_text("No drawer for foam is free.").count() == 0


@pytest.mark.slow
@pytest.mark.parametrize("width", [1280, 390])
def test_pages_about_a_plan_are_sound_and_none_scrolls_sideways(visit, width, tmp_path):
    """All rules of axe-core, on a screen and on a phone."""
    page = visit(width, bypass_csp=True, accept_downloads=True)
    found, wide = [], []

    def look():
        found.extend(
            (page.url, one["id"], one["nodes"][0]["html"]) for one in axe.Axe().run(page).response["violations"]
        )
        wide.append(page.evaluate("document.documentElement.scrollWidth"))

    released_plan_of(page)
    look()
    with page.expect_download() as coming:
        page.get_by_role("link", name="Released plan").click()
    coming.value.save_as(tmp_path / "plan.json")
    page.get_by_role("link", name="The plan").click()
    for fold in ("Which sizes decide", "Add another set"):
        page.get_by_text(fold).click()
    look()
    page.get_by_role("button", name="Find them").click()
    page.wait_for_selector("h1:has-text('Which sizes decide')", timeout=120_000)
    look()
    page.get_by_role("link", name="The plan").click()
    page.get_by_text("Which sizes decide").click()
    page.get_by_role("button", name="Find the pieces to measure").click()
    page.wait_for_selector("[data-stands]", timeout=120_000)
    look()
    page.get_by_role("link", name="All sets and cabinets").click()
    page.get_by_label("Its document").set_input_files(tmp_path / "plan.json")
    page.get_by_role("button", name="Open it").click()
    page.wait_for_selector("h1:has-text('Earlier plan')", timeout=60_000)
    look()
    page.get_by_role("button", name="Look at it again").click()
    page.wait_for_selector("[data-holds='false']", timeout=60_000)
    look()
    page.get_by_role("link", name="All sets and cabinets").click()
    page.get_by_label("Cabinet to look at").select_option("Glen-7")
    page.get_by_role("button", name="Look at all sets").click()
    page.wait_for_selector("table.variants", timeout=120_000)
    look()
    assert found == []
    assert max(wide) <= width
