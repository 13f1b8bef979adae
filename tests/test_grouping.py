"""Which tools share an organizer."""

import pytest

from matcher.planning.grouping import groups_of, sets_of
from matcher.records.errors import UnknownNameError
from matcher.records.given import GroupRule
from tests.builders import catalogue, organizer, piece

RULES = (
    GroupRule("metric wrenches", "wrenches", 4, ("combination wrench",), "metric", True, True, house=True),
    GroupRule("inch wrenches", "wrenches", 5, ("combination wrench",), "inch", True, True, house=True),
    GroupRule("other tools", "other tools", 6, ("other",), house=True),
    GroupRule("cased equipment", "cased equipment", 7, ("cased",), house=True),
)


def _groups(*pieces, organizers=(), rules=RULES, name="set"):
    return {group.name: group for group in groups_of(catalogue(pieces, organizers, group_rules=rules), name)}


def test_kind_and_system_choose_the_group():
    metric = piece("m", kind="combination wrench", system="metric", size="13")
    inch = piece("i", kind="combination wrench", system="inch", size="1/2")
    found = _groups(metric, inch)
    assert {name: (group.tier, group.system) for name, group in found.items()} == {
        "metric wrenches": (4, "metric"),
        "inch wrenches": (5, "inch"),
    }


def test_each_case_is_a_group_of_its_own_unless_named():
    loose = piece("tap case", kind="cased"), piece("die case", kind="cased")
    assert {name: group.family for name, group in _groups(*loose).items()} == {
        "tap case": "cased equipment",
        "die case": "cased equipment",
    }
    together = [piece(tool, kind="cased", group="thread cases") for tool in ("tap case", "die case")]
    assert list(_groups(*together)) == ["thread cases"]


def test_the_catalogues_own_row_wins_over_an_organizer_and_an_organizer_over_the_house():
    ready = organizer("metric wrenches", family="own family", tier=2)
    assert _groups(organizers=[ready])["metric wrenches"].tier == 2
    own = (GroupRule("metric wrenches", "told", 9), *RULES[1:])
    assert _groups(organizers=[ready], rules=own)["metric wrenches"].tier == 9


def test_an_unknown_group_joins_the_other_tools_tier():
    assert _groups(organizers=[organizer("odd ends")])["odd ends"].tier == 6


def test_two_sets_are_planned_together_with_their_own_ready_made_organizers():
    pieces = [piece("a", set="one"), piece("b", set="two")]
    ready = [organizer("tray", set_name="one"), organizer("tray", set_name="two")]
    found = _groups(*pieces, organizers=ready, name="one+two")
    assert [p.piece.tool for p in found["other tools"].pieces] == ["a", "b"]
    assert {"tray (one)", "tray (two)"} <= set(found)


def test_masses_and_uses_add_up_over_counts():
    group = _groups(piece("a", mass=2, count=3, use=1.5), piece("b", mass=1, use=2.0))["other tools"]
    assert group.mass_low == group.mass_high == 7 * 100_000_000
    assert group.use == 6.5


def test_unknown_sets_are_named_with_those_that_exist():
    known = catalogue([piece()])
    assert sets_of(known) == ("set",)
    with pytest.raises(UnknownNameError, match="it has: set"):
        groups_of(known, "sett")
