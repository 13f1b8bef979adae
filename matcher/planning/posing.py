"""One set in one cabinet, posed as an assignment problem: groups, drawers, fits, pins (R11), shared drawers (R6)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise
from typing import Literal, TypeAlias

from matcher.assignment import Box, Node, Option, Problem, Wished
from matcher.fitting import (
    Fit,
    GoesIn,
    Opening,
    OutsideSize,
    Rectangle,
    Shortfall,
    StaysOut,
    corner_inset,
    counted_uses,
    effort_of,
    hand_height,
    opening,
    reach_cost,
)
from matcher.house import House
from matcher.packing import Packing, pack
from matcher.planning.pins import matches
from matcher.planning.question import Question
from matcher.records import Cabinet, Drawer, Fill, Group, Pin, mm

TogetherAnswer: TypeAlias = Literal["yes", "no", "open"]
"""Whether a drawer takes groups together."""
Admit: TypeAlias = Callable[[Group, Drawer, House], Fit]

OrganizerSizes: TypeAlias = tuple[tuple[tuple[int, int], ...], ...]
"""For each organizer the outside sizes it may take."""

ROW_PITCH = mm(10_000)
"""Stands in for real floor heights where a cabinet does not give them all: above any `level_mm`, so rows decide."""


@dataclass(frozen=True, slots=True)
class Case:
    """A question with the groups and drawers it comes down to; ``fits`` by (group index, drawer index).

    ``groups`` are those of the question, or parts of them where one had to be split.
    """

    question: Question
    groups: tuple[Group, ...]
    drawers: tuple[Drawer, ...]
    fits: Mapping[tuple[int, int], Fit]
    relations: tuple[Wished, ...]

    @property
    def house(self) -> House:
        """The house rules of the question."""
        return self.question.house

    @property
    def pins(self) -> tuple[Pin, ...]:
        """The pins of the question."""
        return self.question.pins

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
    return Case(
        question=question,
        groups=ordered,
        drawers=drawers,
        fits=_fits(ordered, drawers, question.house, admit),
        relations=(
            *(
                (i, j, relation.wish, relation.weight)
                for relation in question.catalogue.relations
                for i in named(ordered, relation.group)
                for j in named(ordered, relation.other)
                if i != j
            ),
            *_parts_beside(ordered, question.house.goals.parts_weight),
        ),
    )


def usable(cabinet: Cabinet) -> tuple[Drawer, ...]:
    """Drawers that may hold something, by bank, row and name."""
    return tuple(drawer for drawer in cabinet.drawers if drawer.slot != "blocked")


def named(groups: Iterable[Group], name: str) -> tuple[int, ...]:
    """Indices of the group called ``name``, or of its parts if it was split."""
    return tuple(index for index, group in enumerate(groups) if name in (group.name, group.part_of))


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
        relations=(),
    )


def posed_anew(case: Case, groups: Iterable[Group], admit: Admit) -> Case:
    """The case with other groups, which come sorted, and no wishes about how they lie to each other."""
    ordered = tuple(groups)
    return replace(case, groups=ordered, fits=_fits(ordered, case.drawers, case.house, admit), relations=())


def _fits(groups: Iterable[Group], drawers: Sequence[Drawer], house: House, admit: Admit) -> dict[tuple[int, int], Fit]:
    return {(g, d): admit(group, drawer, house) for g, group in enumerate(groups) for d, drawer in enumerate(drawers)}


def may_go_in(fit: Fit, *, any_layout: bool) -> bool:
    """Whether it is not proved that a group does not go in; with ``any_layout``, in whatever layout."""
    return not isinstance(fit, StaysOut) or (any_layout and fit.shortfall.scope == "house layout")


def problem_of(case: Case, fill: Fill, *, optimistic: bool = False, any_layout: bool = False) -> Problem:
    """The assignment problem of a case.

    ``optimistic`` counts open pairs as admissible and open drawers as shared; ``any_layout`` counts what only the
    house layout refuses as open too. Both serve proofs that no plan exists.
    """

    def possible(fit: Fit) -> bool:
        return may_go_in(fit, any_layout=any_layout) if optimistic else isinstance(fit, GoesIn)

    together, uses = sharing(case), counted_uses(case.groups, case.house)

    def answer(drawer: int, groups: frozenset[int]) -> TogetherAnswer:
        found = together(drawer, groups)
        drawn = any(case.groups[g].pieces for g in groups)
        return "open" if any_layout and found == "no" and drawn else found

    def hopeful(drawer: int, groups: frozenset[int]) -> TogetherAnswer:
        found = answer(drawer, groups)
        return "yes" if found == "open" else found

    return Problem(
        nodes=tuple(_node(case, g, low=optimistic, sized=not any_layout) for g in range(len(case.groups))),
        boxes=_boxes(case),
        options={
            (g, d): _option(case, fit, d, uses[g])
            for (g, d), fit in case.fits.items()
            if possible(fit) and pins_allow(case.pins, case.groups[g], case.drawers[d])
        },
        together=hopeful if optimistic else answer,
        relations=case.relations,
        apart=_apart(case),
        kept_free=frozenset(
            d
            for d, drawer in enumerate(case.drawers)
            if any(pin.rule == "keep free" and pin.count is None and matches(pin, drawer) for pin in case.pins)
        ),
        spare=tuple(
            (pin.count, frozenset(d for d, drawer in enumerate(case.drawers) if matches(pin, drawer)))
            for pin in case.pins
            if pin.count is not None
        ),
        swap=case.house.order.swap,
        level=case.house.order.level,
        fill=fill,
        goals=tuple(name for name in case.house.goals.order if name not in case.house.goals.off),
        work=case.house.work,
        seed=case.house.work.seed,
    )


def _node(case: Case, g: int, *, low: bool, sized: bool) -> Node:
    group = case.groups[g]
    fits = [fit for (index, _), fit in case.fits.items() if index == g and not isinstance(fit, StaysOut)]
    sizes = [fit.sizes if isinstance(fit, GoesIn) else () for fit in fits]
    areas = [size.width * size.depth for own in sizes for size in own]
    closed = sized and areas and all(sizes)
    return Node(
        name=group.name,
        tier=group.tier,
        family=group.family,
        mass=group.mass_low if low else group.mass_high,
        share=group.share,
        cased=group.cased,
        system=group.system,
        part_of=group.part_of,
        area=min(areas) if closed else 0,
    )


def _option(case: Case, fit: Fit, d: int, use: Decimal) -> Option:
    """What a group alone in a drawer costs; nothing where its fit there is still open."""
    if not isinstance(fit, GoesIn):
        return Option(0, 0)
    hand = hand_height(case.drawers[d], fit.alone.height)
    return Option(effort_of(fit.alone.how), fit.gap_width + fit.gap_depth, reach_cost(use, hand, case.house))


def _boxes(case: Case) -> tuple[Box, ...]:
    kinds: dict[object, int] = {}
    spaces = [opening(drawer, case.house) for drawer in case.drawers]
    known = all(drawer.above_ground is not None for drawer in case.drawers)
    return tuple(
        Box(
            name=drawer.name,
            bank=drawer.bank,
            last_bank=drawer.last_bank,
            row=drawer.row,
            floor=drawer.above_ground if known and drawer.above_ground is not None else -drawer.row * ROW_PITCH,
            load=drawer.load_rating,
            kind=kinds.setdefault((space, drawer.slot, drawer.load_rating), len(kinds)),
            area=space.width * space.depth,
        )
        for drawer, space in zip(case.drawers, spaces, strict=True)
    )


def pins_allow(pins: Iterable[Pin], group: Group, drawer: Drawer) -> bool:
    """Whether the pins about this group allow this drawer."""
    for pin in pins:
        if pin.group in (group.name, group.part_of) and pin.group:
            if pin.rule == "in" and not matches(pin, drawer):
                return False
            if pin.rule == "not in" and matches(pin, drawer):
                return False
    return True


def _apart(case: Case) -> tuple[tuple[int, int], ...]:
    pairs = {
        (min(i, j), max(i, j))
        for pin in case.pins
        if pin.rule == "apart"
        for i in named(case.groups, pin.group)
        for j in named(case.groups, pin.other)
        if i != j
    }
    return tuple(sorted(pairs))


# ---------------------------------------------------------------------------------------------------- shared drawers


@dataclass(frozen=True, slots=True)
class SideBySide:
    """Groups in one drawer: per group its size (index into the fit's sizes), left and front; all of them keep
    ``inset`` from the opening's edges."""

    positions: tuple[tuple[int, int, int], ...]
    inset: int = 0


@dataclass(frozen=True, slots=True)
class NotTogether:
    """It is proved that the groups do not go into the drawer together in the sizes they may take."""


@dataclass(frozen=True, slots=True)
class MaybeTogether:
    """The packing search found neither places for the groups nor a proof that there are none."""


Shared: TypeAlias = SideBySide | NotTogether | MaybeTogether


def share(case: Case, drawer: int, groups: Iterable[int]) -> Shared:
    """Pack the organizers of ``groups`` (sorted) into a drawer; exact up to the work budget.

    Ready-made ones are re-cut only where they do not go in as they are or trimmed.
    """
    members = tuple(sorted(groups))
    sizes = [_sizes(case.fits[g, drawer]) for g in members]
    if not all(sizes):
        return MaybeTogether()
    space = opening(case.drawers[drawer], case.house)
    inset = max(corner_inset(case.groups[g], space, case.house) for g in members)
    every = tuple(tuple((size.width, size.depth) for size in own) for own in sizes)
    kept = tuple(shapes[: _uncut(own)] for shapes, own in zip(every, sizes, strict=True))
    found = _packed_clear(space, inset, kept, case.house)
    return found if isinstance(found, SideBySide) or kept == every else _packed_clear(space, inset, every, case.house)


def _sizes(fit: Fit) -> tuple[OutsideSize, ...]:
    """The outside sizes in which a group may lie beside others; none where they are not known."""
    return fit.sizes if isinstance(fit, GoesIn) else ()


def _uncut(sizes: Sequence[OutsideSize]) -> int:
    """How many of the sizes, which come first, leave a ready-made organizer uncut; all of them if none does."""
    if sizes[-1].how != "re-cut":
        return len(sizes)
    return next(n for n, size in enumerate(sizes) if size.how == "re-cut") or len(sizes)


def _packed_clear(space: Opening, inset: int, choices: OrganizerSizes, house: House) -> Shared:
    """Pack into the opening, ``inset`` from its walls if that is what its corners ask for."""
    whole = _within(space, 0, choices, house)
    if not isinstance(whole, SideBySide) or not inset:
        return whole
    inner = _within(space, inset, choices, house)
    return inner if isinstance(inner, SideBySide) else MaybeTogether()


def _within(space: Opening, inset: int, choices: OrganizerSizes, house: House) -> Shared:
    """Pack into the opening less ``inset`` at every wall."""
    width, depth = space.width - 2 * inset, space.depth - 2 * inset
    blocked = tuple((left - inset, front - inset, w, d) for left, front, w, d in space.blocked)
    found = _packed(choices, width, depth, blocked, house)
    if found.status == "found":
        return SideBySide(tuple((n, left + inset, front + inset) for n, left, front in found.positions), inset)
    return NotTogether() if found.status == "excluded" else MaybeTogether()


@lru_cache(maxsize=100_000)
def _packed(choices: OrganizerSizes, width: int, depth: int, blocked: tuple[Rectangle, ...], house: House) -> Packing:
    return pack(choices, width, depth, blocked, work=house.work.free_layout, seed=house.work.seed)


def sharing(case: Case) -> Callable[[int, frozenset[int]], TogetherAnswer]:
    """Whether a drawer takes several groups together."""

    def together(drawer: int, groups: frozenset[int]) -> TogetherAnswer:
        found = share(case, drawer, groups)
        return "yes" if isinstance(found, SideBySide) else "no" if isinstance(found, NotTogether) else "open"

    return together
