"""Where a finger notch may cross a pocket, so that a finger gets under the tool and foam still holds it (R14).

A notch is always as wide as the house says, and leaves half of the pocket's area in foam. It crosses a tool that is
long enough somewhere along it; of a shorter one it takes an end, and reaches at least half a notch beyond. Common
practice, no source.
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
"""Share of a pocket that a notch leaves in foam: half, and what rounding may be out by."""

Span: TypeAlias = tuple[int, int]
"""First and last place where a notch may begin; the last before the first if there is none."""
HoldSpans: TypeAlias = tuple[Span, Span, Span]
"""Spans from the near end of a tool's box on: across the tool, over its near end, over its far end. Where the first
reaches as far as an end, it is the one over that end too."""


@remembered(8192)
def notch_places(ring: Ring, wide: int) -> HoldSpans:
    """Where a notch ``wide`` from front to back may begin on a pocket with its box at (0, 0)."""
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
    """Area of a ring in front of every one of some distances: the integral of x over y along its edges so far."""
    x0, y0 = np.array(ring, dtype=float)[:, :, None].swapaxes(0, 1)
    x1, y1 = np.roll(x0, -1, axis=0), np.roll(y0, -1, axis=0)
    slope = (x1 - x0) / np.where(y1 == y0, 1, y1 - y0)
    begin, end = np.minimum(y0, at), np.minimum(y1, at)
    areas: NDArray[np.float64] = ((end - begin) * (x0 + slope * ((begin + end) / 2 - y0))).sum(axis=0)
    return np.maximum.accumulate(np.abs(areas))


def _across(area: NDArray[np.float64], at: Lengths, most: float, wide: int) -> Span:
    """Places that leave foam at both ends, without a gap between them, round the one next to the middle; ``area`` is
    that of the pocket up to each of the places ``at``."""
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
    """Strips that a notch is wide, rounded up."""
    return -(-wide // STRIP)


@remembered(8192)
def crossed(ring: Ring, wide: int) -> tuple[Lengths, Lengths]:
    """Leftmost and rightmost points of a pocket in a notch ``wide`` from front to back, by the strip in which the notch
    begins; the first begins so far in front of the pocket that it just meets it."""
    own, strips = profile((ring,), 0), strips_in(wide)
    left, right = (np.pad(side, strips, constant_values=far) for side, far in ((own.left, FAR), (own.right, -FAR)))
    return (
        sliding_window_view(left, strips + 1).min(axis=1),
        sliding_window_view(right, strips + 1).max(axis=1),
    )
