"""A question on the phone: some groups, or a whole set, in drawers that are told in one line and may be partly known.

Sizes that are not known are looked for one after another, each the least with which there is a plan while those not yet
looked for are as large as any drawer. So what is found is enough together; it is one way of several where there are
more than one of them. For each alone it is said whether less is proved to be too little, whatever the others are.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from matcher.house import House
from matcher.planning import NO_WISHES, Outcome, Question, answer, ask_each, verdict_of
from matcher.records import (
    LARGEST_INSIDE,
    PER_INCH,
    PER_MM,
    Cabinet,
    Catalogue,
    Drawer,
    Group,
    TypedDrawer,
    TypedSize,
    UnknownNameError,
    Wishes,
)
from matcher.studies.inside_sizes import DIMENSIONS, Dimension, size_of, with_sizes

AskedVerdict: TypeAlias = Literal["fits", "depends on sizes", "does not fit", "undecided"]

CABINET = "drawers asked about"
EFFORT = 0.1
"""Share of the budget for dividing and mixing that each size tried gets."""

Place: TypeAlias = tuple[str, Dimension]
"""A drawer's name and one of its sizes."""


@dataclass(frozen=True, slots=True)
class Condition:
    """A size that must be at least ``at_least`` for a plan; ``told`` is the guess, ``None`` where nothing was told.

    ``needed`` says that it is proved that less is too little, as large as the other sizes that are not known may be.
    """

    drawer: str
    dimension: Dimension
    at_least: int
    told: int | None
    needed: bool

    @property
    def met(self) -> bool:
        """Whether the guess, if it is right, is enough."""
        return self.told is not None and self.told >= self.at_least


@dataclass(frozen=True, slots=True)
class AskedDrawers:
    """The answer: ``what`` was asked, of which ``groups``, in which ``drawers``; the plan or the reasons against one.

    In ``outcome`` sizes that are not known are as small as the conditions allow, and guesses hold. Where one drawer is
    too small, ``would_do`` are the sizes of which each alone would be enough.
    """

    what: str
    drawers: tuple[TypedDrawer, ...]
    outcome: Outcome
    conditions: tuple[Condition, ...]
    would_do: tuple[Condition, ...] = ()

    @property
    def groups(self) -> tuple[Group, ...]:
        """What was asked about."""
        return self.outcome.question.groups

    @property
    def verdict(self) -> AskedVerdict:
        """That it fits is said only where no size is guessed or missing."""
        if any(not all(size.sure for size in sizes_typed(one)) for one in self.drawers) and self.conditions:
            return "depends on sizes"
        return self.outcome.verdict


def ask_drawers(
    catalogue: Catalogue, house: House, what: str, drawers: Sequence[TypedDrawer], wishes: Wishes = NO_WISHES
) -> AskedDrawers:
    """Whether ``GROUP of SET``, ``SET`` or an organizer by its part number goes into the drawers.

    Raises
    ------
    UnknownNameError
        No set, group or part is called so.
    UsageError
        Wishes contradict each other.
    """
    set_name, words = _set_and_words(catalogue, what)
    cabinet = Cabinet(CABINET, tuple(_drawer(n, one) for n, one in enumerate(drawers, 1)))
    known = replace(catalogue, cabinets=(cabinet,))
    (whole,) = ask_each(known, house, set_name, [cabinet], wishes)
    chosen = _chosen(whole, words, set_name)
    others = tuple(group.name for group in whole.groups if group not in chosen)
    (question,) = ask_each(known, house, set_name, [cabinet], replace(wishes, without=(*wishes.without, *others)))
    if all(group.cased for group in question.groups):
        bare = tuple(replace(one, slot="no foam") for one in cabinet.drawers)
        question = _in_cabinet(question, replace(cabinet, drawers=bare))
    return _answered(question, what, drawers)


def _in_cabinet(question: Question, cabinet: Cabinet) -> Question:
    """The question about these drawers instead, which are the catalogue's only ones."""
    return replace(question.elsewhere(cabinet), catalogue=replace(question.catalogue, cabinets=(cabinet,)))


def sizes_typed(drawer: TypedDrawer) -> tuple[TypedSize, ...]:
    """Its sizes in the order of ``DIMENSIONS``."""
    return drawer.width, drawer.depth, drawer.height


def _set_and_words(catalogue: Catalogue, what: str) -> tuple[str, str]:
    """The set, and what of it: words of a group's name, or its whole name; blank for the whole set."""
    for organizer in catalogue.organizers:
        if organizer.part and organizer.part.lower() == what.lower():
            return organizer.set, organizer.group
    words, _, set_name = what.rpartition(" of ")
    return set_name.strip(), words.strip().removeprefix("the ").strip()


def _chosen(question: Question, words: str, set_name: str) -> tuple[Group, ...]:
    """The groups of these words: the one of that name, else all in whose name or family they stand."""
    if not words:
        return question.groups
    wanted = words.lower()
    named = tuple(one for one in question.groups if wanted in map(str.lower, (one.name, *one.also)))
    found = named or tuple(one for one in question.groups if wanted in f"{one.name} {one.family}".lower())
    if not found:
        known = ", ".join(one.name for one in question.groups)
        raise UnknownNameError(f"no group {words!r} in {set_name}; it has: {known}")
    return found


def _drawer(row: int, typed: TypedDrawer) -> Drawer:
    """The drawer with guesses as they are, and all that is not known as large as any."""
    sizes = (
        size.length or LARGEST_INSIDE[dimension] for size, dimension in zip(sizes_typed(typed), DIMENSIONS, strict=True)
    )
    width, depth, height = sizes
    return Drawer(CABINET, typed.name, 1, 1, row, width, depth, height, slot=typed.slot)


def _answered(question: Question, what: str, drawers: Sequence[TypedDrawer]) -> AskedDrawers:
    told = {
        (one.name, dimension): size
        for one in drawers
        for size, dimension in zip(sizes_typed(one), DIMENSIONS, strict=True)
    }
    found = looked_for(question, told, {place: _step(drawers, place) for place in told})
    if found is None:
        return AskedDrawers(what, tuple(drawers), answer(question), (), _would_do(question, drawers))
    return AskedDrawers(what, tuple(drawers), found.outcome, found.conditions)


@dataclass(frozen=True, slots=True)
class ConditionalPlan:
    """A plan that holds under conditions: the sizes not known are in it as small as these allow, and guesses hold."""

    outcome: Outcome
    conditions: tuple[Condition, ...]


def looked_for(
    question: Question, told: Mapping[Place, TypedSize], steps: Mapping[Place, int]
) -> ConditionalPlan | None:
    """The least sizes with which there is a plan, of those that are not sure; nothing where none are large enough.

    In the question those that are not known are as large as any; a size is told to its step.
    """
    unknown = [place for place, size in told.items() if size.length is None]
    guesses = {place: size.length for place, size in told.items() if size.length is not None and size.guessed}
    trial = _trial(question, {place: LARGEST_INSIDE[place[1]] for place in guesses})
    if trial is None:
        return None
    sizes = dict(trial.base)
    found: dict[Place, int] = {}
    for place in [*unknown, *guesses] if trial.guesses_hold else [*guesses, *unknown]:
        found[place] = trial.least(sizes, place, steps[place])
        if place in unknown:
            sizes[place] = found[place]
        elif not trial.guesses_hold:
            sizes[place] = max(guesses[place], found[place])
    conditions = []
    for place in (place for place in told if found.get(place, 0) > steps[place]):
        needed = trial.too_little(place, found[place] - steps[place])
        conditions.append(Condition(*place, found[place], guesses.get(place), needed))
    return ConditionalPlan(answer(_with(question, sizes)), tuple(conditions))


def _would_do(question: Question, drawers: Sequence[TypedDrawer]) -> tuple[Condition, ...]:
    """Of a single drawer that is too small the sizes of which each alone would be enough, what they ask for least."""
    if len(drawers) > 1:
        return ()
    found = []
    for dimension in DIMENSIONS:
        place, (box,) = (drawers[0].name, dimension), question.cabinet.drawers
        trial = _trial(_with(question, {place: LARGEST_INSIDE[dimension]}), {})
        if trial is not None:
            at_least, given = trial.least({}, place, _step(drawers, place)), size_of(box, dimension)
            found.append(Condition(*place, at_least, given, trial.too_little(place, at_least - _step(drawers, place))))
    return tuple(sorted(found, key=lambda one: one.at_least - (one.told or 0)))


@dataclass(frozen=True, slots=True)
class _SizeTrial:
    """The question with sizes changed: guesses as ``base`` says, those that are not known as large as any.

    ``ordered`` looks at ordered layouts alone, which is quick; then a size found is enough but may be more than needed.
    """

    question: Question
    base: Mapping[Place, int]
    widest: Mapping[Place, int]
    ordered: bool

    @property
    def guesses_hold(self) -> bool:
        """Whether there is a plan where the guesses are right."""
        return not self.base

    def least(self, sizes: Mapping[Place, int], place: Place, step: int) -> int:
        """The least multiple of the step with which there is a plan, found by halving, the other sizes as they are."""
        given = {**{(one.name, place[1]): size_of(one, place[1]) for one in self.question.cabinet.drawers}, **sizes}
        low, high = 0, -(-given[place] // step)
        while high - low > 1:
            middle = (low + high) // 2
            changed = _with(self.question, {**sizes, place: middle * step})
            fits = verdict_of(changed, self.ordered, EFFORT) == "fits"
            low, high = (low, middle) if fits else (middle, high)
        return high * step

    def too_little(self, place: Place, size: int) -> bool:
        """Whether it is proved that there is no plan with this size, however large all others are that are not sure."""
        if size <= 0:
            return True
        return verdict_of(_with(self.question, {**self.widest, place: size}), effort=EFFORT) == "does not fit"


def _trial(question: Question, widest: Mapping[Place, int]) -> _SizeTrial | None:
    """With guesses as they are if there is a plan then, else as large as any; nothing where there is none even so."""
    for base in ({}, widest) if widest else ({},):
        for ordered in (True, False):
            if verdict_of(_with(question, base), ordered, EFFORT) == "fits":
                return _SizeTrial(question, base, widest, ordered)
    return None


def _step(drawers: Iterable[TypedDrawer], place: Place) -> int:
    """To what a size that is looked for is told: 1/16 in where the drawer was told in inches, else 1 mm."""
    return PER_INCH // 16 if any(one.inches for one in drawers if one.name == place[0]) else PER_MM


def _with(question: Question, sizes: Mapping[Place, int]) -> Question:
    return _in_cabinet(question, with_sizes(question.cabinet, sizes)) if sizes else question
