"""What is written in drawings: large, clear of every outline, with drives over columns and kinds where they differ."""

from dataclasses import replace
from itertools import combinations

import pytest
from shapely import Polygon, box

from matcher.layout.labels import labelled
from matcher.records.laid_out import Layout, Pocket
from matcher.records.units import mm, to_mm
from matcher.report.fitted_words import extent
from matcher.report.picture_labels import SIZES, USUAL, paper_labels, picture_headings, picture_labels
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
    """Words with figures and capitals, 0.73 em high (common practice for sans serifs, no source)."""
    long, high = extent(label.text, label.height) / 2, 0.73 * label.height / 2
    return box(label.x - long, label.y - high, label.x + long, label.y + high)


def drawer(width=USUAL, depth=172):
    """A drawer of which the organizer reaches the back."""
    return builders.drawer("1", width=width, depth=depth)


def pockets(placed):
    left, front = placed.field_left, placed.field_front
    return [Polygon([(to_mm(left + x), to_mm(front + y)) for x, y in pocket.ring]) for pocket in placed.layout.pockets]


TWELVE = [rectangle(10 + 45 * (n % 4), 10 + 50 * (n // 4), 18, 26) for n in range(12)]


def test_writing_is_as_large_as_all_of_it_can_be_and_keeps_off_pockets_and_from_other_writing():
    group, placed = organizer([socket(str(n + 8)) for n in range(12)], TWELVE)
    labels = picture_labels(group, placed, drawer())
    assert [label.text for label in labels] == [str(n + 8) for n in range(12)]
    assert {label.height for label in labels} == {SIZES[0]}
    assert not any(label.inside for label in labels)
    for label in labels:
        assert min(area(label).distance(pocket) for pocket in pockets(placed)) >= 0.1 * label.height
    assert not any(area(one).intersects(area(other)) for one, other in combinations(labels, 2))


def test_writing_grows_with_the_drawer_for_it_is_seen_smaller():
    group, placed = organizer([socket("8")], [rectangle(40, 40, 20, 30)])
    (usual,), (wide,) = (picture_labels(group, placed, drawer(width)) for width in (USUAL, 2 * USUAL))
    assert wide.height == pytest.approx(2 * usual.height)


def test_drives_and_systems_stand_over_their_columns():
    rings = [rectangle(10 + 100 * (n // 2), 10 + 60 * (n % 2), 60, 30) for n in range(4)]
    group, placed = organizer([socket(str(n + 8), ("1/2", "1/4")[n // 2]) for n in range(4)], rings)
    found = picture_headings(group, placed, drawer())
    assert [heading.text for heading in found] == ["1/2 drive", "1/4 drive", "mm"]
    for heading, column in zip(found, (pockets(placed)[:2], pockets(placed)[2:], pockets(placed)), strict=True):
        reach = min(one.bounds[0] for one in column), max(one.bounds[2] for one in column)
        assert (heading.left, heading.right) == pytest.approx(reach)
    assert found[2].level > found[0].level == found[1].level


def test_where_drives_have_no_columns_the_words_say_them_and_so_with_units():
    rings = [rectangle(10 + 45 * n, 40, 20, 30) for n in range(4)]
    mixed = [socket("8", ("1/2", "1/4", "1/2", "1/4")[n]) for n in range(4)]
    group, placed = organizer(mixed, rings)
    assert [label.text for label in picture_labels(group, placed, drawer())] == [
        "8 (1/2)", "8 (1/4)", "8 (1/2)", "8 (1/4)",
    ]  # fmt: skip
    both = [replace(socket(("8", "1/4")[n % 2]), system=("metric", "inch")[n % 2]) for n in range(4)]
    group, placed = organizer(both, rings)
    assert [label.text for label in picture_labels(group, placed, drawer())] == ["8 mm", "1/4 in", "8 mm", "1/4 in"]
    assert not [heading for heading in picture_headings(group, placed, drawer()) if heading.text in ("inch", "mm")]


def test_headings_stand_only_over_what_reaches_the_back():
    group, placed = organizer([socket("8"), socket("9")], [rectangle(20 + 60 * n, 40, 30, 40) for n in range(2)])
    assert picture_headings(group, placed, drawer())
    assert picture_headings(group, placed, drawer(depth=400)) == ()


def test_all_tools_of_a_row_have_their_words_on_one_side():
    """The middle one of five has another behind it, so all words stand in front, or none does."""
    rings = [rectangle(10 + 38 * n, 60, 18, 30) for n in range(5)]
    group, placed = organizer([socket(str(n + 8)) for n in range(5)], rings)
    labels = picture_labels(group, placed, drawer())
    assert len({label.y for label in labels}) == 1
    group, placed = organizer([socket(str(n + 8)) for n in range(6)], [*rings, rectangle(86, 42, 18, 14)])
    sides = {label.y > 75 for label in picture_labels(group, placed, drawer())[:5]}
    assert len(sides) == 1


def test_paper_has_numbers_on_or_beside_the_tools_where_sizes_have_no_room():
    rings = [rectangle(2 + 24 * n, 20, 23, 120) for n in range(8)]
    pieces = [socket(f"1-{n}/16") for n in range(8)]
    group, placed = organizer(pieces, rings)
    numbers = {piece.tool: n for n, piece in enumerate(pieces, 1)}
    told = paper_labels(group, placed, drawer(), (22.0, 20.0), numbers)
    assert [(label.kind, label.text) for label in told] == [("number", str(n)) for n in range(1, 9)]
    edges = [pocket.exterior for pocket in pockets(placed)]
    assert not any(area(label).intersects(edge) for label in told for edge in edges)
    large = paper_labels(group, placed, drawer(), (4.0,), numbers)
    assert {label.kind for label in large} == {"size"}


def test_the_kind_is_told_where_most_tools_are_of_another():
    kinds = ["socket", "socket", "spark plug socket"]
    rings = [rectangle(20 + 60 * n, 40, 30, 40) for n in range(3)]
    group, placed = organizer([socket("16", kind=kind) for kind in kinds], rings, 260)
    assert [label.text for label in picture_labels(group, placed, drawer())] == ["16", "16", "16 spark plug socket"]


def test_what_has_no_pockets_has_no_writing():
    group, placed = organizer([socket("8")], [rectangle(40, 40, 20, 30)])
    assert picture_labels(group, replace(placed, layout=None), drawer()) == ()
