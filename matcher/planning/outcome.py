"""The answer to a question: a plan, a refusal, or neither. One class for each verdict."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, TypeAlias

from matcher.planning.question import Question
from matcher.records import (
    Alternative,
    Caution,
    Changes,
    Fill,
    FoamAsked,
    FreeDrawer,
    Goal,
    Last,
    LeftOut,
    Margin,
    PieceCounts,
    Placement,
    Plan,
    Reason,
    Run,
    Verdict,
    basis_counts,
)


@dataclass(frozen=True, slots=True)
class _Answered:
    """What every answer has: the question, and what is needed to get the same answer again."""

    question: Question
    run: Run

    @property
    def set(self) -> str:
        """The sets that were asked about, ``A+B``."""
        return self.question.set

    @property
    def cabinet(self) -> str:
        """The name of the cabinet that was asked about."""
        return self.question.cabinet.name

    @property
    def fill(self) -> Fill:
        """Whether drawers were to be used or left free."""
        return self.question.fill

    @property
    def basis(self) -> PieceCounts:
        """On what the verdict rests: pieces by the basis of their sizes; ready-made organizers count no pieces."""
        return basis_counts(piece for group in self.question.groups for piece in group.pieces)


@dataclass(frozen=True, slots=True)
class Fits(_Answered):
    """The set fits: a plan that the independent check accepts, with all that is told beside it.

    ``most_free`` and ``fewest_free`` are the most and the fewest drawers that any plan leaves free, ``free_proved``
    whether each is proved. ``margins`` come tightest first: the drawers to measure before ordering. ``kept`` is what
    changes from the plan to keep, where there is one. ``last`` tells how the search for alternatives ended.
    """

    verdict: ClassVar[Verdict] = "fits"

    plan: Plan
    goals: tuple[Goal, ...]
    most_free: int
    fewest_free: int
    free_proved: tuple[bool, bool]
    cautions: tuple[Caution, ...]
    margins: tuple[Margin, ...]
    free: tuple[FreeDrawer, ...]
    kept: Changes | None = None
    alternatives: tuple[Alternative, ...] = ()
    last: Last = ""


@dataclass(frozen=True, slots=True)
class _Unplanned(_Answered):
    """An answer without a plan: its reasons, the nearest change that was tried and gives a plan, if any, and what foam
    is asked for and there."""

    reasons: tuple[Reason, ...]
    change: str = ""
    foam: FoamAsked | None = None


@dataclass(frozen=True, slots=True)
class DoesNotFit(_Unplanned):
    """The set does not fit: reasons with their scope. ``but`` goes in nowhere, and all the rest of the set fits."""

    verdict: ClassVar[Verdict] = "does not fit"

    but: tuple[LeftOut, ...] = ()


@dataclass(frozen=True, slots=True)
class Undecided(_Unplanned):
    """Neither a plan nor a proof that there is none was found; the reasons say what stays open."""

    verdict: ClassVar[Verdict] = "undecided"


Outcome: TypeAlias = Fits | DoesNotFit | Undecided


def reasons_of(outcome: Outcome) -> tuple[Reason, ...]:
    """Why there is no plan, or what stays open; none where the set fits."""
    return () if isinstance(outcome, Fits) else outcome.reasons


def nearest_change_of(outcome: Outcome) -> str:
    """The nearest change that gives a plan; blank where there is none or there is a plan."""
    return "" if isinstance(outcome, Fits) else outcome.change


def fits_but_of(outcome: Outcome) -> tuple[LeftOut, ...]:
    """What alone keeps a refused set out, going in nowhere; nothing where it is not that alone."""
    return outcome.but if isinstance(outcome, DoesNotFit) else ()


def placed_in(outcome: Outcome, drawer: str) -> list[Placement]:
    """What the plan puts into a drawer; nothing without a plan."""
    placed = outcome.plan.placements if isinstance(outcome, Fits) else ()
    return [placement for placement in placed if placement.drawer == drawer]


def together_words(outcome: Outcome) -> tuple[str, ...]:
    """A sentence on every divided group and every drawer of several families; none where there is no plan."""
    goals = outcome.goals if isinstance(outcome, Fits) else ()
    return tuple(told for goal in goals if goal.name == "together" for told in goal.contributions)
