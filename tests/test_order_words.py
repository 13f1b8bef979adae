"""Breaks of the order in sentences: groups that lie below the same others at once, and why where fits prove it."""

import re

from hypothesis import given
from hypothesis import strategies as st

from matcher.planning.answering import plan
from matcher.planning.order_words import _clusters
from matcher.planning.pins import parse_pin
from matcher.records.given import Wishes
from matcher.records.units import mm
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer


def order(boxes, made):
    found = plan(catalogue(organizers=made, cabinets=[cabinet(*boxes)]), HOUSE, "set", "cabinet")
    return next(goal for goal in found.goals if goal.name == "order")


def boxes(*heights):
    floors = [mm(1000 - 200 * row) for row in range(len(heights))]
    pairs = zip(heights, floors, strict=True)
    return [
        drawer(str(row), row=row, height=height, above_ground=floor) for row, (height, floor) in enumerate(pairs, 1)
    ]


def test_a_break_says_what_lies_below_what_and_that_the_row_above_is_too_low():
    """The first tier is 80 mm high and goes only into the lower drawer."""
    goal = order(boxes(45, 120), [organizer("sockets", height=80, tier=1), organizer("keys", height=30, tier=2)])
    assert goal.value == 1
    assert goal.contributions == (
        "1 break: sockets (drawer 2) lies below keys (drawer 1), because row 1 is 45.0 mm high",
    )


def test_groups_below_the_same_others_are_one_sentence():
    made = [organizer(name, width=270, height=80, tier=1, family="sockets") for name in ("a", "b", "c", "d")]
    made += [organizer(name, width=270, height=30, tier=2, family="keys") for name in ("e", "f")]
    goal = order(boxes(45, 120, 120), made)
    assert goal.value == 8
    (told,) = goal.contributions
    assert told.startswith("8 breaks: 4 groups (")
    assert told.endswith("lie below e and f (drawer 1), because row 1 is 45.0 mm high")
    assert all(re.search(rf"\b{name}\b", told) for name in "abcdef")


def test_no_cause_is_told_where_none_is_proved():
    """Both groups go into both drawers; a pin keeps the first tier in the lower one."""
    made = [organizer("sockets", height=30, tier=1), organizer("keys", height=30, tier=2)]
    known = catalogue(organizers=made, cabinets=[cabinet(*boxes(45, 120))])
    wishes = Wishes(pins=(parse_pin("sockets in drawer 2"), parse_pin("keys in drawer 1")))
    found = plan(known, HOUSE, "set", "cabinet", wishes=wishes)
    (told,) = next(goal for goal in found.goals if goal.name == "order").contributions
    assert told.startswith("1 break: sockets (drawer 2) lies below keys (drawer 1)")
    assert "because" not in told


@given(st.sets(st.tuples(st.integers(0, 4), st.integers(5, 9)), max_size=25))
def test_sentences_hold_every_break_once(pairs):
    """Counted by hand: the products of what is told together are the breaks, none twice."""
    told = [(low, up) for lower, upper in _clusters(pairs) for low in lower for up in upper]
    assert sorted(told) == sorted(pairs)
