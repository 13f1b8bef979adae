"""What blanks take of a sheet, counted in several ways that each hold for any layout: area, and stretched areas.

A length over `p` short of the sheet counts as the whole sheet, one under `p` as nothing: no two of the one lie side by
side, nor one of them beside anything of `p` or more (dual feasible functions; Fekete and Schepers, 2001, "New classes
of fast lower bounds for bin packing problems", Mathematical Programming 91, pp. 11-31).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import product
from typing import TypeAlias

from matcher.packing import Size

SheetLoad: TypeAlias = tuple[int, ...]
"""What one blank of each kind takes; a sheet holds width x depth of it."""

MOST = 20
"""Loads kept: those that sum up to most."""


def loads(kinds: Sequence[Sequence[Size]], counts: Sequence[int], width: int, depth: int) -> tuple[SheetLoad, ...]:
    """Loads of the kinds, the plain area first, then the heaviest in all.

    Parameters
    ----------
    kinds : sizes a blank of each kind may take; the least of them counts
    counts : blanks of each kind
    width, depth : of the sheet
    """
    sides = product(
        _thresholds((w for sizes in kinds for w, _ in sizes), width),
        _thresholds((d for sizes in kinds for _, d in sizes), depth),
    )
    found = {
        tuple(min(_stretched(w, p, width) * _stretched(d, q, depth) for w, d in sizes) for sizes in kinds)
        for p, q in sides
    }
    area = tuple(min(w * d for w, d in sizes) for sizes in kinds)
    heaviest = sorted(found - {area}, key=lambda load: (-total(load, counts), load))
    return (area, *heaviest[: MOST - 1])


def total(load: SheetLoad, counts: Sequence[int]) -> int:
    """What all blanks take together."""
    return sum(one * number for one, number in zip(load, counts, strict=True))


def _thresholds(lengths: Iterable[int], whole: int) -> list[int]:
    """Where a stretched length can change: up to half the whole."""
    edges = {edge for length in lengths for edge in (length, length + 1, whole - length + 1)}
    return [0, *sorted(edge for edge in edges if 0 < 2 * edge <= whole)]


def _stretched(length: int, p: int, whole: int) -> int:
    return 0 if length < p else whole if length > whole - p else length
