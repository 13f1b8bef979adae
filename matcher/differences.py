"""What changes from one plan to another: groups that move, drawers that come free, goals that get worse or better."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from matcher.goal_words import in_words
from matcher.records import Fill, GoalName, Outcome


@dataclass(frozen=True, slots=True)
class Snapshot:
    """As much of a plan as a comparison needs: each group's drawer, free drawers, goal values."""

    drawers: Mapping[str, str]
    free: int
    goals: Mapping[GoalName, int]
    fill: Fill = "spread"


def snapshot(outcome: Outcome) -> Snapshot:
    """Snapshot of an outcome; empty without a plan."""
    made = outcome.plan
    return Snapshot(
        drawers={placement.group: placement.drawer for placement in made.placements} if made else {},
        free=len(made.free_drawers) if made else 0,
        goals={goal.name: goal.value for goal in outcome.goals},
        fill=outcome.fill,
    )


def differences(before: Snapshot, after: Snapshot) -> tuple[str, ...]:
    """Sentences on what changes; empty if nothing does."""
    told = [
        f"{group} moves from drawer {before.drawers[group]} to {after.drawers[group]}"
        for group in sorted(before.drawers.keys() & after.drawers.keys())
        if before.drawers[group] != after.drawers[group]
    ]
    told += [f"{group} is no longer placed" for group in sorted(before.drawers.keys() - after.drawers.keys())]
    told += [f"{group} is new" for group in sorted(after.drawers.keys() - before.drawers.keys())]
    return (*told, *_changed("free drawers", before.free, after.free), *_goals(before, after))


def _goals(before: Snapshot, after: Snapshot) -> tuple[str, ...]:
    told = (
        _changed(f"goal {name}", in_words(name, before.goals[name], before.fill), in_words(name, value, after.fill))
        for name, value in after.goals.items()
        if name in before.goals
    )
    return tuple(line for lines in told for line in lines)


def _changed(what: str, before: object, after: object) -> tuple[str, ...]:
    return () if before == after else (f"{what}: {before} before, {after} now",)
