"""Pieces whose size nobody measured: foam is never cut for them unless the planner says so."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from matcher.errors import MatcherError
from matcher.records import Basis, Group


@dataclass(frozen=True, slots=True)
class Guess:
    """A row of tools to cut for whose size is not measured; ``source`` says where it is from."""

    group: str
    tool: str
    count: int
    basis: Basis
    source: str

    def __str__(self) -> str:
        return f"{self.group}: {self.count} x {self.tool}, {self.basis} ({self.source})"


class GuessedSizesError(MatcherError):
    """Foam to be cut for pieces whose size is not measured; ``guesses`` holds every one."""

    def __init__(self, guesses: Iterable[Guess]):
        self.guesses = tuple(guesses)
        pieces = sum(guess.count for guess in self.guesses)
        head = f"nothing is cut from guesses: the sizes of {pieces} pieces are not measured"
        tail = "measure them and enter their sizes, or give --allow-estimates for drawings that are not for production"
        super().__init__("\n".join([f"{head}; {tail}", *(f"  {guess}" for guess in self.guesses)]))


def guesses(groups: Iterable[Group]) -> tuple[Guess, ...]:
    """Every row of pieces of the groups that is not measured, in their order."""
    return tuple(
        Guess(group.name, sized.piece.tool, sized.piece.count, sized.basis, sized.source)
        for group in groups
        for sized in group.pieces
        if sized.basis != "measured"
    )
