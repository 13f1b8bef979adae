"""Looks whether the kinds of tools that house rules name are known: rules of a kind that is none would say nothing."""

from __future__ import annotations

from collections.abc import Iterator

from matcher.catalogue.trade import KIND_WORDS, kind_word
from matcher.house import House
from matcher.records import CatalogueError, CellError


def check_kinds(rules: House, file: str) -> None:
    """Refuse rules about kinds that are none; ``file`` is what the rules were read from.

    Raises
    ------
    CatalogueError
        Holds every word that names no kind, by its key.
    """
    faults = [CellError(file, 0, key, word, expected) for key, word in _named(rules) if (expected := _expected(word))]
    if faults:
        raise CatalogueError(faults)


def _named(rules: House) -> Iterator[tuple[str, str]]:
    """Every word for a kind, with its key."""
    for table, words in (("depth_share", rules.pocket.depth_share), ("depth_max_mm", rules.pocket.depth_max)):
        yield from ((f"pocket.{table}.{word}", word) for word, _ in words if word != "default")
    yield from (("notch.shared", word) for word in rules.notch.shared)
    yield from (("layout.nests", word) for word in rules.layout.nests)


def _expected(word: str) -> str:
    """What was expected instead of a word that names no kind, letter by letter as kinds are written."""
    if word in KIND_WORDS:
        return ""
    try:
        return f"the word {kind_word(word)!r}"
    except ValueError as unknown:
        return str(unknown)
