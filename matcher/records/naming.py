"""Words that are close to a misspelt one, for error messages."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from matcher.records.memory import remembered


def nearest(word: str, words: Iterable[str]) -> str:
    """The known word most like ``word``, capitals aside; empty if none is alike."""
    return _nearest(word.lower(), tuple(sorted(words)))


@remembered(4096)
def _nearest(word: str, words: tuple[str, ...]) -> str:
    folded = {known.lower(): known for known in reversed(words)}
    close = get_close_matches(word, folded, n=1, cutoff=0.4)
    return folded[close[0]] if close else ""


def with_nearest(expected: str, word: str, words: Iterable[str]) -> str:
    """What was expected, with the nearest right word behind it if there is one."""
    close = nearest(word, words)
    return f"{expected} (nearest: {close})" if close else expected
