"""Short proofs that the items of a packing problem do not go in."""

from __future__ import annotations

from itertools import combinations

from matcher.packing.problem import PackingProblem


def excluded(problem: PackingProblem) -> bool:
    """Whether one of the short proofs applies."""
    return any(not item for item in problem.items) or too_much(problem) or too_long(problem) or pair_apart(problem)


def too_much(problem: PackingProblem) -> bool:
    """Areas exceed what the room has left beside its blocks."""
    need = sum(min(w * d for _, w, d in item) for item in problem.items)
    taken = sum(wide * deep for _, _, wide, deep in problem.blocked)
    return need + taken > problem.width * problem.depth


def too_long(problem: PackingProblem) -> bool:
    """Items wider than half the room cannot lie side by side, so their depths add up; likewise for depths."""
    widths = [(min(w for _, w, _ in item), min(d for _, _, d in item)) for item in problem.items]
    wide = sum(d for w, d in widths if 2 * w > problem.width)
    deep = sum(w for w, d in widths if 2 * d > problem.depth)
    return wide > problem.depth or deep > problem.width


def pair_apart(problem: PackingProblem) -> bool:
    """Two items fit neither side by side nor one behind the other, whatever sizes they take."""
    return any(
        all(w + v > problem.width and d + e > problem.depth for _, w, d in one for _, v, e in other)
        for one, other in combinations(problem.items, 2)
    )
