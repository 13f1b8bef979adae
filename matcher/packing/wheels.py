"""Four items round a hole: the only way to lay four that no straight cut from side to side parts.

Why: where no cut parts them, what four rectangles share from left to right hangs together, and so does what they share
from front to back. Each pair shares one of the two at most, so of six pairs three share one and three the other, and
both kinds make a chain: a-b-c-d from left to right, then b-d-a-c from front to back. In such a chain a, b, c and d can
be pushed into a corner each.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations

import numpy as np

from matcher.packing.problem import PackingProblem, Position
from matcher.packing.staircases import Staircase, least_depths, staircase_of


def wheeled(problem: PackingProblem) -> tuple[Position, ...] | None:
    """Positions of four items in the corners of a room without blocks, or nothing if there are none.

    Front left and back right lie one behind the other, front right and back left side by side; whatever turns the other
    way round is this one mirrored.
    """
    curves = [staircase_of((w, d) for _, w, d in item) for item in problem.items]
    for order in permutations(range(4)):
        if order[0] < order[3]:  # turned half round it is the same
            sizes = _round([curves[n] for n in order], problem.width, problem.depth)
            if sizes:
                return _placed(problem, order, sizes)
    return None


def _round(corners: Sequence[Staircase], width: int, depth: int) -> list[tuple[int, int]] | None:
    """Largest sizes that leave room for each other: front left, front right, back left, back right."""
    near, right, left, far = corners
    wide, deep = near.widths[:, None], near.depths[:, None]
    beyond, behind = far.widths[None, :], far.depths[None, :]
    least_right = least_depths(right.turned, depth - far.depths)[None, :]
    least_left = least_depths(left.turned, depth - near.depths)[:, None]
    goes = (deep + behind <= depth) & (wide + least_right <= width) & (least_left + beyond <= width)
    found = np.argwhere(goes & (least_left + least_right <= width))
    if not len(found):
        return None
    i, j = (int(n) for n in found[0])
    one, other = (int(near.widths[i]), int(near.depths[i])), (int(far.widths[j]), int(far.depths[j]))
    behind_one, before_other = depth - one[1], depth - other[1]
    return [one, (right.width_at(before_other), before_other), (left.width_at(behind_one), behind_one), other]


def _placed(problem: PackingProblem, order: tuple[int, ...], sizes: list[tuple[int, int]]) -> tuple[Position, ...]:
    """Each item in the first of its own sizes that goes into the one found, pushed into its corner."""
    positions: dict[int, Position] = {}
    for corner, (n, (width, depth)) in enumerate(zip(order, sizes, strict=True)):
        index, w, d = next(size for size in problem.items[n] if size[1] <= width and size[2] <= depth)
        positions[n] = index, (problem.width - w if corner % 2 else 0), (problem.depth - d if corner > 1 else 0)
    return tuple(positions[n] for n in range(4))
