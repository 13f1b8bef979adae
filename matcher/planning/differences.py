"""What changes from one plan to another: groups that move, drawers that come free, goals that get worse or better."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from matcher.planning.goal_words import in_words
from matcher.planning.outcome import Fits, Outcome
from matcher.records import Changes, Goal, GoalName, Plan, Snapshot, counted, plural

COUNTED = ("drawers", "moves")
"""Goals that free drawers and moved groups tell already."""


def snapshot(outcome: Outcome) -> Snapshot:
    """Snapshot of an outcome; empty without a plan."""
    if isinstance(outcome, Fits):
        return snapshot_of(outcome.plan, outcome.goals)
    return Snapshot(outcome.set, outcome.cabinet)


def snapshot_of(made: Plan, goals: Iterable[Goal]) -> Snapshot:
    """Snapshot of a plan and what its goals came to."""
    return Snapshot(
        set=made.set,
        cabinet=made.cabinet,
        drawers=tuple((placement.group, placement.drawer) for placement in made.placements),
        free=made.free_drawers,
        goals=tuple((goal.name, goal.value) for goal in goals),
        fill=made.fill,
    )


def changes(before: Snapshot, after: Snapshot) -> Changes:
    """What changes; of the goals only those that both plans have."""
    was, now = dict(before.drawers), dict(after.drawers)
    had = dict(before.goals)
    return Changes(
        moved=tuple((name, was[name], now[name]) for name in sorted(was.keys() & now.keys()) if was[name] != now[name]),
        lost=tuple(sorted(was.keys() - now.keys())),
        new=tuple(sorted(now.keys() - was.keys())),
        free=(len(before.free), len(after.free)),
        goals=tuple(
            (name, had[name], value)
            for name, value in after.goals
            if name in had and name not in COUNTED and had[name] != value
        ),
    )


def differences(before: Snapshot, after: Snapshot) -> tuple[str, ...]:
    """Sentences on what changes; empty if nothing does."""
    return sentences(changes(before, after))


def sentences(found: Changes) -> tuple[str, ...]:
    """One sentence for each change; none if nothing changes."""
    told = [f"{group}: from drawer {was} to {now}" for group, was, now in found.moved]
    told += [f"{group} is no longer placed" for group in found.lost]
    told += [f"{group} is new" for group in found.new]
    before, after = found.free
    told += [f"free drawers: {before} before, {after} now"] if before != after else []
    words = ((name, *(in_words(name, value, "spread") for value in values)) for name, *values in found.goals)
    return (*told, *(f"goal {name}: {was} before; {now} now" for name, was, now in words))


def summary(found: Changes) -> str:
    """All changes in one line, e.g. ``3 groups move, one more free drawer, one more order break``."""
    return ", ".join(_summed(found)) or "nothing changes"


def _summed(found: Changes) -> Iterator[str]:
    if found.moved:
        yield f"{counted(len(found.moved), 'group')} move{'s' if len(found.moved) == 1 else ''}"
    if found.lost:
        yield f"{counted(len(found.lost), 'group')} no longer placed"
    if found.new:
        yield f"{counted(len(found.new), 'group')} new"
    before, after = found.free
    if before != after:
        yield _more(after - before, "free drawer")
    for name, was, now in found.goals:
        yield _goal(name, now - was)


def _goal(name: GoalName, more: int) -> str:
    if name == "order":
        return _more(more, "order break")
    steps = f" {abs(more)}" if name == "neighbors" else ""
    return f"{name}{steps} {'worse' if more > 0 else 'better'}"


def _more(number: int, noun: str) -> str:
    count = "one" if abs(number) == 1 else str(abs(number))
    return f"{count} {'more' if number > 0 else 'fewer'} {plural(noun, abs(number))}"
