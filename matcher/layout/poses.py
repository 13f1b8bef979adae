"""How a tool may be put into foam: its pocket seen from above, how high it stands, the foam it needs around.

A pocket is the tool's outline grown by the fit clearance, as a cutter can make it. Only this module knows that.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal, TypeAlias

from shapely import Polygon, affinity

from matcher.geometry import Ring, at_corner, chamfered, cut_out, turned_back, turned_right, whole_ring
from matcher.house import House, PocketRules
from matcher.house.rules import Cutter
from matcher.records import Group, SizedPiece
from matcher.tools.outlines import outline

Way: TypeAlias = Literal["along", "across", "standing"]
"""Lying with the long axis from front to back, lying with it from left to right, standing on end."""


BOXY = 0.97
"""A pocket that fills at least this share of its box has nothing to nest into."""


@dataclass(frozen=True, slots=True)
class Pose:
    """A pocket in a box of ``width`` x ``depth`` from above, how high the tool rises over the drawer's floor, how deep
    the pocket is cut, and the least foam between it and a pocket no deeper. Without a ``ring`` the pocket is the box.
    """

    way: Way
    width: int
    depth: int
    rise: int
    cut: int
    web: int
    ring: Ring = ()

    @property
    def outline(self) -> Ring:
        """The pocket's outline, its box at (0, 0)."""
        return self.ring or ((0, 0), (self.width, 0), (self.width, self.depth), (0, self.depth))

    @property
    def boxy(self) -> bool:
        """Whether the pocket fills its box but for round corners, so that nothing can nest into it: it counts as its
        box."""
        return _boxy(self.outline, self.width * self.depth)

    @property
    def turned(self) -> Pose:
        """The same pocket turned by 180 degrees."""
        return replace(self, ring=turned_back(self.ring)) if self.ring else self


@dataclass(frozen=True, slots=True)
class Rules:
    """All that the house and the kind of drawer say about pockets. Cased equipment has none: it stands on the floor."""

    pocket: PocketRules
    cutters: tuple[Cutter, ...]
    standing: bool
    cased: bool
    alternate: bool
    stagger: bool


def rules_for(group: Group, house: House) -> Rules:
    """Rules under which the tools of ``group`` are laid out."""
    layout = house.layout
    return Rules(
        house.pocket, house.cutters, layout.standing_sockets, group.cased, layout.alternate_heads, layout.stagger
    )


@lru_cache(maxsize=65536)
def _boxy(ring: Ring, box: int) -> bool:
    return float(Polygon(ring).area) >= BOXY * box


@lru_cache(maxsize=65536)
def poses(piece: SizedPiece, rules: Rules) -> tuple[Pose, ...]:
    """Poses a tool may take, the most natural first.

    The pocket's depth is the rule's share of the thickness, within the deepest pocket of the kind and the cutter's
    reach. The tool rises floor + its own thickness above the drawer's floor: with foam as thick as floor and pocket
    the pocket's depth cancels out.
    """
    if rules.cased:
        return _cased(piece)
    along = _pose(piece, rules, "along", piece.height)
    across = replace(along, way="across", width=along.depth, depth=along.width, ring=turned_right(along.ring))
    lying = (along,) if piece.length == piece.width else (along, across)
    if not rules.standing or piece.diameter is None:
        return lying
    return (_pose(piece, rules, "standing", piece.length), *lying)


def _cased(piece: SizedPiece) -> tuple[Pose, ...]:
    along = Pose("along", piece.width, piece.length, piece.height, 0, 0)
    across = Pose("across", piece.length, piece.width, piece.height, 0, 0)
    return (along,) if piece.length == piece.width else (along, across)


def _pose(piece: SizedPiece, rules: Rules, way: Way, thickness: int) -> Pose:
    kind, pocket = piece.piece.kind, rules.pocket
    cut = min(int(pocket.share_of(kind) * thickness), pocket.deepest(kind))
    if rules.cutters:
        cut = min(cut, max(cutter.reach for cutter in rules.cutters))
    ring = pocket_ring(piece, way == "standing", pocket.fit, _radius(cut, rules.cutters))
    width, depth = max(x for x, _ in ring), max(y for _, y in ring)
    return Pose(way, width, depth, pocket.floor + thickness, cut, pocket.web_for(cut), ring)


def _radius(cut: int, cutters: tuple[Cutter, ...]) -> int:
    """Radius of the finest cutter that reaches down ``cut``, else of the one that reaches furthest; none, no radius."""
    deep = [cutter.diameter for cutter in cutters if cutter.reach >= cut]
    longest = max(cutters, key=lambda cutter: (cutter.reach, -cutter.diameter), default=None)
    return -(-min(deep, default=longest.diameter if longest else 0) // 2)


def pocket_ring(piece: SizedPiece, standing: bool, fit: int, cutter: int) -> Ring:
    """Outline of a piece's pocket, its box at (0, 0) and never smaller than the piece's with the clearance."""
    return _ring(outline(piece, standing), standing, fit, cutter)


@lru_cache(maxsize=8192)
def _ring(tool: Polygon, standing: bool, fit: int, cutter: int) -> Ring:
    left, front, right, back = tool.bounds
    wide, deep = round(right - left) + 2 * fit, round(back - front) + 2 * fit
    if standing:
        grown = tool.buffer(fit, join_style="mitre")
    elif tool.area == (right - left) * (back - front):
        return chamfered(wide, deep, cutter)
    else:
        grown = cut_out(tool, fit, cutter)
    low_x, low_y, high_x, high_y = grown.bounds
    sides = max(1.0, wide / (high_x - low_x)), max(1.0, deep / (high_y - low_y))
    stretched = affinity.scale(affinity.translate(grown, -low_x, -low_y), *sides, origin=(0, 0))
    return at_corner(whole_ring(stretched))
