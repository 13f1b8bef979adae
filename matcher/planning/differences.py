"""What changes from one plan to another: groups that move, drawers that come free, goals that get worse or better."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from matcher.assignment import recut_parts
from matcher.fitting import kept_of
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


def snapshot_of(made: Plan, goals: Sequence[Goal]) -> Snapshot:
    """Snapshot of a plan and what its goals came to."""
    groups = {group.name: group for group in made.groups}
    return Snapshot(
        set=made.set,
        cabinet=made.cabinet,
        drawers=tuple((placement.group, placement.drawer) for placement in made.placements),
        free=made.free_drawers,
        goals=tuple((goal.name, goal.value) for goal in goals),
        fill=made.fill,
        organizers=tuple(kept_of(placement, groups[placement.group]) for placement in made.placements),
        settled=all(goal.proved for goal in goals if goal.name == "together"),
    )


def changes(before: Snapshot, after: Snapshot) -> Changes:
    """What changes; of the goals only those that both plans have."""
    divided = tuple(_divided(before, after))
    other = {name for name, *_ in divided}
    was, now = (_whole(plan, other) for plan in (before, after))
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
        divided=divided,
    )


def _divided(before: Snapshot, after: Snapshot) -> Iterator[tuple[str, tuple[int, ...], tuple[int, ...]]]:
    """Groups that both plans have, in other parts, with how many tools each part holds."""
    was, now = _parts(before), _parts(after)
    for name in sorted(was.keys() & now.keys()):
        if was[name] != now[name]:
            yield name, was[name], now[name]


def _parts(plan: Snapshot) -> dict[str, tuple[int, ...]]:
    found: dict[str, dict[str, int]] = {}
    for kept in plan.organizers:
        found.setdefault(kept.part_of or kept.made.group, {})[kept.made.group] = kept.pieces
    return {name: tuple(own[part] for part in sorted(own)) for name, own in found.items()}


def _whole(plan: Snapshot, divided: Collection[str]) -> dict[str, str]:
    """Drawers of all groups and parts but those that are divided otherwise in the other plan."""
    part_of = {kept.made.group: kept.part_of for kept in plan.organizers}
    return {name: drawer for name, drawer in plan.drawers if name not in divided and part_of.get(name) not in divided}


def differences(before: Snapshot, after: Snapshot, was: str = "before", now: str = "now") -> tuple[str, ...]:
    """Sentences on what changes; empty if nothing does. ``was`` and ``now`` are what the two plans are called."""
    return sentences(changes(before, after), was, now)


def sentences(found: Changes, was: str = "before", now: str = "now") -> tuple[str, ...]:
    """One sentence for each change; none if nothing changes."""
    told = [f"{group}: from drawer {one} to {other}" for group, one, other in found.moved]
    told += [f"{group}: {_in_parts(one)} {was}, {_in_parts(other)} {now}" for group, one, other in found.divided]
    told += [f"{group} is no longer placed" for group in found.lost]
    told += [f"{group} is new" for group in found.new]
    before, after = found.free
    told += [f"free drawers: {before} {was}, {after} {now}"] if before != after else []
    words = ((name, *(in_words(name, value, "spread") for value in values)) for name, *values in found.goals)
    return (*told, *(f"goal {name}: {one} {was}; {other} {now}" for name, one, other in words))


def _in_parts(pieces: Sequence[int]) -> str:
    """How many tools are in each part, e.g. ``divided 8 | 6``; ``whole``."""
    return f"divided {' | '.join(map(str, pieces))}" if len(pieces) > 1 else "whole"


def summary(found: Changes) -> str:
    """All changes in one line, e.g. ``3 groups move, one more free drawer, one more order break``."""
    return ", ".join(_summed(found)) or "nothing changes"


def _summed(found: Changes) -> Iterator[str]:
    if found.moved:
        yield f"{counted(len(found.moved), 'group')} move{'s' if len(found.moved) == 1 else ''}"
    if found.divided:
        yield f"{counted(len(found.divided), 'group')} divided otherwise"
    if found.lost:
        yield f"{counted(len(found.lost), 'group')} no longer placed"
    if found.new:
        yield f"{counted(len(found.new), 'group')} new"
    before, after = found.free
    if before != after:
        yield _more(after - before, "free drawer")
    for name, was, now in found.goals:
        yield _goal(name, was, now)


def _goal(name: GoalName, was: int, now: int) -> str:
    more = now - was
    if name == "order":
        return _more(more, "order break")
    if name == "recut" and recut_parts(was)[0] == recut_parts(now)[0]:
        return f"{'wider' if more > 0 else 'narrower'} gaps"
    steps = f" {abs(more)}" if name == "neighbors" else ""
    return f"{name}{steps} {'worse' if more > 0 else 'better'}"


def _more(number: int, noun: str) -> str:
    count = "one" if abs(number) == 1 else str(abs(number))
    return f"{count} {'more' if number > 0 else 'fewer'} {plural(noun, abs(number))}"
