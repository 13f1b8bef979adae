"""Packings of a few items that straight cuts from side to side take apart, found through shape curves.

Up to three items this is exact: a straight cut from side to side parts any three rectangles that do not overlap, and
another one the two that are left. Four round a hole cannot be parted so (`matcher.packing.wheels`). Where more items
are not found to go in, the search has to decide.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import TypeAlias

from matcher.packing.problem import PackingProblem, Position, Size
from matcher.packing.staircases import Staircase, behind, beside, merged, staircase_of

MOST = 6
"""Up to this many items all cuts are tried. Of n items there are about 3^n / 2 pairs of parts to be joined."""

ItemSet: TypeAlias = frozenset[int]
"""Numbers of some of the items."""
Curves: TypeAlias = dict[ItemSet, Staircase]
"""The shape curve of each set of items: the rooms that it can be cut from."""
Corner: TypeAlias = tuple[int, int]
"""Distances of a front left corner from the left and from the front."""


def sliced(problem: PackingProblem) -> tuple[Position, ...] | None:
    """Positions that side-to-side cuts lead to, in a room with nothing blocked; nothing if there are none."""
    curves = slicing_curves([staircase_of((w, d) for _, w, d in item) for item in problem.items])
    whole = frozenset(range(len(problem.items)))
    if not curves[whole].holds(problem.width, problem.depth):
        return None
    found = places(curves, whole, (problem.width, problem.depth))
    return tuple(
        (next(index for index, w, d in item if w <= found[n][1][0] and d <= found[n][1][1]), *found[n][0])
        for n, item in enumerate(problem.items)
    )


def slicing_curves(items: Sequence[Staircase]) -> Curves:
    """The shape curve of every set of at least one of the items, whatever their order and the cuts."""
    curves: Curves = {frozenset([index]): item for index, item in enumerate(items)}
    for size in range(2, len(items) + 1):
        for members in combinations(range(len(items)), size):
            whole = frozenset(members)
            halves = [(curves[one], curves[other]) for one, other in _halves(whole)]
            curves[whole] = merged([join(pair, 0) for pair in halves for join in (beside, behind)])
    return curves


def places(curves: Curves, whole: ItemSet, room: Size, corner: Corner = (0, 0)) -> dict[int, tuple[Corner, Size]]:
    """The front left corner and the size of each room, one for each item of ``whole``, that the room is cut into.

    Raises
    ------
    ValueError
        The room is smaller than the curve of these items allows.
    """
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
    """Every way to part a set in two, each once: the least number is always in the first part."""
    first, *others = sorted(whole)
    for size in range(len(others)):
        for more in combinations(others, size):
            one = frozenset((first, *more))
            yield one, whole - one
