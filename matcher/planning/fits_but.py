"""What alone keeps a set out: pieces and cases that go in nowhere, if all the rest has a plan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from matcher.fitting import GoesIn, admit, admit_free
from matcher.layout import reading_order, singles
from matcher.planning.deciding import verdict_of
from matcher.planning.grouping import groups_of
from matcher.planning.posing import may_go_in, pins_allow, usable
from matcher.planning.question import Question, question_of
from matcher.planning.shaping import shaped
from matcher.records import Drawer, Group, LeftOut, UsageError, Wishes

EFFORT = 0.25
"""Share of the budget for dividing and mixing that the rest of the set gets."""


def fits_but(question: Question) -> tuple[LeftOut, ...]:
    """What goes into no drawer by itself, if the set fits without it: tried and confirmed. Else nothing."""
    names = tuple(dict.fromkeys(name for group in question.groups for name in strays(question, group)))
    lesser = but_for(question, names) if names else None
    return lesser.left_out if lesser and verdict_of(lesser, effort=EFFORT) == "fits" else ()


def but_for(question: Question, names: tuple[str, ...]) -> Question | None:
    """The same question without groups and pieces of these names; nothing where nothing would be left."""
    try:
        rest = shaped(question.catalogue, question.set, Wishes(without=names))
    except UsageError:
        return None
    groups = groups_of(rest.catalogue, question.set, question.house.pocket.estimates)
    lesser = question_of(rest.catalogue, question.house, question.sets, question.cabinet, groups)
    return replace(lesser, left_out=rest.left_out)


def strays(question: Question, group: Group) -> Iterator[str]:
    """Names of a group's pieces that no drawer takes by themselves, or of the group if it is a single thing."""
    drawers = [drawer for drawer in usable(question.cabinet) if pins_allow(question.pins, group, drawer)]
    if _goes_somewhere(question, group, drawers):
        return
    if not group.pieces:
        yield group.name
        return
    sides = question.house.layout.sides
    for n, single in zip(reading_order(group.pieces, sides), singles(group, sides), strict=True):
        if not _goes_somewhere(question, single, drawers):
            yield group.pieces[n].piece.tool


def _goes_somewhere(question: Question, group: Group, drawers: list[Drawer]) -> bool:
    """Whether some drawer takes it, or it is not proved that it does not."""
    house = question.house
    return any(isinstance(admit(group, drawer, house), GoesIn) for drawer in drawers) or any(
        may_go_in(admit_free(group, drawer, house), any_layout=False) for drawer in drawers
    )
