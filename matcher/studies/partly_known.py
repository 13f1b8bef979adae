"""A cabinet of the catalogue of which some sizes are not known: with which of them the set goes in."""

from __future__ import annotations

from matcher.planning import Outcome, with_sizes_opened
from matcher.records import PER_MM, TypedSize
from matcher.studies.asked_drawers import ConditionalPlan, Place, looked_for
from matcher.studies.inside_sizes import DIMENSIONS, size_of


def conditional_plan(outcome: Outcome) -> ConditionalPlan | None:
    """A plan with the sizes that it depends on, to the millimeter; nothing where none are unknown or none would do."""
    question = outcome.question
    uncertain = [box for box in question.cabinet.drawers if box.unknown or box.guessed]
    if not any(box.unknown for box in uncertain):
        return None
    told: dict[Place, TypedSize] = {}
    for box in uncertain:
        for dimension in DIMENSIONS:
            if dimension in box.unknown:
                told[box.name, dimension] = TypedSize(None)
            elif dimension in box.guessed:
                told[box.name, dimension] = TypedSize(size_of(box, dimension), guessed=True)
    return looked_for(with_sizes_opened(question), told, dict.fromkeys(told, PER_MM))
