"""The fewest sheets for a list of blanks: first fit for a start, then an exact search from the bound upward.

The search deals kinds of blanks out to sheets (CP-SAT) and asks of each sheet whether its mixture goes on; a mixture
that does not is barred, and the blanks are dealt again: logic-based Benders decomposition (Hooker and Ottosson, 2003,
"Logic-based Benders decomposition", Mathematical Programming 96, pp. 33-60). A number of sheets is proved too small
when no dealing is left and every barred mixture was proved impossible.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement
from typing import TypeAlias

from matcher.cutting.dealing import deal
from matcher.cutting.guillotine import BlankSizes
from matcher.cutting.loads import loads, total
from matcher.packing import Packing, Position

Packer: TypeAlias = Callable[[Sequence[BlankSizes]], Packing]
"""Whether blanks go on one sheet."""
Mixture: TypeAlias = tuple[int, ...]
"""Kinds on one sheet, sorted, repeated as often as they are there."""

ROUNDS = 200
"""Dealings tried for one number of sheets."""


@dataclass(frozen=True, slots=True)
class Nest:
    """Blanks on sheets: for each sheet the index of the blank and its position. No fewer than ``bound`` suffice."""

    sheets: tuple[tuple[tuple[int, Position], ...], ...]
    bound: int

    @property
    def value(self) -> int:
        """Number of sheets."""
        return len(self.sheets)

    @property
    def proved(self) -> bool:
        """Whether no fewer sheets suffice."""
        return self.value == self.bound


def fewest(
    items: Sequence[BlankSizes],
    width: int,
    depth: int,
    packer: Packer,
    *,
    work: float,
    seed: int,
    start: Nest | None = None,
) -> Nest:
    """Put every blank on as few sheets as the work allows.

    Parameters
    ----------
    items : sizes each blank may take; every one goes on a sheet alone
    width, depth : of one sheet
    packer : whether blanks go on one sheet together, under a budget of its own
    work : deterministic time for one dealing
    seed : of the search
    start : sheets that are allowed, kept unless there are fewer

    Raises
    ------
    ValueError
        A blank goes on no sheet.
    """
    search = _Search(items, width, depth, packer)
    bound = count = search.bound()
    if start is not None and start.value == bound:
        return Nest(start.sheets, bound)
    best = search.first_fit()
    while count < len(best):
        dealt = search.dealt(count, work, seed)
        if dealt is None:
            break
        if dealt:
            best = dealt
            break
        count += 1
        bound = count if search.sure else bound
    if start is not None and start.value <= len(best):
        return Nest(start.sheets, bound)
    return Nest(search.positions(best), bound)


class _Search:
    """Kinds of blanks, which mixtures of them go on a sheet, and which are barred."""

    def __init__(self, items: Sequence[BlankSizes], width: int, depth: int, packer: Packer) -> None:
        self.items = items
        self.kinds = sorted(set(items), key=lambda sizes: (-_area(sizes), sizes))
        self.counts = [items.count(kind) for kind in self.kinds]
        self.area = width * depth
        self.loads = loads(self.kinds, self.counts, width, depth)
        self.packer = packer
        self.sure = True
        self.barred: set[Mixture] = set()
        self._known: dict[Mixture, Packing] = {}
        for pair in combinations_with_replacement(range(len(self.kinds)), 2):
            if all(self.counts[kind] >= number for kind, number in Counter(pair).items()) and self._too_much(pair):
                self.barred.add(pair)

    def bound(self) -> int:
        """Sheets that the loads alone ask for."""
        return max(-(-total(load, self.counts) // self.area) for load in self.loads)

    def first_fit(self) -> list[Mixture]:
        """Every blank, largest first, on the first sheet that takes it beside what is there."""
        sheets: list[Mixture] = []
        for kind, number in enumerate(self.counts):
            for _ in range(number):
                self._put(sheets, kind)
        return sheets

    def dealt(self, count: int, work: float, seed: int) -> list[Mixture] | None:
        """Mixtures for ``count`` sheets, none if that is impossible as far as known, ``None`` if not decided."""
        for _ in range(ROUNDS):
            sheets = deal(self.counts, self.loads, self.area, count, sorted(self.barred), work=work, seed=seed)
            if not sheets:
                return sheets
            wrong = [sheet for sheet in sheets if self.packing(sheet).status != "found"]
            if not wrong:
                return sheets
            for sheet in sorted(set(wrong)):
                self._bar(sheet)
        return None

    def packing(self, mixture: Mixture) -> Packing:
        """Whether a mixture goes on one sheet, asked once."""
        if mixture not in self._known:
            large = any(sum(load[kind] for kind in mixture) > self.area for load in self.loads)
            self._known[mixture] = Packing("excluded") if large else self.packer([self.kinds[k] for k in mixture])
        return self._known[mixture]

    def positions(self, sheets: Iterable[Mixture]) -> tuple[tuple[tuple[int, Position], ...], ...]:
        """Every blank by its index, in the order given, where its kind was put."""
        left = [[n for n, item in enumerate(self.items) if item == kind] for kind in self.kinds]
        return tuple(
            tuple((left[kind].pop(0), place) for kind, place in zip(sheet, self.packing(sheet).positions, strict=True))
            for sheet in sheets
        )

    def _put(self, sheets: list[Mixture], kind: int) -> None:
        for n, sheet in enumerate(sheets):
            if self.packing((*sheet, kind)).status == "found":
                sheets[n] = (*sheet, kind)
                return
        if self.packing((kind,)).status != "found":
            raise ValueError("a blank goes on no sheet")
        sheets.append((kind,))

    def _too_much(self, mixture: Mixture) -> bool:
        return self.packing(mixture).status == "excluded"

    def _bar(self, mixture: Mixture) -> None:
        """Bar a mixture, made as small as it can be, and all that only exchange a blank for a larger one."""
        if self._too_much(mixture):
            for kind in mixture:
                less = _without(mixture, kind)
                mixture = less if less and self._too_much(less) else mixture
            self.barred |= {mixture, *self._larger(mixture)}
        else:
            self.sure = False
            self.barred.add(mixture)

    def _larger(self, mixture: Mixture) -> set[Mixture]:
        return {
            tuple(sorted((*_without(mixture, small), kind)))
            for small in set(mixture)
            for kind in range(len(self.kinds))
            if kind != small and _covers(self.kinds[kind], self.kinds[small])
        }


def _without(mixture: Mixture, kind: int) -> Mixture:
    where = mixture.index(kind)
    return (*mixture[:where], *mixture[where + 1 :])


def _area(sizes: BlankSizes) -> int:
    return sizes[0][0] * sizes[0][1]


def _covers(large: BlankSizes, small: BlankSizes) -> bool:
    """Whether the small blank can lie wherever the large one does."""
    return all(any(w <= wide and d <= deep for w, d in small) for wide, deep in large)
