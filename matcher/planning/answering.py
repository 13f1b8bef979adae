"""One question to one checked answer: the only place that knows the order of the stages.

Lists the drawers that stay free (R17).
"""

from __future__ import annotations

from dataclasses import replace
from importlib.metadata import version

from matcher import __version__
from matcher.assignment import GoalValue, Progress, others
from matcher.cautions import cautions
from matcher.fitting import Open
from matcher.house import House
from matcher.packing import stopped
from matcher.planning.adding import opened_again, organizers_in
from matcher.planning.best_part import PART_GOALS, best_part
from matcher.planning.contributions import contributions
from matcher.planning.deciding import Decided, decide, elsewhere, with_nearest_change
from matcher.planning.differences import changes, snapshot_of
from matcher.planning.fits_but import but_for, fits_but
from matcher.planning.foam_asked import foam_asked
from matcher.planning.free_drawers import free_drawers
from matcher.planning.goal_words import in_words
from matcher.planning.keeping import by_todays_rules
from matcher.planning.margins import margins
from matcher.planning.outcome import DoesNotFit, Fits, Outcome, PartialPlan, Undecided, turn_of
from matcher.planning.placing import placements
from matcher.planning.question import NO_WISHES, Question, ask
from matcher.records import (
    Alternative,
    BrokenPlanError,
    Catalogue,
    Changes,
    Fill,
    Goal,
    Last,
    Pin,
    Plan,
    Run,
    TriedChange,
    Wishes,
    remembered,
)
from matcher.verification import recount, verify


def plan(
    catalogue: Catalogue,
    house: House,
    set_name: str,
    cabinet_name: str,
    fill: Fill | None = None,
    pins: tuple[Pin, ...] = (),
    progress: Progress | None = None,
    wishes: Wishes = NO_WISHES,
    *,
    turns: bool = True,
) -> Outcome:
    """Answer whether the set (or sets, ``A+B``) fits the cabinet, and what goes in which drawer.

    ``fill`` and ``pins`` stand for wishes that say no more. Every plan is checked by `verification` before it is
    returned. ``turns`` as in `answer`.

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
    return answer(ask(catalogue, house, set_name, cabinet_name, wishes), progress, turns=turns)


def answer(question: Question, progress: Progress | None = None, *, turns: bool = True) -> Outcome:
    """The answer to a question that was asked already.

    Without a plan the changes that would give one are tried, which takes the longest by far, unless ``turns`` is false:
    for who does not show them.

    Raises
    ------
    BrokenPlanError
        The independent check refuses the plan: a fault of this program.
    """
    decided = decide(question, progress)
    if decided.verdict == "fits":
        return _fits(question, decided)
    but = fits_but(question) if decided.verdict == "does not fit" else ()
    tried = with_nearest_change(decided, leaving_out=not but).turns if turns and not stopped() else ()
    foam = foam_asked(question)
    if decided.verdict == "does not fit":
        return DoesNotFit(question, _run(question), decided.reasons, tried, foam, but=but)
    return Undecided(question, _run(question), decided.reasons, tried, foam)


def with_best_part(outcome: Outcome) -> Outcome:
    """An answer without a plan, with the best part of the set that a bounded search finds to go in, if it finds one.

    Raises
    ------
    BrokenPlanError
        The independent check refuses the part's plan: a fault of this program.
    """
    found = None if isinstance(outcome, Fits) or stopped() else best_part(outcome.question)
    if found is None or isinstance(outcome, Fits):
        return outcome
    decided = decide(found.question, None, PART_GOALS)
    if decided.verdict != "fits":
        return outcome
    part = PartialPlan(
        answer=_fits(found.question, decided),
        without=found.without,
        outside=found.outside,
        proved=outcome.verdict == "does not fit" and found.proved,
    )
    return replace(outcome, part=part, turns=tuple(_lesser(turn, part, outcome.question) for turn in outcome.turns))


def _lesser(turn: TriedChange, part: PartialPlan, question: Question) -> TriedChange:
    """The change, or the part in its place if that leaves out fewer tools than leaving out groups or pieces does."""
    lesser = but_for(question, turn.without) if turn.without else None
    left = sum(one.count for one in lesser.left_out) if lesser else 0
    return turn_of(part) if left > sum(one.tools for one in part.outside) else turn


def _fits(question: Question, decided: Decided) -> Fits:
    found = decided.assignment
    assert found.most_free is not None
    assert found.fewest_free is not None
    made = _checked_plan(decided)
    goals = _goals(decided, made)
    alternatives, last = _alternatives(decided, made)
    earlier = question.wishes.add_to
    return Fits(
        question=question,
        run=_run(question),
        plan=made,
        goals=goals,
        most_free=found.most_free,
        fewest_free=found.fewest_free,
        free_proved=found.free_proved,
        cautions=cautions(opened_again(question.cabinet, earlier), made, question.house, organizers_in(earlier)),
        margins=margins(question, made),
        free=free_drawers(question, made),
        kept=_kept(decided, made, goals),
        alternatives=alternatives,
        last=last,
    )


def _kept(decided: Decided, made: Plan, goals: tuple[Goal, ...]) -> Changes | None:
    """What changes from the plan to keep to this one, if there is one to keep."""
    keep = decided.case.question.keep
    return changes(by_todays_rules(keep, decided.problem), snapshot_of(made, goals)) if keep else None


def _alternatives(decided: Decided, best: Plan) -> tuple[tuple[Alternative, ...], Last]:
    """The next best plans, each checked, and whether there are more.

    They are plans with the layouts of the best one: if it has ordered layouts, they have them too.
    """
    wanted = decided.case.question.wishes.alternatives
    rest = others(decided.problem, decided.assignment.places, wanted)
    usual = _goals(decided, best)
    first = snapshot_of(best, usual)
    found = []
    for assignment in rest.assignments:
        other = elsewhere(decided, assignment)
        made = _checked_plan(other)
        goals = _goals(other, made)
        worse = tuple(goal.name for goal, own in zip(goals, usual, strict=True) if goal.value > own.value)
        found.append(Alternative(made, goals, changes(first, snapshot_of(made, goals)), worse))
    whole = not decided.together.value and decided.together.proved
    proved = whole and rest.end == "impossible" and not any(isinstance(fit, Open) for fit in decided.case.fits.values())
    return tuple(found), "" if rest.end == "found" else "none left" if proved else "none found"


def _goals(decided: Decided, made: Plan) -> tuple[Goal, ...]:
    return tuple(_goal(decided, goal, made) for goal in (decided.together, *decided.assignment.goals))


def _goal(decided: Decided, goal: GoalValue, made: Plan) -> Goal:
    hows = [placement.how for placement in made.placements]
    told = contributions(goal.name, decided.case, decided.problem, decided.assignment.places, hows)
    words, bound = (in_words(goal.name, value, made.fill, decided.case.unit) for value in (goal.value, goal.bound))
    return Goal(goal.name, goal.value, goal.bound, goal.proved, told, words, bound)


def _checked_plan(decided: Decided) -> Plan:
    case, found, question = decided.case, decided.assignment, decided.case.question
    held = set(found.places)
    made = Plan(
        set=question.set,
        cabinet=question.cabinet.name,
        fill=question.fill,
        groups=case.groups,
        placements=placements(case, found.places),
        free_drawers=tuple(drawer.name for d, drawer in enumerate(case.drawers) if d not in held),
    )
    _check(question, made, (decided.together, *found.goals))
    return made


def _check(question: Question, made: Plan, goals: tuple[GoalValue, ...]) -> None:
    """Refuse a plan that breaks a rule or whose goals count otherwise than the search says."""
    violations = verify(question.catalogue, question.house, made)
    if violations:
        raise BrokenPlanError("; ".join(violation.text for violation in violations))
    counted = recount(question.catalogue, question.house, made, question.keep)
    for goal in goals:
        if goal.name in counted and counted[goal.name] != goal.value:
            raise BrokenPlanError(f"goal {goal.name}: the plan counts {counted[goal.name]}, claimed {goal.value}")


@remembered(128)
def _versions() -> tuple[str, str]:
    return __version__, f"ortools {version('ortools')}"


def _run(question: Question) -> Run:
    work = question.house.work
    budgets = (
        ("together", work.together),
        ("drawers", work.drawers),
        ("order", work.order),
        ("neighbors", work.neighbors),
        ("recut", work.recut),
        ("reach", work.reach),
        ("unique", work.unique),
        ("free layout", work.free_layout),
    )
    program, solver = _versions()
    return Run(program, solver, work.seed, question.catalogue.digest, budgets, question.wishes, stopped())
