"""Drawers as blocks, several on a page: heading, picture from above, and a box to tick for every piece.

A block stays whole where a column holds it; a longer one goes on in the next column under its heading.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate, product
from typing import TypeAlias

from matcher.planning import Fits, placed_in
from matcher.records import Drawer, Group, Placement, to_mm
from matcher.report.families import family_colors
from matcher.report.paper.drawer_index import in_order
from matcher.report.paper.drawer_picture import draw_drawer
from matcher.report.paper.sheets import FAINT, MARGIN, Sheets
from matcher.report.paper.tick_lines import tick_lines_of

HEAD, TEXT = 9.5, 7.5
"""Sizes of headings and of what is ticked off, in points."""
HEAD_HIGH, LINE, APART = 5.0, 3.6, 4.0
"""Heights of a heading and of a line, and the distance between two blocks, in millimeters."""
TICK = 2.2
"""Side of a box to tick, in millimeters."""
BETWEEN = 8.0
"""Distance between columns, in millimeters."""
FOOT = 5.2
"""Room under a picture for FRONT and the scale bar, in millimeters."""
WIDE, WIDE_HIGH = 3, 100.0
"""Pages up to which drawers stand in one column; height of a picture at most there, in millimeters; own choice."""
MOST, HIGHS = 6, (85.0, 78.0, 71.0, 64.0, 57.0, 50.0, 44.0)
"""Pages that two columns may take, and heights of a picture at most that are tried for it; own choice."""
SPACE = 2.2
"""Distance between two items, in millimeters."""
INDENT = 4.0
"""How far in a series goes on in its next line, in millimeters."""
LEAST_LINES = 3
"""Lines of a block that are not left alone in a column."""
ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Mark:
    """A word on a line, ``x`` from its start; before it a box where it is to be ticked off."""

    x: float
    text: str
    ticked: bool


@dataclass(frozen=True, slots=True)
class DrawerBlock:
    """A drawer with what lies in it; ``scale`` of its picture is 1 : scale, 0 where there is nothing to see."""

    drawer: Drawer
    heading: str
    contents: tuple[tuple[Group, Placement], ...]
    scale: float
    lines: tuple[tuple[Mark, ...], ...]

    @property
    def top(self) -> float:
        """Height of heading and picture."""
        return HEAD_HIGH + (to_mm(self.drawer.inside_depth) / self.scale + FOOT if self.scale else 0)

    @property
    def height(self) -> float:
        """Height of all."""
        return self.top + LINE * len(self.lines)


PageColumn: TypeAlias = list[tuple[DrawerBlock, int, int]]
"""Blocks one under the other, each with its lines from the first to before the last; line 0 stands with the picture."""


def drawer_pages(sheets: Sheets, outcome: Fits) -> None:
    """Every drawer that holds something, row by row: in one column where that takes few pages, else in two.

    In two columns pictures are as large as lets them take no more than `MOST` pages, if they can; at best with every
    drawer in one column.
    """
    room, height = sheets.paper.width - 2 * MARGIN, sheets.paper.height - 2 * MARGIN
    columns = columns_of(list(_blocks(sheets, outcome, room, WIDE_HIGH)), height)
    if len(columns) <= WIDE:
        _draw(sheets, outcome, columns, 1)
        return
    for high, whole in product(HIGHS, (True, False)):
        blocks = list(_blocks(sheets, outcome, (room - BETWEEN) / 2, high))
        columns = columns_of(blocks, height, whole=whole)
        if len(columns) <= 2 * MOST:
            break
    _draw(sheets, outcome, columns, 2)


# -------------------------------------------------------------------------------------------------------------- blocks


def _blocks(sheets: Sheets, outcome: Fits, width: float, high: float) -> Iterator[DrawerBlock]:
    groups = {group.name: group for group in outcome.plan.groups}
    for drawer in in_order(outcome.question.cabinet):
        held = tuple((groups[placement.group], placement) for placement in placed_in(outcome, drawer.name))
        if held:
            sides = to_mm(drawer.inside_width) / width, to_mm(drawer.inside_depth) / high
            seen = any(placement.layout and not group.cased for group, placement in held)
            lines = [line for group, _ in held for line in _lines(sheets, group, width, told=len(held) > 1)]
            names = " + ".join(group.name for group, _ in held)
            yield DrawerBlock(drawer, f"Drawer {drawer.name}: {names}", held, max(sides) if seen else 0, tuple(lines))


def _lines(sheets: Sheets, group: Group, width: float, *, told: bool) -> Iterator[tuple[Mark, ...]]:
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
        for item in series.items:
            long = TICK + 0.8 + sheets.extent(item, TEXT)
            if line and x + long > width:
                yield tuple(line)
                line, x = [], INDENT if series.name else 0.0
            line.append(Mark(x, item, ticked=True))
            x += long + SPACE
        yield tuple(line)


def columns_of(blocks: Sequence[DrawerBlock], height: float, *, whole: bool = True) -> list[PageColumn]:
    """Blocks in columns of that height. One that a column holds is not divided, or only for want of pages."""
    columns: list[PageColumn] = []
    left = 0.0
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


def _draw(sheets: Sheets, outcome: Fits, columns: Sequence[PageColumn], across: int) -> None:
    colors = family_colors(outcome.question)
    width = (sheets.paper.width - 2 * MARGIN - BETWEEN * (across - 1)) / across
    for number, column in enumerate(columns):
        if number % across == 0:
            sheets.page()
        y, left = MARGIN, MARGIN + number % across * (width + BETWEEN)
        for block, first, last in column:
            y = _block(sheets, block, (first, last), (left, y, width), colors) + APART


def _block(
    sheets: Sheets,
    block: DrawerBlock,
    lines: tuple[int, int],
    place: tuple[float, float, float],
    colors: Mapping[str, str],
) -> float:
    """A block, or as many of its lines as stand in this column; where it ends."""
    (left, y, width), (first, last) = place, lines
    more = " (continued)" if first else ""
    sheets.write(left, y + 3.5, f"{block.heading}{more}", HEAD, room=width, least=TEXT)
    y += HEAD_HIGH
    if block.scale and not first:
        y = draw_drawer(sheets, block.drawer, block.contents, (left, y, width), block.scale, colors) + FOOT
    for line in block.lines[first:last]:
        for mark in line:
            x = left + mark.x
            if mark.ticked:
                sheets.box(x, y + 0.6, TICK, TICK, color=FAINT, pen=0.2)
                x += TICK + 0.8
            sheets.write(x, y + 2.8, mark.text, TEXT, room=left + width - x + 0.5)
        y += LINE
    return y
