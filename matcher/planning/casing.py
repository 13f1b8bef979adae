"""Whether the cases of a set alone find no place: then the set has none, whatever becomes of its foam."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from matcher.fitting import GoesIn, Open, admit
from matcher.layout import singles
from matcher.planning.dividing import undividable
from matcher.planning.posing import Case, pose
from matcher.planning.question import Question
from matcher.records import Group, Reason, listed

SHARE = 0.05
"""Share of the budget for dividing and mixing that each look gets: cases are few."""


def cases_refused(question: Question) -> tuple[Reason, ...]:
    """A smallest set of groups of cases that do not go in, if it is proved that all of them do not.

    Cases lie flat beside each other, each wherever it goes in: nothing keeps a group whole or alone, and no pin counts.
    So what is proved holds for every plan, also for one in which cases of a group kept whole do not lie in one block.
    """
    loose = _loosened(question)
    cased = loose.groups
    if not _impossible(loose, cased):
        return ()
    for group in cased:
        without = tuple(other for other in cased if other is not group)
        cased = without if _impossible(loose, without) else cased
    case = _case_by_case(loose, cased)
    taking = sorted({d for (_, d), fit in case.fits.items() if isinstance(fit, GoesIn)})
    drawers = tuple(case.drawers[d].name for d in taking)
    names = tuple(group.name for group in cased)
    text = (
        f"{listed(names)} do not all go into the drawers that take any of them ({', '.join(drawers)}), however they "
        f"are divided and mixed, every way tried; rests on cases lying flat side by side, none on another"
    )
    if not question.house.layout.cased_in_foam:
        text += ", and on no case lying in a drawer for foam"
    return (Reason("all-tried", text, groups=names, drawers=drawers, scope="house layout"),)


def _loosened(question: Question) -> Question:
    """The question of the cases alone, in which everything may be divided, shared and mixed and nothing is pinned."""
    house = question.house
    cased = (replace(group, split=True, share=True) for group in question.groups if group.cased)
    together = replace(house.together, divide="needed", mix="free")
    return replace(question, groups=tuple(cased), pins=(), house=replace(house, together=together))


def _impossible(loose: Question, cased: tuple[Group, ...]) -> bool:
    """Whether it is proved that these groups have no plan; not where it is open whether a drawer takes a case."""
    if not cased or any(isinstance(fit, Open) for fit in _case_by_case(loose, cased).fits.values()):
        return False
    work = SHARE * loose.house.work.together
    return undividable(replace(loose, groups=cased), admit, work)


def _case_by_case(loose: Question, cased: Iterable[Group]) -> Case:
    return pose(loose, (single for group in cased for single in singles(group, loose.house.layout.sides)), admit)
