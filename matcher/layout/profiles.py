"""Profiles: outlines as their left and right ends strip by strip, which tell how near two pockets may come.

A *strip* runs from left to right and is ``STRIP`` deep from front to back; strip 0 begins at 0. Ends are rounded away
from the outline and distances between strips are rounded down, so pockets placed by profiles are never nearer than
asked for; two that have straight sides facing each other are exactly as near as that.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isqrt
from typing import TypeAlias

import numpy as np

from matcher.layout.cutouts import Ring
from matcher.packing import Lengths
from matcher.records import mm, remembered

STRIP = mm(0.5)
"""Depth of a strip."""
FAR = 1 << 40
"""Further than anything: stands for a length where there is nothing, or where something is not possible."""

Shape: TypeAlias = tuple[Ring, ...]
"""What is cut out for one tool: its pocket, and its own notch, which overlaps it, if it has one."""
Reach: TypeAlias = tuple[int, Lengths]
"""A *reach*: the number of the first strip, and how far to the right something reaches in each strip from there."""


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """The left and right ends of an outline in strips from number ``first`` on; in empty ones ``FAR`` and ``-FAR``."""

    first: int
    left: Lengths
    right: Lengths


def profile(shape: Shape, offset: int) -> Profile:
    """The profile of a shape moved to the back by ``offset``."""
    strips, rest = divmod(offset, STRIP)
    own = _within_strip(shape, rest)
    return Profile(own.first + strips, own.left, own.right)


@remembered(8192)
def _within_strip(shape: Shape, offset: int) -> Profile:
    """The profile of a shape moved to the back by an offset of less than a strip."""
    closed = [np.array((*ring, ring[0]), dtype=np.int64) for ring in shape]
    x0, y0 = np.concatenate([ring[:-1] for ring in closed]).T
    x1, y1 = np.concatenate([ring[1:] for ring in closed]).T
    y0, y1 = y0 + offset, y1 + offset
    falls = y1 < y0
    x0, x1, y0, y1 = np.where(falls, x1, x0), np.where(falls, x0, x1), np.where(falls, y1, y0), np.where(falls, y0, y1)
    low, high = y0 // STRIP, y1 // STRIP
    counts = high - low + 1
    edge = np.repeat(np.arange(len(x0)), counts)
    strip = low[edge] + np.arange(len(edge)) - np.repeat(np.cumsum(counts) - counts, counts)
    rise = np.maximum(y1 - y0, 1)[edge]
    lower = np.maximum(y0[edge], strip * STRIP) - y0[edge]
    upper = np.minimum(y1[edge], (strip + 1) * STRIP) - y0[edge]
    run, start = (x1 - x0)[edge], x0[edge]
    flat = (y1 == y0)[edge]
    ends = start + run * lower / rise, start + np.where(flat, run, run * upper / rise)
    first = int(low.min())
    left = np.full(int(high.max()) - first + 1, FAR, dtype=np.int64)
    right = np.full(len(left), -FAR, dtype=np.int64)
    np.minimum.at(left, strip - first, np.floor(np.minimum(*ends)).astype(np.int64))
    np.maximum.at(right, strip - first, np.ceil(np.maximum(*ends)).astype(np.int64))
    return Profile(first, left, right)


def reach(shape: Shape, offset: int, web: int) -> Reach:
    """The reach of everything within ``web`` of a shape that is moved to the back by ``offset``."""
    strips, rest = divmod(offset, STRIP)
    first, wide = _reach_within_strip(shape, rest, web)
    return first + strips, wide


@remembered(16384)
def _reach_within_strip(shape: Shape, offset: int, web: int) -> Reach:
    own = _within_strip(shape, offset)
    around = -(-web // STRIP)
    wide = np.full(len(own.right) + 2 * around, -FAR, dtype=np.int64)
    for away in range(-around, around + 1):
        apart = max(abs(away) - 1, 0) * STRIP
        aside = ceil_root(web * web - apart * apart)
        part = wide[around + away : around + away + len(own.right)]
        np.maximum(part, own.right + aside, out=part)
    return own.first - around, wide


def pitch(left: Reach, right: Profile) -> int:
    """How far a shape with the profile ``right`` must be moved to the right, at least, to be clear of a reach.

    It is less than ``-FAR / 2`` if the two have no strip in common and so are clear of each other anyway.
    """
    first, reached = left
    begin = max(first, right.first)
    end = min(first + len(reached), right.first + len(right.left))
    if begin >= end:
        return -FAR
    return int((reached[begin - first : end - first] - right.left[begin - right.first : end - right.first]).max())


def ceil_root(square: int) -> int:
    """Square root, rounded up."""
    root = isqrt(square)
    return root if root * root == square else root + 1


def ends(ring: Ring, low: int, high: int) -> tuple[int, int]:
    """Leftmost and rightmost end of a ring in the strips between two distances from the front."""
    own = profile((ring,), 0)
    part = slice(max(low // STRIP - own.first, 0), max((high - 1) // STRIP - own.first + 1, 1))
    return int(own.left[part].min()), int(own.right[part].max())
