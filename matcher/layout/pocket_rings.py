"""Outlines of pockets: a tool's outline with the fit clearance, as the cutter that goes so deep can make it."""

from __future__ import annotations

from shapely import Polygon, affinity

from matcher.house import Cutter
from matcher.layout.cutouts import Ring, at_corner, chamfered, cut_out, whole_ring, with_relief
from matcher.records import SizedPiece, remembered
from matcher.tools import outline


def radius_for(cut: int, cutters: tuple[Cutter, ...]) -> int:
    """Radius of the finest cutter that reaches ``cut`` deep, else of the one that reaches deepest; 0 without any."""
    deep = [cutter.diameter for cutter in cutters if cutter.reach >= cut]
    longest = max(cutters, key=lambda cutter: (cutter.reach, -cutter.diameter), default=None)
    return -(-min(deep, default=longest.diameter if longest else 0) // 2)


def pocket_ring(piece: SizedPiece, standing: bool, fit: int, cutter: int, *, relieved: bool = False) -> Ring:
    """Outline of a piece's pocket; its box begins at (0, 0) and is no smaller than the piece's with the clearance.

    ``relieved`` is whether the cutter also goes into corners so far that no corner of the tool presses into the foam.
    """
    return _ring(outline(piece, standing), standing, fit, cutter, relieved)


@remembered(8192)
def _ring(tool: Polygon, standing: bool, fit: int, cutter: int, relieved: bool) -> Ring:
    left, front, right, back = tool.bounds
    wide, deep = round(right - left) + 2 * fit, round(back - front) + 2 * fit
    if standing:
        grown = tool.buffer(fit, join_style="mitre")
    elif relieved and cutter:
        grown = with_relief(cut_out(tool, fit, cutter), tool.buffer(fit / 2, join_style="mitre"), cutter)
    elif tool.area == (right - left) * (back - front):
        return chamfered(wide, deep, cutter)
    else:
        grown = cut_out(tool, fit, cutter)
    low_x, low_y, high_x, high_y = grown.bounds
    sides = max(1.0, wide / (high_x - low_x)), max(1.0, deep / (high_y - low_y))
    stretched = affinity.scale(affinity.translate(grown, -low_x, -low_y), *sides, origin=(0, 0))
    return at_corner(whole_ring(stretched))
