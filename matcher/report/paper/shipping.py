"""What goes with the cartons of one bundle: packing list and labels, for whoever packs it."""

from __future__ import annotations

from matcher.cutting import PackingList
from matcher.planning import Fits, Outcome
from matcher.records import NothingToShowError
from matcher.report.families import family_colors
from matcher.report.paper.labels import label_pages
from matcher.report.paper.packing_list import packing_pages
from matcher.report.paper.sheets import Paper, Sheets


def shipping_pdf(outcome: Outcome, packing: PackingList | None, paper: Paper) -> bytes:
    """Cartons with their organizers, tools, then a label to cut out for every organizer.

    Raises
    ------
    NothingToShowError
        There is no plan.
    """
    if not isinstance(outcome, Fits) or packing is None:
        raise NothingToShowError("no packing list, there is no plan")
    sheets = Sheets(paper, f"{outcome.set} in {outcome.cabinet}: packing list")
    packing_pages(sheets, outcome, packing)
    label_pages(sheets, outcome.plan, outcome.question.cabinet, family_colors(outcome.question))
    return sheets.output()
