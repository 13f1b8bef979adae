"""Answers about a plan that is there: whether it still holds, which parts it becomes, which sizes decide."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from matcher.desk.asking import AboutPlan, ReleaseAsk, SettlingAsk, StandingAsk
from matcher.house import House
from matcher.planning import Fits, Outcome, PlanStanding, standing_today
from matcher.records import Catalogue, ReleasedPlan, UsageError
from matcher.studies import Settling, Tolerance, released_as, settling, tolerance


@dataclass(frozen=True, slots=True)
class Standing:
    """How a released plan stands today."""

    found: PlanStanding


@dataclass(frozen=True, slots=True)
class PartsOfPlan:
    """A plan with its parts; none where there is no plan."""

    outcome: Outcome
    plan: ReleasedPlan | None


@dataclass(frozen=True, slots=True)
class Deciding:
    """Which sizes decide the verdict."""

    outcome: Outcome
    found: Tolerance


@dataclass(frozen=True, slots=True)
class PiecesToMeasure:
    """Which pieces to measure to settle the verdict."""

    outcome: Outcome
    found: Settling


FromPlan: TypeAlias = PartsOfPlan | Deciding | PiecesToMeasure


def standing(catalogue: Catalogue, rules: House, ask: StandingAsk) -> Standing:
    """How a released plan stands against the catalogue.

    Raises
    ------
    UsageError
        The plan was written, but not released.
    """
    if not ask.plan.released:
        raise UsageError(f"{ask.plan.name}: this plan was not released; only one with parts can be looked at again")
    return Standing(standing_today(ask.plan.released, catalogue, rules))


def following(catalogue: Catalogue, ask: AboutPlan, outcome: Outcome) -> FromPlan:
    """The answer to an ask about the outcome of its plan."""
    if isinstance(ask, ReleaseAsk):
        plan = released_as(outcome, catalogue, ask.prefix) if isinstance(outcome, Fits) else None
        return PartsOfPlan(outcome, plan)
    if isinstance(ask, SettlingAsk):
        return PiecesToMeasure(outcome, settling(outcome))
    within = outcome.question.house.measure.off if ask.within is None else ask.within
    return Deciding(outcome, tolerance(outcome, within))
