"""Cut foam by geometry of its own, over layouts of invented groups: webs, field, the true tool in what a cutter leaves.

Nothing here calls the code that lays out or the checker's arithmetic: distances are shapely's, and rules are worked out
once more. Only how a tool looks from above is the program's, for there is no second drawing of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from itertools import product
from math import ceil

import pytest
from shapely import Polygon, STRtree, affinity, box, distance, get_coordinates, points

from matcher.house.rules import House
from matcher.layout.curves import curve, evened, realize
from matcher.layout.easing import eased
from matcher.layout.free import free
from matcher.planning.grouping import groups_of, sets_of
from matcher.records.given import Piece
from matcher.records.laid_out import Footprint, Group, Layout, SizedPiece
from matcher.tools.dimensions import sized
from matcher.tools.outlines import outline
from tests.generated import Dice, catalogue
from tests.pieces import HOUSE, group_of, mm

RELIEVED = replace(HOUSE, pocket=replace(HOUSE.pocket, corner_relief="dog-bone"))
WEB, SHARE, FIT = mm(6), 0.3, mm(0.8)
"""House rules as shipped: a web of 6 mm or three tenths of the deeper pocket, pockets 0.8 mm larger all round."""
CUTTERS = ((mm(3.175), mm(16)), (mm(6.35), mm(32)))
"""Diameters and reaches as shipped, the finer one first."""
ROUND = 0.97
"""Circles are polygons in pockets; a circle 3 % smaller than the cutter goes round where the cutter does."""
Ring = tuple[tuple[int, int], ...]


# ----------------------------------------------------------------------------------------------------------- a layout


def web_faults(layout: Layout) -> Iterator[str]:
    """Webs thinner than they must be, each pair of pockets or notches once; a notch that runs into its own pocket has
    none there, nor have two notches of one pocket that meet."""
    cuts = [(Polygon(one.ring), one.depth, {n}) for n, one in enumerate(layout.pockets)]
    cuts += [(Polygon(one.ring), one.depth, set(one.pockets)) for one in layout.notches]
    shapes = [shape for shape, _, _ in cuts]
    widest = max(max(WEB, ceil(SHARE * depth)) for _, depth, _ in cuts)
    for i, j in STRtree(shapes).query(shapes, predicate="dwithin", distance=widest).T.tolist():
        if i < j:
            (one, deep, own), (other, deeper, theirs) = cuts[i], cuts[j]
            apart = one.distance(other)
            if apart < max(WEB, SHARE * max(deep, deeper)) - 1e-6 and not (apart == 0 and own & theirs):
                yield f"web of {apart / 320:.2f} mm between {i} and {j}"


def field_faults(layout: Layout) -> Iterator[str]:
    """Pockets and notches outside the field."""
    whole = box(0, 0, layout.width, layout.depth)
    for n, one in enumerate((*layout.pockets, *layout.notches)):
        shape = Polygon(one.ring)
        if not (shape.is_valid and whole.covers(shape)):
            yield f"cut {n} is no outline in the field"


def pressed(piece: SizedPiece, ring: Ring, depth: int, standing: bool) -> float:
    """How far the tool reaches into the foam at the least, in mm, in the pocket as the cutter for its depth leaves it:
    turned by quarters, moved a little to where it lies best."""
    left, front = (min(axis) for axis in zip(*ring, strict=True))
    at_corner = tuple((x - left, y - front) for x, y in ring)
    cutter = next((wide for wide, reach in CUTTERS if reach >= depth), CUTTERS[-1][0])
    return _pressed(piece, at_corner, cutter, standing)


@cache
def _pressed(piece: SizedPiece, ring: Ring, cutter: int, standing: bool) -> float:
    pocket, radius = Polygon(ring), ROUND * cutter / 2
    left_by_cutter = pocket if standing else pocket.buffer(-radius, quad_segs=16).buffer(radius, quad_segs=16)
    _, _, width, depth = pocket.bounds
    tool = outline(piece, standing)
    low_x, low_y, high_x, high_y = tool.bounds
    centered = affinity.translate(tool, -(low_x + high_x) / 2, -(low_y + high_y) / 2)
    turned = (affinity.rotate(centered, 90 * quarter, origin=(0, 0)) for quarter in range(1 if standing else 4))
    placed = [affinity.translate(one, width / 2, depth / 2) for one in turned]
    best, _, tool = min((_out(one, left_by_cutter), n, one) for n, one in enumerate(placed))
    return _settled(tool, left_by_cutter, best) / 320


def _settled(tool: Polygon, pocket: Polygon, best: float) -> float:
    """How far the tool reaches out of the pocket once it has been moved, ever less, to where it does so least; where it
    does so by a tenth of a millimeter at most it stays as it is."""
    step = float(mm(0.4))
    while best > mm(0.1) and step > mm(0.03):
        moved = [affinity.translate(tool, dx * step, dy * step) for dx, dy in product((-1, 0, 1), repeat=2)]
        least, tool = min(((_out(one, pocket), one) for one in moved), key=lambda found: found[0])
        best, step = (least, step) if least < best - 1 else (best, step / 2)
    return best


def _out(tool: Polygon, pocket: Polygon) -> float:
    rest = tool.difference(pocket)
    return 0.0 if rest.is_empty else float(distance(pocket, points(get_coordinates(rest))).max())


# -------------------------------------------------------------------------------------------------------- many layouts


@dataclass
class Seen:
    """What was looked at, what was wrong, and how far tools of each kind press into the foam at most."""

    layouts: int = 0
    pockets: int = 0
    faults: list[str] = field(default_factory=list)
    worst: dict[str, float] = field(default_factory=dict)


def invented(seeds: range, pieces: tuple[int, int]) -> Iterator[tuple[Dice, Group]]:
    """Groups of foam of one invented set a seed."""
    for seed in seeds:
        known, dice = catalogue(seed, 1, 1, pieces), Dice(seed)
        for name in sets_of(known):
            yield from ((dice, group) for group in groups_of(known, name) if group.pieces and not group.cased)


def layouts(dice: Dice, group: Group, house: House, most: int) -> Iterator[Layout]:
    """Layouts of some points of the curve, as they are or spread over a larger room, and one without order."""
    known = curve(group, house)
    some = dice.mixed(known)[:most]
    for point in some:
        if dice.chance(0.5):
            yield realize(group, house, point)
        else:
            room = point.width + mm(dice.between(0, 60)), point.depth + mm(dice.between(0, 60))
            made, _, _ = evened(group, house, point, room)
            yield eased(made, house.pocket, point.height + mm(2))
    if len(group.pieces) <= 12:
        least = min(known, key=lambda point: point.width * point.depth)
        room = Footprint(least.width + mm(20), least.depth + mm(20), least.height)
        if made := free(group, room.width, room.depth, room.height, house).layout:
            yield made


def look_at(seeds: range, house: House, pieces: tuple[int, int], most: int) -> Seen:
    """Every check on every layout of the seeds' groups."""
    seen = Seen()
    for dice, group in invented(seeds, pieces):
        for layout in layouts(dice, group, house, most):
            seen.layouts += 1
            seen.pockets += len(layout.pockets)
            seen.faults += [f"{group.name}: {fault}" for fault in (*web_faults(layout), *field_faults(layout))]
            for pocket in layout.pockets:
                piece = group.pieces[pocket.piece]
                deep = pressed(piece, pocket.ring, pocket.depth, pocket.standing)
                seen.worst[piece.piece.kind] = max(deep, seen.worst.get(piece.piece.kind, 0.0))
    return seen


def check(seen: Seen, relieved: bool) -> None:
    """Webs and fields are kept; corners press as far as the house rules say: less than the fit, or not at all."""
    assert seen.faults == []
    worst = max(seen.worst.values())
    assert worst < (0.1 if relieved else FIT / 320), seen.worst
    square = [deep for kind, deep in seen.worst.items() if "socket" in kind or kind in ("extension", "ratchet")]
    assert max(square, default=0) < 0.2, "square corners"


def test_layouts_keep_their_webs_and_fields_and_hold_their_tools() -> None:
    seen = look_at(range(24), HOUSE, (12, 36), 3)
    assert seen.layouts > 200
    check(seen, relieved=False)


def test_relieved_corners_do_not_press_at_all() -> None:
    seen = look_at(range(100, 112), RELIEVED, (12, 36), 3)
    assert seen.layouts > 100
    check(seen, relieved=True)


def test_a_notch_keeps_a_web_from_a_tool_that_it_passes() -> None:
    """The joint needs a notch, the adapter beside it none; the notch over the joint's end may end before the adapter,
    but then not by less than a web."""
    rows = (("adapter", "3/8"), ("adapter", "1/2"), ("universal joint", ""))
    pieces = [sized(Piece("set", f"{kind} {size}", kind, 1, size=size, drive="1/4")) for kind, size in rows]
    group = group_of(*pieces)
    for point in curve(group, RELIEVED):
        assert list(web_faults(realize(group, RELIEVED, point))) == []


@pytest.mark.slow
@pytest.mark.parametrize("house", [HOUSE, RELIEVED], ids=["round corners", "relieved corners"])
def test_thousands_of_layouts(house: House) -> None:
    seen = look_at(range(1000, 1060), house, (20, 80), 8)
    assert seen.layouts > 2000
    check(seen, relieved=house is RELIEVED)


# --------------------------------------------------------------------------------------------- the checks see something


def a_layout() -> tuple[Group, Layout]:
    dice, group = next((dice, one) for dice, one in invented(range(1), (15, 45)) if len(one.pieces) > 4)
    return group, next(layouts(dice, group, HOUSE, 1))


def test_pockets_a_little_larger_and_a_field_a_little_narrower_are_seen() -> None:
    _, layout = a_layout()
    assert not [*web_faults(layout), *field_faults(layout)]
    grown = (Polygon(pocket.ring).buffer(mm(0.1), join_style="mitre") for pocket in layout.pockets)
    rings = [tuple((round(x), round(y)) for x, y in shape.exterior.coords[:-1]) for shape in grown]
    pockets = tuple(replace(pocket, ring=ring) for pocket, ring in zip(layout.pockets, rings, strict=True))
    assert list(web_faults(replace(layout, pockets=pockets)))
    assert list(field_faults(replace(layout, width=layout.width - 1)))


def test_a_pocket_too_small_for_its_tool_is_seen() -> None:
    group, layout = a_layout()
    pocket = layout.pockets[0]
    less = affinity.scale(Polygon(pocket.ring), 0.9, 0.9)
    small = tuple((round(x), round(y)) for x, y in less.exterior.coords[:-1])
    assert pressed(group.pieces[pocket.piece], small, pocket.depth, pocket.standing) > 0.2
