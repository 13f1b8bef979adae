"""The organizers of a released plan counted as foam that is there, where their groups still hold the same tools."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from matcher.planning.question import Question
from matcher.planning.released import MadeOrganizer, Released
from matcher.records import (
    Catalogue,
    Group,
    KeptOrganizer,
    ReleasedOrganizer,
    ReleasedPlan,
    ReleasedTool,
    released_tool,
)


def counting_on(question: Question, plan: ReleasedPlan) -> Question:
    """The question with the released organizers as existing ones, in whatever cabinet.

    An organizer counts if its group (or all parts of it) has exactly the tools, in the sizes, that it was made for. In
    the drawer it was made for, if that is what it was, it goes in as it was made.
    """
    same = unchanged(plan, question.lifted(question.pins))
    made = [kept for kept in plan.made_rows if (kept.part_of or kept.made.group) in same]
    held = Counter(one.placement.drawer for one in plan.organizers)
    drawers = {drawer.name: drawer for drawer in plan.drawers}
    places = {one.planned_for: one.placement for one in plan.organizers}
    homes = tuple(
        MadeOrganizer(kept.made, places[kept.made.group], drawers[kept.drawer], held[kept.drawer] == 1) for kept in made
    )
    known = replace(question.catalogue, parts=(*_others(question.catalogue, plan), *made))
    counted = replace(question, catalogue=known, released=Released(plan.cabinet_then, plan.snapshot, homes))
    return replace(counted, groups=counted.lifted(question.pins))


def unchanged(plan: ReleasedPlan, groups: Iterable[Group]) -> frozenset[str]:
    """Names of the groups whose organizers, in one or several parts, were made for just the tools they have."""
    made = {one.group_meant: tools_of(plan, one.group_meant) for one in plan.organizers}
    return frozenset(
        group.name for group in groups if made.get(group.name) == _counted(map(released_tool, group.pieces))
    )


def tools_of(plan: ReleasedPlan, whole: str) -> Counter[ReleasedTool]:
    """How many of each tool the organizers of a group hold together."""
    return _counted(tool for one in organizers_of(plan, whole) for tool in one.tools)


def organizers_of(plan: ReleasedPlan, whole: str) -> tuple[ReleasedOrganizer, ...]:
    """The organizers of a group: one, or those of its parts."""
    return tuple(one for one in plan.organizers if one.group_meant == whole)


def _counted(tools: Iterable[ReleasedTool]) -> Counter[ReleasedTool]:
    counts: Counter[ReleasedTool] = Counter()
    for tool in tools:
        counts[replace(tool, count=1)] += tool.count
    return counts


def _others(catalogue: Catalogue, plan: ReleasedPlan) -> Iterable[KeptOrganizer]:
    """Made organizers of the catalogue but those of the plan, of which it knows more."""
    own = {(one.row.set, one.row.group, one.row.part) for one in plan.organizers if one.row}
    return (one for one in catalogue.parts if (one.made.set, one.made.group, one.made.part) not in own)
