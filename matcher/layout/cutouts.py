"""Outlines as polygons: what a cutter can make of them, in whole numbers."""

from __future__ import annotations

from typing import TypeAlias

from shapely import Polygon, box, get_parts, maximum_inscribed_circle, union_all
from shapely.geometry.base import BaseGeometry

Ring: TypeAlias = tuple[tuple[int, int], ...]
"""Closed outline in 1/320 mm, counterclockwise, the first corner not repeated."""

ROUGH = 16
"""How far a pocket's outline may lie outside the exact one, in 1/320 mm: 0.05 mm."""
MIDDLES = (0.9, 0.7, 0.5)
"""How near the middle of a thin part the cutter runs, as shares of half its width, the best first; own choice."""
SLIM = 0.02
"""Share of the cutter by which a polygon's corners may make a passage look too narrow for it."""


def cut_out(tool: Polygon, fit: int, cutter: int) -> Polygon:
    """What a round cutter of radius ``cutter`` takes out so that the tool goes in with ``fit`` to spare all round.

    Foam tongues thinner than the cutter are taken along, and no corner of the pocket is sharper than the cutter, nor is
    any part of it narrower. A sharp corner of the tool may thereby lose its clearance and reach up to ``fit`` into the
    foam: a right one (sqrt 2 - 1) ``cutter`` - sqrt 2 ``fit``. What is thinner than ``fit`` is cut out all the same.
    """
    grown = tool.buffer(fit, join_style="mitre", mitre_limit=2)
    closed = union_all([grown, grown.buffer(cutter, quad_segs=3).buffer(-cutter, quad_segs=3)])
    opened = closed.buffer(-cutter, quad_segs=4).buffer(cutter, quad_segs=4)
    blades = tool.buffer(-fit / 2).difference(opened)
    needles = tool.difference(union_all([opened, blades]).buffer(fit))
    thin = blades if needles.is_empty else union_all([blades, needles])
    reached = _reached(tool.buffer(fit / 2), opened, thin, cutter) if not thin.is_empty else opened
    whole = reached if reached.geom_type == "Polygon" and not reached.is_empty else grown.buffer(cutter)
    return Polygon(whole.exterior)


def _reached(tool: Polygon, opened: BaseGeometry, thin: BaseGeometry, cutter: int) -> BaseGeometry:
    """The pocket with the parts of the tool thinner than the cutter, which runs along their middle if that is enough.

    Enough is what leaves ``tool`` as much room as a way along its outline does, no passage too narrow to go through.
    What tapers so much that its end would be missed is followed along its outline, and becomes wider than the cutter.
    """
    along = union_all([opened, thin.buffer(cutter, quad_segs=4)])
    needed = tool.intersection(along)
    slim = cutter * (1 - SLIM)
    parts = [(part, maximum_inscribed_circle(part).length) for part in get_parts(thin)]
    for share in MIDDLES:
        cores = [part.buffer(-share * radius) for part, radius in parts]
        whole = union_all([opened, *(core.buffer(cutter, quad_segs=4) for core in cores)])
        passed = union_all([whole, whole.buffer(cutter, quad_segs=3).buffer(-cutter, quad_segs=3)])
        if passed.buffer(1).contains(needed) and passed.buffer(-slim).geom_type == "Polygon":
            return passed
    return along


def whole_ring(shape: Polygon) -> Ring:
    """Outline of a shape with few corners on whole numbers, nowhere inside the shape by more than rounding."""
    left, front, right, back = shape.bounds
    eased = shape.buffer(ROUGH, join_style="mitre", mitre_limit=2).simplify(ROUGH)
    clipped = eased.intersection(box(left, front, right, back))
    outer = clipped if clipped.geom_type == "Polygon" else shape
    points = [(round(x), round(y)) for x, y in outer.exterior.coords[:-1]]
    return tuple(dict.fromkeys(points))


def moved(ring: Ring, dx: int, dy: int) -> Ring:
    """The ring shifted."""
    return tuple((x + dx, y + dy) for x, y in ring)


def at_corner(ring: Ring) -> Ring:
    """The ring with the front left corner of its box at (0, 0)."""
    return moved(ring, -min(x for x, _ in ring), -min(y for _, y in ring))


def chamfered(width: int, depth: int, cutter: int) -> Ring:
    """A rectangle whose corners a round cutter of radius ``cutter`` leaves round, by chamfers outside its arcs."""
    off = min(int(cutter * (2 - 2**0.5)), (min(width, depth) - 1) // 2)
    if off <= 0:
        return (0, 0), (width, 0), (width, depth), (0, depth)
    right, back = width - off, depth - off
    low = ((off, 0), (right, 0), (width, off), (width, back))
    return (*low, (right, depth), (off, depth), (0, back), (0, off))
