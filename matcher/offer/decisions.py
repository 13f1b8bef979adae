"""What becomes of each bundle, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from matcher.house import House
from matcher.offer.bundles import Bundle, cents
from matcher.offer.choosing import Posed, by_pair
from matcher.offer.model import Choice
from matcher.planning import Fits
from matcher.records import UsageError, counted

Action: TypeAlias = Literal["keep", "add", "drop", "leave out"]


@dataclass(frozen=True, slots=True)
class Limits:
    """What the offer has to stay within; money in cents. ``each_set`` asks for at least one bundle of every set."""

    new_sizes: int
    budget: int
    bundles: int | None = None
    each_set: bool = False

    def affordable(self, setup: int) -> int:
        """New sizes that the budget pays for at ``setup`` cents each."""
        return self.budget // setup if setup else self.new_sizes


@dataclass(frozen=True, slots=True)
class Decision:
    """What becomes of a pair and why.

    ``bundle`` has the plan that is offered, else the one that lacks the fewest sizes. ``new_sizes`` are the names of
    those it uses, ``further_sizes`` what it would need beyond those made.
    """

    bundle: Bundle
    action: Action
    code: str
    why: str
    new_sizes: tuple[str, ...] = ()
    further_sizes: int = 0


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
    for name, given in (("new sizes", new_sizes), ("budget", budget), ("bundles", bundles)):
        if given is not None and given < 0:
            raise UsageError(f"{name} {given:g}: expected 0 or more")
    return limits


def decisions(case: Posed, choice: Choice, used: Sequence[tuple[str, ...]], limits: Limits) -> tuple[Decision, ...]:
    """One decision a pair; ``used`` names the new sizes that each bundle of the case uses."""
    return tuple(_decision(case, rows, choice, used, limits) for rows in by_pair(case.bundles).values())


def _decision(
    case: Posed, rows: Sequence[int], choice: Choice, used: Sequence[tuple[str, ...]], limits: Limits
) -> Decision:
    ready = any(isinstance(case.bundles[b].outcome, Fits) and not case.market.needs[b] for b in rows)
    in_range = ready or case.bundles[rows[0]].demand.offered == "must"
    for b in rows:
        if b in choice.bundles:
            code, why = _why_offered(case.bundles[b], used[b])
            return Decision(case.bundles[b], "keep" if in_range else "add", code, why, used[b])
    made = set(choice.sizes)
    further, b = min((sum(not serving & made for serving in case.market.needs[b]), b) for b in rows)
    code, why = _why_not(case, b, choice, further, limits)
    return Decision(case.bundles[b], "drop" if in_range else "leave out", code, why, (), further)


def _why_offered(bundle: Bundle, names: Sequence[str]) -> tuple[str, str]:
    code = "must" if bundle.demand.offered == "must" else "gain"
    return code, f"needs new {', '.join(names)}" if names else "every organizer exists"


def _why_not(case: Posed, b: int, choice: Choice, further: int, limits: Limits) -> tuple[str, str]:
    """The first cause that alone keeps a bundle out, given the sizes that are made."""
    bundle, setup = case.bundles[b], case.market.setup
    if not isinstance(bundle.outcome, Fits):
        told = bundle.outcome.reasons[0].text if bundle.outcome.reasons else "no plan"
        return bundle.outcome.verdict, told
    if bundle.demand.offered == "no":
        return "ruled out", "the demand table says no"
    cost = _least_cost(case, b, frozenset(choice.sizes))
    work = " and work on foam" if cost != further * setup else ""
    what = f"{counted(further, 'further new size')}{work}"
    asks = f"brings {_money(bundle.brings)} a year, against {_money(cost)} for {what}"
    if bundle.brings <= cost:
        return "not worth its set-up", asks
    if limits.bundles is not None and len(choice.bundles) >= limits.bundles:
        return "limit of bundles", f"{asks}; allowed: {counted(limits.bundles, 'bundle')}"
    if len(choice.sizes) + further > limits.new_sizes:
        return "limit of new sizes", f"{asks}; left: {limits.new_sizes - len(choice.sizes)} of {limits.new_sizes}"
    if len(choice.sizes) + further > limits.affordable(setup):
        left = limits.budget - setup * len(choice.sizes)
        return "budget", f"{asks}; {_money(left)} of {_money(limits.budget)} is left"
    return "not decided", f"{asks}; the search ended before it could weigh this"


def _money(amount: int) -> str:
    return f"{amount / 100:,.2f}"


def _least_cost(case: Posed, b: int, made: frozenset[int]) -> int:
    """What it costs to offer a bundle beside the sizes that are made: each place by the cheapest way for itself."""
    total = 0
    for place in (one for places in case.places for one in places if case.owner[one.need] == b):
        ready = [] if place.ready is None else [place.costs[place.ready] or 0]
        ways = [
            one.costs[place.need] + (0 if c in made else case.market.setup)
            for c, one in enumerate(case.candidates)
            if place.need in one.costs
        ]
        total += min(ready + ways, default=0)
    return total
