"""The verdict on one set in one cabinet: ordered layouts, then proofs from bounds, then free layouts as last resort.

Splits only what goes whole into no drawer (R2). A split is one way of several, so its parts prove nothing; but however
a group is split, each of its pieces is in some drawer, so in proofs one stands for the whole group.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from matcher.assignment import Assignment, Problem, Progress, assign
from matcher.fitting import Fit, GoesIn, admit, admit_free
from matcher.house import House
from matcher.layout import parts, singles
from matcher.planning.drawer_problem import problem_of
from matcher.planning.nearest_change import nearest_change
from matcher.planning.posing import Admit, Case, may_go_in, pins_allow, pose, posed_anew, usable
from matcher.planning.question import Question
from matcher.planning.reasons import reasons_against, reasons_open
from matcher.planning.wishes import keeping
from matcher.records import Drawer, GoalName, Group, Pin, Reason, Scope, Verdict

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


def decide(question: Question, progress: Progress | None, goals: tuple[GoalName, ...] | None = None) -> Decided:
    """Ordered layouts first; where they give no plan, proofs from bounds; then free layouts as the last resort.

    With ``goals`` only these are looked at, and no wishes about neighbors.
    """
    for admission, scope in LADDER:
        case = _posed(question, admission)
        problem = _problem(case, goals)
        found = assign(problem, progress=progress)
        if found.status == "found":
            return Decided(case, problem, "fits", found)
        certain = _certain(case, admission, scope)
        if _impossible(certain, scope):
            return Decided(certain, problem, "does not fit", found, reasons_against(certain, scope))
    return Decided(case, problem, "undecided", found, reasons_open(case))


def _problem(case: Case, goals: tuple[GoalName, ...] | None) -> Problem:
    problem = problem_of(case, case.question.fill)
    if goals is not None:
        problem = replace(problem, goals=goals, relations=())
    keep = case.question.wishes.keep
    return keeping(problem, keep) if keep else problem


def _posed(question: Question, admission: Admit) -> Case:
    """The case once groups that go whole into no drawer of the cabinet are split into the fewest parts that do."""
    drawers = usable(question.cabinet)

    def goes_in(group: Group) -> bool:
        return any(isinstance(admission(group, drawer, question.house), GoesIn) for drawer in drawers)

    whole = [part for group in question.groups for part in whole_or_parts(group, goes_in)]
    return pose(question, whole, admission)


def whole_or_parts(group: Group, goes_in: Callable[[Group], bool]) -> tuple[Group, ...]:
    """The group if it goes in whole or cannot be split, else the fewest parts that go in, else what is stuck of it."""
    if not group.split or goes_in(group):
        return (group,)
    return parts(group, goes_in) or (_stuck(group, goes_in),)


def _stuck(group: Group, goes_in: Callable[[Group], bool]) -> Group:
    """Of a group that cannot be split so that all goes in: the largest piece that goes in nowhere, else all of it."""
    alone = [single for single in singles(group) if not goes_in(single)]
    return replace(max(alone, key=_extent, default=group), name=group.name, part_of=group.name)


def narrowest(group: Group, drawers: Iterable[Drawer], house: House, admission: Admit, scope: Scope) -> Group:
    """The piece of a group that, as far as is proved within the scope, the fewest drawers take; of equals the largest.

    It bears the group's name. What has no place for it has none for the group, however that is split.
    """
    boxes, whatever = tuple(drawers), scope == "any layout"

    def taken(single: Group) -> int:
        return sum(may_go_in(admission(single, box, house), any_layout=whatever) for box in boxes)

    least = min(singles(group), key=lambda single: (taken(single), -_extent(single)))
    return replace(least, name=group.name)


def _extent(group: Group) -> int:
    return max(piece.length * piece.width for piece in group.pieces)


def decide_drawers(question: Question) -> Decided:
    """The verdict with its reasons, or with drawers for the set's groups of which as many as can be are used.

    No other goal is looked at, and nothing is laid out or checked: for screening many pairs.
    """
    house = question.house
    spread = replace(house, goals=replace(house.goals, fill="spread"))
    return decide(replace(question, house=spread), None, ("drawers",))


def verdict_of(question: Question, ordered: bool = False) -> Verdict:
    """The verdict alone, without goals, reasons or plan: for what-ifs on a cabinet that need not be the catalogue's.

    ``ordered`` looks at ordered layouts only; then anything but ``fits`` says no more than that none of them goes in.
    """
    for admission, scope in LADDER[: 1 if ordered else 2]:
        case = _posed(question, admission)
        if assign(_bare(problem_of(case, "spread"))).status == "found":
            return "fits"
        if not ordered and _impossible(_certain(case, admission, scope), scope):
            return "does not fit"
    return "undecided"


def _certain(case: Case, admission: Admit, scope: Scope) -> Case:
    """The case of what is in its drawers however groups are split: the whole groups, and one piece of each split one.

    What that piece takes up beside another group stays open: in a row with others it may share their finger notches.
    """
    whole = {group.name for group in case.groups if not group.part_of}

    def standing_for(group: Group) -> Group:
        if group.name in whole:
            return group
        allowed = [drawer for drawer in case.drawers if pins_allow(case.pins, group, drawer)]
        return narrowest(group, allowed, case.house, admission, scope)

    def admitted(group: Group, drawer: Drawer, house: House) -> Fit:
        fit = admission(group, drawer, house)
        return replace(fit, sizes=()) if group.part_of and isinstance(fit, GoesIn) else fit

    return posed_anew(case, map(standing_for, case.question.groups), admitted)


def _impossible(case: Case, scope: Scope) -> bool:
    """Whether it is proved that the case has no plan within the scope."""
    problem = problem_of(case, "spread", optimistic=True, any_layout=scope == "any layout")
    return assign(_bare(problem)).status == "impossible"


def _bare(problem: Problem) -> Problem:
    """The problem without goals and wishes: whether there is any plan at all."""
    return replace(problem, goals=(), relations=())


def with_nearest_change(decided: Decided) -> Decided:
    """The refusal with the nearest change that was tried and turns it."""
    question = decided.case.question

    def tried(drawers: tuple[Drawer, ...], kept: tuple[Group, ...], pins: tuple[Pin, ...]) -> bool:
        cabinet = replace(question.cabinet, drawers=drawers)
        case = _posed(replace(question, cabinet=cabinet, groups=kept, pins=pins), admit)
        return assign(_bare(problem_of(case, "spread"))).status == "found"

    change = nearest_change(decided.case, decided.reasons, tried)
    return replace(decided, change=change)
