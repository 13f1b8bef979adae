"""Answers about a plan that is there: whether it still holds, which parts it becomes, which of its drawers decide."""

from __future__ import annotations

from dataclasses import dataclass

from matcher.desk.asking import ReleaseAsk, StandingAsk, ToleranceAsk
from matcher.house import House
from matcher.planning import Fits, Outcome, PlanStanding, standing_today
from matcher.records import Catalogue, ReleasedPlan, UsageError
from matcher.studies import Tolerance, released_as, tolerance


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


def following(catalogue: Catalogue, ask: ReleaseAsk | ToleranceAsk, outcome: Outcome) -> PartsOfPlan | Deciding:
    """The answer to an ask about the outcome of its plan."""
    if isinstance(ask, ReleaseAsk):
        plan = released_as(outcome, catalogue, ask.prefix) if isinstance(outcome, Fits) else None
        return PartsOfPlan(outcome, plan)
    within = outcome.question.house.measure.off if ask.within is None else ask.within
    return Deciding(outcome, tolerance(outcome, within))
