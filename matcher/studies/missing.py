"""What is short where a set has no plan, as one figure: for a matrix in which a sentence has no room."""

from __future__ import annotations

from dataclasses import dataclass

from matcher.planning import Fits, Outcome, reasons_of
from matcher.records import Reason


@dataclass(frozen=True, slots=True)
class Missing:
    """How much is short: a length in 1/320 mm, or about how many drawers; 0 where neither is known."""

    length: int = 0
    drawers: int = 0


def missing_of(outcome: Outcome) -> Missing:
    """What an outcome without a plan is short of; nothing of one with a plan.

    A length is that of the group that is short by most. Where a count of groups against drawers refuses the set, the
    drawers are those that are missing; else they are about as many as its foam asks for beyond the cabinet's.
    """
    if isinstance(outcome, Fits):
        return Missing()
    reasons = reasons_of(outcome)
    if lengths := [reason.short for reason in reasons if reason.code == "short" and reason.short]:
        return Missing(length=max(lengths))
    if counts := [_drawers(reason) for reason in reasons if reason.code == "too-few-drawers"]:
        return Missing(drawers=max(counts))
    return Missing(drawers=outcome.foam.missing) if outcome.foam else Missing()


def _drawers(reason: Reason) -> int:
    """Groups that cannot share beyond the drawers that they have; one where there is no drawer of their kind at all."""
    return max(1, len(reason.groups) - len(reason.drawers)) if reason.drawers else 1
