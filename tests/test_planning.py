"""The whole way from records to a checked outcome, on a scenario whose answers are derived by hand.

A cabinet of three banks, every drawer 560 mm wide and 420 mm deep. Its bottom row takes no foam.
Ten ready-made organizers, 540 x 400 mm, in five families of two; two cases of 400 x 250 mm.
"""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.planning.answering import plan
from matcher.planning.outcome import DoesNotFit, Fits, nearest_change_of
from matcher.records.errors import UnknownNameError
from matcher.records.given import GroupRule, Pin
from matcher.records.units import mm
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece

FAMILIES = ("sockets", "accessories", "wrenches", "pliers", "hammers")


def _cabinet(name, rows, side_width=560):
    widths = {1: side_width, 2: 560, 3: side_width}
    return cabinet(
        *(
            drawer(
                name=f"{bank}{row}",
                bank=bank,
                row=row,
                width=widths[bank],
                depth=420,
                height=80 if row < rows else 200,
                slot="foam" if row < rows else "no foam",
                above_ground=mm(100 * (rows - row) + 100),
            )
            for bank in (1, 2, 3)
            for row in range(1, rows + 1)
        ),
        name=name,
    )


def _catalogue(*cabinets, pins=(), depth=400):
    organizers = [
        organizer(f"{family} {half}", width=540, depth=depth, height=60, family=family, tier=tier)
        for tier, family in enumerate(FAMILIES, 1)
        for half in ("inch", "metric")
    ]
    cases = [
        piece(tool=f"{name} case", kind="cased", length=400, width=250, height=100, mass=6)
        for name in ("drill", "puller")
    ]
    together = GroupRule("cased equipment", "cased equipment", 7, ("cased",), house=True)
    return catalogue(cases, organizers, cabinets, pins=tuple(pins), group_rules=(together,))


FIVE, FOUR, NARROW = _cabinet("five rows", 5), _cabinet("four rows", 4), _cabinet("narrow sides", 5, side_width=400)


def _slots(cab, names):
    return sorted(box.slot for box in cab.drawers if box.name in names)


def test_more_drawers_than_groups_leaves_three_free():
    # 12 foam drawers for 10 organizers, 3 drawers without foam for 2 cases: 2 + 1 stay free.
    outcome = plan(_catalogue(FIVE), HOUSE, "set", "five rows")
    assert isinstance(outcome, Fits)
    assert _slots(FIVE, outcome.plan.free_drawers) == ["foam", "foam", "no foam"]
    assert (outcome.fewest_free, outcome.most_free) == (3, 4), "both cases also stand in one drawer (2 x 250 < 560)"
    assert all(goal.proved for goal in outcome.goals)


def test_related_groups_lie_in_tier_order_without_a_break():
    outcome = plan(_catalogue(FIVE), HOUSE, "set", "five rows")
    assert {goal.name: goal.value for goal in outcome.goals}["order"] == 0


def test_one_row_fewer_is_refused_while_no_two_organizers_fit_one_drawer():
    # 9 foam drawers, 10 organizers 400 mm deep in drawers 420 mm deep: none may share, so one is left over.
    outcome = plan(_catalogue(FOUR), HOUSE, "set", "four rows")
    assert isinstance(outcome, DoesNotFit)
    # Whoever fitted the three drawers without foam with it would have room: that is a rule, and it is named.
    assert outcome.reasons[0].scope == "house layout"
    assert "the drawers without foam" in outcome.reasons[0].text


def test_one_row_fewer_still_fits_when_two_organizers_share_a_drawer():
    # 200 mm deep, two of a family lie one behind the other: 9 foam drawers hold 10 organizers, one bare drawer is free.
    outcome = plan(_catalogue(FOUR, depth=200), HOUSE, "set", "four rows")
    assert isinstance(outcome, Fits)
    assert _slots(FOUR, outcome.plan.free_drawers) == ["no foam"]
    # pack: five families, two organizers to a drawer, and one drawer for both cases: 12 - 6 = 6 free.
    assert outcome.most_free == 6


def test_much_narrower_side_banks_are_refused_with_the_organizers_and_the_lack():
    # Only the middle bank's 4 foam drawers take 540 mm; side banks lack 540 - (400 - 2 x 1.6) = 143.2 mm.
    outcome = plan(_catalogue(NARROW), HOUSE, "set", "narrow sides")
    assert isinstance(outcome, DoesNotFit)
    (reason,) = outcome.reasons
    assert reason.code == "too-few-drawers"
    assert set(reason.drawers) == {"21", "22", "23", "24"}
    assert len(reason.groups) == 5
    assert reason.short == mm(143) + mm(1) // 5


def test_a_pin_holds_and_pins_that_contradict_each_other_are_named():
    here = Pin("in", group="pliers inch", drawer="34")
    held = plan(_catalogue(FIVE, pins=[here]), HOUSE, "set", "five rows")
    assert isinstance(held, Fits)
    assert {p.group: p.drawer for p in held.plan.placements}["pliers inch"] == "34"
    free = Pin("keep free", drawer="34")
    elsewhere = Pin("not in", group="hammers inch", drawer="11")
    torn = plan(_catalogue(FIVE, pins=[here, free, elsewhere]), HOUSE, "set", "five rows")
    assert isinstance(torn, DoesNotFit)
    (reason,) = torn.reasons
    assert reason.code == "pins"
    assert "keep drawer 34 free" in reason.text
    assert "hammers" not in reason.text
    assert "the pin lifted: pliers inch in drawer 34" in torn.change


def test_two_groups_kept_apart_do_not_share():
    apart = Pin("apart", group="pliers inch", other="pliers metric")
    outcome = plan(_catalogue(FIVE, pins=[apart], depth=200), HOUSE, "set", "five rows", "pack")
    assert isinstance(outcome, Fits)
    drawers = {p.group: p.drawer for p in outcome.plan.placements}
    assert drawers["pliers inch"] != drawers["pliers metric"]
    assert drawers["sockets inch"] == drawers["sockets metric"]


def test_a_tall_case_is_short_by_its_height():
    low = replace(FIVE, drawers=tuple(replace(box, clear_height=mm(90)) for box in FIVE.drawers))
    outcome = plan(_catalogue(low), HOUSE, "set", "five rows")
    assert isinstance(outcome, DoesNotFit)
    assert {reason.code for reason in outcome.reasons} == {"short"}
    assert {reason.short for reason in outcome.reasons} == {mm(100 + 3 - 90)}
    # Both cases stand side by side in one drawer, so one drawer 13 mm higher is enough; try it.
    assert "drawer 15 13.0 mm higher" in outcome.change
    raised = tuple(replace(box, clear_height=mm(103)) if box.name == "15" else box for box in low.drawers)
    assert plan(_catalogue(replace(low, drawers=raised)), HOUSE, "set", "five rows").verdict == "fits"


def test_several_groups_are_left_out_where_one_is_not_enough():
    # 10 organizers for the middle bank's 4 foam drawers: 6 must go.
    change = nearest_change_of(plan(_catalogue(NARROW), HOUSE, "set", "narrow sides"))
    left_out = change.removeprefix("it would fit with 6 of 12 groups left out: ").split(", ")
    assert len(left_out) == 6
    known = _catalogue(NARROW)
    fewer = replace(known, organizers=tuple(row for row in known.organizers if row.group not in left_out))
    assert plan(fewer, HOUSE, "set", "narrow sides").verdict == "fits"


@pytest.mark.parametrize(
    ("set_name", "cabinet_name"), [("none", "five rows"), ("set", "none"), ("set+none", "five rows")]
)
def test_unknown_names_are_refused(set_name, cabinet_name):
    with pytest.raises(UnknownNameError, match="none"):
        plan(_catalogue(FIVE), HOUSE, set_name, cabinet_name)


def test_the_order_of_input_rows_changes_nothing():
    known = _catalogue(FIVE)
    shuffled = replace(known, organizers=known.organizers[::-1], pieces=known.pieces[::-1])
    one, other = plan(known, HOUSE, "set", "five rows"), plan(shuffled, HOUSE, "set", "five rows")
    assert one.question.groups == other.question.groups
    assert one == replace(other, question=one.question)


def test_ready_made_organizers_are_re_cut_where_only_that_lets_them_share_a_drawer():
    # Two blocks of 150 x 300 mm go side by side into 804 mm; the organizers of 800 mm that exist for them do not.
    blocks = [piece(f"block {n}", length=150, width=300, height=30, group=f"blocks {n}") for n in (1, 2)]
    rules = tuple(GroupRule(f"blocks {n}", "blocks", n, ("other",)) for n in (1, 2))
    ready = [organizer(f"blocks {n}", width=800, depth=390, height=40) for n in (1, 2)]
    small = [replace(one, width=mm(390)) for one in ready]
    hows = {}
    for name, rows in (("large", ready), ("one small", (small[0], ready[1])), ("small", small)):
        known = catalogue(blocks, rows, [cabinet(drawer("1", width=804))], group_rules=rules)
        hows[name] = [placed.how for placed in plan(known, HOUSE, "set", "cabinet").plan.placements]
    assert hows["large"] == ["re-cut", "re-cut"]
    assert hows["small"] == ["as is", "as is"]
    assert "re-cut" in hows["one small"]
    alone = catalogue((), ready, [cabinet(drawer("1", width=804))], group_rules=rules)
    assert plan(alone, HOUSE, "set", "cabinet").verdict == "does not fit", "without pieces nothing can be re-cut"


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.integers(200, 700), min_size=1, max_size=2),
    st.lists(st.tuples(st.integers(60, 170), st.none() | st.integers(190, 800)), min_size=2, max_size=3),
)
def test_organizers_that_exist_never_turn_a_yes_into_a_no(widths, groups):
    # Whatever does not go in as it is can be re-cut from its pieces, in a drawer of its own or beside others.
    blocks = [piece(f"block {n}", length=150, width=w, height=30, group=f"g{n}") for n, (w, _) in enumerate(groups)]
    rules = tuple(GroupRule(f"g{n}", "blocks", n + 1, ("other",)) for n in range(len(groups)))
    boxes = cabinet(*(drawer(str(n), row=n, width=width) for n, width in enumerate(widths, 1)))
    ready = [organizer(f"g{n}", width=width, depth=390, height=40) for n, (_, width) in enumerate(groups) if width]
    without, having = (
        plan(catalogue(blocks, rows, [boxes], group_rules=rules), HOUSE, "set", "cabinet").verdict
        for rows in ((), ready)
    )
    assert having == "fits" or without != "fits"
