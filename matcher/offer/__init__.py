"""Which bundles to offer and which few new organizer sizes to make for them."""

from matcher.offer.bundles import Bundle, bundles_of, plans_of
from matcher.offer.deciding import Offer, offer
from matcher.offer.decisions import Decision, Limits, limits_of
from matcher.offer.seconds import seconds_of
from matcher.offer.whole import plan_offer

__all__ = [
    "Bundle",
    "Decision",
    "Limits",
    "Offer",
    "bundles_of",
    "limits_of",
    "offer",
    "plan_offer",
    "plans_of",
    "seconds_of",
]
