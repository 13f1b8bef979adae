"""How much a free drawer may hold: against the independent sum of moments, by hand and by search."""

from dataclasses import replace
from math import floor

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.cautions.free_loads import FreeLoad, free_load_words, free_loads_of
from matcher.records.answered import FreeDrawer
from matcher.records.length_units import LengthUnit
from matcher.records.units import kg, lb, to_kg
from matcher.report.document import plan_document
from tests.builders import fits, question
from tests.test_cautions import CONTENTS, HOUSE, cabinet, inch, of_drawers, plan

NEWTONS, METERS_AN_INCH, POUND = 9.80665, 0.0254, 0.45359237


def moment_left(loads, opened, push=0.0):
    """Restoring moment in N m about the front contact line, of pounds in the eight drawers from the top.

    Closed drawers lie 9 in behind the line, an open one 11 in in front of it, where its front is 22 in away; the case
    weighs 180 lb at 10 in, each drawer 12 lb. Written out anew: nothing here is of the package.
    """
    pounds_inches = 180 * 10 + sum((12 + load) * (9 if row != opened else -11) for row, load in enumerate(loads))
    return pounds_inches * POUND * NEWTONS * METERS_AN_INCH - push * 22 * METERS_AN_INCH


def most_of(contents, name="1", found=None, house=HOUSE):
    by_name = {one.drawer: one.most for one in free_loads_of(found or cabinet(), plan(contents), house)}
    return by_name[name]


def test_by_hand_one_free_drawer():
    """Others empty at worst: 1800 + 84 x 9 - 12 x 11 = 2424 lb.in; 222 N at 22 in takes 1098; 1326 / 11 = 120.5 lb."""
    most = most_of((0, *CONTENTS[1:]))
    pounds = (2424 - HOUSE.tip.push_n / 4.4482216152605 * 22) / 11
    assert to_kg(most) == pytest.approx(pounds * POUND, abs=2e-3)  # centers lie on a grid of 1/320 mm


@given(st.lists(st.integers(0, 90), min_size=8, max_size=8).filter(lambda contents: 0 in contents))
@settings(deadline=None, max_examples=60)
def test_at_its_figure_it_stands_the_push_and_a_little_more_does_not(contents):
    """Whatever lies in the others, from nothing to their plan or rating; the rating is so high that it is no limit."""
    found = of_drawers(cabinet(), load_rating=lb(5000))
    for one in free_loads_of(found, plan(contents), HOUSE):
        row, held = int(one.drawer) - 1, to_kg(one.most) / POUND
        others = ([0] * 8, list(contents), [load or 5000 for load in contents])
        for loads in others:
            assert moment_left([*loads[:row], held, *loads[row + 1 :]], row, HOUSE.tip.push_n) >= -1e-6
        more = [0] * 8
        more[row] = held + 0.01
        assert moment_left(more, row, HOUSE.tip.push_n) < 0


def test_never_more_than_its_rating_and_of_moving_mass_without_the_drawer():
    free = (0, *CONTENTS[1:])
    assert most_of(free, found=of_drawers(cabinet(), load_rating=lb(50))) == lb(50)
    moving = of_drawers(cabinet(), load_rating=lb(50), rating_basis="moving mass")
    assert most_of(free, found=moving) == lb(50) - lb(12)


def test_nothing_where_it_tips_anyway_and_not_known_where_data_are_missing():
    light = cabinet(cg_depth=inch(2))
    assert most_of((0, *CONTENTS[1:]), found=light) == 0
    assert most_of((0, *CONTENTS[1:]), found=cabinet(mass=None)) is None


def test_an_assumed_center_of_gravity_is_taken_further_forward():
    free = (0, *CONTENTS[1:])
    assumed = most_of(free, found=cabinet(cg_depth=None))
    given_there = most_of(free, found=cabinet(cg_depth=inch(12)))
    assert assumed < given_there


def test_in_words_alike_drawers_together_rounded_down():
    loads = (FreeLoad("A7", kg(12.9)), FreeLoad("B6", kg(0.9)), FreeLoad("B7", kg(12.2)), FreeLoad("C1", None))
    told = free_load_words(loads, LengthUnit("mm"))
    assert told == ("at most 12 kg each in drawers A7 and B7", "nothing in drawer B6")
    (pounds,) = free_load_words(loads[:1], LengthUnit("in"))
    assert pounds == "at most 28 lb in drawer A7"  # 28.4
    assert free_load_words((replace(loads[0], most=None),), LengthUnit("mm")) == ()


def test_a_document_tells_it_rounded_down_to_a_tenth_of_a_kilogram():
    held, free = plan((0, *CONTENTS[1:])), FreeDrawer("1", 1, 1, 1, "foam", None, None, "small", "")
    outcome = replace(fits(question(cabinet(), house=HOUSE), ()), plan=held, free=(free,))
    (told,) = plan_document(outcome)["free"]
    assert told["most_before_tipping_kg"] == floor(10 * to_kg(most_of((0, *CONTENTS[1:])))) / 10
