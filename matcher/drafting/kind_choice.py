"""The kind of tool that a line's traits mean: exactly one, or a question."""

from __future__ import annotations

from matcher.drafting.ranges import OpenError
from matcher.drafting.vocabulary import KindWords, Traits, Vocabulary
from matcher.records import listed

OFFERED = 4
"""How many kinds a question names."""
TIPS = {"slotted": ("SL",), "cross": ("PH", "PZ"), "hexalobular": ("T",), "hexagon": ("H",), "twelve-point": ("M",)}
"""Letters of the tips that a trait means."""


def chosen_kind(traits: Traits, known: Vocabulary) -> str:
    """The one kind that needs no trait which the line lacks, and allows all that it has.

    Raises
    ------
    OpenError
        There is none, or more than one; names the nearest.
    """
    found = {kind.kind for kind in known.kinds if kind.needed <= traits <= kind.allowed}
    if len(found) == 1:
        return found.pop()
    told = " ".join(sorted(traits))
    if found:
        raise OpenError(f"which kind is it: {' or '.join(sorted(found))}?")
    near = sorted(
        (kind for kind in known.kinds if kind.head in traits), key=lambda kind: (_far(kind, traits), kind.kind)
    )
    names = tuple(dict.fromkeys(kind.kind for kind in near))[:OFFERED]
    raise OpenError(f"which kind is it? it says {told}; near are {listed(names)}" if names else "which kind is it?")


def _far(kind: KindWords, traits: Traits) -> int:
    return len(kind.needed - traits) + len(traits - kind.allowed)


def tip_letters(traits: Traits) -> tuple[str, ...]:
    """The letters that a tip may have by what the line says of it; none where it says nothing."""
    return tuple(letters for trait in sorted(traits & set(TIPS)) for letters in TIPS[trait])
