"""What a drawer is in a plan, and the words for it in every picture."""

from __future__ import annotations

from collections.abc import Sequence

from matcher.cautions import estimated_to_cut
from matcher.planning import Fits, Outcome, PartialPlan, part_of, taken_by
from matcher.records import Drawer, Placement, counted, listed

STATES = {
    "used": "organizer, in the color of its family",
    "cased": "cased equipment, no foam",
    "free": "free",
    "bare": "free, for things in their own cases",
    "blocked": "blocked",
    "earlier": "holds an earlier plan",
    "idle": "free in the part shown",
    "idle-bare": "free in the part shown; for things in their own cases",
    "open": "no plan",
    "open-bare": "no plan; for things in their own cases",
}
"""What a drawer is in a plan, and the words for it."""
NO_ROOM = "no room left beside the rest"
"""Of what goes in by itself, but not beside the rest of the best part that was found."""
BRIEF = {
    "open": "",
    "bare": "free, for cases",
    "earlier": "earlier plan",
    "idle": "free",
    "idle-bare": "takes no foam: cases only",
    "open-bare": "for cases",
}
"""Shorter words for a state, where the page says the rest."""


def state_of(drawer: Drawer, held: Sequence[Placement], outcome: Outcome) -> str:
    """What a drawer is in the outcome's plan: one of `STATES`."""
    if drawer.slot == "blocked":
        return "earlier" if drawer.name in taken_by(outcome.question.wishes.add_to) else "blocked"
    if held:
        return "cased" if all(placement.how == "cased" for placement in held) else "used"
    if not isinstance(outcome, Fits):
        bare = "" if drawer.slot == "foam" else "-bare"
        return f"idle{bare}" if part_of(outcome) else f"open{bare}"
    return "free" if drawer.slot == "foam" else "bare"


def brief_of(state: str) -> str:
    """The words for a state inside the drawer's picture."""
    return BRIEF.get(state, STATES[state])


def verdict_sentence(outcome: Outcome) -> str:
    """The verdict, and how many drawers that may hold something stay free; without a plan, how much stays outside."""
    if not isinstance(outcome, Fits):
        part = part_of(outcome)
        return f"{outcome.verdict.capitalize()}.{f' {outside_sentence(part)}' if part else ''}"
    usable = sum(drawer.slot != "blocked" for drawer in outcome.question.cabinet.drawers)
    free = len(outcome.plan.free_drawers)
    told = f"{free} of {counted(usable, 'drawer')} {'stays' if free == 1 else 'stay'} free"
    return f"{_fits(outcome)}. {told if free else 'No drawer stays free'}{taken_words(outcome)}."


def taken_words(outcome: Outcome) -> str:
    """How many more drawers hold earlier plans; blank where none does."""
    taken = len(taken_by(outcome.question.wishes.add_to))
    return f"; {taken} more {'holds' if taken == 1 else 'hold'} an earlier plan" if taken else ""


def _fits(outcome: Fits) -> str:
    """On what it rests that the set fits: guessed sizes of drawers, and where half of what foam is cut for, or more,
    has estimated sizes, these."""
    estimated, every = estimated_to_cut(outcome.plan)
    rests = [f"guessed sizes of {listed(names)}"] if (names := guessed_drawers(outcome)) else []
    if estimated and 2 * estimated >= every:
        rests.append(counted(estimated, "estimated size"))
    alone = rests == ["1 estimated size"]
    return f"Fits, if {listed(rests)} {'holds' if alone else 'hold'}" if rests else "Fits"


def guessed_drawers(outcome: Fits) -> list[str]:
    """Drawers that hold something and of which a size is a guess."""
    used = {placed.drawer for placed in outcome.plan.placements}
    return [drawer.name for drawer in outcome.question.cabinet.drawers if drawer.guessed and drawer.name in used]


def outside_sentence(part: PartialPlan) -> str:
    """How many tools of the set the best part found leaves outside."""
    out = sum(one.tools for one in part.outside)
    every = out + sum(max(1, group.tools) for group in part.answer.question.groups)
    return f"{out} of {counted(every, 'tool')} {'stays' if out == 1 else 'stay'} outside."


def part_sentence(part: PartialPlan) -> str:
    """What the picture of a refusal shows, and how sure it is that no more goes in."""
    if part.proved:
        return "The drawers show the rest of the set. Proved: by these house rules no more of it goes in."
    return "The drawers show the best part that was found. It is not proved that no more goes in."
