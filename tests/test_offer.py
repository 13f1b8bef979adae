"""The offer on hand-made plans: sizes that serve, what is kept, added, dropped, left out and why."""

import json
from dataclasses import replace
from fractions import Fraction
from io import StringIO
from itertools import chain, combinations, product
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from rich.console import Console

from matcher.catalogue.reading import read_catalogue
from matcher.offer.bundles import bundles_of, latest, plans_of
from matcher.offer.deciding import offer
from matcher.offer.decisions import Limits, limits_of
from matcher.offer.figures import break_even_units, commonality
from matcher.offer.needs import needs_of
from matcher.offer.sizes import OrganizerSize, way_in
from matcher.records.errors import UsageError
from matcher.records.given import Demand, Organizer
from matcher.records.units import inch, mm
from matcher.report.offer_documents import STATEMENTS, offer_document
from matcher.report.offer_views import offer_view
from tests import builders
from tests.builders import HOUSE
from tests.offer_cases import catalogue, filled, one_drawer, outcome, placed, simple, with_offer, without_plan

FOLDER = Path(__file__).resolve().parents[1] / "data" / "workshop"
MARGINS = 2 * HOUSE.pocket.margin


def _actions(found):
    return {one.bundle.demand.cabinet: (one.action, one.code) for one in found.decisions}


# ---------------------------------------------------------------------------------------------------------- figures


def test_break_even_units():
    # Q* = S / (p - v): 150 / (60 - 35) = 6 units; common practice, no source.
    assert break_even_units(150, 60, 35) == 6
    assert break_even_units(150, 35, 60) is None


def test_commonality_of_five_parts_with_twelve_uses():
    # Degree of commonality index, Collier (1981), from memory: 12 uses of 5 parts = 2.4.
    assert commonality([4, 3, 2, 2, 1]) == Fraction("2.4")
    assert commonality([]) is None


# ------------------------------------------------------------------------------------------------------------ sizes


def _inch_house():
    return replace(
        HOUSE,
        clearance=replace(HOUSE.clearance, side=inch(Fraction(1, 8)), gap=0, strip_min=inch(Fraction(1, 2))),
        pocket=replace(HOUSE.pocket, margin=inch(Fraction(1, 2))),
    )


@pytest.mark.parametrize("existing", [True, False])
@pytest.mark.parametrize(
    ("width", "how"), [("22.25", "as is"), ("21.75", "trim"), ("21.70", None), ("23.5", "shim"), ("24.5", "shim")]
)
def test_reuse_of_a_size_in_another_drawer(width, how, existing):
    # Worked example, common practice, no source: organizer 22 in, pocket field 20.5 in, margin 0.5 in, clearance
    # 1/8 in; a drawer of 21.70 in is short by 0.05 in. A size to be drawn is held to the same rules as one that exists.
    box = replace(builders.drawer("1"), inside_width=inch(Fraction(width)), inside_depth=inch(Fraction("18.25")))
    cabinet = builders.cabinet(box)
    need = needs_of(outcome("set", cabinet, filled("tools", box), house=_inch_house()))[0]
    made = Organizer("set", "tools", inch(22), inch(18), mm(40), None, inch(Fraction("20.5")), inch(Fraction("16.5")))
    assert way_in(OrganizerSize(made, existing, "", "", ""), need, _inch_house()) == how


def test_one_size_is_trimmed_into_the_narrower_and_the_shallower_drawer():
    # 560 x 400 and 520 x 460 mm: foam of 556.8 x 396.8 is trimmed in width and leaves 60 of 460 mm, 13 %, to a strip.
    known, plans = simple([one_drawer("a", 560, 400), one_drawer("b", 520, 460)])
    found = offer(known, HOUSE, plans)
    assert len(found.made) == 1
    assert {one.action for one in found.decisions} == {"add"}
    assert found.choice.gain == 2 * 100 * 10_00 - 150_00


def test_the_narrower_pockets_in_the_wider_outside_serve_both():
    # 500 mm of pockets do not go into the drawer of 400 mm; 370 mm of pockets in the wide drawer's foam go into both.
    cabinets = [one_drawer("narrow", 400), one_drawer("wide", 560)]
    fields = {"narrow": (370, 200), "wide": (500, 200)}
    plans = {
        ("set", one.name): outcome("set", one, filled("tools", one.drawers[0], fields[one.name])) for one in cabinets
    }
    found = offer(catalogue(cabinets, [("set", one.name, 100, 10, "yes") for one in cabinets]), HOUSE, plans)
    assert [[use.how for use in made.uses] for made in found.made] == [["trim", "as is"]]
    assert found.made[0].size.width_from == "plan set in wide, drawer 1"
    assert found.made[0].size.pockets_from == "plan set in narrow, drawer 1"


def test_pockets_that_go_into_only_their_own_drawer_are_made_each():
    # 530 x 200 mm of pockets go only into the wide drawer, 370 x 350 mm only into the deep one: two sizes.
    cabinets = [one_drawer("deep", 400, 400), one_drawer("wide", 560, 230)]
    rows = [("set", one.name, 100, 10, "yes") for one in cabinets]
    fields = {"deep": (370, 350), "wide": (530, 200)}
    plans = {
        ("set", one.name): outcome("set", one, filled("tools", one.drawers[0], fields[one.name])) for one in cabinets
    }
    found = offer(catalogue(cabinets, rows), HOUSE, plans)
    assert [[use.how for use in made.uses] for made in found.made] == [["as is"], ["as is"]]
    assert [len(one.variants) for one in found.widest] == [1]


def test_new_foam_is_not_drawn_to_be_filled_up():
    # 300 mm of 560 mm would be filler: too wide for new foam, but a ready-made organizer may go in so.
    box = one_drawer("a", 560)
    need = needs_of(outcome("set", box, filled("tools", box.drawers[0], (200, 200))))[0]
    small = Organizer("set", "tools", mm(257), mm(400), mm(40), None, mm(200), mm(200))
    assert way_in(OrganizerSize(small, False, "", "", ""), need, HOUSE) is None
    assert way_in(OrganizerSize(small, True, "", "", ""), need, HOUSE) == "shim"


def test_a_higher_organizer_does_not_serve_a_lower_drawer():
    box = one_drawer("a", height=50)
    need = needs_of(outcome("set", box, filled("tools", box.drawers[0])))[0]
    height = need.box.clear_height - HOUSE.clearance.top
    fits, too_high = (
        Organizer("", "", mm(500), mm(390), tall, None, mm(300), mm(200)) for tall in (height, height + 1)
    )
    assert way_in(OrganizerSize(fits, False, "", "", ""), need, HOUSE) == "shim"
    assert way_in(OrganizerSize(too_high, False, "", "", ""), need, HOUSE) is None


def test_foam_is_rounded_with_a_drawer_where_its_margin_lies_in_the_corner():
    # The corner of 20 mm reaches beyond side clearance and margin (13.6 mm), that of 10 mm does not.
    for radius, how in ((10, "as is"), (20, None)):
        box = one_drawer("a", corner_radius=mm(radius))
        need = needs_of(outcome("set", box, filled("tools", box.drawers[0])))[0]
        other = Organizer("", "", need.placement.width, need.placement.depth, mm(40), None, mm(310), mm(200))
        own = replace(other, field_width=mm(300))
        assert way_in(OrganizerSize(own, False, "", "", ""), need, HOUSE) == "as is", "the plan itself says so"
        if how:
            assert way_in(OrganizerSize(other, False, "", "", ""), need, HOUSE) == how


def test_a_shared_drawer_offers_what_the_other_organizers_leave():
    # Two organizers of 150 and 200 mm in a drawer 560 mm wide; beside the first lies what is left of 556.8 mm.
    box = one_drawer("a", 560, 405)
    first, second = placed("tools", box.drawers[0], 0, 150, 300), placed("other", box.drawers[0], 150, 200, 300)
    needs = needs_of(outcome("set", box, first, second))
    rooms = {need.group.name: need.box.inside_width - 2 * HOUSE.clearance.side for need in needs}
    assert rooms == {"tools": mm(150), "other": box.drawers[0].inside_width - 2 * HOUSE.clearance.side - mm(150)}
    assert all(way_in(_own(need), need, HOUSE) == "as is" for need in needs)


def _own(need):
    placement, layout = need.placement, need.placement.layout
    shape = (placement.width, placement.depth, placement.height, None, layout.width, layout.depth)
    return OrganizerSize(Organizer("", "", *shape), False, "", "", "")


def test_equal_groups_of_two_sets_share_a_size_and_unequal_ones_do_not():
    box = one_drawer("a")
    blocks = {name: builders.piece("block", length=100, width=width, set=name) for name, width in
              (("one", 40), ("two", 40), ("three", 50))}  # fmt: skip
    plans = {
        (name, "a"): outcome(name, box, filled("tools", box.drawers[0]), pieces=[block])
        for name, block in blocks.items()
    }
    known = catalogue([box], [(name, "a", 100, 10, "yes") for name in blocks])
    found = offer(known, HOUSE, plans)
    assert sorted(len(one.uses) for one in found.made) == [1, 2]


def test_the_shape_curve_offers_pockets_that_no_plan_chose():
    # Ten blocks lie in one row in the wide drawer and in one column in the deep one; in between lie pockets for both.
    blocks = builders.piece("block", length=60, width=30, count=10)
    cabinets = [one_drawer("deep", 220, 500), one_drawer("wide", 500, 220)]
    fields = {"deep": (64, 450), "wide": (450, 64)}
    plans = {
        ("set", one.name): outcome("set", one, filled("tools", one.drawers[0], fields[one.name]), pieces=[blocks])
        for one in cabinets
    }
    found = offer(catalogue(cabinets, [("set", one.name, 100, 10, "yes") for one in cabinets]), HOUSE, plans)
    assert len(found.made) == 1
    assert found.made[0].size.pockets_from == "shape curve of tools"


# -------------------------------------------------------------------------------------------------- existing sizes


def test_an_existing_size_needs_no_set_up_and_stock_is_used_first():
    ready = Organizer("set", "tools", mm(540), mm(390), mm(40), part="P1", on_hand=30, unit_cost=20.0)
    box = one_drawer("a")
    made = outcome("set", box, filled("tools", box.drawers[0], organizer=ready, how="shim"), ready=[ready])
    known = catalogue([box], [("set", "a", 100, 10, "yes")], [ready])
    found = offer(known, HOUSE, {("set", "a"): made}, limits_of(HOUSE, 0))
    assert _actions(found) == {"a": ("keep", "gain")}
    assert found.choice.gain == 100 * 10_00
    assert [(one.from_stock, one.to_cut) for one in found.stocked] == [(30, 70)]


def test_an_existing_size_serves_another_cabinet_although_its_plan_would_cut_anew():
    ready = Organizer("set", "tools", mm(556), mm(400), mm(40), None, mm(300), mm(200), part="P1")
    cabinets = [one_drawer("a"), one_drawer("b", 530)]
    plans = {
        ("set", one.name): outcome("set", one, filled("tools", one.drawers[0], how="re-cut"), ready=[ready])
        for one in cabinets
    }
    found = offer(catalogue(cabinets, [("set", one.name, 10, 10, "yes") for one in cabinets], [ready]), HOUSE, plans)
    assert not found.made
    assert {use.how for one in found.stocked for use in one.uses} == {"as is", "trim"}


# ---------------------------------------------------------------------------------------- must, no, limits, reasons


def _three(offered):
    """Three cabinets that need a size each (the pockets fill the drawers); 1,000.00 each, one of them more."""
    cabinets = [one_drawer("a", 400, 400), one_drawer("b", 460, 340), one_drawer("c", 520, 280)]
    rows = [
        ("set", one.name, units, 10, word) for one, units, word in zip(cabinets, (100, 100, 150), offered, strict=True)
    ]
    plans = {
        ("set", one.name): outcome("set", one, filled("tools", one.drawers[0], (width - 3.2 - 24, depth - 3.2 - 24)))
        for one, width, depth in zip(cabinets, (400, 460, 520), (400, 340, 280), strict=True)
    }
    return catalogue(cabinets, rows), plans


def test_must_stays_and_no_never_comes_whatever_they_bring():
    known, plans = _three(("must", "yes", "no"))
    found = offer(known, HOUSE, plans, limits_of(HOUSE, 1))
    assert _actions(found) == {
        "a": ("keep", "must"),
        "b": ("leave out", "limit of new sizes"),
        "c": ("leave out", "ruled out"),
    }


def test_a_must_is_kept_even_at_a_loss():
    known, plans = _three(("must", "no", "no"))
    dear = with_offer(setup_cost=2000.0)
    found = offer(known, dear, plans)
    assert _actions(found)["a"] == ("keep", "must")
    assert found.choice.gain == 1000_00 - 2000_00


def test_musts_beyond_the_limits_are_named_with_the_sizes_they_need():
    known, plans = _three(("must", "must", "yes"))
    found = offer(known, HOUSE, plans, limits_of(HOUSE, 1))
    assert found.choice.kept == 1
    assert len(found.missed) == 1
    assert (len(found.for_all.choice.sizes), found.for_all.proved) == (2, True)
    assert "drop" in {one.action for one in found.decisions}


def test_every_cause_of_being_left_out_is_told():
    known, plans = _three(("yes", "yes", "yes"))

    def word(**limits):
        return {code for _, code in _actions(offer(known, HOUSE, plans, limits_of(HOUSE, **limits))).values()}

    assert word(new_sizes=3) == {"gain"}
    assert word(new_sizes=2) == {"gain", "limit of new sizes"}
    assert word(new_sizes=3, budget=300) == {"gain", "budget"}
    assert word(new_sizes=3, bundles=1) == {"gain", "limit of bundles"}
    dear = offer(known, with_offer(setup_cost=1000.0), plans)
    assert _actions(dear)["a"] == ("leave out", "not worth its set-up")
    assert _actions(dear)["c"] == ("add", "gain")


@pytest.mark.parametrize("verdict", ["does not fit", "undecided"])
def test_without_a_plan_the_verdict_and_its_reason_are_told(verdict):
    known, plans = _three(("yes", "yes", "must"))
    plans["set", "c"] = without_plan(verdict, "set", known.cabinets[2], "30 mm short")
    found = offer(known, HOUSE, plans)
    told = {one.bundle.demand.cabinet: one for one in found.decisions}["c"]
    assert (told.code, told.why, told.action) == (verdict, "30 mm short", "drop")
    assert [one.text for one in found.missed] == ["set in c must stay (demand table)"]
    assert found.for_all.choice is None
    assert found.for_all.proved


def test_a_bundle_of_every_set_if_asked_for():
    known, plans = _three(("yes", "yes", "yes"))
    other = outcome("other", known.cabinets[0], filled("rest", known.cabinets[0].drawers[0]))
    poor = replace(known, demand=(*known.demand, Demand("other", "a", 1, 10)))
    plans["other", "a"] = other
    free = offer(poor, HOUSE, plans, limits_of(HOUSE, 2))
    bound = offer(poor, HOUSE, plans, limits_of(HOUSE, 2, each_set=True))
    assert {one.bundle.demand.set for one in free.decisions if one.action == "add"} == {"set"}
    assert {one.bundle.demand.set for one in bound.decisions if one.action == "add"} == {"set", "other"}
    assert bound.choice.gain < free.choice.gain


def test_what_one_more_size_would_bring():
    known, plans = _three(("yes", "yes", "yes"))
    found = offer(known, HOUSE, plans, limits_of(HOUSE, 1))
    assert found.one_more.gain - found.choice.gain == 1000_00 - 150_00
    assert (found.next.more_sizes, found.next.more_gain, found.next.proved) == (1, 850_00, True)
    every = offer(known, HOUSE, plans)
    assert (found.unlimited.gain, len(found.unlimited.sizes)) == (every.choice.gain, 3)
    assert every.next.choice is None
    assert every.next.proved


def test_limits_below_0_and_a_catalogue_without_demand_are_refused():
    for limits, told in (
        ({"new_sizes": -1}, "new sizes -1: expected 0 or more"),
        ({"budget": -0.5}, "budget -0.5: expected 0 or more"),
        ({"bundles": -2}, "bundles -2: expected 0 or more"),
    ):
        with pytest.raises(UsageError, match=told):
            limits_of(HOUSE, **limits)
    with pytest.raises(UsageError, match="demand table"):
        offer(builders.catalogue(), HOUSE, {})
    with pytest.raises(UsageError, match="demand table"):
        plans_of(builders.catalogue(), HOUSE)


def test_the_latest_year_of_a_pair_counts():
    rows = [Demand("set", "a", units, 10, year=year) for units, year in ((5, "2023"), (9, "2025"), (7, "2024"))]
    assert [row.units for row in latest(rows)] == [9]


# ------------------------------------------------------------------------------------------- equal to brute force


def _serves(outside, field, target):
    """The reuse rule, written down again: fits, or trimmed to the field and its margins; a filler up to 15 %."""
    return all(
        least + MARGINS <= room and room - size <= HOUSE.clearance.wide_gap_share * (room + 2 * HOUSE.clearance.side)
        for size, least, room in zip(outside, field, target, strict=True)
    )


def _least_sizes(targets, fields):
    """Fewest sizes of one group that serve all targets: every set of candidates, smallest first.

    ``fields`` are the group's layouts, also those of bundles that are not chosen.
    """
    outsides = product({width for width, _ in targets}, {depth for _, depth in targets})
    covers = [
        {n for n, target in enumerate(targets) if _serves(outside, field, target)}
        for outside, field in product(list(outsides), fields)
        if all(least + MARGINS <= size for size, least in zip(outside, field, strict=True))
    ]
    return next(
        count
        for count in range(len(targets) + 1)
        if any(set(chain(*some)) >= set(range(len(targets))) for some in combinations(covers, count))
    )


def _brute_force(places, brings, setup, most):
    """The most gained over all sets of bundles; ``places`` by bundle, one per group."""
    values = [0]
    for chosen in chain.from_iterable(combinations(range(len(brings)), n) for n in range(1, len(brings) + 1)):
        sizes = sum(
            _least_sizes([places[b][g][0] for b in chosen], {own[g][1] for own in places})
            for g in range(len(places[0]))
        )
        if sizes <= most:
            values.append(sum(brings[b] for b in chosen) - setup * sizes)
    return max(values)


small = st.tuples(st.sampled_from([300, 360, 420, 560]), st.sampled_from([250, 300, 400]))
bundle = st.tuples(st.lists(st.tuples(small, st.tuples(st.floats(0.3, 1), st.floats(0.3, 1))), min_size=2, max_size=2),
                   st.integers(1, 40))  # fmt: skip


LAYOUT_OF_ANOTHER = [
    ([((300, 250), (1.0, 1.0)), ((360, 250), (1.0, 1.0))], 1),
    ([((300, 300), (1.0, 1.0)), ((300, 300), (1.0, 1.0))], 1),
    ([((360, 250), (1.0, 1.0)), ((300, 300), (1.0, 1.0))], 18),
]
"""The layout of the first bundle, which is not chosen, makes one size do for the two others."""


@settings(max_examples=40, deadline=None)
@given(st.lists(bundle, min_size=1, max_size=4), st.integers(0, 6))
@example(LAYOUT_OF_ANOTHER, 2)
def test_small_catalogues_gain_what_brute_force_gains(bundles, most):
    cabinets, plans, rows, places = [], {}, [], []
    for b, (drawers, units) in enumerate(bundles):
        boxes = [
            builders.drawer(str(d), row=d, width=width, depth=depth, cabinet=f"c{b}")
            for d, ((width, depth), _) in enumerate(drawers, 1)
        ]
        fields = [
            tuple(int((room - 3.2 - 24) * share) for room, share in zip(size, shares, strict=True))
            for size, shares in drawers
        ]
        one = builders.cabinet(*boxes, name=f"c{b}")
        made = [filled(f"group {d}", box, field) for d, (box, field) in enumerate(zip(boxes, fields, strict=True))]
        cabinets.append(one)
        rows.append(("set", one.name, units, 10, "yes"))
        plans["set", one.name] = outcome("set", one, *made)
        places.append([((p.width, p.depth), (p.layout.width, p.layout.depth)) for p in made])
    found = offer(catalogue(cabinets, rows), with_offer(setup_cost=90.0), plans, limits_of(HOUSE, most, 10_000))
    wanted = _brute_force(places, [units * 10_00 for _, units in bundles], 90_00, most)
    assert found.choice.gain == wanted
    assert found.choice.proved
    assert len(found.made) == len(found.choice.sizes), "as many sizes are drawn as were counted"
    _check_sums(found)


def _check_sums(found):
    """Every figure again from the figures it is made of."""
    chosen = [one for one in found.decisions if one.action in ("keep", "add")]
    brings = sum(round(one.bundle.demand.units * one.bundle.demand.margin * 100) for one in chosen)
    assert found.totals.brings == brings
    uses = [use for one in (*found.made, *found.stocked) for use in one.uses]
    assert found.totals.work == sum(use.cost for use in uses)
    assert found.choice.gain == brings - found.totals.work - found.setup * len(found.made)
    served = {(found.cases.owner[use.need], use.need) for one in (*found.made, *found.stocked) for use in one.uses}
    assert served == {(b, n) for n, b in enumerate(found.cases.owner) if b in found.choice.bundles}
    traced = [one for one in zip(found.decisions, found.traces, strict=True) if one[0] in chosen]
    shared = sum((one.earns for one in found.made), Fraction(0))
    net = sum(one.bundle.brings - trace.work for one, trace in traced if one.new_sizes)
    assert shared == net, "earnings of sizes add up to the bundles' less work"
    assert {line.use for _, trace in traced for line in trace.lines} == set(uses)


@settings(max_examples=20, deadline=None)
@given(st.permutations(range(3)), st.integers(0, 3))
def test_the_order_of_rows_changes_nothing(order, most):
    known, plans = _three(("must", "yes", "yes"))
    turned = replace(known, demand=tuple(known.demand[i] for i in order))
    shuffled = {pair: plans[pair] for pair in sorted(plans, key=lambda pair: order[ord(pair[1]) - ord("a")])}
    documents = [
        offer_document(offer(one, HOUSE, of, limits_of(HOUSE, most)))
        for one, of in ((known, plans), (turned, shuffled))
    ]
    assert documents[0] == documents[1]


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 40), st.integers(0, 40))
def test_dearer_set_up_never_gains_more_and_the_curve_never_falls(less, more):
    known, plans = _three(("yes", "yes", "yes"))
    cheap, dear = (
        offer(known, with_offer(setup_cost=float(cost)), plans, Limits(3, 10_000_00))
        for cost in (less * 30, (less + more) * 30)
    )
    assert dear.choice.gain <= cheap.choice.gain
    for found in (cheap, dear):
        gains = [weighed.point.choice.gain for weighed in found.points]
        assert gains == sorted(gains)
        assert gains[-1] == found.choice.gain


# --------------------------------------------------------------------------------------------------------- reports


def test_the_document_names_the_source_of_every_figure_and_says_what_it_rests_on():
    known, plans = _three(("must", "yes", "no"))
    document = offer_document(offer(known, HOUSE, plans))
    assert json.loads(json.dumps(document, allow_nan=False)) == document
    assert document["statements"] == list(STATEMENTS)
    assert any("independent between cabinets" in line for line in document["statements"])
    assert [row["from"] for row in document["bundles"]] == [f"demand table, set in {name}" for name in "abc"]
    for size in document["sizes"]:
        assert size["width_from"].startswith("plan set in ")
        assert size["pockets_from"].startswith(("plan ", "shape curve "))
    assert document["gain"] == document["brings"] - document["setup"]
    assert document["curve"][-1]["limit"] == len({row["limit"] for row in document["curve"]}) - 1


def test_the_terminal_shows_the_same_gain_in_80_columns():
    known, plans = _three(("must", "must", "yes"))
    found = offer(known, HOUSE, plans, limits_of(HOUSE, 1))
    console = Console(width=80, record=True, file=StringIO())
    console.print(offer_view(found))
    text = console.export_text()
    assert f"gain {found.choice.gain / 100:,.0f} (proved for these plans)" in text
    assert "not kept" in text
    assert "all of them together need 2 new sizes (proved)" in text
    assert max(map(len, text.splitlines())) <= 80


# ----------------------------------------------------------------------------------------------------- end to end


def test_the_bundled_starter_set_from_files_to_an_offer():
    known = read_catalogue(FOLDER)
    pairs = [("Alder-64", "Glen-5"), ("Alder-64", "Glen-7")]
    known = replace(known, demand=tuple(row for row in known.demand if (row.set, row.cabinet) in pairs))
    told = []
    plans = plans_of(known, HOUSE, told=lambda *step: told.append(step))
    assert told == [(0, 2, "Alder-64 in Glen-5"), (1, 2, "Alder-64 in Glen-7"), (2, 2, "")]
    found = offer(known, HOUSE, plans)
    assert found.choice.proved
    assert len(found.choice.bundles) == 2
    _check_sums(found)
    groups = {need.group.name for one in bundles_of(known, plans) for need in one.needs}
    assert {found.cases.needs[one.uses[0].need].group.name for one in found.made} == groups
    assert {one.sizing for one in found.cases.candidates} == set(range(len(found.cases.sizings)))
