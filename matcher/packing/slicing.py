"""All ways to cut a few items apart by straight cuts from side to side, through their shape curves.

Exact for up to three items, for three rectangles can always be parted by such a cut and then again; four round a hole
cannot (`matcher.packing.wheels`). What is not found of more items is left to the search.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import TypeAlias

from matcher.packing.problem import PackingProblem, Position
from matcher.packing.staircases import Staircase, behind, beside, merged, staircase_of

MOST = 6
"""Items up to which all cuts are tried: 3^n / 2 pairs of parts."""

ItemSet: TypeAlias = frozenset[int]
Curves: TypeAlias = dict[ItemSet, Staircase]
Corner: TypeAlias = tuple[int, int]


def sliced(problem: PackingProblem) -> tuple[Position, ...] | None:
    """Positions by side-to-side cuts in a room without blocks, or nothing if there are none."""
    curves = slicing_curves([staircase_of((w, d) for _, w, d in item) for item in problem.items])
    whole = frozenset(range(len(problem.items)))
    if not curves[whole].holds(problem.width, problem.depth):
        return None
    corners = places(curves, whole, (problem.width, problem.depth))
    return tuple(
        (next(index for index, w, d in item if w <= corners[n][1][0] and d <= corners[n][1][1]), *corners[n][0])
        for n, item in enumerate(problem.items)
    )


def slicing_curves(items: Sequence[Staircase]) -> Curves:
    """Shape curve of every non-empty subset of the items, in any order and by any cuts."""
    curves: Curves = {frozenset([index]): item for index, item in enumerate(items)}
    for size in range(2, len(items) + 1):
        for members in combinations(range(len(items)), size):
            whole = frozenset(members)
            halves = [(curves[one], curves[other]) for one, other in _halves(whole)]
            curves[whole] = merged([join(pair, 0) for pair in halves for join in (beside, behind)])
    return curves


def places(curves: Curves, whole: ItemSet, room: Corner, corner: Corner = (0, 0)) -> dict[int, tuple[Corner, Corner]]:
    """Corner and room of every item of ``whole`` in a room that its curve says is enough."""
    if len(whole) == 1:
        return {next(iter(whole)): (corner, room)}
    (width, depth), (x, y) = room, corner
    for one, other in _halves(whole):
        wide, deep = curves[one].width_at(depth), curves[one].depth_at(width)
        if curves[other].holds(width - wide, depth):
            rest = places(curves, other, (width - wide, depth), (x + wide, y))
            return places(curves, one, (wide, depth), corner) | rest
        if curves[other].holds(width, depth - deep):
            rest = places(curves, other, (width, depth - deep), (x, y + deep))
            return places(curves, one, (width, deep), corner) | rest
    raise ValueError("the room is smaller than the shape curve allows")


def _halves(whole: ItemSet) -> Iterator[tuple[ItemSet, ItemSet]]:
    """Every way to part ``whole`` in two, the first of its members always in the first part."""
    first, *others = sorted(whole)
    for size in range(len(others)):
        for more in combinations(others, size):
            one = frozenset((first, *more))
            yield one, whole - one
