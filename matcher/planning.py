"""One set in one cabinet, from records to a checked outcome: the only place that knows the order of the stages.

Splits only what goes whole into no drawer (R2) and lists the drawers that stay free (R17).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from importlib.metadata import version
from typing import TypeAlias

from matcher.admission import admit, admit_free
from matcher.assignment import Assignment, GoalValue, Problem, assign, others
from matcher.cautions import cautions
from matcher.changes import nearest_change
from matcher.contributions import contributions
from matcher.differences import changes, snapshot_of
from matcher.errors import BrokenPlanError, UnknownNameError
from matcher.goal_words import in_words
from matcher.grouping import groups_of, member_sets
from matcher.house import House
from matcher.layout import parts
from matcher.margins import free_drawers, margins
from matcher.placing import placements
from matcher.posing import Admit, Case, only, pose, problem_of, usable
from matcher.reasons import reasons_against, reasons_open
from matcher.records import (
    Alternative,
    Basis,
    Cabinet,
    Catalogue,
    Drawer,
    Fill,
    Goal,
    GoalName,
    Group,
    Last,
    Outcome,
    PieceCounts,
    Pin,
    Plan,
    Reason,
    Run,
    Scope,
    Verdict,
    Wishes,
)
from matcher.solving import stopped
from matcher.verification import recount, verify
from matcher.wishes import by_todays_rules, check_wishes, keeping, worked_in

Progress: TypeAlias = Callable[[str, int, int], None]
"""Told a goal's value and bound as it is begun and as it is settled."""
NO_WISHES = Wishes()


@dataclass(frozen=True, slots=True)
class Decided:
    """A case with its verdict: a plan's drawers, or why there is none. ``problem`` is what was solved last."""

    case: Case
    problem: Problem
    verdict: Verdict
    assignment: Assignment
    reasons: tuple[Reason, ...] = ()
    change: str = ""


def find_cabinet(catalogue: Catalogue, name: str) -> Cabinet:
    """The cabinet of that name.

    Raises
    ------
    UnknownNameError
        There is none.
    """
    for cabinet in catalogue.cabinets:
        if cabinet.name == name:
            return cabinet
    known = ", ".join(cabinet.name for cabinet in catalogue.cabinets)
    raise UnknownNameError(f"no cabinet {name!r} in the catalogue; it has: {known}")


def plan(
    catalogue: Catalogue,
    house: House,
    set_name: str,
    cabinet_name: str,
    fill: Fill | None = None,
    pins: tuple[Pin, ...] = (),
    progress: Progress | None = None,
    wishes: Wishes = NO_WISHES,
) -> Outcome:
    """Answer whether the set (or sets, ``A+B``) fits the cabinet, and what goes in which drawer.

    ``fill`` and ``pins`` stand for wishes that say no more. Every plan is checked by `verification` before it is
    returned.

    Raises
    ------
    UnknownNameError
        The set or cabinet is not in the catalogue, or a wish names a group or drawer that is not there.
    UsageError
        Wishes contradict each other.
    BrokenPlanError
        The independent check refuses the plan: a fault of this program.
    """
    wishes = replace(wishes, fill=fill or wishes.fill, pins=(*wishes.pins, *pins))
    cabinet = find_cabinet(catalogue, cabinet_name)
    check_wishes(wishes, catalogue, set_name, (cabinet,))
    return answer(catalogue, house, set_name, cabinet, wishes, progress)


def answer(
    catalogue: Catalogue,
    house: House,
    set_name: str,
    cabinet: Cabinet,
    wishes: Wishes,
    progress: Progress | None = None,
) -> Outcome:
    """The outcome for wishes that were checked, for this cabinet or for several of which it is one."""
    sets = member_sets(catalogue, set_name)
    catalogue, house = worked_in(catalogue, house, set_name, wishes)
    groups = groups_of(catalogue, set_name)
    decided = _decide(catalogue, house, sets, cabinet, groups, wishes, progress)
    if decided.verdict == "does not fit":
        decided = _with_nearest_change(catalogue, house, sets, cabinet, groups, decided)
    return _outcome(catalogue, house, decided, groups, "+".join(sets), cabinet, wishes)


# ---------------------------------------------------------------------------------------------------------- verdict


def _decide(
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
    ordered = _posed(catalogue, house, sets, cabinet, groups, admit)
    problem = _problem(ordered, wishes, goals)
    found = assign(problem, progress=progress)
    if found.status == "found":
        return Decided(ordered, problem, "fits", found)
    if _excluded(ordered, "any layout"):
        against = reasons_against(_whole(ordered), "any layout")
        return Decided(ordered, problem, "does not fit", found, against)
    last = _posed(catalogue, house, sets, cabinet, groups, admit_free)
    problem = _problem(last, wishes, goals)
    found = assign(problem, progress=progress)
    if found.status == "found":
        return Decided(last, problem, "fits", found)
    if _excluded(last, "house layout"):
        against = reasons_against(_whole(last), "house layout")
        return Decided(last, problem, "does not fit", found, against)
    return Decided(last, problem, "undecided", found, reasons_open(last))


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
    """A group that goes in neither whole nor in parts, reduced to the pieces that by themselves go in nowhere.

    Their shortfalls hold for the whole group however it is split. Any other group is returned as it is.
    """
    if goes_in(group) or not group.split:
        return group
    alone = [piece for piece in group.pieces if not goes_in(replace(group, pieces=(piece,)))]
    return replace(group, pieces=tuple(alone)) if alone else replace(group, part_of=group.name)


def decide_drawers(
    catalogue: Catalogue, house: House, set_name: str, cabinet: Cabinet, groups: tuple[Group, ...]
) -> Decided:
    """The verdict with its reasons, or with drawers for the set's groups of which as many as can be are used.

    No other goal is looked at, and nothing is laid out or checked: for screening many pairs.
    """
    sets = member_sets(catalogue, set_name)
    spread = replace(house, goals=replace(house.goals, fill="spread"))
    return _decide(catalogue, spread, sets, cabinet, groups, NO_WISHES, None, ("drawers",))


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
    ladder: tuple[tuple[Admit, Scope], ...] = ((admit, "any layout"), (admit_free, "house layout"))
    for admission, scope in ladder[: 1 if ordered else 2]:
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


def _with_nearest_change(
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


# ---------------------------------------------------------------------------------------------------------- outcome


def _outcome(
    catalogue: Catalogue,
    house: House,
    decided: Decided,
    groups: Iterable[Group],
    set_name: str,
    cabinet: Cabinet,
    wishes: Wishes,
) -> Outcome:
    found, fits = decided.assignment, decided.verdict == "fits"
    made = _checked_plan(catalogue, house, decided, set_name, cabinet, wishes) if fits else None
    goals = tuple(_goal(decided, goal, made) for goal in found.goals) if made else ()
    before = by_todays_rules(wishes.keep, decided.problem) if wishes.keep else None
    alternatives, last = _alternatives(catalogue, house, decided, made, cabinet, wishes) if made else ((), "")
    return Outcome(
        set=set_name,
        cabinet=cabinet.name,
        verdict=decided.verdict,
        fill=house.goals.fill,
        plan=made,
        most_free=found.most_free if made else None,
        fewest_free=found.fewest_free if made else None,
        free_proved=found.free_proved,
        goals=goals,
        reasons=decided.reasons,
        change=decided.change,
        cautions=cautions(cabinet, made, house) if made else (),
        basis=piece_counts(groups),
        run=_run(catalogue, house, wishes),
        margins=margins(made, cabinet, house) if made else (),
        free=free_drawers(made, cabinet) if made else (),
        kept=changes(before, snapshot_of(made, goals)) if before and made else None,
        alternatives=alternatives,
        last=last,
    )


def _alternatives(
    catalogue: Catalogue, house: House, decided: Decided, best: Plan, cabinet: Cabinet, wishes: Wishes
) -> tuple[tuple[Alternative, ...], Last]:
    """The next best plans, each checked, and whether there are more.

    They are plans with the layouts of the best one: if it has ordered layouts, they have them too.
    """
    rest = others(decided.problem, decided.assignment.places, wishes.alternatives)
    usual = tuple(_goal(decided, goal, best) for goal in decided.assignment.goals)
    first = snapshot_of(best, usual)
    found = []
    for assignment in rest.assignments:
        other = replace(decided, assignment=assignment)
        made = _checked_plan(catalogue, house, other, best.set, cabinet, wishes)
        goals = tuple(_goal(other, goal, made) for goal in assignment.goals)
        worse = tuple(goal.name for goal, own in zip(goals, usual, strict=True) if goal.value > own.value)
        found.append(Alternative(made, goals, changes(first, snapshot_of(made, goals)), worse))
    proved = rest.end == "impossible" and all(fit.status != "open" for fit in decided.case.fits.values())
    return tuple(found), "" if rest.end == "found" else "none left" if proved else "none found"


def _goal(decided: Decided, goal: GoalValue, made: Plan) -> Goal:
    told = contributions(goal.name, decided.case, decided.problem, decided.assignment.places)
    words, bound = (in_words(goal.name, value, made.fill) for value in (goal.value, goal.bound))
    return Goal(goal.name, goal.value, goal.bound, goal.proved, told, words, bound)


def _checked_plan(
    catalogue: Catalogue, house: House, decided: Decided, set_name: str, cabinet: Cabinet, wishes: Wishes
) -> Plan:
    case, found = decided.case, decided.assignment
    held = set(found.places)
    made = Plan(
        set=set_name,
        cabinet=cabinet.name,
        fill=house.goals.fill,
        groups=case.groups,
        placements=placements(case, found.places),
        free_drawers=tuple(drawer.name for d, drawer in enumerate(case.drawers) if d not in held),
    )
    violations = verify(catalogue, house, made)
    if violations:
        raise BrokenPlanError("; ".join(violation.text for violation in violations))
    counted = recount(catalogue, house, made, wishes.keep)
    for goal in found.goals:
        if goal.name in counted and counted[goal.name] != goal.value:
            raise BrokenPlanError(f"goal {goal.name}: the plan counts {counted[goal.name]}, claimed {goal.value}")
    return made


def piece_counts(groups: Iterable[Group]) -> PieceCounts:
    """Pieces of the groups by the basis of their dimensions; a ready-made organizer counts no pieces."""
    counts: dict[Basis, int] = {"measured": 0, "from standard": 0, "estimated": 0}
    for group in groups:
        for piece in group.pieces:
            counts[piece.basis] += piece.piece.count
    return PieceCounts(counts["measured"], counts["from standard"], counts["estimated"])


@lru_cache
def _versions() -> tuple[str, str]:
    return version("matcher"), f"ortools {version('ortools')}"


def _run(catalogue: Catalogue, house: House, wishes: Wishes) -> Run:
    work = house.work
    budgets = (
        ("drawers", work.drawers),
        ("order", work.order),
        ("neighbors", work.neighbors),
        ("recut", work.recut),
        ("reach", work.reach),
        ("unique", work.unique),
        ("free layout", work.free_layout),
    )
    program, solver = _versions()
    return Run(program, solver, work.seed, catalogue.digest, budgets, wishes, stopped())
