"""From needs and sizes to the plain market, and from a choice back to sizes with the least work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from matcher.fitting import effort_of
from matcher.house import House
from matcher.offer.bundles import Bundle, PairName
from matcher.offer.medians import medians
from matcher.offer.model import Choice, Market
from matcher.offer.needs import Need
from matcher.offer.sizes import OrganizerSize, Sizing, foam_of, sizings_of
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

    ``owner`` of a need is its bundle; ``covers`` of the market by sizing.
    """

    bundles: tuple[Bundle, ...]
    needs: tuple[Need, ...]
    owner: tuple[int, ...]
    sizings: tuple[Sizing, ...]
    covers: tuple[tuple[int, frozenset[int]], ...]
    promises: tuple[Promise, ...]
    market: Market


@dataclass(frozen=True, slots=True)
class SizeUse:
    """A need (index) of an offered bundle and the size that serves it."""

    need: int
    size: OrganizerSize
    how: How


def posed(bundles: Sequence[Bundle], setup: int, each_set: bool, house: House) -> Posed:
    """The market of the bundles; ``setup`` in cents, ``each_set`` promises a bundle of every set."""
    owned = [(b, need) for b, bundle in enumerate(bundles) for need in bundle.needs]
    needs, owner = tuple(need for _, need in owned), tuple(b for b, _ in owned)
    sizings = sizings_of(needs, house)
    covers = tuple((s, cover) for s, sizing in enumerate(sizings) for cover in sizing.covers())
    met = frozenset().union(*(sizing.met() for sizing in sizings))
    promises = _promises(bundles, each_set)
    market = Market(
        brings=tuple(bundle.brings for bundle in bundles),
        needs=tuple(
            tuple(_serving(n, covers) for n, of in enumerate(owner) if of == b and n not in met)
            for b in range(len(bundles))
        ),
        sizes=len(covers),
        setup=setup,
        barred=frozenset(b for b, bundle in enumerate(bundles) if not bundle.offerable),
        promises=tuple(promise.bundles for promise in promises),
        either=tuple(frozenset(rows) for rows in by_pair(bundles).values() if len(rows) > 1),
    )
    return Posed(tuple(bundles), needs, owner, sizings, covers, promises, market)


def _serving(need: int, covers: Sequence[tuple[int, frozenset[int]]]) -> frozenset[int]:
    return frozenset(c for c, (_, cover) in enumerate(covers) if need in cover)


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
    """Which size serves each need of the chosen bundles: existing ones first, then the new sizes of least work."""
    chosen = frozenset(n for n, bundle in enumerate(case.owner) if bundle in choice.bundles)
    found: dict[int, SizeUse] = {}
    for s, sizing in enumerate(case.sizings):
        most = sum(case.covers[c][0] == s for c in choice.sizes)
        found |= _from_existing(sizing, chosen)
        found |= _from_new(case, sizing, sorted(chosen & set(sizing.needs) - found.keys()), most, house)
    return tuple(found[n] for n in sorted(found))


def _from_existing(sizing: Sizing, chosen: frozenset[int]) -> dict[int, SizeUse]:
    """Needs served by sizes on hand, then by other existing ones, each with the least work."""
    ready = [(size, ways) for size, ways in zip(sizing.sizes, sizing.ways, strict=True) if size.existing]
    found = {}
    for column, need in enumerate(sizing.needs):
        options = [
            (not size.organizer.on_hand, effort_of(way), row, way)
            for row, (size, ways) in enumerate(ready)
            if (way := ways[column]) is not None
        ]
        if options and need in chosen:
            *_, row, way = min(options)
            found[need] = SizeUse(need, ready[row][0], way)
    return found


def _from_new(case: Posed, sizing: Sizing, needs: Sequence[int], most: int, house: House) -> Mapping[int, SizeUse]:
    """The needs served by at most ``most`` new sizes with the least work a year."""
    if not needs:
        return {}
    columns = [sizing.needs.index(need) for need in needs]
    units = [max(1, round(case.bundles[case.owner[need]].demand.units)) for need in needs]
    new = [row for row, size in enumerate(sizing.sizes) if not size.existing]
    costs = [
        [_cost(sizing.sizes[row], sizing.ways[row][column], sold) for column, sold in zip(columns, units, strict=True)]
        for row in new
    ]
    answer = medians(costs, most, house.work.drawers, house.work.seed)
    served = {}
    for need, column, r in zip(needs, columns, answer.served_by, strict=True):
        way = sizing.ways[new[r]][column]
        assert way is not None
        served[need] = SizeUse(need, sizing.sizes[new[r]], way)
    return served


def _cost(size: OrganizerSize, way: How | None, units: int) -> int | None:
    """Work a year; between sizes of equal work, foam."""
    return None if way is None else units * (effort_of(way) * MORE_THAN_FOAM + foam_of(size))
