"""Drawers as blocks, several on a page: heading, picture from above, and a box to tick for every piece.

A block stays whole where a column holds it; a longer one goes on in the next column under its heading.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, product, zip_longest
from math import log
from typing import TypeAlias

from matcher.planning import Fits, placed_in
from matcher.records import Drawer, Group, Placement, to_mm
from matcher.report.families import family_colors
from matcher.report.paper.drawer_index import in_order
from matcher.report.paper.drawer_picture import (
    POINTS,
    all_told,
    draw_drawer,
    draw_number,
    head_of,
    number_width,
    numbered_in,
)
from matcher.report.paper.sheets import FAINT, MARGIN, Sheets
from matcher.report.paper.tick_lines import numbers_of, tick_lines_of

HEAD, TEXT = 9.5, 7.5
"""Sizes of headings and of what is ticked off, in points."""
HEAD_HIGH, LINE, APART = 5.0, 3.6, 4.0
"""Heights of a heading and of a line, and the distance between two blocks, in millimeters."""
TICK, NUMBER = 2.2, POINTS[-1]
"""Side of a box to tick, in millimeters; size of a number in one, in points."""
BETWEEN = 8.0
"""Distance between columns, in millimeters."""
FOOT = 5.2
"""Room under a picture for FRONT and the scale bar, in millimeters."""
WIDE, WIDE_HIGH = 3, 100.0
"""Pages up to which drawers stand in one column; height of a picture at most there, in millimeters; own choice."""
MOST, HIGHS = 6, (85.0, 78.0, 71.0, 64.0, 57.0, 50.0, 44.0, 38.0)
"""Pages that two columns may take, and heights of a picture at most that are tried for it; own choice."""
ACROSS_HIGH = 57.0
"""Height of the picture of a drawer that no column is wide enough for, if its words need no more; own choice."""
HIGHEST, STEP = 190.0, 0.93
"""Height of a picture at most; by how much its scale is changed for words that have no room; own choice."""
BESIDE = 0.68
"""Share of the page's width up to which a picture has its list beside it, where the list is no higher; own choice."""
SPACE = 2.2
"""Distance between two items, in millimeters."""
INDENT = 4.0
"""How far in a series goes on in its next line, in millimeters."""
LEAST_LINES = 3
"""Lines of a block that are not left alone in a column."""
ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Mark:
    """A word on a line, ``x`` from its start; before it a box where it is to be ticked off, with the tool's number in
    it where the picture has numbers."""

    x: float
    text: str
    ticked: bool
    number: str = ""


MarkLine: TypeAlias = tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class DrawerBlock:
    """A drawer with what lies in it; ``scale`` of its picture is 1 : scale, 0 where there is nothing to see.

    Its lines stand under the picture, or at its right those ``beside``.
    """

    drawer: Drawer
    heading: str
    contents: tuple[tuple[Group, Placement], ...]
    scale: float
    lines: tuple[MarkLine, ...]
    beside: tuple[MarkLine, ...] = ()

    @property
    def top(self) -> float:
        """Height of heading and picture."""
        if not self.scale:
            return HEAD_HIGH
        picture = head_of(self.drawer, self.contents) + to_mm(self.drawer.inside_depth) / self.scale + FOOT
        return HEAD_HIGH + max(picture, LINE * len(self.beside))

    @property
    def height(self) -> float:
        """Height of all."""
        return self.top + LINE * len(self.lines)


PageColumn: TypeAlias = list[tuple[DrawerBlock, int, int]]
"""Blocks one under the other, each with its lines from the first to before the last; line 0 stands with the picture."""
HeldDrawer: TypeAlias = tuple[Drawer, tuple[tuple[Group, Placement], ...]]
"""A drawer with its groups and where their organizers lie in it."""


def drawer_pages(sheets: Sheets, outcome: Fits) -> Mapping[str, int]:
    """Every drawer that holds something, row by row: in one column where that takes few pages, else in two.

    Every picture is so large that each tool has its size or number, unless pages are too few for that: the list names
    all. In two columns they are larger, if that takes no
    more than `MOST` pages; drawers that no column is wide enough for come last, and where pages are short of room, a
    low block may come before its turn. Returns on which page each begins.
    """
    room, height = sheets.paper.width - 2 * MARGIN, sheets.paper.height - 2 * MARGIN
    drawers = list(_held(outcome))
    columns = columns_of([_block_of(sheets, one, room, WIDE_HIGH) for one in drawers], height)
    if len(columns) <= WIDE:
        return _draw(sheets, outcome, columns, 1)
    half = (room - BETWEEN) / 2
    for told in (True, False):
        across = [one for one in drawers if told and _scale(one, half, HIGHS[0]) is None]
        wide = [_block_of(sheets, one, room, ACROSS_HIGH) for one in across]
        narrow = [one for one in drawers if one not in across]
        columns, used = _columns_beside(sheets, narrow, wide, (half, height), told=told)
        last = columns_of(wide, height, left=height - used)
        if _count(columns, last, used < height) <= MOST:
            break
    pages = _draw(sheets, outcome, columns, 2)
    return pages | _draw(sheets, outcome, last, 1, used % height)


def _columns_beside(
    sheets: Sheets,
    narrow: Sequence[HeldDrawer],
    wide: Sequence[DrawerBlock],
    room: tuple[float, float],
    *,
    told: bool,
) -> tuple[list[PageColumn], float]:
    """Columns of the width and height in ``room``, with pictures as large as pages permit with the ``wide`` blocks.

    Also how much is used of the last page. Pictures are larger than that where tools have to be ``told``.
    """
    width, height = room
    for high, (whole, ordered) in product(HIGHS, ((True, True), (False, True), (True, False))):
        blocks = [_block_of(sheets, one, width, high, told=told) for one in narrow]
        columns = columns_of(blocks if ordered else _filling(blocks, height), height, whole=whole)
        begun = columns[(len(columns) - 1) // 2 * 2 :]
        used = min(height, max((_used(column) + APART for column in begun), default=height))
        if _count(columns, columns_of(wide, height, left=height - used), used < height) <= MOST:
            break
    return columns, used


def _count(columns: Sequence[PageColumn], last: Sequence[PageColumn], shared: bool) -> int:
    """Pages of columns side by side and of the last ones alone; one page may be ``shared``."""
    return (len(columns) + 1) // 2 + len(last) - shared


# -------------------------------------------------------------------------------------------------------------- blocks


def _held(outcome: Fits) -> Iterator[HeldDrawer]:
    groups = {group.name: group for group in outcome.plan.groups}
    for drawer in in_order(outcome.question.cabinet):
        held = tuple((groups[placement.group], placement) for placement in placed_in(outcome, drawer.name))
        if held:
            yield drawer, held


def _scale(one: HeldDrawer, width: float, high: float) -> float | None:
    """The scale of a picture as wide as it may be and as high as it should be, or larger for words that need it.

    0 where there is nothing to see; ``None`` where the width is too small for all words.
    """
    drawer, held = one
    if not any(placement.layout and not group.cased for group, placement in held):
        return 0.0
    numbers, least = numbers_of(group for group, _ in held), _largest(drawer, width)
    asked = max(least, to_mm(drawer.inside_depth) / high)
    return next((scale for scale in _scales(asked, least) if all_told(drawer, held, numbers, scale)), None)


def _scales(first: float, last: float) -> Iterator[float]:
    """Scales of a fixed series, so that few are tried, from the first on; then the last."""
    step = int(log(first) / log(STEP)) if first > 1 else 0
    while (scale := STEP**step) > last:
        if scale <= first:
            yield scale
        step += 1
    yield last


def _largest(drawer: Drawer, width: float) -> float:
    return max(to_mm(drawer.inside_width) / width, to_mm(drawer.inside_depth) / HIGHEST)


def _block_of(sheets: Sheets, one: HeldDrawer, width: float, high: float, *, told: bool = True) -> DrawerBlock:
    """A drawer in a column; where even the whole page is too small for all words, as large as the page lets it be.

    Where not all tools have to be ``told``, it is as high as asked for.
    """
    drawer, held = one
    seen = any(placement.layout and not group.cased for group, placement in held)
    found = _scale(one, width, high) if told else max(_largest(drawer, width), to_mm(drawer.inside_depth) / high) * seen
    scale = _largest(drawer, width) if found is None else found
    numbers = numbers_of(group for group, _ in held)
    numbered = numbered_in(drawer, held, scale) if scale else frozenset()

    def lines(room: float) -> tuple[MarkLine, ...]:
        return tuple(
            line
            for group, _ in held
            for line in _lines(
                sheets, group, room, told=len(held) > 1, numbers=numbers if group.name in numbered else {}
            )
        )

    heading = f"Drawer {drawer.name}: {' + '.join(group.name for group, _ in held)}"
    block = DrawerBlock(drawer, heading, held, scale, lines(width))
    across = to_mm(drawer.inside_width) / scale if scale else width
    if across <= BESIDE * width:
        beside = lines(width - across - BETWEEN)
        if LINE * len(beside) <= block.top:
            return replace(block, lines=(), beside=beside)
    return block


def _lines(sheets: Sheets, group: Group, width: float, *, told: bool, numbers: Mapping[str, int]) -> Iterator[MarkLine]:
    """The series of a group, each from the start of a line; the group's name first where it is ``told``."""
    if told:
        yield (Mark(0, group.name, ticked=False),)
    for series in tick_lines_of(group):
        line: list[Mark] = []
        x = 0.0
        if series.name:
            name = f"{series.name}:"
            line.append(Mark(0, name, ticked=False))
            x = sheets.extent(name, TEXT) + SPACE
        for item, tool in zip_longest(series.items, series.tools):
            number = str(numbers.get(tool, ""))
            long = _tick(sheets, number) + 0.8 + sheets.extent(item, TEXT)
            if line and x + long > width:
                yield tuple(line)
                line, x = [], INDENT if series.name else 0.0
            line.append(Mark(x, item, ticked=True, number=number))
            x += long + SPACE
        yield tuple(line)


def _tick(sheets: Sheets, number: str) -> float:
    """How wide a box to tick is."""
    return max(TICK, number_width(sheets, number)) if number else TICK


def _filling(blocks: Sequence[DrawerBlock], height: float) -> list[DrawerBlock]:
    """Blocks in an order that fills columns: where the next is too high for what is left, a later one that is not."""
    rest, order, left = list(blocks), [], height
    while rest:
        block = next((one for one in rest if one.height <= left), rest[0])
        left = (left if block.height <= left else height) - block.height - APART
        rest.remove(block)
        order.append(block)
    return order


def _used(column: PageColumn) -> float:
    """How much of its height a column takes."""
    parts = [(HEAD_HIGH if first else block.top) + LINE * (last - first) for block, first, last in column]
    return sum(parts) + APART * (len(parts) - 1)


def columns_of(
    blocks: Sequence[DrawerBlock], height: float, *, whole: bool = True, left: float = 0.0
) -> list[PageColumn]:
    """Blocks in columns of that height. One that a column holds is not divided, or only for want of pages.

    Where something is ``left`` of a column that is begun already, that is the first one, and may stay empty.
    """
    columns: list[PageColumn] = [[]] if left > 0 else []
    for block in blocks:
        parts = not whole and len(block.lines) >= 2 * LEAST_LINES
        begins = block.height <= left or (parts and block.top + LEAST_LINES * LINE <= left)
        if not begins:
            columns.append([])
            left = height
        first = 0
        for last in _ends(block, left, height):
            if first:
                columns.append([])
                left = height
            columns[-1].append((block, first, last))
            left -= (HEAD_HIGH if first else block.top) + LINE * (last - first) + APART
            first = last
    return columns


def _ends(block: DrawerBlock, left: float, height: float) -> list[int]:
    """Before which lines a block goes on in another column, if ``left`` is left in its first; then its number of lines.

    No column holds fewer than `LEAST_LINES` of them.
    """
    count = len(block.lines)
    first = max(LEAST_LINES, int((left - block.top + ROUNDING) / LINE))
    more = max(LEAST_LINES, int((height - HEAD_HIGH + ROUNDING) / LINE))
    ends = [end for end in accumulate([first, *[more] * count]) if end < count]
    if ends:
        ends[-1] = min(ends[-1], count - LEAST_LINES)
    return [*ends, count]


# --------------------------------------------------------------------------------------------------------------- pages


def _draw(
    sheets: Sheets, outcome: Fits, columns: Sequence[PageColumn], across: int, used: float = 0.0
) -> dict[str, int]:
    """The pages of columns, the first of them on this page under what is ``used``; on which page each drawer begins."""
    colors = family_colors(outcome.question)
    width = (sheets.paper.width - 2 * MARGIN - BETWEEN * (across - 1)) / across
    begun: dict[str, int] = {}
    for number, column in enumerate(columns):
        if number % across == 0 and (number or not used):
            sheets.page()
        y, left = MARGIN + (0 if number else used), MARGIN + number % across * (width + BETWEEN)
        for block, first, last in column:
            begun.setdefault(block.drawer.name, sheets.number)
            y = _block(sheets, block, (first, last), (left, y, width), colors) + APART
    return begun


def _block(
    sheets: Sheets,
    block: DrawerBlock,
    lines: tuple[int, int],
    place: tuple[float, float, float],
    colors: Mapping[str, str],
) -> float:
    """A block, or as many of its lines as stand in this column; where it ends."""
    (left, top, width), (first, last) = place, lines
    more = " (continued)" if first else ""
    sheets.write(left, top + 3.5, f"{block.heading}{more}", HEAD, room=width, least=TEXT)
    y = top + HEAD_HIGH
    if block.scale and not first:
        numbers = numbers_of(group for group, _ in block.contents)
        draw_drawer(sheets, block.drawer, block.contents, (left, y), block.scale, colors, numbers)
        start = left + to_mm(block.drawer.inside_width) / block.scale + BETWEEN
        for number, line in enumerate(block.beside):
            _line(sheets, line, start, y + number * LINE, left + width)
        y = top + block.top
    for line in block.lines[first:last]:
        _line(sheets, line, left, y, left + width)
        y += LINE
    return y


def _line(sheets: Sheets, line: MarkLine, left: float, y: float, right: float) -> None:
    for mark in line:
        x = left + mark.x
        if mark.number:
            wide = _tick(sheets, mark.number)
            draw_number(sheets, x + wide / 2, y + 1.75, mark.number, NUMBER, wide)
            x += wide + 0.8
        elif mark.ticked:
            sheets.box(x, y + 0.6, TICK, TICK, color=FAINT, pen=0.2)
            x += TICK + 0.8
        sheets.write(x, y + 2.8, mark.text, TEXT, room=right - x + 0.5)
