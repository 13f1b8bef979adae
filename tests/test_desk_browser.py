"""The desk in a real browser, as a planner uses it: choose, look, pin, measure, compare, take the guide away.

Needs Chromium (Debian package ``chromium``); skipped with a reason where there is none.
"""

import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.browsing import axe, chromium, needs_chromium, watched

pytestmark = needs_chromium
ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="module")
def address():
    """The desk of the bundled catalogue on a free port, ended with Ctrl-C as a planner would."""
    command = [sys.executable, "-u", "-m", "matcher", "desk", "data/workshop", "--port", "0"]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as desk:
        assert desk.stdout is not None
        yield re.search(r"http://\S+/", desk.stdout.readline())[0]
        desk.send_signal(signal.SIGINT)
        assert desk.wait(20) == 0


@pytest.fixture(scope="module")
def browser():
    with chromium() as opened:
        yield opened


@pytest.fixture
def visit(browser, address):
    """Open the desk, which may ask for nothing but itself."""
    with watched(browser, lambda url: url.startswith(address)) as opened:
        yield lambda width=1280, **more: opened(address, width, **more)


def choose(page, set_name="Birch-134", cabinet="Glen-9"):
    page.get_by_label("Set", exact=True).select_option(set_name)
    page.get_by_label("Cabinet", exact=True).select_option(cabinet)
    page.get_by_role("button", name="Plan", exact=True).click()
    page.wait_for_selector("[data-verdict]", timeout=60_000)


@pytest.mark.slow
@pytest.mark.parametrize("script", [True, False])
def test_a_planner_chooses_pins_measures_and_takes_the_guide(visit, script):
    page = visit(java_script_enabled=script, accept_downloads=True)
    choose(page)
    assert page.locator("[data-verdict]").first.get_attribute("data-verdict") == "fits"
    cell = page.locator(".front.main a.cell", has=page.locator("[data-drawer=A5]"))
    assert "screwdrivers" not in cell.get_attribute("aria-label")

    page.get_by_label("Group").select_option("screwdrivers")
    page.get_by_label("Drawer", exact=True).select_option("A5")
    page.get_by_role("button", name="Pin", exact=True).click()
    page.wait_for_selector(".pins")
    assert page.locator(".pins li").inner_text().startswith("screwdrivers in drawer A5")
    assert "screwdrivers" in cell.get_attribute("aria-label")

    with page.expect_download() as coming:
        page.get_by_role("link", name="Guide to print").click()
    assert coming.value.suggested_filename == "Birch-134 in Glen-9.pdf"
    assert Path(coming.value.path()).read_bytes().startswith(b"%PDF-")

    page.get_by_role("button", name="Remove the pin: screwdrivers in drawer A5").click()
    page.wait_for_function("() => !document.querySelector('.pins')") if script else page.wait_for_load_state()
    assert page.locator(".pins").count() == 0

    page.get_by_text("Drawers as measured").first.click()
    for drawer in range(1, 9):
        page.get_by_label(f"Drawer A{drawer}, clear height").fill("20")
    page.get_by_role("button", name="Plan for these sizes").click()
    page.wait_for_selector("[data-as-measured]", timeout=60_000)
    assert page.locator("[data-as-measured]").get_attribute("data-as-measured") == "does not fit"


def test_variants_are_compared_and_one_is_opened(visit):
    page = visit()
    page.get_by_label("Set to compare").select_option("Alder-64")
    page.get_by_role("button", name="Compare").click()
    page.wait_for_selector("table.variants", timeout=120_000)
    assert page.locator("table.variants tbody tr").count() == 22
    page.get_by_label("Cabinet", exact=True).select_option("Glen-7")
    page.get_by_role("button", name="Open", exact=True).click()
    page.wait_for_selector("h1:has-text('Alder-64 in Glen-7')", timeout=60_000)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(visit, scheme):
    """All rules of axe-core; the script it injects needs the content policy lifted."""
    page = visit(color_scheme=scheme, bypass_csp=True)
    looked = [axe.Axe().run(page).response["violations"]]
    choose(page)
    page.get_by_label("Group").select_option("screwdrivers")
    page.get_by_role("button", name="Pin", exact=True).click()
    page.wait_for_selector(".pins", timeout=60_000)
    page.get_by_text("Drawers as measured").first.click()
    looked.append(axe.Axe().run(page).response["violations"])
    found = [(one["id"], one["impact"], one["nodes"][0]["html"]) for violations in looked for one in violations]
    assert found == []


def test_nothing_scrolls_sideways_on_a_phone(visit):
    page = visit(390)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    choose(page)
    page.get_by_text("Drawers as measured").first.click()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_the_way_from_choosing_to_a_plan_goes_by_keyboard(visit):
    page = visit()
    reached = []
    for _ in range(12):
        page.keyboard.press("Tab")
        reached.append(page.evaluate("document.activeElement.id || document.activeElement.textContent.trim()"))
    assert [one for one in reached if one in ("plan-set", "cabinet", "plan-fill", "Plan")] == [
        "plan-set",
        "cabinet",
        "plan-fill",
        "Plan",
    ]
    page.get_by_role("button", name="Plan", exact=True).press("Enter")
    page.wait_for_selector("[data-verdict]", timeout=60_000)
