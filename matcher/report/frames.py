"""Outcomes as DataFrames, for notebooks and spreadsheets."""

from __future__ import annotations

import pandas as pd

from matcher.comparison import Comparison
from matcher.records import Outcome
from matcher.report.document import comparison_document, plan_document


def comparison_table(comparison: Comparison) -> pd.DataFrame:
    """One row per cabinet in ranked order: verdict, free drawers, counts by how, the first reason's text."""
    rows = [
        {
            **{name: value for name, value in row.items() if not isinstance(value, list)},
            "reason": row["reasons"][0]["text"] if row["reasons"] else "",
        }
        for row in comparison_document(comparison)["variants"]
    ]
    return pd.DataFrame(rows).astype(dict.fromkeys(("free_drawers", "most_free", "fewest_free"), "Int64"))


def plan_table(outcome: Outcome) -> pd.DataFrame:
    """One row per placement: group, drawer, how, sizes in millimeters."""
    return pd.DataFrame(plan_document(outcome)["placements"])
