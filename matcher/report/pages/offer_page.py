"""The page of an offer: the trade-off curve, bundles, sizes and what each opens up, and what it rests on."""

from __future__ import annotations

from matcher.offer import Offer
from matcher.report.offer_documents import offer_document
from matcher.report.pages.curve import curve_of
from matcher.report.pages.rendering import render


def offer_page(offer: Offer) -> str:
    """The whole offer as a self-contained page."""
    document = offer_document(offer)
    return render("offer.html", offer=document, curve=curve_of(document["curve"], document["new_sizes"]))
