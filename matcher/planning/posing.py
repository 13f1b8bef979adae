"""A question with its groups and drawers: which drawer takes which group, and which the pins allow (R11)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import TypeAlias

from matcher.assignment import Wished
from matcher.fitting import (
    Fit,
    Shortfall,
    StaysOut,
)
from matcher.house import House
from matcher.planning.homes import Homes, at_home, homes_of
from matcher.planning.joining import meant_by
from matcher.planning.pins import matches
from matcher.planning.question import Question
from matcher.planning.released import MadeOrganizer
from matcher.records import Cabinet, Drawer, Group, LengthUnit, Pin

Admit: TypeAlias = Callable[[Group, Drawer, House], Fit]
PairFits: TypeAlias = dict[tuple[int, int], Fit]


@dataclass(frozen=True, slots=True)
class Case:
    """A question with the groups and drawers it comes down to; ``fits`` by (group index, drawer index).

    ``groups`` are those of the question, or parts of them where one had to be split. ``homes`` are the pairs whose
    organizer was made for that very drawer.
    """

    question: Question
    groups: tuple[Group, ...]
    drawers: tuple[Drawer, ...]
    fits: Mapping[tuple[int, int], Fit]
    relations: tuple[Wished, ...]
    homes: Mapping[tuple[int, int], MadeOrganizer] = field(default_factory=dict)

    @property
    def house(self) -> House:
        """The house rules of the question."""
        return self.question.house

    @property
    def pins(self) -> tuple[Pin, ...]:
        """The pins of the question."""
        return self.question.pins

    @property
    def unit(self) -> LengthUnit:
        """What lengths are told in."""
        return self.question.unit

    def lacks(self) -> Iterator[tuple[tuple[int, int], Shortfall]]:
        """What each drawer lacks for each group that an ordered organizer keeps out of it."""
        for pair, fit in self.fits.items():
            if fit.shortfall is not None:
                yield pair, fit.shortfall

    def pinned(self, pins: tuple[Pin, ...]) -> Case:
        """The case with other pins."""
        return replace(self, question=replace(self.question, pins=pins))


def pose(question: Question, groups: Iterable[Group], admit: Admit) -> Case:
    """The case of a question for ``groups``, with every pair of group and drawer admitted by ``admit``."""
    ordered = tuple(sorted(groups, key=lambda group: (group.tier, group.family, group.name)))
    drawers = usable(question.cabinet)
    homes = homes_of(question, ordered, drawers)
    return Case(
        question=question,
        groups=ordered,
        drawers=drawers,
        homes=homes,
        fits=_fits(ordered, drawers, question.house, admit, homes),
        relations=(
            *(
                (i, j, relation.wish, relation.weight)
                for relation in question.catalogue.relations
                for i in meant_by(relation.group, ordered)
                for j in meant_by(relation.other, ordered)
                if i != j
            ),
            *_parts_beside(ordered, question.house.goals.parts_weight),
        ),
    )


def usable(cabinet: Cabinet) -> tuple[Drawer, ...]:
    """Drawers that may hold something, by bank, row and name."""
    return tuple(drawer for drawer in cabinet.drawers if drawer.slot != "blocked")


def _parts_beside(groups: Sequence[Group], weight: int) -> Iterator[Wished]:
    """Each part of a split group beside the next one."""
    for name in sorted({group.part_of for group in groups if group.part_of}):
        own = [index for index, group in enumerate(groups) if group.part_of == name]
        for part, following in pairwise(sorted(own, key=lambda index: groups[index].name)):
            yield part, following, "beside", weight


def only(case: Case, groups: Iterable[int]) -> Case:
    """The case with only some of its groups (by index), their wishes about the others dropped."""
    kept = sorted(groups)
    new = {g: index for index, g in enumerate(kept)}
    return replace(
        case,
        groups=tuple(case.groups[g] for g in kept),
        fits={(new[g], d): fit for (g, d), fit in case.fits.items() if g in new},
        homes={(new[g], d): home for (g, d), home in case.homes.items() if g in new},
        relations=(),
    )


def posed_anew(case: Case, groups: Iterable[Group], admit: Admit) -> Case:
    """The case with other groups, which come sorted, and no wishes about how they lie to each other."""
    ordered = tuple(groups)
    homes = homes_of(case.question, ordered, case.drawers)
    fits = _fits(ordered, case.drawers, case.house, admit, homes)
    return replace(case, groups=ordered, fits=fits, homes=homes, relations=())


def _fits(groups: Iterable[Group], drawers: Sequence[Drawer], house: House, admit: Admit, homes: Homes) -> PairFits:
    found = {(g, d): admit(group, drawer, house) for g, group in enumerate(groups) for d, drawer in enumerate(drawers)}
    return found | {pair: at_home(home, found[pair], house) for pair, home in homes.items()}


def may_go_in(fit: Fit, *, any_layout: bool) -> bool:
    """Whether it is not proved that a group does not go in; with ``any_layout``, in whatever layout."""
    return not isinstance(fit, StaysOut) or (any_layout and fit.shortfall.scope == "house layout")


def pins_allow(pins: Iterable[Pin], group: Group, drawer: Drawer) -> bool:
    """Whether the pins about this group allow this drawer."""
    for pin in pins:
        if pin.group and pin.group in (group.name, group.part_of, *group.also):
            if pin.rule == "in" and not matches(pin, drawer):
                return False
            if pin.rule == "not in" and matches(pin, drawer):
                return False
    return True
