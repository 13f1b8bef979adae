"""Values of the goals as a person reads them."""

from __future__ import annotations

from collections.abc import Mapping

from matcher.assignment import recut_parts
from matcher.fitting import PER_USE
from matcher.records import Fill, Goal, GoalName, LengthUnit, counted, to_mm

PROVED, LEAST, NOT_PROVED = "proved", "least with the goals before it", "not proved"
"""How a goal's value stands to its bound."""
MILLIMETERS = LengthUnit()

UNITS: Mapping[GoalName, str] = {
    "together": "points",
    "drawers": "drawers",
    "moves": "groups",
    "order": "breaks",
    "neighbors": "weighted steps",
    "reach": "uses a week",
}
"""What the goals of one number count."""


def in_amounts(goal: Goal) -> tuple[tuple[str, float, float | None], ...]:
    """A goal as numbers: what is counted, its value, and its bound where the number before it allows one."""
    if goal.name == "recut":
        (work, gap), (least, least_gap) = recut_parts(goal.value), recut_parts(goal.bound)
        fewest = round(to_mm(least_gap), 1) if work == least else None
        return ("work", work, least), ("gaps, mm", round(to_mm(gap), 1), fewest)
    per = PER_USE if goal.name == "reach" else 1
    return ((UNITS[goal.name], goal.value / per, goal.bound / per),)


def in_words(name: GoalName, value: int, fill: Fill, unit: LengthUnit = MILLIMETERS) -> str:
    """A goal's value or bound in words; that of ``recut`` holds two numbers, of which the first decides."""
    if name == "recut":
        work, gap = recut_parts(value)
        return f"{counted(work, 'step')} of work, gaps {unit.show(gap)}"
    if name == "reach":
        return f"{counted(value / PER_USE, 'use')} a week off the best height"
    if name == "together":
        return f"{counted(value, 'point')} of dividing and mixing" if value else "nothing divided or mixed"
    if name == "drawers":
        return f"{counted(value, 'drawer')} {'free' if fill == 'spread' else 'used'}"
    if name == "moves":
        return f"{counted(value, 'group')} moved"
    return f"{counted(value, 'break')} of order" if name == "order" else f"{counted(value, 'weighted step')} apart"


def standing(goal: Goal) -> str:
    """How good a goal's value is known to be, in words.

    A value that meets its bound, or is told by the same words, is never called not proved: where a goal before it is
    open it is the least as long as those keep their values.
    """
    if goal.proved:
        return PROVED
    return LEAST if goal.value == goal.bound or goal.told == goal.bound_told else NOT_PROVED
