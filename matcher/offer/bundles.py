"""Bundles: what the demand table expects of a pair, joined with the plan of that pair."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeAlias

from matcher.errors import UsageError
from matcher.house import House
from matcher.offer.needs import Need, needs_of
from matcher.planning import find_cabinet, plan
from matcher.records import Catalogue, Demand, Fill, Outcome

Pair: TypeAlias = tuple[str, str]
"""Set, cabinet."""
Told: TypeAlias = Callable[[int, int, str], None]
"""Told how many plans are done, of how many, and the pair that is next."""


@dataclass(frozen=True, slots=True)
class Bundle:
    """A pair that may be offered. ``brings`` is units x margin in cents a year; ``needs`` are empty without a plan."""

    demand: Demand
    outcome: Outcome
    brings: int
    needs: tuple[Need, ...]

    @property
    def name(self) -> str:
        """What a person calls it."""
        return f"{self.demand.set} in {self.demand.cabinet}"

    @property
    def offerable(self) -> bool:
        """Whether there is a plan and the demand table does not rule the pair out."""
        return self.outcome.plan is not None and self.demand.offered != "no"


def cents(money: float) -> int:
    """Money in whole cents, rounded to the nearest."""
    return round(Decimal(str(money)) * 100)


def latest(demand: Iterable[Demand]) -> tuple[Demand, ...]:
    """One row per pair, that of its latest year, sorted by set and cabinet."""
    rows = {(row.set, row.cabinet): row for row in sorted(demand, key=lambda row: (row.set, row.cabinet, row.year))}
    return tuple(rows.values())


def plans_of(
    catalogue: Catalogue, house: House, fill: Fill | None = None, told: Told | None = None
) -> dict[Pair, Outcome]:
    """Plan every pair of the demand table.

    Raises
    ------
    UsageError
        The catalogue has no demand table.
    """
    rows = latest(catalogue.demand)
    if not rows:
        raise UsageError("an offer needs a demand table (set, cabinet, units, margin); the catalogue has none")
    outcomes = {}
    for done, row in enumerate(rows):
        if told:
            told(done, len(rows), f"{row.set} in {row.cabinet}")
        outcomes[row.set, row.cabinet] = plan(catalogue, house, row.set, row.cabinet, fill)
    return outcomes


def bundles_of(catalogue: Catalogue, house: House, plans: Mapping[Pair, Outcome]) -> tuple[Bundle, ...]:
    """Every pair of the demand table with its plan, sorted by set and cabinet."""
    return tuple(_bundle(catalogue, house, row, plans[row.set, row.cabinet]) for row in latest(catalogue.demand))


def _bundle(catalogue: Catalogue, house: House, row: Demand, outcome: Outcome) -> Bundle:
    cabinet = find_cabinet(catalogue, row.cabinet)
    needs = needs_of(outcome.plan, cabinet, house) if outcome.plan else ()
    return Bundle(row, outcome, round(Decimal(str(row.units)) * Decimal(str(row.margin)) * 100), needs)
