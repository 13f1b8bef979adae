"""Lines of organizers and drawers from above in millimeters, x to the right, y to the back, from the front left."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import zip_longest
from typing import Literal, TypeAlias

from matcher.records import Drawer, Group, Label, Placement, Pocket, to_mm
from matcher.report.lying_tools import lying_tool
from matcher.report.paper.surfaces import Point

ShapePart: TypeAlias = Literal["drawer", "taken", "foam", "notch", "pocket", "tool", "hole", "seam"]


@dataclass(frozen=True, slots=True)
class PaperShape:
    """A closed outline of one part; a seam on a tool is an open line."""

    part: ShapePart
    ring: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Word:
    """A size in or beside a pocket: middle of the text and its height, in millimeters."""

    text: str
    x: float
    y: float
    height: float
    upright: bool


def organizer_shapes(group: Group, placement: Placement) -> Iterator[PaperShape]:
    """Foam, notches, pockets and the tools in these; a ready-made organizer without pieces is its outline only."""
    yield PaperShape("foam", _box(0, 0, placement.width, placement.depth))
    layout = placement.layout
    if layout is None:
        return
    left, front = placement.field_left, placement.field_front
    for notch in layout.notches:
        yield PaperShape("notch", _ring(notch.ring, left, front))
    for pocket in layout.pockets:
        yield PaperShape("pocket", _ring(pocket.ring, left, front))
        tool = lying_tool(group.pieces[pocket.piece], pocket)
        if tool:
            edge, *holes = (_ring(ring[:-1], left, front) for ring in tool.rings)
            yield PaperShape("tool", edge)
            yield from (PaperShape("hole", hole) for hole in holes)
            yield from (PaperShape("seam", _ring(line, left, front)) for line in tool.lines)


def drawer_shapes(drawer: Drawer) -> Iterator[PaperShape]:
    """The inside of the drawer and what stands in it, from its own front left corner."""
    yield PaperShape("drawer", _box(0, 0, drawer.inside_width, drawer.inside_depth))
    for block in drawer.obstructions:
        yield PaperShape("taken", _box(block.left, block.front, block.width, block.depth))


def size_words(group: Group, placement: Placement) -> Iterator[Word]:
    """The size of every piece where the layout found room for it, else in the middle of its pocket."""
    layout = placement.layout
    if layout is None:
        return
    for pocket, label in zip_longest(layout.pockets, layout.labels):
        piece = group.pieces[pocket.piece].piece
        yield _word(piece.mark, pocket, label, placement)


def _word(text: str, pocket: Pocket, label: Label | None, placement: Placement) -> Word:
    left, front = to_mm(placement.field_left), to_mm(placement.field_front)
    if label:
        return Word(text, left + to_mm(label.x), front + to_mm(label.y), to_mm(label.height), label.upright)
    xs, ys = [to_mm(x) for x, _ in pocket.ring], [to_mm(y) for _, y in pocket.ring]
    across, along = max(xs) - min(xs), max(ys) - min(ys)
    height = min(7.0, 0.6 * min(across, along), 1.6 * max(across, along) / max(len(text), 1))
    return Word(text, left + (max(xs) + min(xs)) / 2, front + (max(ys) + min(ys)) / 2, height, along > across)


def _box(left: int, front: int, width: int, depth: int) -> tuple[Point, ...]:
    corners = ((0, 0), (width, 0), (width, depth), (0, depth))
    return _ring(corners, left, front)


def _ring(ring: tuple[tuple[int, int], ...], left: int, front: int) -> tuple[Point, ...]:
    return tuple((to_mm(left + x), to_mm(front + y)) for x, y in ring)
