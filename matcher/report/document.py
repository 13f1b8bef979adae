"""Outcomes as plain documents (dicts of JSON values); every other form of output shows the same figures."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from matcher.cautions import free_loads_of
from matcher.planning import (
    NOT_PROVED,
    Fits,
    Outcome,
    fits_but_of,
    free_told,
    in_amounts,
    nearest_change_of,
    piece_words,
    pin_words,
    reasons_of,
    standing,
    stranded,
    taken_by,
    together_words,
)
from matcher.records import (
    FAULT,
    PER_KG,
    Alternative,
    Caution,
    Fault,
    FoamAsked,
    FreeDrawer,
    Goal,
    LeftOut,
    PieceCounts,
    Reason,
    Run,
    Wishes,
    listed,
    to_kg,
    to_mm,
)
from matcher.report.amount_views import amounts_document
from matcher.report.kept_documents import (
    changes_document,
    snapshot_document,
    stranded_document,
)
from matcher.report.placement_documents import by_basis_document, margin_document, placements_document
from matcher.report.turning import part_document, square_meters, turns_document
from matcher.studies import Comparison, Recommendation, Variant, missing_of, ranking_words, recommended

Document = dict[str, Any]


def plan_document(outcome: Outcome) -> Document:
    """The answer for one set in one cabinet; lists are empty and counts ``None`` without a plan."""
    made = outcome if isinstance(outcome, Fits) else None
    return {
        "set": outcome.set,
        "cabinet": outcome.cabinet,
        "verdict": outcome.verdict,
        "fill": outcome.fill,
        "lengths": outcome.question.unit.name,
        "placements": placements_document(made.plan) if made else [],
        "free_drawers": list(made.plan.free_drawers) if made else [],
        "taken_drawers": [
            {"drawer": drawer, "holds": list(held)} for drawer, held in taken_by(outcome.question.wishes.add_to).items()
        ],
        "most_free": made.most_free if made else None,
        "fewest_free": made.fewest_free if made else None,
        "most_free_proved": made.free_proved[0] if made else None,
        "fewest_free_proved": made.free_proved[1] if made else None,
        "goals": [_goal(goal) for goal in made.goals] if made else [],
        "kept": changes_document(made.kept) if made and made.kept else None,
        "no_longer_goes_in": [stranded_document(one, outcome.question.unit) for one in stranded(outcome.question)],
        "alternatives": [_alternative(other) for other in made.alternatives] if made else [],
        "after_alternatives": made.last if made else "",
        "left_out": left_out_document(outcome.question.left_out),
        "fits_but": left_out_document(fits_but_of(outcome)),
        "reasons": [_reason(reason) for reason in reasons_of(outcome)],
        "nearest_change": nearest_change_of(outcome),
        "turns": turns_document(outcome),
        "part": part_document(outcome),
        "foam": None if isinstance(outcome, Fits) or outcome.foam is None else _foam(outcome.foam),
        "cautions": [_caution(caution) for caution in made.cautions] if made else [],
        "margins": [margin_document(margin) for margin in made.margins] if made else [],
        "free": _free_drawers(made) if made else [],
        "free_in_words": [_alike(words, alike) for words, alike in free_told(made.free)] if made else [],
        "together_in_words": list(together_words(outcome)),
        "basis": _basis(outcome.basis),
        "run": _run(outcome.run),
    }


def _basis(basis: PieceCounts) -> Document:
    return {
        "pieces": basis.total,
        "measured": basis.measured,
        "from standard": basis.standard,
        "estimated": basis.estimated,
    }


def comparison_document(comparison: Comparison) -> Document:
    """A set's variants in ranked order, cabinets without an answer, and the run that all of them share."""
    return {
        "set": comparison.set,
        "places_as_in": comparison.model,
        "ranked_by": ranking_words(comparison.model, comparison.by),
        "recommendation": _recommendation(recommended(comparison)),
        "left_out": left_out_document(left_out_of(comparison)),
        "variants": [_variant(variant) for variant in comparison.variants],
        "faults": [fault_document(comparison.set, fault) for fault in comparison.faults],
        "run": next((_run(variant.outcome.run) for variant in comparison.variants), None),
    }


def _recommendation(found: Recommendation) -> Document:
    return {"cabinet": found.cabinet or None, "text": found.text}


def left_out_of(comparison: Comparison) -> tuple[LeftOut, ...]:
    """What stays outside in all variants."""
    return next((variant.outcome.question.left_out for variant in comparison.variants), ())


def left_out_document(things: Iterable[LeftOut]) -> list[Document]:
    """What stays outside, one row a piece; without a piece it is the group's ready-made organizer."""
    return [
        {
            "group": one.group,
            "piece": one.tool or None,
            "count": one.count,
            "whole_group": one.whole,
            "text": f"{piece_words(one)} ({one.group})",
        }
        for one in things
    ]


def fault_document(set_name: str, fault: Fault) -> Document:
    """A cabinet without an answer because the program failed on it: no verdict, and how."""
    return {"set": set_name, "cabinet": fault.cabinet, "verdict": None, "fault": fault.text}


def variant_rows(document: Document) -> list[Document]:
    """A comparison's document as rows: its variants; then cabinets without an answer, why as their only reason."""
    faults = ((one["cabinet"], f"{FAULT}: {one['fault']}") for one in document["faults"])
    return [
        *document["variants"],
        *({"cabinet": cabinet, "verdict": None, "reasons": [text]} for cabinet, text in faults),
    ]


def plain_rows(document: Document) -> list[Document]:
    """As `variant_rows`, with goals and cautions told in words, blanks as sums alone: each value goes into one cell."""
    return [
        {key: value for key, value in row.items() if key != "blanks"}
        | {"goals": list(map(_goal_in_words, row.get("goals", ()))), "cautions": _in_sentences(row.get("cautions", ()))}
        for row in variant_rows(document)
    ]


def placement_rows(document: Document) -> list[Document]:
    """The placements of a plan's document, each with the errors and warnings of the whole plan in words."""
    told = _in_sentences(row for row in document["cautions"] if row["level"] != "info")
    return [row | {"cautions": told} for row in document["placements"]]


def _in_sentences(cautions: Iterable[Document]) -> list[str]:
    """Each with its level and code, e.g. ``error LOAD-D: Drawer A1 carries ...``."""
    return [f"{row['level']} {row['code']}: {row['text']}" for row in cautions]


def _goal_in_words(goal: Document) -> str:
    best = f", at best {goal['bound_text']}" if goal["standing"] == NOT_PROVED else ""
    doubt = "" if goal["proved"] else f" ({goal['standing']}{best})"
    return f"{goal['name']}: {goal['value_text']}{doubt}"


def _variant(variant: Variant) -> Document:
    outcome = variant.outcome
    made, missing = outcome if isinstance(outcome, Fits) else None, missing_of(outcome)
    return {
        "cabinet": outcome.cabinet,
        "verdict": outcome.verdict,
        "drawers": sum(drawer.slot != "blocked" for drawer in outcome.question.cabinet.drawers),
        "free_drawers": variant.free if made else None,
        "most_free": made.most_free if made else None,
        "fewest_free": made.fewest_free if made else None,
        "most_free_proved": made.free_proved[0] if made else None,
        "fewest_free_proved": made.free_proved[1] if made else None,
        "short_mm": to_mm(missing.length) if missing.length else None,
        "short_drawers": missing.drawers or None,
        "as_is": variant.count("as is"),
        "shim": variant.count("shim"),
        "trim": variant.count("trim"),
        "recut": variant.count("re-cut"),
        "new": variant.count("new"),
        "unordered": variant.count("unordered"),
        "moved": variant.moved,
        **amounts_document(variant),
        "goals": [_goal(goal) for goal in made.goals] if made else [],
        "fits_but": left_out_document(fits_but_of(outcome)),
        "reasons": [_reason(reason) for reason in reasons_of(outcome)],
        "nearest_change": nearest_change_of(outcome),
        "cautions": [_caution(caution) for caution in made.cautions if caution.level != "info"] if made else [],
        "pieces": outcome.basis.total,
        **by_basis_document(outcome.basis),
    }


def _run(run: Run) -> Document:
    return {
        "version": run.version,
        "solver": run.solver,
        "seed": run.seed,
        "input_hash": run.digest,
        "budgets": dict(run.budgets),
        "wishes": _wishes(run.wishes),
        "stopped": run.stopped,
    }


def _wishes(wishes: Wishes) -> Document:
    """Each wish in the words of its option, and the plan to keep as a document that can be kept again."""
    return {
        "fill": wishes.fill,
        "pins": [pin_words(pin) for pin in wishes.pins],
        "tiers": list(wishes.tiers),
        "goals": list(wishes.goals),
        "off": list(wishes.off),
        "by_drive": list(wishes.by_drive),
        "by_system": list(wishes.by_system),
        "without": list(wishes.without),
        "keep": snapshot_document(wishes.keep) if wishes.keep else None,
        "add_to": [snapshot_document(plan) for plan in wishes.add_to],
        "alternatives": wishes.alternatives,
    }


def _alternative(other: Alternative) -> Document:
    return {
        "placements": placements_document(other.plan),
        "free_drawers": list(other.plan.free_drawers),
        "goals": [_goal(goal) for goal in other.goals],
        "gives_up": list(other.gives_up),
        "changes": changes_document(other.changes),
    }


def _free_drawers(outcome: Fits) -> list[Document]:
    """The free drawers, each with the most it may hold before the cabinet tips, where that is known."""
    loads = free_loads_of(outcome.question.cabinet, outcome.plan, outcome.question.house)
    most = {one.drawer: one.most for one in loads}
    return [_free(drawer, most.get(drawer.drawer)) for drawer in outcome.free]


def _free(drawer: FreeDrawer, most: int | None) -> Document:
    return {
        "drawer": drawer.drawer,
        "slot": drawer.slot,
        "width_mm": to_mm(drawer.width),
        "depth_mm": to_mm(drawer.depth),
        "height_mm": to_mm(drawer.height),
        "load_left_kg": None if drawer.load_left is None else to_kg(drawer.load_left),
        "most_before_tipping_kg": None if most is None else most * 10 // PER_KG / 10,
        "size": drawer.size,
        "above_ground_mm": None if drawer.above_ground is None else to_mm(drawer.above_ground),
        "reach": drawer.reach,
    }


def _alike(words: str, alike: Sequence[FreeDrawer]) -> str:
    """Free drawers that are alike, with their names."""
    return f"{words}: {listed([drawer.drawer for drawer in alike])}"


def _goal(goal: Goal) -> Document:
    return {
        "name": goal.name,
        "value": goal.value,
        "bound": goal.bound,
        "proved": goal.proved,
        "value_text": goal.told,
        "bound_text": goal.bound_told,
        "standing": standing(goal),
        "amounts": [{"unit": unit, "value": value, "bound": bound} for unit, value, bound in in_amounts(goal)],
        "contributions": list(goal.contributions),
    }


def _reason(reason: Reason) -> Document:
    return {
        "code": reason.code,
        "text": reason.text,
        "scope": reason.scope,
        "groups": list(reason.groups),
        "drawers": list(reason.drawers),
        "short_mm": None if reason.short is None else to_mm(reason.short),
    }


def _foam(asked: FoamAsked) -> Document:
    """Areas of foam in square meters: asked for at least, laid out in order, and there; drawers that are missing."""
    least, usual, there = map(square_meters, (asked.least, asked.usual, asked.there))
    return {"least_m2": least, "usual_m2": usual, "there_m2": there, "drawers_missing": asked.missing}


def _caution(caution: Caution) -> Document:
    return {"code": caution.code, "level": caution.level, "text": caution.text}
