"""Drawers as somebody tells them on the phone: sizes that are known, guessed or not known."""

from __future__ import annotations

from dataclasses import dataclass

from matcher.records.words import Slot


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
