"""What a comparison recommends, with its ground; what is short as one figure."""

from dataclasses import replace

import pytest

from matcher.planning.outcome import DoesNotFit, Fits
from matcher.records.answered import Caution, FoamAsked, Reason
from matcher.records.units import mm
from matcher.studies.compared import Comparison
from matcher.studies.comparison import compare
from matcher.studies.missing import Missing, missing_of
from matcher.studies.recommending import recommended, recommended_for_all
from tests import page_cases
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer


def _row(name, count, width=560, **more):
    return cabinet(
        *(drawer(str(row), row=row, width=width, cabinet=name, **more) for row in range(1, count + 1)), name=name
    )


def _compared(*cabinets, set_name="set"):
    ready = [organizer(f"tray {index}", tier=index, set_name=set_name) for index in (1, 2)]
    known = catalogue(organizers=ready, cabinets=sorted(cabinets, key=lambda one: one.name))
    return compare(known, HOUSE, set_name)


def _warned(comparison, *names):
    """The comparison with a caution of level error in the plans of some cabinets."""
    error = Caution("TIP-1", "error", "it tips")
    return replace(
        comparison,
        variants=tuple(
            replace(one, outcome=replace(one.outcome, cautions=(error,))) if one.outcome.cabinet in names else one
            for one in comparison.variants
        ),
    )


def test_the_fewest_unused_drawers_are_the_ground():
    found = recommended(_compared(_row("four", 4), _row("three", 3), _row("one", 1)))
    assert found.cabinet == "three"
    assert found.text == (
        "three is recommended: of 2 cabinets that hold the set without an error it leaves the fewest drawers unused, "
        "1 of 3."
    )


def test_the_least_work_on_the_foam_is_the_ground_where_as_few_drawers_stay_free():
    found = recommended(_compared(_row("a wide", 2, width=600, depth=384), _row("b snug", 2, width=505, depth=384)))
    assert found.cabinet == "b snug"
    assert found.text.endswith("and of 2 that leave as few it needs the least work on the foam: 2 as is.")


def test_a_name_is_no_ground_and_is_told_as_none():
    found = recommended(_compared(_row("two", 2), _row("also two", 2), _row("three", 3)))
    assert found.cabinet == "also two"
    assert "as good by that: two." in found.text


def test_a_cabinet_with_an_error_is_passed_over_where_another_has_none():
    both = _compared(_row("two", 2), _row("three", 3))
    found = recommended(_warned(both, "two"))
    assert found.cabinet == "three"
    assert found.text.endswith("two would come first but has an error: tipping (TIP-1).")
    assert "the only one of 2 cabinets that holds the set without an error" in found.text
    every = recommended(_warned(both, "two", "three"))
    assert every.cabinet == "two"
    assert "mind its errors: tipping (TIP-1)" in every.text
    assert "without an error" not in every.text


def test_nothing_is_recommended_where_nothing_fits_and_what_is_undecided_is_no_no():
    none = recommended(_compared(_row("one", 1)))
    assert (none.cabinet, none.text) == (
        "",
        "No cabinet is recommended: none of 1 cabinet is found to hold the set.",
    )
    refused = _compared(_row("one", 1))
    open_ = Comparison("set", (replace(refused.variants[0], outcome=page_cases.undecided()),))
    assert recommended(open_).text.endswith("found to hold the set; 1 undecided.")


def test_for_many_sets_the_cabinet_that_holds_the_most_is_recommended():
    two, three = _row("two", 2), _row("three", 3)
    one, other = _compared(two, three), _compared(three, set_name="other")
    found = recommended_for_all([one, other])
    assert found.cabinet == "three"
    assert "it holds all 2 sets, one at a time, and of those that hold as many" in found.text
    assert "2 in all" in found.text, "one free with each set"
    assert recommended_for_all([_compared(_row("one", 1))]).cabinet == ""


REFUSED = page_cases.planned(low=True)


@pytest.mark.parametrize(
    ("reasons", "foam", "missing"),
    [
        ([Reason("short", "", short=mm(3)), Reason("short", "", short=mm(5))], None, Missing(length=mm(5))),
        ([Reason("too-few-drawers", "", groups=("a", "b", "c"), drawers=("1",))], None, Missing(drawers=2)),
        ([Reason("too-few-drawers", "", groups=("a", "b"))], None, Missing(drawers=1)),
        ([Reason("area", "")], FoamAsked(3, 3, 1, 4), Missing(drawers=4)),
        ([Reason("pins", "")], None, Missing()),
    ],
)
def test_what_is_short_is_one_figure(reasons, foam, missing):
    assert isinstance(REFUSED, DoesNotFit)
    assert missing_of(replace(REFUSED, reasons=tuple(reasons), foam=foam)) == missing


def test_a_plan_is_short_of_nothing():
    assert isinstance(page_cases.planned(), Fits)
    assert missing_of(page_cases.planned()) == Missing()
