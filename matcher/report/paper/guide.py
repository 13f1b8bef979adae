"""The printed guide of one bundle: poster, tick list, organizers, packing list, labels."""

from __future__ import annotations

from matcher.cutting import PackingList
from matcher.planning import Fits, Outcome
from matcher.records import NothingToShowError
from matcher.report.families import family_colors
from matcher.report.paper.front_page import front_page
from matcher.report.paper.labels import label_pages
from matcher.report.paper.organizers import organizer_pages
from matcher.report.paper.packing_list import packing_pages
from matcher.report.paper.sheets import Paper, Sheets
from matcher.report.paper.tick_list import tick_pages


def guide_pdf(outcome: Outcome, packing: PackingList | None, paper: Paper) -> bytes:
    """All pages in the order in which they are needed: looking, loading, shipping, marking.

    Raises
    ------
    NothingToShowError
        There is no plan.
    """
    if not isinstance(outcome, Fits) or packing is None:
        raise NothingToShowError("no guide, there is no plan")
    cabinet, colors = outcome.question.cabinet, family_colors(outcome.question)
    sheets = Sheets(paper, f"{outcome.set} in {outcome.cabinet}")
    front_page(sheets, outcome)
    tick_pages(sheets, outcome)
    organizer_pages(sheets, outcome.plan, cabinet, colors)
    packing_pages(sheets, outcome, packing)
    label_pages(sheets, outcome.plan, cabinet, colors)
    return sheets.output()
