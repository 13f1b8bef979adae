"""In which order an organizer is cut, so that thin webs stand as long as they can. Common practice, no source.

Pockets and notches before what is cut right through, for the blank is held as long as it is whole; the shallow ones
before the deep ones, so that webs are high only at the end; of one depth those beside the widest webs first.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shapely import Polygon, STRtree

from matcher.cutting.contours import Contour
from matcher.cutting.minutes import cutter_for
from matcher.house import Cutter
from matcher.records import Layout, mm

THROUGH = ("cutout", "outer")
"""What is cut right through, in this order."""
WIDE = mm(20)
"""Webs from here on are all alike; own choice."""


@dataclass(frozen=True, slots=True)
class CutStep:
    """All pockets and notches of one depth, cut one after another; without a cutter of the house ``cutter`` is 0."""

    depth: int
    cutter: int
    pockets: int
    notches: int


def in_cutting_order(contours: Iterable[Contour]) -> tuple[Contour, ...]:
    """The contours in the order in which they are to be cut."""
    every = tuple(contours)
    inner = [contour for contour in every if contour.part not in THROUGH]
    webs = _webs(inner)
    turns = sorted(range(len(inner)), key=lambda n: (inner[n].depth, -webs[n], inner[n].corners))
    last = (contour for part in THROUGH for contour in every if contour.part == part)
    return (*(inner[n] for n in turns), *last)


def cut_steps(layout: Layout, cutters: Sequence[Cutter]) -> tuple[CutStep, ...]:
    """The depths of a layout in the order in which they are cut, each with its cutter and how much is so deep."""
    pockets, notches = (Counter(cut.depth for cut in cuts) for cuts in (layout.pockets, layout.notches))
    return tuple(
        CutStep(depth, used.diameter if (used := cutter_for(depth, cutters)) else 0, pockets[depth], notches[depth])
        for depth in sorted({*pockets, *notches})
    )


def _webs(contours: Sequence[Contour]) -> list[int]:
    """The narrowest web beside each contour, to others that it does not run into; none counts as more than ``WIDE``."""
    shapes = [Polygon([(x, y) for x, y, _ in contour.corners]) for contour in contours]
    webs = [WIDE] * len(shapes)
    for one, other in STRtree(shapes).query(shapes, predicate="dwithin", distance=WIDE).T.tolist():
        if (apart := round(shapes[one].distance(shapes[other]))) > 0:
            webs[one] = min(webs[one], apart)
    return webs
