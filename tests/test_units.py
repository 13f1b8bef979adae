"""Exact lengths and masses."""

from fractions import Fraction
from math import ceil, floor

from hypothesis import given
from hypothesis import strategies as st

from matcher.records.length_units import LengthUnit
from matcher.records.units import PER_LB, PER_MM, Toward, gram, in_fraction, in_inches, inch, kg, lb, mm, show_mm, to_mm


def test_one_inch_is_25_4_millimeters():
    # Source: international yard and pound agreement of 1959, 1 in = 25.4 mm exactly.
    assert inch(1) == mm(Fraction("25.4")) == 8128


def test_one_pound_is_0_45359237_kilograms():
    # Source: international yard and pound agreement of 1959, 1 lb = 0.45359237 kg exactly.
    assert lb(1) == kg(Fraction("0.45359237")) == PER_LB


@given(st.integers(min_value=1, max_value=64 * 400))
def test_sixty_fourths_of_an_inch_lie_on_the_grid(sixty_fourths):
    length = Fraction(sixty_fourths, 64)
    assert inch(length, Toward.UP) == inch(length, Toward.DOWN)


@given(st.integers(min_value=1, max_value=100_000))
def test_tenths_of_a_millimeter_lie_on_the_grid(tenths):
    assert mm(Fraction(tenths, 10), Toward.UP) == mm(Fraction(tenths, 10), Toward.DOWN)


@given(st.fractions(min_value=0, max_value=10_000, max_denominator=10_000))
def test_rounding_goes_the_way_it_was_told_by_less_than_one_unit(value):
    down, up = mm(value, Toward.DOWN), mm(value, Toward.UP)
    assert down <= value * 320 <= up
    assert up - down <= 1


def test_inches_are_shop_fractions_where_they_are_exact():
    """22 7/16 in, 2 in and 1/64 in are; 22.3 in is none of 64ths; below 0 the sign comes first."""
    assert [in_inches(inch(Fraction(n, 64))) for n in (22 * 64 + 28, 128, 1, 0)] == ["22 7/16", "2", "1/64", "0"]
    assert in_inches(-inch(Fraction(3, 2))) == "-1 1/2"
    assert in_inches(inch(Fraction(223, 10))) == "22.300"


def test_a_shortfall_below_a_tenth_of_a_millimeter_is_still_shown():
    assert show_mm(16) == "0.05 mm"
    assert show_mm(mm(12)) == "12.0 mm"
    assert to_mm(mm(7)) == 7
    assert gram(1000) == kg(1)


# ------------------------------------------------------------------------------------------------ inches of the trade


def read(words):
    return sum(map(Fraction, words.split()))


@given(st.integers(1, 10_000 * PER_MM))
def test_inches_are_exact_to_a_64th_else_rounded_to_a_32nd_as_asked(length):
    exact = Fraction(length, 8128)  # 25.4 mm an inch and 320 units a mm
    down, up = read(in_fraction(length, Toward.DOWN)), read(in_fraction(length, Toward.UP))
    if exact * 64 == int(exact * 64):
        assert down == up == exact == read(in_fraction(length))
    else:
        assert down < exact < up
        assert up - down == Fraction(1, 32)
        assert {down, up} <= {Fraction(n, 32) for n in (floor(exact * 32), ceil(exact * 32))}
        near = in_fraction(length)
        assert near == "under 1/32" if exact < Fraction(1, 64) else abs(read(near) - exact) <= Fraction(1, 64)


@given(st.integers(1, 10_000 * PER_MM))
def test_a_size_is_never_told_as_more_than_there_is_or_less_than_is_needed(length):
    unit = LengthUnit("in")
    assert read(unit.clear(length).removesuffix(" in")) <= Fraction(length, 8128)
    assert read(unit.needed(length).removesuffix(" in")) >= Fraction(length, 8128)
    assert read(unit.least(length)) >= Fraction(length, 8128)
    assert LengthUnit("mm").needed(length) == LengthUnit("mm").clear(length) == show_mm(length)


@given(st.integers(1, 3000))
def test_what_was_given_in_millimeters_is_told_in_inches_on_the_safe_side(size):
    assert read(LengthUnit("in", given=False).figure(mm(size))) <= Fraction(size * 10, 254)
