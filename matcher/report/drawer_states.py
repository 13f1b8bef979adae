"""What a drawer is in a plan, and the words for it in every picture."""

from __future__ import annotations

from collections.abc import Sequence

from matcher.planning import Fits, Outcome
from matcher.records import Drawer, Placement, counted

STATES = {
    "used": "organizer, in the color of its family",
    "cased": "cased equipment, no foam",
    "free": "free",
    "bare": "free, takes no foam",
    "blocked": "blocked",
    "open": "no plan",
    "open-bare": "no plan; takes no foam",
}
"""What a drawer is in a plan, and the words for it."""
BRIEF = {"open": "", "open-bare": "takes no foam"}
"""Shorter words for a state, where the page says the rest."""


def state_of(drawer: Drawer, held: Sequence[Placement], outcome: Outcome) -> str:
    """What a drawer is in the outcome's plan: one of `STATES`."""
    if drawer.slot == "blocked":
        return "blocked"
    if not isinstance(outcome, Fits):
        return "open" if drawer.slot == "foam" else "open-bare"
    if held:
        return "cased" if all(placement.how == "cased" for placement in held) else "used"
    return "free" if drawer.slot == "foam" else "bare"


def brief_of(state: str) -> str:
    """The words for a state inside the drawer's picture."""
    return BRIEF.get(state, STATES[state])


def verdict_sentence(outcome: Outcome) -> str:
    """The verdict, and where there is a plan how many of the drawers that may hold something stay free."""
    if not isinstance(outcome, Fits):
        return f"{outcome.verdict.capitalize()}."
    usable = sum(drawer.slot != "blocked" for drawer in outcome.question.cabinet.drawers)
    free = len(outcome.plan.free_drawers)
    told = f"{free} of {counted(usable, 'drawer')} {'stays' if free == 1 else 'stay'} free"
    return f"Fits. {told if free else 'No drawer stays free'}."
