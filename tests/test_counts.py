"""Counts in words: one is never told as several, and several never as one."""

import pytest

from matcher.records.counts import counted, plural


@pytest.mark.parametrize(
    ("count", "noun", "told"),
    [
        (0, "drawer", "0 drawers"),
        (1, "drawer", "1 drawer"),
        (2, "new size", "2 new sizes"),
        (3, "bench", "3 benches"),
        (2, "pliers", "2 pliers"),
        (1.0, "use", "1 use"),
        (0.5, "use", "0.5 uses"),
    ],
)
def test_a_count_has_its_noun_in_singular_or_plural(count: float, noun: str, told: str) -> None:
    assert counted(count, noun) == told


def test_a_noun_alone_follows_the_count_beside_it() -> None:
    assert (plural("drawer", 1), plural("drawer", 2)) == ("drawer", "drawers")
