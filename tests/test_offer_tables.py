"""An offer and the steps of a comparison as DataFrames, through the names the package hands out."""

from dataclasses import replace

import matcher
from matcher import bundle_table, compare, limits_of, plan_offer, size_table, step_table, steps, trade_off_table
from matcher.offer.bundles import plans_of
from matcher.offer.deciding import offer
from matcher.offer.seconds import seconds_of
from matcher.records.given import Demand
from tests import builders
from tests.builders import HOUSE
from tests.test_offer_seconds import BLOCK, ONE, RULES, TWO

DEMAND = (Demand("set", "one", 100, 10), Demand("set", "two", 50, 10, offered="must"))
KNOWN = builders.catalogue([BLOCK], (), [ONE, TWO], group_rules=RULES, demand=DEMAND)


def test_one_call_does_what_the_stages_do():
    plans = plans_of(KNOWN, HOUSE)
    assert plan_offer(KNOWN, HOUSE) == offer(KNOWN, HOUSE, plans, limits_of(HOUSE), seconds_of(KNOWN, HOUSE, plans))


def test_tables_of_an_offer_add_up_to_its_gain():
    found = plan_offer(KNOWN, HOUSE)
    bundles, sizes, curve = bundle_table(found), size_table(found), trade_off_table(found)
    offered = bundles[bundles["action"].isin(["keep", "add"])]
    assert offered["brings"].sum() - sizes["setup_cost"].sum() == found.choice.gain / 100
    assert list(sizes["serves"]) == ["set in one: as is, set in two: as is"]
    assert curve["gain"].max() == found.choice.gain / 100
    assert list(bundles["plan"]) == ["first", "second"]


def test_a_table_of_steps_has_a_row_for_each_organizer():
    comparison = compare(replace(KNOWN, demand=()), HOUSE, "set")
    table = step_table(steps(comparison))
    assert list(table[["before", "after", "drawer_before", "drawer_after"]].iloc[0]) == ["one", "two", "1", "1"]


def test_every_name_handed_out_is_there():
    assert all(callable(getattr(matcher, name)) for name in matcher.__all__)
