"""Of the sizes that serve one group, those that mean the least work (a p-median problem, CP-SAT)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from matcher.packing import solve
from matcher.records import counted


@dataclass(frozen=True, slots=True)
class Medians:
    """Sizes (rows) chosen, the row that serves each column, and whether no choice costs less."""

    rows: tuple[int, ...]
    served_by: tuple[int, ...]
    cost: int
    proved: bool


def medians(costs: Sequence[Sequence[int | None]], most: int, work: float, seed: int) -> Medians:
    """The fewest rows, at most ``most``, that serve every column, and of these the cheapest; ``None`` serves not.

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
    model.add(sum(made) <= most)
    dearest = 1 + sum(max((row[c] or 0 for row in costs), default=0) for c in columns)
    cost = sum((costs[r][c] or 0) * variable for (r, c), variable in serves.items())
    model.minimize(dearest * sum(made) + cost)
    answer = solve(model, work, seed)
    if not answer.found:
        raise ValueError(f"of {counted(len(costs), 'size')} no {most} serve {counted(len(costs[0]), 'place')}")
    chosen = tuple(r for r in rows if answer.of(made[r]))
    nearest = tuple(min((r for r in chosen if (r, c) in serves), key=lambda r: (costs[r][c] or 0, r)) for c in columns)
    total = sum(costs[r][c] or 0 for c, r in enumerate(nearest))
    return Medians(chosen, nearest, total, answer.status == "optimal")
