"""What tools on a square drive look like from above: long axis up, working head at the top.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from shapely import Polygon, box

from matcher.tools.strokes import Silhouette, Sketch, bar, disc, joined, rod, turned


def _bit_socket(s: Sketch) -> Polygon:
    return joined([bar(s.width, 0, s["body"]), bar(s["bit"], s["body"], s.length)])


def _ratchet(s: Sketch) -> Polygon:
    center = s.length - s.width / 2
    parts = [disc(s.width, center), bar(s["shank"], 0.4 * s.length, center), rod(s["grip"], 0, 0.45 * s.length)]
    return joined(parts, fillet=s.width / 2)


def _breaker_bar(s: Sketch) -> Polygon:
    head = s.length - 1.6 * s.width
    parts = [rod(s.width, head, s.length), bar(s["shank"], 0, s.length - s.width), rod(s["grip"], 0, 0.28 * s.length)]
    return joined(parts, fillet=s.width / 2)


def _sliding_t(s: Sketch) -> Polygon:
    middle, slider = s.length / 2, s["slider"]
    tang = box(slider / 2, middle - slider / 4, s.width, middle + slider / 4)
    body = box(0, middle - slider / 2, 0.8 * s.width, middle + slider / 2)
    return joined([rod(s["bar"], 0, s.length, slider / 2), body, tang], fillet=slider / 8)


def _extension(s: Sketch) -> Polygon:
    tip = min(1.2 * s["tip"], 0.3 * s.length)
    parts = [rod(s.width, 0, s["head"]), bar(s["shank"], 0, s.length), rod(s["tip"], s.length - tip, s.length)]
    return joined(parts, fillet=s.width / 4)


def _adapter(s: Sketch) -> Polygon:
    return joined([bar(s["foot"], 0, 0.6 * s.length), bar(s["tip"], 0.6 * s.length, s.length)])


def _jointed(s: Sketch) -> Polygon:
    neck = [(0.38, s.width), (0.42, s["neck"]), (0.58, s["neck"]), (0.62, s.width)]
    profile = [(0.0, s.width), *neck, (1.0, s.width)]
    return turned([(share * s.length, width / 2) for share, width in profile])


def _torque_wrench(s: Sketch) -> Polygon:
    center = s.length - s.width / 2
    parts = [disc(s.width, center), bar(s["shank"], 0, center), rod(s["grip"], 0, 0.3 * s.length)]
    return joined(parts, fillet=s.width / 3)


DRIVE_DRAWINGS: Mapping[str, Silhouette] = {
    "bit socket": _bit_socket,
    "universal-joint socket": _jointed,
    "ratchet": _ratchet,
    "flex-head ratchet": _ratchet,
    "breaker bar": _breaker_bar,
    "sliding T-handle": _sliding_t,
    "extension": _extension,
    "wobble extension": _extension,
    "adapter": _adapter,
    "universal joint": _jointed,
    "torque wrench": _torque_wrench,
}
