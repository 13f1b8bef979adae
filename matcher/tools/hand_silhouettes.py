"""What screwdrivers, pliers, striking and measuring tools look like from above: long axis up, working head at the top.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from shapely import Polygon, box

from matcher.tools.strokes import Silhouette, Sketch, bar, disc, joined, mirrored, placed, rectangle, rod, turned

# --------------------------------------------------------------------------------------------------------- screwdrivers


def _screwdriver(s: Sketch) -> Polygon:
    """A handle with a waist below its blade."""
    shape = [(0.0, 0.34), (0.05, 0.46), (0.45, 0.5), (0.78, 0.4), (0.9, 0.44), (1.0, 0.28)]
    handle = turned([(y * s["handle"], half * s.width) for y, half in shape])
    return joined([handle, bar(s["blade"], s["handle"] / 2, s.length)])


def _insert_bit(s: Sketch) -> Polygon:
    return joined([bar(s.width, 0, 0.7 * s.length), bar(s["tip"], 0.7 * s.length, s.length)])


# --------------------------------------------------------------------------------------------------------------- pliers


def _pliers(s: Sketch, joint: float, shoulder: float, tip: float) -> Polygon:
    """Closed: two handles with a gap between them, a joint, and a nose ``tip`` of the head's width wide at its end.

    ``joint`` and ``shoulder`` are shares of the length between which the head has its full width.
    """
    half, head, top = s.width / 2, s["head"] / 2, s.length
    gap = [(0.0, (joint - 0.1) * top), (0.22 * half, 0.15 * top), (0.36 * half, 0.0)]
    handle = [(0.8 * half, 0.0), (half, 0.12 * top), (half, 0.2 * top), (0.8 * half, 0.36 * top)]
    nose = [(head, joint * top), (head, shoulder * top), (tip * head, top)]
    return joined([mirrored([*gap, *handle, *nose])], fillet=half / 6, rounding=half / 10)


# ------------------------------------------------------------------------------------------------------------- striking


def _hammer(s: Sketch) -> Polygon:
    low, high, reach = s.length - s["head"], s.length, s.width / 2
    middle = (low + high) / 2
    head = [(-reach, low), (0.2 * reach, low), (reach, middle - s["head"] / 6), (reach, middle + s["head"] / 6)]
    top = [(0.2 * reach, high), (-reach, high)]
    return joined([Polygon(head + top), rod(s["handle"], 0, high - s["head"] / 4)], fillet=s["handle"] / 8)


def _punch(s: Sketch) -> Polygon:
    return turned([(0, s.width / 2), (0.65 * s.length, s.width / 2), (s.length, s["tip"] / 2)])


def _chisel(s: Sketch) -> Polygon:
    body = s["body"] / 2
    return turned([(0, body), (0.65 * s.length, body), (0.85 * s.length, s.width / 2), (s.length, s.width / 2)])


def _pry_bar(s: Sketch) -> Polygon:
    shank = s["shank"] / 2
    claw = [(0.84 * s.length, shank), (0.92 * s.length, s.width / 2), (s.length, s.width / 2)]
    return turned([(0, 0.8 * shank), (0.06 * s.length, shank), *claw])


def _file(s: Sketch) -> Polygon:
    handle, blade = s["handle"], s["blade"] / 2
    grip = [(0, 0.36), (0.1, 0.48), (0.5, 0.5), (0.9, 0.36), (1.0, 0.3)]
    steel = turned(
        [(0.95 * handle, 0.4 * blade), (1.12 * handle, blade), (s.length - 2 * blade, blade), (s.length, 0.8 * blade)]
    )
    return joined([turned([(y * handle, half * s.width) for y, half in grip]), steel])


def _hacksaw(s: Sketch) -> Polygon:
    frame = [(-0.5, 0.26), (-0.5, 0.92), (-0.4, 1.0), (0.5, 1.0), (0.5, 0.22)]
    handle = [(0.42, 0.04), (0.3, 0.0), (-0.2, 0.02), (-0.24, 0.08), (-0.1, 0.22)]
    return joined([placed(s, frame + handle)], rounding=s["frame"] / 2)


# ------------------------------------------------------------------------------------------------------------ measuring


def _rounded(s: Sketch) -> Polygon:
    return joined([rectangle(s)], rounding=min(s.width, s.length) / 5)


def _caliper(s: Sketch) -> Polygon:
    """Closed: long outside jaws to the right, short inside jaws to the left, the slide on the beam below them."""
    left, right, slide = -0.34, 0.66, 0.17
    outside = [(slide, 0.6), (slide, 0.8), (right, 0.87), (right, 0.93), (slide, 1.0)]
    inside = [(-slide, 1.0), (-slide, 0.95), (left, 0.92), (left, 0.88), (-slide, 0.85), (-slide, 0.6)]
    return joined([placed(s, outside + inside), bar(s["beam"], 0, s.length)], fillet=s["beam"] / 8)


def _mirror(s: Sketch) -> Polygon:
    parts = [
        disc(s.width, s.length - s.width / 2),
        bar(s.width / 8, 0, s.length - s.width / 2),
        rod(s.width / 3, 0, 0.4 * s.length),
    ]
    return joined(parts)


def _pick(s: Sketch) -> Polygon:
    blade = s.width / 3
    hook = box(-blade / 2, s.length - blade, s.width / 2, s.length)
    return joined([rod(s.width, 0, 0.55 * s.length), bar(blade, 0, s.length), hook], fillet=blade / 2)


def _pick_up(s: Sketch) -> Polygon:
    tip = rod(0.7 * s.width, 0.9 * s.length, s.length)
    return joined([rod(s.width, 0, 0.55 * s.length), bar(0.5 * s.width, 0, s.length), tip])


HAND_DRAWINGS: Mapping[str, Silhouette] = {
    "screwdriver": _screwdriver,
    "stubby screwdriver": _screwdriver,
    "nut driver": _screwdriver,
    "insert bit": _insert_bit,
    "combination pliers": partial(_pliers, joint=0.62, shoulder=0.78, tip=0.55),
    "diagonal cutters": partial(_pliers, joint=0.68, shoulder=0.86, tip=0.35),
    "long-nose pliers": partial(_pliers, joint=0.56, shoulder=0.66, tip=0.2),
    "slip-joint pliers": partial(_pliers, joint=0.66, shoulder=0.86, tip=0.6),
    "locking pliers": partial(_pliers, joint=0.66, shoulder=0.84, tip=0.5),
    "snap-ring pliers": partial(_pliers, joint=0.62, shoulder=0.72, tip=0.2),
    "snips": partial(_pliers, joint=0.6, shoulder=0.7, tip=0.25),
    "wire stripper": partial(_pliers, joint=0.6, shoulder=0.82, tip=0.6),
    "hammer": _hammer,
    "punch": _punch,
    "chisel": _chisel,
    "pry bar": _pry_bar,
    "file": _file,
    "hacksaw": _hacksaw,
    "tape measure": _rounded,
    "caliper": _caliper,
    "feeler gauge": _rounded,
    "mirror": _mirror,
    "pick": _pick,
    "magnetic pick-up": _pick_up,
}
