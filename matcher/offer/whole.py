"""The whole way from a catalogue to an offer."""

from __future__ import annotations

from matcher.house import House
from matcher.offer.bundles import plans_of
from matcher.offer.deciding import Offer, offer
from matcher.offer.decisions import Limits
from matcher.offer.seconds import seconds_of
from matcher.records import Catalogue, Fill
from matcher.screening import ALONE, Hands, ToldName


def plan_offer(
    catalogue: Catalogue,
    house: House,
    limits: Limits | None = None,
    fill: Fill | None = None,
    told: ToldName | None = None,
    hands: Hands = ALONE,
) -> Offer:
    """Plan every pair of the demand table, look for second plans that share more sizes, and choose.

    ``limits`` are the house's unless given; ``hands`` do the planning, which takes nearly all of the time.

    Raises
    ------
    UsageError
        The catalogue has no demand table.
    """
    plans = plans_of(catalogue, house, fill, told, hands)
    return offer(catalogue, house, plans, limits, seconds_of(catalogue, house, plans, fill, told, hands))
