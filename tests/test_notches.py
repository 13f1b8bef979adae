"""Finger notches: wide enough, under every tool that needs one, and foam left that holds it (common practice)."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

import pytest
from shapely import Polygon, union_all

from matcher.catalogue.reading import read_catalogue
from matcher.layout.curves import curve, realize
from matcher.layout.styles import styles
from matcher.planning.grouping import groups_of, sets_of
from matcher.records.laid_out import Group, Layout, Notch, Pocket, SizedPiece
from tests.pieces import HOUSE, boxes, faults, group_of, made, mm
from tests.test_layout import LYING_ONLY, sample

WORKSHOP = Path(__file__).resolve().parents[1] / "data" / "workshop"
FINGER = HOUSE.notch.width
TIP = mm(12)
"""What must go into a notch beside the tools: the tip of a finger, a little less than half of it; no source."""


def extents(ring: tuple[tuple[int, int], ...]) -> tuple[int, int]:
    xs, ys = zip(*ring, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def along(notch: Notch, pocket: Pocket) -> int:
    """How far a notch runs along the longer side of a pocket."""
    width, depth = extents(pocket.ring)
    return extents(notch.ring)[depth >= width]


def needing(layout: Layout, group: Group) -> Iterator[int]:
    """Pockets whose tools stand out of the foam by less than a grip."""
    for index, pocket in enumerate(layout.pockets):
        piece = group.pieces[pocket.piece]
        if (piece.length if pocket.standing else piece.height) - pocket.depth < HOUSE.notch.grip:
            yield index


def poor(layout: Layout, group: Group) -> list[str]:
    """What a finger or a maker of foam would find wrong with the notches."""
    found = []
    rings = [Polygon(notch.ring) for notch in layout.notches]
    flush = set(needing(layout, group))
    for index, pocket in enumerate(layout.pockets):
        own, shape = [notch for notch in layout.notches if index in notch.pockets], Polygon(pocket.ring)
        name = group.pieces[pocket.piece].piece.tool
        if index in flush and not any(shape.intersection(Polygon(notch.ring)).area > 0 for notch in own):
            found.append(f"no notch under {name}")
        if index in flush and any(along(notch, pocket) < FINGER for notch in own):
            found.append(f"no finger goes in beside {name}")
        if any(notch.depth < pocket.depth for notch in own):
            found.append(f"the notch of {name} is no deeper than its pocket")
        kept = shape.difference(union_all([Polygon(notch.ring) for notch in own])).area
        if own and kept < shape.area / 2:
            found.append(f"{kept / shape.area:.2f} of {name} is held by foam")
    tools = [Polygon(pocket.ring) for pocket in layout.pockets]
    for notch, ring in zip(layout.notches, rings, strict=True):
        if ring.difference(union_all([tools[index] for index in notch.pockets])).buffer(1 - TIP / 2).is_empty:
            found.append(
                f"the notch of {[group.pieces[layout.pockets[n].piece].piece.tool for n in notch.pockets]} is full"
            )
    found += ["a notch for nobody" for notch in layout.notches if not flush & set(notch.pockets)]
    found += ["two notches overlap" for one, other in combinations(rings, 2) if one.intersects(other)]
    return found


def bundled() -> list[Group]:
    """Every different group of the bundled sets that lies in foam."""
    catalogue = read_catalogue(WORKSHOP)
    groups = {group.pieces: group for name in sets_of(catalogue) for group in groups_of(catalogue, name)}
    return [group for group in groups.values() if group.pieces and not group.cased]


@pytest.mark.slow
@pytest.mark.parametrize("group", [pytest.param(group, id=f"{n} {group.name}") for n, group in enumerate(bundled())])
def test_every_bundled_tool_can_be_taken_and_is_held(group: Group) -> None:
    ladder = styles(HOUSE.layout)
    for style in (ladder[0], ladder[len(ladder) // 2], ladder[-1]):
        points = curve(group, HOUSE, style)
        for point in {points[len(points) * n // 5] for n in range(5)} if points else ():
            assert poor(realize(group, HOUSE, point, style), group) == []


def bit(n: int) -> SizedPiece:
    return made("insert bit", n, 25, 7, 7)


def shared(*pieces: SizedPiece) -> list[tuple[Notch, Layout]]:
    group = group_of(*pieces)
    layouts = [layout for _, layout in sample(group, LYING_ONLY, 20)]
    assert [poor(layout, group) for layout in layouts] == [[] for _ in layouts]
    return [(notch, layout) for layout in layouts for notch in layout.notches if len(notch.pockets) > 1]


def test_short_bits_share_a_whole_finger_at_their_ends() -> None:
    """Bits of 25 mm: a finger of 28 mm across them would leave nothing that holds one."""
    found = shared(*map(bit, range(4)))
    assert found
    for notch, layout in found:
        for box in (boxes(layout)[index] for index in notch.pockets):
            upright = box[3] - box[1] > box[2] - box[0]
            low, high = (min(p[upright] for p in notch.ring), max(p[upright] for p in notch.ring))
            beyond = max(box[upright] - low, high - box[upright + 2])
            assert high - low == FINGER
            assert FINGER / 2 <= beyond <= FINGER - 0.25 * mm(25)


def test_beside_a_longer_tool_the_notch_of_short_ones_takes_no_more_foam() -> None:
    """The holder of 60 mm has room for 28 mm where the bits of 25 mm end: their line is as deep as the holder."""
    found = shared(*map(bit, range(4)), made("insert bit", 5, 61.4, 7, 7))
    lines = [(notch, layout) for notch, layout in found if len(notch.pockets) == 5]
    assert lines
    assert min(min(layout.width, layout.depth) for _, layout in lines) == mm(63)


def test_a_notch_through_a_line_reaches_both_sides_of_its_end_tools_where_there_is_room() -> None:
    """Wrenches 6 mm thick with heads 20 mm and shanks about half as wide: beside the shanks is room for a finger."""
    found = shared(*(made("combination wrench", n, 120, 20, 6) for n in range(3)))
    for notch, layout in found:
        across = boxes(layout)
        upright = across[0][3] - across[0][1] > across[0][2] - across[0][0]
        side = 0 if upright else 1
        lows = [across[index][side] for index in notch.pockets]
        assert min(p[side] for p in notch.ring) == min(lows)


@pytest.mark.parametrize("length", [12, 25, 40, 54, 60, 200])
def test_a_tool_alone_has_a_whole_finger_and_stays_held(length: float) -> None:
    """A short one at its end, half a notch beyond it; a long one across its middle, foam at both ends."""
    alone = group_of(made("adapter", 1, length, 8, 6))
    for point in curve(alone, HOUSE):
        layout = realize(alone, HOUSE, point)
        assert (layout.width, layout.depth) == (point.width, point.depth)
        assert poor(layout, alone) == []
        (notch,), (pocket,) = layout.notches, layout.pockets
        left = Polygon(pocket.ring).difference(Polygon(notch.ring))
        assert (left.geom_type == "MultiPolygon") == (length > 56)


@pytest.mark.parametrize("kinds", [("hammer", "punch", "pry bar"), ("hammer", "punch", "punch", "punch", "pry bar")])
def test_no_notch_runs_through_a_tool_with_a_notch_of_its_own(kinds: tuple[str, ...]) -> None:
    """Between hammer and pry bar one punch has its own notch, three may share one; none of them overlap."""
    mixed = group_of(*(made(kind, n, 120 + n, 14, 8) for n, kind in enumerate(kinds)))
    for _, layout in sample(mixed, LYING_ONLY, 20):
        assert poor(layout, mixed) == []


@pytest.mark.parametrize(
    "sizes",
    [
        ((200, 10, 20), (200, 10, 20), (60, 10, 10), (180, 20, 20)),
        ((70, 50, 33), (80, 10, 10), (80, 10, 10), (210, 45, 10), (240, 20, 10)),
    ],
)
def test_a_shared_notch_keeps_its_web_from_the_next_tools_own(sizes: list[tuple[int, int, int]]) -> None:
    """Where the last tool of the shared one is shorter than it is wide, that one's corner lies beside the tool."""
    kinds = [*["screwdriver"] * 3, *["slip-joint pliers"] * 2]
    group = group_of(*(made(kind, n, *size) for n, (kind, size) in enumerate(zip(kinds, sizes, strict=False))))
    plain = styles(HOUSE.layout)[0]
    for point in curve(group, HOUSE, plain):
        assert faults(realize(group, HOUSE, point, plain), group) == []


def test_straight_tools_a_web_apart_leave_room_for_a_fingertip_beside_them() -> None:
    """Two files of 10 mm, 6 mm of web: half a notch, 14 mm, is cut beyond one of them, of which 1.6 mm are its pocket's
    clearance."""
    pair = group_of(*(made("file", n, 150, 10, 6) for n in range(2)))
    least = min(
        min(point.width, point.depth) for point in curve(pair, HOUSE) if max(point.width, point.depth) < mm(160)
    )
    assert least == mm(11.6 + 6 + 11.6 + 14)
    for _, layout in sample(pair, LYING_ONLY, 20):
        assert poor(layout, pair) == []
