"""Every code of a refusal, checked by what it says: apply the change it names, and the verdict turns."""

from __future__ import annotations

from dataclasses import replace

import pytest

from matcher.planning.answering import plan
from matcher.planning.outcome import DoesNotFit, Outcome, Undecided, reasons_of
from matcher.records.answered import Reason
from matcher.records.given import Catalogue, GroupRule, Piece, Pin
from matcher.records.units import kg, mm, show_kg
from matcher.tools.dimensions import sized
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.changed import confirmed, resized, without


def refused(known: Catalogue) -> DoesNotFit:
    """The refusal, after every change that it names was made and gave a plan."""
    outcome, _ = confirmed(known)
    assert isinstance(outcome, DoesNotFit)
    return outcome


def only(outcome: Outcome, code: str) -> Reason:
    (reason,) = reasons_of(outcome)
    assert reason.code == code
    return reason


def fits(known: Catalogue) -> bool:
    return plan(known, HOUSE, "set", "cabinet").verdict == "fits"


# --------------------------------------------------------------------------------------------------------------- short


@pytest.mark.parametrize(
    ("side", "words", "size"),
    [
        ("inside_width", "43.2 mm wider", {"width": 600}),
        ("inside_depth", "33.2 mm longer front to back", {"depth": 430}),
        ("clear_height", "23.0 mm higher inside", {"height": 120}),
    ],
)
def test_short_is_exact_to_the_unit(side: str, words: str, size: dict[str, int]) -> None:
    """One drawer of 560 x 400 x 100 mm: larger by what is short it takes the organizer, by a unit less it does not."""
    known = catalogue((), [organizer("tray", **size)], [cabinet(drawer("1"), drawer("2", row=2, width=300, height=50))])
    reason = only(refused(known), "short")
    assert reason.scope == "any layout"
    assert "goes into no drawer for foam; the nearest is 1, " in reason.text
    assert reason.text.endswith(f"which would have to be {words}")
    assert reason.short
    assert fits(resized(known, "1", side, reason.short))
    assert not fits(resized(known, "1", side, reason.short - 1))


def test_every_side_that_is_short_is_named() -> None:
    """600 x 380 x 120 mm for 560 x 400 x 100: 43.2 mm in width, 23 in height; the one alone does not help."""
    known = catalogue(
        (),
        [organizer("tray", width=600, height=120), organizer("low")],
        [cabinet(drawer("1"), drawer("2", row=2, height=60))],
    )
    reason = only(refused(known), "short")
    assert reason.text.endswith("the nearest is 1, which would have to be 43.2 mm wider and 23.0 mm higher inside")
    wider = resized(known, "1", "inside_width", mm(43.2))
    assert not fits(wider)
    assert fits(resized(wider, "1", "clear_height", mm(23)))


def test_all_that_is_short_is_made_good_at_once() -> None:
    """No single drawer helps both: one lacks width, the other height."""
    made = [organizer("wide", width=600, height=40, tier=1), organizer("high", width=300, height=120, tier=2)]
    known = catalogue((), made, [cabinet(drawer("1", height=45), drawer("2", row=2, width=320))])
    outcome = refused(known)
    assert [reason.code for reason in outcome.reasons] == ["short", "short"]
    assert "drawer 1 43.2 mm wider and drawer 2 23.0 mm higher inside" in outcome.change


def test_pieces_that_alone_keep_a_group_out_are_named() -> None:
    pieces = [piece("pry bar", length=700, width=40, height=30, group="bars"), piece("rod", length=90, group="bars")]
    known = catalogue(pieces, (), [cabinet(drawer("1"), drawer("2", row=2))])
    reason = only(refused(known), "short")
    assert reason.text.startswith("bars (pry bar): goes into no drawer for foam; the nearest is 1, ")


def test_a_case_is_told_to_want_a_drawer_without_foam() -> None:
    boxes = cabinet(drawer("1"), drawer("2", row=2, slot="no foam"))
    case = piece("drill case", kind="cased", length=700, width=300, height=90)
    assert (
        "goes into no drawer without foam; the nearest is 2, "
        in only(refused(catalogue([case], (), [boxes])), "short").text
    )
    bare = plan(catalogue([case], (), [cabinet(drawer("1"))]), HOUSE, "set", "cabinet")
    assert only(bare, "too-few-drawers").text == "drill case: the cabinet has no drawer without foam"


def test_groups_that_lack_the_same_in_the_same_drawer_are_told_in_one_sentence() -> None:
    """Six are 100 to 150 mm too wide for the only drawer; the one that is too high is told by itself."""
    wide = [organizer(f"g{n}", width=660 + 10 * n - 6.8) for n in range(6)]
    known = catalogue((), [*wide, organizer("high", height=120)], [cabinet(drawer("1"))])
    outcome = plan(known, HOUSE, "set", "cabinet")
    tall, six = sorted(reasons_of(outcome), key=lambda reason: len(reason.groups))
    assert six.groups == tuple(f"g{n}" for n in range(6))
    assert six.text == (
        "g0, g1, g2, g3, g4 and g5: go into no drawer for foam; the nearest is 1, which would have to be "
        "up to 146.4 mm wider"
    )
    assert (six.short, tall.groups) == (mm(146.4), ("high",))
    assert isinstance(outcome, DoesNotFit)


def test_equal_lacks_are_told_without_up_to() -> None:
    made = [organizer(name, height=120) for name in ("a", "b")]
    reason = only(plan(catalogue((), made, [cabinet(drawer("1"))]), HOUSE, "set", "cabinet"), "short")
    assert reason.text.endswith(
        "a and b: go into no drawer for foam; the nearest is 1, which would have to be 23.0 mm higher inside"
    )


def test_groups_that_have_no_drawer_of_their_kind_are_told_together() -> None:
    cases = [piece(f"case {n}", kind="cased", group=f"case {n}") for n in range(3)]
    reason = only(plan(catalogue(cases, (), [cabinet(drawer("1"))]), HOUSE, "set", "cabinet"), "too-few-drawers")
    assert reason.text.startswith("case 0, case 1 and case 2: the cabinet has no drawer without foam")


def test_groups_that_are_too_heavy_are_told_together() -> None:
    made = [organizer(name, mass=kg(mass)) for name, mass in (("a", 26), ("b", 30))]
    reason = only(
        plan(catalogue((), made, [cabinet(drawer("1", load_rating=kg(20)))]), HOUSE, "set", "cabinet"), "load"
    )
    assert (
        reason.text == "a and b: too heavy for every drawer for foam; the nearest is 1, up to 10.0 kg over its rating"
    )


# ----------------------------------------------------------------------------------------------------- too-few-drawers


def three_in_two(**more: str) -> Catalogue:
    """Three organizers of different families for the two drawers that take them; the third drawer is 60 mm high."""
    made = [organizer(name, height=80, tier=1, family=name) for name in ("a", "b", "c")]
    low = organizer("low", height=40, tier=2, family="low")
    boxes = cabinet(drawer("1"), drawer("2", row=2), drawer("3", row=3, height=60), drawer("4", row=4, height=60))
    return catalogue((), [*made, low], [boxes])


def test_too_few_drawers_names_groups_and_drawers_of_which_each_counts() -> None:
    """Hall (1935): three groups have two drawers between them. One drawer more, or any of the groups out, and it
    fits; the fourth group and the low drawers are not to blame."""
    known = three_in_two()
    reason = only(refused(known), "too-few-drawers")
    assert (reason.groups, reason.drawers) == (("a", "b", "c"), ("1", "2"))
    assert (
        "3 groups, no two of which can share a drawer, have only 2 drawers between them (1, 2): a, b, c" in reason.text
    )
    assert all(fits(without(known, group)) for group in reason.groups)
    assert not fits(without(known, "low"))
    (held,) = known.cabinets
    more = cabinet(*held.drawers, drawer("5", row=5))
    assert fits(replace(known, cabinets=(more,)))


def test_the_nearest_other_drawer_is_as_far_as_it_says() -> None:
    """80 mm organizer and 3 mm above it in a drawer of 60 mm: 23 mm."""
    known = three_in_two()
    reason = only(refused(known), "too-few-drawers")
    assert reason.short == mm(23)
    assert fits(resized(known, "3", "clear_height", mm(23)))
    assert not fits(resized(known, "3", "clear_height", mm(23) - 1))


# ---------------------------------------------------------------------------------------------------------- load, area


def test_a_load_over_every_rating_is_over_by_what_it_says() -> None:
    known = catalogue((), [organizer("tray", mass=kg(26))], [cabinet(drawer("1", load_rating=kg(20)))])
    reason = reasons_of(plan(known, HOUSE, "set", "cabinet"))[0]
    assert (reason.code, reason.drawers) == ("load", ("1",))
    assert "6.0 kg over its rating" in reason.text
    assert fits(resized(known, "1", "load_rating", kg(6)))
    assert not fits(resized(known, "1", "load_rating", kg(6) - 1))


def test_loads_in_sum_beyond_all_ratings() -> None:
    """Three of 8 kg share two drawers of 11 kg by size, 24 kg against 22; two more kilograms of rating do not do it, as
    one drawer holds two: 16 kg."""
    made = [organizer(name, width=180, mass=kg(8), family="f", tier=1) for name in ("a", "b", "c")]
    boxes = cabinet(drawer("1", load_rating=kg(11)), drawer("2", row=2, load_rating=kg(11)))
    known = catalogue((), made, [boxes])
    reason = only(refused(known), "load")
    assert reason.text == "the set weighs 24.0 kg; the drawers are rated 22.0 kg in all"
    assert fits(resized(known, "1", "load_rating", kg(5)))
    assert all(fits(without(known, group)) for group in ("a", "b", "c"))


def test_areas_in_sum_beyond_all_drawers() -> None:
    """Seven blocks of 250 x 180 mm, each a group of one family: two rows of two go into a drawer, not three."""
    names = [f"g{n}" for n in range(6)]
    blocks = [piece(name, length=180, width=250, group=name) for name in names]
    rules = tuple(GroupRule(name, "family", 1, share=True) for name in names)
    known = catalogue(blocks, (), [cabinet(drawer("1"))], group_rules=rules)
    reason = only(refused(known), "area")
    assert reason.scope == "house layout"
    assert "too few by area" in reason.text
    assert "about 1 drawer of their size missing" in reason.text
    (held,) = known.cabinets
    assert fits(replace(known, cabinets=(cabinet(*held.drawers, drawer("2", row=2), drawer("3", row=3)),)))


# ----------------------------------------------------------------------------------------------------- pins, all-tried


def test_pins_that_contradict_are_a_smallest_set() -> None:
    """Lift any of them and it fits; the one that has nothing to do with it is not named."""
    pins = (
        Pin("in", group="a", drawer="1"),
        Pin("keep free", drawer="1"),
        Pin("not in", group="b", drawer="3"),
    )
    made = [organizer(name, tier=1, family=name) for name in ("a", "b")]
    boxes = cabinet(*(drawer(str(row), row=row) for row in (1, 2, 3)))
    known = catalogue((), made, [boxes], pins=pins)
    reason = reasons_of(plan(known, HOUSE, "set", "cabinet"))[0]
    assert reason.code == "pins"
    assert "a in drawer 1; keep drawer 1 free" in reason.text
    assert "drawer 3" not in reason.text
    assert all(fits(replace(known, pins=tuple(pin for pin in pins if pin is not lifted))) for lifted in pins[:2])
    assert not fits(replace(known, pins=pins[:2]))


def test_all_tried_is_a_set_of_which_none_can_be_spared() -> None:
    """270 mm wide: two go side by side into 556.8 mm, three do not; no sum of area or load tells, the search does. The
    fourth shares with none, so it takes a drawer from the others."""
    made = [organizer(name, width=270, family="f", tier=1) for name in ("a", "b", "c")]
    known = catalogue(
        (),
        [*made, organizer("d", width=100, family="g", tier=1)],
        [cabinet(drawer("1"), drawer("2", row=2))],
        group_rules=(GroupRule("d", share=False),),
    )
    reason = only(refused(known), "all-tried")
    assert reason.groups == ("a", "b", "c", "d")
    assert reason.text.startswith(
        "4 groups do not all go into the 2 drawers that take any of them (1, 2), alone or side by side, every way "
        "tried: a, b, c, d"
    )
    assert all(fits(without(known, group)) for group in reason.groups)


# ----------------------------------------------------------------------------------------------------------- undecided


def test_masses_on_both_sides_of_a_rating_stay_undecided_until_weighed() -> None:
    """A pry bar by its size alone weighs between 0.6 of an upper bound and that bound (common practice): a rating of
    0.8 of it says neither yes nor no, the weight does."""
    bar = Piece("set", "pry bar", "pry bar", 1, size="300 mm", group="bar")
    heaviest = sized(bar).mass_high
    rated = heaviest * 4 // 5
    known = catalogue([bar], (), [cabinet(drawer("1", load_rating=rated))])
    outcome = plan(known, HOUSE, "set", "cabinet")
    assert isinstance(outcome, Undecided)
    reason, missing = outcome.reasons
    assert "enough by area alone" in missing.text
    assert f"{show_kg(heaviest - rated)} over the nearest load rating, by the low one not: weigh" in reason.text
    weighed = [replace(known, pieces=(replace(bar, mass=mass),)) for mass in (rated, rated + 1)]
    assert [plan(one, HOUSE, "set", "cabinet").verdict for one in weighed] == ["fits", "does not fit"]


def test_open_groups_with_the_same_drawers_are_told_in_one_sentence() -> None:
    bars = [Piece("set", f"bar {n}", "pry bar", 1, size="300 mm", group=f"bar {n}") for n in range(3)]
    rated = sized(bars[0]).mass_high * 4 // 5
    boxes = cabinet(*(drawer(str(n), row=n, load_rating=rated) for n in (1, 2, 3)))
    outcome = plan(catalogue(bars, (), [boxes]), HOUSE, "set", "cabinet")
    assert isinstance(outcome, Undecided)
    reason, _ = outcome.reasons
    assert reason.groups == ("bar 0", "bar 1", "bar 2")
    assert reason.text.startswith("bar 0, bar 1 and bar 2: by the high bound of their estimated mass ")


def test_a_group_too_large_for_one_drawer_in_whatever_parts_is_refused_by_its_area() -> None:
    """Three blocks of 300 x 250 mm ask for more than 350 x 620 mm, flat and with webs; on edge a tool might go in."""
    blocks = [
        Piece("set", f"block {n}", "other", 1, length=mm(300), width=mm(250), height=mm(20), group="blocks")
        for n in range(3)
    ]
    outcome = plan(catalogue(blocks, (), [cabinet(drawer("1", width=350, depth=620))]), HOUSE, "set", "cabinet")
    assert isinstance(outcome, DoesNotFit)
    (reason,) = outcome.reasons
    assert (reason.code, reason.scope) == ("area", "house layout")
    assert "however groups are divided" in reason.text


def test_pieces_that_are_open_by_themselves_are_no_proof_together() -> None:
    """A block alone is neither laid out nor excluded in such a drawer; nor are then two of them in two drawers."""
    blocks = [
        Piece("set", f"block {n}", "other", 1, length=mm(300), width=mm(250), height=mm(20), group="blocks")
        for n in range(2)
    ]
    pair = [drawer(str(row), width=350, depth=300, row=row) for row in (1, 2)]
    alone = plan(catalogue(blocks[:1], (), [cabinet(*pair[:1])]), HOUSE, "set", "cabinet")
    both = plan(catalogue(blocks, (), [cabinet(*pair)]), HOUSE, "set", "cabinet")
    assert (alone.verdict, both.verdict) == ("undecided", "undecided")
