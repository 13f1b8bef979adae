"""The page of one or many comparisons: small front views, a table to sort and filter, what changes, a matrix."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from matcher.comparison import Comparison
from matcher.records import Cabinet
from matcher.report.document import Document, comparison_document
from matcher.report.pages.front_view import STATES, FrontView, front_view
from matcher.report.pages.rendering import render
from matcher.report.variant_views import steps_document
from matcher.variants import Step


def comparison_page(
    comparisons: Sequence[Comparison], steps: Sequence[Sequence[Step]], cabinets: Mapping[str, Cabinet]
) -> str:
    """Every comparison with the steps between its neighbors; ``cabinets`` by name. A matrix if there are several."""
    shown = [_shown(one, step, cabinets) for one, step in zip(comparisons, steps, strict=True)]
    columns = sorted({row["cabinet"] for one in shown for row in one["variants"]})
    return render(
        "compare.html",
        comparisons=shown,
        matrix=[_matrix_row(one, columns) for one in shown],
        columns=columns,
        states=STATES,
    )


def _shown(comparison: Comparison, steps: Sequence[Step], cabinets: Mapping[str, Cabinet]) -> Document:
    views: list[FrontView] = [
        front_view(variant.outcome, cabinets[variant.outcome.cabinet]) for variant in comparison.variants
    ]
    proved = [all(goal.proved for goal in variant.outcome.goals) for variant in comparison.variants]
    ends = [variant.outcome.free_proved for variant in comparison.variants]
    return {
        **comparison_document(comparison),
        "views": views,
        "labels": [cabinets[variant.outcome.cabinet].label for variant in comparison.variants],
        "proved": proved,
        "most_proved": [most for most, _ in ends],
        "fewest_proved": [fewest for _, fewest in ends],
        "steps": steps_document(steps),
    }


def _matrix_row(shown: Document, columns: Sequence[str]) -> Document:
    """A set's variants in the order of the matrix' columns, ``None`` where a cabinet was not compared."""
    by_name = {row["cabinet"]: row for row in shown["variants"]}
    return {"set": shown["set"], "cells": [by_name.get(name) for name in columns]}
