"""What measuring, marking and inspecting tools look like from above: long axis up, working head at the top.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from shapely import box

from matcher.tools.seams import circle, edge, edges, knurl, seam, ticks
from matcher.tools.sketches import Silhouette, Sketch, ToolDrawing
from matcher.tools.strokes import bar, cushion, disc, joined, limb, placed, rod, turned

# ---------------------------------------------------------------------------------------------------------- measuring


def _tape_measure(s: Sketch) -> ToolDrawing:
    """A case with its blade's hook at the upper right."""
    w, top = s.width, s.length
    case = joined(
        [
            cushion(-w / 2, 0, 0.44 * w, top, 0.26 * w),
            box(0, 0, 0.44 * w, 0.3 * top),
            box(0.3 * w, 0.02 * top, w / 2, 0.1 * top),
        ]
    )
    lines = (
        circle(0.56 * w, 0.52 * top, -0.06 * w),
        circle(0.48 * w, 0.52 * top, -0.06 * w),
        seam(0.2 * w, 0.86 * top, 0.1 * w),
        edge(box(0.22 * w, 0.62 * top, 0.36 * w, 0.84 * top)),
        [(0.44 * w, 0), (0.44 * w, 0.3 * top)],
    )
    return ToolDrawing(case, lines)


def _caliper(s: Sketch) -> ToolDrawing:
    """Closed: long outside jaws to the right, short inside jaws to the left, the slide on the beam below them."""
    left, right, slide, top = -0.34, 0.66, 0.17, s.length
    outside = [(slide, 0.6), (slide, 0.8), (0.5, 0.855), (right, 0.885), (right, 0.93), (slide, 1.0)]
    inside = [(-slide, 1.0), (-slide, 0.95), (left, 0.925), (left, 0.895), (-slide, 0.85), (-slide, 0.6)]
    beam = s["beam"]
    body = joined([placed(s, outside + inside), bar(beam, 0, top)], fillet=beam / 8)
    display = edge(box(-0.12 * s.width, 0.64 * top, 0.12 * s.width, 0.76 * top))
    closed = [
        [(slide * s.width, 0.907 * top), (right * s.width, 0.907 * top)],
        [(left * s.width, 0.907 * top), (-slide * s.width, 0.907 * top)],
    ]
    scale = ticks(0.4 * beam, 0.05 * top, 0.58 * top, 24, 0.3 * beam)
    rod_ = edges(0.2 * beam, 0, 0.6 * top, -0.1 * beam)
    return ToolDrawing(
        body, (display, *closed, seam(s.width, 0.6 * top), *scale, *rod_, edge(disc(0.1 * s.width, 0.8 * top)))
    )


def _feeler_gauge(s: Sketch) -> ToolDrawing:
    """A fan of blades folded into its cheeks, on a pin at the foot."""
    w, top = s.width, s.length
    body = limb((0, w / 2, w), (0, top - 0.4 * w, 0.8 * w))
    return ToolDrawing(
        body,
        (
            circle(0.4 * w, w / 2),
            circle(0.16 * w, w / 2),
            *edges(0.3 * w, 0.9 * w, top),
            *edges(0.6 * w, 0.9 * w, top),
            seam(w, 0.72 * top),
        ),
    )


def _mirror(s: Sketch) -> ToolDrawing:
    """A round glass on a joint, a telescoping rod, a grip."""
    w, top = s.width, s.length
    center = top - w / 2
    parts = [
        disc(w, center),
        limb((0, center - 0.62 * w, 0.16 * w), (0, center, 0.1 * w)),
        bar(w / 9, 0.35 * top, center - w / 2),
        rod(w / 3.4, 0, 0.42 * top),
    ]
    ball = circle(0.13 * w, center - 0.6 * w)
    glare = [
        [(-0.2 * w, center - 0.1 * w), (0.1 * w, center + 0.2 * w)],
        [(-0.1 * w, center - 0.2 * w), (0.2 * w, center + 0.1 * w)],
    ]
    grip = ticks(w / 3.4, 0.06 * top, 0.36 * top, 8)
    return ToolDrawing(joined(parts), (circle(0.86 * w, center), ball, *glare, *grip))


def _pick(s: Sketch) -> ToolDrawing:
    """A needle with a hook on a grip."""
    w, top = s.width, s.length
    needle = max(0.16 * w, 320)
    grip = limb((0, 0.4 * w, 0.8 * w), (0, 0.08 * top, w), (0, 0.4 * top, w), (0, 0.5 * top, 0.55 * w))
    wire = limb((0, 0.5 * top, 1.6 * needle), (0, 0.84 * top, needle))
    hook = limb(
        (0, 0.84 * top, needle),
        (0.02 * w, top - 0.9 * w, needle),
        (0.24 * w, top - needle / 2, needle),
        (w / 2 - needle / 2, top - 0.7 * w, needle),
    )
    return ToolDrawing(joined([grip, wire, hook]), (*knurl(w, 0.14 * top, 0.38 * top), seam(w, 0.48 * top)))


def _pick_up(s: Sketch) -> ToolDrawing:
    """A telescoping rod with a magnet at its end and a pocket clip."""
    w, top = s.width, s.length
    parts = [
        rod(w, 0, 0.5 * top),
        bar(0.62 * w, 0, 0.66 * top),
        bar(0.48 * w, 0, 0.8 * top),
        bar(0.34 * w, 0, 0.94 * top),
        rod(0.7 * w, 0.88 * top, top),
    ]
    clip = edge(cushion(-0.14 * w, 0.2 * top, 0.14 * w, 0.47 * top, 0.1 * w))
    steps = [seam(w, share * top) for share in (0.03, 0.5, 0.66, 0.8, 0.9, 0.96)]
    return ToolDrawing(joined(parts), (clip, *steps))


def _rule(s: Sketch) -> ToolDrawing:
    """Graduated along both edges, with a hole to hang it by."""
    w, top = s.width, s.length
    count = int(min(max(top / 1600, 10), 60))
    scales = [line for side in (-1, 1) for line in ticks(0.4 * w, 0.05 * top, 0.98 * top, count, side * 0.42 * w)]
    return ToolDrawing(bar(w, 0, top) - disc(0.3 * w, 0.025 * top + 0.15 * w, corners=12), tuple(scales))


def _square(s: Sketch) -> ToolDrawing:
    """A thin blade on a thick stock at its foot."""
    half, top, stock, blade = s.width / 2, s.length, s["stock"], s["blade"]
    body = joined([cushion(-half, 0, half, stock, stock / 8), box(-half, 0, blade - half, top)])
    scale = ticks(0.5 * blade, 1.2 * stock, 0.97 * top, 18, 0.85 * blade - half)
    rivets = [circle(0.16 * blade, stock / 2, (share * blade) - half) for share in (0.3, 0.7)]
    return ToolDrawing(
        body, ([(-half, stock), (blade - half, stock)], [(blade - half, stock), (blade - half, 0)], *scale, *rivets)
    )


def _flashlight(s: Sketch) -> ToolDrawing:
    w, top = s.width, s.length
    body = turned(
        [
            (0, 0.26 * w),
            (0.02 * top, 0.34 * w),
            (0.64 * top, 0.34 * w),
            (0.78 * top, w / 2),
            (0.98 * top, w / 2),
            (top, 0.46 * w),
        ]
    )
    switch = cushion(-0.12 * w, 0.56 * top, 0.12 * w, 0.68 * top, 0.12 * w)
    return ToolDrawing(
        body,
        (
            *knurl(0.68 * w, 0.12 * top, 0.5 * top),
            edge(switch),
            seam(w, 0.78 * top),
            seam(w, 0.94 * top),
            seam(w, 0.06 * top),
        ),
    )


HAND_DRAWINGS: Mapping[str, Silhouette] = {
    "tape measure": _tape_measure,
    "caliper": _caliper,
    "rule": _rule,
    "square": _square,
    "feeler gauge": _feeler_gauge,
    "mirror": _mirror,
    "pick": _pick,
    "magnetic pick-up": _pick_up,
    "flashlight": _flashlight,
}
