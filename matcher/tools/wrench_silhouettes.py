"""What wrenches and keys look like from above: long axis up, working head at the top.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from shapely import Polygon, box

from matcher.tools.strokes import (
    Silhouette,
    Sketch,
    bar,
    bent,
    disc,
    jaw_reach,
    jaws,
    joined,
    mouth,
    placed,
    rod,
    turned,
)

TILT = 15.0
"""Degrees by which open-end jaws stand off the axis; common practice, no source."""


def _combination(s: Sketch) -> Polygon:
    """Open jaws at the top, box ring at the foot."""
    center = s.length - jaw_reach(s["head"], TILT)
    ring = s["box"]
    parts = [jaws(s["head"], center, TILT), disc(ring, ring / 2), bar(s["shank"], ring / 2, center)]
    return joined(parts, fillet=s["head"] / 4) - mouth(s["head"], s["opening"], center, TILT)


def _double_open(s: Sketch, tilt: float) -> Polygon:
    """Jaws at both ends, the smaller at the foot."""
    low, high = jaw_reach(s["small head"], tilt), s.length - jaw_reach(s["head"], tilt)
    ends = [jaws(s["head"], high, tilt), jaws(s["small head"], low, tilt, up=False)]
    upper = mouth(s["head"], s["opening"], high, tilt)
    lower = mouth(s["small head"], s["small opening"], low, tilt, up=False)
    return joined([*ends, bar(s["shank"], low, high)], fillet=s["head"] / 4) - upper - lower


def _double_box(s: Sketch) -> Polygon:
    low, high = s["small head"] / 2, s.length - s["head"] / 2
    rings = [disc(s["head"], high), disc(s["small head"], low)]
    return joined([*rings, bar(s["shank"], low, high)], fillet=s["head"] / 4)


def _crowfoot(s: Sketch) -> Polygon:
    center = s.length - jaw_reach(s.width, 0)
    parts = [jaws(s.width, center, 0), bar(s["boss"], 0, max(s["boss"], center))]
    return joined(parts, fillet=s.width / 8, rounding=s["boss"] / 8) - mouth(s.width, s["opening"], center, 0)


def _adjustable(s: Sketch) -> Polygon:
    head = [(-0.5, 0.82), (-0.46, 0.93), (-0.2, 1.0), (0.1, 0.99), (0.5, 0.9), (0.46, 0.82), (0.2, 0.7), (-0.2, 0.7)]
    handle = turned([(0.05 * s.length, 0.5 * s["shank"]), (0.72 * s.length, 0.42 * s["shank"])])
    parts = [placed(s, head), handle, disc(s["shank"], s["shank"] / 2)]
    return joined(parts, fillet=s.width / 4, rounding=s.width / 20)


def _pipe_wrench(s: Sketch) -> Polygon:
    heel = [(-0.3, 0.66), (-0.5, 0.74), (-0.5, 0.84), (-0.28, 0.9), (-0.24, 1.0)]
    hook = [(0.42, 1.0), (0.5, 0.94), (0.46, 0.86), (0.36, 0.76), (0.2, 0.66)]
    handle = rod(s["shank"], 0, 0.72 * s.length)
    return joined([placed(s, heel + hook), handle], fillet=s.width / 4, rounding=s.width / 25)


def _hex_key(s: Sketch) -> Polygon:
    return bent(s["arm"], s.width, s.length)


def _t_key(s: Sketch) -> Polygon:
    handle = box(-s.width / 2, 0, s.width / 2, s["handle"])
    parts = [handle.buffer(-s["handle"] / 4).buffer(s["handle"] / 4, quad_segs=3), bar(s["blade"], 0, s.length)]
    return joined(parts, fillet=s["blade"] / 2)


WRENCH_DRAWINGS: Mapping[str, Silhouette] = {
    "combination wrench": _combination,
    "stubby combination wrench": _combination,
    "ratcheting wrench": _combination,
    "reversible ratcheting wrench": _combination,
    "flex-head ratcheting wrench": _combination,
    "stubby ratcheting wrench": _combination,
    "double box wrench": _double_box,
    "open-end wrench": partial(_double_open, tilt=TILT),
    "flare-nut wrench": partial(_double_open, tilt=0.0),
    "crowfoot wrench": _crowfoot,
    "ignition wrench": partial(_double_open, tilt=TILT),
    "adjustable wrench": _adjustable,
    "pipe wrench": _pipe_wrench,
    "hex key": _hex_key,
    "T-handle hex key": _t_key,
    "hexalobular key": _hex_key,
}
