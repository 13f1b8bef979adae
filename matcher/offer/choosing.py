"""From needs and sizes to the plain market, and from a choice back to sizes with the least work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from matcher.fitting import effort_of
from matcher.house import House
from matcher.offer.bundles import Bundle, PairName
from matcher.offer.medians import medians
from matcher.offer.model import Choice, CostStep, Market
from matcher.offer.needs import Need
from matcher.offer.serving import Candidate, CostedPlace, candidates, places_of, steps_of
from matcher.offer.sizes import OrganizerSize, foam_of
from matcher.offer.sizings import Sizing, sizings_of
from matcher.records import How

MORE_THAN_FOAM = 1_000_000
"""Weighs a step of work above any organizer's area in square centimeters (10 m x 10 m)."""


@dataclass(frozen=True, slots=True)
class Promise:
    """One of ``bundles`` (indices) is to be offered."""

    text: str
    bundles: frozenset[int]


@dataclass(frozen=True, slots=True)
class Posed:
    """Bundles, one for each plan, with the market they make.

    ``owner`` of a need is its bundle; ``places`` by sizing, ``candidates`` are the new sizes of the market.
    """

    bundles: tuple[Bundle, ...]
    needs: tuple[Need, ...]
    owner: tuple[int, ...]
    sizings: tuple[Sizing, ...]
    places: tuple[tuple[CostedPlace, ...], ...]
    candidates: tuple[Candidate, ...]
    promises: tuple[Promise, ...]
    market: Market


@dataclass(frozen=True, slots=True)
class SizeUse:
    """A need (index) of an offered bundle and the size that serves it, with work on it in cents a year.

    ``empty`` is how many pockets stay without a tool, where the size was made for a larger set.
    """

    need: int
    size: OrganizerSize
    how: How
    cost: int = 0
    empty: int = 0


def posed(bundles: Sequence[Bundle], setup: int, each_set: bool, house: House) -> Posed:
    """The market of the bundles; ``setup`` in cents, ``each_set`` promises a bundle of every set."""
    owned = [(b, need) for b, bundle in enumerate(bundles) for need in bundle.needs]
    needs, owner = tuple(need for _, need in owned), tuple(b for b, _ in owned)
    units = [bundles[b].demand.units for b in owner]
    sizings = sizings_of(needs, house)
    places = tuple(places_of(sizing, needs, units, house) for sizing in sizings)
    weighed = tuple(one for s, sizing in enumerate(sizings) for one in candidates(sizing, s, places[s]))
    promises = _promises(bundles, each_set)
    return Posed(
        bundles=tuple(bundles),
        needs=needs,
        owner=owner,
        sizings=sizings,
        places=places,
        candidates=weighed,
        promises=promises,
        market=_market(bundles, owner, [one for some in places for one in some], weighed, promises, setup),
    )


def _market(
    bundles: Sequence[Bundle],
    owner: Sequence[int],
    places: Sequence[CostedPlace],
    weighed: Sequence[Candidate],
    promises: Sequence[Promise],
    setup: int,
) -> Market:
    needs: list[list[frozenset[int]]] = [[] for _ in bundles]
    steps: list[CostStep] = []
    for place in sorted(places, key=lambda place: place.need):
        costs = {c: one.costs[place.need] for c, one in enumerate(weighed) if place.need in one.costs}
        ready = None if place.ready is None else place.costs[place.ready]
        if ready is None:
            needs[owner[place.need]].append(frozenset(costs))
        steps += steps_of(owner[place.need], ready, costs)
    return Market(
        brings=tuple(bundle.brings for bundle in bundles),
        needs=tuple(tuple(of) for of in needs),
        sizes=len(weighed),
        setup=setup,
        barred=frozenset(b for b, bundle in enumerate(bundles) if not bundle.offerable),
        promises=tuple(promise.bundles for promise in promises),
        either=tuple(frozenset(rows) for rows in by_pair(bundles).values() if len(rows) > 1),
        steps=tuple(steps),
    )


def by_pair(bundles: Sequence[Bundle]) -> dict[PairName, tuple[int, ...]]:
    """Indices of the bundles of each pair, one for each of its plans."""
    found: dict[PairName, tuple[int, ...]] = {}
    for b, bundle in enumerate(bundles):
        found[bundle.pair] = (*found.get(bundle.pair, ()), b)
    return found


def _promises(bundles: Sequence[Bundle], each_set: bool) -> tuple[Promise, ...]:
    musts = [
        Promise(f"{bundles[rows[0]].name} must stay (demand table)", frozenset(rows))
        for rows in by_pair(bundles).values()
        if bundles[rows[0]].demand.offered == "must"
    ]
    by_set: dict[str, set[int]] = {}
    for b, bundle in enumerate(bundles):
        by_set.setdefault(bundle.demand.set, set()).add(b)
    sets = [Promise(f"a bundle of {name} was asked for", frozenset(members)) for name, members in by_set.items()]
    return tuple(musts + sets if each_set else musts)


def uses_of(case: Posed, choice: Choice, house: House) -> tuple[SizeUse, ...]:
    """Which size serves each need of the chosen bundles: least money, then fewest sizes, then least work."""
    chosen = frozenset(n for n, bundle in enumerate(case.owner) if bundle in choice.bundles)
    found: dict[int, SizeUse] = {}
    for s, places in enumerate(case.places):
        most = sum(case.candidates[c].sizing == s for c in choice.sizes)
        found |= _served(case, s, [n for n, place in enumerate(places) if place.need in chosen], most, house)
    return tuple(found[n] for n in sorted(found))


def _served(case: Posed, number: int, columns: Sequence[int], most: int, house: House) -> Mapping[int, SizeUse]:
    """The places (columns) of a sizing, served by existing sizes and at most ``most`` new ones."""
    if not columns:
        return {}
    sizing, places = case.sizings[number], [case.places[number][column] for column in columns]
    rows = range(len(sizing.sizes))
    money = [[place.costs[row] for place in places] for row in rows]
    work = [
        [_work(sizing, row, column, place.units) if place.costs[row] is not None else None
         for column, place in zip(columns, places, strict=True)]
        for row in rows
    ]  # fmt: skip
    ready = sum(size.existing for size in sizing.sizes)
    answer = medians(
        work, most, house.work.drawers, house.work.seed, money=money, opening=case.market.setup, free=ready
    )
    served = {}
    for column, place, row in zip(columns, places, answer.served_by, strict=True):
        size, way, cost = sizing.sizes[row], sizing.ways[row][column], place.costs[row]
        assert way is not None
        assert cost is not None
        empty = max(0, size.pockets - sizing.tools[column])
        served[place.need] = SizeUse(place.need, size, way, cost, empty)
    return served


def _work(sizing: Sizing, row: int, column: int, units: float) -> int | None:
    """Work a year; between sizes of equal work, foam."""
    way = sizing.ways[row][column]
    return (
        None if way is None else max(1, round(units)) * (effort_of(way) * MORE_THAN_FOAM + foam_of(sizing.sizes[row]))
    )
