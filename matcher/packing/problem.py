"""A packing problem, and the same problem in the smallest numbers that have the same answer.

The *room* is the rectangle that has to hold all items; its front left corner is (0, 0). Lengths are whole numbers of
one unit, in this project 1/320 mm. A size *beats* another if it is neither wider nor deeper than the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import gcd
from typing import Literal, TypeAlias

from matcher.records import Rectangle, between

Size: TypeAlias = tuple[int, int]
"""Width and depth of an item."""
Position: TypeAlias = tuple[int, int, int]
"""Where an item lies: the index of the size that it takes, and the distances of its left and front sides."""
Sizes: TypeAlias = tuple[tuple[int, int, int], ...]
"""The sizes of an item that matter, narrowest first: index among all its sizes, width, depth."""
PackStatus: TypeAlias = Literal["found", "excluded", "open"]
"""All items were placed; it is proved that they cannot be; the work budget was too small to decide."""


@dataclass(frozen=True, slots=True)
class Packing:
    """Whether the items go in. ``positions`` has one entry for each item if they are ``found`` to, else it is empty."""

    status: PackStatus
    positions: tuple[Position, ...] = ()


@dataclass(frozen=True, slots=True)
class PackingProblem:
    """Items to be placed in a room of ``width`` x ``depth`` outside its ``blocked`` rectangles.

    Each item has only those of its sizes that go into the empty room and that none of its other sizes beats. Blocked
    rectangles lie inside the room and do not overlap. ``unit_width`` and ``unit_depth`` are what all widths and all
    depths of the original problem were divided by (see `reduced`).
    """

    items: tuple[Sizes, ...]
    width: int
    depth: int
    blocked: tuple[Rectangle, ...]
    unit_width: int = 1
    unit_depth: int = 1

    def restored(self, positions: Iterable[Position]) -> tuple[Position, ...]:
        """Positions in this problem, in the numbers of the problem that it was reduced from."""
        return tuple((choice, x * self.unit_width, y * self.unit_depth) for choice, x, y in positions)


def posed(choices: Sequence[Sequence[Size]], width: int, depth: int, blocked: Sequence[Rectangle]) -> PackingProblem:
    """The problem with only the sizes that matter; blocked rectangles are cut so that none overlaps or leaves the room.

    Raises
    ------
    ValueError
        A size is not positive.
    """
    if any(w <= 0 or d <= 0 for item in choices for w, d in item):
        raise ValueError("sizes to pack must be above 0")
    return PackingProblem(
        items=tuple(_useful(item, width, depth) for item in choices),
        width=max(width, 0),
        depth=max(depth, 0),
        blocked=_disjoint([clip for taken in blocked if (clip := _clipped(taken, width, depth))]),
    )


def reduced(problem: PackingProblem) -> PackingProblem:
    """A problem in smaller numbers that has the same answer.

    The items of any packing can be pushed left until each touches the left wall, a blocked rectangle or another item.
    If nothing is blocked, the right side of every item then lies at a sum of items' widths, so the room may shrink to
    the largest such sum that it holds. In any case every side then lies at a multiple of the greatest common divisor of
    the widths of items and of the left sides and widths of blocked rectangles. So all widths are divided by it, and the
    remainder of the room's width is of no use. The same holds for depths.
    """
    width = (
        problem.width if problem.blocked else _largest_sum([[w for _, w, _ in i] for i in problem.items], problem.width)
    )
    depth = (
        problem.depth if problem.blocked else _largest_sum([[d for _, _, d in i] for i in problem.items], problem.depth)
    )
    unit_width = gcd(*(w for item in problem.items for _, w, _ in item), *(n for b in problem.blocked for n in b[0::2]))
    unit_depth = gcd(*(d for item in problem.items for _, _, d in item), *(n for b in problem.blocked for n in b[1::2]))
    unit_width, unit_depth = max(unit_width, 1), max(unit_depth, 1)
    return PackingProblem(
        items=tuple(tuple((i, w // unit_width, d // unit_depth) for i, w, d in item) for item in problem.items),
        width=width // unit_width,
        depth=depth // unit_depth,
        blocked=tuple(
            Rectangle(left // unit_width, front // unit_depth, wide // unit_width, deep // unit_depth)
            for left, front, wide, deep in problem.blocked
        ),
        unit_width=unit_width,
        unit_depth=unit_depth,
    )


def _useful(item: Sequence[Size], width: int, depth: int) -> Sizes:
    """Sizes of an item that go into the empty room and that none of its other sizes beats, narrowest first."""
    inside = sorted((w, d, index) for index, (w, d) in enumerate(item) if w <= width and d <= depth)
    useful: list[tuple[int, int, int]] = []
    for w, d, index in inside:
        if not useful or d < useful[-1][2]:
            useful.append((index, w, d))
    return tuple(useful)


def _clipped(taken: Rectangle, width: int, depth: int) -> Rectangle | None:
    """What a rectangle takes of the room, if anything."""
    left, front = max(taken.left, 0), max(taken.front, 0)
    right, back = min(taken.right, width), min(taken.back, depth)
    return between(left, front, right, back) if left < right and front < back else None


def _disjoint(rectangles: Sequence[Rectangle]) -> tuple[Rectangle, ...]:
    """Rectangles that cover the same area without overlap: the area is cut along all left and right sides."""
    edges = sorted({side for taken in rectangles for side in (taken.left, taken.right)})
    return tuple(
        between(left, front, right, back)
        for left, right in pairwise(edges)
        for front, back in _united((r.front, r.back) for r in rectangles if r.left <= left and right <= r.right)
    )


def _united(spans: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """The union of spans (start, end): those that overlap or touch are joined."""
    joined: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return joined


def _largest_sum(options: Iterable[Iterable[int]], limit: int) -> int:
    """Largest sum up to ``limit`` of one or no number from each list; bit n of ``sums`` says that n is such a sum."""
    sums, within = 1, (1 << (limit + 1)) - 1
    for numbers in options:
        reached = sums
        for number in set(numbers):
            reached |= sums << number
        sums = reached & within
    return sums.bit_length() - 1
