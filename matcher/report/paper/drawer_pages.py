"""Pages of drawers as blocks, several on each.

A block stays whole where a column holds it; a longer one goes on in the next column under its heading.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import accumulate, product
from typing import TypeAlias

from matcher.planning import Fits
from matcher.report.families import family_colors
from matcher.report.paper.drawer_blocks import (
    BETWEEN,
    HEAD_HIGH,
    LINE,
    DrawerBlock,
    HeldDrawer,
    block_of,
    draw_block,
    held_drawers,
    told_scale,
)
from matcher.report.paper.sheets import MARGIN, Sheets

APART = 4.0
"""Distance between two blocks, in millimeters."""
WIDE, WIDE_HIGH = 3, 100.0
"""Pages up to which drawers stand in one column; height of a picture at most there, in millimeters; own choice."""
MOST, HIGHS = 6, (85.0, 78.0, 71.0, 64.0, 57.0, 50.0, 44.0, 38.0)
"""Pages that two columns may take, and heights of a picture at most that are tried for it; own choice."""
ACROSS_HIGH = 57.0
"""Height of the picture of a drawer that no column is wide enough for, if its words need no more; own choice."""
LEAST_LINES = 3
"""Lines of a block that are not left alone in a column."""
ROUNDING = 1e-6

PageColumn: TypeAlias = list[tuple[DrawerBlock, int, int]]
"""Blocks one under the other, each with its lines from the first to before the last; line 0 stands with the picture."""


def drawer_pages(sheets: Sheets, outcome: Fits) -> Mapping[str, int]:
    """Every drawer that holds something, row by row: in one column where that takes few pages, else in two.

    Every picture is so large that each tool has its size or number, unless pages are too few for that: the list names
    all. In two columns they are larger, if that takes no
    more than `MOST` pages; drawers that no column is wide enough for come last, and where pages are short of room, a
    low block may come before its turn. Returns on which page each begins.
    """
    room, height = sheets.paper.width - 2 * MARGIN, sheets.paper.height - 2 * MARGIN
    drawers = list(held_drawers(outcome))
    columns = columns_of([block_of(sheets, one, room, WIDE_HIGH) for one in drawers], height)
    if len(columns) <= WIDE:
        return _draw(sheets, outcome, columns, 1)
    half = (room - BETWEEN) / 2
    for told in (True, False):
        across = [one for one in drawers if told and told_scale(one, half, HIGHS[0]) is None]
        wide = [block_of(sheets, one, room, ACROSS_HIGH) for one in across]
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
        blocks = [block_of(sheets, one, width, high, told=told) for one in narrow]
        columns = columns_of(blocks if ordered else _filling(blocks, height), height, whole=whole)
        begun = columns[(len(columns) - 1) // 2 * 2 :]
        used = min(height, max((_used(column) + APART for column in begun), default=height))
        if _count(columns, columns_of(wide, height, left=height - used), used < height) <= MOST:
            break
    return columns, used


def _count(columns: Sequence[PageColumn], last: Sequence[PageColumn], shared: bool) -> int:
    """Pages of columns side by side and of the last ones alone; one page may be ``shared``."""
    return (len(columns) + 1) // 2 + len(last) - shared


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
            y = draw_block(sheets, block, (first, last), (left, y, width), colors) + APART
    return begun
