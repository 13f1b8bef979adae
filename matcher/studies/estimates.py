"""Which pieces to measure with a caliper: the fewest that settle a verdict resting on estimated sizes.

Every estimated size may be as small or as large as its own rule says, against the verdict. Where the verdict then
turns, a set of pieces settles it if the verdict stands with their sizes as estimated and all others off.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias, TypeVar

from matcher.planning import Fits, Outcome, verdict_of
from matcher.records import Bound, Group, SizedPiece, Verdict, widest
from matcher.tools import sized

T = TypeVar("T")
Rows: TypeAlias = frozenset[int]
"""Rows of pieces of a group, by index."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """A piece whose size decides, with the group it belongs to."""

    group: str
    piece: SizedPiece


@dataclass(frozen=True, slots=True)
class Settling:
    """What estimated sizes do to a verdict.

    ``bound`` is what was tried, the least sizes or the greatest, ``off`` the largest share by which one of them differs
    from the likely size, ``turned`` the verdict with all of them so.
    ``measure`` are pieces that settle it if they turn out as estimated, none of which can be spared; empty where the
    verdict stands anyway. ``estimated`` counts the set's pieces of estimated size.
    """

    set: str
    cabinet: str
    bound: Bound
    off: float
    verdict: Verdict
    turned: Verdict
    estimated: int
    measure: tuple[Doubt, ...]

    @property
    def stands(self) -> bool:
        """Whether the verdict is the same whatever the estimates turn out to be."""
        return self.turned == self.verdict


def settling(outcome: Outcome) -> Settling:
    """The fewest pieces to measure for the verdict of ``outcome``; of an undecided one, none are sought.

    A plan in order has to stay one in order: that a layout without order might still go in is no reason not to measure.
    """
    groups = outcome.question.groups
    trial = _EstimateTrial(outcome)
    turned = trial.verdict({})
    decided = outcome.verdict != "undecided" and turned != outcome.verdict
    guessed = [piece for group in groups for piece in group.pieces if _guessed(piece)]
    return Settling(
        set=outcome.set,
        cabinet=outcome.cabinet,
        bound=trial.bound,
        off=widest(guessed, trial.bound),
        verdict=outcome.verdict,
        turned=turned,
        estimated=sum(piece.piece.count for piece in guessed),
        measure=tuple(_fewest_rows(trial)) if decided else (),
    )


@dataclass(frozen=True, slots=True)
class _EstimateTrial:
    """A question tried with some pieces measured as estimated and all other estimates off against the verdict."""

    outcome: Outcome

    @property
    def groups(self) -> tuple[Group, ...]:
        """The groups that were asked about."""
        return self.outcome.question.groups

    @property
    def bound(self) -> Bound:
        """The sizes that may turn the verdict."""
        return "high" if isinstance(self.outcome, Fits) else "low"

    def verdict(self, measured: Mapping[int, Rows]) -> Verdict:
        """The verdict with these rows of these groups (by index) measured."""
        in_order = isinstance(self.outcome, Fits) and all(
            placed.how != "unordered" for placed in self.outcome.plan.placements
        )
        tried = tuple(_off(group, measured.get(g, frozenset()), self.bound) for g, group in enumerate(self.groups))
        return verdict_of(replace(self.outcome.question, groups=tried), in_order)

    def stands(self, measured: Mapping[int, Rows]) -> bool:
        """Whether the verdict stays what it is."""
        return self.verdict(measured) == self.outcome.verdict


def _fewest_rows(trial: _EstimateTrial) -> list[Doubt]:
    """First the groups that have to be looked at, then in one after another the pieces."""
    rows = [_by_size(group) for group in trial.groups]
    groups = fewest(
        [g for g, own in enumerate(rows) if own],
        lambda chosen: trial.stands({g: frozenset(rows[g]) for g in chosen}),
    )
    measured = {g: frozenset(rows[g]) for g in sorted(groups)}
    for g in measured:
        measured[g] = _fewest_of(trial, measured, g, rows[g])
    return [
        Doubt(trial.groups[g].name, trial.groups[g].pieces[row])
        for g, own in measured.items()
        for row in rows[g]
        if row in own
    ]


def _fewest_of(trial: _EstimateTrial, measured: Mapping[int, Rows], g: int, rows: Sequence[int]) -> Rows:
    """Rows of one group that are enough beside what is measured of the others."""
    return frozenset(fewest(rows, lambda held: trial.stands({**measured, g: frozenset(held)})))


def fewest(items: Sequence[T], enough: Callable[[Sequence[T]], bool]) -> list[T]:
    """An inclusion-minimal part of ``items`` that is enough, the first ones preferred; all of them must be.

    Each turn finds the shortest beginning that is enough beside what is kept: its last item cannot be spared.
    """
    kept: list[T] = []
    left = list(items)
    while not enough(kept):
        low, high = 0, len(left)
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if enough([*kept, *left[:middle]]) else (middle, high)
        kept.append(left[high - 1])
        left = left[: high - 1]
    return kept


def _by_size(group: Group) -> list[int]:
    """Rows of estimated pieces, the largest in area first."""
    rows = [row for row, piece in enumerate(group.pieces) if _guessed(piece)]
    return sorted(rows, key=lambda row: (-group.pieces[row].length * group.pieces[row].width, row))


def _guessed(piece: SizedPiece) -> bool:
    return piece.basis == "estimated"


def _off(group: Group, measured: Rows, bound: Bound) -> Group:
    """The group with its estimated pieces, but for those measured, as large as ``bound`` says."""
    pieces = [
        sized(piece.piece, bound) if _guessed(piece) and row not in measured else piece
        for row, piece in enumerate(group.pieces)
    ]
    return replace(group, pieces=tuple(pieces))
