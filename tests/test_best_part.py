"""The best part of a set that does not go in: a checked plan, what stays outside, what is short, how sure that is."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from matcher.planning.answering import plan, with_best_part
from matcher.planning.outcome import DoesNotFit, Fits, Undecided, drawn, part_of, placed_in
from matcher.records.answered import TriedChange
from matcher.records.given import GroupRule, Pin, Wishes
from matcher.records.units import mm
from matcher.report.document import plan_document
from matcher.report.drawer_states import part_sentence, verdict_sentence
from matcher.report.families import family_colors
from matcher.report.pages.plan_page import plan_page
from matcher.report.pages.poster_view import poster_svg
from matcher.report.poster import poster_of
from matcher.report.poster_places import PosterRoom
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece, sized_piece

ROOM = PosterRoom(900, 590, em=12.5, least=10.5)


def too_long():
    """Two blocks of which one is longer than the only drawer."""
    blocks = [piece("short", 100, 100, 20, group="a"), piece("long", 900, 60, 20, group="b")]
    return with_best_part(plan(catalogue(blocks, (), [cabinet(drawer("1"))]), HOUSE, "set", "cabinet"))


def too_many(**more):
    """Twelve plates of 200 x 200 mm where about half of them go in."""
    plates = [piece(f"plate {n:02}", 200, 200, 20, group="plates") for n in range(12)]
    plates.append(piece("block", 60, 60, 20, group="blocks"))
    boxes = cabinet(*(drawer(str(n), row=n, depth=300) for n in (1, 2)))
    known = catalogue(plates, (), [boxes], **more)
    return with_best_part(plan(known, HOUSE, "set", "cabinet"))


def test_what_goes_in_nowhere_stays_outside_and_that_is_proved():
    outcome = too_long()
    assert isinstance(outcome, DoesNotFit)
    part = part_of(outcome)
    assert [(one.group.name, one.whole, one.tools) for one in part.outside] == [("b", True, 1)]
    lacks = part.outside[0].lacks
    assert lacks.startswith("drawer 1 would have to be ")
    assert lacks.endswith(" mm wider")
    assert part.proved
    assert "Proved" in part_sentence(part)
    assert [placement.group for placement in placed_in(outcome, "1")] == ["a"]
    assert drawn(outcome) is part.answer


def test_a_part_is_the_best_found_and_says_so_unless_proved():
    outcome = too_many()
    part = part_of(outcome)
    out = sum(one.tools for one in part.outside)
    assert 1 < out < 12, "some of the plates go in"
    assert not part.proved
    assert part_sentence(part).endswith("It is not proved that no more goes in.")
    assert verdict_sentence(outcome) == f"Does not fit. {out} of 13 tools stay outside."
    assert {one.lacks for one in part.outside} == {""}


@pytest.mark.parametrize("made", [too_long, too_many])
def test_what_is_inside_and_outside_is_the_whole_set(made):
    outcome = made()
    part, asked = part_of(outcome), outcome.question
    inside = sorted(one.piece.tool for group in part.answer.plan.groups for one in group.pieces)
    outside = [one.piece.tool for left in part.outside for one in left.group.pieces]
    assert sorted([*inside, *outside]) == sorted(row.tool for row in asked.catalogue.pieces)


@pytest.mark.parametrize("made", [too_long, too_many])
def test_a_run_that_leaves_out_what_is_told_has_a_plan(made):
    outcome = made()
    part = part_of(outcome)
    known = outcome.question.catalogue
    assert isinstance(plan(known, HOUSE, "set", "cabinet", wishes=Wishes(without=part.without)), Fits)


def test_a_set_of_which_nothing_goes_in_has_no_part():
    known = catalogue([piece("long", 900, 60, 20, group="b")], (), [cabinet(drawer("1"))])
    outcome = with_best_part(plan(known, HOUSE, "set", "cabinet"))
    assert outcome.verdict == "does not fit"
    assert part_of(outcome) is None
    assert plan_document(outcome)["part"] is None


def test_a_set_that_fits_stays_as_it_is():
    known = catalogue([piece("short", 100, 100, 20, group="a")], (), [cabinet(drawer("1"))])
    outcome = plan(known, HOUSE, "set", "cabinet")
    assert with_best_part(outcome) is outcome


def test_of_an_undecided_set_a_part_is_never_proved():
    refused = replace(too_long(), part=None)
    open_answer = Undecided(refused.question, refused.run, refused.reasons)
    part = part_of(with_best_part(open_answer))
    assert part is not None
    assert not part.proved


def test_joined_groups_are_left_out_by_the_names_of_their_members():
    """Two blocks wanted as one organizer, which is too wide; a third goes in."""
    blocks = [piece(name, 250, 320, 20, group=name) for name in ("a", "b")] + [piece("c", 60, 60, 20, group="c")]
    pin = Pin("set", "cabinet", "together", "a", "b")
    rules = tuple(GroupRule(name, name, 1) for name in "abc")
    known = catalogue(blocks, (), [cabinet(drawer("1", depth=300, width=400))], group_rules=rules, pins=(pin,))
    part = part_of(with_best_part(plan(known, HOUSE, "set", "cabinet")))
    assert part is not None
    assert set(part.without) <= {"a", "b"}
    assert [group.name for group in part.answer.plan.groups] == ["c"]


def test_leaving_out_more_than_the_part_does_is_told_as_the_part():
    outcome = replace(too_many(), part=None, turns=(TriedChange("plates left out", ("plates",)), TriedChange("other")))
    found = with_best_part(outcome)
    part = part_of(found)
    assert [turn.without for turn in found.turns] == [part.without, ()]
    assert found.turns[1].text == "other"
    assert found.change.startswith(f"it would fit with {sum(one.tools for one in part.outside)} tools left out: ")


# ------------------------------------------------------------------------------------------------------------- pictures


def test_what_stays_outside_is_drawn_beside_the_drawers_in_its_familys_color():
    outcome = too_many()
    poster = poster_of(outcome, ROOM)
    drawers = [one.box for one in poster.drawers]
    shelf = poster.outside
    assert [one.group for one in shelf.groups] == ["plates"]
    assert max(box.x + box.width for box in drawers) < poster.beside < shelf.box.x
    assert shelf.groups[0].color == family_colors(outcome.question)["plates"]
    assert len(shelf.groups[0].tools) == sum(one.tools for one in part_of(outcome).outside)
    assert shelf.scale <= poster.scale
    points = [point for one in shelf.groups for line in one.tools for point in line]
    assert min(x for x, _ in points) >= shelf.box.x - 1e-6
    assert max(x for x, _ in points) <= poster.width + 1e-6
    assert max(y for _, y in points) <= poster.height + 1e-6


def test_tools_outside_are_as_long_as_they_are_at_their_scale():
    shelf = poster_of(too_long(), ROOM).outside
    (line,) = shelf.groups[0].tools
    high = max(y for _, y in line) - min(y for _, y in line)
    assert high == pytest.approx(900 * shelf.scale, rel=0.01)
    assert sized_piece(piece("long", 900, 60, 20)).length == mm(900)


def test_no_word_outside_is_smaller_than_the_least():
    words = [word for one in poster_of(too_many(), ROOM).outside.groups for word in one.words]
    assert {word.text for word in words if word.kind == "lacks"} == {"no room left beside the rest"}
    assert min(word.size for word in words) >= ROOM.least


def test_a_ready_made_organizer_outside_is_drawn_as_its_rectangle():
    given = [organizer("small", 200, 200), organizer("wide", 900, 300)]
    outcome = with_best_part(plan(catalogue((), given, [cabinet(drawer("1"))]), HOUSE, "set", "cabinet"))
    (one,) = poster_of(outcome, ROOM).outside.groups
    assert one.group == "wide"
    assert len(one.tools) == 1
    assert part_of(outcome).proved


def test_the_page_shows_the_part_what_is_short_and_the_commands():
    outcome = too_long()
    page = plan_page(outcome)
    assert "Does not fit. 1 of 2 tools stays outside." in page
    assert "drawer 1 would have to be" in page
    assert 'data-outside="b"' in page
    command = "matcher plan CATALOGUE set cabinet --without long"
    assert page.count(command) == 1
    assert plan_document(outcome)["part"]["command"] == command


def test_the_sheet_says_what_it_shows_and_what_would_turn_it():
    outcome = replace(too_many(), turns=(TriedChange("the cabinet big one instead", cabinet="big one"),))
    drawing = poster_svg(outcome)
    texts = " ".join("".join(node.itertext()) for node in ElementTree.fromstring(drawing).iter() if node.text)
    assert "The drawers show the best part that was found." in texts
    assert "It would fit with the cabinet big one instead: matcher plan CATALOGUE set 'big one'" in texts


def test_a_command_leaves_out_again_what_this_run_left_out():
    plates = [piece(f"plate {n}", 200, 200, 20, group="plates") for n in range(2)]
    known = catalogue([*plates, piece("long", 900, 60, 20, group="b")], (), [cabinet(drawer("1"))])
    wishes = Wishes(without=("plate 0",), fill="pack")
    outcome = with_best_part(plan(known, HOUSE, "set", "cabinet", wishes=wishes))
    command = plan_document(outcome)["part"]["command"]
    assert command == "matcher plan CATALOGUE set cabinet --without 'plate 0' --without long ..."
