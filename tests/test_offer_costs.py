"""What work on foam costs in an offer, organizers of larger sets, what a promise takes, the rows behind a bundle."""

import json
from dataclasses import replace
from fractions import Fraction
from io import StringIO
from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.console import Console

from matcher.offer.bundles import bundle_named
from matcher.offer.deciding import offer
from matcher.offer.decisions import limits_of
from matcher.offer.needs import organizer_content
from matcher.records.errors import UnknownNameError
from matcher.records.given import Demand, Foam, Organizer
from matcher.records.units import mm
from matcher.report.offer_documents import offer_document
from matcher.report.offer_trace_views import bundle_trace_view
from matcher.report.offer_views import offer_view
from tests import builders
from tests.builders import HOUSE
from tests.offer_cases import catalogue, filled, one_drawer, outcome, simple, with_offer


def _ready(width, depth, field=(300, 200), part="P1", **more):
    return Organizer("set", "tools", mm(width), mm(depth), mm(40), None, mm(field[0]), mm(field[1]), part=part, **more)


def _offered(cabinets, ready, units, house):
    """One set with a ready-made organizer in cabinets of one drawer, of which each plan would cut its own anew."""
    plans = {
        ("set", one.name): outcome("set", one, filled("tools", one.drawers[0], how="re-cut"), ready=[ready])
        for one in cabinets
    }
    rows = [("set", one.name, units, 10, "yes") for one in cabinets]
    return offer(catalogue(cabinets, rows, [ready]), house, plans)


# ---------------------------------------------------------------------------------------------------- work on foam


@pytest.mark.parametrize(("units", "new"), [(70, 0), (80, 1)])
def test_a_new_size_is_made_where_trimming_costs_more_than_its_set_up(units, new):
    # Trimming 2.00 a piece against a set-up of 150.00: 75 pieces a year.
    found = _offered([one_drawer("b", 530)], _ready(556, 400), units, with_offer(trim_cost=2.0))
    assert len(found.made) == new
    assert found.totals.work == (0 if new else units * 2_00)
    assert found.choice.gain == units * 10_00 - (150_00 if new else units * 2_00)
    assert found.choice.proved


def test_an_organizer_of_a_new_size_costs_more_than_its_ready_made_one():
    # 0.50 for each re-cut one: 100 trimmed cost 200.00, 100 re-cut 150.00 once and 50.00. On equal terms none is made.
    cabinet, ready = [one_drawer("b", 530)], _ready(556, 400)
    assert len(_offered(cabinet, ready, 101, with_offer(trim_cost=2.0, recut_cost=0.5)).made) == 1
    assert not _offered(cabinet, ready, 100, with_offer(trim_cost=2.0, recut_cost=0.5)).made


def test_trimming_new_foam_costs_too():
    # One size for both drawers goes as is into one of them and is trimmed into the other; two are trimmed into none.
    known, plans = simple([one_drawer("a", 560, 400), one_drawer("b", 520, 460)])
    cheap = offer(known, with_offer(trim_cost=0.5, shim_cost=0.4), plans)
    assert (len(cheap.made), cheap.totals.work) == (1, 100 * 50)
    dear = offer(known, with_offer(trim_cost=2.0, shim_cost=2.0), plans)
    assert (len(dear.made), dear.totals.work) == (2, 0)


def test_a_filler_costs_what_a_filler_costs():
    found = _offered([one_drawer("b", 570)], _ready(550, 400), 100, with_offer(shim_cost=1.0))
    assert ([one.size.organizer.part for one in found.stocked], found.totals.work) == (["P1"], 100_00)


def test_without_costs_of_work_nothing_changes():
    known, plans = simple([one_drawer("a", 560, 400), one_drawer("b", 520, 460)])
    found = offer(known, HOUSE, plans)
    assert (HOUSE.offer.trim_cost, HOUSE.offer.recut_cost, found.totals.work) == (0, 0, 0)


def test_stock_that_is_enough_is_used_first_even_if_it_must_be_trimmed():
    plain, stocked = _ready(526, 400, part="plain"), _ready(556, 400, part="stocked", on_hand=50)
    cabinet = one_drawer("b", 530)
    box = filled("tools", cabinet.drawers[0], organizer=plain, how="as is")
    other = replace(stocked, set="other")
    piece = builders.piece("block", length=50, width=50)

    def used(units):
        plans = {
            ("set", "b"): outcome("set", cabinet, box, ready=[plain], pieces=[piece]),
            ("other", "b"): outcome("other", cabinet, box, ready=[other], pieces=[piece]),
        }
        rows = [("set", "b", units, 10, "yes"), ("other", "b", 1, 10, "yes")]
        found = offer(catalogue([cabinet], rows, [plain, other]), with_offer(trim_cost=2.0), plans)
        needs = found.cases.needs
        return {needs[use.need].set: one.size.organizer.part for one in found.stocked for use in one.uses}

    assert used(50)["set"] == "stocked"
    assert used(51)["set"] == "plain"


def _cheapest(widths, targets, units, trim, setup, most):
    """The least set-up and trimming over all sets of outside widths, of which the widest of those that fit is cut."""
    found = []
    for count in range(1, most + 1):
        for some in combinations(widths, count):
            work = [[0 if size == to else trim for size in some if size >= to] for to in targets]
            if all(work):
                found.append(setup * count + sum(min(one) * sold for one, sold in zip(work, units, strict=True)))
    return min(found)


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from((460, 480, 500, 520, 540)), st.integers(1, 80)), min_size=1, max_size=5),
    st.integers(0, 4),
)
def test_small_catalogues_pay_what_brute_force_pays(rows, trim):
    # Drawers of equal depth; a wider organizer is trimmed, a narrower one would be shimmed, which costs nothing but is
    # not tried here: every place is a must, and the brute force serves each by what is as wide or wider.
    cabinets = [one_drawer(f"c{n}", width) for n, (width, _) in enumerate(rows)]
    demand = [("set", one.name, units, 100, "must") for one, (_, units) in zip(cabinets, rows, strict=True)]
    plans = {("set", one.name): outcome("set", one, filled("tools", one.drawers[0])) for one in cabinets}
    house = with_offer(trim_cost=float(trim), setup_cost=90.0)
    house = replace(house, clearance=replace(house.clearance, wide_gap_share=0.0))
    found = offer(catalogue(cabinets, demand), house, plans)
    widths = sorted({width for width, _ in rows})
    least = _cheapest(
        widths, [width for width, _ in rows], [units for _, units in rows], trim * 100, 90_00, len(widths)
    )
    assert found.choice.proved
    assert found.totals.work + found.totals.setup == least
    assert sum(use.cost for made in found.made for use in made.uses) == found.totals.work
    assert len(found.made) == len(found.choice.sizes)


# ------------------------------------------------------------------------------------- organizers of larger sets


def _two_sets(small, large, share=0.5, house=HOUSE):
    """A smaller and a larger set of the same group in one cabinet each, their tools as (width, count)."""
    cabinets = [one_drawer("a"), one_drawer("b")]
    plans = {}
    for name, tools, one in (("small", small, cabinets[0]), ("large", large, cabinets[1])):
        pieces = [builders.piece("block", length=60, width=width, count=count, set=name) for width, count in tools]
        plans[name, one.name] = outcome(name, one, filled("tools", one.drawers[0]), pieces=pieces)
    rows = [("small", "a", 100, 10, "yes"), ("large", "b", 100, 10, "yes")]
    known = catalogue(cabinets, rows)
    return offer(known, replace(house, offer=replace(house.offer, empty_share=share)), plans)


def test_a_smaller_set_uses_the_organizer_of_a_larger_one():
    found = _two_sets([(20, 3)], [(20, 3), (30, 2)])
    (made,) = found.made
    assert {found.cases.needs[use.need].set: use.empty for use in made.uses} == {"small": 2, "large": 0}
    assert made.size.pockets == 5
    assert "small (2 pockets empty): as is a" in _printed(offer_view(found))


@pytest.mark.parametrize("small", [[(20, 4)], [(20, 3), (40, 1)], [(25, 3)]])
def test_not_where_a_tool_has_no_pocket(small):
    assert len(_two_sets(small, [(20, 3), (30, 2)]).made) == 2


def test_not_where_too_large_a_share_stays_empty():
    assert len(_two_sets([(20, 3)], [(20, 3), (30, 2)], share=0.4).made) == 1
    assert len(_two_sets([(20, 3)], [(20, 3), (30, 2)], share=0.39).made) == 2
    assert len(_two_sets([(20, 3)], [(20, 3), (30, 2)], share=0.0).made) == 2


def test_how_rows_are_counted_changes_no_content():
    one, apart = builders.piece("block", count=2), [builders.piece("block"), builders.piece("block", set="other")]
    assert organizer_content(builders.group("g", one)) == organizer_content(builders.group("g", *apart))


# ------------------------------------------------------------------------------------------------ what it would take


def test_a_promise_that_is_not_kept_tells_what_it_takes_by_itself():
    cabinets = [one_drawer("a"), one_drawer("b", 300, 300)]
    boxes = [cabinets[0].drawers[0], cabinets[1].drawers[0]]
    plans = {
        ("set", "a"): outcome("set", cabinets[0], filled("tools", boxes[0]), filled("more", boxes[0])),
        ("set", "b"): outcome("set", cabinets[1], filled("tools", boxes[1], (250, 250))),
    }
    known = catalogue(cabinets, [("set", "a", 100, 10, "must"), ("set", "b", 100, 10, "must")])
    found = offer(known, HOUSE, plans, limits_of(HOUSE, 1))
    (missed,) = found.missed
    assert (missed.text, len(missed.alone.choice.sizes)) == ("set in a must stay (demand table)", 2)
    assert missed.alone.proved
    assert offer_document(found)["promises"]["missed_need"] == [
        {"promise": missed.text, "new_sizes": 2, "setup": 300.0, "proved": True}
    ]
    text = " ".join(_printed(offer_view(found)).split())
    assert "by itself it takes 2 new sizes, set-up 300 (proved); allowed and affordable: 1" in text


# ----------------------------------------------------------------------------------------------- rows of a bundle


def _printed(view, width=100):
    console = Console(width=width, record=True, file=StringIO())
    console.print(view)
    return console.export_text()


def test_every_figure_of_a_bundle_is_the_sum_of_its_rows():
    known, plans = simple([one_drawer("a", 560, 400), one_drawer("b", 520, 460)])
    foam = Foam("sheet", mm(1200), mm(600), mm(50), price=20.0)
    known = replace(known, foam=(foam,))
    found = offer(known, with_offer(trim_cost=0.5, shim_cost=0.5), plans)
    document = offer_document(found)
    assert json.loads(json.dumps(document, allow_nan=False)) == document
    for row in document["bundles"]:
        lines = row["organizers"]
        assert row["work"] == sum(line["work"] for line in lines)
        assert row["foam_m2"] == pytest.approx(sum(line["foam_m2"] for line in lines))
        assert row["cutting_minutes"] == pytest.approx(sum(line["cutting_minutes"] for line in lines), abs=0.1)
        names = {line["size"] for line in lines}
        assert names == set(row["new_sizes"])
        sizes = {size["name"]: size for size in document["sizes"]}
        area = sum(sizes[name]["width_mm"] * sizes[name]["depth_mm"] for name in names)
        assert row["foam_m2"] == pytest.approx(area / 1e6, abs=1e-6)
    assert document["work"] == sum(row["work"] for row in document["bundles"])
    assert document["gain"] == document["brings"] - document["work"] - document["setup"]
    earned = sum((Fraction(made.earns) for made in found.made), Fraction(0))
    assert earned == found.totals.brings - found.totals.work


def test_the_rows_behind_a_bundle_are_shown():
    known, plans = simple([one_drawer("a", 560, 400), one_drawer("b", 520, 460)])
    found = offer(known, with_offer(trim_cost=0.5, shim_cost=0.5), plans)
    text = _printed(bundle_trace_view(found, "set in a"))
    assert "100 x 10.00 = 1,000 a year" in text
    assert "N1: set-up 150, shared with set in b" in text
    left = offer(known, HOUSE, plans, limits_of(HOUSE, 0))
    assert "it lacks 1 new size: set-up 150" in _printed(bundle_trace_view(left, "set in a"))


def test_a_bundle_that_is_not_in_the_demand_table_is_refused_by_name():
    known = builders.catalogue(demand=(Demand("set", "a", 1, 1),))
    assert bundle_named(known, "set in a") == ("set", "a")
    with pytest.raises(UnknownNameError, match=r"no bundle 'set in b' .* it has: set in a"):
        bundle_named(known, "set in b")


def test_a_bundle_without_a_plan_still_has_its_row():
    cabinet = one_drawer("a")
    known = catalogue([cabinet], [("set", "a", 100, 10, "yes")])
    asked = builders.question(cabinet, set_name="set")
    found = offer(known, HOUSE, {("set", "a"): builders.refused(asked)})
    assert "does not fit" in _printed(bundle_trace_view(found, "set in a"))
    assert found.traces == (None,)


@pytest.mark.parametrize(("trim", "recut"), list(product((0, 3), (0, 4))))
def test_the_order_of_bundles_changes_no_cost(trim, recut):
    cabinets, ready = [one_drawer("a"), one_drawer("b", 530), one_drawer("c", 500)], _ready(556, 400)
    house = with_offer(trim_cost=float(trim), recut_cost=float(recut))
    one, other = (_offered(some, ready, 40, house) for some in (cabinets, cabinets[::-1]))
    assert offer_document(one) == offer_document(other)
