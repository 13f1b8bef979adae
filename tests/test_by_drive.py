"""A group that falls into one for each drive or system: asked for, or by the column ``by``; and the checker's view."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from matcher.catalogue.reading import read_catalogue
from matcher.planning.answering import plan
from matcher.planning.grouping import groups_of
from matcher.planning.outcome import Fits
from matcher.planning.pins import parse_together
from matcher.planning.wishes import worked_in
from matcher.records.errors import CatalogueError, UnknownNameError, UsageError
from matcher.records.given import Catalogue, GroupRule, Pin, Relation, Wishes
from matcher.records.laid_out import Group
from matcher.screening.sweep import screen
from matcher.studies.comparison import compare
from matcher.verification.checker import verify
from matcher.verification.goals import recount
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.catalogue_files import folder as written

WORKSHOP = Path(__file__).resolve().parents[1] / "data" / "workshop"
SOCKETS, KEYS = GroupRule("sockets", "drive", 2), GroupRule("keys", "keys", 3)
BENCH = cabinet(*(drawer(str(row), row=row, width=400, depth=300) for row in (1, 2, 3, 4)), name="bench")


def known(*rules: GroupRule, **more) -> Catalogue:
    """Sockets of two drives in both systems, an adapter without a drive, and keys."""
    sockets = [
        piece(f"{drive} {system}", group="sockets", drive=drive, system=system)
        for drive in ("1/4", "1/2")
        for system in ("inch", "metric")
    ]
    rows = [*sockets, piece("adapter", group="sockets"), piece("key", group="keys")]
    cabinets = more.pop("cabinets", [BENCH])
    return catalogue(rows, cabinets=cabinets, group_rules=(*(rules or (SOCKETS,)), KEYS), **more)


def asked(given: Catalogue, **wishes) -> Fits:
    found = plan(given, HOUSE, "set", "bench", wishes=Wishes(**wishes))
    assert isinstance(found, Fits)
    assert verify(found.question.catalogue, HOUSE, found.plan) == ()
    counted = recount(found.question.catalogue, HOUSE, found.plan)
    assert {goal.name: goal.value for goal in found.goals if goal.name in counted}.items() <= counted.items()
    return found


def tools(groups: tuple[Group, ...]) -> dict[str, set[str]]:
    return {group.name: {one.piece.tool for one in group.pieces} for group in groups}


BY_DRIVE = {
    "1/2 sockets": {"1/2 inch", "1/2 metric"},
    "1/4 sockets": {"1/4 inch", "1/4 metric"},
    "sockets": {"adapter"},
    "keys": {"key"},
}


# -------------------------------------------------------------------------------------------------------------- groups


def test_each_drive_is_a_group_of_its_own_and_what_has_none_stays() -> None:
    assert tools(asked(known(), by_drive=("sockets",)).plan.groups) == BY_DRIVE


def test_each_system_too_and_both_at_once() -> None:
    assert set(tools(asked(known(), by_system=("sockets",)).plan.groups)) == {
        "inch sockets",
        "metric sockets",
        "sockets",
        "keys",
    }
    both = groups_of(worked_in(known(), HOUSE, "set", Wishes(by_drive=("sockets",), by_system=("sockets",)))[0], "set")
    assert {"1/2 inch sockets", "1/4 metric sockets", "sockets"} < set(tools(both))


def test_they_are_of_the_same_family_and_tier_and_share_and_split_alike() -> None:
    said = GroupRule("sockets", "", 5, share=False, split=False)
    found = {group.name: group for group in asked(known(said), by_drive=("sockets",)).plan.groups}
    for name in ("1/2 sockets", "1/4 sockets", "sockets"):
        one = found[name]
        assert (one.family, one.tier, one.share, one.split) == ("sockets", 5, False, False)


def test_a_row_of_its_own_stands_before_that_of_the_whole_group() -> None:
    own = GroupRule("1/2 sockets", "large", 1)
    found = {group.name: group for group in asked(known(SOCKETS, own), by_drive=("sockets",)).plan.groups}
    assert [(found[name].family, found[name].tier) for name in ("1/2 sockets", "1/4 sockets")] == [
        ("large", 1),
        ("drive", 2),
    ]
    ordered = asked(known(), by_drive=("sockets",), tiers=("1/4 sockets",))
    assert {group.name: group.tier for group in ordered.plan.groups}["1/4 sockets"] == 1


def test_the_column_says_the_same_as_the_option() -> None:
    told = asked(known(replace(SOCKETS, by=("drive",))))
    assert told.plan == asked(known(), by_drive=("sockets",)).plan
    (pair,) = screen(known(replace(SOCKETS, by=("drive",))), HOUSE)
    assert pair.verdict == "fits"


def test_the_catalogues_own_row_stands_before_that_of_the_house() -> None:
    house = GroupRule("sockets", "drive", 2, by=("system",), house=True)
    assert tools(groups_of(known(replace(SOCKETS, by=("drive",)), house), "set")) == BY_DRIVE


def test_pins_and_relations_about_the_whole_group_mean_each() -> None:
    """The two drives and the adapter stand in rows 1 to 3 in some order; the keys want to be near each of them."""
    rows = known(relations=(Relation("keys", "sockets", "near"),))
    found = asked(rows, by_drive=("sockets",), pins=(Pin("not in", group="sockets", row=4),))
    where = {placed.group: placed.drawer for placed in found.plan.placements}
    assert where["keys"] == "4"
    (neighbors,) = (goal for goal in found.goals if goal.name == "neighbors")
    assert neighbors.value == 1 + 2 + 3


def test_drives_may_be_joined_with_another_group_one_or_all() -> None:
    one = asked(known(), by_drive=("sockets",), pins=parse_together("1/4 sockets with keys"))
    assert "1/4 sockets with keys" in tools(one.plan.groups)
    every = asked(known(), by_drive=("sockets",), pins=parse_together("sockets with keys"))
    assert list(tools(every.plan.groups)) == ["1/2 sockets with 1/4 sockets with sockets with keys"]


def test_a_part_of_a_drive_keeps_its_name_and_rules() -> None:
    """Twelve bars of one drive in drawers that take eight each at most: two parts, each of the same group."""
    bars = [piece(f"bar {n}", length=280, width=40, group="bars", drive="1/2") for n in range(12)]
    given = catalogue(bars, cabinets=[BENCH], group_rules=(GroupRule("bars", "bars", 2),))
    found = asked(given, by_drive=("bars",))
    assert {group.part_of for group in found.plan.groups} == {"1/2 bars"}


def test_organizers_of_a_reference_carry_over_drive_by_drive() -> None:
    given = known(cabinets=[BENCH, replace(BENCH, name="twin")])
    found = compare(given, HOUSE, "set", reference="bench", wishes=Wishes(by_drive=("sockets",)))
    for variant in found.variants:
        assert isinstance(variant.outcome, Fits)
        assert {placed.group: placed.how for placed in variant.outcome.plan.placements}["1/2 sockets"] == "as is"


def test_the_checker_rejects_a_whole_group_where_each_drive_is_one_and_the_other_way_round() -> None:
    whole, apart = asked(known()), asked(known(), by_drive=("sockets",))
    told = known(replace(SOCKETS, by=("drive",)))
    assert {violation.rule for violation in verify(told, HOUSE, whole.plan)} == {"R1"}
    assert {violation.rule for violation in verify(known(), HOUSE, apart.plan)} == {"R1"}


# ------------------------------------------------------------------------------------------------------------- refused


@pytest.mark.parametrize(
    ("wishes", "error", "said"),
    [
        ({"by_drive": ("soket",)}, UnknownNameError, r"by drive: no group 'soket' in set \(nearest: sockets\)"),
        ({"by_system": ("pliers",)}, UsageError, "by system: pliers has a ready-made organizer, which stays whole"),
        ({"by_drive": ("keys",)}, UsageError, "by drive: no piece of keys has a drive"),
        ({"by_system": ("keys",)}, UsageError, "by system: no piece of keys has a system"),
    ],
)
def test_what_cannot_be_divided_so_is_refused_in_one_line(wishes, error, said) -> None:
    given = known(organizers=[organizer("pliers", width=200, depth=200)])
    with pytest.raises(error, match=said):
        plan(given, HOUSE, "set", "bench", wishes=Wishes(**wishes))


def test_a_group_with_a_ready_made_organizer_stays_whole_whatever_the_column_says() -> None:
    given = known(replace(SOCKETS, by=("drive",)), organizers=[organizer("sockets", width=300, depth=200)])
    assert set(tools(asked(given).plan.groups)) == {"sockets", "keys"}


def test_the_column_takes_drive_and_system_only(tmp_path) -> None:
    groups = "group,family,tier,by\nchrome sockets,chrome sockets,1,{}"
    read = read_catalogue(written(tmp_path / "a", groups=groups.format("system; drive")))
    assert [rule.by for rule in read.group_rules if rule.by] == [("system", "drive")]
    with pytest.raises(CatalogueError, match=r"groups.csv, row 2, column by: 'size': expected .*drive or system"):
        read_catalogue(written(tmp_path / "b", groups=groups.format("size")))


# ------------------------------------------------------------------------------------------------------------ commands


def test_the_command_takes_it_and_tells_it_in_the_run_record(run) -> None:
    code, out, _ = run("plan", WORKSHOP, "Birch-134", "Glen-9", "--by-drive", "chrome sockets", "--json")
    document = json.loads(out)
    assert code == 0
    assert {"1/4 chrome sockets", "3/8 chrome sockets"} <= {row["group"] for row in document["placements"]}
    assert document["run"]["wishes"]["by_drive"] == ["chrome sockets"]
    code, out, error = run("plan", WORKSHOP, "Birch-134", "Glen-9", "--by-drive", "chrome socket")
    assert (code, out) == (2, "")
    assert error.strip().endswith("(nearest: chrome sockets)")
