"""What wrenches look like from above: long axis up, working head at the top.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import pi, sin

from shapely import LineString, Polygon

from matcher.tools.seams import circle, edge, edges, line_at, seam, ticks
from matcher.tools.sketches import Points, Silhouette, Sketch, ToolDrawing
from matcher.tools.strokes import (
    at,
    bar,
    cushion,
    disc,
    hexagon,
    jaw_reach,
    jaws,
    joined,
    limb,
    mouth,
    placed,
    turned,
    twelve_point,
)

TILT = 15.0
"""Degrees by which open-end jaws stand off the axis; common practice, no source."""


def _panel(width: float, low: float, high: float) -> Points:
    """The recess in the flats of a forged shank."""
    return edge(cushion(-width / 2, low, width / 2, high, width / 2))


def _shank(width: float, low: float, high: float, foot: float) -> Polygon:
    """A shank from the middle of one head to the middle of the other, ``foot`` of its width narrower at its foot."""
    return turned([(low, foot * width / 2), (high, width / 2)])


# --------------------------------------------------------------------------------------------- one open end, one ring


def _combination(s: Sketch) -> ToolDrawing:
    """Open jaws at the top, a twelve-point ring at the foot."""
    ring, center = s["box"], s.length - jaw_reach(s["head"], TILT)
    parts = [at(jaws(s["head"], TILT), center), disc(ring, ring / 2), _shank(s["shank"], ring / 2, center, 0.8)]
    body = joined(parts, fillet=s["head"] / 4) - at(mouth(s["head"], s["opening"], TILT), center)
    panel = _panel(0.45 * s["shank"], 1.35 * ring, center - 0.7 * s["head"])
    return ToolDrawing(body - twelve_point(s["opening"], ring / 2), (panel,))


def _ratcheting(s: Sketch) -> ToolDrawing:
    """A combination wrench with the edge of a gear in its ring."""
    plain, ring = _combination(s), s["box"]
    return ToolDrawing(plain.body, (*plain.lines, circle(0.55 * ring + 0.45 * s["opening"], ring / 2)))


def _reversible(s: Sketch) -> ToolDrawing:
    """A lever beside its ring turns it over."""
    plain, ring = _ratcheting(s), s["box"]
    lever = limb((0, 0.98 * ring, 0.16 * ring), (0.13 * ring, 1.12 * ring, 0.1 * ring))
    return ToolDrawing(plain.body, (*plain.lines, edge(lever)))


def _flex_head(s: Sketch) -> ToolDrawing:
    """The ring hangs by a pin in a fork of the shank."""
    ring, center, fork = s["box"], s.length - jaw_reach(s["head"], TILT), max(0.55 * s["box"], 1.1 * s["shank"])
    pin = 1.18 * ring
    parts = [
        joined([at(jaws(s["head"], TILT), center), bar(s["shank"], pin, center)], fillet=s["head"] / 4),
        disc(ring, ring / 2),
        bar(0.42 * ring, ring / 2, pin),
        limb((0, pin - 0.06 * ring, fork), (0, pin + 0.35 * ring, s["shank"])),
    ]
    body = joined(parts, fillet=ring / 25) - at(mouth(s["head"], s["opening"], TILT), center)
    gear = circle(0.55 * ring + 0.45 * s["opening"], ring / 2)
    lines = (gear, circle(0.2 * ring, pin), *edges(0.24 * ring, ring, 1.5 * ring))
    panel = _panel(0.45 * s["shank"], 1.75 * ring, center - 0.7 * s["head"])
    return ToolDrawing(body - twelve_point(s["opening"], ring / 2), (*lines, panel))


# ------------------------------------------------------------------------------------------------------ two equal ends


def _double_open(s: Sketch) -> ToolDrawing:
    """Jaws at both ends, the smaller at the foot."""
    low, high = jaw_reach(s["small head"], TILT), s.length - jaw_reach(s["head"], TILT)
    ends = [at(jaws(s["head"], TILT), high), at(jaws(s["small head"], TILT), low, turn=180)]
    upper = at(mouth(s["head"], s["opening"], TILT), high)
    lower = at(mouth(s["small head"], s["small opening"], TILT), low, turn=180)
    body = joined([*ends, bar(s["shank"], low, high)], fillet=s["head"] / 4) - upper - lower
    return ToolDrawing(body, (_panel(0.45 * s["shank"], low + 0.7 * s["small head"], high - 0.7 * s["head"]),))


def _ignition(s: Sketch) -> ToolDrawing:
    """Thin open ends, the upper at 15, the lower at 60 degrees."""
    tilt = 60.0
    lower = jaws(s["small head"], tilt)
    low, high = lower.bounds[3], s.length - jaw_reach(s["head"], TILT)
    ends = [at(jaws(s["head"], TILT), high), at(lower, low, turn=180)]
    upper = at(mouth(s["head"], s["opening"], TILT), high)
    gap = at(mouth(s["small head"], s["small opening"], tilt), low, turn=180)
    body = joined([*ends, bar(0.8 * s["shank"], low, high)], fillet=s["head"] / 6) - upper - gap
    return ToolDrawing(body, (seam(s["shank"], 0.48 * s.length), seam(s["shank"], 0.6 * s.length)))


def _double_box(s: Sketch) -> ToolDrawing:
    low, high, head, small = s["small head"] / 2, s.length - s["head"] / 2, s["head"], s["small head"]
    body = joined([disc(head, high), disc(small, low), bar(s["shank"], low, high)], fillet=head / 4)
    body = body - twelve_point(s["opening"], high) - twelve_point(s["small opening"], low)
    bends = (seam(s["shank"], 1.35 * small), seam(s["shank"], s.length - 1.35 * head))
    return ToolDrawing(body, (*bends, *edges(0.5 * s["shank"], 1.35 * small, s.length - 1.35 * head)))


def _ratcheting_box(s: Sketch) -> ToolDrawing:
    """Rings at both ends, each with the edge of its gear."""
    plain, low, high = _double_box(s), s["small head"] / 2, s.length - s["head"] / 2
    gears = [
        circle(0.55 * s[head] + 0.45 * s[opening], y)
        for head, opening, y in (("head", "opening", high), ("small head", "small opening", low))
    ]
    return ToolDrawing(plain.body, (*plain.lines, *gears))


def _half_moon(s: Sketch) -> ToolDrawing:
    """Two rings on a shank bent to the left."""
    head, small, half = s["head"], s["small head"], s.width / 2
    low, high, shank = small / 2, s.length - head / 2, s["shank"]
    foot, top = half - small / 2, half - head / 2
    path = [
        (foot + share * (top - foot) - sin(pi * share) * ((1 - share) * foot + share * top + half - shank / 2),
         low + share * (high - low))
        for share in (step / 12 for step in range(13))
    ]  # fmt: skip
    arc = LineString(path).buffer(shank / 2, quad_segs=2)
    body = joined([disc(head, high, top), disc(small, low, foot), arc], fillet=head / 8)
    body = body - at(twelve_point(s["opening"], 0), high, top) - at(twelve_point(s["small opening"], 0), low, foot)
    return ToolDrawing(body, (path[3:-3],))


def _flare_nut(s: Sketch) -> ToolDrawing:
    """Rings with a slot that goes over a line; the hexagon inside is the nut's."""
    low, high, head, small = s["small head"] / 2, s.length - s["head"] / 2, s["head"], s["small head"]
    body = joined([disc(head, high), disc(small, low), bar(s["shank"], low, high)], fillet=head / 4)
    holes = [
        hexagon(s["hole"], high),
        hexagon(s["small hole"], low),
        bar(s["opening"], high, s.length + head),
        bar(s["small opening"], -head, low),
    ]
    body = body.difference(joined(holes))
    return ToolDrawing(body, (_panel(0.45 * s["shank"], 1.3 * small, s.length - 1.3 * head),))


def _crowfoot(s: Sketch) -> ToolDrawing:
    """Open jaws on a boss with a square hole."""
    center, boss = s.length - jaw_reach(s.width, 0), s["boss"]
    parts = [at(jaws(s.width, 0), center), bar(boss, 0, max(boss, center))]
    body = joined(parts, fillet=s.width / 8, rounding=boss / 8) - at(mouth(s.width, s["opening"], 0), center)
    return ToolDrawing(body - bar(s["square"], boss / 2 - s["square"] / 2, boss / 2 + s["square"] / 2))


# --------------------------------------------------------------------------------------------------------- adjustable


def _adjustable(s: Sketch) -> ToolDrawing:
    """A fixed jaw to the left, the movable one on its slide to the right, the knurl under it."""
    w, lean = s.width, -22.5
    head = [
        (-0.14, 0.0), (-0.14, 0.36), (-0.3, 0.43), (-0.46, 0.3), (-0.52, 0.02), (-0.42, -0.3), (-0.1, -0.62),
        (0.16, -0.6), (0.26, -0.4), (0.5, -0.3), (0.52, 0.04), (0.4, 0.34), (0.24, 0.42), (0.14, 0.4), (0.14, 0.0),
    ]  # fmt: skip
    top = joined([Polygon([(w * x, w * y) for x, y in head])], rounding=w / 30)
    center = s.length - at(top, 0, turn=lean).bounds[3]
    handle = limb(
        (0, s["shank"] / 2, s["shank"]), (0, 0.5 * s.length, 0.7 * s["shank"]), (0, center - 0.35 * w, s["shank"])
    )
    neck = limb((0, center - 0.6 * w, 0.9 * s["shank"]), (0.02 * w, center - 0.3 * w, 0.5 * w))
    hole = disc(0.4 * s["shank"], 0.55 * s["shank"])
    body = joined([at(top, center, turn=lean), handle, neck], fillet=w / 12) - hole
    slide = [(-0.14, -0.1), (0.14, -0.1), (0.14, 0.0), (0.14, -0.1), (0.52, -0.1)]
    nut = Polygon([(0.0, -0.14), (0.3, -0.14), (0.3, -0.32), (0.0, -0.32)])
    marks = [slide, edge(nut), *([(x, -0.14), (x, -0.32)] for x in (0.05, 0.1, 0.15, 0.2, 0.25))]
    lines = [line_at([(w * x, w * y) for x, y in mark], center, turn=lean) for mark in marks]
    return ToolDrawing(body, (*lines, _panel(0.35 * s["shank"], 0.22 * s.length, 0.58 * s.length)))


def _pipe_wrench(s: Sketch) -> ToolDrawing:
    """A toothed heel on the handle; over it the hook, whose shank runs in a housing above the nut."""
    shank = s["shank"] / s.width
    handle = limb(
        (-0.02 * s.width, s["shank"] / 2, s["shank"]),
        (-0.02 * s.width, 0.3 * s.length, 0.8 * s["shank"]),
        (-0.02 * s.width, 0.68 * s.length, s["shank"]),
    )
    heel = [(-0.3, 0.6), (-0.34, 0.72), (-0.1, 0.79), (0.42, 0.81), (0.5, 0.78), (0.4, 0.72), (0.5 * shank, 0.64)]
    stem = [(-0.5, 0.63), (-0.5, 0.9), (-0.4, 0.97), (-0.1, 1.0), (0.3, 0.985), (0.5, 0.93), (0.44, 0.895)]
    hook = [(0.0, 0.895), (-0.2, 0.875), (-0.24, 0.8), (-0.24, 0.63)]
    housing = [(-0.46, 0.655), (-0.5, 0.72), (-0.42, 0.775), (-0.1, 0.775), (0.1, 0.655)]
    parts = [handle, placed(s, heel), placed(s, stem + hook), placed(s, housing)]
    body = joined(parts, fillet=s.width / 40, rounding=s.width / 60) - disc(
        0.4 * s["shank"], 0.5 * s["shank"], -0.02 * s.width
    )
    nut = placed(s, [(-0.5, 0.665), (-0.24, 0.665), (-0.24, 0.715), (-0.5, 0.715)])
    teeth = list(ticks(0.03 * s.length, -0.1 * s.width, 0.42 * s.width, 7))
    upper = [[(y, 0.91 * s.length + x) for x, y in tooth] for tooth in teeth]
    lower = [[(y, 0.795 * s.length + x) for x, y in tooth] for tooth in teeth]
    ribs = ticks(0.26 * s.width, 0.665 * s.length, 0.715 * s.length, 4, -0.37 * s.width)
    panel = edges(0.4 * s["shank"], 0.12 * s.length, 0.56 * s.length, -0.02 * s.width)
    return ToolDrawing(body, (edge(nut), *ribs, *upper, *lower, *panel))


WRENCH_DRAWINGS: Mapping[str, Silhouette] = {
    "combination wrench": _combination,
    "stubby combination wrench": _combination,
    "long-pattern combination wrench": _combination,
    "ratcheting wrench": _ratcheting,
    "reversible ratcheting wrench": _reversible,
    "flex-head ratcheting wrench": _flex_head,
    "stubby ratcheting wrench": _ratcheting,
    "double box wrench": _double_box,
    "ratcheting double box wrench": _ratcheting_box,
    "half-moon wrench": _half_moon,
    "open-end wrench": _double_open,
    "flare-nut wrench": _flare_nut,
    "crowfoot wrench": _crowfoot,
    "ignition wrench": _ignition,
    "adjustable wrench": _adjustable,
    "pipe wrench": _pipe_wrench,
}
