"""Kinds of blanks dealt out to sheets so that no sheet holds a barred mixture: one CP-SAT model."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from itertools import pairwise

from ortools.sat.python import cp_model

from matcher.cutting.loads import SheetLoad
from matcher.packing import solve


def deal(
    counts: Sequence[int],
    taken: Sequence[SheetLoad],
    area: int,
    sheets: int,
    barred: Sequence[tuple[int, ...]],
    *,
    work: float,
    seed: int,
) -> list[tuple[int, ...]] | None:
    """Kinds on each sheet, an empty list if there is no such dealing, ``None`` if the work did not decide.

    Parameters
    ----------
    counts : blanks of each kind
    taken : what one blank of each kind takes, the plain area first
    area : what a sheet holds of each load
    sheets : how many there are
    barred : mixtures of kinds that must not be together on a sheet
    """
    apart = _apart(counts, set(barred))
    if len(apart) > sheets:
        return []
    dealing = _Dealing(counts, sheets)
    for load in taken:
        dealing.limit(load, area)
    dealing.order(apart, taken[0])
    for mixture in barred:
        dealing.bar(mixture)
    answer = solve(dealing.model, work, seed)
    if answer.status == "infeasible":
        return []
    if not answer.found:
        return None
    return [tuple(kind for kind, n in enumerate(row) for _ in range(answer.of(n))) for row in dealing.held]


def _apart(counts: Sequence[int], barred: AbstractSet[tuple[int, ...]]) -> list[int]:
    """Blanks, by their kinds, of which no two go on one sheet: each, largest first, that bars all before it."""
    found: list[int] = []
    for kind, count in enumerate(counts):
        for _ in range(count):
            if all((other, kind) in barred for other in found):
                found.append(kind)
    return found


class _Dealing:
    """How many of each kind lie on each sheet."""

    def __init__(self, counts: Sequence[int], sheets: int) -> None:
        self.model = cp_model.CpModel()
        self.held = [[self.model.new_int_var(0, count, "") for count in counts] for _ in range(sheets)]
        self._literals: dict[tuple[int, int, int], cp_model.IntVar] = {}
        for kind, count in enumerate(counts):
            self.model.add(sum(row[kind] for row in self.held) == count)

    def limit(self, load: SheetLoad, area: int) -> None:
        """No sheet takes more of a load than it holds."""
        for row in self.held:
            self.model.add(self._sum(load, row) <= area)

    def order(self, apart: Sequence[int], load: SheetLoad) -> None:
        """Sheets are all alike: one for each blank that must lie apart, the others fullest first."""
        for row, kind in zip(self.held, apart, strict=False):
            self.model.add(row[kind] >= 1)
        for one, other in pairwise(self.held[len(apart) :]):
            self.model.add(self._sum(load, one) >= self._sum(load, other))

    def bar(self, mixture: tuple[int, ...]) -> None:
        """Keep a mixture off every sheet: of some kind there are fewer."""
        for sheet in range(len(self.held)):
            self.model.add_bool_or(self._fewer(sheet, kind, number) for kind, number in Counter(mixture).items())

    def _fewer(self, sheet: int, kind: int, number: int) -> cp_model.IntVar:
        """Whether fewer than ``number`` of a kind lie on a sheet."""
        key = sheet, kind, number
        if key not in self._literals:
            fewer = self._literals[key] = self.model.new_bool_var("")
            self.model.add(self.held[sheet][kind] < number).only_enforce_if(fewer)
            self.model.add(self.held[sheet][kind] >= number).only_enforce_if(~fewer)
        return self._literals[key]

    def _sum(self, load: SheetLoad, row: Sequence[cp_model.IntVar]) -> cp_model.LinearExpr:
        return cp_model.LinearExpr.weighted_sum(row, load)
