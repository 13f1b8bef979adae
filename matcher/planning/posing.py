"""One set in one cabinet, posed as an assignment problem: groups, drawers, fits, pins (R11), shared drawers (R6)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from itertools import pairwise
from typing import Literal, TypeAlias

from matcher.assignment import Box, Node, Option, Problem, Wished
from matcher.fitting import (
    Fit,
    Opening,
    Rectangle,
    corner_inset,
    counted_uses,
    effort_of,
    hand_height,
    opening,
    reach_cost,
)
from matcher.house import House
from matcher.packing import pack
from matcher.planning.pins import matches
from matcher.records import Cabinet, Catalogue, Drawer, Fill, Group, Pin, mm

Answer: TypeAlias = Literal["yes", "no", "open"]
Admit: TypeAlias = Callable[[Group, Drawer, House], Fit]

Choices: TypeAlias = tuple[tuple[tuple[int, int], ...], ...]
"""For each organizer the outside sizes it may take."""

ROW_PITCH = mm(10_000)
"""Stands in for real floor heights where a cabinet does not give them all: above any `level_mm`, so rows decide."""


@dataclass(frozen=True, slots=True)
class Case:
    """Everything the assignment of one set to one cabinet rests on; ``fits`` by (group index, drawer index)."""

    set: str
    cabinet: Cabinet
    groups: tuple[Group, ...]
    drawers: tuple[Drawer, ...]
    fits: Mapping[tuple[int, int], Fit]
    pins: tuple[Pin, ...]
    relations: tuple[Wished, ...]
    house: House


def pose(
    catalogue: Catalogue, house: House, sets: tuple[str, ...], cabinet: Cabinet, groups: Iterable[Group], admit: Admit
) -> Case:
    """Case of ``groups`` in ``cabinet`` with every pair admitted by ``admit``."""
    ordered = tuple(sorted(groups, key=lambda group: (group.tier, group.family, group.name)))
    drawers = usable(cabinet)
    return Case(
        set="+".join(sets),
        cabinet=cabinet,
        groups=ordered,
        drawers=drawers,
        fits=_fits(ordered, drawers, house, admit),
        pins=tuple(pin for pin in catalogue.pins if pin.set in ("", *sets) and pin.cabinet in ("", cabinet.name)),
        relations=(
            *(
                (i, j, relation.wish, relation.weight)
                for relation in catalogue.relations
                for i in named(ordered, relation.group)
                for j in named(ordered, relation.other)
                if i != j
            ),
            *_parts_beside(ordered, house.goals.parts_weight),
        ),
        house=house,
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
    house_only = any_layout and fit.shortfall is not None and fit.shortfall.scope == "house layout"
    return fit.status in ("yes", "open") or house_only


def problem_of(case: Case, fill: Fill, *, optimistic: bool = False, any_layout: bool = False) -> Problem:
    """The assignment problem of a case.

    ``optimistic`` counts open pairs as admissible and open drawers as shared; ``any_layout`` counts what only the
    house layout refuses as open too. Both serve proofs that no plan exists.
    """

    def possible(fit: Fit) -> bool:
        return may_go_in(fit, any_layout=any_layout) if optimistic else fit.status == "yes"

    together, uses = sharing(case), counted_uses(case.groups, case.house)

    def answer(drawer: int, groups: frozenset[int]) -> Answer:
        found = together(drawer, groups)
        drawn = any(case.groups[g].pieces for g in groups)
        return "open" if any_layout and found == "no" and drawn else found

    def hopeful(drawer: int, groups: frozenset[int]) -> Answer:
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
    fits = [fit for (index, _), fit in case.fits.items() if index == g and fit.status != "no"]
    areas = [size.width * size.depth for fit in fits for size in fit.sizes]
    closed = sized and areas and all(fit.sizes for fit in fits)
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
    if fit.alone is None:
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
class Shared:
    """Groups side by side in one drawer: per group its size (index into the fit's sizes), left and front; all of them
    keep ``inset`` from the opening's edges."""

    status: Literal["found", "excluded", "open"]
    positions: tuple[tuple[int, int, int], ...]
    inset: int = 0


def share(case: Case, drawer: int, groups: Iterable[int]) -> Shared:
    """Pack the organizers of ``groups`` (sorted) into a drawer; exact up to the work budget.

    Ready-made ones are re-cut only where they do not go in as they are or trimmed.
    """
    members = tuple(sorted(groups))
    fits = [case.fits[g, drawer] for g in members]
    if any(fit.status != "yes" or not fit.sizes for fit in fits):
        return Shared("open", ())
    space = opening(case.drawers[drawer], case.house)
    inset = max(corner_inset(case.groups[g], space, case.house) for g in members)
    every = tuple(tuple((size.width, size.depth) for size in fit.sizes) for fit in fits)
    kept = tuple(own[: _uncut(fit)] for own, fit in zip(every, fits, strict=True))
    found = _packed_clear(space, inset, kept, case.house)
    return found if found.status == "found" or kept == every else _packed_clear(space, inset, every, case.house)


def _uncut(fit: Fit) -> int:
    """How many of a fit's sizes, which come first, leave a ready-made organizer uncut; all of them if none does."""
    if fit.sizes[-1].how != "re-cut":
        return len(fit.sizes)
    return next(n for n, size in enumerate(fit.sizes) if size.how == "re-cut") or len(fit.sizes)


def _packed_clear(space: Opening, inset: int, choices: Choices, house: House) -> Shared:
    """Pack into the opening, ``inset`` from its walls if that is what its corners ask for."""
    whole = _within(space, 0, choices, house)
    if whole.status != "found" or not inset:
        return whole
    inner = _within(space, inset, choices, house)
    return inner if inner.status == "found" else Shared("open", ())


def _within(space: Opening, inset: int, choices: Choices, house: House) -> Shared:
    """Pack into the opening less ``inset`` at every wall."""
    width, depth = space.width - 2 * inset, space.depth - 2 * inset
    blocked = tuple((left - inset, front - inset, w, d) for left, front, w, d in space.blocked)
    status, positions = _packed(choices, width, depth, blocked, house)
    return Shared(status, tuple((choice, left + inset, front + inset) for choice, left, front in positions), inset)


@cache
def _packed(
    choices: Choices,
    width: int,
    depth: int,
    blocked: tuple[Rectangle, ...],
    house: House,
) -> tuple[Literal["found", "excluded", "open"], tuple[tuple[int, int, int], ...]]:
    answer = pack(choices, width, depth, blocked, work=house.work.free_layout, seed=house.work.seed)
    return answer.status, answer.positions


def sharing(case: Case) -> Callable[[int, frozenset[int]], Answer]:
    """Whether a drawer takes several groups together."""
    words: Mapping[str, Answer] = {"found": "yes", "excluded": "no", "open": "open"}

    def together(drawer: int, groups: frozenset[int]) -> Answer:
        return words[share(case, drawer, groups).status]

    return together
