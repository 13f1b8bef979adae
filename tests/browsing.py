"""Chromium for the tests of pages and of the desk; without it they skip and say why."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe-playwright-python is not installed")

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
needs_chromium = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine (apt-get install chromium)")


@contextmanager
def chromium() -> Iterator:
    """A browser without a window."""
    with playwright.sync_playwright() as driver:
        opened = driver.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield opened
        opened.close()


@contextmanager
def watched(browser, allowed: Callable[[str], object]) -> Iterator[Callable]:
    """What opens an address; afterwards, nothing may have been logged and nothing but what is allowed asked for."""
    told, asked, contexts = [], [], []

    def opened(address, width=1280, **more):
        context = browser.new_context(viewport={"width": width, "height": 900}, **more)
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda message: told.append(f"{message.type}: {message.text}"))
        page.on("pageerror", lambda error: told.append(str(error)))
        page.on("request", lambda request: asked.append(request.url))
        page.goto(address)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert told == []
    assert [url for url in asked if not allowed(url)] == []
