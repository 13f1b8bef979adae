"""The three sizes a tape takes of a drawer, and a drawer or cabinet with some of them changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Literal, TypeAlias

from matcher.records import Cabinet, Drawer, Obstruction, inside_sizes

Dimension: TypeAlias = Literal["inside width", "inside depth", "clear height"]
DIMENSIONS: tuple[Dimension, ...] = ("inside width", "inside depth", "clear height")
NewSizes: TypeAlias = Mapping[tuple[str, Dimension], int]
"""New sizes by drawer name and dimension."""


def size_of(drawer: Drawer, dimension: Dimension) -> int:
    """One of a drawer's three sizes."""
    return inside_sizes(drawer)[dimension]


def resized(drawer: Drawer, dimension: Dimension, size: int) -> Drawer:
    """The drawer with one size changed; never below one unit.

    A block that touches the right or back wall stays at it, one that reaches from wall to wall still does, and every
    other block keeps its distance from the left and front walls: so a larger drawer never offers less.
    """
    size, drawer = max(1, size), _known(drawer, dimension)
    if dimension == "clear height":
        return replace(drawer, clear_height=size)
    if dimension == "inside width":
        moved = tuple(_wider(block, drawer.inside_width, size) for block in drawer.obstructions)
        return replace(drawer, inside_width=size, obstructions=moved)
    moved = tuple(_deeper(block, drawer.inside_depth, size) for block in drawer.obstructions)
    return replace(drawer, inside_depth=size, obstructions=moved)


def _known(drawer: Drawer, dimension: Dimension) -> Drawer:
    """The drawer with this size no longer a guess or unknown; with none unknown it is no longer blocked for that."""
    guessed = tuple(name for name in drawer.guessed if name != dimension)
    unknown = tuple(name for name in drawer.unknown if name != dimension)
    slot = drawer.slot_told if drawer.unknown and not unknown else drawer.slot
    return replace(drawer, guessed=guessed, unknown=unknown, slot=slot)


def with_sizes(cabinet: Cabinet, sizes: NewSizes) -> Cabinet:
    """The cabinet with the sizes given and all others as they are."""
    return replace(cabinet, drawers=tuple(_with_sizes(drawer, sizes) for drawer in cabinet.drawers))


def all_larger(cabinet: Cabinet, by: int) -> Cabinet:
    """The cabinet with every size of every drawer larger by ``by`` (smaller if negative)."""
    return with_sizes(
        cabinet,
        {(box.name, dimension): size_of(box, dimension) + by for box in cabinet.drawers for dimension in DIMENSIONS},
    )


def _with_sizes(drawer: Drawer, sizes: NewSizes) -> Drawer:
    for dimension in DIMENSIONS:
        if (drawer.name, dimension) in sizes:
            drawer = resized(drawer, dimension, sizes[drawer.name, dimension])
    return drawer


def _wider(block: Obstruction, before: int, after: int) -> Obstruction:
    start, length = _kept(block.left, block.width, before, after)
    return replace(block, left=start, width=length)


def _deeper(block: Obstruction, before: int, after: int) -> Obstruction:
    start, length = _kept(block.front, block.depth, before, after)
    return replace(block, front=start, depth=length)


def _kept(start: int, length: int, before: int, after: int) -> tuple[int, int]:
    """Where a block begins and how long it is once the far wall has moved from ``before`` to ``after``."""
    if start + length < before:
        return start, length
    return (start, after) if start == 0 else (max(0, start + after - before), length)
