"""Finds the kinds of tool that a word which names none may mean: first by meaning, then by letters."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import SequenceMatcher, get_close_matches

from matcher.tools.kinds import KINDS

OFFERED = 3
"""How many kinds are offered."""

_SAME: Mapping[str, str] = {
    # another word for the same thing: the word that kinds use
    "spanner": "wrench", "ruler": "rule", "torch": "flashlight", "lamp": "flashlight",
    "shears": "snips", "nippers": "cutters", "cutter": "cutters", "plier": "pliers", "crowbar": "bar", "prybar": "bar",
    "calliper": "caliper", "ring": "box", "star": "hexalobular", "deadblow": "dead-blow",
    "needle-nose": "long-nose", "side": "diagonal", "grip": "locking", "vise": "clamp",
    "uj": "universal", "blade": "knife", "maul": "sledge", "magnet": "magnetic",
}  # fmt: skip
_COMMON: Mapping[str, tuple[str, ...]] = {
    # last word of kinds: those that it means most often
    "wrench": ("combination wrench", "open-end wrench", "adjustable wrench"),
    "pliers": ("combination pliers", "slip-joint pliers", "long-nose pliers"),
    "screwdriver": ("screwdriver", "stubby screwdriver", "nut driver"),
    "driver": ("screwdriver", "stubby screwdriver", "nut driver"),
    "key": ("hex key", "hexalobular key", "T-handle hex key"),
    "bar": ("pry bar", "breaker bar", "extension"),
    "hammer": ("hammer", "ball-peen hammer", "dead-blow hammer"),
    "socket": ("socket", "deep socket", "impact socket"),
    "cutters": ("diagonal cutters", "snips", "wire stripper"),
    "bit": ("insert bit", "bit socket", "bit holder"),
}
_ALIKE = 0.75  # letters in common from which a word counts as a misspelt one


def kinds_like(word: str) -> tuple[str, ...]:
    """The three kinds that ``word`` most likely means, the likeliest first.

    The last word names the thing, so a kind with the same one comes first, then one that shares other words; letters
    decide between equals.
    """
    said = [_known(part) for part in word.lower().split()]
    common = _COMMON.get(said[-1], ()) if len(said) == 1 else ()
    lettered = " ".join(said)

    def likeness(kind: str) -> tuple[float, str]:
        own = kind.lower().split()
        usual = len(common) - common.index(kind) if kind in common else 0
        shared = 2.0 * (own[-1:] == said[-1:]) + len(set(own[:-1]) & set(said)) + (own[-1] in said[:-1])
        return usual + shared + SequenceMatcher(None, lettered, kind.lower()).ratio(), kind

    return tuple(sorted(KINDS, key=likeness, reverse=True)[:OFFERED])


def _known(part: str) -> str:
    """A word as kinds have it, put right where it is misspelt or in the plural."""
    if part in _SAME:
        return _SAME[part]
    words = sorted({own for kind in KINDS for own in kind.lower().split()} | set(_SAME))
    singular = part.removesuffix("es") if part.removesuffix("es").endswith("ch") else part.removesuffix("s")
    for spelled in (part, singular):
        if spelled in words:
            return _SAME.get(spelled, spelled)
    close = get_close_matches(part, words, n=1, cutoff=_ALIKE)
    return _SAME.get(close[0], close[0]) if close else part


def unknown_kind(word: str) -> str:
    """What is told of a word that names no kind."""
    *others, last = kinds_like(word)
    return f"a known kind of tool (nearest: {', '.join(others)} or {last})"
