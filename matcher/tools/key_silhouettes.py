"""What hex keys and hexalobular keys look like from above: the long arm up.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from shapely import Polygon

from matcher.tools.seams import edge, edges, seam
from matcher.tools.sketches import Silhouette, Sketch, ToolDrawing
from matcher.tools.strokes import bar, cushion, elbow, joined


def _hex_key(s: Sketch) -> ToolDrawing:
    """An L with its bend; two edges of the bar show."""
    arm = s["arm"]
    body = elbow(arm, s.width, s.length).buffer(arm / 2, cap_style="flat", quad_segs=4)
    return ToolDrawing(body, tuple(list(elbow(arm, s.width, s.length, side).coords) for side in (-arm / 4, arm / 4)))


def _ball_end_key(s: Sketch) -> ToolDrawing:
    """The end of the long arm is a ball on a neck."""
    plain, arm = _hex_key(s), s["arm"]
    low, high = s.length - 1.5 * arm, s.length - 0.9 * arm
    cuts = [
        Polygon([(side, low), (side, s.length + arm), (tip, s.length + arm), (tip, s.length), (mid, high + 0.35 * arm),
                 (inner, high), (inner, (low + high) / 2)])
        for side, tip, mid, inner in ((-arm, 0.25 * arm, 0, 0.18 * arm), (2 * arm, 0.75 * arm, arm, 0.82 * arm))
    ]  # fmt: skip
    return ToolDrawing(plain.body.difference(joined(cuts)), (*plain.lines, seam(2 * arm, low, arm / 2)))


def _hexalobular_key(s: Sketch) -> ToolDrawing:
    """A round L with lobes at both of its ends."""
    arm, tip = s["arm"], 2 * s["arm"]
    body = elbow(arm, s.width, s.length).buffer(arm / 2, cap_style="flat", quad_segs=4)
    upper = [seam(arm, s.length - tip, arm / 2), *edges(arm / 3, s.length - tip, s.length, arm / 2)]
    foot = [[(y, x) for x, y in line] for line in (seam(arm, s.width - tip, arm / 2),
            *edges(arm / 3, s.width - tip, s.width, arm / 2))]  # fmt: skip
    return ToolDrawing(body, (*upper, *foot))


def _t_key(s: Sketch) -> ToolDrawing:
    half, grip, blade = s.width / 2, s["handle"], s["blade"]
    bow = [(-half, 0.62 * grip), (-half, 0.2 * grip), (-0.6 * half, 0.0), (0.6 * half, 0.0), (half, 0.2 * grip)]
    belly = [(half, 0.62 * grip), (0.5 * half, 0.72 * grip), (1.2 * blade, grip), (-1.2 * blade, grip)]
    handle = joined([Polygon([*bow, *belly, (-0.5 * half, 0.72 * grip)])], rounding=grip / 5)
    body = joined([handle, bar(blade, 0.5 * grip, s.length)], fillet=blade / 4)
    inner = edge(cushion(-0.75 * half, 0.2 * grip, 0.75 * half, 0.52 * grip, grip / 8))
    return ToolDrawing(body, (inner, seam(3 * blade, grip), *edges(0.5 * blade, grip, s.length)))


KEY_DRAWINGS: Mapping[str, Silhouette] = {
    "hex key": _hex_key,
    "long-arm hex key": _hex_key,
    "ball-end long-arm hex key": _ball_end_key,
    "T-handle hex key": _t_key,
    "hexalobular key": _hexalobular_key,
}
