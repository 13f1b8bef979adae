"""The verdict on one set in one cabinet: ordered layouts, then proofs from bounds, then free layouts as last resort.

Splits only what goes whole into no drawer (R2).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import TypeAlias

from matcher.admission import admit, admit_free
from matcher.assignment import Assignment, Problem, assign
from matcher.changes import nearest_change
from matcher.grouping import groups_of, member_sets
from matcher.house import House
from matcher.layout import parts
from matcher.posing import Admit, Case, only, pose, problem_of, usable
from matcher.reasons import reasons_against, reasons_open
from matcher.records import (
    Cabinet,
    Catalogue,
    Drawer,
    GoalName,
    Group,
    Pin,
    Reason,
    Scope,
    Verdict,
    Wishes,
)
from matcher.wishes import keeping

Progress: TypeAlias = Callable[[str, int, int], None]
"""Told a goal's value and bound as it is begun and as it is settled."""


LADDER: tuple[tuple[Admit, Scope], ...] = ((admit, "any layout"), (admit_free, "house layout"))
"""Ways into a drawer in the order they are tried, and how far a proof reaches that none of them gives a plan."""


@dataclass(frozen=True, slots=True)
class Decided:
    """A case with its verdict: a plan's drawers, or why there is none. ``problem`` is what was solved last."""

    case: Case
    problem: Problem
    verdict: Verdict
    assignment: Assignment
    reasons: tuple[Reason, ...] = ()
    change: str = ""


def decide(
    catalogue: Catalogue,
    house: House,
    sets: tuple[str, ...],
    cabinet: Cabinet,
    groups: tuple[Group, ...],
    wishes: Wishes,
    progress: Progress | None,
    goals: tuple[GoalName, ...] | None = None,
) -> Decided:
    """Ordered layouts first; where they give no plan, proofs from bounds; then free layouts as the last resort."""
    for admission, scope in LADDER:
        case = _posed(catalogue, house, sets, cabinet, groups, admission)
        problem = _problem(case, wishes, goals)
        found = assign(problem, progress=progress)
        if found.status == "found":
            return Decided(case, problem, "fits", found)
        if _excluded(case, scope):
            return Decided(case, problem, "does not fit", found, reasons_against(_whole(case), scope))
    return Decided(case, problem, "undecided", found, reasons_open(case))


def _problem(case: Case, wishes: Wishes, goals: tuple[GoalName, ...] | None) -> Problem:
    problem = problem_of(case, case.house.goals.fill)
    if goals is not None:
        problem = replace(problem, goals=goals, relations=())
    return keeping(problem, wishes.keep) if wishes.keep else problem


def _posed(
    catalogue: Catalogue,
    house: House,
    sets: tuple[str, ...],
    cabinet: Cabinet,
    groups: Iterable[Group],
    admission: Admit,
) -> Case:
    """The case once groups that go whole into no drawer of the cabinet are split into the fewest parts that do."""
    drawers = usable(cabinet)

    def goes_in(group: Group) -> bool:
        return any(admission(group, drawer, house).status == "yes" for drawer in drawers)

    whole = [part for group in groups for part in whole_or_parts(group, goes_in)]
    return pose(catalogue, house, sets, cabinet, whole, admission)


def whole_or_parts(group: Group, goes_in: Callable[[Group], bool]) -> tuple[Group, ...]:
    """The group if it goes in whole or cannot be split, else the fewest parts that go in, else what is stuck of it."""
    split = None if goes_in(group) or not group.split else parts(group, goes_in)
    return split or (_stuck(group, goes_in),)


def _stuck(group: Group, goes_in: Callable[[Group], bool]) -> Group:
    """A group that goes in neither whole nor in parts, reduced to the largest that by itself goes in nowhere.

    Its shortfalls hold for the whole group however it is split; those of several together would not. Any other group is
    returned as it is.
    """
    if goes_in(group) or not group.split:
        return group
    alone = [piece for piece in group.pieces if not goes_in(replace(group, pieces=(piece,)))]
    if not alone:
        return replace(group, part_of=group.name)
    largest = max(alone, key=lambda piece: piece.length * piece.width)
    return replace(group, pieces=(largest,))


def decide_drawers(
    catalogue: Catalogue, house: House, set_name: str, cabinet: Cabinet, groups: tuple[Group, ...]
) -> Decided:
    """The verdict with its reasons, or with drawers for the set's groups of which as many as can be are used.

    No other goal is looked at, and nothing is laid out or checked: for screening many pairs.
    """
    sets = member_sets(catalogue, set_name)
    spread = replace(house, goals=replace(house.goals, fill="spread"))
    return decide(catalogue, spread, sets, cabinet, groups, Wishes(), None, ("drawers",))


def verdict_of(
    catalogue: Catalogue,
    house: House,
    set_name: str,
    cabinet: Cabinet,
    ordered: bool = False,
    groups: tuple[Group, ...] | None = None,
) -> Verdict:
    """The verdict alone, without goals, reasons or plan: for what-ifs on a cabinet that need not be the catalogue's.

    ``ordered`` looks at ordered layouts only; then anything but ``fits`` says no more than that none of them goes in.
    ``groups`` stand in for those of the set.
    """
    sets, groups = member_sets(catalogue, set_name), groups or groups_of(catalogue, set_name)
    for admission, scope in LADDER[: 1 if ordered else 2]:
        case = _posed(catalogue, house, sets, cabinet, groups, admission)
        if assign(_bare(problem_of(case, "spread"))).status == "found":
            return "fits"
        if not ordered and _excluded(case, scope):
            return "does not fit"
    return "undecided"


def _whole(case: Case) -> Case:
    """The case of its whole groups: a split is one way of several, so its parts prove nothing."""
    return only(case, [g for g, group in enumerate(case.groups) if not group.part_of])


def _excluded(case: Case, scope: Scope) -> bool:
    """Whether it is proved that the case has no plan within the scope, for its whole groups alone."""
    problem = problem_of(_whole(case), "spread", optimistic=True, any_layout=scope == "any layout")
    return assign(_bare(problem)).status == "impossible"


def _bare(problem: Problem) -> Problem:
    """The problem without goals and wishes: whether there is any plan at all."""
    return replace(problem, goals=(), relations=())


def with_nearest_change(
    catalogue: Catalogue,
    house: House,
    sets: tuple[str, ...],
    cabinet: Cabinet,
    groups: tuple[Group, ...],
    decided: Decided,
) -> Decided:
    """The refusal with the nearest change that was tried and turns it."""

    def tried(drawers: tuple[Drawer, ...], kept: tuple[Group, ...], pins: tuple[Pin, ...]) -> bool:
        changed = replace(catalogue, pins=pins)
        case = _posed(changed, house, sets, replace(cabinet, drawers=drawers), kept, admit)
        return assign(_bare(problem_of(case, "spread"))).status == "found"

    change = nearest_change(decided.case, groups, decided.reasons, tried)
    return replace(decided, change=change)
