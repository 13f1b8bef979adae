"""Drawings are made larger by wheel and by two fingers, moved by dragging, and shown whole again, in a real browser."""

import pytest

from tests import page_cases
from tests.browsing import chromium, needs_chromium, watched

pytestmark = [needs_chromium, pytest.mark.slow]
POSTER = "svg.poster.wide"


@pytest.fixture(scope="module")
def browser():
    with chromium() as opened:
        yield opened


@pytest.fixture
def page(browser, tmp_path):
    """The page of a plan, which asks for nothing but itself."""
    file = tmp_path / "plan.html"
    file.write_text(page_cases.pages()["plan"], encoding="utf-8")
    with watched(browser, lambda url: url.startswith(file.as_uri())) as opened:
        yield opened(file.as_uri())


def shown(page, of=POSTER):
    """What of a drawing is shown: left, top, width, height in its own units."""
    return [float(number) for number in page.get_attribute(of, "viewBox").split()]


def middle(page, of):
    box = page.locator(of).bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def middle_of_a_shown(page, of):
    """The middle of that part of a drawing's first fitting element that lies inside the drawing."""
    whole = page.locator(POSTER).bounding_box()
    for box in (each.bounding_box() for each in page.locator(of).all()):
        left, right = max(box["x"], whole["x"]), min(box["x"] + box["width"], whole["x"] + whole["width"])
        top, bottom = max(box["y"], whole["y"]), min(box["y"] + box["height"], whole["y"] + whole["height"])
        if right - left > 20 and bottom - top > 20:
            return (left + right) / 2, (top + bottom) / 2
    raise AssertionError(f"no {of} is shown")


def at_rest(page):
    page.wait_for_timeout(450)


def test_the_wheel_makes_what_is_under_the_pointer_larger_and_smaller_again(page):
    whole, rect = shown(page), f"{POSTER} a.above.used rect.box >> nth=0"
    x, y = middle(page, rect)
    page.mouse.move(x, y)
    at_rest(page)
    page.mouse.wheel(0, -300)
    _, _, width, height = shown(page)
    assert width < whole[2]
    assert width / height == pytest.approx(whole[2] / whole[3])
    assert middle(page, rect) == pytest.approx((x, y), abs=page.locator(rect).bounding_box()["width"] / 4)
    for _ in range(6):
        page.mouse.wheel(0, 300)
    assert shown(page) == pytest.approx(whole)


def test_the_wheel_never_goes_nearer_than_a_twelfth(page):
    whole, drawer = shown(page), f"{POSTER} a.above rect.box"
    page.mouse.move(*middle_of_a_shown(page, drawer))
    at_rest(page)
    for _ in range(30):
        page.mouse.wheel(0, -400)
    assert shown(page)[2] == pytest.approx(whole[2] / 12)
    assert page.evaluate(f"document.querySelector('{POSTER}').classList.contains('near')")
    at_rest(page)
    page.mouse.dblclick(*middle_of_a_shown(page, drawer))
    assert shown(page) == whole
    at_rest(page)
    assert "#" not in page.url, "the first of two clicks opens no drawer"


def test_a_click_on_a_larger_drawing_opens_its_drawer(page):
    drawer = f"{POSTER} a.above rect.box"
    page.mouse.move(*middle_of_a_shown(page, drawer))
    at_rest(page)
    page.mouse.wheel(0, -300)
    page.mouse.click(*middle_of_a_shown(page, drawer))
    page.wait_for_selector(".look.zoomed")
    assert "#drawer-" in page.url


def test_scrolling_down_over_a_whole_drawing_scrolls_the_page(page):
    whole = shown(page)
    page.mouse.move(*middle(page, POSTER))
    at_rest(page)
    page.mouse.wheel(0, 200)
    page.wait_for_timeout(300)
    assert page.evaluate("scrollY") > 0
    assert shown(page) == whole
    page.mouse.wheel(0, -100)
    assert shown(page) == whole, "the wheel goes on scrolling"


def test_dragging_moves_a_larger_drawing_and_opens_no_drawer(page):
    x, y = middle(page, POSTER)
    page.mouse.move(x, y)
    at_rest(page)
    page.mouse.wheel(0, -600)
    before = shown(page)
    page.mouse.down()
    page.mouse.move(x - 60, y - 30, steps=5)
    page.mouse.up()
    after = shown(page)
    assert after[0] > before[0]
    assert after[2:] == pytest.approx(before[2:])
    assert page.locator(".look.zoomed").count() == 0
    assert "#" not in page.url


def test_two_fingers_make_a_drawing_larger(page):
    whole, (x, y) = shown(page), middle(page, POSTER)
    send = """([selector, kind, id, x, y]) => document.querySelector(selector).dispatchEvent(new PointerEvent(kind,
        {pointerId: id, pointerType: "touch", clientX: x, clientY: y, bubbles: true}))"""
    for words in (
        ("pointerdown", 1, x - 20, y),
        ("pointerdown", 2, x + 20, y),
        ("pointermove", 1, x - 60, y),
        ("pointermove", 2, x + 60, y),
        ("pointerup", 1, x - 60, y),
        ("pointerup", 2, x + 60, y),
    ):
        page.evaluate(send, [POSTER, *words])
    assert shown(page)[2] == pytest.approx(whole[2] / 3, rel=0.05)


def test_the_drawing_of_one_drawer_is_made_larger_too(page):
    page.click(f"{POSTER} a.above.used >> nth=0")
    inside = "article.chosen svg.inside[role=img]"
    whole = shown(page, inside)
    page.mouse.move(*middle(page, inside))
    at_rest(page)
    page.mouse.wheel(0, -300)
    assert shown(page, inside)[2] < whole[2]
