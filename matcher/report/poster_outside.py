"""What stays outside a cabinet, beside it on a poster: the tools of each group side by side, with what is short."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import TypeAlias

from shapely import LineString

from matcher.planning import PartialPlan
from matcher.records import Group, Outside, SizedPiece, counted, to_mm
from matcher.report.drawer_states import NO_ROOM
from matcher.report.fitted_words import wrapped
from matcher.report.front import FrontBox
from matcher.report.poster_places import LINE, PosterRoom
from matcher.tools import picture

OutsideLine: TypeAlias = tuple[tuple[float, float], ...]

FINE = 100
"""By how much a tool's outline may be off, in 1/320 mm; own choice."""
SMALLER, LEAST = 0.9, 0.12
"""Steps in which tools are drawn smaller than the drawers until all go into the room, and how small at least."""
AIR = 0.5
"""Distance between tools, in font sizes."""


@dataclass(frozen=True, slots=True)
class OutsideWord:
    """A line of words: start of its baseline, font size; ``kind`` is name or lacks."""

    kind: str
    text: str
    x: float
    y: float
    size: float


@dataclass(frozen=True, slots=True)
class OutsideGroup:
    """A group that stays outside: its tools as closed lines, all in the poster's units."""

    group: str
    color: str
    box: FrontBox
    tools: tuple[OutsideLine, ...]
    words: tuple[OutsideWord, ...]


@dataclass(frozen=True, slots=True)
class OutsideShelf:
    """All that stays outside; ``scale`` is units of the poster a millimeter, no larger than that of the drawers.

    ``words`` stand over it.
    """

    box: FrontBox
    scale: float
    groups: tuple[OutsideGroup, ...]
    words: tuple[OutsideWord, ...]


def outside_shelf(
    part: PartialPlan, colors: Mapping[str, str], scale: float, left: float, top: float, room: PosterRoom
) -> OutsideShelf:
    """What stays outside, from a corner on, in the room: at the drawers' scale, or at a smaller one where it must be.

    In one column or in two, whichever lets the tools be larger.
    """
    head = 2 * LINE * room.em
    tried = scale
    while True:
        for columns in (1, 2):
            groups = tuple(_columns(part.outside, colors, tried, (left, top + head), columns, room))
            bottom = max((one.box.y + one.box.height for one in groups), default=top)
            if bottom - top <= room.height or tried * SMALLER < LEAST * scale:
                words = tuple(_over(tried / scale, left, top, room))
                return OutsideShelf(FrontBox(left, top, room.width, bottom - top), tried, groups, words)
        tried *= SMALLER


def _over(share: float, left: float, top: float, room: PosterRoom) -> Iterator[OutsideWord]:
    yield OutsideWord("name", "Stays outside", left, top + LINE * room.em, 1.1 * room.em)
    if share < 1:
        told = f"tools at {100 * share:.0f} % of the drawers' scale"
        yield OutsideWord("lacks", told, left + 9 * room.em, top + LINE * room.em, room.least)


def _columns(
    outside: Sequence[Outside],
    colors: Mapping[str, str],
    scale: float,
    corner: tuple[float, float],
    columns: int,
    room: PosterRoom,
) -> Iterator[OutsideGroup]:
    """Groups one under the other in columns of about equal height, in their order."""
    across = replace(room, width=(room.width - (columns - 1) * room.gap) / columns)
    single = list(_column(outside, colors, scale, corner, across))
    heights = list(accumulate(one.box.height for one in single))
    for column in range(columns):
        held = [
            one for one, high in zip(outside, heights, strict=True) if int(columns * (high - 1) / heights[-1]) == column
        ]
        left = corner[0] + column * (across.width + room.gap)
        yield from _column(held, colors, scale, (left, corner[1]), across)


def _column(
    outside: Iterable[Outside], colors: Mapping[str, str], scale: float, corner: tuple[float, float], room: PosterRoom
) -> Iterator[OutsideGroup]:
    """Groups one under the other: the words, then the tools in rows as wide as the room."""
    left, y = corner
    for one in outside:
        words = list(_words(one, left, y, room))
        start = words[-1].y + 0.5 * room.em
        rows = list(_rows(_things(one.group, scale), room.width, AIR * room.em))
        tools: list[OutsideLine] = []
        below = start
        for row in rows:
            deep = max(height for _, _, height in row)
            x = left
            for lines, width, height in row:
                tools += (tuple((x + a, below + deep - height + b) for a, b in line) for line in lines)
                x += width + AIR * room.em
            below += deep + AIR * room.em
        box = FrontBox(left, y, room.width, below - y)
        yield OutsideGroup(one.group.name, colors[one.group.family], box, tuple(tools), tuple(words))
        y = below + 0.6 * room.em


def _words(one: Outside, left: float, top: float, room: PosterRoom) -> Iterator[OutsideWord]:
    """The group's name, how many tools of it, and what is short, in as many lines as that takes."""
    whole = "" if one.whole else " of it"
    told = f"{one.group.name}: {counted(one.tools, 'tool')}{whole}" if one.group.pieces else one.group.name
    y = top + LINE * room.em
    for text in wrapped(told, room.width / 1.15, room.em):
        yield OutsideWord("name", text, left, y, room.em)
        y += LINE * room.em
    for text in wrapped(one.lacks or NO_ROOM, room.width, room.least):
        yield OutsideWord("lacks", text, left, y, room.least)
        y += LINE * room.least


def _things(group: Group, scale: float) -> Iterator[tuple[list[OutsideLine], float, float]]:
    """Each tool's lines from its upper left corner with its width and depth; the longest first."""
    pieces = [one for one in group.pieces for _ in range(one.piece.count)]
    for piece in sorted(pieces, key=lambda one: (-_drawn_depth(one), one.listed)):
        shown = picture(piece, _on_end(piece))
        _, _, width, depth = shown.outline.bounds
        lines = [
            tuple(
                (to_mm(round(x)) * scale, to_mm(round(depth - y)) * scale)
                for x, y in LineString(ring).simplify(FINE).coords
            )
            for ring in (shown.edge, *shown.holes)
        ]
        yield lines, to_mm(round(width)) * scale, to_mm(round(depth)) * scale
    if not group.pieces and group.organizer:
        width, depth = to_mm(group.organizer.width) * scale, to_mm(group.organizer.depth) * scale
        yield [((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth), (0.0, 0.0))], width, depth


def _on_end(piece: SizedPiece) -> bool:
    return piece.diameter is not None


def _drawn_depth(piece: SizedPiece) -> int:
    return piece.diameter if piece.diameter is not None else piece.length


def _rows(
    things: Iterable[tuple[list[OutsideLine], float, float]], width: float, air: float
) -> Iterator[Sequence[tuple[list[OutsideLine], float, float]]]:
    """Things side by side as far as they go, in their order."""
    row: list[tuple[list[OutsideLine], float, float]] = []
    used = 0.0
    for thing in things:
        if row and used + thing[1] > width:
            yield row
            row, used = [], 0.0
        row.append(thing)
        used += thing[1] + air
    if row:
        yield row
