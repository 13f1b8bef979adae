"""What tools of the bench look like from above, for filing, sawing, scraping and holding: long axis up.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from shapely import Polygon

from matcher.tools.seams import circle, edge, edges, knurl, seam, ticks
from matcher.tools.sketches import Silhouette, Sketch, ToolDrawing
from matcher.tools.strokes import bar, cushion, joined, limb, placed, rod, turned


def _file(s: Sketch) -> ToolDrawing:
    """A handle, the tang going into it, a blade with its cuts."""
    handle, blade, top = s["handle"], s["blade"], s.length
    profile = [(0, 0.3), (0.04, 0.42), (0.2, 0.5), (0.55, 0.46), (0.75, 0.36), (0.92, 0.34), (1.0, 0.28)]
    grip = turned([(y * handle, half * s.width) for y, half in profile])
    tang = [(0.9 * handle, 0.12 * blade), (1.04 * handle, 0.14 * blade), (1.14 * handle, 0.5 * blade)]
    steel = turned([*tang, (top - 3 * blade, 0.5 * blade), (top - blade, 0.47 * blade), (top, 0.38 * blade)])
    cuts = ticks(blade, 1.18 * handle, top, 18, rise=0.4 * blade)
    return ToolDrawing(joined([grip, steel]), (*cuts, seam(s.width, 0.92 * handle), seam(s.width, 0.06 * handle)))


def _hacksaw(s: Sketch) -> ToolDrawing:
    """A bow over the blade on the right; the handle is at the foot."""
    w, top, tube = s.width, s.length, 0.6 * s["frame"]
    bow = cushion(-w / 2, 0.2 * top, w / 2, top, 0.22 * w) - cushion(
        -w / 2 + tube, 0.2 * top + tube, w / 2 - tube, top - tube, 0.16 * w
    )
    bow = bow - bar(tube + 1, 0.2 * top + tube, top - tube, w / 2 - tube / 2)
    blade = bar(0.5 * tube, 0.22 * top, 0.985 * top, w / 2 - 0.75 * tube)
    ends = [bar(tube, 0.2 * top, 0.27 * top, w / 2 - tube / 2), bar(tube, 0.94 * top, 0.985 * top, w / 2 - tube / 2)]
    grip = limb((0.24 * w, 0.21 * top, 2 * tube), (0.1 * w, 0.1 * top, 1.9 * tube), (-0.06 * w, 0.04 * top, 2 * tube))
    horn = limb((0.02 * w, 0.21 * top, 1.2 * tube), (0.36 * w, 0.22 * top, 1.4 * tube))
    teeth = ticks(0.2 * tube, 0.27 * top, 0.94 * top, 40, w / 2 - 0.55 * tube)
    ribs = ticks(1.2 * tube, 0.05 * top, 0.13 * top, 4, 0.04 * w)
    lines = (
        *teeth,
        *ribs,
        circle(0.5 * tube, 0.25 * top, w / 2 - 0.6 * tube),
        circle(0.5 * tube, 0.96 * top, w / 2 - 0.6 * tube),
    )
    return ToolDrawing(joined([bow, blade, *ends, grip, horn], fillet=tube / 3), lines)


def _needle_file(s: Sketch) -> ToolDrawing:
    """A round knurled handle, a blade that comes to a point."""
    handle, blade, top = s["handle"], s["blade"], s.length
    grip = limb((0, s.width / 2, s.width), (0, max(0.7 * handle, s.width / 2 + 1), s.width), (0, handle, 0.5 * blade))
    steel = turned(
        [(0.9 * handle, 0.3 * blade), (handle + blade, blade / 2), (0.8 * top, blade / 2), (top, 0.1 * blade)]
    )
    cuts = ticks(blade, handle + blade, top, 22, rise=0.4 * blade)
    return ToolDrawing(joined([grip, steel]), (*cuts, *knurl(s.width, 0.1 * handle, 0.65 * handle)))


def _scraper(s: Sketch) -> ToolDrawing:
    """A flat blade, widest at its edge."""
    handle, blade, top, w = s["handle"], s["blade"], s.length, s.width
    profile = [(0.0, 0.26), (0.05, 0.36), (0.3, 0.4), (0.7, 0.34), (0.9, 0.36), (1.0, 0.28)]
    grip = turned([(y * handle, half * w) for y, half in profile])
    steel = turned([(0.9 * handle, 0.2 * blade), (1.2 * handle, 0.26 * blade), (1.5 * handle, w / 2), (top, w / 2)])
    rivets = [circle(0.12 * w, share * handle) for share in (0.25, 0.65)]
    return ToolDrawing(joined([grip, steel]), (seam(w, handle), seam(w, 0.96 * top), *rivets))


def _knife(s: Sketch) -> ToolDrawing:
    """A metal handle with its slide, the blade's point out of the nose."""
    body = placed(s, [(-0.36, 0.0), (-0.5, 0.06), (-0.46, 0.3), (-0.4, 0.6), (-0.34, 0.8), (-0.2, 0.88), (0.2, 0.88),
                      (0.5, 0.74), (0.42, 0.5), (0.5, 0.16), (0.44, 0.02), (0.3, 0.0)])  # fmt: skip
    blade = placed(s, [(-0.16, 0.84), (-0.16, 1.0), (0.34, 0.88), (0.3, 0.8)])
    slide = cushion(-0.16 * s.width, 0.52 * s.length, 0.1 * s.width, 0.68 * s.length, 0.08 * s.width)
    ribs = ticks(0.26 * s.width, 0.54 * s.length, 0.66 * s.length, 4, -0.03 * s.width)
    rim = [(-0.2, 0.88), (-0.02, 0.84), (0.2, 0.88)]
    lines = (edge(slide), *ribs, circle(0.2 * s.width, 0.3 * s.length), [(x * s.width, y * s.length) for x, y in rim])
    return ToolDrawing(joined([joined([body], rounding=s.width / 12), blade]), lines)


def _clamp(s: Sketch) -> ToolDrawing:
    """A bar with a fixed jaw at the top; the jaw below slides on it and holds the screw."""
    w, top, rail = s.width, s.length, s["bar"]
    left, right = -w / 2 + rail / 2, w / 2 - 0.5 * rail
    upper = Polygon([(-w / 2, top), (w / 2, top), (w / 2, top - 0.8 * rail), (-w / 2 + rail, top - 1.6 * rail),
                     (-w / 2, top - 1.6 * rail)])  # fmt: skip
    slide = 0.34 * top
    lower = Polygon(
        [
            (-w / 2, slide - rail),
            (-w / 2, slide + rail),
            (-w / 2 + rail, slide + rail),
            (w / 2 - rail, slide + 0.6 * rail),
            (w / 2, slide + 0.6 * rail),
            (w / 2, slide - 0.6 * rail),
            (-w / 2 + rail, slide - rail),
        ]
    )
    screw, pad = bar(0.4 * rail, 0.1 * top, 0.62 * top, right), bar(rail, 0.62 * top, 0.62 * top + 0.4 * rail, right)
    grip = rod(0.9 * rail, 0, 0.2 * top, right)
    body = joined(
        [bar(0.7 * rail, 0.04 * top, top, left - 0.15 * rail), upper, lower, screw, pad, grip], fillet=rail / 8
    )
    thread = ticks(0.4 * rail, slide + 0.6 * rail, 0.62 * top, 14, right, 0.1 * rail)
    lines = (*thread, *edges(0.4 * rail, 0.02 * top, 0.18 * top, right), *edges(0.7 * rail, 0, top, left - 0.15 * rail))
    return ToolDrawing(body, (*lines, seam(rail, top - 0.8 * rail, right)))


BENCH_DRAWINGS: Mapping[str, Silhouette] = {
    "file": _file,
    "needle file": _needle_file,
    "scraper": _scraper,
    "knife": _knife,
    "clamp": _clamp,
    "hacksaw": _hacksaw,
}
