"""Outlines of pockets and notches: what a round cutter makes of a tool's outline, in whole numbers of 1/320 mm."""

from __future__ import annotations

from typing import TypeAlias

from shapely import LineString, Point, Polygon, box, get_parts, maximum_inscribed_circle, union_all
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

Ring: TypeAlias = tuple[tuple[int, int], ...]
"""A closed outline by its corners in 1/320 mm, counterclockwise; the first corner is not repeated at the end."""

ROUGH = 16
"""How far an outline is moved out before it is simplified by no more than that, in 1/320 mm: 0.05 mm."""
MIDDLES = (0.9, 0.7, 0.5)
"""By which shares of half its width a thin part is narrowed to the path of the cutter, the best first; own choice."""
ROUNDS = 4
"""How often the cutter is sent towards what is left of a corner before it is cut out to its edges."""
SLIM = 0.02
"""Share of the cutter by which a passage may seem too narrow for it only because polygons stand for round outlines."""


def cut_out(tool: Polygon, fit: int, cutter: int) -> Polygon:
    """What a round cutter of radius ``cutter`` takes out so that the tool goes in with ``fit`` to spare all round.

    Tongues of foam thinner than the cutter are cut away. No corner of the pocket is sharper than the cutter is round,
    and no part of the pocket is narrower than the cutter. So a sharp corner of the tool may lose its clearance and even
    reach up to ``fit`` into the foam; a right-angled one reaches (sqrt 2 - 1) ``cutter`` - sqrt 2 ``fit`` into it. What
    would reach further, such as a blade or a needle thinner than the cutter, is cut out all the same.
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
    """The pocket ``opened`` so far, with the ``thin`` parts of the tool, those thinner than the cutter, cut out too.

    The cutter runs along the middle of thin parts if that is enough: the pocket must cover all of ``tool`` that it
    would cover if the cutter went to the edges of these parts, and no passage may be too narrow for the cutter. If it
    is not, as for a part that tapers so much that its tip would be missed, the cutter does go to the edges, and the
    pocket becomes wider there than the cutter.
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


def with_relief(pocket: Polygon, tool: Polygon, cutter: int) -> Polygon:
    """The pocket with its corners relieved (*dog-bone*), so that all of ``tool`` lies in it.

    From where the cutter passes anyway it goes on towards each corner that lies outside, until it touches its tip. A
    corner too sharp for that is cut out to its edges.
    """
    whole = pocket
    for _ in range(ROUNDS):
        corners = [part for part in get_parts(tool.difference(whole.buffer(1))) if part.area > 0]
        if not corners:
            return whole
        paths = pocket.buffer(1 - cutter)
        grown = union_all([whole, *(_towards(part, whole, paths, cutter) for part in corners)])
        whole = Polygon(grown.exterior)
    return Polygon(union_all([whole, tool.difference(whole).buffer(cutter)]).exterior)


def _towards(corner: Polygon, pocket: Polygon, paths: BaseGeometry, cutter: int) -> BaseGeometry:
    """What the cutter takes out on its way from where it passes until it reaches the point furthest out."""
    tip = max(
        (Point(at) for at in corner.exterior.coords), key=lambda point: (pocket.distance(point), point.x, point.y)
    )
    start = nearest_points(paths, tip)[0]
    off = start.distance(tip)
    end = Point(tip.x + (start.x - tip.x) * cutter / off, tip.y + (start.y - tip.y) * cutter / off)
    return LineString([start, end]).buffer(cutter, quad_segs=8)


def whole_ring(shape: Polygon) -> Ring:
    """The outline of a shape with few corners, at whole numbers; but for rounding it lies nowhere inside the shape."""
    left, front, right, back = shape.bounds
    simple = shape.buffer(ROUGH, join_style="mitre", mitre_limit=2).simplify(ROUGH)
    clipped = simple.intersection(box(left, front, right, back))
    outer = clipped if clipped.geom_type == "Polygon" else shape
    points = [(round(x), round(y)) for x, y in outer.exterior.coords[:-1]]
    return tuple(dict.fromkeys(points))


def moved(ring: Ring, dx: int, dy: int) -> Ring:
    """The ring moved by ``dx`` to the right and ``dy`` to the back."""
    return tuple((x + dx, y + dy) for x, y in ring)


def at_corner(ring: Ring) -> Ring:
    """The ring with the front left corner of its box at (0, 0)."""
    return moved(ring, -min(x for x, _ in ring), -min(y for _, y in ring))


def chamfered(width: int, depth: int, cutter: int) -> Ring:
    """A rectangle with its corners cut off, just outside the arcs that a cutter of radius ``cutter`` leaves there."""
    off = min(int(cutter * (2 - 2**0.5)), (min(width, depth) - 1) // 2)
    if off <= 0:
        return (0, 0), (width, 0), (width, depth), (0, depth)
    right, back = width - off, depth - off
    low = ((off, 0), (right, 0), (width, off), (width, back))
    return (*low, (right, depth), (off, depth), (0, back), (0, off))
