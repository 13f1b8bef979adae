"""The page of one plan: the planner's own document, also in print; the buyer's is the guide (`paper`)."""

from __future__ import annotations

from typing import Any

from matcher.planning import Outcome, wish_words
from matcher.report.caution_views import cautions_of, strip_words
from matcher.report.document import plan_document
from matcher.report.drawer_states import verdict_sentence
from matcher.report.pages.drawers import drawer_views
from matcher.report.pages.front_view import front_view
from matcher.report.pages.poster_view import phone_poster, screen_posters
from matcher.report.pages.rendering import render
from matcher.report.poster_key import poster_entries

PARTS = {
    "pocket": "tool in its pocket",
    "notch": "finger notch",
    "half": "",
    "hatch": "existing organizer, positions not on file",
    "room": "cased, no foam",
    "taken": "built into the drawer",
    "drawer": "drawer; white in it: room that the foam leaves",
}
"""What is drawn in a drawer seen from above, and the words for it; those for ``half`` are the house's."""
HALF = {"inch": "inch left of it, mm right", "metric": "mm left of it, inch right"}
"""Words for the line between the systems, by the system that the house has on the left."""


def plan_page(outcome: Outcome) -> str:
    """One set in one cabinet as a self-contained page: the poster of front and drawers, each drawer, goals, margins and
    the run record.

    A refusal shows its reasons, the nearest change and the empty cabinet.
    """
    return render("plan.html", **plan_shown(outcome))


def plan_shown(outcome: Outcome) -> dict[str, Any]:
    """What ``plan.html`` shows, by the names it goes by there."""
    drawers, view = drawer_views(outcome), front_view(outcome)
    poster, under = screen_posters(outcome, view)
    narrow = phone_poster(outcome)
    return {
        "plan": plan_document(outcome),
        "inch": outcome.question.unit.name == "in",
        "cabinet": outcome.question.cabinet,
        "verdict": verdict_sentence(outcome),
        "view": view,
        "poster": poster,
        "under": under,
        "key": tuple(poster_entries(outcome, narrow)),
        "strip": tuple(strip_words(cautions_of(outcome))),
        "narrow": narrow,
        "drawers": drawers,
        "used": tuple(drawer for drawer in drawers if drawer.contents),
        "empty": tuple(drawer for drawer in drawers if not drawer.contents),
        "parts_shown": {
            drawer.name: [kind for kind in PARTS if f'class="{kind}"' in drawer.picture] for drawer in drawers
        },
        "part_words": {**PARTS, "half": HALF[outcome.question.house.layout.sides.left]},
        "asked": wish_words(outcome.run.wishes),
    }
