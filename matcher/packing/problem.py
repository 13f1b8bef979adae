"""A packing problem, brought into the smallest numbers that mean the same."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import gcd
from typing import Literal, TypeAlias

from matcher.records import Rectangle, between

Size: TypeAlias = tuple[int, int]
"""Width, depth."""
Position: TypeAlias = tuple[int, int, int]
"""Index of the size chosen, left, front."""
Sizes: TypeAlias = tuple[tuple[int, int, int], ...]
"""What an item may take: index of the size, width, depth."""
PackStatus: TypeAlias = Literal["found", "excluded", "open"]


@dataclass(frozen=True, slots=True)
class Packing:
    """Whether the items go in. ``positions`` has one entry an item if ``found``, else none."""

    status: PackStatus
    positions: tuple[Position, ...] = ()


@dataclass(frozen=True, slots=True)
class PackingProblem:
    """Items, each with the non-dominated sizes that go in alone as (index, width, depth), and the room for them.

    Blocks lie inside the room and apart from each other.
    """

    items: tuple[Sizes, ...]
    width: int
    depth: int
    blocked: tuple[Rectangle, ...]
    unit_width: int = 1
    unit_depth: int = 1

    def restored(self, positions: Iterable[Position]) -> tuple[Position, ...]:
        """Positions of this problem in the numbers of the problem it came from."""
        return tuple((choice, x * self.unit_width, y * self.unit_depth) for choice, x, y in positions)


def posed(choices: Sequence[Sequence[Size]], width: int, depth: int, blocked: Sequence[Rectangle]) -> PackingProblem:
    """Problem of the sizes that can matter, blocks clipped to the room and cut into pieces that do not overlap.

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
        blocked=_disjoint([clip for block in blocked if (clip := _clipped(block, width, depth))]),
    )


def reduced(problem: PackingProblem) -> PackingProblem:
    """The same problem in smaller numbers.

    Pushed to the left, every item stands at a sum of widths of other items, at the left wall or against a block. So
    without blocks the room may shrink to the largest sum of widths it holds, and with or without them every number may
    be divided by what divides all widths and edges of blocks; the remainder of the room is lost. The same holds for
    depths.
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
    """Sizes that go in alone and that no other one of the item beats, narrowest first."""
    inside = sorted((w, d, index) for index, (w, d) in enumerate(item) if w <= width and d <= depth)
    useful: list[tuple[int, int, int]] = []
    for w, d, index in inside:
        if not useful or d < useful[-1][2]:
            useful.append((index, w, d))
    return tuple(useful)


def _clipped(block: Rectangle, width: int, depth: int) -> Rectangle | None:
    left, front = max(block.left, 0), max(block.front, 0)
    right, back = min(block.right, width), min(block.back, depth)
    return between(left, front, right, back) if left < right and front < back else None


def _disjoint(blocks: Sequence[Rectangle]) -> tuple[Rectangle, ...]:
    """The union of rectangles, cut along all left and right edges."""
    edges = sorted({side for block in blocks for side in (block.left, block.right)})
    return tuple(
        between(left, front, right, back)
        for left, right in pairwise(edges)
        for front, back in _united((b.front, b.back) for b in blocks if b.left <= left and right <= b.right)
    )


def _united(spans: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Union of spans, touching ones joined."""
    joined: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return joined


def _largest_sum(options: Iterable[Iterable[int]], limit: int) -> int:
    """Largest sum up to ``limit`` of one or no number from each list; bit n of ``sums`` says that n can be reached."""
    sums, within = 1, (1 << (limit + 1)) - 1
    for numbers in options:
        reached = sums
        for number in set(numbers):
            reached |= sums << number
        sums = reached & within
    return sums.bit_length() - 1
