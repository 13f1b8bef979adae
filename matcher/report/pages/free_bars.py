"""Bars from the fewest to the most drawers that stay free, one a variant, all on one axis."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from matcher.report.document import Document

WIDTH, SIDE, LEAST, TICKS = 225.0, 10.0, 4.0, 10
"""Width of the axis and the room at its ends in CSS pixels; width of a bar whose ends are equal; the most ticks."""


@dataclass(frozen=True, slots=True)
class FreeBar:
    """Where a bar begins, how long it is, where the plan stands on it and where the cabinet's last drawer is."""

    start: float
    length: float
    plan: float
    end: float


@dataclass(frozen=True, slots=True)
class FreeBars:
    """The axis with its ticks (place and number) and a bar a variant, ``None`` for one without a plan."""

    width: float
    ticks: tuple[tuple[float, int], ...]
    bars: tuple[FreeBar | None, ...]


def free_bars(variants: Sequence[Document]) -> FreeBars:
    """The bars of the documents of variants, in their order."""
    most: int = max([1, *(row["drawers"] for row in variants)])
    stride = next(step for step in (1, 2, 5, 10, 20, 50, ceil(most / TICKS)) if most / step <= TICKS)

    def at(count: int) -> float:
        return SIDE + WIDTH * count / most

    bars = tuple(
        None
        if row["free_drawers"] is None
        else FreeBar(
            start=at(row["fewest_free"]) - LEAST / 2,
            length=at(row["most_free"]) - at(row["fewest_free"]) + LEAST,
            plan=at(row["free_drawers"]),
            end=at(row["drawers"]),
        )
        for row in variants
    )
    return FreeBars(WIDTH + 2 * SIDE, tuple((at(count), count) for count in range(0, most + 1, stride)), bars)
