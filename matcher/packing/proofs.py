"""Short proofs that the items of a packing problem do not go in."""

from __future__ import annotations

from itertools import combinations

from matcher.packing.problem import PackingProblem


def excluded(problem: PackingProblem) -> bool:
    """Whether one of the short proofs applies."""
    return any(not item for item in problem.items) or too_much(problem) or too_long(problem) or pair_too_large(problem)


def too_much(problem: PackingProblem) -> bool:
    """Whether the least areas of all items exceed the area of the room that is not blocked."""
    need = sum(min(w * d for _, w, d in item) for item in problem.items)
    taken = sum(wide * deep for _, _, wide, deep in problem.blocked)
    return need + taken > problem.width * problem.depth


def too_long(problem: PackingProblem) -> bool:
    """Whether the items wider than half the room are deeper together than it, or those deeper than half of it wider.

    Two items wider than half the room cannot lie side by side, so their depths add up.
    """
    least = [(min(w for _, w, _ in item), min(d for _, _, d in item)) for item in problem.items]
    wide = sum(d for w, d in least if 2 * w > problem.width)
    deep = sum(w for w, d in least if 2 * d > problem.depth)
    return wide > problem.depth or deep > problem.width


def pair_too_large(problem: PackingProblem) -> bool:
    """Whether some two items go in neither side by side nor one behind the other, whatever sizes they take."""
    return any(
        all(w + v > problem.width and d + e > problem.depth for _, w, d in one for _, v, e in other)
        for one, other in combinations(problem.items, 2)
    )
