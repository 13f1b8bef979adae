"""Where every drawer seen from above stands on a poster: in the order of its rows, all at one scale.

Rows stand one under the other, the banks of a row side by side as in the front view. Where that would be too high the
rows go on in a further block to the right.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf
from typing import TypeAlias

from matcher.records import Cabinet, Drawer, to_mm
from matcher.report.front import FrontBox, front_of

LINE = 1.15
"""Height of a line of words, in font sizes."""
STEPS = 40
"""Halvings of the interval in which the scale is sought."""

Shelf: TypeAlias = tuple[tuple[Drawer, FrontBox], ...]
"""Drawers side by side, each with its box in the front view."""


@dataclass(frozen=True, slots=True)
class PosterRoom:
    """What a poster may take, in its own units: ``height`` may be infinite.

    ``em`` is the usual font size, ``least`` the smallest. Over each drawer there is room for ``lines`` of words. No
    drawer is drawn larger than at the scale ``most``.
    """

    width: float
    height: float
    em: float
    least: float
    lines: int = 1
    most: float = inf

    @property
    def head(self) -> float:
        """Height of the words over a drawer."""
        return 0.5 * self.em + LINE * self.em * self.lines

    @property
    def foot(self) -> float:
        """Height of bars and words under a drawer, with the distance to the next."""
        return 0.9 * self.em + 2 * LINE * self.least

    @property
    def gap(self) -> float:
        """Distance between two blocks."""
        return 1.8 * self.em


@dataclass(frozen=True, slots=True)
class PosterPlaces:
    """The box of each drawer in the cabinet's order; ``scale`` is units of the poster a millimeter."""

    width: float
    height: float
    scale: float
    boxes: tuple[FrontBox, ...]


def poster_places(cabinet: Cabinet, room: PosterRoom) -> PosterPlaces:
    """All drawers of a cabinet from above at the largest scale at which they go into the room.

    If they go in at no scale, the room is taken to be as high as they need.
    """
    shelves = _shelves(front_of(cabinet).drawers)
    left = min(box.x for shelf in shelves for _, box in shelf)
    across = max(box.x + box.width for shelf in shelves for _, box in shelf) - left
    scale = _largest_scale(shelves, across, room)
    blocks = _blocks(shelves, scale, room) or [shelves]
    placed = {
        drawer: box
        for number, block in enumerate(blocks)
        for drawer, box in _in_block(block, number * (across * scale + room.gap) - left * scale, scale, room)
    }
    return PosterPlaces(
        width=max(box.x + box.width for box in placed.values()),
        height=max(box.y + box.height for box in placed.values()) + room.foot,
        scale=scale,
        boxes=tuple(placed[drawer] for drawer in cabinet.drawers),
    )


def _shelves(drawers: Sequence[tuple[Drawer, FrontBox]]) -> list[Shelf]:
    """Rows from the top; drawers of a row that would lie over each other stand on shelves of their own."""
    shelves: list[tuple[int, list[tuple[Drawer, FrontBox]]]] = []
    for drawer, box in sorted(drawers, key=lambda one: (one[0].row, one[1].y, one[1].x)):
        for row, shelf in shelves:
            if row == drawer.row and all(not _across(box, other) for _, other in shelf):
                shelf.append((drawer, box))
                break
        else:
            shelves.append((drawer.row, [(drawer, box)]))
    return [tuple(shelf) for _, shelf in shelves]


def _across(one: FrontBox, other: FrontBox) -> bool:
    return one.x < other.x + other.width and other.x < one.x + one.width


def _depth(shelf: Shelf) -> float:
    return max(to_mm(drawer.inside_depth) for drawer, _ in shelf)


def _largest_scale(shelves: Sequence[Shelf], across: float, room: PosterRoom) -> float:
    """The largest scale at which the blocks are no wider than the room, to one part in a million millions."""

    def goes_in(scale: float) -> bool:
        blocks = _blocks(shelves, scale, room)
        return bool(blocks) and len(blocks) * (across * scale + room.gap) - room.gap <= room.width + 1e-9

    low, high = 0.0, min(room.most, room.width / across)
    if goes_in(high):
        return high
    for _ in range(STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if goes_in(middle) else (low, middle)
    return low or min(room.most, room.width / across)


def _blocks(shelves: Sequence[Shelf], scale: float, room: PosterRoom) -> list[list[Shelf]]:
    """Shelves in blocks no higher than the room, each filled before the next; none if one shelf is too high."""
    blocks: list[list[Shelf]] = []
    used = room.height
    for shelf in shelves:
        high = _depth(shelf) * scale + room.head + room.foot
        if high > room.height + 1e-9:
            return []
        if used + high > room.height + 1e-9 or not blocks:
            blocks.append([])
            used = 0.0
        blocks[-1].append(shelf)
        used += high
    return blocks


def _in_block(block: Sequence[Shelf], left: float, scale: float, room: PosterRoom) -> Iterator[tuple[Drawer, FrontBox]]:
    """Drawers of a block with their fronts in line; ``left`` is where the front view's left edge would be."""
    y = 0.0
    for shelf in block:
        front = y + room.head + _depth(shelf) * scale
        for drawer, box in shelf:
            depth = to_mm(drawer.inside_depth) * scale
            yield drawer, FrontBox(left + box.x * scale, front - depth, box.width * scale, depth)
        y = front + room.foot
