"""How a tool may be put into foam: its pocket seen from above, how high it stands, the foam it needs around.

A pocket is the tool's outline grown by the fit clearance, as a cutter can make it, down to the base if the foam has one
(R12, R14, R18). Only this module knows that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely import Polygon, affinity

from matcher.house import Cutter, House, NotchRules, PocketRules
from matcher.layout.cutouts import Ring, at_corner, chamfered, cut_out, moved, whole_ring
from matcher.layout.holds import notch_places
from matcher.layout.profiles import ends
from matcher.layout.styles import ORDERLY, Stance, Style, freest
from matcher.records import Group, SizedPiece, remembered
from matcher.tools import outline

BOXY = 0.97
"""A pocket that fills at least this share of its box has nothing to nest into."""


@dataclass(frozen=True, slots=True)
class Pose:
    """A pocket in a box of ``width`` x ``depth`` from above, how high the tool rises over the drawer's floor, how deep
    the pocket is cut, and the least foam between it and a pocket no deeper.

    Without a ``ring`` the pocket is the box. ``notch`` is the pocket's own finger notch, inside the box too. ``finger``
    is the width of the notch that it needs and may share with its neighbors in a line, else 0.
    """

    way: Stance
    width: int
    depth: int
    rise: int
    cut: int
    web: int
    ring: Ring = ()
    notch: Ring = ()
    finger: int = 0

    @property
    def pocket(self) -> Ring:
        """The pocket's outline."""
        return self.ring or ((0, 0), (self.width, 0), (self.width, self.depth), (0, self.depth))

    @property
    def shape(self) -> tuple[Ring, ...]:
        """All that is cut out: the pocket, and its own notch if it has one."""
        return (self.pocket, self.notch) if self.notch else (self.pocket,)

    @property
    def boxy(self) -> bool:
        """Whether the pocket fills its box but for round corners, so that nothing can nest into it: it counts as its
        box."""
        return _boxy(self.pocket, self.width * self.depth)

    @property
    def turned(self) -> Pose:
        """The same pocket turned by 180 degrees."""
        ring, notch = (tuple((self.width - x, self.depth - y) for x, y in part) for part in (self.ring, self.notch))
        return replace(self, ring=ring, notch=notch)

    @property
    def crosswise(self) -> Pose:
        """The same pocket turned clockwise by 90 degrees: what pointed back now points right."""
        ring, notch = (tuple((y, self.width - x) for x, y in part) for part in (self.ring, self.notch))
        return replace(self, way="across", width=self.depth, depth=self.width, ring=ring, notch=notch)

    @property
    def alone(self) -> Pose:
        """The pocket with a notch of its own, as it is without neighbors to share one with."""
        return _notched(self) if self.finger else self


@dataclass(frozen=True, slots=True)
class Rules:
    """All that the house and the kind of drawer say about pockets. Cased equipment has none: it stands on the floor.

    ``thickness`` is that of the foam, its base included, 0 while it is not chosen: then pockets go down to the floor.
    ``top`` is the least height that the tools can rise to in this foam.
    """

    pocket: PocketRules
    notch: NotchRules
    cutters: tuple[Cutter, ...]
    standing: bool
    cased: bool
    style: Style
    thickness: int = 0
    top: int = 0

    @property
    def base(self) -> int:
        """Thickness of the base, 0 while the foam is not chosen or where it is one sheet."""
        return self.pocket.base if self.thickness else 0

    def deepest(self, kind: str) -> int:
        """Deepest pocket for a kind, within the cutter's reach."""
        return min([self.pocket.deepest(kind), *([max(c.reach for c in self.cutters)] if self.cutters else [])])


def rules_for(group: Group, house: House, style: Style | None = None) -> Rules:
    """Rules under which the tools of ``group`` are laid out, the foam not yet chosen; without a style, all that the
    house allows."""
    layout = house.layout
    return Rules(
        pocket=house.pocket,
        notch=house.notch,
        cutters=house.cutters,
        standing=layout.standing_sockets,
        cased=group.cased,
        style=style or freest(layout),
    )


def sheets(pieces: Sequence[SizedPiece], rules: Rules) -> tuple[Rules, ...]:
    """The rules with the foam chosen: for tools that stand where they can, and for all of them lying.

    The foam is the thinnest stock that the deepest pocket by the house's shares goes into; with a base, a top sheet on
    it that every pocket may be cut through (`PocketRules.thickness_for`).
    """
    if rules.cased or not pieces:
        return (rules,)
    stands = rules.standing and any(piece.diameter is not None for piece in pieces)
    variants = [replace(rules, standing=standing) for standing in ((True, False) if stands else (False,))]
    return tuple(_in_stock(pieces, variant) for variant in variants)


def _in_stock(pieces: Sequence[SizedPiece], rules: Rules) -> Rules:
    natural = [poses(piece, replace(rules, style=ORDERLY))[0] for piece in pieces]
    through = min(_through(piece, pose.way, rules) for piece, pose in zip(pieces, natural, strict=True))
    thickness = rules.pocket.thickness_for(max(pose.cut for pose in natural), through)
    return replace(rules, thickness=thickness, top=max(thickness, *(pose.rise for pose in natural)))


def _through(piece: SizedPiece, way: Stance, rules: Rules) -> int:
    """Thickest top sheet that a tool's pocket may be cut through: as deep as its pocket may be.

    A standing tool is still to stand out by a grip, or by as much as the thinnest stock leaves: a finger does not reach
    down beside it. Common practice, no source.
    """
    deepest = rules.deepest(piece.piece.kind)
    if way != "standing":
        return deepest
    return min(deepest, max(piece.length - rules.notch.grip, min(rules.pocket.stock, default=0)))


@remembered(65536)
def poses(piece: SizedPiece, rules: Rules) -> tuple[Pose, ...]:
    """Poses a tool may take, the most natural first.

    The pocket's depth is the rule's share of the thickness, within the deepest pocket of the kind and the cutter's
    reach. Where the foam is thicker than floor and pocket, the tallest tools' pockets are cut deeper, within the same
    limits, so that nothing rises above ``top`` that need not; standing ones not so deep that no hand can grip them.
    Foam with a base has no pocket shallower than its top sheet: a thin tool sinks below its face, and how high it rises
    is then how high the foam does.
    """
    if rules.cased:
        along = Pose("along", piece.width, piece.length, piece.height, 0, 0)
        return (along,) if piece.length == piece.width else (along, along.crosswise)
    stands = rules.standing and piece.diameter is not None
    along = _pose(piece, rules, "along", piece.height, natural=not stands)
    every = (along,) if piece.length == piece.width else (along, along.crosswise)
    lying = every if len(every) == 1 else tuple(pose for pose in every if pose.way in rules.style.lying)
    return (_pose(piece, rules, "standing", piece.length, natural=True), *lying) if stands else lying


def _pose(piece: SizedPiece, rules: Rules, way: Stance, thickness: int, *, natural: bool) -> Pose:
    kind, pocket, notch = piece.piece.kind, rules.pocket, rules.notch
    cut, rise = _cut(kind, rules, thickness, natural=natural, gripped=way == "standing")
    ring = pocket_ring(piece, way == "standing", pocket.fit, radius_for(cut, rules.cutters))
    width, depth = max(x for x, _ in ring), max(y for _, y in ring)
    finger = notch.width if thickness - cut < notch.grip else 0
    pose = Pose(way, width, depth, rise, cut, pocket.web_for(cut), ring, finger=finger)
    return pose if kind in notch.shared else replace(pose.alone, finger=0)


def _cut(kind: str, rules: Rules, thickness: int, *, natural: bool, gripped: bool) -> tuple[int, int]:
    """How deep a pocket is cut for a tool of a thickness, and how high the tool then rises over the drawer's floor."""
    pocket, deepest = rules.pocket, rules.deepest(kind)
    cut = min(int(pocket.share_of(kind) * thickness), deepest)
    if not rules.thickness:
        return cut, pocket.under + thickness
    room = rules.thickness - pocket.under
    if natural:
        held = thickness - rules.notch.grip
        deepest = min(deepest, held) if gripped and cut <= held else deepest
        cut = max(cut, min(rules.thickness + thickness - rules.top, deepest))
    if rules.base:
        cut = max(cut, rules.thickness - rules.base)
    cut = min(cut, room)
    return cut, rules.thickness + max(thickness - cut, 0)


@remembered(8192)
def _notched(pose: Pose) -> Pose:
    """A pose with a notch of its own: across it as near the middle of its pocket's area as foam still holds it, half a
    notch beyond it on both sides; else over an end of it, as wide as it is long."""
    if pose.way == "across":
        return _notched(_back(pose)).crosswise
    wide = pose.finger
    (first, last), near, far = notch_places(pose.pocket, wide)
    if first <= last:
        middle = round(Polygon(pose.pocket).centroid.y)
        low = min(max(middle - wide // 2, first, 0), last, pose.depth - wide)
    else:
        low = near[1] if near[0] <= near[1] else far[0]
    left, right = ends(pose.pocket, max(low, 0), min(low + wide, pose.depth))
    begin, end = (
        (left - wide // 2, right + wide // 2)
        if first <= last
        else ((left + right - wide) // 2, (left + right + wide) // 2)
    )
    shift, up = max(0, -begin), max(0, -low)
    notch = moved(chamfered(end - begin, wide, wide // 2), begin + shift, low + up)
    return replace(
        pose,
        width=max(pose.width, end) + shift,
        depth=max(pose.depth, low + wide) + up,
        ring=moved(pose.pocket, shift, up),
        notch=notch,
        finger=0,
    )


def _back(pose: Pose) -> Pose:
    """An across pose turned back counterclockwise."""
    ring = tuple((pose.depth - y, x) for x, y in pose.pocket)
    return replace(pose, way="along", width=pose.depth, depth=pose.width, ring=ring)


@remembered(65536)
def _boxy(ring: Ring, box: int) -> bool:
    return float(Polygon(ring).area) >= BOXY * box


def radius_for(cut: int, cutters: tuple[Cutter, ...]) -> int:
    """Radius of the finest cutter that reaches down ``cut``, else of the one that reaches furthest; none, no radius."""
    deep = [cutter.diameter for cutter in cutters if cutter.reach >= cut]
    longest = max(cutters, key=lambda cutter: (cutter.reach, -cutter.diameter), default=None)
    return -(-min(deep, default=longest.diameter if longest else 0) // 2)


def pocket_ring(piece: SizedPiece, standing: bool, fit: int, cutter: int) -> Ring:
    """Outline of a piece's pocket, its box at (0, 0) and never smaller than the piece's with the clearance."""
    return _ring(outline(piece, standing), standing, fit, cutter)


@remembered(8192)
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
