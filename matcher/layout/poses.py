"""Poses: how a tool may be put into foam, with its pocket seen from above, its height and the foam that it needs.

A pocket is the tool's outline grown by the fit clearance, as a cutter can make it, down to the base if the foam has one
(R12, R14, R18). Only this module knows that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely import Polygon

from matcher.house import Cutter, House, NotchRules, PocketRules, SideRules
from matcher.layout.cutouts import Ring, chamfered, moved
from matcher.layout.holds import notch_places
from matcher.layout.pocket_rings import pocket_ring, radius_for
from matcher.layout.profiles import ends
from matcher.layout.styles import ORDERLY, Stance, Style, freest
from matcher.records import Group, SizedPiece, remembered

BOXY = 0.97
"""A pocket that fills at least this share of its box counts as its box: nothing can nest into it."""


@dataclass(frozen=True, slots=True)
class Pose:
    """A *pose*: one way to put a tool into foam, in the stance ``way``; lengths in 1/320 mm.

    From above it takes a box of ``width`` x ``depth`` with its front left corner at (0, 0). The tool, or the foam round
    it if that is higher, rises to ``rise`` over the drawer's floor. Its pocket is ``cut`` deep into the foam, and
    between it and a pocket no deeper there is foam of at least ``web``. Without a ``ring`` the pocket is the whole box.
    ``notch`` is the finger notch of this pocket alone, inside the box too. ``finger`` is the width of the notch that
    the tool needs and may share with its neighbors in a line; it is 0 if the tool needs none or has its own.
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
        """Whether the pocket fills its box but for its corners, so that nothing can nest into it."""
        return _boxy(self.pocket, self.width * self.depth)

    @property
    def turned(self) -> Pose:
        """The same pocket turned by 180 degrees."""
        ring, notch = (tuple((self.width - x, self.depth - y) for x, y in part) for part in (self.ring, self.notch))
        return replace(self, ring=ring, notch=notch)

    @property
    def crosswise(self) -> Pose:
        """The same pocket turned clockwise by 90 degrees: what pointed to the back points right."""
        ring, notch = (tuple((y, self.width - x) for x, y in part) for part in (self.ring, self.notch))
        return replace(self, way="across", width=self.depth, depth=self.width, ring=ring, notch=notch)

    @property
    def alone(self) -> Pose:
        """The same pose with a notch of its own if it needs one: how the tool lies without neighbors to share with."""
        return _notched(self) if self.finger else self


@dataclass(frozen=True, slots=True)
class Rules:
    """What decides the poses of a group's tools: the house's rules, whether the group is cased, and the foam.

    ``sides`` say which system and which drive lies where, ``nests`` which kinds may lie in nests. ``cased`` equipment
    stands on the drawer's floor and has no pockets. Tools may stand on end if ``standing``. ``thickness`` is that of
    the foam with its base, or 0 while the foam is not chosen; then each pocket is taken to go down to the floor below
    it. ``top`` is the height over the drawer's floor that the highest tool or the foam must rise to whatever is done.
    """

    pocket: PocketRules
    notch: NotchRules
    cutters: tuple[Cutter, ...]
    standing: bool
    cased: bool
    style: Style
    sides: SideRules
    nests: tuple[str, ...] = ()
    thickness: int = 0
    top: int = 0

    def __hash__(self) -> int:
        """Of a few rules: poses and curves are looked up by them all the time."""
        return hash((self.standing, self.cased, self.style, self.thickness, self.top, self.pocket.web))

    @property
    def base(self) -> int:
        """Thickness of the base; 0 while the foam is not chosen, or if it is one sheet."""
        return self.pocket.base if self.thickness else 0

    def deepest(self, kind: str) -> int:
        """The depth of the deepest pocket allowed for a kind, within the longest cutter's reach."""
        return min([self.pocket.deepest(kind), *([max(c.reach for c in self.cutters)] if self.cutters else [])])


def rules_for(group: Group, house: House, style: Style | None = None) -> Rules:
    """The rules for a group's tools, before the foam is chosen; without a style, with all that the house allows.

    Nests of parts of groups, of which there are many, are looked for quickly only. The margin lies round the field and
    changes nothing in it: it is left out, so that no other one asks for new curves.
    """
    layout = house.layout
    chosen = style or freest(layout)
    if group.part_of and chosen.nested:
        chosen = replace(chosen, nested="quick")
    return Rules(
        pocket=replace(house.pocket, margin=0),
        notch=house.notch,
        cutters=house.cutters,
        standing=layout.standing_sockets,
        cased=group.cased,
        style=chosen,
        sides=layout.sides,
        nests=layout.nests,
    )


def sheets(pieces: Sequence[SizedPiece], rules: Rules) -> tuple[Rules, ...]:
    """The rules with the foam chosen, in one or two ways: for tools standing if they can, and for all of them lying.

    The foam is the thinnest stock that takes the deepest pocket, each pocket as deep as the house's share of the tool
    says. If the house has a base, it is a top sheet on that base that every pocket may be cut through
    (`PocketRules.thickness_for`).
    """
    if rules.cased or not pieces:
        return (rules,)
    stands = rules.standing and any(piece.diameter is not None for piece in pieces)
    variants = [replace(rules, standing=standing) for standing in ((True, False) if stands else (False,))]
    return tuple(_in_stock(pieces, variant) for variant in variants)


def _in_stock(pieces: Sequence[SizedPiece], rules: Rules) -> Rules:
    """The rules with the foam for these pieces in their natural poses; see `poses`."""
    natural = [poses(piece, replace(rules, style=ORDERLY))[0] for piece in pieces]
    through = min(_through(piece, pose.way, rules) for piece, pose in zip(pieces, natural, strict=True))
    thickness = rules.pocket.thickness_for(max(pose.cut for pose in natural), through)
    return replace(rules, thickness=thickness, top=max(thickness, *(pose.rise for pose in natural)))


def _through(piece: SizedPiece, way: Stance, rules: Rules) -> int:
    """Thickness of the thickest top sheet that a tool's pocket may be cut through: as deep as its pocket may be.

    A standing tool must still stand out of it by a grip, since a finger does not reach down beside it; a top sheet as
    thin as the thinnest stock is allowed all the same. Common practice, no source.
    """
    deepest = rules.deepest(piece.piece.kind)
    if way != "standing":
        return deepest
    return min(deepest, max(piece.length - rules.notch.grip, min(rules.pocket.stock, default=0)))


@remembered(65536)
def poses(piece: SizedPiece, rules: Rules) -> tuple[Pose, ...]:
    """The poses that a tool may take, its *natural* pose first: standing if it may stand, else along.

    A pocket is as deep as the house's share of the tool's height in that pose says, within the deepest pocket of the
    kind and the cutter's reach. In foam thicker than that pocket and the floor, a natural pose that would rise above
    ``top`` is cut deeper, within the same limits, so that it does not if it need not; but a standing tool keeps enough
    out of the foam to be gripped. In foam with a base no pocket is shallower than the top sheet; a thin tool then lies
    below the face of the foam, and counts as rising to it.
    """
    if rules.cased:
        along = Pose("along", piece.width, piece.length, piece.height, 0, 0)
        return (along,) if piece.length == piece.width else (along, along.crosswise)
    stands = rules.standing and piece.diameter is not None
    along = _pose(piece, rules, "along", piece.height, natural=not stands)
    every = (along,) if piece.length == piece.width else (along, along.crosswise)
    lying = every if len(every) == 1 else tuple(pose for pose in every if pose.way in rules.style.lying)
    return (_pose(piece, rules, "standing", piece.length, natural=True), *lying) if stands else lying


def _pose(piece: SizedPiece, rules: Rules, way: Stance, high: int, *, natural: bool) -> Pose:
    """The pose of a tool that is ``high`` from its lowest to its highest point in this stance."""
    cut, rise = _cut(piece.piece.kind, rules, high, natural=natural, gripped=way == "standing")
    return pose_cut(piece, rules, way, cut, rise)


def pose_cut(piece: SizedPiece, rules: Rules, way: Stance, cut: int, rise: int) -> Pose:
    """The pose of a tool whose pocket is ``cut`` deep, so that tool or foam rises to ``rise``."""
    kind, pocket, notch = piece.piece.kind, rules.pocket, rules.notch
    high = piece.length if way == "standing" else piece.height
    relieved = pocket.corner_relief == "dog-bone"
    ring = pocket_ring(piece, way == "standing", pocket.fit, radius_for(cut, rules.cutters), relieved=relieved)
    width, depth = max(x for x, _ in ring), max(y for _, y in ring)
    finger = notch.width if high - cut < notch.grip else 0
    pose = Pose(way, width, depth, rise, cut, pocket.web_for(cut), ring, finger=finger)
    return pose if kind in notch.shared else replace(pose.alone, finger=0)


def _cut(kind: str, rules: Rules, high: int, *, natural: bool, gripped: bool) -> tuple[int, int]:
    """How deep the pocket of a tool so ``high`` is cut, and how high tool or foam rises over the drawer's floor."""
    pocket, deepest = rules.pocket, rules.deepest(kind)
    cut = min(int(pocket.share_of(kind) * high), deepest)
    if not rules.thickness:
        return cut, pocket.under + high
    room = rules.thickness - pocket.under
    if natural:
        held = high - rules.notch.grip
        lowest = min(deepest, held) if gripped and cut <= held else deepest
        cut = max(cut, min(rules.thickness + high - rules.top, lowest))
    cut = _stepped(cut, rules, high, deepest)
    if rules.base:
        cut = max(cut, rules.thickness - rules.base)
    cut = min(cut, room)
    return cut, rules.thickness + max(high - cut, 0)


def _stepped(cut: int, rules: Rules, high: int, deepest: int) -> int:
    """The next depth of the house's steps for a pocket ``cut`` deep, so that an organizer has few depths.

    It is never shallower, so the tool rises no higher and is held no less. It is no deeper than the kind's ``deepest``
    pocket, than the floor in the thinnest sheet allows and than a cutter reaches that reaches ``cut``; and a tool that
    stands out of the foam by a grip still does, so that it needs no notch for it.
    """
    pocket, step = rules.pocket, rules.pocket.depth_step
    if not step:
        return cut
    thinner = pocket.stock_tolerance if rules.thickness in pocket.stock and not rules.base else 0
    firm = rules.thickness - pocket.under - thinner
    limits = (*(cutter.reach for cutter in rules.cutters), high - rules.notch.grip)
    return max(cut, min(-(-cut // step) * step, deepest, firm, *(limit for limit in limits if limit >= cut)))


@remembered(8192)
def _notched(pose: Pose) -> Pose:
    """The pose with a notch of its own.

    The notch crosses the pocket as near to the middle of its area as foam still holds the tool (`holds`), and reaches
    half its width beyond it on both sides. If foam would not hold the tool anywhere, the notch lies over an end of it,
    as long as it is wide.
    """
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
    aside, back = max(0, -begin), max(0, -low)
    notch = moved(chamfered(end - begin, wide, wide // 2), begin + aside, low + back)
    return replace(
        pose,
        width=max(pose.width, end) + aside,
        depth=max(pose.depth, low + wide) + back,
        ring=moved(pose.pocket, aside, back),
        notch=notch,
        finger=0,
    )


def _back(pose: Pose) -> Pose:
    """A pose across, turned counterclockwise by 90 degrees to lie along again; see `Pose.crosswise`."""
    ring = tuple((pose.depth - y, x) for x, y in pose.pocket)
    return replace(pose, way="along", width=pose.depth, depth=pose.width, ring=ring)


@remembered(65536)
def _boxy(ring: Ring, box: int) -> bool:
    return float(Polygon(ring).area) >= BOXY * box
