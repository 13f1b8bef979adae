"""The offer: what to keep, add, drop and leave out, what to make for it, and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, TypeAlias

from matcher.errors import UsageError
from matcher.house import House
from matcher.offer.bundles import Bundle, Pair, bundles_of, cents
from matcher.offer.choosing import Posed, Use, posed, uses_of
from matcher.offer.curve import Next, Point, for_all_promises, next_gain, trade_off
from matcher.offer.figures import Totals, Widest, break_even_units, commonality, totals, widest
from matcher.offer.model import Choice, Fewest
from matcher.offer.sizes import Size
from matcher.records import Catalogue, Outcome, Run

Action: TypeAlias = Literal["keep", "add", "drop", "leave out"]


@dataclass(frozen=True, slots=True)
class Limits:
    """What the offer has to stay within; money in cents. ``each_set`` asks for at least one bundle of every set."""

    new_sizes: int
    budget: int
    bundles: int | None = None
    each_set: bool = False


@dataclass(frozen=True, slots=True)
class Made:
    """A new size: what it opens up. ``brings`` in cents a year is of all bundles that need it.

    ``earns`` is its part of that: a bundle's margin shared equally among the new sizes it uses, in cents a year;
    ``break_even`` the units that pay its set-up at that part.
    """

    name: str
    size: Size
    uses: tuple[Use, ...]
    units: float
    brings: int
    earns: Fraction
    break_even: Fraction | None


@dataclass(frozen=True, slots=True)
class Stocked:
    """An existing size that the offer uses: how many a year, and how many of them are on hand."""

    size: Size
    uses: tuple[Use, ...]
    units: float
    from_stock: float

    @property
    def to_cut(self) -> float:
        """What stock does not cover, a year."""
        return self.units - self.from_stock


@dataclass(frozen=True, slots=True)
class Decision:
    """What becomes of a bundle and why. ``further_sizes`` is what it would need beyond those made."""

    bundle: Bundle
    action: Action
    code: str
    why: str
    new_sizes: tuple[str, ...] = ()
    further_sizes: int = 0

    @property
    def told(self) -> str:
        """Cause and figures in one line."""
        return f"{self.code}: {self.why}"


@dataclass(frozen=True, slots=True)
class Weighed:
    """A point of the trade-off with its sums; ``affordable`` tells whether the budget pays for its sizes."""

    point: Point
    totals: Totals
    affordable: bool


@dataclass(frozen=True, slots=True)
class Offer:
    """The whole answer; money in cents, gain and units a year, set-up paid once."""

    limits: Limits
    setup: int
    choice: Choice
    totals: Totals
    decisions: tuple[Decision, ...]
    made: tuple[Made, ...]
    stocked: tuple[Stocked, ...]
    widest: tuple[Widest, ...]
    points: tuple[Weighed, ...]
    one_more: Choice
    next: Next
    missed: tuple[str, ...]
    for_all: Fewest | None
    commonality: Fraction | None
    cases: Posed
    run: Run


def limits_of(
    house: House,
    new_sizes: int | None = None,
    budget: float | None = None,
    bundles: int | None = None,
    *,
    each_set: bool = False,
) -> Limits:
    """The house's limits with those that were given instead.

    Raises
    ------
    UsageError
        A limit is below 0.
    """
    rules = house.offer
    limits = Limits(
        new_sizes=rules.max_new_sizes if new_sizes is None else new_sizes,
        budget=cents(rules.budget if budget is None else budget),
        bundles=bundles,
        each_set=each_set,
    )
    if min(limits.new_sizes, limits.budget, limits.bundles or 0) < 0:
        raise UsageError("limits of an offer (new sizes, budget, bundles) may not be below 0")
    return limits


def offer(catalogue: Catalogue, house: House, plans: Mapping[Pair, Outcome], limits: Limits | None = None) -> Offer:
    """Choose bundles and new sizes exactly: promises kept first, then the most gain, then the least work on foam.

    ``plans`` holds an outcome for every pair of the demand table. Demand is taken as independent between cabinets.
    """
    limits = limits or limits_of(house)
    setup, work, seed = cents(house.offer.setup_cost), house.work.drawers, house.work.seed
    bundles = bundles_of(catalogue, house, plans)
    if not bundles:
        raise UsageError("an offer needs a demand table (set, cabinet, units, margin); the catalogue has none")
    case = posed(bundles, setup, limits.each_set, house)
    top = min(limits.new_sizes, case.market.sizes)
    points = trade_off(case.market, top + 1, limits.bundles, work, seed)
    most = min(top, affordable(limits, setup))
    choice = points[most].choice
    uses = uses_of(case, choice, house)
    made = _made(case, uses, setup)
    every = len(case.promises)
    return Offer(
        limits=limits,
        setup=setup,
        choice=choice,
        totals=totals(bundles, choice, setup),
        decisions=tuple(_decision(case, b, choice, made, limits, setup) for b in range(len(bundles))),
        made=made,
        stocked=_stocked(case, uses),
        widest=tuple(sorted((widest(one, case.needs) for one in case.sizings), key=lambda one: one.group)),
        points=tuple(
            Weighed(point, totals(bundles, point.choice, setup), point.limit <= affordable(limits, setup))
            for point in points[:-1]
        ),
        one_more=points[most + 1].choice,
        next=next_gain(case.market, choice, limits.bundles, work, seed),
        missed=_missed(case, choice),
        for_all=for_all_promises(case.market, limits.bundles, work, seed) if choice.kept < every else None,
        commonality=_commonality(case, uses),
        cases=case,
        run=_run(plans, work),
    )


def affordable(limits: Limits, setup: int) -> int:
    """New sizes that the budget pays for."""
    return limits.budget // setup if setup else limits.new_sizes


def _run(plans: Mapping[Pair, Outcome], work: float) -> Run:
    run = plans[min(plans)].run
    return replace(run, budgets=(*run.budgets, ("offer, each point", work)))


def _missed(case: Posed, choice: Choice) -> tuple[str, ...]:
    return tuple(promise.text for promise in case.promises if not promise.bundles & set(choice.bundles))


# ------------------------------------------------------------------------------------------------------------ sizes


def _gathered(uses: Sequence[Use], *, existing: bool) -> list[tuple[Size, tuple[Use, ...]]]:
    """Uses by size, in the order of their first use."""
    found: dict[Size, list[Use]] = {}
    for use in uses:
        if use.size.existing == existing:
            found.setdefault(use.size, []).append(use)
    return [(size, tuple(of)) for size, of in found.items()]


def _made(case: Posed, uses: Sequence[Use], setup: int) -> tuple[Made, ...]:
    new = _gathered(uses, existing=False)
    shared_by = [sum(case.owner[use.need] == b for _, of in new for use in of) for b in range(len(case.bundles))]
    return tuple(_made_one(case, f"N{i}", size, of, shared_by, setup) for i, (size, of) in enumerate(new, start=1))


def _made_one(case: Posed, name: str, size: Size, uses: tuple[Use, ...], shared_by: Sequence[int], setup: int) -> Made:
    owners = [case.owner[use.need] for use in uses]
    units = sum(case.bundles[b].demand.units for b in owners)
    earns = sum((Fraction(case.bundles[b].brings, shared_by[b]) for b in owners), Fraction(0))
    return Made(
        name=name,
        size=size,
        uses=uses,
        units=units,
        brings=sum(case.bundles[b].brings for b in sorted(set(owners))),
        earns=earns,
        break_even=break_even_units(setup, earns / Fraction(str(units))) if units else None,
    )


def _stocked(case: Posed, uses: Sequence[Use]) -> tuple[Stocked, ...]:
    found = []
    for size, of in _gathered(uses, existing=True):
        units = sum(case.bundles[case.owner[use.need]].demand.units for use in of)
        found.append(Stocked(size, of, units, min(units, size.organizer.on_hand or 0)))
    return tuple(found)


def _commonality(case: Posed, uses: Sequence[Use]) -> Fraction | None:
    """Over existing and new sizes that the offer uses."""
    gathered = _gathered(uses, existing=False) + _gathered(uses, existing=True)
    return commonality([len({case.owner[use.need] for use in of}) for _, of in gathered])


# ---------------------------------------------------------------------------------------------------------- bundles


def _decision(case: Posed, b: int, choice: Choice, made: Sequence[Made], limits: Limits, setup: int) -> Decision:
    bundle = case.bundles[b]
    ready = bundle.outcome.plan is not None and not case.market.needs[b]
    in_range = ready or bundle.demand.offered == "must"
    if b in choice.bundles:
        names = tuple(one.name for one in made if any(case.owner[use.need] == b for use in one.uses))
        code, why = _why_offered(bundle, names)
        return Decision(bundle, "keep" if in_range else "add", code, why, names)
    further = sum(not serving & set(choice.sizes) for serving in case.market.needs[b])
    code, why = _why_not(case, b, choice, further, limits, setup)
    return Decision(bundle, "drop" if in_range else "leave out", code, why, (), further)


def _why_offered(bundle: Bundle, names: Sequence[str]) -> tuple[str, str]:
    code = "must" if bundle.demand.offered == "must" else "gain"
    return code, f"needs new {', '.join(names)}" if names else "every organizer exists"


def _why_not(case: Posed, b: int, choice: Choice, further: int, limits: Limits, setup: int) -> tuple[str, str]:
    """The first cause that alone keeps a bundle out, given the sizes that are made."""
    bundle, cost = case.bundles[b], further * setup
    if bundle.outcome.plan is None:
        told = bundle.outcome.reasons[0].text if bundle.outcome.reasons else "no plan"
        return bundle.outcome.verdict, told
    if bundle.demand.offered == "no":
        return "ruled out", "the demand table says no"
    asks = f"brings {_money(bundle.brings)} a year, its {further} further new sizes cost {_money(cost)}"
    if bundle.brings <= cost:
        return "not worth its set-up", asks
    if limits.bundles is not None and len(choice.bundles) >= limits.bundles:
        return "limit of bundles", f"{asks}; {limits.bundles} bundles are allowed"
    if len(choice.sizes) + further > limits.new_sizes:
        return "limit of new sizes", f"{asks}; {limits.new_sizes - len(choice.sizes)} of {limits.new_sizes} are left"
    if len(choice.sizes) + further > affordable(limits, setup):
        left = limits.budget - setup * len(choice.sizes)
        return "budget", f"{asks}; {_money(left)} of {_money(limits.budget)} is left"
    return "not decided", f"{asks}; the search ended before it could weigh this"


def _money(amount: int) -> str:
    return f"{amount / 100:,.2f}"
