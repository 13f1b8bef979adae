"""What the person at the cabinet has to know: cautions of the plan that concern loading and use, and standing ones.

What a planner decides from stays out: on what sizes rest, data that are missing, how foam fits its drawer.
"""

from __future__ import annotations

from collections.abc import Iterator

from matcher.cautions import IF_LOADED, FreeLoad, free_load_words, free_loads_of
from matcher.planning import Fits
from matcher.records import Level, listed

FOR_PLANNERS = ("basis", "DATA", "GENERAL", "loose", "wide-gap", "unordered")
"""Codes of cautions that are settled before a bundle leaves the planner; any other is told."""
FREE_LOADED = ("TIP-1", "TIP-2")
"""Codes of cautions about free drawers at their full rating: what these may hold is told in kilograms instead."""
STANDING = (
    "Read the cabinet maker's manual and load ratings first. Where they, local codes or the rules of your workplace "
    "ask for more care than this guide, follow them.",
    "Stand the cabinet on a level floor, lock its casters before a drawer is opened, and turn swivel casters at the "
    "front forward. Anchor it where the maker's manual says how.",
    "Open one drawer at a time. Close and lock all drawers before the cabinet is moved, and push it rather than pull.",
    "Lay each organizer into its drawer with its front edge toward you, as drawn: the front is at the bottom of every "
    "picture from above. A white bar that runs under tools is a recess for your fingers.",
    "What is said here on weight and tipping is computed, not tested, and no conformity to any standard is claimed.",
)
# Sources: the first, the fourth and the last: common practice, no source. The others as in `cautions.standing`.


def told_at(outcome: Fits, level: Level) -> tuple[str, ...]:
    """The plan's cautions of that level which concern the person at the cabinet.

    Those that only say how free drawers must not be loaded are left out where `free_told` says how they may be.
    """
    known = free_load_words(_free(outcome), outcome.question.unit)
    return tuple(
        one.text
        for one in outcome.cautions
        if one.level == level
        and one.code not in FOR_PLANNERS
        and not (known and one.code in FREE_LOADED and one.text.startswith(IF_LOADED))
    )


def free_told(outcome: Fits) -> tuple[str, ...]:
    """How much each free drawer may hold, in whole kilograms or pounds; that it is not known where it is not."""
    loads = _free(outcome)
    told = free_load_words(loads, outcome.question.unit)
    unknown = [one.drawer for one in loads if one.most is None]
    where = f"{'drawer' if len(unknown) == 1 else 'drawers'} {listed(unknown)}"
    return (*told, f"in {where} what the maker's manual allows") if unknown else told


def first_words(outcome: Fits) -> tuple[str, ...]:
    """What nobody may miss: before a drawer is opened, and how free drawers may be loaded."""
    cabinet = outcome.question.cabinet
    casters = cabinet.caster_load is not None or bool(cabinet.caster_trail)
    lock = "lock the casters" if casters else "lock its casters, if it has any"
    first = f"Before you open a drawer, {lock}. Open one drawer at a time, or the cabinet can tip over."
    free = free_told(outcome)
    if not free:
        return (f"{first} Keep heavy things low.",)
    tail = "Never more than the maker's rating and manual allow, and heavy things low."
    return first, f"Free for your own tools: {listed(free)}. {tail}"


def _free(outcome: Fits) -> tuple[FreeLoad, ...]:
    return free_loads_of(outcome.question.cabinet, outcome.plan, outcome.question.house)


def always_told(outcome: Fits) -> Iterator[str]:
    """What holds for every bundle, and which single pieces are heavy."""
    yield from STANDING
    heavy = tuple(_heavy(outcome))
    if heavy:
        yield f"Heavy, to be lifted with both hands and close to the body: {'; '.join(heavy)}."


def _heavy(outcome: Fits) -> Iterator[str]:
    """Single pieces that count as a lift, with the drawer and what each may weigh at most."""
    groups = {group.name: group for group in outcome.plan.groups}
    least, unit = outcome.question.house.lift.mass, outcome.question.unit
    for placement in outcome.plan.placements:
        for sized in groups[placement.group].pieces:
            if sized.mass_high >= least:
                yield f"{sized.piece.tool} in drawer {placement.drawer} (up to {unit.in_mass(sized.mass_high)})"
