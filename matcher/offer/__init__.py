"""Which bundles and which few foam sizes to offer: exact for the plans at hand, then plans that share more sizes.

Reading order, from what is called first to what it stands on: `whole`, `deciding`, `decisions`, `tracing`,
`choosing`, `figures`, `seconds`, `bundles`, `curve`, `serving`, `sizings`, `sizes`, `medians`, `model`, `needs`.
"""

from matcher.offer.bundles import bundle_named, drawers_of
from matcher.offer.choosing import SizeUse
from matcher.offer.deciding import Made, Missed, Offer, Stocked, Weighed
from matcher.offer.decisions import Decision, limits_of
from matcher.offer.figures import Totals, Widest
from matcher.offer.model import Choice
from matcher.offer.needs import Need
from matcher.offer.sizes import OrganizerSize
from matcher.offer.tracing import BundleTrace, TracedOrganizer
from matcher.offer.whole import plan_offer

__all__ = [
    "BundleTrace",
    "Choice",
    "Decision",
    "Made",
    "Missed",
    "Need",
    "Offer",
    "OrganizerSize",
    "SizeUse",
    "Stocked",
    "Totals",
    "TracedOrganizer",
    "Weighed",
    "Widest",
    "bundle_named",
    "drawers_of",
    "limits_of",
    "plan_offer",
]
