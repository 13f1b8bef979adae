"""The page of one plan, which prints as the guide that goes to the buyer."""

from __future__ import annotations

from typing import Any

from matcher.planning import Outcome, wish_words
from matcher.report.document import plan_document
from matcher.report.pages.drawers import drawer_views
from matcher.report.pages.front_view import STATES, front_view
from matcher.report.pages.rendering import render


def plan_page(outcome: Outcome) -> str:
    """One set in one cabinet as a self-contained page: front view, drawers, goals, margins, cautions, run record.

    A refusal shows its reasons, the nearest change and the empty cabinet.
    """
    return render("plan.html", **plan_shown(outcome))


def plan_shown(outcome: Outcome) -> dict[str, Any]:
    """What ``plan.html`` shows, by the names it goes by there."""
    drawers = drawer_views(outcome)
    return {
        "plan": plan_document(outcome),
        "cabinet": outcome.question.cabinet,
        "view": front_view(outcome),
        "drawers": drawers,
        "used": tuple(drawer for drawer in drawers if drawer.contents),
        "empty": tuple(drawer for drawer in drawers if not drawer.contents),
        "states": STATES,
        "asked": wish_words(outcome.run.wishes),
    }
