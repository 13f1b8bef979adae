"""How near two pockets may come: outlines as their left and right ends, strip by strip.

The strips are ``STRIP`` high. Ends are rounded away from the outline and distances between strips down, so pockets
placed by profiles are never nearer than asked for; where two outlines face each other squarely they are exactly so.
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
FAR = 1 << 40
"""Further than any pocket: where there is no outline."""

Shape: TypeAlias = tuple[Ring, ...]
"""Rings that overlap each other."""
Reach: TypeAlias = tuple[int, Lengths]
"""First strip, and in each strip from there how far right something reaches."""


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """Ends of an outline in strips from number ``first`` on; ``FAR`` outside where a strip holds nothing."""

    first: int
    left: Lengths
    right: Lengths


def profile(shape: Shape, offset: int) -> Profile:
    """Profile of a shape moved ``up`` by as much, from its leftmost to its rightmost end in every strip."""
    strips, rest = divmod(offset, STRIP)
    own = _within_strip(shape, rest)
    return Profile(own.first + strips, own.left, own.right)


@remembered(8192)
def _within_strip(shape: Shape, offset: int) -> Profile:
    """Profile of a shape moved ``up`` by less than a strip; by whole strips more it is the same further on."""
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
    """First strip, and how far right in each strip everything within ``web`` of the ring reaches."""
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
    """How far right of what reaches as far as ``left`` a shape must begin at least to stay out of its reach; below
    ``-FAR / 2`` if they pass each other anyway."""
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
    """Leftmost and rightmost end of a ring between two heights, to the strip."""
    own = profile((ring,), 0)
    part = slice(max(low // STRIP - own.first, 0), max((high - 1) // STRIP - own.first + 1, 1))
    return int(own.left[part].min()), int(own.right[part].max())
