"""Outcomes as DataFrames, for notebooks and spreadsheets."""

from __future__ import annotations

from collections.abc import Iterable

import pandas as pd

from matcher.offer import Offer
from matcher.planning import Outcome
from matcher.report.document import Document, comparison_document, plain_rows, plan_document
from matcher.report.files import in_one_cell
from matcher.report.offer_documents import bundle_rows, offer_document
from matcher.report.variant_views import steps_document
from matcher.studies import Comparison, Step


def comparison_table(comparison: Comparison) -> pd.DataFrame:
    """One row per cabinet in ranked order: verdict, free drawers, counts by how, a reason, cautions."""
    rows = [
        {
            **{name: value for name, value in row.items() if not isinstance(value, list)},
            "reason": row["reasons"][0]["text"] if row["reasons"] else "",
            "cautions": in_one_cell(row["cautions"]),
        }
        for row in plain_rows(comparison_document(comparison))
        if row["verdict"]
    ]
    return pd.DataFrame(rows).astype(dict.fromkeys(("free_drawers", "most_free", "fewest_free"), "Int64"))


def caution_table(outcome: Outcome) -> pd.DataFrame:
    """One row per error, warning and note of a plan: its code, level and sentence; none without a plan."""
    return pd.DataFrame(plan_document(outcome)["cautions"], columns=["code", "level", "text"])


def plan_table(outcome: Outcome) -> pd.DataFrame:
    """One row per placement: group, drawer, how, sizes in millimeters."""
    return pd.DataFrame(plan_document(outcome)["placements"])


def bundle_table(offer: Offer) -> pd.DataFrame:
    """One row per pair of the demand table: what becomes of it and why, money a year, sizes used and lacking."""
    return _joined(bundle_rows(offer_document(offer)))


def size_table(offer: Offer) -> pd.DataFrame:
    """One row per new size: group, sizes in millimeters and where they come from, where it goes, what it opens up."""
    rows = [
        {**size, "serves": [f"{one['set']} in {one['cabinet']}: {one['how']}" for one in size["serves"]]}
        for size in offer_document(offer)["sizes"]
    ]
    return _joined(rows)


def trade_off_table(offer: Offer) -> pd.DataFrame:
    """One row per limit of new sizes: the most promises kept, and the most gain with them."""
    return pd.DataFrame(offer_document(offer)["curve"])


def step_table(steps: Iterable[Step]) -> pd.DataFrame:
    """One row per organizer and step from a variant to the next: its drawers, and what it takes to carry it over."""
    return pd.DataFrame(
        {"before": step["before"], "after": step["after"], **organizer}
        for step in steps_document(steps)
        for organizer in step["organizers"]
    )


def _joined(rows: Iterable[Document]) -> pd.DataFrame:
    """Rows with lists of names as one text each."""
    return pd.DataFrame(
        {name: ", ".join(value) if isinstance(value, list) else value for name, value in row.items()} for row in rows
    )
