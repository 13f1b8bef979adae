"""Goal `reach`: what a group loses in a drawer whose height is not the best for the hand.

What is used often, and what is lifted whole, belongs between knuckle and elbow. Cost = use x (1 - score), score by
the house's bands of hand height; without use data the rank of the group's tier takes the place of its use.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from matcher.house import House
from matcher.records import Drawer, Group

PER_USE = 1000
"""Costs are whole thousandths of a time a week."""


def counted_uses(groups: Sequence[Group], house: House) -> tuple[Decimal, ...]:
    """How often each group counts as used, in times a week.

    Where no group has a use, each counts as many as there are tiers from its own to the last. A group with a single
    piece that is a lift counts as much as the one used most.
    """
    tiers = sorted({group.tier for group in groups}, reverse=True)
    known = any(group.use is not None for group in groups)
    uses = [Decimal(str(group.use or 0)) if known else Decimal(1 + tiers.index(group.tier)) for group in groups]
    most = max(uses, default=Decimal(0))
    return tuple(most if has_lift(group, house) else use for group, use in zip(groups, uses, strict=True))


def has_lift(group: Group, house: House) -> bool:
    """Whether a single piece of the group may weigh as much as a lift."""
    return any(piece.mass_high >= house.lift.mass for piece in group.pieces)


def hand_height(drawer: Drawer, organizer_height: int) -> int | None:
    """Where the hands are, above the ground: at the top of the organizer; ``None`` if the drawer's floor is unknown."""
    return None if drawer.above_ground is None else drawer.above_ground + drawer.liner + organizer_height


def reach_cost(use: Decimal, hand: int | None, house: House) -> int:
    """Cost of a group used so often at a hand height; an unknown height is not held against a drawer."""
    return 0 if hand is None else round(PER_USE * use * (1 - house.height.score(hand)))
