"""Says of a piece what is unlikely about it: larger or heavier than its kind ever is, a drive that its size has not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from matcher.records import Piece, Spread, show_kg, show_mm
from matcher.tools.dimensions import sized
from matcher.tools.notation import SizingError

EVER = 2
"""A given size or mass beyond the greatest by this factor is doubted; common practice, no source."""
_ANY_SIZE = ("other", "cased")


def doubts(piece: Piece) -> Iterator[str]:
    """What a person should look at again, a clause each; nothing of kinds that may be of any size."""
    if piece.kind in _ANY_SIZE:
        return
    try:
        spread = sized(replace(piece, length=None, width=None, height=None, mass=None, outline="")).spread
    except SizingError as refused:
        if refused.column == "size" and piece.size:
            expected = refused.expected.partition(", or ")[0]
            yield f"size {piece.size} is unusual for its kind; expected {expected}"
        return
    if spread is not None:
        yield from _too_large(piece, spread)


def _too_large(piece: Piece, spread: Spread) -> Iterator[str]:
    for axis in ("length", "width", "height"):
        given, most = getattr(piece, axis), getattr(spread, axis).high
        if given is not None and given > EVER * most:
            yield f"{axis} {show_mm(given)}, where its kind and size has {show_mm(most)} at most"
    heaviest = sized(replace(piece, mass=None)).mass_high
    if piece.mass is not None and piece.mass > EVER * max(heaviest, spread.mass.high):
        yield f"mass {show_kg(piece.mass)}, where a piece of its kind and size weighs {show_kg(heaviest)} at most"
