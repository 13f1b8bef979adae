"""The buyer's guide of one bundle: poster, cautions and index, then every drawer with boxes to tick."""

from __future__ import annotations

from matcher.planning import Fits, Outcome
from matcher.records import NothingToShowError
from matcher.report.paper.drawer_pages import drawer_pages
from matcher.report.paper.first_reading import first_reading
from matcher.report.paper.front_page import front_page
from matcher.report.paper.sheets import Paper, Sheets


def guide_pdf(outcome: Outcome, paper: Paper) -> bytes:
    """All pages in the order in which the person at the cabinet needs them: looking, reading, loading.

    Raises
    ------
    NothingToShowError
        There is no plan.
    """
    if not isinstance(outcome, Fits):
        raise NothingToShowError("no guide, there is no plan")
    title = f"{outcome.set} in {outcome.cabinet}"
    tried = Sheets(paper, title)
    first_reading(tried, outcome, {})
    reading = tried.number
    pages = drawer_pages(Sheets(paper, title), outcome)
    sheets = Sheets(paper, title, numbered=True)
    front_page(sheets, outcome)
    first_reading(sheets, outcome, {drawer: 1 + reading + page for drawer, page in pages.items()})
    drawer_pages(sheets, outcome)
    return sheets.output()
