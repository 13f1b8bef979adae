"""Counts and lists in words, so that one of a thing is never told as several."""

from __future__ import annotations

from collections.abc import Sequence


def counted(count: float, noun: str) -> str:
    """So many of a thing, e.g. ``1 piece``, ``2 punches``, ``3 snips``, ``1.5 uses``."""
    return f"{count:g} {plural(noun, count)}" if isinstance(count, float) else f"{count} {plural(noun, count)}"


def plural(noun: str, count: float) -> str:
    """The noun as it is said of so many."""
    if count == 1 or noun.endswith("s"):
        return noun
    if noun.endswith("knife"):
        return f"{noun[:-2]}ves"
    return f"{noun}{'es' if noun.endswith('ch') else 's'}"


def listed(things: Sequence[str]) -> str:
    """The things as in a sentence: A, B and C."""
    return " and ".join(filter(None, (", ".join(things[:-1]), *things[-1:])))
