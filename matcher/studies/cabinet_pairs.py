"""Two cabinets side by side for one set, planned as one with the drawers of both.

Groups are shared out between the two. Each bears and tips by itself, so cautions are told of each. Pairs that lack the
area that the set asks for at least are left out, which is proved; of the others the smallest by what counts first, or
by the foam they take, are planned, and how many are not is told.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement

from matcher.house import House
from matcher.planning import NO_WISHES, ask_each, find_cabinet, foam_asked
from matcher.records import Cabinet, Catalogue, Drawer, UsageError, Wishes
from matcher.studies.compared import RankBy

MOST_PAIRS = 12
"""So many pairs are planned unless told otherwise; own choice."""


@dataclass(frozen=True, slots=True)
class CabinetPairs:
    """The catalogue with pairs as its only cabinets, and how many there are: ``short`` lack area, ``left`` wait."""

    catalogue: Catalogue
    every: int
    short: int
    left: int

    @property
    def names(self) -> tuple[str, ...]:
        """What the pairs to be planned are called."""
        return tuple(cabinet.name for cabinet in self.catalogue.cabinets)


def cabinet_pairs(
    catalogue: Catalogue,
    house: House,
    set_name: str,
    cabinets: Iterable[str] = (),
    by: RankBy = "unused",
    most: int = MOST_PAIRS,
    wishes: Wishes = NO_WISHES,
) -> CabinetPairs:
    """The ``most`` pairs worth planning of these cabinets (none named: all), two of the same among them.

    Raises
    ------
    UnknownNameError
        A set or cabinet is not in the catalogue.
    UsageError
        Every pair lacks the area that the set asks for at least.
    """
    names = sorted(set(cabinets)) or [cabinet.name for cabinet in catalogue.cabinets]
    single = [find_cabinet(catalogue, name) for name in names]
    foam = _areas(catalogue, house, set_name, single, wishes)
    every = list(combinations_with_replacement(single, 2))
    enough = [pair for pair in every if sum(foam.there[one.name] for one in pair) >= foam.least]
    if not enough:
        raise UsageError(f"{set_name}: each of {len(every)} pairs of cabinets lacks the area that it asks for at least")
    ranked = sorted(enough, key=lambda pair: (_first(pair, by), sum(foam.there[one.name] for one in pair), _name(pair)))
    chosen = sorted((side_by_side(*pair) for pair in ranked[:most]), key=lambda one: one.name)
    return CabinetPairs(
        replace(catalogue, cabinets=tuple(chosen)), len(every), len(every) - len(enough), len(enough) - len(chosen)
    )


def side_by_side(left: Cabinet, right: Cabinet) -> Cabinet:
    """The two as one cabinet: the banks of the right one follow those of the left; names of drawers tell whose."""
    names = (left.name, right.name) if left.name != right.name else (f"{left.name} (1)", f"{right.name} (2)")
    banks = max(box.last_bank for box in left.drawers)
    pair, halves = _name((left, right)), []
    for name, cabinet, shift in zip(names, (left, right), (0, banks), strict=True):
        drawers = tuple(_moved(box, name, shift) for box in cabinet.drawers)
        halves.append(replace(cabinet, name=name, drawers=drawers))
    return Cabinet(
        name=pair,
        drawers=tuple(replace(box, cabinet=pair) for half in halves for box in half.drawers),
        width=_sum(left.width, right.width),
        depth=_larger(left.depth, right.depth),
        height=_larger(left.height, right.height),
        price=None if left.price is None or right.price is None else left.price + right.price,
        beside=tuple(halves),
    )


def _moved(box: Drawer, cabinet: str, shift: int) -> Drawer:
    return replace(
        box, cabinet=cabinet, name=f"{cabinet}/{box.name}", bank=box.bank + shift, last_bank=box.last_bank + shift
    )


def _name(pair: Sequence[Cabinet]) -> str:
    return " + ".join(cabinet.name for cabinet in pair)


@dataclass(frozen=True, slots=True)
class _FoamAreas:
    """Area that the set asks for at least, and what each cabinet has."""

    least: int
    there: dict[str, int]


def _areas(
    catalogue: Catalogue, house: House, set_name: str, cabinets: Sequence[Cabinet], wishes: Wishes
) -> _FoamAreas:
    asked = [foam_asked(question) for question in ask_each(catalogue, house, set_name, cabinets, wishes)]
    there = {cabinet.name: one.there for cabinet, one in zip(cabinets, asked, strict=True)}
    return _FoamAreas(min(one.least for one in asked), there)


def _first(pair: Sequence[Cabinet], by: RankBy) -> tuple[bool, float]:
    """What counts first as far as it is known before planning: the price, or the width; else nothing."""
    given: list[float | None] = [None, None]
    if by == "price":
        given = [cabinet.price for cabinet in pair]
    elif by == "width":
        given = [cabinet.width for cabinet in pair]
    else:
        return False, 0
    known = [value for value in given if value is not None]
    return len(known) < len(given), sum(known)


def _sum(one: int | None, other: int | None) -> int | None:
    return None if one is None or other is None else one + other


def _larger(one: int | None, other: int | None) -> int | None:
    return None if one is None or other is None else max(one, other)
