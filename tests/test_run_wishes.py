"""What a run is asked, on the scenario of `test_planning`: kept plans, drawers kept free, alternatives, tiers, goals.

Five rows of three banks: 12 foam drawers for 10 organizers in five families, 3 high drawers without foam for 2 cases.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from matcher.planning.answering import plan
from matcher.planning.differences import changes, sentences, snapshot, summary
from matcher.planning.outcome import DoesNotFit, Fits, Outcome
from matcher.planning.wishes import parse_goals, parse_names, parse_off, wish_words, worked_in
from matcher.records.answered import Changes
from matcher.records.errors import UnknownNameError, UsageError
from matcher.records.given import GroupRule, Pin, Snapshot, Wishes
from matcher.records.units import mm
from matcher.report.document import plan_document
from matcher.studies.comparison import compare
from matcher.verification.checker import verify
from matcher.verification.goals import recount
from tests.builders import HOUSE
from tests.test_planning import FAMILIES, FIVE, FOUR, NARROW, _catalogue

KNOWN = _catalogue(FIVE, FOUR, NARROW)


def answered(**wishes) -> Outcome:
    return plan(KNOWN, HOUSE, "set", "five rows", wishes=Wishes(**wishes))


def planned(**wishes) -> Fits:
    found = answered(**wishes)
    assert isinstance(found, Fits)
    return found


def refused(**wishes) -> DoesNotFit:
    found = answered(**wishes)
    assert isinstance(found, DoesNotFit)
    return found


def drawers(outcome: Fits) -> dict[str, str]:
    return {placed.group: placed.drawer for placed in outcome.plan.placements}


def goals(outcome: Fits) -> dict[str, int]:
    return {goal.name: goal.value for goal in outcome.goals}


PLAIN = planned()


# --------------------------------------------------------------------------------------------------------------- keep


def test_a_plan_kept_with_nothing_changed_is_given_back() -> None:
    again = planned(keep=snapshot(PLAIN))
    assert again.plan == PLAIN.plan
    assert goals(again) == goals(PLAIN) | {"moves": 0}
    assert again.kept is not None
    assert summary(again.kept) == "nothing changes"
    assert sentences(again.kept) == ()


def test_moves_come_right_after_drawers_and_before_order() -> None:
    assert [goal.name for goal in planned(keep=snapshot(PLAIN)).goals][1:4] == ["drawers", "moves", "order"]
    assert [goal.name for goal in planned(keep=snapshot(PLAIN), off=("drawers",)).goals][1:3] == ["moves", "order"]


def test_a_pin_moves_its_group_and_whoever_must_make_room_and_no_more() -> None:
    """12 foam drawers for 10 organizers: a group pinned to a free drawer moves alone, to a held one two move."""
    free = next(name for name in PLAIN.plan.free_drawers if not name.endswith("5"))
    held = drawers(PLAIN)["hammers metric"]
    for drawer, moves in ((free, 1), (held, 2)):
        pin = Pin("in", group="sockets inch", drawer=drawer)
        found = planned(keep=snapshot(PLAIN), pins=(pin,))
        assert drawers(found)["sockets inch"] == drawer
        assert goals(found)["moves"] == moves
        assert found.kept is not None
        assert len(found.kept.moved) == moves
        assert summary(found.kept).startswith("1 group moves" if moves == 1 else "2 groups move")
        assert all(goal.proved for goal in found.goals)
        (told,) = (goal.contributions for goal in found.goals if goal.name == "moves")
        assert len(told) == moves


def test_groups_and_drawers_that_are_no_more_do_not_stand_in_the_way() -> None:
    kept = snapshot(PLAIN)
    gone = tuple((group, "99" if group == "sockets inch" else drawer) for group, drawer in kept.drawers)
    found = planned(keep=replace(kept, drawers=(*gone[:-1], ("lost", "11"))))
    assert goals(found)["moves"] == 1, "the group whose drawer is no more; a group without a drawer before is new"
    assert found.kept is not None
    assert (found.kept.lost, found.kept.new) == (("lost",), (kept.drawers[-1][0],))


def test_the_kept_plan_is_counted_by_the_tiers_of_today() -> None:
    """With the tiers turned round every break of the kept plan counts; kept in place, no break is added."""
    tiers = FAMILIES[::-1]
    found = planned(keep=snapshot(PLAIN), tiers=tiers)
    assert found.kept is not None
    assert found.kept.moved == ()
    assert "order break" not in summary(found.kept)
    assert goals(found)["order"] > goals(PLAIN)["order"]


@pytest.mark.parametrize("other", [{"set": "other"}, {"cabinet": "four rows"}])
def test_a_plan_of_something_else_is_refused(other) -> None:
    with pytest.raises(UsageError, match=r"expected one of 'set' in 'five rows'"):
        planned(keep=replace(snapshot(PLAIN), **other))


# ------------------------------------------------------------------------------------------------------ the difference


def test_a_change_in_one_line() -> None:
    found = Changes((("a", "1", "2"),) * 3, (), (), (1, 2), (("order", 4, 5), ("neighbors", 9, 7), ("recut", 5, 10**9)))
    assert (
        summary(found) == "3 groups move, one more free drawer, one more order break, neighbors 2 better, recut worse"
    )
    snugger = Changes((), (), (), (1, 1), (("recut", 10**9 + 5, 10**9 + 4),))
    assert summary(snugger) == "narrower gaps", "the same work on the foam"
    other = Changes((), ("a",), ("b", "c"), (3, 1), (("order", 5, 3), ("reach", 5, 4)))
    assert (
        summary(other)
        == "1 group no longer placed, 2 groups new, 2 fewer free drawers, 2 fewer order breaks, reach better"
    )


def test_only_what_both_plans_have_is_compared() -> None:
    before = Snapshot("s", "c", (("a", "1"), ("b", "2")), ("3",), (("drawers", 1), ("order", 2), ("reach", 7)))
    after = Snapshot("s", "c", (("a", "3"), ("c", "2")), ("1",), (("drawers", 2), ("moves", 1), ("order", 2)))
    assert changes(before, after) == Changes((("a", "1", "3"),), ("b",), ("c",), (1, 1), ())


# ---------------------------------------------------------------------------------------------------------- keep free


def test_so_many_high_drawers_stay_free() -> None:
    """Two of the three 200 mm drawers can stay free, as both cases stand in one; not all three."""
    found = planned(pins=(Pin("keep free", count=2, height=mm(200)),))
    assert sum(free.height >= mm(200) for free in found.free) == 2
    assert found.fewest_free == 4, "and 12 - 10 foam drawers"
    one_more = refused(pins=(Pin("keep free", count=3, height=mm(200)),))
    (reason,) = one_more.reasons
    assert reason.code == "pins"
    assert "keep 3 drawers of 200 mm free" in reason.text
    assert "the pin lifted: keep 3 drawers of 200 mm free" in one_more.change


def test_a_height_that_just_holds_and_one_a_grain_above_it() -> None:
    assert answered(pins=(Pin("keep free", count=5, height=mm(80)),)).verdict == "does not fit"
    assert answered(pins=(Pin("keep free", count=4, height=mm(80)),)).verdict == "fits"
    assert answered(pins=(Pin("keep free", count=3, height=mm(80) + 1),)).verdict == "does not fit"


def test_drawers_kept_free_and_pins_that_conflict_are_named_and_no_other() -> None:
    pins = (
        Pin("keep free", count=2, height=mm(200)),
        Pin("apart", group="drill case", other="puller case"),
        Pin("not in", group="hammers inch", drawer="11"),
    )
    (reason,) = refused(pins=pins).reasons
    assert reason.code == "pins"
    assert "keep 2 drawers of 200 mm free" in reason.text
    assert "drill case apart from puller case" in reason.text
    assert "hammers" not in reason.text


# -------------------------------------------------------------------------------------------------------- alternatives


def test_alternatives_are_checked_different_and_in_order() -> None:
    found = planned(alternatives=4)
    assert found.plan == PLAIN.plan
    assert len(found.alternatives) == 4
    ranks = [[goal.value for goal in other.goals] for other in found.alternatives]
    assert [[goal.value for goal in found.goals], *ranks] == sorted([[goal.value for goal in found.goals], *ranks])
    assert len({other.plan for other in found.alternatives} | {found.plan}) == 5
    for other in found.alternatives:
        assert verify(KNOWN, HOUSE, other.plan) == ()
        counted = recount(KNOWN, HOUSE, other.plan)
        assert {goal.name: goal.value for goal in other.goals if goal.name in counted} == {
            name: value for name, value in counted.items() if name in {goal.name for goal in other.goals}
        }
        assert other.changes.moved
        assert all(goal.proved for goal in other.goals)
        worse = tuple(goal.name for goal, best in zip(other.goals, found.goals, strict=True) if goal.value > best.value)
        assert other.gives_up == worse
    assert found.last == ""


def test_when_there_is_no_other_plan_that_is_said() -> None:
    """With every group pinned to its drawer there is one plan only."""
    pins = tuple(Pin("in", group=group, drawer=drawer) for group, drawer in drawers(PLAIN).items())
    found = planned(pins=pins, alternatives=2)
    assert (found.alternatives, found.last) == ((), "none left")
    assert planned().last == ""


def test_no_alternatives_without_a_plan() -> None:
    document = plan_document(plan(KNOWN, HOUSE, "set", "narrow sides", wishes=Wishes(alternatives=3)))
    assert document["verdict"] == "does not fit"
    assert (document["alternatives"], document["after_alternatives"]) == ([], "")


# --------------------------------------------------------------------------------------------------------------- tiers


def test_families_come_in_the_order_wished() -> None:
    """Turned round, the families lie bottom up without a break, counted by the checker too."""
    found = planned(tiers=FAMILIES[::-1])
    assert goals(found)["order"] == 0
    tiers = {group.name: group.tier for group in found.plan.groups}
    assert [tiers[f"{family} inch"] for family in FAMILIES[::-1]] == [1, 2, 3, 4, 5]
    assert tiers["drill case"] == 7 + 5, "those not named keep their order below"


def test_a_group_is_named_by_itself_and_the_others_keep_their_order() -> None:
    catalogue, house = worked_in(KNOWN, HOUSE, "set", Wishes(tiers=("hammers metric",)))
    tiers = {row.group: row.tier for row in catalogue.organizers}
    assert (tiers["hammers metric"], tiers["sockets inch"], tiers["hammers inch"]) == (1, 2, 6)
    assert house.order.swap == tuple((first + 1, second + 1) for first, second in HOUSE.order.swap)


def test_own_rows_of_groups_follow_too() -> None:
    own = GroupRule("pliers inch", tier=2, share=False)
    catalogue, _ = worked_in(
        replace(KNOWN, group_rules=(own, *KNOWN.group_rules)), HOUSE, "set", Wishes(tiers=("pliers",))
    )
    assert replace(own, tier=1) in catalogue.group_rules


@pytest.mark.parametrize(
    ("tiers", "error", "said"),
    [
        (("tea",), UnknownNameError, "no group or family 'tea'; the set has: "),
        (("pliers", "pliers inch"), UsageError, "pliers inch is named twice"),
        (("pliers", "pliers"), UsageError, "named twice"),
        (("",), UnknownNameError, "no group or family ''"),
    ],
)
def test_tiers_of_nothing_or_twice_are_refused(tiers, error, said) -> None:
    with pytest.raises(error, match=said):
        planned(tiers=tiers)


# --------------------------------------------------------------------------------------------------------------- goals


def test_goals_change_places_and_go_off_and_on() -> None:
    found = planned(goals=("reach", "recut"), off=("neighbors",))
    assert [goal.name for goal in found.goals] == ["together", "drawers", "reach", "recut", "order"]
    silent = replace(HOUSE, goals=replace(HOUSE.goals, off=("reach", "recut")))
    again = plan(KNOWN, silent, "set", "five rows", wishes=Wishes(goals=("reach",)))
    assert [goal.name for goal in again.goals] == ["together", "drawers", "reach", "order", "neighbors"], "named is on"


def test_a_goal_solved_first_is_never_worse_for_it() -> None:
    assert goals(planned(goals=("reach",)))["reach"] <= goals(PLAIN)["reach"]


@pytest.mark.parametrize("text", ["drawers,order", "speed", "order,order", "order,,reach"])
def test_goals_that_are_none_are_refused(text) -> None:
    with pytest.raises(UsageError, match="expected, each once, order, neighbors, recut, reach"):
        parse_goals(text)


def test_words_are_read_as_they_are_said() -> None:
    assert parse_goals(" reach , order") == ("reach", "order")
    assert parse_goals("") == ()
    assert parse_off(["drawers", "reach"]) == ("drawers", "reach")
    assert parse_names("hex  keys, pliers") == ("hex keys", "pliers")
    with pytest.raises(UsageError, match="'moves' is no such goal"):
        parse_off(["moves"])
    asked = Wishes("pack", (Pin("keep free", count=1),), tiers=("a", "b"), goals=("reach",), off=("order",))
    assert wish_words(asked) == (
        "as many free drawers as possible",
        "keep 1 drawer free",
        "from the top down a, then b",
        "of the goals first reach",
        "goal order off",
    )
    assert wish_words(Wishes("spread")) == ("as few unused drawers as possible",)
    assert wish_words(Wishes()) == ()


def test_a_goal_is_not_both_off_and_in_the_order() -> None:
    with pytest.raises(UsageError, match="goal reach cannot be both"):
        planned(goals=("reach",), off=("reach",))


# ------------------------------------------------------------------------------------------------------- many at once


def test_comparisons_take_the_same_wishes() -> None:
    asked = Wishes(pins=(Pin("keep free", count=4),), off=("reach",))
    found = compare(KNOWN, HOUSE, "set", wishes=asked)
    verdicts = {variant.outcome.cabinet: variant.outcome.verdict for variant in found.variants}
    assert verdicts == {"five rows": "fits", "four rows": "does not fit", "narrow sides": "does not fit"}
    assert all(variant.outcome.run.wishes == asked for variant in found.variants)
    assert found.variants[0].free >= 4


def test_a_pin_may_name_a_drawer_that_only_some_cabinets_have() -> None:
    there = Wishes(pins=(Pin("not in", group="pliers inch", drawer="14"),))
    assert compare(KNOWN, HOUSE, "set", wishes=there).variants[0].outcome.verdict == "fits"
    with pytest.raises(UnknownNameError, match="no such place"):
        compare(KNOWN, HOUSE, "set", wishes=Wishes(pins=(Pin("not in", group="pliers inch", drawer="99"),)))


def test_fill_and_pins_may_still_be_given_by_themselves() -> None:
    pin = Pin("not in", group="pliers inch", bank=1)
    alone = plan(KNOWN, HOUSE, "set", "five rows", "pack", (pin,))
    assert alone == plan(KNOWN, HOUSE, "set", "five rows", wishes=Wishes(fill="pack", pins=(pin,)))
