"""What hammers, punches, chisels, bars, files and saws look like from above: long axis up, working head at the top.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from shapely import Polygon, affinity

from matcher.tools.seams import circle, edge, edges, knurl, seam, ticks
from matcher.tools.sketches import Drawing, Points, Silhouette, Sketch
from matcher.tools.strokes import bar, cushion, disc, joined, limb, rod, turned

# ------------------------------------------------------------------------------------------------------------ hammers


def _helve(s: Sketch) -> Polygon:
    """A wooden handle: thick at its foot, slim below the head."""
    wide, top = s["handle"], s.length - s["head"]
    foot = limb(
        (0, 0.42 * wide, 0.84 * wide), (0, 0.2 * top, wide), (0, 0.4 * top, 0.92 * wide), (0, 0.82 * top, 0.62 * wide)
    )
    return joined([foot, bar(0.66 * wide, 0.8 * top, s.length - 0.3 * s["head"])])


def _headed(s: Sketch, head: Polygon, lines: tuple[Points, ...]) -> Drawing:
    """A head drawn with its middle at (0, 0), on a handle that shows in its eye."""
    middle = s.length - s["head"] / 2
    moved = affinity.translate(head, 0, middle)
    drawn = [[(x, y + middle) for x, y in line] for line in lines]
    eye = edge(
        cushion(-0.3 * s["handle"], middle - 0.3 * s["head"], 0.3 * s["handle"], middle + 0.3 * s["head"], s["handle"])
    )
    below = seam(0.9 * s["handle"], middle - 0.5 * s["head"])
    grain = edges(0.3 * s["handle"], 0.1 * s.length, 0.6 * s.length)
    return Drawing(joined([moved, _helve(s)], fillet=s["handle"] / 12), (*drawn, eye, below, *grain))


def _face(s: Sketch, face: float = 1.0, neck: float = 0.8) -> list[tuple[float, float]]:
    """The left half of a head, from the top over its face to the bottom: shares of half the reach and half the height."""
    return [(-0.3, 1.0), (-0.45, neck), (-0.62, neck), (-0.72, face), (-0.95, face), (-1.0, 0.9 * face),
            (-1.0, -0.9 * face), (-0.95, -face), (-0.72, -face), (-0.62, -neck), (-0.45, -neck), (-0.3, -1.0)]  # fmt: skip


def _scaled(s: Sketch, points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    return [(x * s.width / 2, y * s["head"] / 2) for x, y in points]


def _machinist(s: Sketch) -> Drawing:
    """A square face, and a peen that runs down to an edge on one side."""
    block = [
        (-0.92, 1.0),
        (-1.0, 0.86),
        (-1.0, -0.86),
        (-0.92, -1.0),
        (0.24, -1.0),
        (0.96, 0.42),
        (1.0, 0.56),
        (0.96, 0.72),
        (0.24, 1.0),
    ]
    edge_lines = [
        [(-0.92, -1), (-0.92, 1)],
        [(0.24, -1), (0.24, 1)],
        [(-0.24, -1), (-0.24, 1)],
        [(0.9, 0.2), (0.9, 0.8)],
    ]
    return _headed(s, Polygon(_scaled(s, block)), tuple(_scaled(s, line) for line in edge_lines))


def _ball_peen(s: Sketch) -> Drawing:
    """A round face on a neck, a ball on the other side."""
    right = [(0.3, -1.0), (0.42, -0.66), (0.52, -0.58), (0.52, 0.58), (0.42, 0.66), (0.3, 1.0)]
    ball = disc(min(1.5 * s["head"] / 2, 0.54 * s.width / 2 * 1.0), 0, 0)
    reach = ball.bounds[2]
    head = joined([Polygon(_scaled(s, _face(s) + right)), affinity.translate(ball, s.width / 2 - reach, 0)])
    lines = [[(-0.72, -1), (-0.72, 1)], [(-0.3, -1), (-0.3, 1)], [(0.3, -1), (0.3, 1)], [(0.52, -0.6), (0.52, 0.6)]]
    return _headed(s, head, tuple(_scaled(s, line) for line in lines))


def _cross_peen(s: Sketch) -> Drawing:
    """A round face on a neck; the peen is an edge along the handle's axis in the middle of its height."""
    right = [(0.3, -1.0), (0.44, -0.9), (0.96, -0.2), (1.0, 0.0), (0.96, 0.2), (0.44, 0.9), (0.3, 1.0)]
    lines = [
        [(-0.72, -1), (-0.72, 1)],
        [(-0.3, -1), (-0.3, 1)],
        [(0.3, -1), (0.3, 1)],
        [(0.44, 0.5), (0.98, 0.05)],
        [(0.44, -0.5), (0.98, -0.05)],
    ]
    return _headed(s, Polygon(_scaled(s, _face(s) + right)), tuple(_scaled(s, line) for line in lines))


def _soft_face(s: Sketch) -> Drawing:
    """Two screwed-in plastic faces, wider than the body between them."""
    half = [
        (0.3, -0.8),
        (0.5, -0.8),
        (0.52, -1.0),
        (0.8, -1.0),
        (0.97, -0.9),
        (1.0, -0.6),
        (1.0, 0.6),
        (0.97, 0.9),
        (0.8, 1.0),
        (0.52, 1.0),
        (0.5, 0.8),
        (0.3, 0.8),
    ]
    left = [(-x, -y) for x, y in half]
    lines = [[(side * x, -1), (side * x, 1)] for side in (-1, 1) for x in (0.5, 0.8)]
    return _headed(s, Polygon(_scaled(s, half + left)), tuple(_scaled(s, line) for line in lines))


def _dead_blow(s: Sketch) -> Drawing:
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
    return Drawing(joined([barrel, handle], fillet=wide / 3), (*rims, *grip))


def _mallet(s: Sketch) -> Drawing:
    """A plain barrel on a round handle."""
    head = cushion(-s.width / 2, -s["head"] / 2, s.width / 2, s["head"] / 2, s["head"] / 8)
    lines = [[(side * 0.9, -1), (side * 0.9, 1)] for side in (-1, 1)]
    return _headed(s, head, tuple(_scaled(s, line) for line in lines))


def _sledge(s: Sketch) -> Drawing:
    """Eight-sided faces on both sides."""
    half = [(0.4, -1.0), (0.86, -0.98), (1.0, -0.7), (1.0, 0.7), (0.86, 0.98), (0.4, 1.0)]
    left = [(-x, -y) for x, y in half]
    lines = [[(side * 0.86, -1), (side * 0.86, 1)] for side in (-1, 1)]
    long = [[(-0.86, y), (-0.4, y), (0.4, y), (0.86, y)] for y in (-0.5, 0.5)]
    return _headed(s, Polygon(_scaled(s, half + left)), tuple(_scaled(s, line) for line in lines + long))


# ---------------------------------------------------------------------------------------------------- punches and bars


def _punch(s: Sketch) -> Drawing:
    half, top, tip = s.width / 2, s.length, s["tip"] / 2
    profile = [(0, 0.7 * half), (0.03 * top, half), (0.55 * top, half), (0.68 * top, max(0.6 * half, tip)), (top, tip)]
    return Drawing(turned(profile), (*knurl(s.width, 0.12 * top, 0.5 * top), seam(s.width, 0.68 * top)))


def _chisel(s: Sketch) -> Drawing:
    body, top = s["body"] / 2, s.length
    profile = [(0, 0.75 * body), (0.03 * top, body), (0.62 * top, body), (0.86 * top, s.width / 2), (top, s.width / 2)]
    bevel = [(-s.width / 2, 0.94 * top), (s.width / 2, 0.94 * top)]
    return Drawing(turned(profile), (*edges(body, 0, 0.64 * top), seam(s.width, 0.03 * top), bevel))


def _pry_bar(s: Sketch) -> Drawing:
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
    return Drawing(body, (*edges(0.5 * shank, 0.16 * top, top - s.width, left), seam(2 * shank, 0.16 * top, left)))


def _file(s: Sketch) -> Drawing:
    """A handle, the tang going into it, a blade with its cuts."""
    handle, blade, top = s["handle"], s["blade"], s.length
    profile = [(0, 0.3), (0.04, 0.42), (0.2, 0.5), (0.55, 0.46), (0.75, 0.36), (0.92, 0.34), (1.0, 0.28)]
    grip = turned([(y * handle, half * s.width) for y, half in profile])
    tang = [(0.9 * handle, 0.12 * blade), (1.04 * handle, 0.14 * blade), (1.14 * handle, 0.5 * blade)]
    steel = turned([*tang, (top - 3 * blade, 0.5 * blade), (top - blade, 0.47 * blade), (top, 0.38 * blade)])
    cuts = ticks(blade, 1.18 * handle, top, 18, rise=0.4 * blade)
    return Drawing(joined([grip, steel]), (*cuts, seam(s.width, 0.92 * handle), seam(s.width, 0.06 * handle)))


def _hacksaw(s: Sketch) -> Drawing:
    """A bow over the blade on the right; the handle is at the foot."""
    w, top, tube = s.width, s.length, 0.6 * s["frame"]
    bow = cushion(-w / 2, 0.2 * top, w / 2, top, 0.22 * w) - cushion(
        -w / 2 + tube, 0.2 * top + tube, w / 2 - tube, top - tube, 0.16 * w
    )
    bow = bow - bar(tube + 1, 0.2 * top + tube, top - tube, w / 2 - tube / 2)
    blade = bar(0.5 * tube, 0.22 * top, 0.985 * top, w / 2 - 0.75 * tube)
    ends = [bar(tube, 0.2 * top, 0.27 * top, w / 2 - tube / 2), bar(tube, 0.94 * top, 0.985 * top, w / 2 - tube / 2)]
    grip = limb(
        (0.32 * w, 0.24 * top, 1.3 * tube), (0.2 * w, 0.12 * top, 1.4 * tube), (-0.02 * w, 0.05 * top, 1.3 * tube)
    )
    horn = limb((-0.02 * w, 0.05 * top, 1.3 * tube), (-0.14 * w, 0.02 * top + tube / 2, 1.1 * tube))
    guard = limb((-0.1 * w, 0.22 * top, 1.1 * tube), (0.3 * w, 0.22 * top, 1.2 * tube))
    teeth = ticks(0.2 * tube, 0.27 * top, 0.94 * top, 40, w / 2 - 0.55 * tube)
    lines = (
        *teeth,
        circle(0.5 * tube, 0.25 * top, w / 2 - 0.6 * tube),
        circle(0.5 * tube, 0.96 * top, w / 2 - 0.6 * tube),
    )
    return Drawing(joined([bow, blade, *ends, grip, horn, guard], fillet=tube / 6), lines)


STRIKING_DRAWINGS: Mapping[str, Silhouette] = {
    "hammer": _machinist,
    "punch": _punch,
    "chisel": _chisel,
    "pry bar": _pry_bar,
    "file": _file,
    "hacksaw": _hacksaw,
}
