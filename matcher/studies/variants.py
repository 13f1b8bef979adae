"""What changes from one ranked variant to the next: why it ranks there, drawers, organizers that carry over, moves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from matcher.fitting import Carried, carried, organizer_of, spot_of
from matcher.planning import Fits, differences, snapshot
from matcher.records import Drawer, Placement, unit_of_drawers
from matcher.studies.compared import Comparison, RankBy, Variant
from matcher.studies.ranking import why_before


@dataclass(frozen=True, slots=True)
class Carry:
    """An organizer of one variant's plan and what it takes to use it in the next one's."""

    group: str
    before: str
    after: str
    carried: Carried


@dataclass(frozen=True, slots=True)
class Step:
    """From one variant to the one ranked after it.

    ``why`` is the first thing that ranks them so. ``gained`` and ``lost`` are drawers that only one of them has,
    ``resized`` those that differ in size. ``carries`` and ``changes`` are empty unless both have a plan.
    """

    before: str
    after: str
    why: str
    gained: tuple[str, ...]
    lost: tuple[str, ...]
    resized: tuple[str, ...]
    carries: tuple[Carry, ...]
    changes: tuple[str, ...]


def steps(comparison: Comparison) -> tuple[Step, ...]:
    """What changes from each variant to the next in ranked order."""
    return tuple(step(one, other, comparison.model, comparison.by) for one, other in pairwise(comparison.variants))


def step(one: Variant, other: Variant, model: str = "", by: RankBy = "unused") -> Step:
    """What changes from one variant to another; ``model`` is the cabinet by whose places the ranking broke ties, ``by``
    what counts first in it."""
    before, after = one.outcome, other.outcome
    had, has = (_by_name(outcome.question.cabinet.drawers) for outcome in (before, after))
    planned = isinstance(before, Fits) and isinstance(after, Fits)
    was, now = f"in {before.cabinet}", f"in {after.cabinet}"
    return Step(
        before=before.cabinet,
        after=after.cabinet,
        why=why_before(one, other, model, by),
        gained=tuple(name for name in has if name not in had),
        lost=tuple(name for name in had if name not in has),
        resized=tuple(
            _resized(had[name], has[name], was, now) for name in has if name in had and _unlike(had[name], has[name])
        ),
        carries=_carries(before, after) if isinstance(before, Fits) and isinstance(after, Fits) else (),
        changes=differences(snapshot(before), snapshot(after), was, now) if planned else (),
    )


def carry_counts(one: Step) -> Counter[str]:
    """Organizers of a step by how they carry over."""
    return Counter(carry.carried.how for carry in one.carries)


def _carries(before: Fits, after: Fits) -> tuple[Carry, ...]:
    """Every organizer of foam that both plans have, in the order of the plan."""
    has = _by_name(after.question.cabinet.drawers)
    house = after.question.house
    groups = {group.name: group for group in before.plan.groups}
    made = {placed.group: placed for placed in before.plan.placements if not groups[placed.group].cased}
    found = []
    for now in after.plan.placements:
        if now.group in made:
            was = made[now.group]
            spot = spot_of(now, has[now.drawer], _alone(now, after.plan.placements), house)
            carry = carried(organizer_of(was, groups[was.group]), spot, house)
            found.append(Carry(now.group, was.drawer, now.drawer, carry))
    return tuple(found)


def _alone(placement: Placement, placements: Iterable[Placement]) -> bool:
    return sum(other.drawer == placement.drawer for other in placements) == 1


def _by_name(drawers: Iterable[Drawer]) -> Mapping[str, Drawer]:
    return {drawer.name: drawer for drawer in drawers}


def _unlike(one: Drawer, other: Drawer) -> bool:
    """Whether two drawers differ in what they take."""
    return _takes(one) != _takes(other)


def _takes(drawer: Drawer) -> tuple[object, ...]:
    sizes = (drawer.inside_width, drawer.inside_depth, drawer.clear_height)
    return (*sizes, drawer.slot, drawer.obstructions, drawer.corner_radius, drawer.liner)


def _resized(one: Drawer, other: Drawer, was: str, now: str) -> str:
    """What differs between two drawers of one name; ``was`` and ``now`` say in which cabinet each is."""
    unit = unit_of_drawers((one, other))
    told = [
        f"{what} {unit.clear(had)} {was}, {unit.clear(has)} {now}"
        for what, had, has in (
            ("inside width", one.inside_width, other.inside_width),
            ("inside depth", one.inside_depth, other.inside_depth),
            ("clear height", one.clear_height, other.clear_height),
        )
        if had != has
    ]
    told += [f"{one.slot} {was}, {other.slot} {now}"] if one.slot != other.slot else []
    told += ["other blocks in it"] if one.obstructions != other.obstructions else []
    told += ["other corners or liner"] if (one.corner_radius, one.liner) != (other.corner_radius, other.liner) else []
    return f"drawer {other.name}: {'; '.join(told)}"
