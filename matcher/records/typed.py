"""Drawers as somebody tells them on the phone: sizes that are known, guessed or not known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from matcher.records.units import PER_MM
from matcher.records.words import Slot

LARGEST_INSIDE: Mapping[str, int] = {
    "inside width": 1500 * PER_MM,
    "inside depth": 1000 * PER_MM,
    "clear height": 500 * PER_MM,
}
"""As large as a size that is not known may be: more than drawers for hand tools have; common practice, no source."""


@dataclass(frozen=True, slots=True)
class TypedSize:
    """A length in 1/320 mm, ``None`` where it is not known; ``guessed`` where it is no more than a guess."""

    length: int | None
    guessed: bool = False

    @property
    def sure(self) -> bool:
        """Whether it was told as known."""
        return self.length is not None and not self.guessed


@dataclass(frozen=True, slots=True)
class TypedDrawer:
    """A drawer by its inside sizes; ``inches`` says that it was told in inches."""

    name: str
    width: TypedSize
    depth: TypedSize
    height: TypedSize
    inches: bool
    slot: Slot = "foam"
