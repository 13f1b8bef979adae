"""The page of one or many comparisons: small front views, a table to sort and filter, what changes, a matrix."""

from __future__ import annotations

from collections.abc import Sequence

from matcher.planning import Fits, Outcome
from matcher.records import Goal, to_mm
from matcher.report.document import Document, comparison_document, plan_document
from matcher.report.drawer_states import STATES
from matcher.report.families import families_shown
from matcher.report.pages.front_view import front_view
from matcher.report.pages.rendering import render
from matcher.report.variant_views import steps_document
from matcher.studies import Comparison, Step, ranking_words


def comparison_page(comparisons: Sequence[Comparison], steps: Sequence[Sequence[Step]]) -> str:
    """Every comparison with the steps between its neighbors. A matrix if there are several."""
    return render("compare.html", **comparison_shown(comparisons, steps))


def comparison_shown(comparisons: Sequence[Comparison], steps: Sequence[Sequence[Step]]) -> Document:
    """What ``compare.html`` shows, by the names it goes by there."""
    shown = [_shown(one, step) for one, step in zip(comparisons, steps, strict=True)]
    columns = sorted({row["cabinet"] for one in shown for row in one["variants"]})
    return {
        "comparisons": shown,
        "ranking": ranking_words(comparisons[0].model if len(comparisons) == 1 else "the first"),
        "matrix": [_matrix_row(one, columns) for one in shown],
        "columns": columns,
        "states": STATES,
    }


def _shown(comparison: Comparison, steps: Sequence[Step]) -> Document:
    """A comparison's document with what its pictures, cards and steps show beside it, one entry a variant."""
    outcomes = [variant.outcome for variant in comparison.variants]
    views = [front_view(outcome) for outcome in outcomes]
    return {
        **comparison_document(comparison),
        "views": views,
        "families": {family: color for outcome in outcomes for family, color in families_shown(outcome).items()},
        "states": [state for state in STATES if any(state in view.states for view in views)],
        "cabinets": [outcome.question.cabinet for outcome in outcomes],
        "details": [_detail(outcome) for outcome in outcomes],
        "proved": [all(goal.proved for goal in _goals(outcome)) for outcome in outcomes],
        "most_proved": [not isinstance(outcome, Fits) or outcome.free_proved[0] for outcome in outcomes],
        "fewest_proved": [not isinstance(outcome, Fits) or outcome.free_proved[1] for outcome in outcomes],
        "steps": steps_document(steps),
    }


def _goals(outcome: Outcome) -> tuple[Goal, ...]:
    return outcome.goals if isinstance(outcome, Fits) else ()


def _detail(outcome: Outcome) -> Document:
    """What helps to choose: the cabinet's outside, the free drawers by size, the cautions that are no mere notes."""
    document, cabinet = plan_document(outcome), outcome.question.cabinet
    sizes = [to_mm(size) for size in (cabinet.width, cabinet.depth, cabinet.height) if size is not None]
    return {
        "outside": sizes if len(sizes) == 3 else (),
        "free": document["free"],
        "cautions": [row for row in document["cautions"] if row["level"] != "info"],
    }


def _matrix_row(shown: Document, columns: Sequence[str]) -> Document:
    """A set's variants in the order of the matrix' columns, ``None`` where a cabinet was not compared."""
    by_name = {row["cabinet"]: row for row in shown["variants"]}
    return {"set": shown["set"], "cells": [by_name.get(name) for name in columns]}
