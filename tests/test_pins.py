"""Pins as words: what is said is read back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matcher.errors import UsageError
from matcher.pins import parse_pin, pin_words
from matcher.records import Pin

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


@pytest.mark.parametrize(
    "words", ["", "hex keys", "hex keys in", "hex keys in bank two", "keep free", "hex keys in row 1, row 2"]
)
def test_other_words_are_refused_with_what_was_expected(words):
    with pytest.raises(UsageError, match="expected"):
        parse_pin(words)
