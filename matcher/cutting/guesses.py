"""Pieces whose size nobody measured: foam is never cut for them unless the planner says so."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from matcher.records import Basis, Group, MatcherError, counted


@dataclass(frozen=True, slots=True)
class Guess:
    """A row of tools to cut for whose size is not measured; ``source`` says where it is from."""

    group: str
    tool: str
    count: int
    basis: Basis
    source: str


SHOWN = 3
"""Rows of a group that the refusal names before it counts the rest."""


class GuessedSizesError(MatcherError):
    """Foam to be cut for pieces whose size is not measured; ``guesses`` holds every one."""

    def __init__(self, guesses: Iterable[Guess]):
        self.guesses = tuple(guesses)
        pieces = sum(guess.count for guess in self.guesses)
        head = f"nothing is cut from guesses: the sizes of {counted(pieces, 'piece')} are not measured"
        tail = "measure them and enter their sizes, or allow estimates for drawings that are not for production"
        listed = (f"  {line}" for line in by_group(self.guesses))
        super().__init__("\n".join([f"{head};", tail, *listed]))


def by_group(listed: Iterable[Guess]) -> Iterator[str]:
    """A line for each group: how many pieces on which basis, and the first of them."""
    for group, of in groupby(listed, lambda guess: guess.group):
        rows = list(of)
        bases = Counter[str]()
        for row in rows:
            bases[row.basis] += row.count
        told = ", ".join(f"{count} {basis}" for basis, count in sorted(bases.items()))
        first = [row.tool if row.count == 1 else f"{row.count} x {row.tool}" for row in rows[:SHOWN]]
        more = [f"and {len(rows) - SHOWN} more"] if len(rows) > SHOWN else []
        yield f"{group} ({told}): {', '.join([*first, *more])}"


def guesses(groups: Iterable[Group]) -> tuple[Guess, ...]:
    """Every row of pieces of the groups that is not measured, group by group, sizes ascending."""
    return tuple(
        Guess(group.name, sized.piece.tool, sized.piece.count, sized.basis, sized.source)
        for group in groups
        for sized in sorted(group.pieces, key=lambda sized: sized.listed)
        if sized.basis != "measured"
    )
