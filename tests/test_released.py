"""Released plans: their organizers lie as made in their own cabinet, and a version of it changes what it must."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.reading import read_catalogue
from matcher.planning.answering import plan
from matcher.planning.outcome import Fits, Outcome
from matcher.planning.releasing import release
from matcher.records.answered import Placement
from matcher.records.given import Catalogue, GroupRule, Obstruction, Organizer
from matcher.records.units import mm
from matcher.studies import comparison
from matcher.studies.comparison import compare
from matcher.studies.ranking import Comparison
from matcher.verification.checker import verify
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.kept_cases import drawers_of, known_of, with_drawers

FOLDER = Path(__file__).resolve().parents[1] / "data" / "workshop"
QUICK = (("Birch-134", "Moor-13"), ("Alder-64", "Glen-5"))
LONGER = (("Birch-134", "Glen-5"), ("Birch-134", "Glen-7"), ("Birch-134", "Moor-T8"), ("Rowan-474", "Dune-24"))
BUNDLED = (*QUICK, *(pytest.param(*pair, marks=pytest.mark.slow) for pair in LONGER))


@cache
def first(seed: int) -> Outcome:
    return plan(known_of(seed), HOUSE, "set", "cabinet")


def of(found: Comparison, name: str) -> Outcome:
    return next(one.outcome for one in found.variants if one.outcome.cabinet == name)


def geometry(placed: Placement) -> tuple[object, ...]:
    """All of a placement but how its organizer came there."""
    return placed.group, placed.drawer, placed.left, placed.front, placed.width, placed.depth, placed.height


def assert_all_as_is(known: Catalogue, before: Outcome) -> None:
    """Nothing to cut: every organizer as is, exactly where and as it lies in the plan, and nothing moves."""
    assert isinstance(before, Fits)
    found = compare(known, HOUSE, before.set, [before.cabinet], reference=before.cabinet)
    assert found.faults == ()
    (variant,) = found.variants
    assert isinstance(variant.outcome, Fits)
    assert [variant.count(how) for how in ("shim", "trim", "re-cut", "new", "unordered")] == [0] * 5
    made = variant.outcome.plan.placements
    foam = [placed for placed in made if placed.how != "cased"]
    assert variant.count("as is") == len(foam)
    assert [geometry(placed) for placed in made] == [geometry(placed) for placed in before.plan.placements]
    assert [placed.layout for placed in foam] == [
        placed.layout for placed in before.plan.placements if placed.how != "cased"
    ]
    goals = {goal.name: goal.value for goal in variant.outcome.goals}
    assert goals["moves"] == 0
    assert goals["recut"] < 10**9, "no work on any foam"


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.integers(0, 400))
def test_a_small_plan_is_nothing_to_cut_in_its_own_cabinet(seed: int) -> None:
    if first(seed).verdict == "fits":
        assert_all_as_is(known_of(seed), first(seed))


@pytest.mark.parametrize(("set_name", "cabinet_name"), BUNDLED)
def test_a_bundled_plan_is_nothing_to_cut_in_its_own_cabinet(set_name: str, cabinet_name: str) -> None:
    known = read_catalogue(FOLDER)
    assert_all_as_is(known, plan(known, HOUSE, set_name, cabinet_name))


CHANGES = st.sampled_from(
    [("inside_width", -5), ("inside_width", -60), ("inside_width", 40), ("inside_depth", -3), ("clear_height", -30)]
)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.integers(0, 400), st.integers(0, 3), CHANGES)
def test_a_version_with_one_other_drawer_changes_no_more_than_that_asks_for(
    seed: int, which: int, change: tuple[str, int]
) -> None:
    """Where the parts are the same, an organizer outside the changed drawer that did not have to make room is as is;
    and the verdict is that of the version by itself."""
    before, known = first(seed), known_of(seed)
    if not isinstance(before, Fits):
        return
    own = known.cabinets[0]
    changed = own.drawers[which % len(own.drawers)].name
    column, by = change
    boxes = tuple(
        replace(one, cabinet="other", **({column: getattr(one, column) + mm(by)} if one.name == changed else {}))
        for one in own.drawers
    )
    both = replace(known, cabinets=(own, replace(own, name="other", drawers=boxes)))
    found = compare(both, HOUSE, "set", reference="cabinet")
    assert found.faults == ()
    version = of(found, "other")
    assert version.verdict == plan(both, HOUSE, "set", "other").verdict
    if isinstance(version, Fits) and version.goals[0].value == before.goals[0].value and not version.kept.divided:
        moved = {place for _, *places in version.kept.moved for place in places}
        assert moved == set() or changed in moved | {drawers_of(before).get(name) for name, _, _ in version.kept.moved}
        elsewhere = [one for one in version.plan.placements if one.drawer not in moved | {changed}]
        assert {one.how for one in elsewhere} <= {"as is"}


# ----------------------------------------------------------------------------------------------- single cases, by hand


def test_a_ready_made_organizer_with_strips_is_one_with_its_strips() -> None:
    """500 mm in 600 mm less clearances: a strip beside it. Released it is as wide as the drawer, and as is there."""
    known = catalogue((), [organizer(field_width=mm(450), field_depth=mm(330))], [cabinet(drawer(width=600))])
    before = plan(known, HOUSE, "set", "cabinet")
    assert isinstance(before, Fits)
    assert before.plan.placements[0].how == "shim"
    made, released = release(before)
    (row,) = made.organizers
    assert row.width == mm(600) - 2 * HOUSE.clearance.side
    assert row.field_left == before.plan.placements[0].field_left + before.plan.placements[0].gap_width // 2
    assert released.made[0].row == row
    (variant,) = compare(known, HOUSE, "set", reference="cabinet").variants
    assert variant.count("as is") == 1


def test_a_trimmed_organizer_stays_trimmed() -> None:
    """500 mm in 480 mm: trimmed in the reference, so as is there, and with a strip in the drawer it was made for."""
    known = catalogue(
        (),
        [organizer(field_width=mm(400), field_depth=mm(330), mass=5, family="trays", tier=3)],
        [cabinet(drawer(width=480), name="cabinet"), cabinet(drawer(width=520, cabinet="wide"), name="wide")],
    )
    found = compare(known, HOUSE, "set", reference="cabinet")
    assert {one.outcome.cabinet: one.outcome.plan.placements[0].how for one in found.variants} == {
        "cabinet": "as is",
        "wide": "shim",
    }
    (row,) = of(found, "wide").question.catalogue.organizers
    assert (row.mass, row.family, row.tier) == (5, "trays", 3), "all else of the row stands"


def test_unordered_foam_cut_round_a_block_goes_back_round_it() -> None:
    """Two blocks leave three rooms for a bar each, an ordered layout lies in two; the foam is one piece."""
    blocks = tuple(Obstruction(mm(left), mm(130), mm(30), mm(40), mm(60)) for left in (110, 250))
    box = drawer(width=390, depth=300, height=60, obstructions=blocks)
    bars = [piece(f"bar {n}", 250, 30, 20, group="bars") for n in range(3)]
    known = catalogue(bars, (), [cabinet(box)], group_rules=(GroupRule("bars", split=False),))
    before = plan(known, HOUSE, "set", "cabinet")
    assert isinstance(before, Fits)
    assert before.plan.placements[0].how == "unordered"
    assert_all_as_is(known, before)


def test_what_a_drawer_was_made_to_hold_together_is_as_is_together_and_not_apart() -> None:
    """Two groups in one drawer; where the version adds nothing they stay, and neither counts as work on the foam."""
    blocks = [piece(name, 200, 100, 20, group=name) for name in ("a", "b")]
    rules = (GroupRule("a", "a", 1), GroupRule("b", "a", 2))
    known = catalogue(blocks, (), [cabinet(drawer("1", 1, 1, 320, 232, 60))], group_rules=rules)
    assert_all_as_is(known, plan(known, HOUSE, "set", "cabinet"))


def test_a_group_that_was_whole_may_be_divided_where_the_other_cabinet_asks_for_it() -> None:
    """One wide drawer takes six blocks; the two narrow ones of the other cabinet take three each."""
    blocks = [piece(f"block {n}", 200, 100, 20, group="blocks") for n in range(6)]
    wide = cabinet(drawer("1", 1, 1, 1000, 232, 60, cabinet="wide"), name="wide")
    narrow = cabinet(*(drawer(str(n), 1, n, 440, 232, 60, cabinet="narrow") for n in (1, 2)), name="narrow")
    known = catalogue(blocks, (), [narrow, wide])
    found = compare(known, HOUSE, "set", reference="wide")
    assert of(found, "wide").plan.placements[0].how == "as is"
    assert sorted(drawers_of(of(found, "narrow"))) == ["blocks (1 of 2)", "blocks (2 of 2)"]


def test_parts_carry_over_to_another_cabinet_that_divides_alike() -> None:
    blocks = [piece(f"block {n}", 200, 100, 20, group="blocks") for n in range(6)]
    boxes = [
        cabinet(*(drawer(str(n), 1, n, width, 232, 60, cabinet=name) for n in range(1, count + 1)), name=name)
        for name, width, count in (("three", 440, 3), ("two", 440, 2), ("wider", 470, 4))
    ]
    known = catalogue(blocks, (), boxes)
    found = compare(known, HOUSE, "set", reference="two")
    hows = {one.outcome.cabinet: {placed.how for placed in one.outcome.plan.placements} for one in found.variants}
    assert hows == {"two": {"as is"}, "three": {"as is"}, "wider": {"shim"}}


def test_the_checker_takes_an_organizer_of_a_part_for_that_part_only() -> None:
    seed = next(n for n in range(400) if first(n).verdict == "fits" and any(g.part_of for g in first(n).plan.groups))
    found = compare(known_of(seed), HOUSE, "set", reference="cabinet").variants[0].outcome
    assert isinstance(found, Fits)
    known, made = found.question.catalogue, found.plan
    assert verify(known, HOUSE, made) == ()
    without = verify(replace(known, parts=()), HOUSE, made)
    assert {"R1", "R2"} <= {one.rule for one in without}
    fewer = tuple(replace(one, pieces=one.pieces - 1) for one in known.parts)
    assert "R2" in {one.rule for one in verify(replace(known, parts=fewer), HOUSE, made)}


def test_a_fault_in_the_reference_is_named_and_the_cabinets_are_answered(monkeypatch) -> None:
    known = catalogue([piece()], (), [cabinet(drawer())])

    def broken(*_: object) -> Outcome:
        raise AssertionError("broken")

    monkeypatch.setattr(comparison, "plan", broken)
    found = compare(known, HOUSE, "set", reference="cabinet")
    assert [fault.cabinet for fault in found.faults] == ["cabinet as the reference"]
    assert "broken" in found.faults[0].text
    assert [one.outcome.verdict for one in found.variants] == ["fits"]


def test_a_larger_margin_at_rounded_corners_is_as_made() -> None:
    """Foam laid out for a drawer with corners of 60 mm goes back into it as it is, by its pockets and not its field."""
    blocks = [piece(f"block {n}", 120, 60, 20, group="blocks") for n in range(3)]
    known = catalogue(blocks, (), [cabinet(drawer(width=400, depth=260, corner_radius=mm(60)))])
    assert_all_as_is(known, plan(known, HOUSE, "set", "cabinet"))


def test_rows_of_other_sets_stay_as_they_are() -> None:
    other = Organizer("other", "group", mm(300), mm(200), mm(40))
    known = catalogue((), [organizer(), other], [cabinet(drawer(width=600))])
    before = plan(known, HOUSE, "set", "cabinet")
    assert isinstance(before, Fits)
    assert other in release(before)[0].organizers


def test_a_version_is_a_cabinet_with_the_same_drawers_in_the_same_places() -> None:
    known = catalogue([piece()], (), [cabinet(drawer("1"), drawer("2", row=2))])
    before = plan(known, HOUSE, "set", "cabinet")
    assert isinstance(before, Fits)
    _, released = release(before)
    wider = with_drawers(known, "cabinet", lambda one: replace(one, inside_width=mm(700)))
    assert released.is_for(wider.cabinets[0])
    assert not released.is_for(cabinet(drawer("1")))
    assert not released.is_for(cabinet(drawer("1"), drawer("2", bank=2)))
