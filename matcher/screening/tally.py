"""What a person wants to see of many pairs: for each set in how many cabinets it goes, and in which it is snuggest."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from matcher.records import Verdict


@dataclass(slots=True)
class Tally:
    """Counts that grow pair by pair; with `CELLS` pairs or fewer each pair's answer is kept too.

    ``snuggest`` is the fitting cabinet with the fewest unused drawers, then the first; ``cells`` are free drawers.
    """

    counts: dict[str, dict[Verdict, int]] = field(default_factory=dict)
    snuggest: dict[str, tuple[int, str]] = field(default_factory=dict)
    cells: dict[tuple[str, str], tuple[Verdict, int | None]] = field(default_factory=dict)
    pairs: int = 0

    def add(self, rows: Iterable[tuple[str, str, Verdict, int | None]]) -> None:
        """Count pairs: set, cabinet, verdict, fewest free drawers."""
        for name, cabinet, verdict, free in rows:
            counts = self.counts.setdefault(name, {"fits": 0, "does not fit": 0, "undecided": 0})
            counts[verdict] += 1
            self.pairs += 1
            if free is not None:
                self.snuggest[name] = min(self.snuggest.get(name, (free, cabinet)), (free, cabinet))
            if self.pairs <= CELLS:
                self.cells[name, cabinet] = verdict, free

    def total(self, verdict: Verdict) -> int:
        """Pairs of this verdict."""
        return sum(counts[verdict] for counts in self.counts.values())


CELLS = 2_000
"""Pairs of which a person might still look at each."""
