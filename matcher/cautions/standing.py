"""What is said on every plan."""

from __future__ import annotations

from matcher.records import Caution

# Sources: the first, the last two: common practice, no source. The rest: a trade body's safety topic on hand tools
# (one drawer, lock wheels, close before moving, push), and users' reports of cabinets that fell on sloping floors.
TEXTS = (
    "The cabinet maker's ratings and manuals come first; where they ask for more care than this plan, follow them.",
    "Open one drawer at a time; close and lock all drawers before moving the cabinet, and push it rather than pull.",
    "Lock the casters before opening drawers; turn swivel casters at the front forward, not tucked under.",
    "Stand the cabinet on a level floor; if the floor falls, let the drawers face uphill; anchor it where possible.",
    "Measure the drawers themselves before ordering or cutting; nominal sizes are the first cause of returns.",
    "These cautions are computed from the catalogue, not tested, and no conformity to any standard is claimed.",
)


def standing_cautions() -> tuple[Caution, ...]:
    """The same on every plan."""
    return tuple(Caution("GENERAL", "info", text) for text in TEXTS)
