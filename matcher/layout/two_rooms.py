"""Ordered layouts round what stands in a drawer: the first tools in one clear rectangle, the others in another one.

Where something built into a drawer leaves no rectangle that takes a whole organizer, its foam is cut round it. The tree
(`matcher.layout.tree`) is cut in two where it may be: between columns, between rows, or within a series that is all
there is. One part then lies left of the other or in front of it, each in a rectangle of its own, so that all reads in
order (R16). Only some of the layouts that are possible: cut once, parts as plain blocks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations

from matcher.house import House
from matcher.layout.blocks import Block, Room, Spot
from matcher.layout.curves import layout_of
from matcher.layout.labels import labelled
from matcher.layout.poses import Rules, rules_for, sheets
from matcher.layout.rows import Beside, BlockRows, Either
from matcher.layout.series import Series
from matcher.layout.tree import organizer
from matcher.records import Group, Layout, Rectangle, SizedPiece, remembered


@dataclass(frozen=True, slots=True)
class _Halving:
    """A tree cut in two: the second part lies right of the first, ``aside``, or behind it. Where a ``series`` is cut,
    its lines must run the same way in both parts and so that it can still be read (R16)."""

    first: Block
    second: Block
    aside: bool
    series: bool = False

    def reads(self, spots: Sequence[Spot], bands: bool) -> bool:
        """Whether the spots of both parts read in order; flat lines in two rows of stretches only do with ``bands``."""
        if not self.series:
            return True
        upright = {spot.pose.way == "across" for spot in spots}
        return len(upright) == 1 and (not self.aside if True in upright else self.aside or bands)


def in_two_rooms(
    group: Group, rooms: Sequence[Rectangle], taken: Sequence[Rectangle], height: int, house: House
) -> tuple[Layout, int, int] | None:
    """A layout with pockets in two of the ``rooms``, nothing above ``height``; labels keep off what is ``taken``.

    Returns
    -------
    tuple of Layout, int and int, or None
        The layout, and where its field begins from the origin of the rooms; ``None`` if none was found.
    """
    for sheet in sheets(group.pieces, rules_for(group, house)):
        tree = organizer(group.pieces, sheet)
        for halving in _all_halvings(group.pieces, sheet):
            for one, other in permutations(rooms, 2):
                spots = _placed(halving, one, other, height)
                if spots and halving.reads(spots, house.layout.bands):
                    left, front = (min(spot.box[side] for spot in spots) for side in (0, 1))
                    layout = layout_of([spot.nearer(left, front) for spot in spots], tree.pieces, sheet)
                    off = [Rectangle(x - left, y - front, wide, deep) for x, y, wide, deep in taken]
                    return labelled(layout, group.pieces, 0, off), left, front
    return None


@remembered(256)
def _all_halvings(pieces: tuple[SizedPiece, ...], sheet: Rules) -> tuple[_Halving, ...]:
    """All halvings of the tree of these pieces: their blocks keep what was worked out for other rooms."""
    return tuple(_halvings(organizer(pieces, sheet).block))


def _halvings(block: Block) -> Iterator[_Halving]:
    """Every way to cut a block in two that keeps its order."""
    if isinstance(block, Either):
        for part in block.parts:
            yield from _halvings(part)
    elif isinstance(block, Beside) and not block.read:
        for n in range(1, len(block.parts)):
            yield _Halving(_beside(block.parts[:n]), _beside(block.parts[n:]), aside=True)
    elif isinstance(block, BlockRows):
        for n in range(1, len(block.parts)):
            first, second = _rows(block, 0, n), _rows(block, n, len(block.parts))
            yield _Halving(first, second, aside=False)
            if block.may_share[n]:
                yield _Halving(first, second, aside=True)
    elif isinstance(block, Series):
        for cut in block.laying.cuts:
            if 0 < cut < block.end:
                for aside in (True, False):
                    yield _Halving(block.part(0, cut), block.part(cut, block.end), aside, series=True)


def _beside(parts: tuple[Block, ...]) -> Block:
    return parts[0] if len(parts) == 1 else Beside(parts)


def _rows(block: BlockRows, first: int, end: int) -> Block:
    parts = block.parts[first:end]
    return parts[0] if len(parts) == 1 else BlockRows(parts, block.may_share[first:end])


def _placed(halving: _Halving, one: Rectangle, other: Rectangle, height: int) -> list[Spot]:
    """The spots of both parts in their rooms, a web between them; none if a part does not go in."""
    first, second = halving.first, halving.second
    webs = first.webs[-1], second.webs[-1]
    near, far = (part.curve(height, web) for part, web in zip((first, second), webs, strict=True))
    if halving.aside:
        wide = near.width_at(one.depth)
        start = max(other.left, one.left + wide + max(webs))
        mine, rest = Rectangle(one.left, one.front, wide, one.depth), other.right - start
        yours = Rectangle(start, other.front, rest, other.depth)
    else:
        deep = near.depth_at(one.width)
        start = max(other.front, one.front + deep + max(webs))
        mine, rest = Rectangle(one.left, one.front, one.width, deep), other.back - start
        yours = Rectangle(other.left, start, other.width, rest)
    if rest <= 0 or not mine.within(one) or not far.holds(yours.width, yours.depth):
        return []
    parts = ((first, webs[0], mine), (second, webs[1], yours))
    return [
        spot for part, web, room in parts for spot in part.spots(height, web, (room.width, room.depth), Room(*room))
    ]
