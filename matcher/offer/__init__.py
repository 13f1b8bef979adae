"""Which bundles to offer and which few new organizer sizes to make for them."""

from matcher.offer.bundles import Bundle, bundles_of, plans_of
from matcher.offer.deciding import Limits, Offer, limits_of, offer

__all__ = ["Bundle", "Limits", "Offer", "bundles_of", "limits_of", "offer", "plans_of"]
