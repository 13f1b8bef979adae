"""Whether a released plan still holds against today's catalogue and house rules, drawer by drawer, and what broke.

The independent check says whether it holds; what changed since it was released says why.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from matcher.house import House
from matcher.planning.as_it_stands import as_it_stands
from matcher.planning.changed_drawers import drawer_changes, part_changes, trimming
from matcher.planning.changed_tools import ToolChanges, tool_changes
from matcher.planning.grouping import member_sets
from matcher.planning.joining import joined
from matcher.planning.question import Question, ask, find_cabinet
from matcher.planning.stranded import stranded, stranded_words
from matcher.records import Catalogue, Drawer, Plan, ReleasedOrganizer, ReleasedPlan, UnknownNameError, UsageError
from matcher.verification import Violation, verify

ROOM = ("R2", "R4", "R5", "R6", "R9", "R10", "R15")
"""Rules that also break where an organizer does not go into its drawer."""
TOOLS = ("R1", "R2", "R8", "R12", "R13", "R14", "R15", "R16")
"""Rules that also break where an organizer has not the tools that it was made for."""

ORDER = "R16"
"""The rule of order, which foam that is cut does not break where a tool's size is typed anew: it is told."""


@dataclass(frozen=True, slots=True)
class DrawerStanding:
    """A drawer of a released plan, its groups and their parts; what broke, and what changed and does not matter."""

    drawer: str
    groups: tuple[str, ...]
    parts: tuple[str, ...]
    broke: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether it can be built as released."""
        return not self.broke


@dataclass(frozen=True, slots=True)
class PlanStanding:
    """How a released plan stands today: every used drawer, and what is about none of them."""

    plan: ReleasedPlan
    drawers: tuple[DrawerStanding, ...] = ()
    broke: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether all of it does."""
        return not self.broke and all(one.holds for one in self.drawers)


def standing_today(plan: ReleasedPlan, catalogue: Catalogue, house: House) -> PlanStanding:
    """How a released plan stands against a catalogue and house rules."""
    set_name, cabinet = plan.snapshot.set, plan.snapshot.cabinet
    try:
        member_sets(catalogue, set_name)
        find_cabinet(catalogue, cabinet)
    except (UnknownNameError, UsageError) as gone:
        return PlanStanding(plan, broke=(str(gone),))
    try:
        return _standing(plan, ask(catalogue, house, set_name, cabinet, plan.wishes), catalogue, ())
    except (UnknownNameError, UsageError) as gone:
        broke = (f"what was wished when it was released can no longer be asked: {gone}",)
    try:
        fewer = replace(plan.wishes, pins=(), tiers=(), without=(), by_drive=(), by_system=())
        return _standing(plan, ask(catalogue, house, set_name, cabinet, fewer), catalogue, broke)
    except (UnknownNameError, UsageError) as gone:
        return PlanStanding(plan, broke=tuple(dict.fromkeys((*broke, str(gone)))))


def _standing(plan: ReleasedPlan, question: Question, catalogue: Catalogue, broke: tuple[str, ...]) -> PlanStanding:
    groups = joined(question.unjoined, question.pins)
    tools = tool_changes(plan, groups, question.unit)
    known = replace(question.catalogue, parts=plan.made_rows)
    made = as_it_stands(plan, groups, question.cabinet, question.house)
    found = _by_drawer(verify(known, question.house, made), made)
    short: dict[str, list[str]] = {}
    for one in stranded(replace(question, wishes=replace(question.wishes, keep=plan.snapshot))):
        short.setdefault(one.drawer, []).append(stranded_words(one, question.unit))
    names = sorted({placed.drawer for placed in made.placements}, key=[box.name for box in plan.drawers].index)
    drawers = tuple(_drawer(plan, question, catalogue, name, tools, found.get(name, []), short) for name in names)
    return PlanStanding(
        plan, drawers, (*broke, *_of_all(plan, question, tools, found.get("", []))), _free(plan, question)
    )


def _by_drawer(violations: tuple[Violation, ...], made: Plan) -> Mapping[str, list[Violation]]:
    """What breaks by drawer; under a blank name what is about none of them."""
    where = {placed.drawer: placed.drawer for placed in made.placements}
    places = {placed.group: placed.drawer for placed in made.placements}
    for group in made.groups:
        for name in (*(piece.piece.tool for piece in group.pieces), group.part_of, *group.also):
            where.setdefault(name, places[group.name])
    where |= places
    found: dict[str, list[Violation]] = {}
    for one in violations:
        found.setdefault(where.get(one.thing, ""), []).append(one)
    return found


def _drawer(
    plan: ReleasedPlan,
    question: Question,
    catalogue: Catalogue,
    name: str,
    tools: Mapping[str, ToolChanges],
    violations: list[Violation],
    short: Mapping[str, list[str]],
) -> DrawerStanding:
    """How one used drawer stands."""
    held = [one for one in plan.organizers if one.placement.drawer == name]
    was = next(box for box in plan.drawers if box.name == name)
    now = next((box for box in question.cabinet.drawers if box.name == name), None)
    edited = tuple(drawer_changes(was, now, question.unit)) if now else ()
    wholes = dict.fromkeys(one.group_meant for one in held)
    breaking = [f"{whole}: {words}" for whole in wholes for words in tools[whole].breaking]
    sizes = [f"{whole}: {words}" for whole in wholes for words in tools[whole].other]
    parts = [words for one in held if one.row and (words := part_changes(one.row, catalogue, question.unit))]
    tight = _tight(held, now, question) if edited else []
    own = [one for one in violations if not ((name in short or tight) and one.rule in ROOM)]
    own = [one for one in own if not (breaking and one.rule in TOOLS)]
    unsorted = [one.text for one in own if one.rule == ORDER and sizes]
    own = [one for one in own if one.text not in unsorted]
    untouched = not (edited or breaking or sizes or parts or short.get(name))
    told = [f"by today's rules: {one.text} ({one.rule})" if untouched else f"{one.text} ({one.rule})" for one in own]
    broke = (*short.get(name, ()), *tight, *breaking, *parts, *told)
    return DrawerStanding(
        name,
        tuple(one.planned_for for one in held),
        tuple(one.row.part for one in held if one.row and one.row.part),
        (*edited, *sizes, *broke) if broke else (),
        tuple(unsorted) if broke else (*edited, *sizes, *unsorted),
    )


def _tight(held: list[ReleasedOrganizer], now: Drawer | None, question: Question) -> list[str]:
    """What is said of an organizer alone in a drawer that takes it only trimmed today."""
    if now is None or len(held) > 1 or held[0].row is None:
        return []
    return list(filter(None, [trimming(held[0].row, now, question.house, question.unit)]))


def _of_all(
    plan: ReleasedPlan, question: Question, tools: Mapping[str, ToolChanges], violations: list[Violation]
) -> Iterator[str]:
    """What breaks and is about no drawer of the plan: groups that it does not have, pins, and the like."""
    released = {one.group_meant for one in plan.organizers}
    new = [name for name, found in tools.items() if name not in released and found.breaking]
    bare = [group.name for group in question.groups if not group.pieces and group.name not in released]
    for name in (*new, *bare):
        yield f"{name}: a group that the plan has no place for"
    if not new and not bare:
        yield from (f"{one.text} ({one.rule})" for one in violations if one.rule != "R17")


def _free(plan: ReleasedPlan, question: Question) -> tuple[str, ...]:
    """Free drawers of the plan that are no more, and drawers that it does not know."""
    then, today = ({box.name for box in boxes} for boxes in (plan.drawers, question.cabinet.drawers))
    gone = [
        f"drawer {name}, which the plan leaves free, is no longer there"
        for name in plan.snapshot.free
        if name not in today
    ]
    return (*gone, *(f"drawer {name} is new and free" for name in sorted(today - then)))
