"""Pins as words: what is said is read back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matcher.planning.pins import parse_keep_free, parse_pin, pin_words
from matcher.records.errors import UsageError
from matcher.records.given import Pin
from matcher.records.units import mm

NAMES = st.from_regex(r"[a-z]{2,8}( [a-z]{2,8})?", fullmatch=True).filter(
    lambda name: not {"in", "not", "apart", "from", "keep", "free"} & set(name.split())
)
PLACES = st.tuples(
    st.from_regex(r"[A-Z][0-9]{1,2}", fullmatch=True) | st.just(""),
    st.none() | st.integers(1, 9),
    st.none() | st.integers(1, 30),
).filter(any)


@given(st.sampled_from(["in", "not in"]), NAMES, PLACES)
def test_a_place_is_read_back(rule, group, place):
    pin = Pin(rule, group=group, drawer=place[0], bank=place[1], row=place[2])
    assert parse_pin(pin_words(pin)) == pin


@given(NAMES, NAMES, PLACES)
def test_apart_and_keep_free_are_read_back(group, other, place):
    for pin in (Pin("apart", group=group, other=other), Pin("keep free", "", "", "", "", *place)):
        assert parse_pin(pin_words(pin)) == pin


@given(st.integers(1, 9999), st.none() | st.integers(1, mm(10_000)))
def test_so_many_free_is_read_back(count, height):
    pin = Pin("keep free", count=count, height=height)
    assert parse_pin(pin_words(pin)) == pin


@pytest.mark.parametrize("height", ["100 mm", "74.5 mm", "4 in", "3 15/16 in", "2 1/2 in"])
def test_a_height_is_told_as_it_was_given(height):
    assert pin_words(parse_keep_free(f"2 of {height}")) == f"keep 2 drawers of {height} free"


@pytest.mark.parametrize(
    ("words", "height"),
    [
        ("2", None),
        ("2 of 100 mm", 100 * 320),
        ("2 of 101.6 mm", 4 * 8128),
        ("2 of 4 in", 4 * 8128),
        ("2 of 3 15/16 in", 63 * 508),
        ("2 of 15/16in", 15 * 508),
        ("2 of 0.001 mm", 1),  # rounded against the fit: up
    ],
)
def test_a_height_is_metric_or_inch_with_a_shop_fraction(words, height):
    """1 in = 25.4 mm = 8128 units of 1/320 mm, 1/16 in = 508."""
    assert parse_keep_free(words) == Pin("keep free", count=2, height=height)


@pytest.mark.parametrize(
    "words",
    [
        "",
        "0",
        "two",
        "-1",
        "1.5",
        "2 of",
        "2 of 100",
        "2 of 0 mm",
        "2 of 1/0 in",
        "2 of 10001 mm",
        "2 of 9 ft",
        "9" * 9,
    ],
)
def test_other_numbers_of_drawers_are_refused_with_what_was_expected(words):
    with pytest.raises(UsageError, match="expected a number of drawers"):
        parse_keep_free(words)


@pytest.mark.parametrize(
    "words",
    [
        "keep 0 drawers free",
        "keep 2 drawers of tea free",
        "",
        "hex keys",
        "hex keys in",
        "hex keys in bank two",
        "keep free",
        "hex keys in row 1, row 2",
    ],
)
def test_other_words_are_refused_with_what_was_expected(words):
    with pytest.raises(UsageError, match="expected"):
        parse_pin(words)
