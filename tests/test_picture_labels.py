"""What is written in drawings: large, clear of every outline, with drives over columns and kinds where they differ."""

from dataclasses import replace
from itertools import combinations

import pytest
from shapely import Polygon, box

from matcher.layout.labels import RATIO, labelled
from matcher.records.laid_out import Layout, Pocket
from matcher.records.units import mm, to_mm
from matcher.report.picture_labels import SIZES, USUAL, picture_labels
from tests import builders
from tests.cutting_cases import placement, tools

MARGIN = 12


def rectangle(left, front, width, depth):
    corners = ((left, front), (left + width, front), (left + width, front + depth), (left, front + depth))
    return tuple((mm(x), mm(y)) for x, y in corners)


def organizer(pieces, rings, width=200, depth=160):
    """A group of pieces, each in its pocket, and where its organizer lies."""
    layout = Layout(
        mm(width), mm(depth), mm(20), tuple(Pocket(n, ring, mm(10), mm(16)) for n, ring in enumerate(rings))
    )
    group = replace(tools(), pieces=tuple(builders.sized_piece(piece) for piece in pieces))
    return group, placement("group", laid=labelled(layout, group.pieces, mm(MARGIN)))


def socket(size, drive="3/8", kind="socket"):
    return builders.piece(f"{kind} {size}", kind=kind, size=size, drive=drive, system="metric")


def area(label):
    long, high = RATIO * label.height * len(label.text) / 2, label.height / 2
    across, along = (high, long) if label.upright else (long, high)
    return box(label.x - across, label.y - along, label.x + across, label.y + along)


def pockets(placed):
    left, front = placed.field_left, placed.field_front
    return [Polygon([(to_mm(left + x), to_mm(front + y)) for x, y in pocket.ring]) for pocket in placed.layout.pockets]


TWELVE = [rectangle(10 + 45 * (n % 4), 10 + 50 * (n // 4), 18, 26) for n in range(12)]


def test_writing_is_as_large_as_all_of_it_can_be_and_keeps_a_millimeter_from_pockets_and_from_other_writing():
    group, placed = organizer([socket(str(n + 8)) for n in range(12)], TWELVE)
    labels = picture_labels(group, placed, mm(USUAL))
    assert [label.text for label in labels] == [str(n + 8) for n in range(12)]
    assert {label.height for label in labels} == {SIZES[0]}
    assert not any(label.inside for label in labels)
    for label in labels:
        assert min(area(label).distance(pocket) for pocket in pockets(placed)) >= 1 - 0.01
    assert not any(area(one).intersects(area(other)) for one, other in combinations(labels, 2))


def test_writing_grows_with_the_drawer_for_it_is_seen_smaller():
    group, placed = organizer([socket("8")], [rectangle(40, 40, 20, 30)])
    (usual,), (wide,) = (picture_labels(group, placed, mm(width)) for width in (USUAL, 2 * USUAL))
    assert wide.height == pytest.approx(2 * usual.height)


def test_the_drive_stands_over_each_of_several_columns():
    rings = [rectangle(10 + 100 * (n // 2), 10 + 60 * (n % 2), 60, 30) for n in range(4)]
    group, placed = organizer([socket(str(n + 8), ("1/2", "1/4")[n // 2]) for n in range(4)], rings)
    drives = [label for label in picture_labels(group, placed, mm(USUAL)) if label.kind == "drive"]
    assert [label.text for label in drives] == ["1/2 drive", "1/4 drive"]
    for label, column in zip(drives, (pockets(placed)[:2], pockets(placed)[2:]), strict=True):
        assert label.x == pytest.approx(column[0].centroid.x, abs=0.01)
        assert label.y > max(pocket.bounds[3] for pocket in column)
    one, lying = organizer([socket(str(n + 8)) for n in range(4)], rings)
    assert not [label for label in picture_labels(one, lying, mm(USUAL)) if label.kind == "drive"], "one drive only"


def test_the_kind_is_told_where_most_tools_are_of_another():
    kinds = ["socket", "socket", "spark plug socket"]
    rings = [rectangle(20 + 60 * n, 40, 30, 40) for n in range(3)]
    group, placed = organizer([socket("16", kind=kind) for kind in kinds], rings, 260)
    assert [label.text for label in picture_labels(group, placed, mm(USUAL))] == ["16", "16", "16 spark plug socket"]


def test_what_has_no_pockets_has_no_writing():
    group, placed = organizer([socket("8")], [rectangle(40, 40, 20, 30)])
    assert picture_labels(group, replace(placed, layout=None), mm(USUAL)) == ()
