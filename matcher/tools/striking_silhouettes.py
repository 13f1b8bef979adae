"""What hammers, punches, chisels and pry bars look like from above: long axis up, working head at the top.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from shapely import Polygon

from matcher.tools.seams import edge, edges, knurl, seam, ticks
from matcher.tools.sketches import Points, Silhouette, Sketch, ToolDrawing
from matcher.tools.strokes import at, bar, cushion, disc, joined, limb, turned

# ------------------------------------------------------------------------------------------------------------ hammers


def _helve(s: Sketch) -> Polygon:
    """A wooden handle: thick at its foot, slim below the head."""
    wide, top = s["handle"], s.length - s["head"]
    foot = limb(
        (0, 0.42 * wide, 0.84 * wide), (0, 0.2 * top, wide), (0, 0.4 * top, 0.92 * wide), (0, 0.82 * top, 0.62 * wide)
    )
    return joined([foot, bar(0.66 * wide, 0.8 * top, s.length - 0.3 * s["head"])])


def _headed(s: Sketch, head: Polygon, *lines: Points) -> ToolDrawing:
    """A head drawn with its middle at (0, 0), on a handle that shows in its eye.

    Lines are given in shares of half the head's reach and half its height.
    """
    wide, high, middle = s["handle"], s["head"], s.length - s["head"] / 2
    drawn = [[(x, y + middle) for x, y in _scaled(s, line)] for line in lines]
    eye = edge(cushion(-0.3 * wide, middle - 0.3 * high, 0.3 * wide, middle + 0.3 * high, wide))
    grain = edges(0.3 * wide, 0.1 * s.length, 0.6 * s.length)
    body = joined([at(head, middle), _helve(s)], fillet=wide / 12)
    return ToolDrawing(body, (*drawn, eye, seam(0.9 * wide, middle - 0.5 * high), *grain))


def _scaled(s: Sketch, points: Points) -> list[tuple[float, float]]:
    """Points of a head from shares of half its reach and half its height."""
    return [(x * s.width / 2, y * s["head"] / 2) for x, y in points]


def _rims(*shares: float) -> list[Points]:
    """Lines up and down a head."""
    return [[(share, -1.0), (share, 1.0)] for share in shares]


def _both(half: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """A head that is alike on both sides, from its right half."""
    return half + [(-x, -y) for x, y in half]


_FACE = [(-0.3, 1.0), (-0.45, 0.8), (-0.62, 0.8), (-0.72, 1.0), (-0.95, 1.0), (-1.0, 0.9), (-1.0, -0.9), (-0.95, -1.0),
         (-0.72, -1.0), (-0.62, -0.8), (-0.45, -0.8), (-0.3, -1.0)]  # fmt: skip
"""The left half of a head, from its top over a round face on a neck, in shares as for its lines."""


def _machinist(s: Sketch) -> ToolDrawing:
    """A square face, and a peen that runs down to an edge on one side."""
    left = [(-0.92, 1.0), (-1.0, 0.86), (-1.0, -0.86), (-0.92, -1.0)]
    right = [(0.24, -1.0), (0.96, 0.42), (1.0, 0.56), (0.96, 0.72), (0.24, 1.0)]
    return _headed(s, Polygon(_scaled(s, left + right)), *_rims(-0.92, -0.24, 0.24), [(0.9, 0.2), (0.9, 0.8)])


def _ball_peen(s: Sketch) -> ToolDrawing:
    """A round face on a neck, a ball on the other side."""
    neck = [(0.3, -1.0), (0.42, -0.66), (0.52, -0.58), (0.52, 0.58), (0.42, 0.66), (0.3, 1.0)]
    size = min(0.75 * s["head"], 0.27 * s.width)
    ball = disc(size, 0, s.width / 2 - size / 2, corners=20)
    head = joined([Polygon(_scaled(s, _FACE + neck)), ball])
    return _headed(s, head, *_rims(-0.72, -0.3, 0.3), [(0.52, -0.6), (0.52, 0.6)])


def _cross_peen(s: Sketch) -> ToolDrawing:
    """A round face on a neck; the peen is an edge in the middle of the head's height."""
    peen = [(0.3, -1.0), (0.44, -0.9), (0.96, -0.2), (1.0, 0.0), (0.96, 0.2), (0.44, 0.9), (0.3, 1.0)]
    bevels: list[Points] = [[(0.44, side * 0.5), (0.98, side * 0.05)] for side in (-1, 1)]
    return _headed(s, Polygon(_scaled(s, _FACE + peen)), *_rims(-0.72, -0.3, 0.3), *bevels)


def _soft_face(s: Sketch) -> ToolDrawing:
    """Two screwed-in plastic faces, wider than the body between them."""
    half = [(0.3, -0.8), (0.5, -0.8), (0.52, -1.0), (0.8, -1.0), (0.97, -0.9), (1.0, -0.6), (1.0, 0.6), (0.97, 0.9),
            (0.8, 1.0), (0.52, 1.0), (0.5, 0.8), (0.3, 0.8)]  # fmt: skip
    return _headed(s, Polygon(_scaled(s, _both(half))), *_rims(-0.8, -0.5, 0.5, 0.8))


def _dead_blow(s: Sketch) -> ToolDrawing:
    """Cast in one piece with its handle: a barrel with ribbed ends."""
    reach, high, wide = s.width / 2, s["head"], s["handle"]
    barrel = cushion(-reach, s.length - high, reach, s.length, high / 6)
    handle = limb(
        (0, wide / 2, wide),
        (0, 0.36 * s.length, wide),
        (0, 0.45 * s.length, 0.72 * wide),
        (0, s.length - high, 0.8 * wide),
    )
    rims = [
        [(side * x * reach, s.length - high), (side * x * reach, s.length)]
        for side in (-1, 1)
        for x in (0.62, 0.7, 0.92)
    ]
    grip = ticks(wide, 0.06 * s.length, 0.36 * s.length, 10)
    return ToolDrawing(joined([barrel, handle], fillet=wide / 3), (*rims, *grip))


def _mallet(s: Sketch) -> ToolDrawing:
    """A plain barrel on a round handle."""
    head = cushion(-s.width / 2, -s["head"] / 2, s.width / 2, s["head"] / 2, s["head"] / 8)
    return _headed(s, head, *_rims(-0.9, 0.9))


def _sledge(s: Sketch) -> ToolDrawing:
    """Eight-sided faces on both sides."""
    half = [(0.4, -1.0), (0.86, -0.98), (1.0, -0.7), (1.0, 0.7), (0.86, 0.98), (0.4, 1.0)]
    long: list[Points] = [[(-0.86, y), (0.86, y)] for y in (-0.5, 0.5)]
    return _headed(s, Polygon(_scaled(s, _both(half))), *_rims(-0.86, 0.86), *long)


# ---------------------------------------------------------------------------------------------------- punches and bars


def _punch(s: Sketch) -> ToolDrawing:
    half, top, tip = s.width / 2, s.length, s["tip"] / 2
    profile = [(0, 0.7 * half), (0.03 * top, half), (0.55 * top, half), (0.68 * top, max(0.6 * half, tip)), (top, tip)]
    return ToolDrawing(turned(profile), (*knurl(s.width, 0.12 * top, 0.5 * top), seam(s.width, 0.68 * top)))


def _chisel(s: Sketch) -> ToolDrawing:
    body, top = s["body"] / 2, s.length
    profile = [(0, 0.75 * body), (0.03 * top, body), (0.62 * top, body), (0.86 * top, s.width / 2), (top, s.width / 2)]
    bevel = [(-s.width / 2, 0.94 * top), (s.width / 2, 0.94 * top)]
    return ToolDrawing(turned(profile), (*edges(body, 0, 0.64 * top), seam(s.width, 0.03 * top), bevel))


def _pry_bar(s: Sketch) -> ToolDrawing:
    """On its side: a straight end at the foot, the claw bent to the right at the top."""
    half, shank, top = s.width / 2, s["shank"], s.length
    left = -half + shank / 2
    bar_ = limb(
        (left, 0.12 * top, shank),
        (left, top - 0.9 * s.width, shank),
        (left + 0.1 * s.width, top - 0.55 * s.width, shank),
    )
    claw = limb(
        (left + 0.05 * s.width, top - 0.6 * s.width, shank), (half - 0.3 * s.width, top - 0.36 * s.width, 0.72 * shank)
    )
    tip = Polygon(
        [
            (half, top - 0.62 * s.width),
            (half, top - 0.5 * s.width),
            (half - 0.2 * s.width, top),
            (left, top),
            (left, top - 0.7 * s.width),
            (half - 0.3 * s.width, top - 0.55 * s.width),
        ]
    )
    foot = Polygon(
        [
            (left - shank / 2, 0.16 * top),
            (left + shank / 2, 0.16 * top),
            (left + 0.1 * shank, 0),
            (left - 0.1 * shank, 0),
        ]
    )
    body = joined([bar_, claw, tip, foot], fillet=s.width / 8, rounding=s.width / 30)
    return ToolDrawing(body, (*edges(0.5 * shank, 0.16 * top, top - s.width, left), seam(2 * shank, 0.16 * top, left)))


STRIKING_DRAWINGS: Mapping[str, Silhouette] = {
    "hammer": _machinist,
    "ball-peen hammer": _ball_peen,
    "cross-peen hammer": _cross_peen,
    "sledge hammer": _sledge,
    "soft-face hammer": _soft_face,
    "dead-blow hammer": _dead_blow,
    "mallet": _mallet,
    "punch": _punch,
    "chisel": _chisel,
    "pry bar": _pry_bar,
}
