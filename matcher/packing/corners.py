"""A quick construction: it puts item after item into the front left corner of a rectangle that is still empty.

The largest items come first. All maximal empty rectangles are kept (Jylanki, 2010, "A thousand ways to pack the bin":
maximal rectangles). It may find a packing, but proves nothing if it does not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import product
from typing import TypeAlias

from matcher.packing.problem import PackingProblem, Position, Sizes
from matcher.records import Rectangle, between

Score: TypeAlias = Callable[[Rectangle, int, int], tuple[int, int]]
"""Rates a place, given the empty rectangle and the width and depth put into it; the place with the least is taken."""


def cornered(problem: PackingProblem) -> tuple[Position, ...] | None:
    """Positions by the first pair of an order and a score that places every item; nothing if none does."""
    orders = dict.fromkeys(_order(problem, key) for key in _KEYS)
    attempts = (_retried(problem, order, score) for order, score in product(orders, _SCORES))
    return next((positions for positions in attempts if positions is not None), None)


def _retried(problem: PackingProblem, order: tuple[int, ...], score: Score) -> tuple[Position, ...] | None:
    """Positions of all items, placed in this order; an item that finds no place comes first in the next attempt."""
    seen: set[tuple[int, ...]] = set()
    while order not in seen and len(seen) < max(2, _RETRIES // len(order)):
        seen.add(order)
        found = _placed(problem, order, score)
        if len(found) == len(order):
            return tuple(found[n] for n in range(len(order)))
        left_out = order[len(found)]
        order = (left_out, *(n for n in order if n != left_out))
    return None


def _order(problem: PackingProblem, key: Callable[[Sizes], int]) -> tuple[int, ...]:
    return tuple(sorted(range(len(problem.items)), key=lambda n: (key(problem.items[n]), n)))


def _placed(problem: PackingProblem, order: Iterable[int], score: Score) -> dict[int, Position]:
    """Positions of the items in this order, up to the first that finds no place."""
    empty = [Rectangle(0, 0, problem.width, problem.depth)]
    for taken in problem.blocked:
        empty = _without(empty, taken)
    found: dict[int, Position] = {}
    for n in order:
        options = [
            (score(space, w, d), space, choice, w, d)
            for choice, w, d in problem.items[n]
            for space in empty
            if w <= space.width and d <= space.depth
        ]
        if not options:
            break
        _, (left, front, _, _), choice, w, d = min(options)
        found[n] = (choice, left, front)
        empty = _without(empty, Rectangle(left, front, w, d))
    return found


def _without(empty: list[Rectangle], taken: Rectangle) -> list[Rectangle]:
    """The maximal rectangles that are empty once ``taken`` is used, given those that were empty before."""
    whole = [space for space in empty if not space.overlaps(taken)]
    cut = sorted({part for space in empty if space.overlaps(taken) for part in _rest(space, taken)})
    return whole + [
        part
        for part in cut
        if not any(part.within(other) for other in whole)
        and not any(part != other and part.within(other) for other in cut)
    ]


def _rest(space: Rectangle, taken: Rectangle) -> Iterator[Rectangle]:
    """The up to four largest rectangles of ``space`` beside ``taken``."""
    left, front, width, depth = space
    if taken.left > left:
        yield Rectangle(left, front, taken.left - left, depth)
    if taken.right < space.right:
        yield between(taken.right, front, space.right, space.back)
    if taken.front > front:
        yield Rectangle(left, front, width, taken.front - front)
    if taken.back < space.back:
        yield between(left, taken.back, space.right, space.back)


def _tightest(space: Rectangle, w: int, d: int) -> tuple[int, int]:
    slack = (space.width - w, space.depth - d)
    return min(slack), max(slack)


def _frontmost(space: Rectangle, _w: int, d: int) -> tuple[int, int]:
    return space.front + d, space.left


def _by_area(item: Sizes) -> int:
    return -min(w * d for _, w, d in item)


def _by_length(item: Sizes) -> int:
    return -min(max(w, d) for _, w, d in item)


def _by_depth(item: Sizes) -> int:
    return -min(d for _, _, d in item)


_RETRIES = 400
"""About how many items are placed in all attempts with one order and one score; there are at least two attempts."""
_KEYS = (_by_area, _by_length, _by_depth)
_SCORES: tuple[Score, ...] = (_tightest, _frontmost)
