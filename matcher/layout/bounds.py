"""Bounds that hold for every layout, in whatever order, at whatever angles, with pockets of whatever outline.

All of them rest on two facts. A piece that lies on its back is one connected shape, as long as the larger of its length
and width, and its pocket holds the tool and everything within the fit clearance of it. And pockets stay a web apart, so
that no two of them share any area if each has half a web added all round.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import isqrt
from typing import Literal, TypeAlias

from shapely import Polygon

from matcher.house import Cutter, House
from matcher.layout.pocket_rings import pocket_ring
from matcher.layout.slants import rectangle_goes_in
from matcher.records import Group, Layout, SizedPiece, remembered
from matcher.tools import outline

BoundAxis: TypeAlias = Literal["width", "depth", "height", "area"]
Lack: TypeAlias = tuple[int, Literal["width", "depth"]]
"""By how much a field is too small, in 1/320 mm, and along which axis; 0 or less if it is large enough."""

PI = Fraction(314159, 100000)
"""A little below pi, so that areas of circles stay lower bounds."""


@dataclass(frozen=True, slots=True)
class Excluded:
    """Why no layout goes in: the field is ``short`` by so many 1/320 mm along ``axis``, by 0 for its area."""

    code: Literal["short", "area"]
    axis: BoundAxis
    short: int


def least_height(group: Group, house: House) -> int:
    """Least clear height, before top clearance, of any layout: the floor and the tallest piece in its lowest pose."""
    return _floor(group, house) + max((_lowest(piece, group) for piece in group.pieces), default=0)


def excluded_by(group: Group, width: int, depth: int, height: int, house: House) -> Excluded | None:
    """Why no layout of whatever kind goes into a pocket field of ``width`` x ``depth`` below ``height``, or nothing.

    The first of these reasons that holds is given:

    - Height: the floor and some piece in its lowest pose exceed ``height``.
    - A piece alone: lying at any angle, it is longer than the diagonal of the field less the clearance on all sides;
      and standing, its diameter with the clearance exceeds the width or the depth; or a case goes in at no angle. It is
      short by the least by which
      one of the axes would have to grow, the other unchanged; of several such pieces the worst counts.
    - Area: the least areas of all pockets with half a web round them exceed the field with half a web round it.
    """
    tall = least_height(group, house) - height
    if tall > 0:
        return Excluded("short", "height", tall)
    lacks = [lack for piece in group.pieces if (lack := _lack(piece, group, width, depth, height, house))]
    if lacks:
        short, axis = max(lacks)
        return Excluded("short", axis, short)
    web = 0 if group.cased else house.pocket.web
    need = sum(piece.piece.count * least_area(piece, group, height, house) for piece in group.pieces)
    return Excluded("area", "area", 0) if need > (width + web) * (depth + web) else None


def least_area(piece: SizedPiece, group: Group, height: int, house: House) -> Fraction:
    """Area that the piece's pocket takes at least, half a web round it included, whatever its pose and outline.

    With r = clearance + half a web, all points within r of a connected tool that is l long cover 2 r l + pi r^2 or
    more: at every place along its length a disc of radius r covers 2 r across, and half a disc lies beyond either end.
    For a wide tool the area of its outline with half a clearance and half a web round it is more. There only half the
    clearance counts, because a sharp corner may lose some of its own (`matcher.layout.cutouts.cut_out`). A standing
    tool takes a disc. A case takes its box.
    """
    if group.cased:
        return Fraction(piece.length * piece.width)
    grown = 2 * house.pocket.fit + house.pocket.web
    kept = (house.pocket.fit + house.pocket.web) // 2
    areas = [max(grown * _longest(piece) + PI / 4 * grown**2, _covered(piece, kept))]
    if _stands(piece, group, height, house):
        areas.append(PI / 4 * ((piece.diameter or 0) + grown) ** 2)
    return min(areas)


def pocket_area(piece: SizedPiece, height: int, house: House) -> int:
    """Area that the piece's pocket takes at least below ``height``, cut by the house's rules, with half the least web.

    The pocket may be cut with any of the house's cutters. A socket may stand in it where that is high enough.
    """
    stances = [False, *([True] if piece.diameter is not None and house.layout.standing_sockets else [])]
    low = [standing for standing in stances if not standing or house.pocket.under + piece.length <= height]
    pocket, relieved = house.pocket, house.pocket.corner_relief == "dog-bone"
    return min(_cut_area(piece, standing, pocket.fit, house.cutters, pocket.web, relieved) for standing in low)


@remembered(65536)
def _cut_area(
    piece: SizedPiece, standing: bool, fit: int, cutters: tuple[Cutter, ...], web: int, relieved: bool
) -> int:
    radii = {-(-cutter.diameter // 2) for cutter in cutters} or {0}
    rings = (Polygon(pocket_ring(piece, standing, fit, radius, relieved=relieved)) for radius in radii)
    return min(int(ring.buffer(web / 2).area) for ring in rings)


def taken_area(layout: Layout, house: House) -> int:
    """Area under the pockets of a layout with half of each one's web round it, in 1/320 mm squared; no two of these
    share any, for pockets stay the wider web apart (R12)."""
    around = ((Polygon(pocket.ring), house.pocket.web_for(pocket.depth) / 2) for pocket in layout.pockets)
    return sum(round(float(ring.buffer(web).area)) for ring, web in around)


def bare_area(piece: SizedPiece) -> Fraction:
    """Area that the tool itself covers at least, seen from above, in whatever pose: also on its side or at an angle.

    The tool is its outline, as thick as it is high. Turned by any angle it covers at least the smaller of the outline
    and of the height times the outline's least extent; that extent times the diagonal of the tool's box is no less than
    the outline. A tool that is round along its axis covers at least a disc.
    """
    flat = _covered(piece, 0)
    diagonal = isqrt(piece.length**2 + piece.width**2) + 1
    least = min(flat, flat * piece.height / diagonal)
    return least if piece.diameter is None else min(least, PI / 4 * piece.diameter**2)


@remembered(65536)
def _covered(piece: SizedPiece, around: int) -> Fraction:
    """A little less than the area of all points within ``around`` of the piece's outline."""
    return Fraction(int(outline(piece, False).buffer(around).area))


def _lack(piece: SizedPiece, group: Group, width: int, depth: int, height: int, house: House) -> Lack | None:
    """By how much, and along which axis, the field is too small for the piece alone; ``None`` if it may go in."""
    if group.cased:
        lack = _case_lack(piece, width, depth)
        return lack if lack[0] > 0 else None
    grown = 2 * house.pocket.fit
    lacks = [_diagonal_lack(_longest(piece), width - grown, depth - grown)]
    if _stands(piece, group, height, house):
        need = (piece.diameter or 0) + grown
        lacks.append(_worse(need - width, need - depth))
    short, axis = min(lacks)
    return (short, axis) if short > 0 else None


def _case_lack(piece: SizedPiece, width: int, depth: int) -> Lack:
    """Least growth of one side that lets a case stand in a field at some angle, by bisection; 0 if it stands already.

    A field longer than the case along the grown side takes it as soon as its other side is no less than the case's
    shorter one; else both sides lack something, and it is what the case standing square lacks along the worse of them.
    """
    if rectangle_goes_in(piece.length, piece.width, width, depth):
        return 0, "width"
    long, short = _longest(piece), min(piece.length, piece.width)
    if min(width, depth) < short:
        square = [_worse(one - width, other - depth) for one, other in ((long, short), (short, long))]
        return min(square)
    wider = _least(lambda more: rectangle_goes_in(long, short, width + more, depth), long)
    deeper = _least(lambda more: rectangle_goes_in(long, short, width, depth + more), long)
    return (wider, "width") if wider < deeper else (deeper, "depth")


def _least(enough: Callable[[int], bool], most: int) -> int:
    """The least whole number up to ``most`` that is enough, where every larger one is."""
    low, high = 0, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high


def _diagonal_lack(length: int, width: int, depth: int) -> Lack:
    """Least growth of one side that makes the diagonal of ``width`` x ``depth`` as long as ``length``.

    If a side is below 0, it is what that side lacks to reach 0.
    """
    if width < 0 or depth < 0:
        return _worse(-width, -depth)
    if length**2 <= width**2 + depth**2:
        return 0, "width"
    wider, deeper = _leg(length, depth) - width, _leg(length, width) - depth
    return (wider, "width") if wider < deeper else (deeper, "depth")


def _worse(width: int, depth: int) -> Lack:
    """The larger of what the width and the depth lack."""
    return (width, "width") if width > depth else (depth, "depth")


def _leg(length: int, other: int) -> int:
    """Least whole leg of a right triangle with ``other`` as its second leg and at least ``length`` as hypotenuse."""
    square = length**2 - other**2
    root = isqrt(square)
    return root if root * root == square else root + 1


def _longest(piece: SizedPiece) -> int:
    """How far the lying piece reaches along its longer side."""
    return max(piece.length, piece.width)


def _floor(group: Group, house: House) -> int:
    return 0 if group.cased else house.pocket.under


def _lowest(piece: SizedPiece, group: Group) -> int:
    """Height of the piece over its floor in its lowest pose."""
    can_stand = piece.diameter is not None and not group.cased
    return min(piece.height, piece.length) if can_stand else piece.height


def _stands(piece: SizedPiece, group: Group, height: int, house: House) -> bool:
    """Whether the piece may stand and is no higher then than ``height``, floor included."""
    return piece.diameter is not None and not group.cased and house.pocket.under + piece.length <= height
