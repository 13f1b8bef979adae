"""How an organizer gets into a drawer, axis by axis."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matcher.fitting.admission import admit
from matcher.fitting.fits import GoesIn, Open, StaysOut
from matcher.layout.curves import curve
from matcher.records.given import Obstruction
from matcher.records.units import Toward, inch, kg, mm
from tests.builders import HOUSE, drawer, group, organizer, piece
from tests.pieces import group_of, pareto, socket

EIGHTH_IN = replace(
    HOUSE,
    clearance=replace(HOUSE.clearance, side=inch(Fraction(1, 8)), gap=0, strip_min=inch(Fraction(1, 2))),
    pocket=replace(HOUSE.pocket, margin=inch(Fraction(1, 2))),
)


def _inch_case(drawer_width):
    ready = replace(
        organizer(),
        width=inch(22),
        depth=inch(18),
        field_width=inch(Fraction("20.5")),
        field_depth=inch(Fraction("16.5")),
    )
    box = replace(
        drawer(), inside_width=inch(Fraction(drawer_width), Toward.DOWN), inside_depth=inch(Fraction("18.25"))
    )
    return admit(group(ready=ready), box, EIGHTH_IN)


@pytest.mark.parametrize(
    ("width", "how", "gap"),
    [("22.25", "as is", "0"), ("21.75", "trim", "0"), ("23.5", "shim", "1.25"), ("24.5", "shim", "2.25")],
)
def test_reuse_of_an_organizer_in_another_drawer(width, how, gap):
    # Worked example, common practice, no source: organizer 22 in, field 20.5 in, margin 0.5 in, clearance 1/8 in.
    fit = _inch_case(width)
    assert isinstance(fit, GoesIn)
    assert fit.alone.how_width == how
    assert fit.alone.how_depth == "as is"
    assert fit.gap_width == inch(Fraction(gap))


def test_a_drawer_a_twentieth_of_an_inch_too_narrow_for_the_trimmed_organizer():
    # Same worked example: a 21.70 in drawer is short by 0.05 in.
    fit = _inch_case("21.70")
    assert isinstance(fit, StaysOut)
    assert fit.shortfall.axis == "width"
    assert fit.shortfall.short == pytest.approx(inch(Fraction("0.05")), abs=1)
    assert fit.shortfall.scope == "any layout"


def test_an_organizer_exactly_as_large_as_the_target_goes_in_in_either_unit():
    ready = replace(organizer(), width=inch(Fraction("22.5")), depth=mm(400))
    box = replace(drawer(), inside_width=mm(Fraction("571.5")) + 2 * HOUSE.clearance.side, inside_depth=mm(404))
    assert isinstance(admit(group(ready=ready), box, HOUSE), GoesIn)
    narrower = replace(box, inside_width=box.inside_width - 1)
    assert admit(group(ready=ready), narrower, HOUSE).shortfall.short == 1


def test_sizes_beside_others_are_all_that_count_below_the_drawers_height():
    """Of the points of the curve that are no higher none is lost, and no size is another's in width and depth too."""
    sockets = group_of(*(socket(rank, kind="deep socket") for rank in (8, 13, 19, 24)))
    points = curve(sockets, HOUSE)
    heights = sorted({point.height for point in points})
    assert len(heights) > 1
    for height in heights:
        sizes = admit(sockets, replace(drawer(), clear_height=height + HOUSE.clearance.top), HOUSE).sizes
        flat = [(size.width, size.depth) for size in sizes]
        inside = [size.footprint for size in sizes]
        assert set(flat) == pareto(flat)
        assert len(flat) == len(set(flat))
        assert all(point.height <= height for point in inside)
        for point in points:
            covered = any(size.width <= point.width and size.depth <= point.depth for size in inside)
            assert point.height > height or covered


@pytest.mark.parametrize(("gap", "how"), [(3, "as is"), (5, "as is"), (12, "shim"), (60, "shim")])
def test_a_gap_below_the_narrowest_strip_stays_open(gap, how):
    ready = organizer(width=500, depth=400)
    box = replace(drawer(), inside_width=mm(500 + gap) + 2 * HOUSE.clearance.side, inside_depth=mm(404))
    assert admit(group(ready=ready), box, HOUSE).alone.how_width == how


def test_a_low_drawer_is_short_by_the_missing_height():
    ready = organizer(height=98)
    fit = admit(group(ready=ready), drawer(height=100), HOUSE)
    assert (fit.shortfall.axis, fit.shortfall.short) == ("height", mm(1))


def test_an_obstruction_is_passed_on_the_side_that_has_room():
    block = Obstruction(mm(460), mm(0), mm(100), mm(400), mm(50))
    box = drawer(width=560, depth=400, obstructions=(block,))
    fits = admit(group(ready=organizer(width=456, depth=390)), box, HOUSE)
    assert isinstance(fits, GoesIn)
    assert fits.place[0] + fits.place[2] <= mm(460) - 2 * HOUSE.clearance.side
    assert admit(group(ready=organizer(width=457, depth=390)), box, HOUSE).shortfall.axis == "width"


def test_a_sharp_corner_keeps_clear_of_a_rounded_drawer():
    ready = organizer(width=556, depth=396)
    square = drawer(width=560, depth=400)
    assert isinstance(admit(group(ready=ready), square, HOUSE), GoesIn)
    rounded = admit(group(ready=ready), replace(square, corner_radius=mm(20)), HOUSE)
    assert isinstance(rounded, Open), "rounding the foam's corners might do, so it is no proof"


def test_pieces_that_fit_are_laid_out_new_and_a_ready_made_one_that_does_not_is_cut_again():
    tools = piece(length=200, width=60, height=30)
    assert admit(group("tools", tools), drawer(), HOUSE).alone.how == "new"
    too_wide = organizer(width=700)
    assert admit(group("tools", tools, ready=too_wide), drawer(), HOUSE).alone.how == "re-cut"


def test_a_piece_longer_than_the_diagonal_is_out_whatever_the_layout():
    fit = admit(group("bar", piece(length=900, width=20, height=20)), drawer(), HOUSE)
    assert isinstance(fit, StaysOut)
    assert fit.shortfall.scope == "any layout"


def test_a_case_lies_parallel_to_the_drawer():
    # 600 mm is less than the diagonal of 556.8 x 396.8 mm, but longer than its width: short by 43.2 mm.
    fit = admit(group("case", piece(kind="cased", length=600, width=100, height=50)), drawer(slot="no foam"), HOUSE)
    assert (fit.shortfall.axis, fit.shortfall.scope) == ("width", "any layout")
    assert fit.shortfall.short == mm(600 - 560) + 2 * HOUSE.clearance.side


def test_slots_take_what_they_are_for():
    case = group("case", piece(kind="cased", length=300, width=200, height=80))
    tools = group("tools", piece())
    foam, bare, blocked = (replace(drawer(), slot=slot) for slot in ("foam", "no foam", "blocked"))
    assert [type(admit(case, box, HOUSE)) for box in (foam, bare, blocked)] == [StaysOut, GoesIn, StaysOut]
    assert [type(admit(tools, box, HOUSE)) for box in (foam, bare, blocked)] == [GoesIn, StaysOut, StaysOut]
    allowed = replace(HOUSE, layout=replace(HOUSE.layout, cased_in_foam=True))
    assert isinstance(admit(case, foam, allowed), GoesIn)


def test_a_group_heavier_than_the_rating_is_out_and_one_that_only_may_be_is_open():
    heavy = group("heavy", piece(mass=30))
    box = drawer(load_rating=kg(25))
    fit = admit(heavy, box, HOUSE)
    assert isinstance(fit, StaysOut)
    assert fit.shortfall.axis == "load"
    assert isinstance(admit(replace(heavy, mass_low=kg(20)), box, HOUSE), Open)


@given(st.integers(300, 700), st.integers(300, 500), st.integers(20, 120), st.integers(0, 40), st.integers(0, 40))
def test_a_larger_drawer_never_takes_less(width, depth, height, more_width, more_height):
    ready = group(ready=organizer(width=500, depth=380, height=50, field_width=mm(400), field_depth=mm(300)))
    small = admit(ready, drawer(width=width, depth=depth, height=height), HOUSE)
    large = admit(ready, drawer(width=width + more_width, depth=depth, height=height + more_height), HOUSE)
    assert not (isinstance(small, GoesIn) and isinstance(large, StaysOut))
