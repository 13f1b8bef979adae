"""Which drawers could take each group of a plan."""

import pytest

from matcher.planning.answering import plan
from matcher.records.given import Pin, Wishes
from matcher.studies.moves import moves
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece


def could(organizers, drawers, *pins):
    outcome = plan(catalogue(organizers=organizers, cabinets=[cabinet(*drawers)]), HOUSE, "set", "cabinet", pins=pins)
    return {move.group: {place.drawer: place for place in move.places} for move in moves(outcome)}


@pytest.fixture
def drawers():
    """A drawer that takes anything, one too narrow, one too low, one for no foam, one that is blocked."""
    return [
        drawer("wide", row=1, width=500, depth=400, height=60),
        drawer("narrow", row=2, width=150, depth=400, height=60),
        drawer("low", row=3, width=500, depth=400, height=20),
        drawer("bare", row=4, width=500, depth=400, height=60, slot="no foam"),
        drawer("blocked", row=5, width=500, depth=400, height=60, slot="blocked"),
        drawer("too", row=6, width=500, depth=400, height=60),
    ]


def test_every_other_usable_drawer_says_whether_it_takes_the_group_or_what_is_short(drawers):
    (places,) = could([organizer("g", width=200, depth=300, height=30)], drawers).values()
    own = next(name for name in ("wide", "too") if name not in places)
    other = "too" if own == "wide" else "wide"
    assert {name: (place.takes, place.told) for name, place in places.items()} == {
        other: (True, "goes in"),
        "narrow": (False, "would have to be 53.2 mm wider"),
        "low": (False, "would have to be 13.0 mm higher inside"),
        "bare": (False, "takes no foam"),
    }


def test_wishes_that_keep_a_group_out_or_a_drawer_free_count(drawers):
    made = [organizer("g", width=200, depth=300, height=30)]
    out = could(made, drawers, Pin("not in", group="g", drawer="too"))["g"]["too"]
    free = could(made, drawers, Pin("keep free", drawer="too"))["g"]["too"]
    assert (out.takes, out.told) == (False, "a wish keeps it out")
    assert (free.takes, free.told) == (False, "kept free")


def test_a_group_that_is_pinned_may_still_be_moved(drawers):
    pinned = could([organizer("g", width=200, depth=300, height=30)], drawers, Pin("in", group="g", drawer="too"))
    assert pinned["g"]["wide"].takes


def test_groups_that_were_joined_move_by_the_name_of_one():
    rows = [piece(f"{group} {n}", 60, 20, 20, group=group) for group in "ab" for n in range(3)]
    boxes = [drawer(name, row=row, width=500, depth=400, height=80) for row, name in enumerate("12", start=1)]
    known = catalogue(rows, cabinets=[cabinet(*boxes)])
    wishes = Wishes(pins=(Pin("together", group="a", other="b"),))
    outcome = plan(known, HOUSE, "set", "cabinet", wishes=wishes)
    (move,) = moves(outcome)
    assert move.name in ("a", "b")
    pinned = Wishes(pins=(*wishes.pins, Pin("in", group=move.name, drawer=move.takers[0].drawer)))
    (moved,) = moves(plan(known, HOUSE, "set", "cabinet", wishes=pinned))
    assert (moved.group, moved.drawer) == (move.group, move.takers[0].drawer)


def test_without_a_plan_nothing_is_moved(drawers):
    assert could([organizer("g", width=600, depth=300, height=30)], drawers) == {}
