"""A *wheel*: four items round a hole. No other packing of four items needs more than cuts from side to side.

Why: take four rectangles that no straight cut from side to side parts. Call two of them linked across if some line from
front to back meets both, and linked along if some line from left to right does. The links across join all four, for
else a cut from front to back would part them; so do the links along. Two rectangles that do not overlap have at most
one of the two links, there are six pairs, and joining four takes three links. So there are three links of either kind,
and both are chains, since a star of three links leaves its middle none of the other kind: a-b-c-d across, then b-d-a-c
along. In such chains a, b, c and d can be pushed into a corner each.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations

import numpy as np

from matcher.packing.problem import PackingProblem, Position
from matcher.packing.staircases import Staircase, least_depths, staircase_of


def wheeled(problem: PackingProblem) -> tuple[Position, ...] | None:
    """Positions of four items, each in a corner of a room with nothing blocked; nothing if they do not go in so.

    The back right item begins behind the front left one, and the front right item to the right of the back left one. A
    wheel that turns the other way is such a wheel mirrored, and goes into the same rooms.
    """
    curves = [staircase_of((w, d) for _, w, d in item) for item in problem.items]
    for order in permutations(range(4)):
        if order[0] < order[3]:  # a wheel turned by 180 degrees is the same wheel
            sizes = _corner_sizes([curves[n] for n in order], problem.width, problem.depth)
            if sizes:
                return _placed(problem, order, sizes)
    return None


def _corner_sizes(corners: Sequence[Staircase], width: int, depth: int) -> list[tuple[int, int]] | None:
    """Sizes with which the items at front left, front right, back left and back right go in together, if there are any.

    Those at front right and back left may be as deep as the other two leave, and are as narrow as they can be then.
    """
    near, right, left, far = corners
    wide, deep = near.widths[:, None], near.depths[:, None]
    beyond, behind = far.widths[None, :], far.depths[None, :]
    least_right = least_depths(right.swapped, depth - far.depths)[None, :]
    least_left = least_depths(left.swapped, depth - near.depths)[:, None]
    goes = (deep + behind <= depth) & (wide + least_right <= width) & (least_left + beyond <= width)
    found = np.argwhere(goes & (least_left + least_right <= width))
    if not len(found):
        return None
    i, j = (int(n) for n in found[0])
    one, other = (int(near.widths[i]), int(near.depths[i])), (int(far.widths[j]), int(far.depths[j]))
    behind_one, before_other = depth - one[1], depth - other[1]
    return [one, (right.width_at(before_other), before_other), (left.width_at(behind_one), behind_one), other]


def _placed(problem: PackingProblem, order: tuple[int, ...], sizes: list[tuple[int, int]]) -> tuple[Position, ...]:
    """Positions: each item takes the first of its sizes that goes into the one found and is pushed into its corner."""
    positions: dict[int, Position] = {}
    for corner, (n, (width, depth)) in enumerate(zip(order, sizes, strict=True)):
        index, w, d = next(size for size in problem.items[n] if size[1] <= width and size[2] <= depth)
        positions[n] = index, (problem.width - w if corner % 2 else 0), (problem.depth - d if corner > 1 else 0)
    return tuple(positions[n] for n in range(4))
