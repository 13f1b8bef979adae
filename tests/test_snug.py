"""Of plans equal in all goals the one is taken in which small groups lie in small drawers."""

import pytest

from matcher.planning.answering import plan
from matcher.planning.outcome import Fits
from matcher.records.given import Relation
from tests.builders import HOUSE, cabinet, catalogue, drawer, piece

FEW = [piece(f"small {n}", 40, 20, 20, group="a few") for n in range(3)]
MANY = [piece(f"large {n}", 90, 60, 20, group="many") for n in range(12)]


def places(boxes, pieces=(*FEW, *MANY), **more):
    outcome = plan(catalogue(pieces, (), [cabinet(*boxes)], **more), HOUSE, "set", "cabinet")
    assert isinstance(outcome, Fits)
    assert all(goal.proved for goal in outcome.goals)
    return {placement.group: placement.drawer for placement in outcome.plan.placements}


@pytest.mark.parametrize("low", ["1", "2"])
def test_a_handful_of_small_pieces_lies_in_the_lower_of_two_drawers(low):
    """Side by side in one row, 60 and 120 mm high: every goal is equal, whichever group lies where."""
    boxes = [drawer(str(n), bank=n, height=60 if str(n) == low else 120) for n in (1, 2)]
    assert places(boxes)["a few"] == low


@pytest.mark.parametrize("free", ["1", "2", "3"])
def test_the_largest_of_equal_drawers_stays_free(free):
    """Three drawers in one row, one of them twice as high: it is the buyer's."""
    boxes = [drawer(str(n), bank=n, height=120 if str(n) == free else 60) for n in (1, 2, 3)]
    assert free not in places(boxes).values()


def test_a_goal_comes_before():
    """'a few' should lie left of 'many', and there the higher drawer is."""
    boxes = [drawer("1", bank=1, height=120), drawer("2", bank=2, height=60)]
    wish = (Relation("a few", "many", "left_of", 1),)
    assert places(boxes, relations=wish)["a few"] == "1"


def test_equal_drawers_are_still_taken_from_the_first():
    boxes = [drawer(str(n), bank=n) for n in (1, 2, 3)]
    assert places(boxes) == {"a few": "1", "many": "2"}
