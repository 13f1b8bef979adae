"""Plans kept: nothing changes without need, whatever they divide, mix or share; what no longer goes in is named."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.kept import read_kept
from matcher.catalogue.reading import read_catalogue
from matcher.planning.answering import plan
from matcher.planning.differences import sentences, snapshot, summary
from matcher.planning.outcome import Fits, Outcome
from matcher.planning.stranded import stranded, stranded_words
from matcher.records.given import Catalogue, GroupRule, KeptOrganizer, Measurement, Snapshot, Wishes
from matcher.records.length_units import LengthUnit
from matcher.records.units import mm
from matcher.report.document import plan_document
from matcher.studies.as_measured import measure
from tests import generated
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.kept_cases import drawers_of, fitting_seeds, known_of, smaller, with_drawers

FOLDER = Path(__file__).resolve().parents[1] / "data" / "workshop"
QUICK = (("Birch-134", "Moor-13"), ("Birch-134", "Glen-9"), ("Alder-64", "Glen-5"))
LONGER = (("Birch-134", "Glen-5"), ("Birch-134", "Glen-7"), ("Rowan-474", "Dune-24"))
BUNDLED = (*QUICK, *(pytest.param(*pair, marks=pytest.mark.slow) for pair in LONGER))


@cache
def workshop() -> Catalogue:
    return read_catalogue(FOLDER)


@cache
def first(seed: int) -> Outcome:
    return plan(known_of(seed), HOUSE, "set", "cabinet")


def words_of(one):
    return stranded_words(one, LengthUnit())


def again(known: Catalogue, before: Outcome) -> Outcome:
    return plan(known, HOUSE, before.set, before.cabinet, wishes=Wishes(keep=snapshot(before)))


def goals(outcome: Fits) -> dict[str, int]:
    return {goal.name: goal.value for goal in outcome.goals}


# ------------------------------------------------------------------------------------------------- nothing has changed


def assert_given_back(known: Catalogue, before: Outcome) -> None:
    assert isinstance(before, Fits)
    found = again(known, before)
    assert isinstance(found, Fits)
    assert found.plan == before.plan
    assert goals(found) == goals(before) | {"moves": 0}
    assert summary(found.kept) == "nothing changes"
    assert stranded(found.question) == ()


def test_the_small_cases_divide_mix_and_share() -> None:
    """What the properties below rest on: there are enough plans of every sort among the cases drawn."""
    made = [first(seed).plan for seed in fitting_seeds(12)]
    assert sum(any(group.part_of for group in one.groups) for one in made) >= 4
    assert (
        sum(len(set(drawers_of(first(seed)).values())) < len(drawers_of(first(seed))) for seed in fitting_seeds(12))
        >= 4
    )


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.integers(0, 400))
def test_a_small_plan_is_given_back(seed: int) -> None:
    if first(seed).verdict == "fits":
        assert_given_back(known_of(seed), first(seed))


@pytest.mark.parametrize(("set_name", "cabinet_name"), BUNDLED)
def test_a_bundled_plan_is_given_back(set_name: str, cabinet_name: str) -> None:
    assert_given_back(workshop(), plan(workshop(), HOUSE, set_name, cabinet_name))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_a_generated_plan_is_given_back(seed: int) -> None:
    known = generated.catalogue(seed, sets=1, cabinets=1, pieces=(20, 80))
    before = plan(known, HOUSE, known.pieces[0].set, known.cabinets[0].name)
    if before.verdict == "fits":
        assert_given_back(known, before)


# ---------------------------------------------------------------------------------------- drawers that are 2 mm smaller


def assert_only_what_must_moves(known: Catalogue, before: Outcome) -> None:
    """Nothing moves that can stay: with every part pinned where it was there is no plan, or nothing has moved."""
    assert isinstance(before, Fits)
    less = with_drawers(known, before.cabinet, smaller)
    found = again(less, before)
    if isinstance(found, Fits) and (found.kept.moved or found.kept.divided):
        assert not all_may_stay(less, before)
    elif isinstance(found, Fits):
        assert drawers_of(found) == drawers_of(before)
    else:
        assert not all_may_stay(less, before)


def all_may_stay(known: Catalogue, before: Fits) -> bool:
    """Whether the groups and parts of a plan still go into their drawers, asked of one drawer at a time.

    Each is asked as a set of its own in a cabinet of its own, in which nothing is divided any further.
    """
    whole = replace(HOUSE, together=replace(HOUSE.together, divide="no", mix="free"))
    box = next(one for one in known.cabinets if one.name == before.cabinet)
    groups = {group.name: group for group in before.plan.groups}
    for place in box.drawers:
        held = [groups[placed.group] for placed in before.plan.placements if placed.drawer == place.name]
        pieces = tuple(sorted((one.piece for group in held for one in group.pieces), key=repr))
        alone = replace(known, pieces=pieces, cabinets=(replace(box, drawers=(place,)),))
        if pieces and plan(alone, whole, before.set, before.cabinet).verdict != "fits":
            return False
    return True


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.integers(0, 400))
def test_of_a_small_plan_only_what_must_moves(seed: int) -> None:
    if first(seed).verdict == "fits":
        assert_only_what_must_moves(known_of(seed), first(seed))


@pytest.mark.parametrize(("set_name", "cabinet_name"), BUNDLED)
def test_of_a_bundled_plan_nothing_moves_for_two_millimeters(set_name: str, cabinet_name: str) -> None:
    before = plan(workshop(), HOUSE, set_name, cabinet_name)
    assert isinstance(before, Fits)
    found = again(with_drawers(workshop(), cabinet_name, smaller), before)
    assert isinstance(found, Fits)
    assert goals(found)["moves"] == 0
    assert drawers_of(found) == drawers_of(before)


def test_readings_move_nothing_that_still_goes_in() -> None:
    """Every drawer 2 mm narrower by the tape: the same groups, and parts, in the same drawers."""
    known = workshop()
    box = next(one for one in known.cabinets if one.name == "Moor-13")
    rows = [Measurement("Moor-13", one.name, one.inside_width - mm(2)) for one in box.drawers]
    found = measure(known, HOUSE, "Birch-134", "Moor-13", rows)
    assert isinstance(found.nominal, Fits)
    assert drawers_of(found.outcome) == drawers_of(found.nominal)
    assert found.stays


def divided() -> Catalogue:
    """Three equal drawers, and one group of blocks that goes into none whole: three blocks of 100 mm in each."""
    blocks = [
        piece(f"block {n}", 200, 100, 20, group="blocks", system=s) for n, s in enumerate(["inch"] * 3 + ["metric"] * 3)
    ]
    boxes = [drawer(str(n), 1, n, 440, 232, 60) for n in (1, 2, 3)]
    return catalogue(blocks, (), [cabinet(*boxes)])


def test_readings_keep_the_parts_of_a_divided_group_where_they_are() -> None:
    known = divided()
    rows = [Measurement("cabinet", name, mm(438)) for name in "123"]
    found = measure(known, HOUSE, "set", "cabinet", rows)
    assert isinstance(found.nominal, Fits)
    assert sorted(drawers_of(found.nominal)) == ["blocks (1 of 2)", "blocks (2 of 2)"]
    assert drawers_of(found.outcome) == drawers_of(found.nominal)
    assert found.stays


# ------------------------------------------------------------------------------------------ a drawer made much lower


@settings(max_examples=20, deadline=None, derandomize=True)
@given(st.integers(0, 400), st.integers(0, 3))
def test_what_no_longer_goes_in_is_named_with_its_drawer_and_what_is_short(seed: int, which: int) -> None:
    before = first(seed)
    if before.verdict != "fits":
        return
    used = sorted(set(drawers_of(before).values()))
    low = used[which % len(used)]
    known = with_drawers(
        known_of(seed), "cabinet", lambda one: replace(one, clear_height=mm(15)) if one.name == low else one
    )
    found = again(known, before)
    told = stranded(found.question)
    assert {name for one in told for name in one.groups} == {n for n, d in drawers_of(before).items() if d == low}
    assert {(one.drawer, one.lacks) for one in told} == {(low, "height")}
    needs = {placed.group: placed.height for placed in before.plan.placements}
    assert [one.short for one in told] == [needs[one.groups[0]] + HOUSE.clearance.top - mm(15) for one in told]
    assert [row["text"] for row in plan_document(found)["no_longer_goes_in"]] == [words_of(one) for one in told]


def test_words_for_what_no_longer_goes_in() -> None:
    before = plan(divided(), HOUSE, "set", "cabinet")
    assert drawers_of(before) == {"blocks (1 of 2)": "1", "blocks (2 of 2)": "2"}
    gone = replace(divided().cabinets[0], drawers=divided().cabinets[0].drawers[1:])
    found = again(replace(divided(), cabinets=(gone,)), before)
    assert [words_of(one) for one in stranded(found.question)] == ["blocks (1 of 2): drawer 1 is no longer there"]
    assert drawers_of(found) == {"blocks (1 of 2)": "3", "blocks (2 of 2)": "2"}
    low = with_drawers(divided(), "cabinet", lambda one: replace(one, clear_height=mm(20)) if one.name == "2" else one)
    told = stranded(again(low, before).question)
    assert len(told) == 1
    assert words_of(told[0]).startswith("blocks (2 of 2) no longer go into drawer 2 as planned: ")
    assert words_of(told[0]).endswith(" short in height")


def test_organizers_that_go_in_each_but_no_longer_together_are_named_together() -> None:
    """Two organizers side by side share out 320 - 3.2 mm; in 300 mm there is room for either, not for both."""
    blocks = [piece(name, 200, 100, 20, group=name) for name in ("a", "b")]
    rules = (GroupRule("a", "a", 1), GroupRule("b", "a", 2))
    known = catalogue(blocks, (), [cabinet(drawer("1", 1, 1, 320, 232, 60))], group_rules=rules)
    before = plan(known, HOUSE, "set", "cabinet")
    assert drawers_of(before) == {"a": "1", "b": "1"}
    tight = with_drawers(known, "cabinet", lambda one: replace(one, inside_width=mm(300)))
    told = stranded(again(tight, before).question)
    assert [(one.groups, one.lacks) for one in told] == [(("a", "b"), "width")]
    assert "a and b no longer go into drawer 1 together as planned" in words_of(told[0])


# --------------------------------------------------------------------------------------------- on the command line


def test_a_divided_plan_is_written_read_back_and_kept(tmp_path) -> None:
    """The file holds what the plan divides: read back it gives the same plan as the plan itself."""
    before = plan(divided(), HOUSE, "set", "cabinet")
    (tmp_path / "plan.json").write_text(json.dumps(plan_document(before)), encoding="utf-8")
    kept = read_kept(tmp_path / "plan.json")
    assert kept == snapshot(before)
    found = plan(divided(), HOUSE, "set", "cabinet", wishes=Wishes(keep=kept))
    assert isinstance(found, Fits)
    assert found.plan == before.plan


@pytest.mark.parametrize(("settled", "parts"), [(False, [2, 2, 2]), (True, [3, 3])])
def test_what_was_never_proved_the_least_is_not_left_for_less_while_it_holds(settled: bool, parts: list[int]) -> None:
    """Three parts of two tools cut both series, two of three tools none: less divided is a consequence of a change only
    where the plan to keep was the least there was."""
    names = [f"blocks ({n} of 3)" for n in (1, 2, 3)]
    organizers = tuple(
        KeptOrganizer(str(n), organizer(name, 400, 220, 30), mm(1.6), mm(1.6), 2, "blocks")
        for n, name in enumerate(names, 1)
    )
    drawers = tuple((name, str(n)) for n, name in enumerate(names, 1))
    keep = Snapshot("set", "cabinet", drawers, organizers=organizers, settled=settled)
    found = plan(divided(), HOUSE, "set", "cabinet", wishes=Wishes(keep=keep))
    assert isinstance(found, Fits)
    assert [sum(one.piece.count for one in group.pieces) for group in found.plan.groups] == parts
    together = found.goals[0]
    assert (together.value, together.bound) == ((6, 1) if not settled else (1, 1)), "6 is told as not proved"
    assert together.proved is settled


def test_a_group_that_is_divided_otherwise_is_told_as_that() -> None:
    """The first drawer grows until it takes all six blocks: nothing is divided any more, and no part is 'lost'."""
    before = plan(divided(), HOUSE, "set", "cabinet")
    wide = with_drawers(
        divided(), "cabinet", lambda one: replace(one, inside_width=mm(1000)) if one.name == "1" else one
    )
    found = again(wide, before)
    assert isinstance(found, Fits)
    assert found.kept.divided == (("blocks", (3, 3), (6,)),)
    assert (found.kept.lost, found.kept.new, found.kept.moved) == ((), (), ())
    assert "blocks: divided 3 | 3 before, whole now" in sentences(found.kept)
    assert "1 group divided otherwise" in summary(found.kept)
