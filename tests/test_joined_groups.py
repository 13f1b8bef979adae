"""One organizer for several groups: pins ``together``, asked for or in the table, and the checker that holds plans to
them.

Two drawers for foam of 400 x 300 mm, one above the other, and blocks of 100 x 40 mm: many go into each drawer.
"""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from matcher.planning.answering import plan
from matcher.planning.grouping import groups_of
from matcher.planning.joining import joined
from matcher.planning.outcome import DoesNotFit, Fits
from matcher.planning.pins import parse_pin, parse_together, pin_words
from matcher.records.errors import UnknownNameError, UsageError
from matcher.records.given import Catalogue, GroupRule, Pin, Relation
from matcher.records.units import kg
from matcher.screening.sweep import screen
from matcher.studies.comparison import compare
from matcher.verification.checker import verify
from matcher.verification.goals import recount
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.catalogue_files import folder as written

RULES = (GroupRule("keys", "drive", 2), GroupRule("bits", "bits", 3), GroupRule("files", "striking", 6))
BENCH = cabinet(
    drawer("top", row=1, width=400, depth=300),
    drawer("middle", row=2, width=400, depth=300),
    drawer("bottom", row=3, width=400, depth=300),
    name="bench",
)
WORKSHOP = Path(__file__).resolve().parents[1] / "data" / "workshop"
BITS_WITH_KEYS = Pin("together", group="bits", other="keys")


def known(*pins: Pin, **more) -> Catalogue:
    """Three groups of two blocks each, and whatever else is given."""
    rows = [piece(f"{name} {n}", group=name, count=2) for name in ("keys", "bits", "files") for n in (1, 2)]
    rules = more.pop("group_rules", RULES)
    return catalogue([*rows, *more.pop("pieces", ())], cabinets=[BENCH], group_rules=rules, pins=pins, **more)


def planned(given: Catalogue, *pins: Pin, cabinet_name: str = "bench") -> Fits:
    found = plan(given, HOUSE, "set", cabinet_name, pins=pins)
    assert isinstance(found, Fits)
    return found


def drawers(outcome: Fits) -> dict[str, str]:
    return {placed.group: placed.drawer for placed in outcome.plan.placements}


# ------------------------------------------------------------------------------------------------------------- planned


def test_two_groups_make_one_organizer_with_all_their_pieces() -> None:
    """Apart they take a drawer each; together one drawer is free, and one blank has a pocket for each of 8 tools."""
    apart, found = planned(known()), planned(known(), BITS_WITH_KEYS)
    assert (len(apart.plan.free_drawers), len(found.plan.free_drawers)) == (0, 1)
    (made,) = (placed for placed in found.plan.placements if placed.group == "keys with bits")
    assert made.layout is not None
    assert len(made.layout.pockets) == 8
    assert [group.name for group in found.plan.groups] == ["keys with bits", "files"]


def test_the_group_made_is_of_the_earlier_tier_and_heavy_as_both() -> None:
    given = known(group_rules=(*RULES[:1], GroupRule("bits", "bits", 3, share=False), *RULES[2:]))
    one = next(group for group in joined(groups_of(given, "set"), (BITS_WITH_KEYS,)) if group.also)
    apart = {group.name: group for group in groups_of(given, "set")}
    assert (one.name, one.family, one.tier) == ("keys with bits", "drive", 2)
    assert (one.share, one.split) == (False, False), "shared only if both may be; never divided"
    assert one.mass_high == apart["keys"].mass_high + apart["bits"].mass_high


def test_whichever_is_named_first_the_plan_is_the_same() -> None:
    turned = Pin("together", group="keys", other="bits")
    assert planned(known(), BITS_WITH_KEYS).plan == planned(known(), turned).plan == planned(known(turned)).plan


def test_a_chain_makes_one() -> None:
    found = planned(known(), *parse_together("files with bits with keys"))
    assert list(drawers(found)) == ["keys with bits with files"]


def test_pins_about_one_of_them_mean_both() -> None:
    found = planned(known(), BITS_WITH_KEYS, Pin("in", group="bits", row=3), Pin("not in", group="keys", row=1))
    assert drawers(found) == {"keys with bits": "bottom", "files": "top"}
    assert drawers(planned(known(), BITS_WITH_KEYS, Pin("apart", group="keys", other="files")))


def test_relations_to_one_of_them_count_for_both_and_those_between_them_for_nothing() -> None:
    """Of three groups in one column; the files lie one row below, which each of two wishes to be near them costs 1."""
    wishes = (
        Relation("keys", "bits", "below", 9),
        Relation("files", "keys", "near"),
        Relation("bits", "files", "near"),
    )
    found = planned(known(relations=wishes), BITS_WITH_KEYS)
    (neighbors,) = (goal for goal in found.goals if goal.name == "neighbors")
    assert (neighbors.value, neighbors.proved) == (2, True)


def test_of_two_cases_one_organizer_may_be_made() -> None:
    cases = [piece(f"case {n}", kind="cased", length=150, width=100) for n in (1, 2)]
    given = replace(known(pieces=cases), cabinets=(cabinet(*BENCH.drawers, drawer("case", row=4, slot="no foam")),))
    found = plan(given, HOUSE, "set", "cabinet", pins=(Pin("together", group="case 1", other="case 2"),))
    assert isinstance(found, Fits)
    assert drawers(found)["case 1 with case 2"] == "case"


def test_a_pin_of_one_cabinet_or_about_what_a_set_does_not_have_leaves_the_others_alone() -> None:
    only_here = replace(BITS_WITH_KEYS, cabinet="bench")
    two = replace(known(only_here), cabinets=(BENCH, replace(BENCH, name="twin")))
    found = {variant.outcome.cabinet: variant.outcome for variant in compare(two, HOUSE, "set").variants}
    assert {name: len(one.plan.groups) for name, one in found.items() if isinstance(one, Fits)} == {
        "bench": 2,
        "twin": 3,
    }
    strange = Pin("together", group="keys", other="pliers")
    assert planned(known(strange)).plan == planned(known()).plan


# ------------------------------------------------------------------------------------------------------------- checked


def rules_broken(given: Catalogue, made: Fits) -> set[str]:
    return {violation.rule for violation in verify(given, HOUSE, made.plan)}


def test_the_checker_takes_the_plan_and_counts_its_goals_alike() -> None:
    found = planned(known(BITS_WITH_KEYS, relations=(Relation("files", "keys", "near"),)))
    assert rules_broken(found.question.catalogue, found) == set()
    counted = recount(found.question.catalogue, HOUSE, found.plan)
    assert {goal.name: goal.value for goal in found.goals if goal.name in counted} == counted


def test_the_checker_rejects_the_two_in_drawers_of_their_own() -> None:
    assert rules_broken(known(BITS_WITH_KEYS), planned(known())) == {"R11"}


def test_the_checker_rejects_the_two_side_by_side_in_one_drawer() -> None:
    """They are in one drawer, but two blanks."""
    beside = [Pin("in", group=name, drawer="middle") for name in ("keys", "bits")]
    found = planned(known(), *beside)
    assert drawers(found)["keys"] == drawers(found)["bits"] == "middle"
    broken = verify(known(BITS_WITH_KEYS), HOUSE, found.plan)
    assert [violation.rule for violation in broken] == ["R11"]
    assert "wished: bits together with keys, in one organizer" in broken[0].text


def test_the_checker_rejects_one_organizer_that_nobody_wished_for() -> None:
    assert rules_broken(known(), planned(known(BITS_WITH_KEYS))) == {"R1"}


def test_the_checker_rejects_another_family_or_tier_and_a_neighbor_where_one_of_them_may_not_share() -> None:
    """A plan that was made where bits may share, checked where they may not; only its own word on sharing differs."""
    found = planned(known(BITS_WITH_KEYS, Pin("in", row=1, group="keys"), Pin("in", row=1, group="files")))
    alone = (*RULES[:1], GroupRule("bits", "bits", 3, share=False), *RULES[2:])
    assert rules_broken(known(BITS_WITH_KEYS, group_rules=alone), found) == {"R7"}


def test_the_checker_rejects_pieces_of_a_third_group_among_them() -> None:
    found = planned(known(*parse_together("keys with bits with files")))
    assert rules_broken(known(BITS_WITH_KEYS), found) == {"R1"}


def test_the_checker_looks_for_pins_about_one_of_them_in_what_was_made_of_both() -> None:
    found = planned(known(BITS_WITH_KEYS))
    elsewhere = next(name for name in ("top", "bottom") if name != drawers(found)["keys with bits"])
    assert rules_broken(known(BITS_WITH_KEYS, Pin("in", group="bits", drawer=elsewhere)), found) == {"R11"}


# ------------------------------------------------------------------------------------------------------------- refused


def refusal(given: Catalogue, *pins: Pin) -> str:
    with pytest.raises(UsageError) as told:
        plan(given, HOUSE, "set", "bench", pins=pins)
    assert "\n" not in str(told.value)
    return str(told.value)


def test_together_and_apart_contradict_each_other() -> None:
    told = refusal(known(), BITS_WITH_KEYS, Pin("apart", group="keys", other="bits"))
    assert told == "pin 'bits together with keys': contradicts the pin 'keys apart from bits'"
    chain = refusal(known(Pin("apart", group="keys", other="files")), *parse_together("keys with bits with files"))
    assert chain.endswith("contradicts the pin 'keys apart from files'")


def test_a_case_and_foam_make_no_organizer() -> None:
    case = piece("drill case", kind="cased")
    told = refusal(known(pieces=[case]), Pin("together", group="keys", other="drill case"))
    assert "pin 'keys together with drill case': drill case come in a case" in told


def test_a_ready_made_organizer_without_pieces_cannot_be_cut_anew() -> None:
    ready = organizer("pliers", width=200, depth=200)
    told = refusal(known(organizers=[ready]), Pin("together", group="keys", other="pliers"))
    assert "of pliers only a ready-made organizer is in the catalogue" in told


def test_a_ready_made_organizer_with_pieces_is_cut_anew() -> None:
    found = planned(known(organizers=[organizer("keys", width=200, depth=200)]), BITS_WITH_KEYS)
    (made,) = (placed for placed in found.plan.placements if placed.group == "keys with bits")
    assert made.how == "new"
    assert rules_broken(found.question.catalogue, found) == set()


@pytest.mark.parametrize(
    ("pin", "error", "said"),
    [
        (Pin("together", group="keys", other="kees"), UnknownNameError, "no group 'kees'"),
        (Pin("together", group="keys", other="keys"), UsageError, "expected two groups"),
    ],
)
def test_groups_that_are_not_there_or_one_twice(pin, error, said) -> None:
    with pytest.raises(error, match=said):
        plan(known(), HOUSE, "set", "bench", pins=(pin,))


def test_a_place_that_only_one_of_them_may_have_names_the_pin_that_joins_them() -> None:
    pins = (BITS_WITH_KEYS, Pin("in", group="keys", row=1), Pin("in", group="bits", row=2))
    found = plan(known(), HOUSE, "set", "bench", pins=pins)
    assert isinstance(found, DoesNotFit)
    (reason,) = found.reasons
    assert reason.code == "pins"
    assert reason.text.endswith("keys in row 1; bits in row 2; bits together with keys")
    assert "the pin lifted: " in found.change


def test_what_goes_in_apart_and_not_together_says_which_pin_to_lift() -> None:
    """Each group weighs 6 kg, each drawer is rated 10 kg: 2 kg too heavy together."""
    bars = [piece(f"bar {n}", mass=6, group=f"bars {n}") for n in (1, 2)]
    low = cabinet(drawer("a", load_rating=kg(10)), drawer("b", row=2, load_rating=kg(10)), name="low")
    given = catalogue(bars, cabinets=[low])
    assert plan(given, HOUSE, "set", "low").verdict == "fits"
    found = plan(given, HOUSE, "set", "low", pins=(Pin("together", group="bars 1", other="bars 2"),))
    assert isinstance(found, DoesNotFit)
    assert "the pin 'bars 1 together with bars 2'" in found.reasons[0].text
    assert "split = no" not in found.reasons[0].text
    assert "the pin lifted: bars 1 together with bars 2" in found.change


# --------------------------------------------------------------------------------------------- words, tables, commands


def test_words_are_read_back() -> None:
    assert parse_together(" bits  with keys ") == (BITS_WITH_KEYS,)
    assert parse_pin(pin_words(BITS_WITH_KEYS)) == BITS_WITH_KEYS


@pytest.mark.parametrize("words", ["", "keys", "keys with", "with keys", "keys and bits"])
def test_other_words_are_refused_with_what_was_expected(words) -> None:
    with pytest.raises(UsageError, match="expected groups for one organizer: GROUP with GROUP"):
        parse_together(words)


def test_screening_says_what_a_plan_says() -> None:
    void = Pin("together", group="keys", other="pliers")
    for given in (known(BITS_WITH_KEYS), known(replace(BITS_WITH_KEYS, cabinet="elsewhere")), known(void), known()):
        found = plan(given, HOUSE, "set", "bench")
        (pair,) = screen(given, HOUSE)
        assert pair.verdict == found.verdict
        assert pair.decided_by == ("model" if given.pins == (BITS_WITH_KEYS,) else "matching")
        assert pair.figures is not None
        assert isinstance(found, Fits)
        assert (pair.figures.fewest_free, pair.figures.most_free) == (found.fewest_free, found.most_free)


def test_a_row_of_the_table_needs_two_groups_and_no_place(run, tmp_path) -> None:
    bad = written(tmp_path, pins="rule,group,other,row\ntogether,drive tools,,1")
    code, _, error = run("check", bad)
    assert code == 2
    assert "a other, which the rule 'together' needs" in error
    assert "a blank cell: the rule 'together' is about group and other" in error


def test_the_command_asks_for_it_and_its_run_record_can_be_asked_again(run) -> None:
    asked = ("plan", WORKSHOP, "Birch-134", "Glen-9", "--together", "hex keys with screwdrivers", "--json")
    code, out, _ = run(*asked)
    document = json.loads(out)
    name = "hex keys with screwdrivers"
    names = sorted(row["group"] for row in document["placements"])
    assert code == 0
    assert [one for one in names if "keys" in one or "screw" in one] == [name]
    (pin,) = document["run"]["wishes"]["pins"]
    assert pin == "hex keys together with screwdrivers"
    assert run("plan", WORKSHOP, "Birch-134", "Glen-9", "--pin", pin, "--json")[1] == out


def test_cut_files_and_guide_have_the_one_blank(run, tmp_path) -> None:
    asked = ("Birch-134", "Glen-9", "--together", "hex keys with screwdrivers")
    code, out, _ = run("cut", WORKSHOP, *asked, "--allow-estimates", "--json")
    blanks = [row["group"] for row in json.loads(out)["blanks"]]
    assert code == 0
    assert [name for name in blanks if "keys" in name] == ["hex keys with screwdrivers"]
    assert run("plan", WORKSHOP, *asked, "--out", tmp_path / "guide.pdf", "--out", tmp_path / "plan.html")[0] == 0
    assert "hex keys with screwdrivers" in (tmp_path / "plan.html").read_text(encoding="utf-8")
