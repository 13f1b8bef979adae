"""Drawers as blocks: heading, picture from above, and a box to tick for every piece."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import zip_longest
from math import log
from typing import TypeAlias

from matcher.planning import Fits, placed_in
from matcher.records import Drawer, Group, Placement, to_mm
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
from matcher.report.paper.sheets import FAINT, Sheets
from matcher.report.paper.tick_lines import numbers_of, tick_lines_of

HEAD, TEXT = 9.5, 7.5
"""Sizes of headings and of what is ticked off, in points."""
HEAD_HIGH, LINE = 5.0, 3.6
"""Heights of a heading and of a line, in millimeters."""
TICK, NUMBER, BY = 2.2, POINTS[-1], 0.5
"""Side of a box to tick, in millimeters; size of a number before one, in points; between the two, in millimeters."""
BETWEEN = 8.0
"""Distance between a picture and what stands beside it, in millimeters."""
FOOT = 5.2
"""Room under a picture for FRONT and the scale bar, in millimeters."""
HIGHEST, STEP = 190.0, 0.93
"""Height of a picture at most; by how much its scale is changed for words that have no room; own choice."""
BESIDE = 0.68
"""Share of the width up to which a picture has its list beside it, where the list is no higher; own choice."""
SPACE = 2.2
"""Distance between two items, in millimeters."""
INDENT = 4.0
"""How far in a series goes on in its next line, in millimeters."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A word on a line, ``x`` from its start; before it a box where it is to be ticked off, and before that the tool's
    number where the picture has numbers."""

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


HeldDrawer: TypeAlias = tuple[Drawer, tuple[tuple[Group, Placement], ...]]
"""A drawer with its groups and where their organizers lie in it."""


def held_drawers(outcome: Fits) -> Iterator[HeldDrawer]:
    """Every drawer that holds something, row by row."""
    groups = {group.name: group for group in outcome.plan.groups}
    for drawer in in_order(outcome.question.cabinet):
        held = tuple((groups[placement.group], placement) for placement in placed_in(outcome, drawer.name))
        if held:
            yield drawer, held


def told_scale(one: HeldDrawer, width: float, high: float) -> float | None:
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


def block_of(sheets: Sheets, one: HeldDrawer, width: float, high: float, *, told: bool = True) -> DrawerBlock:
    """A drawer in a column; where even the whole page is too small for all words, as large as the page lets it be.

    Where not all tools have to be ``told``, it is as high as asked for.
    """
    drawer, held = one
    seen = any(placement.layout and not group.cased for group, placement in held)
    found = (
        told_scale(one, width, high) if told else max(_largest(drawer, width), to_mm(drawer.inside_depth) / high) * seen
    )
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
    """How wide a box to tick is, with the tool's number before it."""
    return TICK + (max(TICK, number_width(sheets, number)) + BY if number else 0)


def draw_block(
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
            wide = _tick(sheets, mark.number) - TICK - BY
            draw_number(sheets, x + wide / 2, y + 1.75, mark.number, NUMBER, wide)
            x += wide + BY
        if mark.ticked:
            sheets.box(x, y + 0.6, TICK, TICK, color=FAINT, pen=0.2)
            x += TICK + 0.8
        sheets.write(x, y + 2.8, mark.text, TEXT, room=right - x + 0.5)
