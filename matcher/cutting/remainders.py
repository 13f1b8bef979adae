"""A quick construction by straight cuts: each blank into a corner of an empty rectangle, whose rest is cut in two.

Guillotine rule with best short side fit (Jylanki, 2010, "A thousand ways to pack the bin"), in a few orders.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import product
from typing import TypeAlias

from matcher.packing import Position, Size
from matcher.records import Rectangle

Key: TypeAlias = Callable[[Sequence[Size]], int]


def filled(items: Sequence[Sequence[Size]], width: int, depth: int) -> tuple[Position, ...] | None:
    """Positions by the first order and rule that puts every blank on the sheet, or nothing."""
    orders = [sorted(range(len(items)), key=lambda n: (key(items[n]), n)) for key in _KEYS]
    attempts = (_placed(items, order, Rectangle(0, 0, width, depth), along) for order, along in product(orders, _RULES))
    return next((positions for positions in attempts if positions is not None), None)


def _placed(
    items: Sequence[Sequence[Size]], order: Iterable[int], sheet: Rectangle, along: Callable[[int, int], bool]
) -> tuple[Position, ...] | None:
    empty = [sheet]
    found: dict[int, Position] = {}
    for n in order:
        options = [
            (min(space.width - w, space.depth - d), space, choice, w, d)
            for choice, (w, d) in enumerate(items[n])
            for space in empty
            if w <= space.width and d <= space.depth
        ]
        if not options:
            return None
        _, space, choice, w, d = min(options)
        found[n] = (choice, space.left, space.front)
        empty.remove(space)
        empty += _rest(space, w, d, along(space.width - w, space.depth - d))
    return tuple(found[n] for n in range(len(items)))


def _rest(space: Rectangle, w: int, d: int, along: bool) -> list[Rectangle]:
    """What is left of a rectangle beside and behind a blank; the cut between runs across its width if ``along``."""
    left, front, width, depth = space
    beside = Rectangle(left + w, front, width - w, d if along else depth)
    behind = Rectangle(left, front + d, width if along else w, depth - d)
    return [rest for rest in (beside, behind) if rest.width and rest.depth]


def _narrow_right(right: int, back: int) -> bool:
    return right <= back


def _narrow_back(right: int, back: int) -> bool:
    return right > back


def _by_area(item: Sequence[Size]) -> int:
    return -item[0][0] * item[0][1]


def _by_length(item: Sequence[Size]) -> int:
    return -max(item[0])


def _by_breadth(item: Sequence[Size]) -> int:
    return -min(item[0])


_KEYS: tuple[Key, ...] = (_by_area, _by_length, _by_breadth)
_RULES = (_narrow_right, _narrow_back)
