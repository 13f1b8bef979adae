"""What changes from one plan to another: groups that move, drawers that come free, goals that get worse or better."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from matcher.records import Outcome


@dataclass(frozen=True, slots=True)
class Snapshot:
    """As much of a plan as a comparison needs: each group's drawer, free drawers, goal values."""

    drawers: Mapping[str, str]
    free: int
    goals: Mapping[str, int]


def snapshot(outcome: Outcome) -> Snapshot:
    """Snapshot of an outcome; empty without a plan."""
    made = outcome.plan
    return Snapshot(
        drawers={placement.group: placement.drawer for placement in made.placements} if made else {},
        free=len(made.free_drawers) if made else 0,
        goals={goal.name: goal.value for goal in outcome.goals},
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
    shared = [name for name in after.goals if name in before.goals]
    return tuple(line for name in shared for line in _changed(f"goal {name}", before.goals[name], after.goals[name]))


def _changed(what: str, before: int, after: int) -> tuple[str, ...]:
    return () if before == after else (f"{what}: {before} before, {after} now",)
