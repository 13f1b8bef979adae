"""What pliers and hand snips look like from above, closed: long axis up, jaws at the top.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import partial

from shapely import Polygon, affinity, box

from matcher.tools.seams import circle, edge, seam, ticks
from matcher.tools.sketches import Points, Silhouette, Sketch, ToolDrawing
from matcher.tools.strokes import bar, disc, joined, limb, mirrored, placed

HANDLES = 0.55
"""Up to this share of their length pliers have nothing between their handles."""


def _handles(s: Sketch, joint: float, grip: float, foot: float = 0.72) -> list[Polygon]:
    """Two handles, ``grip`` of the width thick, bowed outward and ``foot`` of the width apart at their ends.

    They cross at ``joint`` of the length.
    """
    half, wide, top, low = s.width / 2, grip * s.width, s.length, joint * s.length
    end = 0.42 * wide
    right = limb(
        (0.2 * s["head"], low, 0.5 * s["head"]),
        (0.62 * (half - wide / 2), low - 0.15 * top, 0.8 * wide),
        (half - wide / 2, 0.5 * low, wide),
        (half - wide / 2, 0.32 * low, wide),
        (foot * half - end, end, 2 * end),
    )
    return [right, affinity.scale(right, -1, 1, origin=(0, 0))]


def _jaws(s: Sketch, outline: list[tuple[float, float]]) -> Polygon:
    """Closed jaws, their right half by shares of the head's width and of the length, going up."""
    (_, low), *_, (_, high) = outline
    half = [(x * s["head"], y * s.length) for x, y in outline]
    return mirrored([(0, low * s.length), *half, (0, high * s.length)])


def _joint(s: Sketch, joint: float, size: float = 0.4) -> tuple[Points, Points]:
    """The rivet, and the seam between the jaws."""
    rivet, y = size * s["head"], joint * s.length
    return circle(rivet, y), [(0, y + rivet / 2), (0, s.length)]


def _sleeves(s: Sketch, top: float) -> Iterator[Points]:
    """Where the sleeves on the handles begin and how they are ribbed."""
    yield seam(s.width, top * s.length)
    for side in (-1, 1):
        yield from ticks(0.14 * s.width, 0.1 * s.length, 0.3 * s.length, 5, side * 0.37 * s.width)


def _whole(s: Sketch, parts: list[Polygon]) -> Polygon:
    return joined(parts, fillet=s["head"] / 12, rounding=s["head"] / 25)


def _combination(s: Sketch) -> ToolDrawing:
    joint, head, top = 0.7, s["head"], s.length
    jaws = _jaws(s, [(0.4, 0.63), (0.5, 0.69), (0.5, 0.75), (0.42, 0.83), (0.36, 0.9), (0.3, 1.0)])
    body = _whole(s, [*_handles(s, joint, 0.3), jaws])
    eye = limb((0, 0.82 * top, 0.16 * head), (0, 0.84 * top, 0.2 * head), (0, 0.87 * top, 0.14 * head))
    cutter = [[(side * 0.3 * head, 0.75 * top), (0, 0.79 * top)] for side in (-1, 1)]
    teeth = ticks(0.34 * head, 0.9 * top, top, 6)
    return ToolDrawing(body - eye, (*_joint(s, joint), *cutter, *teeth, *_sleeves(s, 0.56)))


def _diagonal(s: Sketch) -> ToolDrawing:
    joint, head, top = 0.74, s["head"], s.length
    jaws = _jaws(s, [(0.38, 0.67), (0.48, 0.73), (0.5, 0.8), (0.46, 0.87), (0.34, 0.94), (0.18, 0.985), (0.1, 1.0)])
    edges = [[(side * 0.3 * head, 0.82 * top), (side * 0.16 * head, 0.9 * top), (0, 0.985 * top)] for side in (-1, 1)]
    return ToolDrawing(_whole(s, [*_handles(s, joint, 0.3), jaws]), (*_joint(s, joint), *edges, *_sleeves(s, 0.6)))


def _long_nose(s: Sketch) -> ToolDrawing:
    joint, head, top = 0.58, s["head"], s.length
    jaws = _jaws(s, [(0.42, 0.51), (0.5, 0.57), (0.49, 0.63), (0.36, 0.7), (0.24, 0.82), (0.12, 1.0)])
    cutter = [[(side * 0.34 * head, 0.635 * top), (0, 0.67 * top)] for side in (-1, 1)]
    teeth = ticks(0.3 * head, 0.8 * top, top, 12)
    return ToolDrawing(
        _whole(s, [*_handles(s, joint, 0.28), jaws]), (*_joint(s, joint), *cutter, *teeth, *_sleeves(s, 0.46))
    )


def _slip_joint(s: Sketch) -> ToolDrawing:
    """Plain handles, a pivot in a slot with two places."""
    joint, head, top = 0.7, s["head"], s.length
    jaws = _jaws(s, [(0.36, 0.62), (0.5, 0.7), (0.5, 0.79), (0.42, 0.88), (0.34, 0.95), (0.26, 1.0)])
    slot = limb((-0.1 * head, 0.685 * top, 0.3 * head), (0.14 * head, 0.735 * top, 0.3 * head))
    eye = limb((0, 0.82 * top, 0.2 * head), (0, 0.87 * top, 0.14 * head))
    teeth = ticks(0.3 * head, 0.9 * top, top, 5)
    ribs = [line for side in (-1, 1) for line in ticks(0.1 * s.width, 0.08 * top, 0.4 * top, 9, side * 0.4 * s.width)]
    lines = (edge(slot), circle(0.24 * head, 0.69 * top, -0.08 * head), [(0, 0.78 * top), (0, top)], *teeth, *ribs)
    return ToolDrawing(_whole(s, [*_handles(s, joint, 0.2, foot=0.8), jaws]) - eye, lines)


def _locking(s: Sketch) -> ToolDrawing:
    """A fixed handle with the screw at its foot on the left, the hinged handle with its lever on the right."""
    w, top = s.width, s.length
    fixed = limb((-0.3 * w, 0.1 * top, 0.26 * w), (-0.36 * w, 0.35 * top, 0.28 * w), (-0.3 * w, 0.62 * top, 0.34 * w),
                 (-0.2 * w, 0.8 * top, 0.3 * w))  # fmt: skip
    upper = [(-0.4, 0.66), (-0.38, 0.84), (-0.26, 0.95), (-0.04, 1.0), (0.0, 0.99), (-0.01, 0.93), (-0.06, 0.86),
             (-0.06, 0.74), (0.0, 0.66)]  # fmt: skip
    lower = [(0.02, 0.58), (-0.02, 0.68), (0.0, 0.75), (0.02, 0.86), (0.03, 0.95), (0.06, 0.985), (0.2, 0.93),
             (0.3, 0.82), (0.3, 0.66), (0.22, 0.56)]  # fmt: skip
    moving = limb((0.14 * w, 0.64 * top, 0.28 * w), (0.34 * w, 0.48 * top, 0.2 * w), (0.4 * w, 0.3 * top, 0.2 * w),
                  (0.34 * w, 0.06 * top, 0.17 * w))  # fmt: skip
    lever = limb((0.3 * w, 0.36 * top, 0.1 * w), (0.18 * w, 0.26 * top, 0.1 * w), (0.14 * w, 0.12 * top, 0.1 * w))
    screw = joined([bar(0.1 * w, 0.02 * top, 0.14 * top, -0.28 * w), bar(0.2 * w, 0, 0.05 * top, -0.28 * w)])
    neck = limb((-0.25 * w, 0.66 * top, 0.2 * w), (0.1 * w, 0.66 * top, 0.2 * w))
    parts = [fixed, placed(s, upper), placed(s, lower), moving, lever, screw, neck]
    body = joined(parts, fillet=w / 40)
    teeth = list(ticks(0.1 * w, 0.88 * top, 0.97 * top, 5, -0.06 * w)) + list(
        ticks(0.08 * w, 0.88 * top, 0.96 * top, 5, 0.06 * w)
    )
    rivets = (
        circle(0.12 * w, 0.69 * top, -0.2 * w),
        circle(0.1 * w, 0.67 * top, 0.15 * w),
        circle(0.08 * w, 0.37 * top, 0.3 * w),
    )
    thumb = ticks(0.2 * w, 0, 0.05 * top, 3, -0.28 * w)
    channel = [(-0.24 * w, 0.12 * top), (-0.28 * w, 0.35 * top), (-0.2 * w, 0.6 * top)]
    return ToolDrawing(body, (*teeth, *rivets, *thumb, channel))


def _snap_ring(s: Sketch) -> ToolDrawing:
    """Jaws with a pin each that goes into the eyes of a ring."""
    joint, head, top = 0.68, s["head"], s.length
    jaws = _jaws(s, [(0.4, 0.6), (0.5, 0.66), (0.48, 0.71), (0.34, 0.78), (0.26, 0.9), (0.22, 0.92)])
    pins = [bar(0.14 * head, 0.9 * top, top, side * 0.14 * head) for side in (-1, 1)]
    body = _whole(s, [*_handles(s, joint, 0.3), jaws])
    body = joined([body, *pins]) - bar(0.1 * head, 0.84 * top, top)
    return ToolDrawing(body, (*_joint(s, joint, 0.5), seam(head, 0.9 * top), *_sleeves(s, 0.54)))


def _snips(s: Sketch, bend: float = 0.0) -> ToolDrawing:
    """Blades that pass each other, two joints for leverage, a latch between the handles.

    The blades' tips stand ``bend`` head widths off the axis.
    """
    joint, head, top = 0.6, s["head"], s.length

    def bent(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
        return [(head * (x + bend * ((y - 0.5) / 0.5) ** 2), y * top) for x, y in points]

    right = [(0.4, 0.5), (0.5, 0.56), (0.5, 0.66), (0.38, 0.74), (0.3, 0.84), (0.16, 0.95), (0.04, 1.0)]
    blades = Polygon(bent(right + [(-x, y) for x, y in reversed(right)]))
    latch = limb((-0.1 * s.width, 0.1 * top, 0.1 * s.width), (0.3 * s.width, 0.13 * top, 0.1 * s.width))
    body = _whole(s, [*_handles(s, joint, 0.28, foot=0.84), blades, latch])
    cut = bent([(-0.2, 0.68), (0.02, 0.74), (0.015, 0.87), (0.01, 1.0)])
    back = bent([(0.24, 0.7), (0.16, 0.84), (0.02, 0.99)])
    bolts = [circle(0.22 * head, 0.55 * top, side * 0.22 * head) for side in (-1, 1)]
    return ToolDrawing(body, (cut, back, circle(0.36 * head, 0.655 * top), *bolts, *_sleeves(s, 0.44), edge(latch)))


def _stripper(s: Sketch) -> ToolDrawing:
    """Flat jaws with a row of holes, the smallest at the tip."""
    joint, head, top = 0.6, s["head"], s.length
    jaws = _jaws(s, [(0.4, 0.5), (0.5, 0.58), (0.5, 0.82), (0.42, 0.9), (0.3, 0.96), (0.26, 1.0)])
    holes = [disc((0.2 - 0.02 * step) * head, (0.69 + 0.045 * step) * top, corners=12) for step in range(5)]
    body = _whole(s, [*_handles(s, joint, 0.26), jaws])
    teeth = ticks(0.3 * head, 0.92 * top, top, 4)
    return ToolDrawing(body.difference(joined(holes)), (*_joint(s, joint, 0.34), *teeth, *_sleeves(s, 0.46)))


def _water_pump(s: Sketch) -> ToolDrawing:
    """Jaws bent to the left, a long slot with several places for the pivot, handles close together."""
    w, top, head = s.width, s.length, s["head"]
    left = limb((0.12 * w, 0.74 * top, 0.3 * w), (-0.1 * w, 0.6 * top, 0.24 * w), (-0.36 * w, 0.36 * top, 0.26 * w),
                (-0.37 * w, 0.2 * top, 0.26 * w), (-0.3 * w, 0.06 * top, 0.22 * w))  # fmt: skip
    right = limb((-0.02 * w, 0.74 * top, 0.36 * w), (0.2 * w, 0.58 * top, 0.24 * w), (0.36 * w, 0.36 * top, 0.26 * w),
                 (0.37 * w, 0.2 * top, 0.26 * w), (0.3 * w, 0.06 * top, 0.22 * w))  # fmt: skip
    outer = [
        (0.22, 0.68),
        (0.3, 0.8),
        (0.24, 0.92),
        (0.02, 1.0),
        (-0.3, 0.985),
        (-0.42, 0.95),
        (-0.36, 0.93),
        (0.0, 0.86),
    ]
    inner = [(0.0, 0.84), (-0.42, 0.915), (-0.46, 0.89), (-0.4, 0.82), (-0.24, 0.73), (-0.1, 0.66)]
    parts = [
        left,
        right,
        placed(s, outer),
        placed(s, inner),
        limb((0.02 * w, 0.72 * top, 0.4 * w), (0.08 * w, 0.82 * top, 0.36 * w)),
    ]
    slot = limb((-0.04 * w, 0.7 * top, 0.12 * w), (0.1 * w, 0.8 * top, 0.12 * w))
    teeth = [
        [(x * w, (0.82 - 0.155 * x) * top), (x * w, (0.9 - 0.15 * x) * top)] for x in (-0.36, -0.28, -0.2, -0.12, -0.04)
    ]
    body = joined(parts, fillet=head / 20, rounding=head / 30)
    return ToolDrawing(body, (edge(slot), circle(0.16 * w, 0.73 * top), *teeth, *_sleeves(s, 0.5)))


def _hose_clamp(s: Sketch) -> ToolDrawing:
    """A swivelling grooved tip on each jaw, apart as for the ears of a clamp."""
    joint, head, top = 0.66, s["head"], s.length
    arm = limb(
        (0.1 * head, joint * top, 0.5 * head),
        (0.34 * head, 0.8 * top, 0.26 * head),
        (0.2 * head, top - 0.16 * head, 0.2 * head),
    )
    tips = [disc(0.3 * head, top - 0.15 * head, side * 0.2 * head, corners=16) for side in (-1, 1)]
    body = _whole(
        s, [*_handles(s, joint, 0.3), arm, affinity.scale(arm, -1, 1, origin=(0, 0)), disc(0.9 * head, joint * top)]
    )
    rivet = circle(0.4 * head, joint * top)
    ends = [circle(0.16 * head, top - 0.15 * head, side * 0.2 * head) for side in (-1, 1)]
    return ToolDrawing(joined([body, *tips]), (rivet, *ends, *_sleeves(s, 0.52)))


_CLOSED: Mapping[str, Silhouette] = {
    "combination pliers": _combination,
    "diagonal cutters": _diagonal,
    "long-nose pliers": _long_nose,
    "slip-joint pliers": _slip_joint,
    "water-pump pliers": _water_pump,
    "hose-clamp pliers": _hose_clamp,
    "locking pliers": _locking,
    "snap-ring pliers": _snap_ring,
    "snips": _snips,
    "left-cut snips": partial(_snips, bend=-0.5),
    "right-cut snips": partial(_snips, bend=0.5),
    "wire stripper": _stripper,
}


def _roomy(draw: Silhouette, s: Sketch) -> ToolDrawing:
    """The drawing with a pocket that leaves no foam between the handles: how far apart they are differs most."""
    drawing = draw(s)
    lower = drawing.body.intersection(box(-s.width, 0, s.width, HANDLES * s.length)).convex_hull
    return replace(drawing, room=Polygon(drawing.body.union(lower).exterior))


PLIERS_DRAWINGS: Mapping[str, Silhouette] = {kind: partial(_roomy, draw) for kind, draw in _CLOSED.items()}
