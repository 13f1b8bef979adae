"""Whether the cases of a set alone find no place: then the set has none, whatever becomes of its foam."""

from __future__ import annotations

from dataclasses import replace

from matcher.fitting import GoesIn, Open, admit
from matcher.layout import singles
from matcher.planning.dividing import divided_groups
from matcher.planning.posing import pose
from matcher.planning.question import Question
from matcher.planning.reasons import scoped
from matcher.records import Group, Reason, listed

SHARE = 0.05
"""Share of the budget for dividing and mixing that each look gets: cases are few."""


def cases_refused(question: Question) -> tuple[Reason, ...]:
    """A smallest set of groups of cases that do not go in, if it is proved that all of them do not.

    Cases lie flat beside each other, each group divided in any way. Nothing is told where a case is still open.
    """
    cased = tuple(group for group in question.groups if group.cased)
    if not _impossible(question, cased):
        return ()
    for group in cased:
        without = tuple(other for other in cased if other is not group)
        cased = without if _impossible(question, without) else cased
    case = pose(question, (single for group in cased for single in singles(group)), admit)
    taking = sorted({d for (_, d), fit in case.fits.items() if isinstance(fit, GoesIn)})
    drawers = tuple(case.drawers[d].name for d in taking)
    names = tuple(group.name for group in cased)
    text = (
        f"{listed(names)} do not all go into the drawers that take any of them ({', '.join(drawers)}), lying flat "
        f"side by side and none on another, however they are divided: every way tried"
    )
    reason = Reason("all-tried", text, groups=names, drawers=drawers)
    return (scoped(question, reason, "house layout"),)


def _impossible(question: Question, cased: tuple[Group, ...]) -> bool:
    """Whether it is proved that these groups have no plan, however they are divided."""
    alone = replace(question, groups=cased)
    if not cased or any(isinstance(fit, Open) for fit in pose(alone, cased, admit).fits.values()):
        return False
    return divided_groups(alone, admit, 0, SHARE * question.house.work.together).status == "impossible"
