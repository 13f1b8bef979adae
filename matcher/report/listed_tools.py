"""The listed tools of an existing organizer, side by side in its pocket field: how they really lie is not on file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeAlias

from matcher.records import Group, Placement, mm, remembered
from matcher.tools import picture

ListedLine: TypeAlias = tuple[tuple[int, int], ...]
ListedTool: TypeAlias = tuple[int, int, tuple[ListedLine, ...]]
"""Width, depth and lines of a tool from its front left corner."""

AIR = (mm(6), mm(3), 0)
"""Distances between tools that are tried, the widest first; own choice."""


@remembered(512)
def listed_tools(group: Group, placement: Placement) -> tuple[ListedLine, ...]:
    """Closed lines of the tools in 1/320 mm from the organizer's front left corner; none where they do not go in so.

    They lie in rows from the back, the longest first; a field that is not given is the whole organizer.
    """
    ready = group.organizer
    if ready is None or not group.pieces or group.cased or placement.layout is not None:
        return ()
    width = min(ready.field_width or placement.width, placement.width)
    depth = min(ready.field_depth or placement.depth, placement.depth)
    left, front = (placement.width - width) // 2, (placement.depth - depth) // 2
    for air in AIR:
        for turned in (False, True):
            placed = list(_in_rows(_things(group, turned), width, depth, air))
            if placed:
                return tuple(tuple((left + x, front + y) for x, y in line) for line in placed)
    return ()


def _things(group: Group, turned: bool) -> list[ListedTool]:
    """Every tool, on end where it may stand, lying from front to back or ``turned``; the deepest first."""
    found: list[ListedTool] = []
    for one in group.pieces:
        shown = picture(one, one.diameter is not None)
        _, _, across, along = (round(side) for side in shown.outline.bounds)
        rings = [tuple((round(x), round(y)) for x, y in ring) for ring in (shown.edge, *shown.holes)]
        if turned:
            rings = [tuple((y, across - x) for x, y in ring) for ring in rings]
            across, along = along, across
        found += [(across, along, tuple(rings))] * one.piece.count
    return sorted(found, key=lambda thing: (-thing[1], -thing[0]))


def _in_rows(things: Iterable[ListedTool], width: int, depth: int, air: int) -> Iterator[ListedLine]:
    """The lines of all things in rows; nothing where they do not go in."""
    x, y, row = 0, depth, 0
    lines: list[ListedLine] = []
    for across, along, rings in things:
        if x and x + across > width:
            x, y, row = 0, y - row - air, 0
        row = max(row, along)
        if x + across > width or y - row < 0:
            return
        lines += (tuple((x + a, y - along + b) for a, b in ring) for ring in rings)
        x += across + air
    yield from lines
