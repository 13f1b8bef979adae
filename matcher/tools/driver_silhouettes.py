"""What screwdrivers, other tools on a driver's handle and bits look like from above: long axis up, the tip at the top.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from shapely import Polygon, box

from matcher.tools.seams import circle, edge, edges, knurl, seam, ticks
from matcher.tools.sketches import Points, Silhouette, Sketch, ToolDrawing
from matcher.tools.strokes import bar, joined, limb, rod, turned


def _handle(s: Sketch) -> tuple[Polygon, tuple[Points, ...]]:
    """A handle with a dome, flutes and a waist below its blade."""
    high = s["handle"]
    profile = [(0.0, 0.3), (0.03, 0.41), (0.1, 0.48), (0.2, 0.5), (0.52, 0.5), (0.68, 0.42), (0.78, 0.36), (0.86, 0.38),
               (0.93, 0.42), (0.98, 0.36), (1.0, 0.26)]  # fmt: skip
    shape = turned([(y * high, half * s.width) for y, half in profile])
    flutes = [[(x * s.width, 0.14 * high), (x * s.width, 0.6 * high)] for x in (-0.34, -0.12, 0.12, 0.34)]
    return shape, (*flutes, seam(s.width, 0.08 * high), seam(s.width, 0.93 * high))


def _screwdriver(s: Sketch) -> ToolDrawing:
    """The end of the blade is as wide as its tip: a ground flat for slots, a point for crosses, flutes else."""
    handle, lines = _handle(s)
    blade, end, low, top = s["blade"], s["tip"], s["handle"], s.length
    reach = min(1.6 * blade, 0.4 * (top - low))
    shank = turned(
        [
            (low / 2, blade / 2),
            (top - reach, blade / 2),
            (top - 0.35 * reach, max(end, 0.6 * blade) / 2),
            (top, end / 2),
        ]
    )
    arch = [(x * blade, top - reach * y) for x, y in ((-0.5, 0.5), (-0.3, 0.85), (0, 1.0), (0.3, 0.85), (0.5, 0.5))]
    flutes = (seam(blade, top - reach), *edges(0.35 * blade, top - reach, top))
    return ToolDrawing(joined([handle, shank]), (*lines, *([arch] if end > 0.99 * blade else flutes)))


def _nut_driver(s: Sketch) -> ToolDrawing:
    """A shank with a socket at its end."""
    handle, lines = _handle(s)
    end, low, top = s["blade"], s["handle"], s.length
    high = min(1.8 * end, 0.4 * (top - low))
    shank = [bar(0.6 * end, low / 2, top), rod(end, top - high, top)]
    bore = (*edges(0.72 * end, top - 0.6 * high, top), seam(0.72 * end, top - 0.6 * high))
    return ToolDrawing(joined([handle, *shank]), (*lines, *bore, seam(end, top - 0.95 * high)))


def _torque_screwdriver(s: Sketch) -> ToolDrawing:
    """A scale in the handle, a chuck for bits at the end."""
    handle, lines = _handle(s)
    end, low, top = s["blade"], s["handle"], s.length
    parts = [
        handle,
        bar(0.7 * end, low / 2, top),
        rod(1.2 * end, 0.9 * low, 0.9 * low + 2 * end),
        rod(end, top - 2 * end, top),
    ]
    window = edge(box(-0.16 * s.width, 0.62 * low, 0.16 * s.width, 0.86 * low))
    scale = ticks(0.2 * s.width, 0.64 * low, 0.84 * low, 5, -0.06 * s.width)
    return ToolDrawing(joined(parts), (*lines, window, *scale, seam(end, top - 0.8 * end)))


def _spinner(s: Sketch) -> ToolDrawing:
    """A square at the end of its shank."""
    handle, lines = _handle(s)
    side, low, top = s["square"], s["handle"], s.length
    parts = [handle, bar(s["blade"], low / 2, top - 1.1 * side), bar(side, low, top)]
    ball = circle(0.35 * side, top - 0.55 * side)
    return ToolDrawing(joined(parts), (*lines, ball, seam(s.width, top - 1.1 * side)))


def _insert_bit(s: Sketch) -> ToolDrawing:
    """A hexagonal shank with a waist, and the tip."""
    half, tip, neck = s.width / 2, s["tip"] / 2, 0.62 * s.length
    shank = [(0, 0.8 * half), (0.05 * s.length, half), (0.3 * s.length, half), (0.34 * s.length, 0.85 * half)]
    rest = [(0.38 * s.length, 0.85 * half), (0.42 * s.length, half), (neck, half), (0.76 * s.length, tip)]
    body = turned([*shank, *rest, (s.length - tip / 3, tip), (s.length, min(s["point"] / 2, tip))])
    return ToolDrawing(body, (*edges(half, 0, neck), seam(s.width, neck), *edges(0.8 * tip, 0.8 * s.length, s.length)))


def _bit_holder(s: Sketch) -> ToolDrawing:
    """A hexagonal shank below a sleeve."""
    w, sleeve = s.width, 0.4 * s.length
    body = joined([bar(0.55 * w, 0, sleeve + 1), limb((0, sleeve + w / 2, w), (0, 0.97 * s.length - w / 2, w)),
                   bar(0.9 * w, 0.8 * s.length, s.length)])  # fmt: skip
    return ToolDrawing(
        body, (*edges(0.28 * w, 0, sleeve), *knurl(w, 0.55 * s.length, 0.75 * s.length), seam(w, 0.93 * s.length))
    )


DRIVER_DRAWINGS: Mapping[str, Silhouette] = {
    "screwdriver": _screwdriver,
    "stubby screwdriver": _screwdriver,
    "torque screwdriver": _torque_screwdriver,
    "nut driver": _nut_driver,
    "spinner handle": _spinner,
    "insert bit": _insert_bit,
    "bit holder": _bit_holder,
}
