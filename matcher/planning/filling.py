"""Organizers that share a drawer, spread over all of it: no foam is wasted on strips that nothing lies in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain

from matcher.layout import shared_out
from matcher.records import Rectangle, between


@dataclass(frozen=True, slots=True)
class Packed:
    """An organizer where it was packed, and the outside sizes (width, depth) that suffice for it; none if it keeps its
    own, ready-made or cased."""

    place: Rectangle
    sizes: tuple[tuple[int, int], ...] = ()

    @property
    def turned(self) -> Packed:
        """The same with width and depth exchanged."""
        return Packed(self.place.turned, tuple(size[::-1] for size in self.sizes))


def filled(
    packed: Sequence[Packed], room: Rectangle, blocked: Sequence[Rectangle] = (), *, in_turn: bool = False
) -> tuple[Rectangle, ...]:
    """Rectangles no smaller than needed that share a room out, in the order given.

    Side by side over the whole depth if all of them can, else one behind another over the whole width, else each grown
    from where it was packed until it meets another, a block or the edge. In columns and rows they come as they were
    packed, or ``in_turn``: the first given leftmost, or in front.
    """
    if not blocked and all(one.sizes for one in packed):
        columns = _columns(packed, room, in_turn)
        if columns is not None:
            return columns
        rows = _columns([one.turned for one in packed], room.turned, in_turn)
        if rows is not None:
            return tuple(row.turned for row in rows)
    return _grown(packed, room, blocked)


def _columns(packed: Sequence[Packed], room: Rectangle, in_turn: bool) -> tuple[Rectangle, ...] | None:
    """Over the whole depth, from left to right, the width shared out by what each needs; or nothing."""
    left, front, width, depth = room
    enough = [[wide for wide, deep in one.sizes if deep <= depth] for one in packed]
    if not all(enough) or sum(map(min, enough)) > width:
        return None
    order = sorted(range(len(packed)), key=lambda n: (() if in_turn else packed[n].place[:2], n))
    spans = shared_out([min(enough[n]) for n in order], [0] * (len(order) - 1), width)
    found = {n: Rectangle(left + start, front, wide, depth) for n, (start, wide) in zip(order, spans, strict=True)}
    return tuple(found[n] for n in range(len(packed)))


def _grown(packed: Sequence[Packed], room: Rectangle, blocked: Sequence[Rectangle]) -> tuple[Rectangle, ...]:
    places = [one.place for one in packed]
    for n, one in enumerate(packed):
        if one.sizes:
            others = [*places[:n], *places[n + 1 :], *blocked]
            wider = _widened(places[n], room, others)
            places[n] = _widened(wider.turned, room.turned, [other.turned for other in others]).turned
    return tuple(places)


def _widened(place: Rectangle, room: Rectangle, others: Iterable[Rectangle]) -> Rectangle:
    """As far to the left and to the right as the room and the others level with it allow."""
    level = [other for other in others if other.front < place.back and place.front < other.back]
    begin = max(chain([room.left], (other.right for other in level if other.right <= place.left)))
    end = min(chain([room.right], (other.left for other in level if other.left >= place.right)))
    return between(begin, place.front, end, place.back)
