"""The nearest change: each that is told is made as a planner would make it, and gives a plan (`tests.changed`)."""

from dataclasses import replace

import pytest

from matcher.fitting import admit
from matcher.planning import answer, ask
from matcher.planning.nearest_change import OPEN, nearest_change
from matcher.planning.outcome import DoesNotFit, fits_but_of
from matcher.planning.posing import pose
from matcher.records.answered import Reason
from matcher.records.given import GroupRule
from matcher.studies import compare
from tests.builders import HOUSE, cabinet, catalogue, drawer, group, organizer, piece, question
from tests.changed import confirmed


def changes(known, house=HOUSE):
    outcome, told = confirmed(known, house)
    assert isinstance(outcome, DoesNotFit)
    return told


def two(**rules):
    """Two blocks that go into the only drawer side by side, not one behind the other."""
    blocks = [piece(name, 150, 200, 30, group=name) for name in ("a", "b")]
    made = tuple(GroupRule(name, name, 1, **rules) for name in ("a", "b"))
    return catalogue(blocks, (), [cabinet(drawer("1", depth=260))], group_rules=made)


# --------------------------------------------------------------------------------------------------------- house rules


def test_a_group_that_shares_with_none_is_told():
    """Both say no: one of them freed is not enough, both are."""
    assert "share = yes of a and b" in changes(two(share=False))


def test_the_one_group_that_stands_in_the_way_is_told_alone():
    known = two()
    known = replace(known, group_rules=(GroupRule("a", "a", 1, share=False), GroupRule("b", "b", 1)))
    told = changes(known)
    assert "share = yes of a" in told


def test_a_group_that_is_never_divided_is_told():
    """Four plates of 200 x 200 mm, two to a drawer of 560 x 300 mm."""
    plates = [piece(f"plate {n}", 200, 200, 20, group="plates") for n in range(4)]
    boxes = cabinet(*(drawer(str(n), row=n, depth=300) for n in (1, 2)))
    known = catalogue(plates, (), [boxes], group_rules=(GroupRule("plates", "plates", 1, split=False),))
    assert "split = yes of plates" in changes(known)


def test_families_that_never_mix_are_told():
    never = replace(HOUSE, together=replace(HOUSE.together, mix="no"))
    assert "[together] mix = needed" in changes(two(), never)


def test_where_both_are_forbidden_both_are_loosened_if_one_is_not_enough():
    """Three plates and a block for two drawers that take two things each: one group is divided, and families mixed."""
    never = replace(HOUSE, together=replace(HOUSE.together, mix="no", divide="no"))
    pieces = [
        *(piece(f"plate {n}", 200, 200, 20, group="plates") for n in range(3)),
        piece("z", 200, 200, 20, group="z"),
    ]
    known = catalogue(pieces, (), [cabinet(*(drawer(str(n), row=n, depth=300) for n in (1, 2)))])
    _, told = confirmed(known, never)
    assert "[together] mix = needed and divide = needed" in told


def test_a_drawer_without_foam_is_told_where_foam_in_it_would_do():
    known = catalogue(
        (), [organizer("tray", height=80)], [cabinet(drawer("1", height=60), drawer("2", row=2, slot="no foam"))]
    )
    assert "foam in drawer 2" in changes(known)


def test_a_case_is_told_to_go_into_a_drawer_for_foam():
    case = piece("drill", kind="cased", length=300, width=200, height=80)
    assert "[layout] cased_in_foam = true" in changes(catalogue([case], (), [cabinet(drawer("1"))]))


def test_narrower_margins_are_told_in_millimeters():
    """380 mm and a fit of 0.8 mm twice in 400 - 2 x 1.6 mm leave 7.6 mm a side: 6 mm do, 9 and 12 do not."""
    block = piece("block", length=380, width=530, height=30)
    told = changes(catalogue([block], (), [cabinet(drawer("1", width=570))]))
    assert "margins of 6.0 mm instead of 12.0 mm" in told


def test_what_holds_for_any_layout_is_not_answered_with_house_rules():
    """A bar longer than the drawer's diagonal: no rule helps, a larger drawer or leaving it out does."""
    pieces = [piece("bar", 900, 20, 20, group="bars"), piece("pin", 90, 20, 20, group="pins")]
    for told in changes(catalogue(pieces, (), [cabinet(drawer("1"), drawer("2", row=2, slot="no foam"))])):
        assert told.startswith("drawer") or told.endswith("left out")


# -------------------------------------------------------------------------------------------------------- leaving out


def test_of_a_group_only_the_pieces_that_are_to_blame_are_left_out():
    """Two bars of 700 mm among ten short ones."""
    bars = [piece(f"long bar {n}", 700, 20, 20, group="bars") for n in (1, 2)]
    short = [piece(f"bar {n}", 100 + n, 20, 20, group="bars") for n in range(10)]
    other = piece("block", group="blocks")
    outcome, told = confirmed(catalogue([*bars, *short, other], (), [cabinet(drawer("1"), drawer("2", row=2))]), HOUSE)
    assert [(left.group, left.tool, left.count) for left in fits_but_of(outcome)] == [
        ("bars", "long bar 1", 1),
        ("bars", "long bar 2", 1),
    ]
    assert all("left out" not in change for change in told)


def test_a_ready_made_organizer_is_left_out_as_a_whole():
    made = [organizer("wide", width=700), organizer("narrow", width=300)]
    outcome, _ = confirmed(catalogue((), made, [cabinet(drawer("1"), drawer("2", row=2))]), HOUSE)
    assert [(left.group, left.tool, left.whole) for left in fits_but_of(outcome)] == [("wide", "", True)]


def test_the_only_group_is_never_left_out():
    told = changes(catalogue((), [organizer("wide", width=700)], [cabinet(drawer("1"))]))
    assert all("left out" not in change for change in told)


# ----------------------------------------------------------------------------------------------------- other cabinets


def larger(name, width=800):
    return cabinet(replace(drawer("1", width=width), cabinet=name), name=name)


def test_the_next_larger_cabinet_is_named_not_the_largest():
    where = [cabinet(drawer("1")), larger("huge", 1600), larger("wide", 800), larger("same", 580)]
    assert "the cabinet wide instead" in changes(catalogue((), [organizer("tray", width=700)], where))


def test_a_cabinet_that_is_no_larger_is_not_named():
    tall = cabinet(replace(drawer("1", width=300, depth=300, height=300), cabinet="tall"), name="tall")
    known = catalogue((), [organizer("tray", width=250, depth=250, height=200)], [cabinet(drawer("1")), tall])
    assert all("tall" not in change for change in changes(known))


# -------------------------------------------------------------------------------------------------------------- bounds


@pytest.mark.parametrize(("scope", "most"), [("house layout", OPEN), ("", OPEN // 2)])
def test_tries_that_end_open_are_few(scope, most):
    """Thirty groups, and nothing that is tried is ever decided: each of the sorts ends after so many."""
    asked = question(cabinet(drawer("1")), [group(f"g{n}", piece(f"p{n}")) for n in range(30)])
    case, tries = pose(asked, asked.groups, admit), []
    reason = Reason("all-tried", "", scope, tuple(one.name for one in asked.groups))
    assert nearest_change(case, (reason,), admit, lambda one: tries.append(one), leaving_out=True) == ()
    assert 0 < len(tries) <= 5 * most


def test_nothing_that_helps_is_told_as_nothing():
    asked = question(cabinet(drawer("1")), [group("g", piece("p"))])
    case = pose(asked, asked.groups, admit)
    assert nearest_change(case, (Reason("area", "", "any layout"),), admit, lambda one: False, leaving_out=True) == ()


def test_a_cabinet_on_which_the_program_fails_is_passed_over():
    """As no file can give it: its drawer has no width."""
    broken = larger("broken")
    broken = replace(broken, drawers=tuple(replace(box, inside_width=None) for box in broken.drawers))
    known = catalogue((), [organizer("tray", width=700)], [cabinet(drawer("1")), broken, larger("wide")])
    assert "the cabinet wide instead" in changes(known)


def test_who_shows_no_changes_gets_the_same_answer_without_them():
    known = two(share=False)
    asked = ask(known, HOUSE, "set", "cabinet")
    full, short = answer(asked), answer(asked, turns=False)
    assert full.turns
    assert short == replace(full, turns=())
    compared = [compare(known, HOUSE, "set", turns=turns).variants[0].outcome for turns in (True, False)]
    assert [bool(one.turns) for one in compared] == [True, False]
