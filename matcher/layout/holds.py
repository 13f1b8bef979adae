"""Holds: where a finger notch may cross a pocket, so that a finger gets under the tool and foam still holds it (R14).

The notch is always as wide as the house says, and leaves half of the pocket's area in foam. It crosses a long tool
somewhere between its ends. Over a shorter tool, which it would leave too little foam, it lies at an end, half of it or
more beyond the tool. Common practice, no source. Here tools lie from front to back and notches from left to right.
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray

from matcher.layout.cutouts import Ring
from matcher.layout.profiles import FAR, STRIP, profile
from matcher.packing import Lengths
from matcher.records import remembered

HELD = 0.501
"""Share of a pocket's area that a notch leaves in foam: half, and a little more for rounding."""

Span: TypeAlias = tuple[int, int]
"""The first and last distance from the front at which a notch may begin; last before first if there is none."""
HoldSpans: TypeAlias = tuple[Span, Span, Span]
"""Where a notch may begin, from the front end of the tool's box on: between the ends of the tool, over its front end,
over its back end. If the first span reaches as far as an end, it is the span over that end too."""


@remembered(8192)
def notch_places(ring: Ring, wide: int) -> HoldSpans:
    """Where a notch that is ``wide`` from front to back may begin, for a pocket with its box at (0, 0).

    Over an end it covers at least a quarter of the pocket's length or half of its own width, whichever is less.
    """
    size = max(y for _, y in ring)
    least = min(wide // 2, size // 4)
    at = np.append(np.arange(0, size, STRIP), size)
    area = _areas(ring, at)
    most = (1 - HELD) * float(area[-1])
    low, high = _across(area, at, most, wide)
    across = least - wide if low == 0 else low, size - least if high == size - wide else high
    front, back = int(np.interp(most, area, at)), size - int(np.interp(area[-1] - most, area, at)) - 1
    near = across if low == 0 else (least - wide, min(wide // 2, front) - wide)
    far = across if high == size - wide else (size - min(wide // 2, back), size - least)
    return across, near, far


def _areas(ring: Ring, at: Lengths) -> NDArray[np.float64]:
    """The area of a ring in front of each of some distances: the integral of x over y along its edges up to there."""
    x0, y0 = np.array(ring, dtype=float)[:, :, None].swapaxes(0, 1)
    x1, y1 = np.roll(x0, -1, axis=0), np.roll(y0, -1, axis=0)
    slope = (x1 - x0) / np.where(y1 == y0, 1, y1 - y0)
    begin, end = np.minimum(y0, at), np.minimum(y1, at)
    areas: NDArray[np.float64] = ((end - begin) * (x0 + slope * ((begin + end) / 2 - y0))).sum(axis=0)
    return np.maximum.accumulate(np.abs(areas))


def _across(area: NDArray[np.float64], at: Lengths, most: float, wide: int) -> Span:
    """The span of places, next to the middle of the pocket, at which a notch takes no more than the area ``most``.

    ``area`` is the pocket's area in front of each of the distances ``at``. The span is of places one strip after
    another, all of which are possible; it holds the possible one nearest to the middle.
    """
    last = int(at[-1]) - wide
    begins = np.append(np.arange(0, last, STRIP), last) if last >= 0 else np.zeros(0, dtype=np.int64)
    taken = np.interp(begins + wide, at, area) - np.interp(begins, at, area)
    possible = begins[taken <= most]
    if not len(possible):
        return FAR, -FAR
    nearest = int(np.abs(possible - last // 2).argmin())
    gaps = np.flatnonzero(np.diff(possible) > STRIP)
    first = int(gaps[gaps < nearest].max(initial=-1)) + 1
    return int(possible[first]), int(possible[gaps[gaps >= nearest].min(initial=len(possible) - 1)])


def strips_in(wide: int) -> int:
    """How many strips a notch is wide, rounded up."""
    return -(-wide // STRIP)


@remembered(8192)
def crossed(ring: Ring, wide: int) -> tuple[Lengths, Lengths]:
    """The leftmost and the rightmost point of a pocket inside a notch, for each strip in which the notch may begin.

    The notch is ``wide`` from front to back. The first strip is so far in front of the pocket that the notch just meets
    the pocket, the last is the pocket's last.
    """
    own, strips = profile((ring,), 0), strips_in(wide)
    left, right = (np.pad(side, strips, constant_values=far) for side, far in ((own.left, FAR), (own.right, -FAR)))
    return (
        sliding_window_view(left, strips + 1).min(axis=1),
        sliding_window_view(right, strips + 1).max(axis=1),
    )
