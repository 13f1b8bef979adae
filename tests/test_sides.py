"""Metric left, or the smallest drive outermost, as the house says: layouts are mirrored, curves are not."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, product
from pathlib import Path

import pytest
from hypothesis import given, settings

from matcher.catalogue.reading import read_catalogue
from matcher.house.reading import read_house
from matcher.house.rules import House, SideRules
from matcher.layout.curves import curve, realize
from matcher.layout.splitting import parts
from matcher.layout.tree import reading_order
from matcher.planning.answering import plan
from matcher.planning.outcome import Fits
from matcher.records.laid_out import Group
from matcher.report.pages.plan_page import HALF, plan_page, plan_shown
from matcher.verification.checker import verify
from matcher.verification.sequence import order_kept
from tests.pieces import HOUSE, boxes, drive_spans, faults, group_of, made, socket
from tests.test_layout import IN_COLUMNS, groups, sample, scene_with

WORKSHOP = Path(__file__).resolve().parents[1] / "data" / "workshop"


def sided(house: House = HOUSE, **sides: str) -> House:
    return replace(house, layout=replace(house.layout, sides=SideRules(**sides)))  # type: ignore[arg-type]


METRIC_LEFT, SMALL_OUT = sided(left="metric"), sided(outermost="smallest")
BOTH = sided(left="metric", outermost="smallest")
EVERY = pytest.mark.parametrize("house", [METRIC_LEFT, SMALL_OUT, BOTH], ids=["metric left", "small out", "both"])
FULL = group_of(
    *(socket(rank, drive, system) for rank, drive, system in product((8, 10, 12), ("1/4", "3/8"), ("inch", "metric"))),
    made("extension", 1, 75, 12, 12, drive="1/4"),
)


# ------------------------------------------------------------------------------------------------------------- curves


@settings(max_examples=40, deadline=None)
@given(group=groups)
def test_exchanged_halves_have_the_same_curve(group: Group) -> None:
    assert curve(group, METRIC_LEFT) == curve(group, HOUSE)


@settings(max_examples=30, deadline=None)
@given(group=groups)
def test_exchanged_drives_have_the_same_curve_in_columns(group: Group) -> None:
    """Where all have a drive: what has none is innermost in both. In bands it matters which drive frames them."""
    driven = group_of(*(piece for piece in group.pieces if piece.piece.drive))
    assert curve(driven, sided(IN_COLUMNS, outermost="smallest")) == curve(driven, IN_COLUMNS)


# ------------------------------------------------------------------------------------------------------------ layouts


@settings(max_examples=25, deadline=None)
@given(group=groups)
def test_metric_lies_left_of_inch_and_nothing_overlaps(group: Group) -> None:
    for point, layout in sample(group, METRIC_LEFT, most=3):
        assert (layout.width, layout.depth, layout.height) == (point.width, point.depth, point.height)
        assert faults(layout, group) == []
        sides = {"inch": [], "metric": [], "": []}
        for pocket, box in zip(layout.pockets, boxes(layout), strict=True):
            sides[group.pieces[pocket.piece].piece.system].append(box)
        assert all(metric[2] < inch[0] for metric, inch in product(sides["metric"], sides["inch"]))


@settings(max_examples=25, deadline=None)
@given(group=groups)
def test_drives_lie_outside_in_from_the_smallest(group: Group) -> None:
    """Left half ascending, right half falling; what has no drive lies innermost."""
    house = sided(IN_COLUMNS, outermost="smallest")
    both = {"inch", "metric"} <= {piece.piece.system for piece in group.pieces}
    for _, layout in sample(group, house, most=3):
        spans = drive_spans(group, layout)
        for system in {system for system, _ in spans}:
            outside_in = sorted((drive for s, drive in spans if s == system), key=lambda drive: (drive == 0, drive))
            for outer, inner in pairwise(outside_in):
                right = both and system == "metric"
                left_one, right_one = (inner, outer) if right else (outer, inner)
                assert spans[system, left_one][1] < spans[system, right_one][0]


@EVERY
@settings(max_examples=25, deadline=None)
@given(group=groups)
def test_the_checker_reads_them_by_the_same_house(house: House, group: Group) -> None:
    for _, layout in sample(group, house, most=4):
        scene = replace(scene_with(group, layout), house=house)
        assert [violation.text for violation in order_kept(scene)] == []


@EVERY
def test_the_checker_refuses_them_by_another_house(house: House) -> None:
    layout = realize(FULL, house, curve(FULL, house)[-1])
    rules = {violation.rule for violation in order_kept(scene_with(FULL, layout))}
    assert rules == {"R16"}
    plain = realize(FULL, HOUSE, curve(FULL, HOUSE)[-1])
    assert {one.rule for one in order_kept(replace(scene_with(FULL, plain), house=house))} == {"R16"}


# -------------------------------------------------------------------------------------------------- order of the parts


def read(group: Group, house: House) -> list[tuple[str, str]]:
    found = [group.pieces[n].piece for n in reading_order(group.pieces, house.layout.sides)]
    return list(dict.fromkeys((one.system, one.drive) for one in found))


def test_reading_order_by_hand() -> None:
    front = ("", "1/4")
    assert read(FULL, HOUSE) == [
        front, ("inch", "3/8"), ("inch", "1/4"), ("metric", "1/4"), ("metric", "3/8"),
    ]  # fmt: skip
    assert read(FULL, METRIC_LEFT) == [
        front, ("metric", "3/8"), ("metric", "1/4"), ("inch", "1/4"), ("inch", "3/8"),
    ]  # fmt: skip
    assert read(FULL, BOTH) == [
        front, ("metric", "1/4"), ("metric", "3/8"), ("inch", "3/8"), ("inch", "1/4"),
    ]  # fmt: skip


def test_parts_run_in_the_house_s_reading_order() -> None:
    sockets = replace(FULL, pieces=FULL.pieces[:-1])
    for house, first in ((HOUSE, "inch"), (METRIC_LEFT, "metric")):
        found = parts(sockets, lambda group: len(group.pieces) <= 6, house.layout.sides)
        assert found is not None
        assert {one.piece.system for one in found[0].pieces} == {first}


# -------------------------------------------------------------------------------------------------------- whole plans


def made_by(text: str, path: Path) -> House:
    path.write_text(text, encoding="utf-8")
    return read_house(path)


@pytest.mark.slow
def test_a_bundled_plan_is_the_same_but_for_its_sides(tmp_path: Path) -> None:
    house = made_by("[layout]\nleft = 'metric'\noutermost = 'smallest'\n", tmp_path / "house.toml")
    assert house.layout.sides == BOTH.layout.sides
    catalogue = read_catalogue(WORKSHOP)
    there, plain = (plan(catalogue, one, "Birch-134", "Glen-9") for one in (house, HOUSE))
    assert isinstance(there, Fits)
    assert verify(catalogue, house, there.plan) == ()
    assert "R16" in {one.rule for one in verify(catalogue, HOUSE, there.plan)}
    assert isinstance(plain, Fits)
    assert [goal.value for goal in there.goals[:3]] == [goal.value for goal in plain.goals[:3]]
    assert HALF["metric"] in plan_page(there)
    assert HALF["inch"] not in plan_page(there)
    assert plan_shown(plain)["part_words"]["half"] == HALF["inch"]
