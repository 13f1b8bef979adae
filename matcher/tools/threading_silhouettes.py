"""What taps, dies and what turns and checks them look like from above: long axis up, the working end at the top.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, pi, sin

from matcher.tools.seams import circle, edges, knurl, seam, ticks
from matcher.tools.sketches import Silhouette, Sketch, ToolDrawing
from matcher.tools.strokes import cushion, disc, joined, limb, turned


def _tap(s: Sketch) -> ToolDrawing:
    """A shank with a square at its foot, the thread with its flutes and its lead."""
    w, top, shank = s.width, s.length, s["shank"]
    square = 0.8 * shank
    profile = [
        (0, square / 2),
        (0.12 * top, square / 2),
        (0.13 * top, shank / 2),
        (0.5 * top, shank / 2),
        (0.54 * top, w / 2),
        (0.88 * top, w / 2),
        (top, 0.36 * w),
    ]
    thread = ticks(w, 0.55 * top, 0.97 * top, 16, rise=0.02 * top)
    flutes = edges(0.34 * w, 0.5 * top, top)
    return ToolDrawing(turned(profile), (*thread, *flutes, *edges(0.4 * square, 0, 0.12 * top), seam(w, 0.12 * top)))


def _die(s: Sketch) -> ToolDrawing:
    """A round die, its thread open to four holes for chips, slotted to be set."""
    w, hole = s.width, s["hole"]
    middle, rim = w / 2, (w - hole) / 2
    chips = [
        disc(0.5 * rim, middle + (hole / 2 + 0.16 * rim) * sin(turn), (hole / 2 + 0.16 * rim) * cos(turn), corners=12)
        for turn in (pi / 4, 3 * pi / 4, 5 * pi / 4, 7 * pi / 4)
    ]
    body = disc(w, middle).difference(joined([disc(0.94 * hole, middle), *chips]))
    slot = [(0, middle + hole / 2), (0, w)]
    dimples = [circle(0.12 * w, middle, side * 0.46 * w) for side in (-1, 1)]
    return ToolDrawing(body, (slot, circle(0.88 * w, middle), *dimples))


def _tap_wrench(s: Sketch) -> ToolDrawing:
    """A body with two jaws round a square, a handle to either side, one of which is screwed."""
    w, top, rail = s.width, s.length, s["bar"]
    middle, reach = top / 2, min(1.3 * w, 0.2 * top)
    body = turned(
        [
            (middle - reach, rail / 2),
            (middle - 0.5 * reach, w / 2),
            (middle + 0.5 * reach, w / 2),
            (middle + reach, rail / 2),
        ]
    )
    arms = [
        limb((0, rail / 2, rail), (0, middle, 0.8 * rail)),
        limb((0, middle, 0.8 * rail), (0, top - rail / 2, rail)),
    ]
    hole = 0.34 * w
    gap = disc(hole, middle, corners=4)
    lines = (
        seam(w, middle),
        *knurl(rail, 0.06 * top, 0.26 * top),
        seam(w, middle - reach),
        seam(w, middle + 0.8 * reach),
    )
    return ToolDrawing(joined([body, *arms], fillet=rail / 6) - gap, lines)


def _die_stock(s: Sketch) -> ToolDrawing:
    """A ring for the die, screws that hold it, a handle to either side."""
    w, top, rail = s.width, s.length, s["bar"]
    middle = top / 2
    arms = [
        limb((0, rail / 2, rail), (0, 0.3 * top, 0.8 * rail)),
        limb((0, 0.3 * top, 0.8 * rail), (0, middle, 0.9 * rail)),
        limb((0, middle, 0.9 * rail), (0, 0.7 * top, 0.8 * rail)),
        limb((0, 0.7 * top, 0.8 * rail), (0, top - rail / 2, rail)),
    ]
    body = joined([disc(w, middle), *arms], fillet=rail / 3) - disc(s["die"], middle)
    screws = [
        [(x * 0.36 * w, middle + y * 0.36 * w), (x * 0.5 * w, middle + y * 0.5 * w)]
        for x, y in ((0.7, 0.7), (-0.7, 0.7), (0.9, -0.4), (-0.9, -0.4))
    ]
    grips = (*knurl(rail, 0.04 * top, 0.2 * top), *knurl(rail, 0.8 * top, 0.96 * top))
    return ToolDrawing(body, (*screws, *grips, circle((w + s["die"]) / 2, middle)))


def _thread_gauge(s: Sketch) -> ToolDrawing:
    """A case with toothed leaves that fold out at both ends."""
    w, top = s.width, s.length
    case = cushion(-w / 2, 0, 0.36 * w, top, 0.4 * w)
    leaf = cushion(0, 0.14 * top, w / 2, 0.86 * top, 0.06 * w)
    teeth = [(0.5 * w if step % 2 else 0.42 * w, (0.2 + 0.6 * step / 24) * top) for step in range(25)]
    rivets = (circle(0.2 * w, 0.13 * top, -0.1 * w), circle(0.2 * w, 0.87 * top, -0.1 * w))
    sides = [[(0.36 * w, 0.14 * top), (0.36 * w, 0.86 * top)], [(-0.3 * w, 0.2 * top), (-0.3 * w, 0.8 * top)]]
    return ToolDrawing(joined([case, leaf]), (teeth, *rivets, *sides))


def _screw_extractor(s: Sketch) -> ToolDrawing:
    """A square at the foot, a taper with a steep left-hand thread."""
    w, top = s.width, s.length
    profile = [
        (0, 0.36 * w),
        (0.16 * top, 0.36 * w),
        (0.2 * top, w / 2),
        (0.4 * top, w / 2),
        (0.46 * top, 0.44 * w),
        (top, 0.16 * w),
    ]
    thread = ticks(w, 0.46 * top, top, 7, rise=-0.14 * top)
    return ToolDrawing(
        turned(profile), (*thread, *edges(0.3 * w, 0, 0.16 * top), seam(w, 0.18 * top), seam(w, 0.42 * top))
    )


THREADING_DRAWINGS: Mapping[str, Silhouette] = {
    "tap": _tap,
    "die": _die,
    "tap wrench": _tap_wrench,
    "die stock": _die_stock,
    "thread gauge": _thread_gauge,
    "screw extractor": _screw_extractor,
}
