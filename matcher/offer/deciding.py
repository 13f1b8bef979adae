"""The offer: what to keep, add, drop and leave out, what to make for it, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from matcher.house import House
from matcher.offer.bundles import Plans, bundles_of, cents
from matcher.offer.choosing import Posed, SizeUse, posed, uses_of
from matcher.offer.curve import CurvePoint, LastWorth, Next, for_all_promises, next_step, stops_paying, trade_off
from matcher.offer.decisions import Decision, Limits, decisions, limits_of
from matcher.offer.figures import Totals, Widest, break_even_units, commonality, totals, widest
from matcher.offer.model import Choice, Fewest, best
from matcher.offer.sizes import OrganizerSize
from matcher.offer.tracing import BundleTrace, trace
from matcher.records import Catalogue, Run, UsageError


@dataclass(frozen=True, slots=True)
class Made:
    """A new size: what it opens up. ``brings`` in cents a year is of all bundles that need it.

    ``earns`` is its part of that: a bundle's margin, less work on its foam, shared equally among the new sizes it uses,
    in cents a year; ``break_even`` the units that pay its set-up at that part.
    """

    name: str
    size: OrganizerSize
    uses: tuple[SizeUse, ...]
    units: float
    brings: int
    earns: Fraction
    break_even: Fraction | None


@dataclass(frozen=True, slots=True)
class Stocked:
    """An existing size that the offer uses: how many a year, and how many of them are on hand."""

    size: OrganizerSize
    uses: tuple[SizeUse, ...]
    units: float
    from_stock: float

    @property
    def to_cut(self) -> float:
        """What stock does not cover, a year."""
        return self.units - self.from_stock


@dataclass(frozen=True, slots=True)
class Missed:
    """A promise that is not kept, and the fewest new sizes that would keep it, if it were the only one."""

    text: str
    alone: Fewest


@dataclass(frozen=True, slots=True)
class Weighed:
    """A point of the trade-off with its sums; ``affordable`` tells whether the budget pays for its sizes."""

    point: CurvePoint
    totals: Totals
    affordable: bool


@dataclass(frozen=True, slots=True)
class Offer:
    """The whole answer; money in cents, gain and units a year, set-up paid once.

    ``unlimited`` is the best choice with any number of new sizes, within the limit of bundles. ``traces`` are those of
    the decisions, ``None`` without a plan. ``costs`` are what work on one organizer costs, by house rule.
    """

    limits: Limits
    setup: int
    costs: tuple[tuple[str, float], ...]
    choice: Choice
    totals: Totals
    decisions: tuple[Decision, ...]
    made: tuple[Made, ...]
    stocked: tuple[Stocked, ...]
    widest: tuple[Widest, ...]
    points: tuple[Weighed, ...]
    one_more: Choice
    next: Next
    unlimited: Choice
    missed: tuple[Missed, ...]
    for_all: Fewest | None
    commonality: Fraction | None
    traces: tuple[BundleTrace | None, ...]
    cases: Posed
    run: Run

    @property
    def stop(self) -> LastWorth | None:
        """Where on the curve more new sizes stop paying; ``None`` where it still rises at its end."""
        return stops_paying([weighed.point for weighed in self.points], self.unlimited)


def offer(
    catalogue: Catalogue, house: House, plans: Plans, limits: Limits | None = None, seconds: Plans | None = None
) -> Offer:
    """Choose bundles and new sizes exactly: promises kept first, then the most gain, then the least work on foam.

    ``plans`` holds an outcome for every pair of the demand table, ``seconds`` another plan for some of them: each pair
    is offered with whichever shares more. Bounds and proofs hold for these plans. Demand is taken as independent
    between cabinets.
    """
    limits = limits or limits_of(house)
    setup, work, seed = cents(house.offer.setup_cost), house.work.drawers, house.work.seed
    bundles = bundles_of(catalogue, plans, seconds)
    if not bundles:
        raise UsageError("an offer needs a demand table (set, cabinet, units, margin); the catalogue has none")
    case = posed(bundles, setup, limits.each_set, house)
    top = min(limits.new_sizes, case.market.sizes)
    points = trade_off(case.market, top + 1, limits.bundles, work, seed)
    most = min(top, limits.affordable(setup))
    choice = points[most].choice
    uses = uses_of(case, choice, house)
    made = _made(case, uses)
    every = len(case.promises)
    decided = decisions(case, choice, _used(case, made), limits)
    names = {use.need: one.name for one in made for use in one.uses}
    return Offer(
        limits=limits,
        setup=setup,
        costs=tuple((name, getattr(house.offer, name)) for name in ("shim_cost", "trim_cost", "recut_cost")),
        choice=choice,
        totals=totals(bundles, choice, case.market),
        decisions=decided,
        made=made,
        stocked=_stocked(case, uses),
        widest=tuple(sorted((widest(one, case.needs) for one in case.sizings), key=lambda one: (one.group, one.sets))),
        points=tuple(
            Weighed(point, totals(bundles, point.choice, case.market), point.limit <= limits.affordable(setup))
            for point in points[:-1]
        ),
        one_more=points[most + 1].choice,
        next=next_step(case.market, choice, limits.bundles, work, seed),
        unlimited=best(case.market, case.market.sizes, limits.bundles, work, seed),
        missed=_missed(case, choice, limits, work, seed),
        for_all=for_all_promises(case.market, limits.bundles, work, seed) if choice.kept < every else None,
        commonality=_commonality(case, uses),
        traces=tuple(trace(case, one.bundle, uses, names) for one in decided),
        cases=case,
        run=_run(plans, work),
    )


def _run(plans: Plans, work: float) -> Run:
    run = plans[min(plans)].run
    return replace(run, budgets=(*run.budgets, ("offer, each point", work)))


def _missed(case: Posed, choice: Choice, limits: Limits, work: float, seed: int) -> tuple[Missed, ...]:
    """Promises that are not kept, each with what it takes by itself."""
    return tuple(
        Missed(
            promise.text,
            for_all_promises(replace(case.market, promises=(promise.bundles,)), limits.bundles, work, seed),
        )
        for promise in case.promises
        if not promise.bundles & set(choice.bundles)
    )


# ------------------------------------------------------------------------------------------------------------ sizes


def _gathered(uses: Sequence[SizeUse], *, existing: bool) -> list[tuple[OrganizerSize, tuple[SizeUse, ...]]]:
    """Uses by size, in the order of their first use."""
    found: dict[OrganizerSize, list[SizeUse]] = {}
    for use in uses:
        if use.size.existing == existing:
            found.setdefault(use.size, []).append(use)
    return [(size, tuple(of)) for size, of in found.items()]


def _made(case: Posed, uses: Sequence[SizeUse]) -> tuple[Made, ...]:
    new = _gathered(uses, existing=False)
    shared_by = [sum(case.owner[use.need] == b for _, of in new for use in of) for b in range(len(case.bundles))]
    net = [
        bundle.brings - sum(use.cost for use in uses if case.owner[use.need] == b)
        for b, bundle in enumerate(case.bundles)
    ]
    shares = [Fraction(one, count) if count else Fraction(0) for one, count in zip(net, shared_by, strict=True)]
    return tuple(_made_one(case, f"N{i}", size, of, shares) for i, (size, of) in enumerate(new, start=1))


def _made_one(
    case: Posed, name: str, size: OrganizerSize, uses: tuple[SizeUse, ...], shares: Sequence[Fraction]
) -> Made:
    owners = [case.owner[use.need] for use in uses]
    units = sum(case.bundles[b].demand.units for b in owners)
    earns = sum((shares[b] for b in owners), Fraction(0))
    return Made(
        name=name,
        size=size,
        uses=uses,
        units=units,
        brings=sum(case.bundles[b].brings for b in sorted(set(owners))),
        earns=earns,
        break_even=break_even_units(case.market.setup, earns / Fraction(str(units))) if units else None,
    )


def _used(case: Posed, made: Sequence[Made]) -> list[tuple[str, ...]]:
    """Names of the new sizes that each bundle uses."""
    owners = [{case.owner[use.need] for use in one.uses} for one in made]
    return [
        tuple(one.name for one, own in zip(made, owners, strict=True) if b in own) for b in range(len(case.bundles))
    ]


def _stocked(case: Posed, uses: Sequence[SizeUse]) -> tuple[Stocked, ...]:
    found = []
    for size, of in _gathered(uses, existing=True):
        units = sum(case.bundles[case.owner[use.need]].demand.units for use in of)
        found.append(Stocked(size, of, units, min(units, size.organizer.on_hand or 0)))
    return tuple(found)


def _commonality(case: Posed, uses: Sequence[SizeUse]) -> Fraction | None:
    """Over existing and new sizes that the offer uses."""
    gathered = _gathered(uses, existing=False) + _gathered(uses, existing=True)
    return commonality([len({case.owner[use.need] for use in of}) for _, of in gathered])
