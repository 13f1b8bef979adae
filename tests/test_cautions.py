"""Cautions of a plan, from catalogue records to words.

The cabinet is the hand-derived tip case of test_stability.py in records: front contacts 2 in behind the faces, 20 in
apart; empty cabinet 276 lb (180 lb case, eight drawers of 12 lb); drawers 22 in deep with 20 in of travel.
"""

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.cautions.every_caution import LEVELS, cautions
from matcher.cautions.wording import listed
from matcher.house.reading import default_house, read_house
from matcher.records.answered import Placement, Plan
from matcher.records.errors import CatalogueError
from matcher.records.given import Cabinet, Drawer, Organizer, Piece
from matcher.records.laid_out import Group, SizedPiece
from matcher.records.units import PER_INCH, inch, kg, lb, mm

HOUSE = default_house()
HEIGHTS = (38, 34, 30, 26, 22, 18, 13, 8)
CONTENTS = (20, 30, 40, 50, 60, 60, 80, 100)
RATING = 400


def cabinet(**changes):
    boxes = tuple(
        Drawer(
            "C",
            str(row),
            bank=1,
            last_bank=1,
            row=row,
            inside_width=inch(20),
            inside_depth=inch(22),
            clear_height=inch(3),
            load_rating=lb(RATING),
            rating_basis="contents",
            above_ground=inch(height) - inch(3) // 2,
            mass=lb(12),
            travel=inch(20),
        )
        for row, height in enumerate(HEIGHTS, 1)
    )
    given_values = {
        "width": inch(27),
        "depth": inch(24),
        "height": inch(40),
        "mass": lb(276),
        "load_rating": lb(1000),
        # (180 x 10 + 96 x 9) / 276 behind the contact line
        "cg_depth": inch(2) + PER_INCH * 2664 // 276,
        # (180 x 20 + 12 x the sum of the drawers' heights, 189) / 276
        "cg_height": PER_INCH * 5868 // 276,
        "contact_front": inch(2),
        "contact_span": inch(20),
        "caster_load": lb(300),
    }
    return Cabinet("C", boxes, **(given_values | changes))


def of_drawers(found, **changes):
    return replace(found, drawers=tuple(replace(box, **changes) for box in found.drawers))


def group(name, low, high=None, **piece):
    pounds = lb(low), lb(low if high is None else high)
    sized = SizedPiece(Piece("S", f"tool of {name}", "other", 1, **piece), 1, 1, 1, None, *pounds, 0, "measured", "")
    return Group(name, "f", 1, "", True, True, False, (sized,), None, *pounds, None)


def placed(name, drawer, how="new", **changes):
    place = Placement(name, drawer, how, how, how, 0, 0, inch(19), inch(21), inch(2), 0, 0)
    return replace(place, **changes)


def plan(contents=CONTENTS, **piece):
    """Groups of these pounds (or bounds) in the drawers from the top; 0 leaves one free."""
    masses = [mass if isinstance(mass, tuple) else (mass, mass) for mass in contents]
    used = [(str(row), *mass) for row, mass in enumerate(masses, 1) if mass[1]]
    return Plan(
        "S",
        "C",
        "spread",
        groups=tuple(group(f"group {row}", low, high, **piece) for row, low, high in used),
        placements=tuple(placed(f"group {row}", row) for row, _, _ in used),
        free_drawers=tuple(str(row) for row, mass in enumerate(masses, 1) if not mass[1]),
    )


def texts(found_cabinet, found_plan, code, level=None, house=HOUSE):
    found = cautions(found_cabinet, found_plan, house)
    return [one.text for one in found if one.code == code and level in (None, one.level)]


def one_loaded(pounds):
    """All else free: the nearly empty cabinet with one loaded drawer at the bottom."""
    return plan((0,) * 7 + (pounds,))


# -------------------------------------------------------------------------------------------------------- tip checks


def test_full_cabinet_stands_with_its_margin_in_words():
    # 4384 lb.in / 22 in = 199.3 lbf with drawer 8 open
    (text,) = texts(cabinet(), plan(), "TIP-1")
    assert "886 N (199 lbf)" in text
    assert "drawer 8" in text
    assert texts(cabinet(), plan(), "TIP-1", "info") == [text]


def test_how_many_may_be_open():
    # any three of the heaviest; the four heaviest tip by 336 lb.in
    (text,) = texts(cabinet(), plan(), "TIP-N", "info")
    assert text.startswith("Open at most 3 at a time")
    assert "drawers 8, 7, 5 and 6 open it tips" in text
    assert "one drawer at a time" in text


@pytest.mark.parametrize(("pounds", "start"), [(200, "Open at most 1 at a time"), (221, "Open none")])
def test_fewer_than_two_open_is_a_caution(pounds, start):
    """Case G: 224 lb.in are left at 200 lb, and opening an empty drawer costs 240."""
    assert texts(cabinet(), one_loaded(pounds), "TIP-N", "caution")[0].startswith(start)


def test_how_many_may_be_open_with_the_assumed_center_further_forward():
    # M0 = 2760 + 530 x 9 = 7530; the three heaviest cost 366 x 20 = 7320; 1 in further forward costs 276 more
    heavier = plan((*CONTENTS[:7], 190))
    assert texts(cabinet(cg_depth=inch(12)), heavier, "TIP-N")[0].startswith("Open at most 3")
    assert texts(cabinet(cg_depth=None), heavier, "TIP-N")[0].startswith("Open at most 2")


def test_all_may_be_open_where_travel_is_short():
    (text,) = texts(of_drawers(cabinet(), travel=inch(5)), plan(), "TIP-N", "info")
    assert "all 8 drawers" in text


@pytest.mark.parametrize(
    ("pounds", "event"),
    # M = 2424 - 11 q: push 224 / 22 = 10.2 lbf at q = 200; tips beyond q = 220.4
    [(200, "45 N (10 lbf)"), (221, "tips over by itself")],
)
def test_nearly_empty_cabinet_is_an_error(pounds, event):
    (text,) = texts(cabinet(), one_loaded(pounds), "TIP-1", "error")
    assert text.startswith(f"With drawer 8 open, holding {pounds:.1f} lb")
    assert event in text


def test_a_cabinet_that_fails_empty_is_to_be_anchored():
    # 276 lb with its center 4 in behind the line: M = 276 x 4 - 12 x 20 = 864, 39 lbf with any drawer open
    (text,) = texts(cabinet(cg_depth=inch(6)), plan((0,) * 8), "TIP-1", "error")
    assert "empty as planned" in text
    assert "(39 lbf)" in text
    assert "fails for every other drawer. Anchor the cabinet" in text


def test_push_threshold_is_the_house_rule():
    # q = 120.36: M = 1100.04, push 50.002 lbf stands; q = 120.4 does not. 50 lb: ASTM F2057, older editions, borrowed.
    assert texts(cabinet(), one_loaded(120.36), "TIP-1", "error") == []
    assert "50 lbf" in texts(cabinet(), one_loaded(120.40), "TIP-1", "error")[0]
    easy = replace(HOUSE, tip=replace(HOUSE.tip, push_n=1.0))
    assert texts(cabinet(), one_loaded(200), "TIP-1", "error", easy) == []


def test_turned_swivel_casters_take_their_trail():
    # q = 200 leaves 224 lb.in; a trail of 1.5 in takes 476 x 1.5 = 714 more
    assert "by itself" in texts(cabinet(caster_trail=PER_INCH * 3 // 2), one_loaded(200), "TIP-1", "error")[0]


def test_one_loaded_drawer_alone_is_a_caution_where_the_full_cabinet_stands():
    # drawer 8 at 150 lb: full cabinet M = 6624 + 50 x 9 - 162 x 20 = 3834; alone 2424 - 1650 = 774, 35 lbf
    (text,) = texts(cabinet(), plan((*CONTENTS[:7], 150)), "TIP-2", "caution")
    assert "every other drawer empty" in text
    assert "(35 lbf)" in text
    assert texts(cabinet(), plan((*CONTENTS[:7], 150)), "TIP-1", "error") == []
    assert texts(cabinet(), plan(), "TIP-2") == []  # 100 lb alone: 1324 / 22 = 60 lbf


def test_free_drawers_are_tested_empty_and_at_their_rating():
    half = plan((0, *CONTENTS[1:]))
    # drawer 1 at 400 lb: M = 6444 + 400 x 9 - 412 x 20 = 1804, 82 lbf, stands; at 600 lb it tips
    assert texts(cabinet(), half, "TIP-1", "caution") == []
    (text,) = texts(of_drawers(cabinet(), load_rating=lb(600)), half, "TIP-1", "caution")
    assert text.startswith(
        "If a free drawer is loaded to its full rating, the cabinet can tip: with drawer 1 open, holding 600.0 lb"
    )
    # alone at 400 lb it tips: 2424 - 4400 < 0
    assert texts(cabinet(), half, "TIP-2", "caution")[0].startswith(
        "If a free drawer is loaded to its full rating and nothing"
    )


def test_free_drawers_at_their_rating_with_the_assumed_center_further_forward():
    # 460 lb in drawer 1: M = 2760 + 420 x 9 + 460 x 9 - 472 x 20 = 1240, 56 lbf; 964, 44 lbf further forward
    rated, half = of_drawers(cabinet(), load_rating=lb(460)), plan((0, *CONTENTS[1:]))
    assert texts(replace(rated, cg_depth=inch(12)), half, "TIP-1", "caution") == []
    assert "(44 lbf)" in texts(replace(rated, cg_depth=None), half, "TIP-1", "caution")[0]


def test_free_drawers_without_rating_are_named():
    found = texts(of_drawers(cabinet(), load_rating=None), plan((0, *CONTENTS[1:])), "DATA")
    assert any("drawer 1 (free) loaded by the buyer not evaluated" in text for text in found)


def test_masses_count_at_their_worse_bound():
    # exact 120 lb stands (50.2 lbf); 120 to 130 lb does not: the open drawer counts 130
    assert texts(cabinet(), plan((0,) * 7 + ((120, 130),)), "TIP-1", "error")
    # what is closed counts low: 0 to 100 lb elsewhere restores nothing
    assert texts(cabinet(), plan((*((0.001, 100),) * 7, 200)), "TIP-1", "error")


def test_slope():
    # heavy low, one open 16.95 degrees; case D has 4.39; the house threshold is 10
    assert texts(cabinet(), plan(), "TIP-S") == []
    strict = replace(HOUSE, tip=replace(HOUSE.tip, slope_deg=17.0))
    assert "16.9 degrees" in texts(cabinet(), plan(), "TIP-S", "caution", strict)[0]
    assert "13.6 degrees" in texts(cabinet(), plan(CONTENTS[::-1]), "TIP-S", "caution", strict)[0]


def test_no_slope_is_named_where_it_tips_on_a_level_floor():
    assert texts(cabinet(), one_loaded(221), "TIP-S") == []


def test_unknown_center_is_assumed_at_mid_depth_and_further_forward():
    unknown = cabinet(cg_depth=None, cg_height=None)
    assumed = next(text for text in texts(unknown, plan(), "DATA") if text.startswith("The tip checks assume"))
    assert "mid-depth (12 in behind" in assumed
    assert "for the margin 1 in further forward" in assumed
    # mid-depth of 24 in is 10 in behind the line: M = 276 x 10 - 240 - 11 q; 1 in further forward takes 276 off.
    # q = 125: 1145 / 22 = 52.0 lbf stands, 869 / 22 = 39.5 lbf does not.
    assert texts(unknown, one_loaded(125), "TIP-1", "error") == []
    assert any("(40 lbf)" in text for text in texts(unknown, one_loaded(125), "TIP-1", "caution"))


def test_chest_on_a_base_is_said_to_be_one_stack():
    assumed = [text for text in texts(cabinet(stands_on="B 40"), plan(), "DATA") if "assume" in text]
    assert "chest and B 40 under it are one stack" in assumed[0]


MISSING = {
    "the cabinet's mass": {"mass": None},
    "front contact line": {"contact_front": None},
    "the depth of the cabinet or of its center of gravity": {"depth": None, "cg_depth": None},
}


@pytest.mark.parametrize(("named", "changes"), MISSING.items(), ids=MISSING)
def test_missing_data_is_named_and_never_passed(named, changes):
    check_not_evaluated(cabinet(**changes), plan(), named)


@pytest.mark.parametrize("what", ["mass", "travel"])
def test_missing_drawer_data_is_named(what):
    check_not_evaluated(of_drawers(cabinet(), **{what: None}), plan(), f"the {what} of every drawer")
    boxes = cabinet().drawers
    partly = cabinet()
    partly = replace(partly, drawers=(*boxes[:6], *(replace(box, **{what: None}) for box in boxes[6:])))
    check_not_evaluated(partly, plan(), f"the {what} of drawers 7 and 8")


def test_unknown_mass_of_a_group_is_named():
    """A ready-made organizer whose mass was not given has mass 0."""
    organizer = Organizer("S", "tray", mm(500), mm(500), mm(50))
    blank = Group("tray", "f", 1, "", True, False, False, (), organizer, 0, 0, None)
    unknown = Plan("S", "C", "spread", (blank,), (placed("tray", "3", "as is"),), ())
    check_not_evaluated(cabinet(), unknown, "the mass of tray")
    assert any("Load of drawer 3 not evaluated: mass of tray" in text for text in texts(cabinet(), unknown, "DATA"))


def test_contradicting_masses_are_not_evaluated():
    check_not_evaluated(cabinet(mass=lb(96)), plan(), "drawers are said to weigh as much as the whole cabinet")


def check_not_evaluated(found_cabinet, found_plan, named):
    found = cautions(found_cabinet, found_plan, HOUSE)
    assert any(
        one.code == "DATA"
        and one.level == "info"
        and one.text.startswith("Tip check not evaluated")
        and named in one.text
        for one in found
    )
    assert not any(one.code.startswith("TIP") for one in found)


def test_slope_without_heights_is_not_evaluated_but_the_level_floor_is():
    lost = of_drawers(cabinet(height=None, cg_height=None), above_ground=None)
    (text,) = [text for text in texts(lost, plan(), "DATA") if "sloping" in text]
    assert "center of gravity" in text
    assert "above the ground of every drawer" in text
    assert texts(lost, plan(), "TIP-1") == texts(cabinet(), plan(), "TIP-1")


def test_a_cabinet_whose_drawers_are_all_blocked_has_no_tip_check():
    empty = Plan("S", "C", "spread", (), (), ())
    found = cautions(of_drawers(cabinet(), slot="blocked"), empty, HOUSE)
    assert not any(one.code.startswith("TIP") or "Tip check" in one.text for one in found)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(0, 300), min_size=8, max_size=8), st.integers(0, 7), st.integers(1, 200))
def test_more_load_in_one_drawer_never_clears_its_own_error(contents, place, more):
    """Opening drawer p alone costs more than its closed contents restore, travel being longer than half the depth."""
    heavier = [mass + more * (at == place) for at, mass in enumerate(contents)]
    alone = [mass if at == place else 0 for at, mass in enumerate(contents)]
    alone_heavier = [mass if at == place else 0 for at, mass in enumerate(heavier)]
    if texts(cabinet(), plan(alone), "TIP-1", "error"):
        assert texts(cabinet(), plan(alone_heavier), "TIP-1", "error")


# ------------------------------------------------------------------------------------------------------------- loads


@pytest.mark.parametrize(
    ("grams", "level"), [(79_999, None), (80_000, "caution"), (100_000, "caution"), (100_001, "error")]
)
def test_drawer_load_against_its_rating(grams, level):
    """A caution from 80 % on, an error above the rating."""
    rated = of_drawers(cabinet(), load_rating=kg(100))
    held = replace(group("a", 1), mass_low=grams * 100_000, mass_high=grams * 100_000)
    found = cautions(rated, Plan("S", "C", "spread", (held,), (placed("a", "1"),), ()), HOUSE)
    assert [one.level for one in found if one.code == "LOAD-D"] == [level] * (level is not None)


def test_groups_sharing_a_drawer_add_up():
    shared = Plan(
        "S", "C", "spread", (group("a", 250), group("b", 200)), (placed("a", "1"), placed("b", "1")), tuple("2345678")
    )
    assert "450.0 lb" in texts(cabinet(), shared, "LOAD-D", "error")[0]


def test_rating_basis_is_stated_or_asked_for():
    full = plan((390, *CONTENTS[1:]))
    assert "rating basis: contents" in texts(cabinet(), full, "LOAD-D")[0]
    assert "rating basis not given: ask" in texts(of_drawers(cabinet(), rating_basis=""), full, "LOAD-D")[0]


def test_a_rating_of_moving_mass_includes_the_drawer():
    moving = of_drawers(cabinet(), rating_basis="moving mass, static")
    assert texts(moving, plan((390, *CONTENTS[1:])), "LOAD-D", "error")  # 390 + 12 > 400
    lost = of_drawers(moving, mass=None)
    assert any("drawer's own mass" in text for text in texts(lost, plan((390, *CONTENTS[1:])), "DATA"))
    assert texts(lost, plan((401, *CONTENTS[1:])), "LOAD-D", "error")  # too much even without it


def test_bounds_on_both_sides_of_the_rating_ask_for_a_scale():
    (text,) = texts(cabinet(), plan(((390, 410), *CONTENTS[1:])), "LOAD-D", "error")
    assert "390.0 to 410.0 lb" in text
    assert "weigh the pieces" in text


def test_no_rating_is_not_evaluated():
    unrated = of_drawers(cabinet(load_rating=None, caster_load=None), load_rating=None)
    found = texts(unrated, plan(), "DATA")
    assert "Load against rating not evaluated for drawers 1, 2, 3, 4, 5, 6, 7 and 8: no load rating given." in found
    assert "Load of the whole cabinet not evaluated: the cabinet's load rating not given." in found
    assert "Caster load not evaluated: the load rating of a caster not given." in found


def test_cabinet_load_counts_gross_and_says_so():
    # 440 lb of contents + 276 lb
    assert texts(cabinet(load_rating=lb(717)), plan(), "LOAD-C") == []
    assert "contents alone, 440.0 lb is within it" in texts(cabinet(load_rating=lb(715)), plan(), "LOAD-C", "error")[0]
    assert "drawers together carry 440.0 lb" in texts(cabinet(load_rating=lb(439)), plan(), "LOAD-C", "error")[0]
    # contents above the rating are too much whatever the cabinet weighs
    assert texts(cabinet(load_rating=lb(439), mass=None), plan(), "LOAD-C", "error")


@pytest.mark.parametrize(("pounds", "errors"), [(238, 1), (248.3, 1), (248.5, 0)])
def test_casters(pounds, errors):
    """A third of 716 lb is 238.7 lb, but with the heaviest drawer open a front caster carries 248.4 lb."""
    found = texts(cabinet(caster_load=lb(pounds)), plan(), "LOAD-C", "error")
    assert len(found) == errors
    assert all("248.4 lb at the front with drawer 8 open" in text for text in found)


def test_rule_of_three_needs_no_contact_lines():
    """The rule (cart + load) / 3 for four casters: a caster load FAQ. The open-drawer check is named as missing."""
    lost = cabinet(caster_load=lb(238), contact_span=None)
    assert "if only three casters touch" in texts(lost, plan(), "LOAD-C", "error")[0]
    wider = plan(((20, 30), *CONTENTS[1:]))  # 726 lb at most
    assert texts(replace(lost, caster_load=lb(240)), wider, "LOAD-C", "error")
    found = texts(replace(lost, caster_load=lb(239)), plan(), "DATA")
    assert any("front caster with a drawer open not evaluated" in text for text in found)


# ------------------------------------------------------------------------------------------------------------ lifting


def heavy(drawer, pounds=30, **piece):
    """One case 2 in high in one drawer."""
    return Plan("S", "C", "spread", (group("case", pounds, **piece),), (placed("case", drawer),), ())


def near_front():
    return replace(HOUSE, lift=replace(HOUSE.lift, reach_share=5 / 22))


def test_two_handed_case_earns_a_caution_at_the_bottom_and_none_in_the_middle():
    """The drawer example of test_lifting.py: 30 lb onto a 36 in bench, hands at 8 and at 28 in."""
    low = of_drawers(cabinet(), above_ground=inch(6))
    middle = of_drawers(cabinet(), above_ground=inch(26))
    (text,) = texts(low, heavy("1", two_hands=True), "LIFT", "caution", near_front())
    # 25 cm + 5 in = 37.7 cm of reach: 23 x .6631 x .8360 x .8833 x 1 x 1 x .95 = 10.70 kg, which are 23.6 lb;
    # 13.608 / 10.70 = 1.27
    assert "at most 23.6 lb" in text
    assert "index 1.27, above 1" in text
    (text,) = texts(middle, heavy("1", two_hands=True), "LIFT", None, near_front())
    assert "above 1" not in text
    assert texts(middle, heavy("1", two_hands=True), "LIFT", "info", near_front()) == [text]


def test_assumptions_of_a_lift_are_stated():
    (text,) = texts(cabinet(), heavy("8", two_hands=True), "LIFT", "caution")
    # half of 22 in is 279 mm, plus 250 mm below 250 mm of height (manual p. 8)
    assert "hands 529 mm in front of the ankles and 216 mm (8 in) above the ground" in text
    assert "bench at 914 mm (36 in), 0.2 lifts a minute for up to 1 h, fair grip, 0 degrees of twist" in text


def test_beyond_the_limits_it_is_not_liftable():
    deep = of_drawers(cabinet(), inside_depth=mm(900))  # 20 + 45 cm is more than 63 cm
    assert "is not liftable there" in texts(deep, heavy("3", two_hands=True), "LIFT", "caution")[0]
    high = of_drawers(cabinet(), above_ground=mm(1800))  # more than 175 cm
    assert "is not liftable there" in texts(high, heavy("3", two_hands=True), "LIFT", "caution")[0]


def test_a_lift_counts_the_high_bound_and_a_liner_raises_it():
    guess = heavy("8", 20, two_hands=True)
    piece = replace(guess.groups[0].pieces[0], mass_high=lb(30))
    bounds = replace(guess, groups=(replace(guess.groups[0], pieces=(piece,)),))
    exact = texts(cabinet(), heavy("8", 30, two_hands=True), "LIFT")[0]
    assert texts(cabinet(), bounds, "LIFT")[0] == exact.replace("(30.0 lb)", "(20.0 to 30.0 lb)")
    lined = of_drawers(cabinet(), liner=inch(1))
    assert "241 mm (10 in) above the ground" in texts(lined, bounds, "LIFT")[0]


def test_more_than_the_load_constant_asks_for_a_hoist():
    assert "hoist or with two people" in texts(cabinet(), heavy("3", 60, two_hands=True), "LIFT", "caution")[0]


def test_one_handed_pieces_get_a_plain_note_only():
    """The equation does not hold for one-handed lifts (manual p. 6)."""
    (text,) = texts(cabinet(), heavy("8"), "LIFT")
    assert "single heavy piece" in text
    assert "index" not in text
    assert texts(cabinet(), heavy("8"), "LIFT", "info") == [text]


@pytest.mark.parametrize(("mass", "notes"), [(kg(3) - 1, 0), (kg(3), 1)])
def test_a_lift_begins_at_3_kg(mass, notes):
    """Scope of ISO 11228-1:2021 and EN 1005-2: objects of 3 kg or more."""
    light = heavy("8")
    piece = replace(light.groups[0].pieces[0], mass_low=mass, mass_high=mass)
    light = replace(light, groups=(replace(light.groups[0], pieces=(piece,)),))
    assert len(texts(cabinet(), light, "LIFT")) == notes


@pytest.mark.parametrize(("above", "cautioned"), [(0, False), (1, True)])
def test_single_heavy_piece_above_48_in(above, cautioned):
    """48 in: shoulder height of a short user, 48.4 in (NUREG-0700 Rev. 3, Table 11.4)."""
    shelf = of_drawers(cabinet(), above_ground=HOUSE.height.shoulder - inch(2) + above)
    assert bool(texts(shelf, heavy("1"), "HIGH", "caution")) is cautioned


def test_unknown_height_is_not_evaluated():
    lost = of_drawers(cabinet(), above_ground=None)
    found = texts(lost, heavy("2", two_hands=True), "DATA")
    assert "Lifting out of drawer 2 not evaluated: height above the ground not given." in found
    assert texts(lost, heavy("2", two_hands=True), "LIFT") == []


def test_hand_height_scores():
    """Bands and scores: HSE lifting filter for men near the body, 10/20/25/20/10 kg over 25 (from memory).

    The published bands leave their edges open; here an edge belongs to the better band.
    """
    inches = (0, 11.99, 12, 28.99, 29, 36, 42, 42.01, 48, 48.01, 60)
    scores = [float(HOUSE.height.score(round(PER_INCH * at))) for at in inches]
    assert scores == [10 / 25, 10 / 25, 20 / 25, 20 / 25, 1, 1, 1, 20 / 25, 20 / 25, 10 / 25, 10 / 25]


# ------------------------------------------------------------------------------------------------------ fit and basis


def ready_made(how, **changes):
    return Plan("S", "C", "spread", (group("a", 1),), (placed("a", "1", how, **changes),), ())


def test_a_gap_too_small_for_a_strip_is_loose():
    """Gaps up to 3 mm count as as-is; strips begin at 12 mm (common practice, no source)."""
    assert texts(cabinet(), ready_made("as is", gap_width=mm(3)), "loose") == []
    (text,) = texts(cabinet(), ready_made("as is", gap_width=mm(3) + 1), "loose", "caution")
    assert "loose in width" in text
    assert texts(cabinet(), ready_made("new", gap_width=mm(8)), "loose") == []


def test_a_wide_filler_is_said():
    """15 % of the drawer (common practice, no source): 3.3 of 22 in."""
    edge = inch(22) * 15 // 100
    assert texts(cabinet(), ready_made("shim", gap_depth=edge), "wide-gap") == []
    assert "of the drawer's depth" in texts(cabinet(), ready_made("shim", gap_depth=edge + 1), "wide-gap", "caution")[0]


def test_a_layout_without_order_is_said():
    assert "not in the house order" in texts(cabinet(), ready_made("unordered"), "unordered", "caution")[0]


def test_estimated_sizes_are_to_be_measured_where_foam_is_cut_for_them():
    guess = ready_made("new")
    piece = replace(guess.groups[0].pieces[0], basis="estimated")
    guess = replace(guess, groups=(replace(guess.groups[0], pieces=(piece,)),))
    assert texts(cabinet(), guess, "basis", "caution")[0].startswith(
        "1 of 1 size is estimated; measure before cutting."
    )
    kept = replace(guess, placements=(placed("a", "1", "as is"),))
    assert texts(cabinet(), kept, "basis") == []


# ----------------------------------------------------------------------------------------------------------- together


def test_standing_cautions_are_on_every_plan():
    for found in (plan(), Plan("S", "C", "spread", (), (), ())):
        said = " ".join(texts(cabinet(), found, "GENERAL", "info"))
        for words in (
            "maker's ratings and manuals come first",
            "one drawer at a time",
            "Lock the casters",
            "level floor",
            "Measure the drawers",
            "no conformity to any standard is claimed",
        ):
            assert words in said


PLANS = st.lists(st.sampled_from([0, 5, 60, 130, 300, (90, 410)]), min_size=8, max_size=8)
CABINETS = st.fixed_dictionaries(
    {},
    optional={
        name: st.none()
        for name in ("mass", "depth", "height", "cg_depth", "cg_height", "contact_front", "contact_span", "load_rating")
    }
    | {"caster_trail": st.sampled_from([0, inch(1)]), "caster_load": st.sampled_from([None, lb(100), lb(500)])},
)


@settings(max_examples=60, deadline=None)
@given(PLANS, CABINETS, st.booleans(), st.randoms(use_true_random=False))
def test_order_of_rows_changes_nothing_and_the_worst_comes_first(contents, changes, two_hands, chance):
    made, stood = plan(contents, two_hands=two_hands), cabinet(**changes)
    found = cautions(stood, made, HOUSE)
    keys = [(LEVELS.index(one.level), one.code, one.text) for one in found]
    assert keys == sorted(set(keys))
    assert cautions(replace(stood, drawers=mixed(stood.drawers, chance)), shuffled(made, chance), HOUSE) == found


def shuffled(made, chance):
    return replace(
        made,
        groups=mixed(made.groups, chance),
        placements=mixed(made.placements, chance),
        free_drawers=mixed(made.free_drawers, chance),
    )


def mixed(rows: tuple, chance: random.Random) -> tuple:
    rows = list(rows)
    chance.shuffle(rows)
    return tuple(rows)


@settings(max_examples=60, deadline=None)
@given(PLANS, CABINETS)
def test_wording(contents, changes):
    """No text says that anything passed, nor that heavy low helps, nor prints what is no number."""
    for one in cautions(cabinet(**changes), plan(contents), HOUSE):
        words = one.text.lower()
        assert not any(wrong in words for wrong in ("passed", "heavy low", "safe", "nan ", "inf "))
        assert "None" not in one.text
        assert one.text.endswith(".")


def test_lists_in_words():
    assert [listed(things) for things in ([], ["1"], ["1", "2"], ["1", "2", "5"])] == ["", "1", "1 and 2", "1, 2 and 5"]


# -------------------------------------------------------------------------------------------------------- house rules


def test_thresholds_are_house_rules(tmp_path):
    path = tmp_path / "house.toml"
    path.write_text(
        "[tip]\npush_lbf = 10\nslope_deg = 5\n[lift]\nmass_kg = 5\ngrip = 'good'\n[height]\nshoulder_mm = 1300\n"
    )
    house = read_house(path)
    assert house.tip.push_n == pytest.approx(44.482, abs=5e-4)  # 1 lbf = 4.44822 N
    assert (house.tip.slope_deg, house.lift.mass, house.lift.grip) == (5.0, kg(5), "good")
    assert house.height.shoulder == mm(1300)
    assert house.tip.cg_forward == HOUSE.tip.cg_forward == inch(1)


@pytest.mark.parametrize(
    ("text", "key", "wanted"),
    [
        ("[tip]\npush_lb = 10", "tip.push_lb", "push_lbf"),
        ("[lift]\ngrip = 'firm'", "lift.grip", "good or fair or poor"),
        ("[lift]\nhours = 9", "lift.hours", "at most 8"),
        ("[lift]\nreach_share = 1.5", "lift.reach_share", "a share from 0 to 1"),
        ("[height]\nknuckle_mm = 1100", "height.elbow_mm", "at least height.knuckle_mm"),
    ],
)
def test_bad_thresholds_are_refused(tmp_path, text, key, wanted):
    path = tmp_path / "house.toml"
    path.write_text(text)
    with pytest.raises(CatalogueError, match=key) as refused:
        read_house(path)
    assert wanted in str(refused.value)
