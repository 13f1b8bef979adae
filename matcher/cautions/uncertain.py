"""Drawers of which a size is a guess or not known: what the plan rests on, and what it leaves aside."""

from __future__ import annotations

from collections.abc import Iterator

from matcher.records import PER_MM, Cabinet, Caution, Drawer, Plan, inside_sizes, listed


def uncertain_cautions(cabinet: Cabinet, plan: Plan) -> Iterator[Caution]:
    """Guesses of the drawers that hold something, and drawers left aside since a size of theirs is not known."""
    used = {placed.drawer for placed in plan.placements}
    for box in cabinet.drawers:
        if box.guessed and box.name in used:
            told = listed([_guess(box, name) for name in box.guessed])
            yield Caution("guess", "caution", f"Drawer {box.name}: the plan holds if {told}: measure it first.")
        if box.unknown:
            names = listed(list(box.unknown))
            verb = "is" if len(box.unknown) == 1 else "are"
            yield Caution("unknown", "info", f"Drawer {box.name} is left aside: its {names} {verb} not known.")


def _guess(box: Drawer, name: str) -> str:
    return f"its {name} is at least {inside_sizes(box)[name] * 10 // PER_MM / 10:g} mm, which is a guess"
