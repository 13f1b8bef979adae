"""One set in one cabinet, from records to a checked outcome: the only place that knows the order of the stages.

Lists the drawers that stay free (R17).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from importlib.metadata import version

from matcher.assignment import GoalValue, others
from matcher.cautions import cautions
from matcher.house import House
from matcher.packing import stopped
from matcher.planning.contributions import contributions
from matcher.planning.deciding import Decided, Progress, decide, with_nearest_change
from matcher.planning.differences import changes, snapshot_of
from matcher.planning.goal_words import in_words
from matcher.planning.grouping import groups_of, member_sets
from matcher.planning.margins import free_drawers, margins
from matcher.planning.placing import placements
from matcher.planning.wishes import by_todays_rules, check_wishes, worked_in
from matcher.records import (
    Alternative,
    Basis,
    BrokenPlanError,
    Cabinet,
    Catalogue,
    Fill,
    Goal,
    Group,
    Last,
    Outcome,
    PieceCounts,
    Pin,
    Plan,
    Run,
    UnknownNameError,
    Wishes,
)
from matcher.verification import recount, verify

NO_WISHES = Wishes()


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
    decided = decide(catalogue, house, sets, cabinet, groups, wishes, progress)
    if decided.verdict == "does not fit":
        decided = with_nearest_change(catalogue, house, sets, cabinet, groups, decided)
    return _outcome(catalogue, house, decided, groups, "+".join(sets), cabinet, wishes)


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
