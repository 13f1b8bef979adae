"""The question that every stage answers: a set in a cabinet, with all that a planner asks worked in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from matcher.house import House
from matcher.planning.adding import closed, with_closed
from matcher.planning.grouping import groups_of, member_sets
from matcher.planning.joining import joined
from matcher.planning.made_organizers import with_made
from matcher.planning.released import Released
from matcher.planning.shaping import shaped
from matcher.planning.wishes import check_wishes, worked_in
from matcher.records import (
    Cabinet,
    Catalogue,
    Fill,
    Group,
    LeftOut,
    LengthUnit,
    Pin,
    Snapshot,
    UnknownNameError,
    Wishes,
)

NO_WISHES = Wishes()


@dataclass(frozen=True, slots=True)
class Question:
    """One set, or several planned together, in one cabinet.

    ``catalogue`` and ``house`` already follow the wishes: tiers stand in the rows, fill and goals in the house rules.
    ``groups`` are those of the sets, sorted by tier, family and name, joined where pins want several together;
    ``unjoined`` are the same before that, ``left_out`` is what wishes leave outside. ``pins`` are those of the
    catalogue and of the wishes that are about these sets and this cabinet. ``wishes`` are kept as they were asked, so
    that an answer can say what it answers. ``near`` is a plan to stay near to where the wishes name none,
    ``released`` one whose organizers are made.
    """

    catalogue: Catalogue
    house: House
    sets: tuple[str, ...]
    cabinet: Cabinet
    groups: tuple[Group, ...]
    pins: tuple[Pin, ...]
    wishes: Wishes = NO_WISHES
    unjoined: tuple[Group, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    near: Snapshot | None = None
    released: Released | None = None

    @property
    def keep(self) -> Snapshot | None:
        """The plan that the answer stays near to, if there is one; a released one in other versions of its cabinet."""
        own = self.released if self.released and self.released.is_for(self.cabinet) else None
        return self.wishes.keep or self.near or (own.snapshot if own else None)

    @property
    def set(self) -> str:
        """The sets as one name, ``A+B``."""
        return "+".join(self.sets)

    @property
    def fill(self) -> Fill:
        """Whether as few drawers as possible are unused, or as many as possible free."""
        return self.house.goals.fill

    @property
    def unit(self) -> LengthUnit:
        """What lengths are told in."""
        return self.house.lengths.unit_for(self.cabinet.drawers)

    def elsewhere(self, cabinet: Cabinet) -> Question:
        """The same question about another cabinet, or about this one changed."""
        pins = pins_about(self.catalogue, self.sets, cabinet)
        changed = replace(self, cabinet=cabinet, pins=pins)
        return replace(changed, groups=changed.made(joined(self.unjoined, pins)))

    def made(self, groups: Sequence[Group]) -> tuple[Group, ...]:
        """Groups, or parts of them, with the organizers that were made for just their tools, where there are any."""
        return with_made(self.catalogue, self.set, self.cabinet, groups)

    def lifted(self, pins: tuple[Pin, ...]) -> tuple[Group, ...]:
        """The groups as they are joined by these pins alone."""
        return self.made(joined(self.unjoined, pins))


def ask(catalogue: Catalogue, house: House, set_name: str, cabinet_name: str, wishes: Wishes = NO_WISHES) -> Question:
    """The question whether a set (or sets, ``A+B``) fits a cabinet, with the wishes checked and worked in.

    Raises
    ------
    UnknownNameError
        The set or cabinet is not in the catalogue, or a wish names a group or drawer that is not there.
    UsageError
        Wishes contradict each other.
    """
    return ask_each(catalogue, house, set_name, (find_cabinet(catalogue, cabinet_name),), wishes)[0]


def ask_each(
    catalogue: Catalogue, house: House, set_name: str, cabinets: Sequence[Cabinet], wishes: Wishes = NO_WISHES
) -> tuple[Question, ...]:
    """One question for each of the cabinets; a place that a wish names need be in one of them only.

    Raises
    ------
    UnknownNameError, UsageError
        As `ask` does.
    """
    check_wishes(wishes, catalogue, set_name, cabinets)
    catalogue = with_closed(catalogue, wishes.add_to)
    left = shaped(catalogue, set_name, wishes).left_out
    wished, rules = worked_in(catalogue, house, set_name, wishes)
    sets, groups = member_sets(wished, set_name), groups_of(wished, set_name, rules.pocket.estimates)
    closed_there = [closed(cabinet, wishes.add_to) for cabinet in cabinets]
    asked = (question_of(wished, rules, sets, cabinet, groups, wishes) for cabinet in closed_there)
    return tuple(replace(question, left_out=left) for question in asked)


def question_of(
    catalogue: Catalogue,
    house: House,
    sets: tuple[str, ...],
    cabinet: Cabinet,
    groups: Iterable[Group],
    wishes: Wishes = NO_WISHES,
) -> Question:
    """The question about groups that are known already; only what pins want together is worked in.

    Raises
    ------
    UsageError
        Pins want groups together that cannot be one organizer.
    """
    pins, unjoined = pins_about(catalogue, sets, cabinet), tuple(groups)
    asked = Question(catalogue, house, sets, cabinet, (), pins, wishes, unjoined)
    return replace(asked, groups=asked.made(joined(unjoined, pins)))


def pins_about(catalogue: Catalogue, sets: Sequence[str], cabinet: Cabinet) -> tuple[Pin, ...]:
    """The catalogue's pins that concern these sets in this cabinet; a blank set or cabinet means all."""
    return tuple(pin for pin in catalogue.pins if pin.set in ("", *sets) and pin.cabinet in ("", cabinet.name))


def find_cabinet(catalogue: Catalogue, name: str) -> Cabinet:
    """The cabinet of that name.

    Raises
    ------
    UnknownNameError
        There is none.
    """
    for cabinet in catalogue.cabinets:
        if cabinet.name == name:
            return cabinet
    known = ", ".join(cabinet.name for cabinet in catalogue.cabinets)
    raise UnknownNameError(f"no cabinet {name!r} in the catalogue; it has: {known}")
