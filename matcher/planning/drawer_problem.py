"""A case as an assignment problem: what each group costs in each drawer, what lies together, what stays free (R11)."""

from __future__ import annotations

from decimal import Decimal

from matcher.assignment import Box, Node, Option, Problem
from matcher.fitting import Fit, GoesIn, StaysOut, counted_uses, effort_of, hand_height, opening, reach_cost
from matcher.planning.joining import meant_by
from matcher.planning.pins import matches
from matcher.planning.posing import Case, may_go_in, pins_allow
from matcher.planning.sharing import TogetherAnswer, sharing
from matcher.records import PER_MM, Fill, mm

TENTH_LITER = 10**5 * PER_MM**3
ROW_PITCH = mm(10_000)
"""Stands in for real floor heights where a cabinet does not give them all: above any `level_mm`, so rows decide."""


def problem_of(
    case: Case,
    fill: Fill,
    *,
    optimistic: bool = False,
    any_layout: bool = False,
    mixing: int | None = 0,
    packing: float | None = None,
) -> Problem:
    """The assignment problem of a case.

    ``optimistic`` counts open pairs as admissible and open drawers as shared; ``any_layout`` counts what only the
    house layout refuses as open too. Both serve proofs that no plan exists. ``mixing`` is how many families beyond the
    first of a drawer all drawers together may hold, ``None`` any number; the house may forbid or free it altogether.
    ``packing`` is the budget of each look at what lies together, the house's if not given.
    Goal ``together`` is none of the problem's: it is settled by which groups and which mixing are posed.
    """

    def possible(fit: Fit) -> bool:
        return may_go_in(fit, any_layout=any_layout) if optimistic else isinstance(fit, GoesIn)

    together, uses = sharing(case, packing), counted_uses(case.groups, case.house)

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
            (g, d): _option(case, fit, g, d, uses[g])
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
        goals=tuple(name for name in case.house.goals.order if name not in ("together", *case.house.goals.off)),
        work=case.house.work,
        seed=case.house.work.seed,
        mixing={"needed": mixing, "free": None, "no": 0}[case.house.together.mix],
    )


def _node(case: Case, g: int, *, low: bool, sized: bool) -> Node:
    group = case.groups[g]
    fits = [fit for d in range(len(case.drawers)) if not isinstance(fit := case.fits[g, d], StaysOut)]
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


def _option(case: Case, fit: Fit, g: int, d: int, use: Decimal) -> Option:
    """What a group alone in a drawer costs; nothing where its fit there is still open.

    An organizer in the drawer that it was made to share is counted as lying in it with the others.
    """
    if not isinstance(fit, GoesIn):
        return Option(0, 0)
    hand = hand_height(case.drawers[d], fit.alone.height)
    reach = reach_cost(use, hand, case.house)
    area = min((size.width * size.depth for size in fit.sizes), default=fit.alone.width * fit.alone.depth)
    home = case.homes.get((g, d))
    if home and not home.alone:
        return Option(0, 0, reach, area)
    empty = _empty(case, d, area * fit.alone.height)
    return Option(effort_of(fit.alone.how), fit.gap_width + fit.gap_depth, reach, area, empty)


def _empty(case: Case, d: int, taken: int) -> int:
    """Square of the room, in tenths of a liter, that a drawer has beyond what is taken of it."""
    space = opening(case.drawers[d], case.house)
    return (max(0, space.width * space.depth * space.height - taken) // TENTH_LITER) ** 2


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
            area=max(0, space.width) * max(0, space.depth),
        )
        for drawer, space in zip(case.drawers, spaces, strict=True)
    )


def _apart(case: Case) -> tuple[tuple[int, int], ...]:
    pairs = {
        (min(i, j), max(i, j))
        for pin in case.pins
        if pin.rule == "apart"
        for i in meant_by(pin.group, case.groups)
        for j in meant_by(pin.other, case.groups)
        if i != j
    }
    return tuple(sorted(pairs))
