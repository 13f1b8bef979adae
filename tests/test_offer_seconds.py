"""Second plans: planned for real, as good before re-cutting, and sharing a size where the first plan does not."""

from itertools import product

from matcher.offer.bundles import bundles_of, plans_of
from matcher.offer.deciding import offer
from matcher.offer.decisions import limits_of
from matcher.offer.seconds import seconds_of
from matcher.records.given import Demand, GroupRule
from matcher.report.offer_documents import offer_document
from matcher.screening.crews import Crew
from matcher.screening.hands import gathered
from tests import builders
from tests.builders import HOUSE

RULES = (GroupRule("other tools", "other tools", 6, ("other",), house=True),)
BLOCK = builders.piece("block", length=400, width=200, height=30)


def _known(*cabinets, pieces=(BLOCK,)):
    demand = tuple(Demand("set", one.name, 100, 10) for one in cabinets)
    return builders.catalogue(pieces, (), cabinets, group_rules=RULES, demand=demand)


def _cabinet(name, *sizes):
    """Drawers side by side, so that neither order nor neighbors tell them apart."""
    return builders.cabinet(
        *(builders.drawer(f"{n}", bank=n, width=w, depth=d, cabinet=name) for n, (w, d) in enumerate(sizes, 1)),
        name=name,
    )


# The block of 400 x 200 mm lies across a drawer of 500 x 300 mm and along one of 300 x 440 mm: no size serves both.
ONE, TWO = _cabinet("one", (500, 300)), _cabinet("two", (300, 440), (500, 300))


def test_a_second_plan_moves_to_the_drawer_that_takes_the_shared_size():
    known = _known(ONE, TWO)
    plans = plans_of(known, HOUSE)
    assert [p.drawer for p in plans["set", "two"].plan.placements] == ["1"], "the smaller drawer is the snugger one"
    seconds = seconds_of(known, HOUSE, plans)
    assert list(seconds) == [("set", "two")]
    assert [p.drawer for p in seconds["set", "two"].plan.placements] == ["2"]
    first = offer(known, HOUSE, plans)
    found = offer(known, HOUSE, plans, seconds=seconds)
    assert (len(first.made), len(found.made)) == (2, 1)
    assert found.choice.gain == first.choice.gain + found.setup
    assert found.choice.proved


def test_a_second_plan_is_no_worse_in_the_goals_before_re_cutting():
    known = _known(ONE, TWO)
    plans = plans_of(known, HOUSE)
    for pair, second in seconds_of(known, HOUSE, plans).items():
        for goal, was in zip(second.goals, plans[pair].goals, strict=True):
            if goal.name in ("drawers", "order", "neighbors"):
                assert goal.value == was.value


def test_the_document_tells_how_to_get_a_second_plan():
    known = _known(ONE, TWO)
    plans = plans_of(known, HOUSE)
    document = offer_document(offer(known, HOUSE, plans, seconds=seconds_of(known, HOUSE, plans)))
    (row,) = [one for one in document["bundles"] if one["cabinet"] == "two"]
    assert row["plan"] == "second"
    assert row["moved"] == ["other tools in drawer 2, not 1"]
    assert row["drawers"] == ["other tools: 2"]
    assert {use["cabinet"] for use in document["sizes"][0]["serves"]} == {"one", "two"}


def test_where_all_is_shared_already_nothing_is_planned_again():
    known = _known(ONE, _cabinet("like it", (500, 300), (300, 440)), _cabinet("also", (500, 300)))
    plans = plans_of(known, HOUSE)
    told = []
    plans["set", "like it"] = plans["set", "one"]
    assert seconds_of(known, HOUSE, plans, told=lambda *step: told.append(step)) == {}
    assert told == [(0, 0, "")]


def test_of_two_plans_of_a_pair_one_is_offered_and_its_units_count_once():
    known = _known(ONE, TWO)
    plans = plans_of(known, HOUSE)
    seconds = seconds_of(known, HOUSE, plans)
    assert len(bundles_of(known, plans, seconds)) == 3
    for most, bundles in product(range(3), (None, 1, 2)):
        found = offer(known, HOUSE, plans, limits_of(HOUSE, most, bundles=bundles), seconds)
        offered = [one for one in found.decisions if one.action == "add"]
        assert len(found.decisions) == 2
        assert len(offered) == len(found.choice.bundles)
        assert found.totals.brings == 100_000 * len(offered)
        assert found.totals.unit_share == len(offered) / 2


def test_the_work_can_be_done_by_other_processes():
    known = _known(ONE, TWO)
    plans = plans_of(known, HOUSE)
    with gathered(Crew(2)) as hands:
        assert plans_of(known, HOUSE, hands=hands) == plans
        assert seconds_of(known, HOUSE, plans, hands=hands) == seconds_of(known, HOUSE, plans)
