"""The page of an offer: its trade-off curve as a picture, a grid of sizes by bundles, bundles, what it rests on."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from matcher.offer import Offer
from matcher.report.document import Document
from matcher.report.offer_documents import offer_document
from matcher.report.pages.rendering import render
from matcher.report.pages.trade_off import curve_of, equal_rows

NARROW = 350.0, 400.0
"""Width and height of the curve on a narrow screen, in CSS pixels."""
OFFERED = ("keep", "add")


def offer_page(offer: Offer) -> str:
    """The whole offer as a self-contained page."""
    return render("offer.html", **offer_shown(offer))


def offer_shown(offer: Offer) -> Document:
    """What ``offer.html`` shows, by the names it goes by there."""
    document = offer_document(offer)
    return {
        "offer": document,
        "curves": {"wide": curve_of(document), "narrow": curve_of(document, *NARROW)},
        "steps": equal_rows(document["curve"]),
        "grid": _grid(document),
        "widest": _alike(document["widest"]),
    }


def _grid(document: Document) -> Document:
    """Sizes by bundles, which are columns under their sets: where and how each size goes into every bundle."""
    bundles = [(row["set"], row["cabinet"]) for row in document["bundles"] if row["action"] in OFFERED]
    bundles = sorted(dict.fromkeys(bundles))
    sizes = [(row["name"], row) for row in document["sizes"]]
    sizes += [(row["part"] or "no part number", row) for row in document["existing"]]
    return {
        "sets": [(name, [cabinet for _, cabinet in held]) for name, held in groupby(bundles, key=lambda one: one[0])],
        "rows": [{"name": name, "size": row, "cells": _cells(row["serves"], bundles)} for name, row in sizes],
    }


def _cells(serves: Sequence[Document], bundles: Sequence[tuple[str, str]]) -> list[list[Document]]:
    """What a size does in each bundle, with all drawers in which it does so."""
    return [[use for use in serves if (use["set"], use["cabinet"]) == bundle] for bundle in bundles]


def _alike(widest: Sequence[Document]) -> list[Document]:
    """Groups whose one size serves the same variants in the same way, told once: the variants, and their groups."""

    def served(row: Document) -> tuple[tuple[str, ...], ...]:
        return tuple(tuple(row[name]) for name in ("of", "variants", "with_shim"))

    ordered = sorted(widest, key=lambda row: (len(row["variants"]) == len(row["of"]), served(row)))
    return [{"served": alike[0], "groups": alike} for _, rows in groupby(ordered, key=served) if (alike := list(rows))]
