"""Nests: tools such as pliers lie freely, each kind together and the large behind the small; ratchets drive by drive.

That is common practice, no source; what is checked here is the geometry, by code of its own.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.house.rules import House
from matcher.layout.curves import curve, realize
from matcher.planning.grouping import groups_of, sets_of
from matcher.records.laid_out import Footprint, Group, Layout, Pocket
from matcher.verification.sequence import order_kept
from tests.bench import rectangle
from tests.generated import catalogue
from tests.pieces import HOUSE, boxes, faults, group_of, made, mm
from tests.test_layout import scene_with

IN_LINES = replace(HOUSE, layout=replace(HOUSE.layout, nests=()))
Box = tuple[int, int, int, int]

pliers = st.builds(
    lambda kind, length: made(kind, length, length, 0.3 * length, 0.1 * length),
    st.sampled_from(("combination pliers", "diagonal cutters", "snips")),
    st.sampled_from((140, 160, 200, 250)),
)
hammers = st.builds(
    lambda kind, length: made(kind, length, length, 0.35 * length, 25),
    st.sampled_from(("hammer", "mallet")),
    st.sampled_from((260, 300, 340)),
)
boxed = st.builds(
    lambda n, length, width: made("other", n, length, width, 30),
    st.integers(1, 99),
    st.integers(30, 300),
    st.integers(30, 120),
)
driven = st.builds(
    lambda kind, n, drive, length: made(kind, n, length, length * (0.2 if kind == "ratchet" else 0.1), 25, drive=drive),
    st.sampled_from(("ratchet", "breaker bar", "extension")),
    st.integers(1, 5),
    st.sampled_from(("1/4", "3/8", "1/2")),
    st.sampled_from((75, 130, 200, 310, 480)),
)
drive_tools = st.lists(driven, min_size=3, max_size=10).map(lambda some: group_of(*some))
benches = st.lists(st.one_of(pliers, hammers, boxed), min_size=3, max_size=14).map(lambda some: group_of(*some))


def by_kind(group: Group, layout: Layout) -> dict[str, list[tuple[int, Box]]]:
    """Rank and rectangle of each pocket, by kind."""
    found: dict[str, list[tuple[int, Box]]] = defaultdict(list)
    for pocket, box in zip(layout.pockets, boxes(layout), strict=True):
        piece = group.pieces[pocket.piece]
        found[piece.piece.kind].append((piece.rank, box))
    return found


def distance(one: Box, other: Box) -> float:
    across = max(one[0] - other[2], other[0] - one[2], 0)
    return hypot(across, max(one[1] - other[3], other[1] - one[3], 0))


def together(found: list[Box], near: float) -> bool:
    """Whether one gets from each rectangle to each other one by steps no longer than ``near``."""
    parts = [{n} for n in range(len(found))]
    for i, j in combinations(range(len(found)), 2):
        if distance(found[i], found[j]) <= near:
            first = next(part for part in parts if i in part)
            second = next(part for part in parts if j in part)
            if first is not second:
                parts.remove(second)
                first |= second
    return len(parts) == 1


def nested(group: Group) -> Iterator[tuple[Footprint, Layout]]:
    """The points that only a nest gives, with their layouts."""
    lines = {(point.width, point.depth, point.height) for point in curve(group, IN_LINES)}
    for point in curve(group, HOUSE):
        if (point.width, point.depth, point.height) not in lines:
            yield point, realize(group, HOUSE, point)


@settings(max_examples=30, deadline=None)
@given(group=benches)
def test_every_point_is_a_sound_layout_of_its_size(group: Group) -> None:
    for point, layout in list(nested(group))[::3]:
        assert Footprint(layout.width, layout.depth, layout.height) == point
        assert layout.ordered
        assert sorted(pocket.piece for pocket in layout.pockets) == list(range(len(group.pieces)))
        assert faults(layout, group) == []
        assert [violation.text for violation in order_kept(scene_with(group, layout))] == []


@settings(max_examples=30, deadline=None)
@given(group=benches)
def test_kinds_lie_together_and_the_large_behind_the_small(group: Group) -> None:
    """A layout from a nest may hold lines too; kinds in it lie as in the one or as in the other."""
    for _, layout in list(nested(group))[::3]:
        for kind, found in by_kind(group, layout).items():
            middles = {rank: [(box[1] + box[3]) for other, box in found if other == rank] for rank, _ in found}
            for small, large in combinations(sorted(middles), 2):
                assert max(middles[small]) <= min(middles[large]), kind
            assert together([box for _, box in found], HOUSE.notch.width), kind


@settings(max_examples=20, deadline=None)
@given(group=benches)
def test_nests_only_ever_save_foam(group: Group) -> None:
    """At every width of a layout in lines there is one with or without nests that is no deeper and no higher."""
    points = curve(group, HOUSE)
    for lines in curve(group, IN_LINES):
        assert any(
            one.width <= lines.width and one.depth <= lines.depth and one.height <= lines.height for one in points
        )


@settings(max_examples=30, deadline=None)
@given(group=drive_tools)
def test_drives_lie_together_and_of_each_kind_the_large_behind_the_small(group: Group) -> None:
    for point, layout in list(nested(group))[::3]:
        assert Footprint(layout.width, layout.depth, layout.height) == point
        assert faults(layout, group) == []
        assert [violation.text for violation in order_kept(scene_with(group, layout))] == []
        drives: dict[str, list[Box]] = defaultdict(list)
        series: dict[tuple[str, str], dict[int, list[int]]] = defaultdict(lambda: defaultdict(list))
        for pocket, box in zip(layout.pockets, boxes(layout), strict=True):
            piece = group.pieces[pocket.piece]
            drives[piece.piece.drive].append(box)
            series[piece.piece.drive, piece.piece.kind][piece.rank].append(box[1] + box[3])
        assert all(together(found, HOUSE.notch.width) for found in drives.values())
        for middles in series.values():
            for small, large in combinations(sorted(middles), 2):
                assert max(middles[small]) <= min(middles[large])


def test_sockets_wrenches_and_keys_stay_in_lines() -> None:
    """People look for them by size. Common practice, no source."""
    for words in (("combination wrench", ""), ("hex key", ""), ("socket", "1/2")):
        kind, drive = words
        tools = [made(kind, n, 120 + 20 * n, 30, 12, drive=drive) for n in range(6)]
        group = group_of(*tools)
        assert curve(group, HOUSE) == curve(group, IN_LINES)


@pytest.mark.parametrize("seed", [3003, 3006, 3012])
def test_bench_tools_of_generated_sets(seed: int) -> None:
    """Real outlines, with notches: the least field below 430 mm of depth is smaller than in lines, and sound."""
    known = catalogue(seed, sets=1, cabinets=1, pieces=(80, 200))
    group = next(
        one for name in sets_of(known) for one in groups_of(known, name) if one.name == "bench tools" and not one.cased
    )
    least = [
        min((point for point in curve(group, house) if point.depth <= mm(430)), key=lambda p: p.width * p.depth)
        for house in (IN_LINES, HOUSE)
    ]
    assert least[1].width * least[1].depth < least[0].width * least[0].depth
    layout = realize(group, HOUSE, least[1])
    assert faults(layout, group) == []
    assert [violation.text for violation in order_kept(scene_with(group, layout))] == []


@pytest.mark.parametrize(
    ("corners", "kind", "drive", "house", "wrong"),
    [
        (((60, 0), (0, 12)), "file", "", HOUSE, 0),
        (((60, 0), (0, 12)), "file", "", IN_LINES, 1),
        (((60, 0), (0, 12)), "ratchet", "1/2", HOUSE, 0),
        (((60, 0), (0, 12)), "crowfoot wrench", "1/2", HOUSE, 1),
        (((60, 12), (0, 0)), "file", "", HOUSE, 1),
        (((160, 0), (0, 12)), "file", "", HOUSE, 1),
        (((160, 0), (0, 12), (80, 30)), "file", "", HOUSE, 1),
        (((130, 0), (0, 12), (65, 30)), "file", "", HOUSE, 0),
    ],
    ids=["nest", "no nests", "a drive", "a wrench", "large in front", "apart", "far apart", "joined by a third"],
)
def test_the_checker_reads_nests(
    corners: tuple[tuple[int, int], ...], kind: str, drive: str, house: House, wrong: int
) -> None:
    """R16 by hand: pockets 50 x 20 mm by their front left corners in mm, sizes ascending.

    The second begins 8 mm before the end of the first from front to back, more than a quarter of it, and left of it: no
    line reads so. Of a kind that may lie in a nest it is enough that no larger tool lies in front of a smaller one and
    that steps of 28 mm at most lead from each to each.
    """
    group = group_of(*(made(kind, n, 50, 20, 10, drive=drive) for n in range(len(corners))))
    pockets = tuple(
        Pocket(n, rectangle(mm(x), mm(y), mm(50), mm(20)), mm(6), mm(30)) for n, (x, y) in enumerate(corners)
    )
    layout = Layout(mm(200), mm(200), mm(30), pockets)
    scene = replace(scene_with(group, layout), house=house)
    assert len(list(order_kept(scene))) == wrong


@pytest.mark.parametrize(
    ("drives", "kind", "house", "wrong"),
    [
        (("1/2", "3/8", "3/8", "1/2"), "ratchet", HOUSE, 1),
        (("1/2", "3/8", "1/2", "3/8"), "ratchet", HOUSE, 0),
        (("1/2", "3/8", "1/2", "3/8"), "ratchet", IN_LINES, 1),
        (("1/2", "3/8", "1/2", "3/8"), "crowfoot wrench", HOUSE, 1),
    ],
    ids=["a drive apart", "each drive together", "no nests", "wrenches"],
)
def test_the_checker_reads_drives_in_nests(drives: tuple[str, ...], kind: str, house: House, wrong: int) -> None:
    """By hand: pockets 50 x 20 mm, two behind two, so that no drive is left of another one over its whole depth.

    The first and the third lie 5 mm apart, so do the second and the fourth, 30 mm to the right of them.
    """
    corners = (0, 0), (60, 10), (20, 25), (80, 35)
    group = group_of(*(made(kind, 1, 50, 20, 10, drive=drive) for drive in drives))
    pockets = tuple(
        Pocket(n, rectangle(mm(x), mm(y), mm(50), mm(20)), mm(6), mm(30)) for n, (x, y) in enumerate(corners)
    )
    scene = replace(scene_with(group, Layout(mm(200), mm(200), mm(30), pockets)), house=house)
    assert len(list(order_kept(scene))) == wrong
