"""Values of the goals as a person reads them."""

from __future__ import annotations

from matcher.assignment import recut_parts
from matcher.fitting import PER_USE
from matcher.records import Fill, GoalName, counted, show_mm


def in_words(name: GoalName, value: int, fill: Fill) -> str:
    """A goal's value or bound in words; that of ``recut`` holds two numbers, of which the first decides."""
    if name == "recut":
        work, gap = recut_parts(value)
        return f"work {work}, gaps {show_mm(gap)}"
    if name == "reach":
        return f"{counted(value / PER_USE, 'use')} a week"
    if name == "together":
        return counted(value, "point") if value else "nothing divided or mixed"
    if name == "drawers":
        return f"{value} {'unused' if fill == 'spread' else 'used'}"
    if name == "moves":
        return counted(value, "group")
    return counted(value, "break" if name == "order" else "weighted step")
