"""With which sizes of its drawers a set goes into a cabinet that is known in part. Shows, never computes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rich.text import Text

from matcher.records import listed, to_mm
from matcher.studies import Condition, ConditionalPlan

ADJECTIVES = {"inside width": "wide", "inside depth": "deep", "clear height": "clear in height"}


def condition_words(found: ConditionalPlan) -> str:
    """Under which conditions it fits: a way that is enough, of each whether less is proved too little."""
    return f"fits if {listed([_words(one) for one in found.conditions])}"


def _words(one: Condition) -> str:
    guess = "" if one.told is None else f" (a guess: {to_mm(one.told):g} mm)"
    surely = "" if one.needed else " (less may do)"
    return f"{one.drawer} is at least {to_mm(one.at_least):g} mm {ADJECTIVES[one.dimension]}{guess}{surely}"


def conditional_lines(found: Mapping[str, ConditionalPlan]) -> list[Text]:
    """One line a cabinet."""
    return [Text(f"{cabinet}: {condition_words(one)}") for cabinet, one in found.items()]


def conditions_document(found: ConditionalPlan) -> list[dict[str, Any]]:
    """The conditions one by one."""
    return [
        {
            "drawer": one.drawer,
            "dimension": one.dimension,
            "at_least_mm": to_mm(one.at_least),
            "guess_mm": None if one.told is None else to_mm(one.told),
            "less_is_too_little": one.needed,
        }
        for one in found.conditions
    ]
