"""Finds the kinds of tool that a word which names none may mean: first by meaning, then by letters."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from difflib import SequenceMatcher, get_close_matches

from matcher.tools.kinds import KINDS

OFFERED = 3
"""How many kinds are offered."""

_SAME: Mapping[str, str] = {
    # another word for the same thing: the word that kinds use
    "spanner": "wrench", "ruler": "rule", "torch": "flashlight", "lamp": "flashlight",
    "shears": "snips", "nippers": "cutters", "cutter": "cutters", "plier": "pliers", "crowbar": "bar", "prybar": "bar",
    "calliper": "caliper", "ring": "box", "star": "hexalobular", "deadblow": "dead",
    "side": "diagonal", "grip": "locking", "vise": "clamp", "gage": "gauge",
    "uj": "universal", "blade": "knife", "maul": "sledge", "magnet": "magnetic",
}  # fmt: skip
_ALSO: Mapping[str, str] = {
    # kind: what else it is called, in whole
    "adapter": "reducer, square reducer, drive adapter",
    "breaker bar": "flex handle, hinged handle, swing handle, power bar",
    "clamp": "C-clamp, G-clamp, F-clamp, bar clamp",
    "combination pliers": "linesman pliers, lineman pliers, engineer's pliers",
    "dead-blow hammer": "deadblow",
    "diagonal cutters": "wire cutters, side cutters, cutting pliers, cutters",
    "die stock": "die wrench, die holder, die handle",
    "extension": "extension bar, drive extension",
    "flare-nut wrench": "line wrench, brake line wrench",
    "flashlight": "work light, inspection light, pen light",
    "hacksaw": "saw, metal saw",
    "half-moon wrench": "obstruction wrench, moon wrench, C wrench",
    "hammer": "claw hammer, machinist's hammer",
    "hex key": "hex wrench, L key, hexagon key",
    "hose-clamp pliers": "clip pliers, hose pliers",
    "insert bit": "screwdriver bit, driver bit",
    "knife": "utility knife, box cutter, snap-off knife, folding knife",
    "left-cut snips": "left aviation snips, left tin snips, left snips",
    "locking pliers": "grip pliers, self-grip pliers, locking wrench",
    "long-nose pliers": "needle nose pliers",
    "magnetic pick-up": "pick-up tool, magnetic tool",
    "mallet": "rubber hammer, mallet hammer, wooden hammer",
    "pry bar": "lever, crow bar, wrecking bar",
    "punch": "drift, pin punch, center punch",
    "ratchet": "socket wrench, ratchet handle, ratchet wrench",
    "right-cut snips": "right aviation snips, right tin snips, right snips",
    "rule": "scale, steel rule",
    "scraper": "putty knife, spatula",
    "screw extractor": "bolt extractor, stud extractor",
    "screwdriver": "screw driver",
    "sledge hammer": "club hammer, lump hammer, drilling hammer, engineer's hammer",
    "sliding T-handle": "tommy bar, sliding bar, T-bar",
    "snap-ring pliers": "circlip pliers, retaining ring pliers",
    "snips": "tin snips, aviation snips",
    "socket rail": "socket holder, socket strip, rail",
    "spinner handle": "spin handle, spinner",
    "stubby ratchet": "palm ratchet, mini ratchet",
    "tap wrench": "tap handle, tap holder",
    "thread gauge": "pitch gauge, screw pitch gauge",
    "torque screwdriver": "torque driver",
    "universal-joint socket": "swivel socket, wobble socket, flex socket",
    "water-pump pliers": "tongue and groove pliers, pump pliers, multi-grip pliers",
    "wire stripper": "crimper, stripping pliers",
}
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
    "gauge": ("feeler gauge", "thread gauge", "caliper"),
}
_ALIKE = 0.75  # letters in common from which a word counts as a misspelt one
_WHOLE = 3.0  # what counts for a name in which every word is the same


def _parts(name: str) -> list[str]:
    return [part for part in re.split(r"[^a-z']+", name.lower()) if part]


_NAMES: Mapping[str, tuple[str, ...]] = {
    kind: (kind, *(name for name in _ALSO.get(kind, "").split(", ") if name)) for kind in KINDS
}
_JOINED = {"".join(_parts(name)): _parts(name) for names in _NAMES.values() for name in names}
_WORDS = sorted({part for names in _NAMES.values() for name in names for part in _parts(name)} | set(_SAME))


def kinds_like(word: str) -> tuple[str, ...]:
    """The three kinds that ``word`` most likely means, the likeliest first.

    The last word names the thing, so a kind with the same one comes first, then one that shares other words; a kind
    counts by the likest of its names, and letters decide between equals.
    """
    said = [_known(part) for part in _JOINED.get("".join(_parts(word)), _parts(word))]
    common = _COMMON.get(said[-1], ()) if len(said) == 1 else ()

    def likeness(kind: str) -> tuple[float, str]:
        usual = len(common) - common.index(kind) + _WHOLE if kind in common else 0
        return usual + max(_shared(said, name) for name in _NAMES[kind]), kind

    return tuple(sorted(KINDS, key=likeness, reverse=True)[:OFFERED])


def _shared(said: list[str], name: str) -> float:
    """How much of what was said a name says: words first, then letters."""
    own = [_SAME.get(part, part) for part in _parts(name)]
    if not said:
        return 0.0
    words = 2.0 * (own[-1] == said[-1]) + len(set(own[:-1]) & set(said)) + (own[-1] in said[:-1])
    letters = SequenceMatcher(None, " ".join(said), " ".join(own)).ratio()
    return words + letters + _WHOLE * (set(own) == set(said))


def _known(part: str) -> str:
    """A word as kinds have it, put right where it is misspelt or in the plural."""
    return next(_spelled(part), part)


def _spelled(part: str) -> Iterator[str]:
    singular = part.removesuffix("es") if part.removesuffix("es").endswith("ch") else part.removesuffix("s")
    for spelled in (part, singular):
        if spelled in _SAME or spelled in _WORDS:
            yield _SAME.get(spelled, spelled)
    for close in get_close_matches(part, _WORDS, n=1, cutoff=_ALIKE):
        yield _SAME.get(close, close)


def unknown_kind(word: str) -> str:
    """What is told of a word that names no kind."""
    *others, last = kinds_like(word)
    return f"a known kind of tool (nearest: {', '.join(others)} or {last})"
