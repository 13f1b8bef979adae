"""What may serve each place and what that costs a year: existing sizes, stock first, and the new ones worth making.

Trimming one organizer costs ``offer.trim_cost``, filler strips round it ``offer.shim_cost``; one of a new size
``offer.recut_cost`` more than its ready-made one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from matcher.fitting import effort_of
from matcher.house import House
from matcher.offer.model import CostStep
from matcher.offer.needs import Need
from matcher.offer.sizes import OrganizerSize
from matcher.offer.sizings import Sizing
from matcher.records import How


@dataclass(frozen=True, slots=True)
class CostedPlace:
    """One place of a bundle: its column in its sizing, units a year, and the existing size that is used, if any.

    ``costs`` are those of every size of the sizing in cents a year, ``None`` where it does not serve; of existing sizes
    only the one that is used serves, of new ones those that cost less.
    """

    need: int
    units: float
    ready: int | None
    costs: tuple[int | None, ...]


@dataclass(frozen=True, slots=True)
class Candidate:
    """A new size worth weighing: its sizing, its row there, and the needs it serves with what each costs a year."""

    sizing: int
    row: int
    costs: Mapping[int, int]


def money_for(size: OrganizerSize, way: How, need: Need, house: House) -> Decimal:
    """Work on one organizer of this size at this place, in the house's money."""
    again = not size.existing and (need.group.organizer is not None or need.placement.how == "re-cut")
    costs = {"shim": house.offer.shim_cost, "trim": house.offer.trim_cost}
    return Decimal(str(costs.get(way, 0))) + Decimal(str(house.offer.recut_cost if again else 0))


def places_of(sizing: Sizing, needs: Sequence[Need], units: Sequence[float], house: House) -> tuple[CostedPlace, ...]:
    """The places of a sizing; ``units`` a year by need."""
    return tuple(_place(sizing, column, needs, units[n], house) for column, n in enumerate(sizing.needs))


def _place(sizing: Sizing, column: int, needs: Sequence[Need], units: float, house: House) -> CostedPlace:
    need = needs[sizing.needs[column]]
    costs = [
        None if (way := ways[column]) is None else _yearly(size, way, need, units, house)
        for size, ways in zip(sizing.sizes, sizing.ways, strict=True)
    ]
    ready = _ready(sizing, column, costs, units)
    limit = None if ready is None else costs[ready]
    kept = [
        cost if row == ready or (cost is not None and not size.existing and (limit is None or cost < limit)) else None
        for row, (size, cost) in enumerate(zip(sizing.sizes, costs, strict=True))
    ]
    return CostedPlace(sizing.needs[column], units, ready, tuple(kept))


def _yearly(size: OrganizerSize, way: How, need: Need, units: float, house: House) -> int:
    """Cents a year, rounded to the nearest."""
    return round(money_for(size, way, need, house) * Decimal(str(units)) * 100)


def _ready(sizing: Sizing, column: int, costs: Sequence[int | None], units: float) -> int | None:
    """The existing size that is used: one whose stock is enough, then by least cost, then stock, then least work."""
    ranked = []
    for row, (size, ways) in enumerate(zip(sizing.sizes, sizing.ways, strict=True)):
        if size.existing and (way := ways[column]) is not None:
            stock = size.organizer.on_hand or 0
            empty = size.pockets - sizing.tools[column]
            ranked.append((not 0 < units <= stock, costs[row], not stock, effort_of(way), empty, row))
    return min(ranked)[-1] if ranked else None


def candidates(sizing: Sizing, number: int, places: Sequence[CostedPlace]) -> list[Candidate]:
    """New sizes that no other one beats, each way to serve once: it serves as much at no more cost."""
    best: dict[tuple[int | None, ...], int] = {}
    for row, size in enumerate(sizing.sizes):
        costs = tuple(place.costs[row] for place in places)
        if not size.existing and any(cost is not None for cost in costs):
            best.setdefault(costs, row)
    kept = [costs for costs in best if not any(_beats(other, costs) for other in best if other != costs)]
    ordered = sorted(kept, key=lambda costs: tuple((cost is None, cost or 0) for cost in costs))
    return [
        Candidate(
            number,
            best[costs],
            {place.need: cost for place, cost in zip(places, costs, strict=True) if cost is not None},
        )
        for costs in ordered
    ]


def _beats(one: Sequence[int | None], other: Sequence[int | None]) -> bool:
    return all(theirs is None or (own is not None and own <= theirs) for own, theirs in zip(one, other, strict=True))


def steps_of(bundle: int, ready: int | None, costs: Mapping[int, int]) -> Iterator[CostStep]:
    """What a place costs its bundle, step by step from the cheapest on.

    ``ready`` is the cost of the existing size, ``costs`` those of new sizes by their index; one of them must serve.
    """
    levels = sorted({*costs.values(), *([] if ready is None else [ready])})
    below = 0
    for n, level in enumerate(levels):
        saved_by = frozenset(s for s, cost in costs.items() if n and cost < level)
        if level > below:
            yield CostStep(bundle, saved_by, level - below)
        below = level
