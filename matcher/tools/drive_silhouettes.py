"""What handles on a square drive and parts between look like from above: long axis up, working head at the top.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from shapely import Polygon, box

from matcher.tools.seams import circle, edge, edges, knurl, seam, square, ticks
from matcher.tools.sketches import Points, Silhouette, Sketch, ToolDrawing
from matcher.tools.socket_silhouettes import retained, universal_joint
from matcher.tools.strokes import bar, cushion, disc, joined, limb, rod, turned


def _tang(side: float, low: float, high: float) -> tuple[Polygon, tuple[Points, ...]]:
    """A male square from ``low`` to ``high`` with its edges broken, and the ball in it."""
    chamfer = min(side / 8, (high - low) / 4)
    shape = turned([(low, side / 2), (high - chamfer, side / 2), (high, side / 2 - chamfer)])
    return shape, (circle(0.32 * side, high - min(0.5 * side, (high - low) / 2)),)


def _handle(s: Sketch, share: float) -> Polygon:
    """A grip up to ``share`` of the length, thicker at its foot."""
    wide, high = s["grip"], share * s.length
    return limb((0, wide / 2, wide), (0, 0.5 * high, 0.86 * wide), (0, high - 0.45 * wide, 0.9 * wide))


def _ratchet_head(s: Sketch, center: float) -> tuple[Points, ...]:
    """The cap, the square and the lever that turns it over."""
    w = s.width
    lever = limb((0, center - 0.36 * w, 0.1 * w), (0.14 * w, center - 0.42 * w, 0.06 * w))
    return circle(0.68 * w, center), square(s["square"], center), edge(lever)


def _ratchet(s: Sketch) -> ToolDrawing:
    center, neck = s.length - s.width / 2, s.length - 1.35 * s.width
    parts = [disc(s.width, center), limb((0, neck, 0.9 * s["shank"]), (0, center, 1.5 * s["shank"])),
             bar(0.8 * s["shank"], 0.35 * s.length, center), _handle(s, 0.45)]  # fmt: skip
    rings = (seam(s.width, 0.45 * s.length), seam(s.width, 0.04 * s.length))
    panel = edges(0.4 * s["grip"], 0.1 * s.length, 0.38 * s.length)
    return ToolDrawing(joined(parts, fillet=s.width / 5), (*_ratchet_head(s, center), *rings, *panel))


def _flex_ratchet(s: Sketch) -> ToolDrawing:
    """The head hangs by a pin between the cheeks of a fork."""
    w = s.width
    center, pin = s.length - w / 2, s.length - 1.22 * w
    handle = joined([bar(0.8 * s["shank"], 0.3 * s.length, pin), _handle(s, 0.42)], fillet=w / 6)
    fork = limb((0, pin - 0.5 * w, s["shank"]), (0, pin, 0.62 * w))
    body = joined([disc(w, center), bar(0.4 * w, pin, center), fork, handle], fillet=w / 30)
    lines = (circle(0.2 * w, pin), *edges(0.3 * w, pin - 0.3 * w, pin + 0.34 * w), seam(w, 0.42 * s.length))
    return ToolDrawing(
        body, (*_ratchet_head(s, center), *lines, *edges(0.4 * s["grip"], 0.1 * s.length, 0.36 * s.length))
    )


def _breaker_bar(s: Sketch) -> ToolDrawing:
    """The head swings on a pin in a fork; its square points up."""
    w = s.width
    pin, shank = s.length - 0.5 * w, s["shank"]
    fork = turned([(s.length - 2.2 * w, shank / 2), (s.length - 1.6 * w, w / 2), (pin, w / 2)])
    parts = [fork, disc(w, pin), bar(shank, 0.2 * s.length, s.length - 2 * w), rod(s["grip"], 0, 0.28 * s.length)]
    cheeks = edges(0.55 * w, s.length - 1.3 * w, s.length)
    lines = (*cheeks, circle(0.9 * s["square"], pin), square(0.8 * s["square"], pin), seam(w, s.length - 1.3 * w))
    return ToolDrawing(joined(parts, fillet=w / 4), (*lines, *knurl(s["grip"], 0.04 * s.length, 0.24 * s.length)))


def _sliding_t(s: Sketch) -> ToolDrawing:
    """A round bar, upright, and the slider on its middle with the square to the right."""
    middle, slider, side = s.length / 2, s["slider"], s["square"]
    right = s.width
    body = box(0, middle - slider / 2, max(0.95 * slider, right - 1.1 * side), middle + slider / 2)
    tang = box(slider / 2, middle - side / 2, right, middle + side / 2)
    at = slider / 2
    shape = joined([rod(s["bar"], 0, s.length, at), body, tang], fillet=slider / 10, rounding=slider / 20)
    ends = (seam(s["bar"], 0.04 * s.length, at), seam(s["bar"], 0.96 * s.length, at))
    sides = edges(s["bar"], middle - slider / 2, middle + slider / 2, at)
    ball = circle(0.3 * side, middle, right - 0.5 * side)
    return ToolDrawing(
        shape, (*ends, *sides, ball, [(body.bounds[2], middle - slider), (body.bounds[2], middle + slider)])
    )


def _extension(s: Sketch, wobble: bool = False) -> ToolDrawing:
    """A female end at the foot, a square at the top; that of a wobble extension is waisted."""
    side, head = s["square"], s["head"]
    shoulder = s.length - min(1.1 * side, 0.2 * s.length)
    collar = shoulder - min(0.8 * s["tip"], 0.15 * s.length)
    end = turned(
        [(0, 0.46 * s.width), (0.04 * s.width, s.width / 2), (0.85 * head, s.width / 2), (head, s["shank"] / 2)]
    )
    parts = [end, bar(s["shank"], 0.5 * head, shoulder), rod(s["tip"], collar, shoulder)]
    tang, lines = _tang(side, shoulder - 1, s.length)
    body = joined(parts, fillet=s.width / 8)
    if wobble:
        neck = turned([(shoulder - 1, 0.32 * side), (shoulder + 0.3 * (s.length - shoulder), 0.32 * side)])
        bulb = turned(
            [
                (shoulder + 0.3 * (s.length - shoulder), 0.42 * side),
                (s.length - side / 4, side / 2),
                (s.length, side / 3),
            ]
        )
        tang = joined([neck, bulb])
    hole = (*edges(side, 0, 0.9 * side), seam(side, 0.9 * side))
    ribs = knurl(s.width, 0.55 * head, 0.85 * head) if not wobble else ticks(s.width, 0.6 * head, 0.9 * head, 2)
    return ToolDrawing(joined([body, tang]), (*lines, *hole, *ribs, seam(s["tip"], collar), seam(s["tip"], shoulder)))


def _adapter(s: Sketch) -> ToolDrawing:
    """A female end at the foot, the other drive's square at the top."""
    foot, tip, side = s["foot"], s["tip"], s["square"]
    chamfer = foot / 12
    body = turned([(0, foot / 2 - chamfer), (chamfer, foot / 2), (0.5 * s.length, foot / 2), (0.62 * s.length, tip / 2),
                   (0.7 * s.length, tip / 2)])  # fmt: skip
    tang, lines = _tang(side, 0.6 * s.length, s.length)
    if max(foot, tip) < s.width:
        body = joined([body, disc(s.width, 0.3 * s.length)])
    bore = (*edges(0.5 * foot, 0, 0.35 * s.length), seam(0.5 * foot, 0.35 * s.length))
    return ToolDrawing(joined([body, tang]), (*lines, *bore, seam(foot, 0.5 * s.length), seam(tip, 0.7 * s.length)))


def _impact(s: Sketch, draw: Silhouette) -> ToolDrawing:
    """A part between with the groove and the hole of an impact piece."""
    plain = draw(s)
    return ToolDrawing(plain.body, (*plain.lines, *retained(s.width, 0.15 * s.length)))


def _universal_joint(s: Sketch) -> ToolDrawing:
    """Two forks on a cross, a square above them."""
    tang, lines = _tang(s["square"], 0.74 * s.length, s.length)
    drawn = universal_joint(s, joined([tang, bar(s.width, 0.66 * s.length, 0.76 * s.length)]), 0.64)
    return ToolDrawing(drawn.body, (*drawn.lines, *lines))


def _torque_wrench(s: Sketch) -> ToolDrawing:
    """A ratchet on a tube, with its scale above a knurled grip."""
    w, center, grip = s.width, s.length - s.width / 2, 0.3 * s.length
    parts = [
        joined([disc(w, center), limb((0, center - 1.2 * w, s["shank"]), (0, center, 0.9 * w))], fillet=w / 5),
        bar(s["shank"], grip, center),
        rod(s["grip"], 0.03 * s.length, grip),
        rod(0.6 * s["grip"], 0, 0.06 * s.length),
    ]
    window = edge(box(-0.18 * w, grip + 0.03 * s.length, 0.18 * w, grip + 0.15 * s.length))
    scale = ticks(0.2 * w, grip + 0.035 * s.length, grip + 0.145 * s.length, 8, -0.08 * w)
    lines = (*_ratchet_head(s, center), window, *scale, *knurl(s["grip"], 0.06 * s.length, grip - 0.03 * s.length))
    return ToolDrawing(joined(parts, fillet=w / 12), (*lines, seam(s["grip"], grip), seam(w, center - 1.5 * w)))


def _socket_rail(s: Sketch) -> ToolDrawing:
    """A channel with clips for sockets and a stop at either end."""
    w, top = s.width, s.length
    pitch = top / max(2, round(top / (1.1 * w)))
    clips = [(step + 0.5) * pitch for step in range(round(top / pitch))]
    marks = [
        line for y in clips for line in (edge(box(-0.32 * w, y - 0.3 * w, 0.32 * w, y + 0.3 * w)), square(0.3 * w, y))
    ]
    body = cushion(-w / 2, 0, w / 2, top, w / 8)
    return ToolDrawing(body, (*marks, *edges(0.8 * w, 0, top), seam(w, 0.06 * w), seam(w, top - 0.06 * w)))


DRIVE_DRAWINGS: Mapping[str, Silhouette] = {
    "ratchet": _ratchet,
    "flex-head ratchet": _flex_ratchet,
    "stubby ratchet": _ratchet,
    "breaker bar": _breaker_bar,
    "sliding T-handle": _sliding_t,
    "extension": _extension,
    "wobble extension": partial(_extension, wobble=True),
    "adapter": _adapter,
    "impact adapter": partial(_impact, draw=_adapter),
    "universal joint": _universal_joint,
    "impact universal joint": partial(_impact, draw=_universal_joint),
    "socket rail": _socket_rail,
    "torque wrench": _torque_wrench,
}
