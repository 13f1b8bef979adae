"""What a plan takes: every sum recomputed from its rows, minutes as a job has them, foam by area."""

from __future__ import annotations

from dataclasses import replace

import pytest

from matcher.cutting.amounts import Amounts, amounts
from matcher.planning.outcome import Fits
from matcher.records.units import PER_MM, mm
from tests.builders import HOUSE
from tests.cutting_cases import example, foam
from tests.test_base_cutting import BLACK, ON_BASE, YELLOW


def taken(*stock, **more) -> tuple[Amounts, Fits]:
    made = example(stock=stock, **more).outcome
    assert isinstance(made, Fits)
    return amounts(made), made


def test_one_of_three_organizers_is_cut_and_paid_for_by_its_area():
    found, _ = taken(foam(price=12.0))
    assert (found.organizers, [blank.group for blank in found.blanks]) == (3, ["group"])
    assert found.area == mm(300) * mm(200)
    assert found.cost == pytest.approx(12.0 * (300 * 200) / (1200 * 600)), "a twelfth of the sheet"
    assert not found.estimated


@pytest.mark.parametrize("stock", [(), (foam(price=12.0),), (foam(thickness=60),)])
def test_minutes_are_those_of_a_job(stock):
    found, _ = taken(*stock)
    job = example(stock=stock)
    assert found.minutes == pytest.approx(job.minutes)
    assert found.minutes == sum(blank.minutes for blank in found.blanks)


def test_of_two_sheets_both_are_paid_for():
    found, _ = taken(BLACK, YELLOW, laid=ON_BASE)
    share = (300 * 200) / (1200 * 600)
    assert found.blanks[0].foam == "black 20 on yellow 10"
    assert found.cost == pytest.approx((10.0 + 6.0) * share)
    assert found.minutes == pytest.approx(example(stock=(BLACK, YELLOW), laid=ON_BASE).minutes)


def test_the_thinnest_that_will_do_is_taken_and_of_these_the_cheapest_by_area():
    large = foam("large", 2400, 1200, price=40.0)
    small = foam("small", price=12.0)
    found, _ = taken(small, large, foam("thicker", thickness=40, price=1.0))
    assert found.blanks[0].foam == "large", "10.00 instead of 12.00 for 1200 x 600 mm"
    assert found.cost == pytest.approx(40.0 * (300 * 200) / (2400 * 1200))


@pytest.mark.parametrize("stock", [(), (foam(),), (foam(thickness=10, price=1.0),)])
def test_without_a_foam_that_will_do_or_its_price_no_cost_is_made_up(stock):
    found, _ = taken(*stock)
    assert found.cost is None
    assert found.area == mm(300) * mm(200)


def test_without_a_feed_there_are_no_minutes():
    _, made = taken()
    house = replace(HOUSE, cut=replace(HOUSE.cut, feed_mm_min=0.0))
    slow = replace(made, question=replace(made.question, house=house))
    assert amounts(slow).minutes is None


def test_pieces_that_nobody_measured_make_it_an_estimate():
    assert taken(basis="estimated")[0].estimated
    assert not taken(basis="measured")[0].estimated


def test_where_nothing_is_cut_it_costs_nothing():
    _, made = taken()
    kept = tuple(one for one in made.plan.placements if one.how != "new")
    found = amounts(replace(made, plan=replace(made.plan, placements=kept)))
    assert (found.organizers, found.blanks, found.area, found.cost, found.minutes) == (2, (), 0, 0, 0)
    assert not found.estimated


def test_an_area_is_in_units_of_its_lengths():
    assert taken()[0].area == 300 * 200 * PER_MM**2
