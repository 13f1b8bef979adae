"""Goals in words, and that what is told to make up a goal adds up to its value."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matcher.assignment.goals import recut_parts
from matcher.planning.answering import plan
from matcher.planning.differences import Snapshot, differences
from matcher.planning.goal_words import in_words
from matcher.records.given import Relation
from matcher.records.units import mm
from matcher.report.document import plan_document
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer

PARTS = st.tuples(st.integers(0, 400), st.integers(0, 64 * 2 * mm(10_000)))
"""Work of up to 100 groups at 4 each; gaps of up to 64 groups on two axes of 10 m."""


@given(PARTS, PARTS)
def test_the_value_of_recut_sorts_as_its_two_numbers_do(one: tuple[int, int], other: tuple[int, int]) -> None:
    """Work decides whatever the gaps are: value and bound stay whole numbers without a weight between them."""
    values = [10**9 * work + gap for work, gap in (one, other)]
    assert [recut_parts(value) for value in values] == [one, other]
    assert (values[0] < values[1]) == (one < other)


def test_values_in_words() -> None:
    assert in_words("recut", 3 * 10**9 + mm(36.1), "spread") == "3 steps of work, gaps 36.1 mm"
    assert in_words("drawers", 2, "spread") == "2 drawers free"
    assert in_words("drawers", 2, "pack") == "2 drawers used"
    assert in_words("order", 1, "pack") == "1 break of order"
    assert in_words("neighbors", 5, "pack") == "5 weighted steps apart"
    assert in_words("reach", 1400, "pack") == "1.4 uses a week off the best height"


def test_differences_tell_goals_in_words() -> None:
    before, after = (Snapshot("set", "cabinet", goals=(("recut", value),)) for value in (10**9, mm(5)))
    assert differences(before, after) == (
        "goal recut: 1 step of work, gaps 0.0 mm before; 0 steps of work, gaps 5.0 mm now",
    )


def test_work_and_gaps_told_make_up_the_value() -> None:
    """Drawers of 560 and 500 mm for organizers of 500 and 520: with 1.6 mm on each side the first leaves 56.8 mm (shim,
    1 of work), the second has to be trimmed (2). Both leave 400 - 380 - 3.2 = 16.8 mm along (shim, 1)."""
    made = [
        organizer("a", width=500, tier=1, family="a"),
        organizer("b", width=520, tier=2, family="b", field_width=mm(400)),
    ]
    boxes = cabinet(drawer("1", row=1, width=560), drawer("2", row=2, width=500, height=70))
    document = plan_document(plan(catalogue((), made, [boxes]), HOUSE, "set", "cabinet"))
    (recut,) = (goal for goal in document["goals"] if goal["name"] == "recut")
    work = [int(found[1]) for told in recut["contributions"] if (found := re.search(r"(\d) steps? of work", told))]
    assert recut["value"] == 10**9 * sum(work) + mm(56.8 + 16.8 + 16.8)
    assert recut["value_text"] == recut["bound_text"] == "3 steps of work, gaps 90.4 mm"
    assert "90.4 mm of gaps" in recut["contributions"][-1]


def test_work_is_told_as_the_organizers_are_placed() -> None:
    """Two organizers half as wide as the drawer fill it together: both lie as they are. The goal counts each as if it
    had the drawer alone, where half of it were left: a shim. What is trimmed to lie beside another is told so too."""
    room = mm(560) - 2 * HOUSE.clearance.side
    deep = mm(400) - 2 * HOUSE.clearance.side
    for width, field, placed in ((room // 2, None, "as is"), (mm(320), mm(200), "trim")):
        made = [replace(organizer(name, family="f"), width=width, depth=deep, field_width=field) for name in "ab"]
        outcome = plan(catalogue((), made, [cabinet(drawer("1"))]), HOUSE, "set", "cabinet")
        assert placed in {placement.how for placement in outcome.plan.placements}
        (recut,) = (goal for goal in outcome.goals if goal.name == "recut")
        hows = {placement.group: placement.how for placement in outcome.plan.placements}
        told = dict(text.split(" in drawer 1: ") for text in recut.contributions if " of work on" in text)
        assert told.keys() == {"a", "b"}
        for group, other in ("ab", "ba"):
            alone = "shim, 1 step of work on the foam"
            beside = f"{hows[group]} beside {other}, counted as if alone there: {alone}"
            assert told[group] == (alone if hows[group] == "shim" else beside)


@pytest.mark.parametrize(
    ("wish", "places", "told"),
    [
        (
            "near",
            ((1, 3), (3, 1)),
            "near b (drawer 2) but lie 2 rows below, 2 banks to the left: 4 x weight 3",
        ),
        ("beside", ((3, 1), (1, 1)), "but lie in the same row, 2 banks to the right: 1 x weight 3"),
        ("below", ((1, 1), (1, 2)), "should be right below b (drawer 2) but lie 1 row above: 2 x weight 3"),
        (
            "left_of",
            ((2, 1), (1, 1)),
            "left of b (drawer 2) but lie in the same row, 1 bank to the right: 1 x",
        ),
    ],
)
def test_what_is_too_far_is_told_by_rows_and_banks(wish, places, told) -> None:
    """By height `b` goes only into the second drawer; costs by the wishes' definitions."""
    boxes = [drawer("1", *places[0], height=60), drawer("2", *places[1], height=90)]
    made = [organizer("a", height=50, tier=1, family="a"), organizer("b", height=80, tier=1, family="b")]
    known = catalogue((), made, [cabinet(*boxes)], relations=(Relation("a", "b", wish, 3),))
    goal = next(goal for goal in plan(known, HOUSE, "set", "cabinet").goals if goal.name == "neighbors")
    (text,) = goal.contributions
    assert text.startswith("a (drawer 1) should be ")
    assert told in text
