"""Which bundles and which few foam sizes to offer: exact for the plans at hand, then plans that share more sizes.

Reading order, from what is called first to what it stands on: `whole`, `deciding`, `decisions`, `choosing`,
`figures`, `seconds`, `bundles`, `curve`, `sizes`, `medians`, `model`, `needs`.
"""

from matcher.offer.bundles import drawers_of
from matcher.offer.choosing import SizeUse
from matcher.offer.deciding import Made, Offer, Stocked, Weighed
from matcher.offer.decisions import Decision, limits_of
from matcher.offer.figures import Totals, Widest
from matcher.offer.model import Choice
from matcher.offer.needs import Need
from matcher.offer.sizes import OrganizerSize
from matcher.offer.whole import plan_offer

__all__ = [
    "Choice",
    "Decision",
    "Made",
    "Need",
    "Offer",
    "OrganizerSize",
    "SizeUse",
    "Stocked",
    "Totals",
    "Weighed",
    "Widest",
    "drawers_of",
    "limits_of",
    "plan_offer",
]
