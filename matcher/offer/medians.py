"""Of the sizes that serve one group, those that cost and work the least (a p-median problem, CP-SAT)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain
from typing import TypeAlias

from ortools.sat.python import cp_model

from matcher.packing import solve
from matcher.records import counted

Costs: TypeAlias = Sequence[Sequence[int | None]]
"""By row and column; ``None`` where a row does not serve a column."""


@dataclass(frozen=True, slots=True)
class Medians:
    """Sizes (rows) chosen, the row that serves each column, and whether no choice costs less."""

    rows: tuple[int, ...]
    served_by: tuple[int, ...]
    cost: int
    proved: bool


def medians(
    costs: Costs, most: int, work: float, seed: int, *, money: Costs | None = None, opening: int = 0, free: int = 0
) -> Medians:
    """Rows, at most ``most``, that serve every column: the least money, then the fewest rows, then the least cost.

    ``money`` of a column and ``opening`` of a row count first, if given. The first ``free`` rows are there already:
    they neither count nor cost to open.

    Raises
    ------
    ValueError
        No choice of rows was found (a fault of the caller).
    """
    model = cp_model.CpModel()
    rows, columns = range(len(costs)), range(len(costs[0]))
    made = [model.new_bool_var(f"row {r}") for r in rows]
    serves = {(r, c): model.new_bool_var(f"{r} serves {c}") for r in rows for c in columns if costs[r][c] is not None}
    for c in columns:
        model.add_exactly_one(serves[r, c] for r in rows if (r, c) in serves)
    for (r, _), variable in serves.items():
        model.add_implication(variable, made[r])
    new = made[free:]
    model.add(sum(new) <= most)
    proved = True
    if money and any(chain.from_iterable(money)):
        paid = opening * sum(new) + _sum(money, serves)
        model.minimize(paid)
        first = solve(model, work, seed)
        proved = first.status == "optimal"
        if first.value is not None:
            model.add(paid <= first.value)
    dearest = 1 + sum(max((row[c] or 0 for row in costs), default=0) for c in columns)
    model.minimize(dearest * sum(new) + _sum(costs, serves))
    answer = solve(model, work, seed)
    if not answer.found:
        raise ValueError(f"of {counted(len(costs), 'size')} no {most} serve {counted(len(costs[0]), 'place')}")
    served_by = tuple(next(r for r in rows if (r, c) in serves and answer.of(serves[r, c])) for c in columns)
    chosen = tuple(sorted(set(served_by)))
    total = sum(costs[r][c] or 0 for c, r in enumerate(served_by))
    return Medians(chosen, served_by, total, proved and answer.status == "optimal")


def _sum(costs: Costs, serves: dict[tuple[int, int], cp_model.IntVar]) -> cp_model.LinearExpr:
    return cp_model.LinearExpr.weighted_sum(list(serves.values()), [costs[r][c] or 0 for r, c in serves])
