"""The page of one or many comparisons: what is recommended, free drawers as bars, fronts at one scale, the way of every
organizer, what changes; of many sets a matrix first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from matcher.cautions import CODES
from matcher.planning import Fits, Outcome
from matcher.records import Goal, Placement, to_mm
from matcher.report.amount_views import BY_AREA
from matcher.report.document import Document, comparison_document, plan_document
from matcher.report.drawer_states import STATES
from matcher.report.families import families_shown, family_colors
from matcher.report.pages.free_bars import free_bars
from matcher.report.pages.rendering import render
from matcher.report.pages.side_by_side import fronts
from matcher.report.variant_views import steps_document
from matcher.studies import Comparison, Step, ranking_words, recommended_for_all

HOWS = {
    "as_is": "as is",
    "shim": "shim",
    "trim": "trim",
    "recut": "re-cut",
    "new": "new",
    "unordered": "unordered",
}
"""Keys of a variant's counts, and the words for them."""
PALE, DEEP = (244, 248, 251), (134, 182, 222)
"""Colors of a matrix' cells from the fewest to the most free drawers (own choice): dark words are read on both."""


def comparison_page(comparisons: Sequence[Comparison], steps: Sequence[Sequence[Step]]) -> str:
    """Every comparison with the steps between its neighbors. A matrix if there are several."""
    return render("compare.html", **comparison_shown(comparisons, steps))


def comparison_shown(comparisons: Sequence[Comparison], steps: Sequence[Sequence[Step]]) -> Document:
    """What ``compare.html`` shows, by the names it goes by there."""
    shown = [_shown(number, one, step) for number, (one, step) in enumerate(zip(comparisons, steps, strict=True), 1)]
    columns = sorted({row["cabinet"] for one in shown for row in one["variants"]})
    several = len(comparisons) > 1
    by_set = _by_set(shown) if several and len(columns) == 1 else None
    model = "" if by_set else "the first" if several else comparisons[0].model
    return {
        "comparisons": shown,
        "inch": all(variant.outcome.question.unit.name == "in" for one in comparisons for variant in one.variants),
        "ranking": ranking_words(model, comparisons[0].by),
        "for_all": recommended_for_all(comparisons) if several else None,
        "by_set": by_set,
        "matrix": _matrix(shown, columns),
        "columns": columns,
        "states": STATES,
        "hows": HOWS,
        "by_area": BY_AREA,
    }


def _shown(number: int, comparison: Comparison, steps: Sequence[Step]) -> Document:
    """The document of the comparison of that number on the page, with what its pictures, cards and steps show besides,
    one entry a variant."""
    outcomes = [variant.outcome for variant in comparison.variants]
    document, views = comparison_document(comparison), fronts(outcomes)
    organizers = _organizers([outcome for outcome in outcomes if isinstance(outcome, Fits)])
    return {
        **document,
        "views": views,
        "families": {family: color for outcome in outcomes for family, color in families_shown(outcome).items()},
        "states": [state for state in STATES if any(state in view.states for view in views)],
        "cabinets": [outcome.question.cabinet for outcome in outcomes],
        "details": [_detail(outcome) for outcome in outcomes],
        "listed": [
            {
                "name": row["cabinet"],
                "row": row,
                "link": f"variant-{number}-{place}",
                "why": f"why-{number}-{place}",
                "chosen": row["cabinet"] == document["recommendation"]["cabinet"],
                "proved": all(goal.proved for goal in _goals(outcome)),
            }
            for place, (row, outcome) in enumerate(zip(document["variants"], outcomes, strict=True), 1)
        ],
        "open_goals": [[goal for goal in _goals(outcome) if _is_open(goal)] for outcome in outcomes],
        "codes": _codes(document["variants"]),
        "bars": free_bars(document["variants"]),
        "guessed": any(row["foam_estimated"] for row in document["variants"]),
        "ways": _ways_in(document["variants"]),
        "planned": [outcome.cabinet for outcome in outcomes if isinstance(outcome, Fits)],
        "organizers": organizers,
        "numbers": {row["group"]: number for number, row in enumerate(organizers, start=1)},
        "steps": steps_document(steps),
    }


def _by_set(shown: Sequence[Document]) -> Document:
    """Every set in one cabinet, as the cabinets of one set are listed: the rows lead to the sets further down."""
    listed = [
        {**one, "name": document["set"], "link": f"set-{number}", "chosen": False}
        for number, document in enumerate(shown, 1)
        for one in document["listed"]
    ]
    rows = [one["row"] for one in listed]
    return {"listed": listed, "bars": free_bars(rows), "ways": _ways_in(rows), "codes": _codes(rows)}


def _ways_in(variants: Sequence[Document]) -> list[str]:
    """The ways in which any organizer of the variants gets in."""
    return [how for how in HOWS if any(row[how] for row in variants)]


def _codes(variants: Sequence[Document]) -> dict[str, str]:
    """The codes of the cautions that the table tells, with what they stand for."""
    told = {caution["code"] for row in variants for caution in row["cautions"]}
    return {code: words for code, words in CODES.items() if code in told}


def _goals(outcome: Outcome) -> tuple[Goal, ...]:
    return outcome.goals if isinstance(outcome, Fits) else ()


def _is_open(goal: Goal) -> bool:
    """Whether a better value is possible: one that meets its bound waits for the proof of a goal before it only."""
    return not goal.proved and goal.value != goal.bound


def _detail(outcome: Outcome) -> Document:
    """What helps to choose: the cabinet's outside, the free drawers by size, the cautions that are no mere notes."""
    document, cabinet = plan_document(outcome), outcome.question.cabinet
    sizes = [to_mm(size) for size in (cabinet.width, cabinet.depth, cabinet.height) if size is not None]
    return {
        "outside": sizes if len(sizes) == 3 else (),
        "free": document["free"],
        "cautions": [row for row in document["cautions"] if row["level"] != "info"],
    }


def _organizers(outcomes: Sequence[Fits]) -> list[Document]:
    """A row for each group that lies in any plan: its color, and in every plan the drawers and ways of its parts."""
    held = [_by_group(outcome) for outcome in outcomes]
    colors = {
        group.part_of or group.name: family_colors(outcome.question)[group.family]
        for outcome in outcomes
        for group in outcome.plan.groups
    }
    return [
        {"group": name, "color": color, "cells": [_ways(one.get(name, ())) for one in held]}
        for name, color in colors.items()
    ]


def _by_group(outcome: Fits) -> Mapping[str, Sequence[Placement]]:
    """Placements by the group, or the one whose parts they are."""
    whole = {group.name: group.part_of or group.name for group in outcome.plan.groups}
    found: dict[str, list[Placement]] = {}
    for placement in outcome.plan.placements:
        found.setdefault(whole[placement.group], []).append(placement)
    return found


def _ways(placements: Sequence[Placement]) -> list[Document]:
    """Each way that organizers of a group get in, with the drawers in which they lie."""
    return [
        {"how": how, "drawers": [placement.drawer for placement in alike]}
        for how, alike in groupby(sorted(placements, key=lambda one: one.how), key=lambda one: one.how)
    ]


# ------------------------------------------------------------------------------------------------------------ matrix


def _matrix(shown: Sequence[Document], columns: Sequence[str]) -> list[Document]:
    """A row a set: its variants in the order of the columns, ``None`` where a cabinet was not compared."""
    most = max([1, *(row["free_drawers"] or 0 for one in shown for row in one["variants"])])
    return [_matrix_row(number, one, columns, most) for number, one in enumerate(shown, start=1)]


def _matrix_row(number: int, shown: Document, columns: Sequence[str], most: int) -> Document:
    cells = {
        row["cabinet"]: {
            **row,
            "link": f"variant-{number}-{place}",
            "color": _shade((row["free_drawers"] or 0) / most),
            "recommended": row["cabinet"] == shown["recommendation"]["cabinet"],
        }
        for place, row in enumerate(shown["variants"], start=1)
    }
    return {"set": shown["set"], "cells": [cells.get(name) for name in columns]}


def _shade(share: float) -> str:
    """A color between the two ends, as ``#rrggbb``."""
    return "#" + "".join(f"{round(low + share * (high - low)):02x}" for low, high in zip(PALE, DEEP, strict=True))
