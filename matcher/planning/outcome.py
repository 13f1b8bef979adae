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
    Outside,
    PieceCounts,
    Placement,
    Plan,
    Reason,
    Run,
    TriedChange,
    Verdict,
    basis_counts,
    counted,
    listed,
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
class PartialPlan:
    """The best part that was found of a set that does not go in: a plan of it, checked like any other.

    ``without`` are the groups and pieces that a run leaves out to get it; ``outside`` is what they are. ``proved`` if
    no plan by these house rules leaves fewer tools outside; else a better part may exist.
    """

    answer: Fits
    without: tuple[str, ...]
    outside: tuple[Outside, ...]
    proved: bool


@dataclass(frozen=True, slots=True)
class _Unplanned(_Answered):
    """An answer without a plan: its reasons, changes that were tried and give a plan, and what foam is asked for and
    there. ``part`` is set only where it was looked for and found."""

    reasons: tuple[Reason, ...]
    turns: tuple[TriedChange, ...] = ()
    foam: FoamAsked | None = None
    part: PartialPlan | None = None

    @property
    def change(self) -> str:
        """The changes in one sentence; blank where there is none."""
        return f"it would fit with {'; or with '.join(turn.text for turn in self.turns)}" if self.turns else ""


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


def part_of(outcome: Outcome) -> PartialPlan | None:
    """The best part found of a set that does not go in, if one was looked for and found."""
    return None if isinstance(outcome, Fits) else outcome.part


def turn_of(part: PartialPlan) -> TriedChange:
    """Leaving out what stays outside of a part, as a change that gives a plan."""
    told = [one.group.name if one.whole else f"{one.tools} of {one.group.name}" for one in part.outside]
    tools = sum(one.tools for one in part.outside)
    return TriedChange(f"{counted(tools, 'tool')} left out: {listed(told)}", part.without)


def drawn(outcome: Outcome) -> Fits | None:
    """The answer whose plan a picture shows: the outcome itself, or the best part found where it has no plan."""
    if isinstance(outcome, Fits):
        return outcome
    return outcome.part.answer if outcome.part else None


def placed_in(outcome: Outcome, drawer: str) -> list[Placement]:
    """What the plan, or that of the best part found, puts into a drawer."""
    shown = drawn(outcome)
    return [placement for placement in shown.plan.placements if placement.drawer == drawer] if shown else []


def together_words(outcome: Outcome) -> tuple[str, ...]:
    """A sentence on every divided group and every drawer of several families; none where there is no plan."""
    goals = outcome.goals if isinstance(outcome, Fits) else ()
    return tuple(told for goal in goals if goal.name == "together" for told in goal.contributions)
