"""Bundles: what the demand table expects of a pair, joined with a plan of that pair."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TypeAlias, TypeVar

from matcher.house import House
from matcher.offer.needs import Need, needs_of
from matcher.planning import Fits, Outcome, plan
from matcher.records import Catalogue, Demand, Fill, UnknownNameError, UsageError
from matcher.screening import ALONE, Hands, ToldName, telling

PairName: TypeAlias = tuple[str, str]
"""Set, cabinet."""
Plans: TypeAlias = Mapping[PairName, Outcome]
S = TypeVar("S")
T = TypeVar("T")
R = TypeVar("R")


@dataclass(frozen=True, slots=True)
class Bundle:
    """A pair that may be offered with one of its plans. ``brings`` is units x margin in cents a year.

    ``needs`` are empty without a plan. ``moved`` tells where a second plan puts a group elsewhere than the first one:
    group, drawer there, drawer here.
    """

    demand: Demand
    outcome: Outcome
    brings: int
    needs: tuple[Need, ...]
    second: bool = False
    moved: tuple[tuple[str, str, str], ...] = ()

    @property
    def pair(self) -> PairName:
        """Set and cabinet."""
        return self.demand.set, self.demand.cabinet

    @property
    def name(self) -> str:
        """What a person calls it."""
        return f"{self.demand.set} in {self.demand.cabinet}"

    @property
    def offerable(self) -> bool:
        """Whether there is a plan and the demand table does not rule the pair out."""
        return isinstance(self.outcome, Fits) and self.demand.offered != "no"


def cents(money: float) -> int:
    """Money in whole cents, rounded to the nearest."""
    return round(Decimal(str(money)) * 100)


def latest(demand: Iterable[Demand]) -> tuple[Demand, ...]:
    """One row per pair, that of its latest year, sorted by set and cabinet."""
    rows = {(row.set, row.cabinet): row for row in sorted(demand, key=lambda row: (row.set, row.cabinet, row.year))}
    return tuple(rows.values())


def bundle_named(catalogue: Catalogue, name: str) -> PairName:
    """The pair that is called ``SET in CABINET``.

    Raises
    ------
    UnknownNameError
        The demand table has no such bundle.
    """
    pairs = {f"{row.set} in {row.cabinet}": (row.set, row.cabinet) for row in latest(catalogue.demand)}
    if name not in pairs:
        raise UnknownNameError(f"no bundle {name!r} (SET in CABINET) in the demand table; it has: {', '.join(pairs)}")
    return pairs[name]


def plans_of(
    catalogue: Catalogue,
    house: House,
    fill: Fill | None = None,
    told: ToldName | None = None,
    hands: Hands = ALONE,
) -> dict[PairName, Outcome]:
    """Plan every pair of the demand table.

    Raises
    ------
    UsageError
        The catalogue has no demand table.
    """
    pairs = [(row.set, row.cabinet) for row in latest(catalogue.demand)]
    if not pairs:
        raise UsageError("an offer needs a demand table (set, cabinet, units, margin); the catalogue has none")
    results = hands.results(_planned, (catalogue, house, fill), pairs)
    return dict(zip(pairs, telling(results, [f"{name} in {cabinet}" for name, cabinet in pairs], told), strict=True))


def _planned(shared: tuple[Catalogue, House, Fill | None], pair: PairName) -> Outcome:
    catalogue, house, fill = shared
    return plan(catalogue, house, *pair, fill, turns=False)


def bundles_of(catalogue: Catalogue, plans: Plans, second: Plans | None = None) -> tuple[Bundle, ...]:
    """Every pair of the demand table with its plan, sorted by set and cabinet; its second plan, if any, comes next."""
    found = []
    for row in latest(catalogue.demand):
        pair = row.set, row.cabinet
        found.append(_bundle(row, plans[pair]))
        if second and pair in second:
            other = _bundle(row, second[pair], second=True)
            found.append(replace(other, moved=_moved(plans[pair], second[pair])))
    return tuple(found)


def _bundle(row: Demand, outcome: Outcome, *, second: bool = False) -> Bundle:
    needs = needs_of(outcome, second=second) if isinstance(outcome, Fits) else ()
    return Bundle(row, outcome, round(Decimal(str(row.units)) * Decimal(str(row.margin)) * 100), needs, second)


def _moved(first: Outcome, second: Outcome) -> tuple[tuple[str, str, str], ...]:
    was, now = drawers_of(first), drawers_of(second)
    return tuple((group, was[group], now[group]) for group in sorted(now) if was[group] != now[group])


def drawers_of(outcome: Outcome) -> dict[str, str]:
    """The drawer of each group of a plan."""
    return {placed.group: placed.drawer for placed in outcome.plan.placements} if isinstance(outcome, Fits) else {}
