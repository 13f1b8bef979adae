"""One set in many cabinet variants, ranked: fits first, then fewest unused drawers, least re-cutting, name."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import TypeAlias

from matcher.errors import UsageError
from matcher.house import House
from matcher.planning import NO_WISHES, answer, find_cabinet, plan
from matcher.records import HOWS, Catalogue, Fill, How, Organizer, Outcome, Plan, Verdict, Wishes
from matcher.wishes import check_wishes

Told: TypeAlias = Callable[[int, int, str], None]
"""Told how many cabinets are done, of how many, and the one that is next (none at the end)."""

VERDICTS: tuple[Verdict, ...] = ("fits", "undecided", "does not fit")


@dataclass(frozen=True, slots=True)
class Variant:
    """One cabinet's outcome with its placements counted by how they got in."""

    outcome: Outcome
    hows: tuple[tuple[How, int], ...]

    def count(self, how: How) -> int:
        """Placements that got in this way."""
        return dict(self.hows)[how]

    @property
    def free(self) -> int:
        """Free drawers of the plan; 0 without one."""
        return len(self.outcome.plan.free_drawers) if self.outcome.plan else 0


@dataclass(frozen=True, slots=True)
class Comparison:
    """A set's variants in ranked order."""

    set: str
    variants: tuple[Variant, ...]


def compare(
    catalogue: Catalogue,
    house: House,
    set_name: str,
    cabinets: Iterable[str] = (),
    fill: Fill | None = None,
    reference: str = "",
    told: Told | None = None,
    wishes: Wishes = NO_WISHES,
) -> Comparison:
    """Plan the set in each of the cabinets (none named: all) and rank them.

    With ``reference`` the organizers of that cabinet's plan count as existing, so the others show what carries over;
    that plan is made without the wishes, but for the fill.

    Raises
    ------
    UnknownNameError
        A set or cabinet is not in the catalogue, or a wish names a group or drawer that is nowhere.
    UsageError
        The set has no plan in the reference cabinet.
    """
    names = sorted(set(cabinets)) or [cabinet.name for cabinet in catalogue.cabinets]
    found = [find_cabinet(catalogue, name) for name in names]
    wishes = replace(wishes, fill=fill or wishes.fill)
    check_wishes(wishes, catalogue, set_name, found)
    known = with_organizers_of(catalogue, house, set_name, reference, wishes.fill) if reference else catalogue
    outcomes = []
    for done, cabinet in enumerate(found):
        if told:
            told(done, len(names), cabinet.name)
        outcomes.append(answer(known, house, set_name, cabinet, wishes))
    if told:
        told(len(names), len(names), "")
    return Comparison(set_name, tuple(sorted(map(_variant, outcomes), key=_rank)))


def with_organizers_of(
    catalogue: Catalogue, house: House, set_name: str, cabinet: str, fill: Fill | None = None
) -> Catalogue:
    """The catalogue with the organizers of one plan added as ready-made ones of that set."""
    outcome = plan(catalogue, house, set_name, cabinet, fill)
    if outcome.plan is None:
        raise UsageError(f"no plan of {set_name!r} in the reference cabinet {cabinet!r}: {outcome.verdict}")
    owned = {(row.set, row.group) for row in catalogue.organizers}
    made = [row for row in _existing(outcome.plan) if (row.set, row.group) not in owned]
    return replace(catalogue, organizers=tuple(sorted((*catalogue.organizers, *made))))


def _existing(made: Plan) -> list[Organizer]:
    """Organizers a plan would cut, as ready-made ones; parts of a split group are not carried over."""
    groups = {group.name: group for group in made.groups}
    return [
        Organizer(
            set=made.set,
            group=placement.group,
            width=placement.width,
            depth=placement.depth,
            height=placement.height,
            field_width=placement.layout.width,
            field_depth=placement.layout.depth,
            field_left=placement.field_left,
            field_front=placement.field_front,
        )
        for placement in made.placements
        if placement.layout and placement.how == "new" and not groups[placement.group].part_of
    ]


def _variant(outcome: Outcome) -> Variant:
    counted = Counter(placement.how for placement in outcome.plan.placements) if outcome.plan else Counter()
    return Variant(outcome, tuple((how, counted[how]) for how in HOWS))


def _rank(variant: Variant) -> tuple[int, int, tuple[int, ...], str]:
    work = tuple(variant.count(how) for how in reversed(HOWS))
    return VERDICTS.index(variant.outcome.verdict), variant.free, work, variant.outcome.cabinet
