"""Figures for deciding on a size or a bundle."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from matcher.offer.bundles import Bundle
from matcher.offer.model import Choice, Market
from matcher.offer.needs import Need
from matcher.offer.sizes import OrganizerSize, work_on
from matcher.offer.sizings import Sizing
from matcher.records import How


def break_even_units(setup: Fraction | int, price: Fraction | int, unit_cost: Fraction | int = 0) -> Fraction | None:
    """Units that pay a new size's set-up: Q* = S / (p - v); ``None`` where a unit earns nothing.

    All three in the same money. Common practice, no source.
    """
    margin = Fraction(price) - Fraction(unit_cost)
    return Fraction(setup) / margin if margin > 0 else None


def commonality(uses: Sequence[int]) -> Fraction | None:
    """Degree of commonality index: bundles that use each part, summed, over the number of parts (Collier, 1981).

    ``None`` without parts.
    """
    return Fraction(sum(uses), len(uses)) if uses else None


@dataclass(frozen=True, slots=True)
class Totals:
    """Sums over the bundles of a choice: ``units``, ``brings`` and ``work`` (cents) a year, ``setup`` (cents) once.

    ``work`` is what trimming and re-cutting cost.
    ``unit_share`` is of all units of the demand table, ``installed_share`` of all installed cabinets that it names per
    bundle; ``None`` where it names none.
    """

    units: float
    brings: int
    work: int
    setup: int
    unit_share: float | None
    installed_share: float | None


def totals(bundles: Sequence[Bundle], choice: Choice, market: Market) -> Totals:
    """Sums of a choice on the market of these bundles."""
    offered = [bundles[b] for b in choice.bundles]
    pairs = [bundle for bundle in bundles if not bundle.second]
    return Totals(
        units=_units(offered),
        brings=sum(bundle.brings for bundle in offered),
        work=market.work(choice.bundles, choice.sizes),
        setup=market.setup * len(choice.sizes),
        unit_share=_share(_units(offered), _units(pairs)),
        installed_share=_share(_installed(offered), _installed(pairs)),
    )


def _units(bundles: Iterable[Bundle]) -> float:
    return sum(bundle.demand.units for bundle in bundles)


def _installed(bundles: Iterable[Bundle]) -> float:
    return sum(bundle.demand.installed or 0 for bundle in bundles)


def _share(part: float, whole: float) -> float | None:
    return part / whole if whole else None


@dataclass(frozen=True, slots=True)
class Widest:
    """The one size that goes as is, or trimmed once, into the most variants of a group's places.

    ``variants`` are the cabinets it serves so, ``shimmed`` those that it serves with a filler strip only, ``of`` all
    cabinets in which the group has a place.
    """

    group: str
    sets: tuple[str, ...]
    size: OrganizerSize
    variants: tuple[str, ...]
    shimmed: tuple[str, ...]
    of: tuple[str, ...]


def widest(sizing: Sizing, needs: Sequence[Need]) -> Widest:
    """The widest-serving size: most variants as is or trimmed, then with a shim, then least work, then least foam."""

    def reached(row: int, words: tuple[How, ...]) -> set[str]:
        return {needs[n].cabinet for n, way in zip(sizing.needs, sizing.ways[row], strict=True) if way in words}

    def rank(row: int) -> tuple[int, int, int, tuple[int, ...]]:
        plain, served = reached(row, ("as is", "trim")), reached(row, ("as is", "trim", "shim"))
        return -len(plain), -len(served), work_on(sizing.ways[row]), sizing.sizes[row].shape

    row = min(range(len(sizing.sizes)), key=rank)
    plain = reached(row, ("as is", "trim"))
    return Widest(
        sizing.group,
        tuple(sorted({needs[n].set for n in sizing.needs})),
        sizing.sizes[row],
        tuple(sorted(plain)),
        tuple(sorted(reached(row, ("shim",)) - plain)),
        tuple(sorted({needs[n].cabinet for n in sizing.needs})),
    )
