"""What if the drawers are a little off: which of them decide the verdict, and from which size on it turns.

Only sizes the found plan rests on are looked at: a drawer it leaves free may be any size. A turn is exact: it is found
by halving the range between a size at which the set fits and one at which it does not, down to one unit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from matcher.planning import Fits, Outcome, Question, verdict_of
from matcher.records import Cabinet, Drawer, Verdict
from matcher.studies.inside_sizes import DIMENSIONS, Dimension, all_larger, size_of, with_sizes


@dataclass(frozen=True, slots=True)
class Turn:
    """A size that decides: from ``at`` on the set fits, all other sizes as given; one unit less is ``below``."""

    drawer: str
    dimension: Dimension
    given: int
    at: int
    below: Verdict

    @property
    def off(self) -> int:
        """How far the turn is from the size given."""
        return abs(self.at - self.given)


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far a verdict stands when every size may be off by up to ``within``.

    ``smallest`` and ``largest`` are the verdicts with all sizes smaller and all larger by that much. ``together`` is
    the change of all sizes at once from which on the set fits, ``None`` where none within the range turns the verdict.
    ``turns`` are the single sizes that turn it, the nearest first.
    """

    set: str
    cabinet: str
    within: int
    verdict: Verdict
    smallest: Verdict
    largest: Verdict
    together: int | None
    turns: tuple[Turn, ...]


def tolerance(outcome: Outcome, within: int) -> Tolerance:
    """What sizes off by up to ``within`` (1/320 mm) do to the verdict of ``outcome``.

    Its cabinet may be one as measured. Splitting a group is decided before anything else, so where a larger drawer
    takes whole a group that was split before, a turn is one of several.
    """
    cabinet = outcome.question.cabinet
    trial = _Trial(outcome.question, isinstance(outcome, Fits), within)
    together = trial.turn(lambda by: all_larger(cabinet, by), 0)
    return Tolerance(
        set=outcome.set,
        cabinet=outcome.cabinet,
        within=within,
        verdict=outcome.verdict,
        smallest=trial.verdict(all_larger(cabinet, -within)) if trial.fits else outcome.verdict,
        largest=outcome.verdict if trial.fits else trial.verdict(all_larger(cabinet, within)),
        together=together,
        turns=() if together is None else _turns(trial, cabinet, _looked_at(outcome)),
    )


def _looked_at(outcome: Outcome) -> tuple[Drawer, ...]:
    """The drawers the plan uses; without one all that may hold something."""
    drawers = outcome.question.cabinet.drawers
    if not isinstance(outcome, Fits):
        return tuple(drawer for drawer in drawers if drawer.slot != "blocked")
    used = {placed.drawer for placed in outcome.plan.placements}
    return tuple(drawer for drawer in drawers if drawer.name in used)


@dataclass(frozen=True, slots=True)
class _Trial:
    """A question tried in changed cabinets; ``fits`` is whether the set fits the unchanged one."""

    question: Question
    fits: bool
    within: int

    def verdict(self, cabinet: Cabinet, ordered: bool = False) -> Verdict:
        return verdict_of(self.question.elsewhere(cabinet), ordered)

    def turn(self, changed: Callable[[int], Cabinet], given: int) -> int | None:
        """The least size within the range from which on the set fits; nothing if the verdict stays at its far end.

        Ordered layouts alone are tried first, as a search for layouts without order takes long.
        """
        low, high = (given - self.within, given) if self.fits else (given, given + self.within)
        far = self.verdict(changed(low if self.fits else high))
        if (far == "fits") == self.fits:
            return None
        least = _halved(low, high, lambda size: self.verdict(changed(size), ordered=True) == "fits")
        if least - 1 > low and self.verdict(changed(least - 1)) == "fits":
            least = _halved(low, least - 1, lambda size: self.verdict(changed(size)) == "fits")
        return least


def _turns(trial: _Trial, cabinet: Cabinet, drawers: Iterable[Drawer]) -> tuple[Turn, ...]:
    """Single sizes that turn the verdict, the nearest first."""
    found = (_turn(trial, cabinet, drawer, dimension) for drawer in drawers for dimension in DIMENSIONS)
    return tuple(sorted((turn for turn in found if turn), key=lambda turn: turn.off))


def _turn(trial: _Trial, cabinet: Cabinet, drawer: Drawer, dimension: Dimension) -> Turn | None:
    def changed(size: int) -> Cabinet:
        return with_sizes(cabinet, {(drawer.name, dimension): size})

    given = size_of(drawer, dimension)
    at = trial.turn(changed, given)
    return None if at is None else Turn(drawer.name, dimension, given, at, trial.verdict(changed(at - 1)))


def _halved(low: int, high: int, fits: Callable[[int], bool]) -> int:
    """A size that fits while one unit less does not, between ``low`` that does not fit and ``high`` that does."""
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle, high)
    return high
