"""The verdict on one set in one cabinet: whole groups, proofs from bounds, divided groups, then free layouts.

Whole groups of one family a drawer come first: where they go in, that settles goal ``together`` at 0. Where they do
not, the division model chooses parts and what lies together; the goals after it are then settled for its parts, and
proved only where they meet a bound that holds for every division. In proofs that there is no plan one tool stands for a
group that may be divided: however that is done, each of its tools is in some drawer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from matcher.assignment import AFTER_OPEN, Assignment, Bounds, GoalValue, Problem, Progress, assign
from matcher.fitting import Fit, GoesIn, admit, admit_angled, admit_free
from matcher.house import House
from matcher.layout import singles
from matcher.planning.assigning import assigned
from matcher.planning.casing import cases_refused
from matcher.planning.dividing import NO_BOUNDS, DividedGroups, dividable, divided_groups
from matcher.planning.drawer_problem import problem_of
from matcher.planning.every_division import over_every_division
from matcher.planning.grouping import divisible
from matcher.planning.keeping import keeping, kept_division, kept_places
from matcher.planning.kept_answers import recalled_verdict
from matcher.planning.nearest_change import nearest_change
from matcher.planning.partly_known import any_guessed, any_unknown, guessed_reason, unknown_reason, with_sizes_opened
from matcher.planning.posing import Admit, Case, may_go_in, pins_allow, pose, posed_anew, usable
from matcher.planning.question import Question
from matcher.planning.reasons import reasons_against, reasons_by_sums, reasons_open
from matcher.planning.rivals import best_rival
from matcher.planning.standing_for import narrowest, whole_or_parts
from matcher.planning.summing import refused_bare, refused_by_sums
from matcher.planning.togetherness import cost_of_parts, together_value
from matcher.records import Drawer, Fault, GoalName, Group, Reason, Scope, TriedChange, Verdict, or_fault

LADDER: tuple[tuple[Admit, Scope], ...] = ((admit, "any layout"), (admit_free, "house layout"))
"""Ways into a drawer in the order they are tried, and which of their refusals count in proofs."""


UNBOUNDED: tuple[GoalName, ...] = ("neighbors", "recut", "reach")
"""Goals of which no bound over all divisions is known, so that they are not proved for one of many."""
TRIED = 0.02
"""Share of the budget for dividing and mixing that each change tried gets."""
WHOLE = GoalValue("together", 0, 0, True)
"""Nothing divided, no families mixed."""


@dataclass(frozen=True, slots=True)
class Decided:
    """A case with its verdict: a plan's drawers, or why there is none. ``problem`` is what was solved last.

    ``together`` is the goal of that name, settled before all others; ``bounds`` hold for all divisions of its value.
    """

    case: Case
    problem: Problem
    verdict: Verdict
    assignment: Assignment
    reasons: tuple[Reason, ...] = ()
    turns: tuple[TriedChange, ...] = ()
    together: GoalValue = WHOLE
    bounds: Bounds = NO_BOUNDS


def decide(question: Question, progress: Progress | None, goals: tuple[GoalName, ...] | None = None) -> Decided:
    """Ordered layouts first; where they give no plan, proofs from bounds; then free layouts as the last resort.

    With ``goals`` only these are looked at, and no wishes about neighbors. Where sizes of the cabinet are a guess or
    not known, a refusal is looked at again with them as large as any.
    """
    decided = _decide(question, progress, goals)
    if decided.verdict != "fits" and any_unknown(question.cabinet):
        widest = _decide(with_sizes_opened(question), None, ("drawers",))
        if widest.verdict != "does not fit":
            return replace(decided, verdict="undecided", reasons=(unknown_reason(question.cabinet),))
        decided = replace(decided, verdict="does not fit", reasons=widest.reasons)
    if decided.verdict == "does not fit" and any_guessed(question.cabinet):
        widest = _decide(with_sizes_opened(question, guesses=True), None, ("drawers",))
        if widest.verdict != "does not fit":
            return replace(decided, reasons=(*decided.reasons, guessed_reason(question.cabinet)))
    return decided


def _decide(question: Question, progress: Progress | None, goals: tuple[GoalName, ...] | None) -> Decided:
    """The verdict on the cabinet as it is given."""
    work = question.house.work.together
    for admission, scope in LADDER:
        case = pose(question, question.groups, admission)
        problem = _problem(case, goals)
        known = kept_places(problem) if question.keep else None
        found = assigned(case, problem, admission, known, progress)
        if found.status == "found":
            return Decided(case, problem, "fits", found)
        reasons = _refused(case, admission, scope) or _cases_refused(question)
        if reasons:
            return Decided(case, problem, "does not fit", found, reasons)
        for divided in _divisions(question, admission, int(found.status == "impossible"), work, goals):
            decided = _divided(question, admission, divided, progress, goals)
            if decided is not None:
                return decided
    return Decided(case, problem, "undecided", found, reasons_open(case))


def _problem(case: Case, goals: tuple[GoalName, ...] | None, mixing: int | None = 0) -> Problem:
    problem = problem_of(case, case.question.fill, mixing=mixing)
    if goals is not None:
        problem = replace(problem, goals=goals, relations=())
    keep = case.question.keep
    return keeping(problem, keep) if keep else problem


def _divisions(
    question: Question, admission: Admit, least: int, work: float, goals: tuple[GoalName, ...] | None
) -> Iterator[DividedGroups]:
    """What the division model finds among ordered layouts, or with tools at an angle that lie alone; where it is
    undecided, and among free layouts, groups that go whole into no drawer in the fewest parts.

    First come the parts of the plan to keep, if none found cost less. Only ordered layouts prove a bound.
    """
    bound, kept = least, kept_division(question)
    dividing = _dividing(question, admission)
    found = divided_groups(question, dividing, least, work, goals) if dividing else None
    if found is not None and admission is admit:
        bound = max(least, found.bound)
    elif found is not None:
        found = replace(found, bound=least, bounds=NO_BOUNDS, rivals=())
    if kept is not None:
        cost = found.cost if found is not None and found.status == "found" else kept.cost
        cost = kept.cost if kept.cost <= cost or _still_holds(question, admission, kept) else cost
        if cost_of_parts(kept.groups, question.house) <= cost:
            yield replace(kept, cost=cost, bound=bound)
    if found is not None and found.status != "open":
        yield found
        return
    split = _split(question, admission)
    if split != question.groups:
        yield DividedGroups("found", split, (), cost_of_parts(split, question.house), bound)


def _dividing(question: Question, admission: Admit) -> Admit | None:
    """How parts are admitted while groups are divided; among free layouts where a tool goes in at an angle only."""
    if admission is admit:
        return admit
    return admit_angled if any(_goes_in_angled(group, question) for group in question.groups) else None


def _goes_in_angled(group: Group, question: Question) -> bool:
    """Whether some tool of a group that may be divided goes into drawers at an angle only."""
    drawers, house = usable(question.cabinet), question.house

    def taken(tool: Group, way: Admit) -> bool:
        return any(isinstance(way(tool, drawer, house), GoesIn) for drawer in drawers)

    tools = singles(group, house.layout.sides) if divisible(group, house) else ()
    return any(not taken(tool, admit) and taken(tool, admit_angled) for tool in tools)


def _still_holds(question: Question, admission: Admit, kept: DividedGroups) -> bool:
    """Whether a plan to keep of which it was never proved that it divides and mixes the least still holds as it is.

    Then what is found beyond it is no consequence of what has changed since.
    """
    if question.keep is None or question.keep.settled:
        return False
    _, problem = _posed(question, admission, kept.groups, kept, None)
    return kept_places(problem) is not None


def _divided(
    question: Question,
    admission: Admit,
    divided: DividedGroups,
    progress: Progress | None,
    goals: tuple[GoalName, ...] | None,
) -> Decided | None:
    """The best plan of the parts chosen, with no more families mixed than their least cost leaves; none without one."""
    if divided.status != "found":
        return None
    best = best_rival([_posed(question, admission, groups, divided, goals) for groups in divided.rivals])
    if best is not None:
        together = _together(best.case, best.found, divided)
        return Decided(best.case, best.problem, "fits", best.found, together=together)
    case, problem = _posed(question, admission, divided.groups, divided, goals)
    work = {name: AFTER_OPEN * getattr(problem.work, name) for name in UNBOUNDED}
    problem, drawers = replace(problem, work=replace(problem.work, **work)), dict(divided.drawers)
    known = tuple(drawers[group.name] for group in case.groups) if drawers else None
    if question.keep and not drawers:
        known = kept_places(problem)
    found = assigned(case, problem, admission, known, progress)
    if found.status != "found":
        return None
    together = _together(case, found, divided)
    bounded = over_every_division(case, found, together, divided.bounds)
    return Decided(case, problem, "fits", bounded, together=together, bounds=divided.bounds)


def _posed(
    question: Question,
    admission: Admit,
    groups: tuple[Group, ...],
    divided: DividedGroups,
    goals: tuple[GoalName, ...] | None,
) -> tuple[Case, Problem]:
    """Parts as a problem in which families mix as far as the cost of the cuts leaves it."""
    per_family = question.house.together.per_family
    case = pose(question, question.made(groups), admission)
    mixing = (divided.cost - cost_of_parts(case.groups, question.house)) // per_family if per_family else None
    return case, _problem(case, goals, mixing)


def _together(case: Case, found: Assignment, divided: DividedGroups) -> GoalValue:
    value = together_value(case.groups, found.places, case.house)
    return GoalValue("together", value, min(value, divided.bound), value <= divided.bound)


def elsewhere(decided: Decided, assignment: Assignment) -> Decided:
    """The same parts in other drawers, with what goal ``together`` is there."""
    case, before = decided.case, decided.together
    value = together_value(case.groups, assignment.places, case.house)
    together = GoalValue("together", value, before.bound, value == before.bound and before.proved)
    whole = before.value == 0 and before.proved
    bounded = assignment if whole else over_every_division(case, assignment, together, decided.bounds)
    return replace(decided, assignment=bounded, together=together)


def _split(question: Question, admission: Admit) -> tuple[Group, ...]:
    """The groups, those that go whole into no drawer of the cabinet split into the fewest parts that do."""
    drawers = usable(question.cabinet)

    def goes_in(group: Group) -> bool:
        return any(isinstance(admission(group, drawer, question.house), GoesIn) for drawer in drawers)

    return tuple(part for group in question.groups for part in whole_or_parts(group, goes_in, question.house))


def decide_drawers(question: Question) -> Decided:
    """The verdict with its reasons, or with drawers for the set's groups of which as many as can be are used.

    No other goal is looked at, and nothing is laid out or checked: for screening many pairs.
    """
    house = question.house
    spread = replace(house, goals=replace(house.goals, fill="spread"))
    return decide(replace(question, house=spread), None, ("drawers",))


def verdict_of(question: Question, ordered: bool = False, effort: float = 1) -> Verdict:
    """The verdict alone, without goals, reasons or plan: for what-ifs on a cabinet that need not be the catalogue's.

    ``ordered`` looks at ordered layouts only; then anything but ``fits`` says no more than that none of them goes in.
    ``effort`` is the share of the budget for dividing and mixing.
    """
    what = f"verdict, ordered {ordered}, effort {effort}"
    return recalled_verdict(what, question, lambda: _verdict_of(question, ordered, effort))


def _verdict_of(question: Question, ordered: bool, effort: float) -> Verdict:
    work = effort * question.house.work.together
    for admission, scope in LADDER[: 1 if ordered else 2]:
        case = pose(question, question.groups, admission)
        found = assign(_bare(problem_of(case, "spread")))
        if found.status == "found":
            return "fits"
        if not ordered and _impossible(_certain(case, admission, scope), scope):
            return "undecided" if any_unknown(question.cabinet) else "does not fit"
        dividing = _dividing(question, admission)
        if (dividing and dividable(question, dividing, work)) or _parts_have_plan(question, admission):
            return "fits"
    return "undecided"


def _parts_have_plan(question: Question, admission: Admit) -> bool:
    """Whether the parts of the plan to keep have a plan, or groups that go whole into no drawer in the fewest parts."""
    kept, split = kept_division(question), _split(question, admission)
    tried = [*([kept.groups] if kept else []), *([split] if split != question.groups else [])]
    return any(assign(_bare(problem_of(pose(question, own, admission), "spread"))).status == "found" for own in tried)


def _refused(case: Case, admission: Admit, scope: Scope) -> tuple[Reason, ...]:
    """Why there is no plan, if that is proved; the scope told is any layout only where the bare tools do not go in."""
    certain = _certain(case, admission, scope)
    if not _impossible(certain, scope):
        return ()
    told: Scope = "any layout" if refused_bare(case.question) else "house layout"
    by_groups = _impossible_by_groups(certain, scope)
    return reasons_against(certain, scope, told) if by_groups else reasons_by_sums(case, told)


def _cases_refused(question: Question) -> tuple[Reason, ...]:
    """Why what is cased alone has no plan, if that is proved: then the set has none, and no foam need be looked at."""
    cased = tuple(group for group in question.groups if group.cased)
    if not cased:
        return ()
    alone = pose(replace(question, groups=cased), cased, admit_free)
    return _refused(alone, admit_free, "house layout") or cases_refused(question)


def _certain(case: Case, admission: Admit, scope: Scope) -> Case:
    """The case of what is in its drawers however groups are divided: of each that may be, the piece hardest to place.

    What that piece takes up beside another group stays open: in a row with others it may share their finger notches. A
    case takes up what it does. Cases of a group kept whole need not lie in one block, so that one stands for them too,
    unless no drawer takes them all.
    """

    def standing_for(group: Group) -> Group:
        allowed = [drawer for drawer in case.drawers if pins_allow(case.pins, group, drawer)]
        loose = divisible(group, case.house) or (group.cased and taken(group, allowed))
        return narrowest(group, allowed, case.house, admission, scope) if loose and group.tools > 1 else group

    def taken(group: Group, drawers: Iterable[Drawer]) -> bool:
        fits = (admission(group, drawer, case.house) for drawer in drawers)
        return any(may_go_in(fit, any_layout=scope == "any layout") for fit in fits)

    def admitted(group: Group, drawer: Drawer, house: House) -> Fit:
        fit = admission(group, drawer, house)
        return replace(fit, sizes=()) if group.part_of and not group.cased and isinstance(fit, GoesIn) else fit

    return posed_anew(case, map(standing_for, case.question.groups), admitted)


def _impossible(certain: Case, scope: Scope) -> bool:
    """Whether it is proved that there is no plan, by groups or, over all their tools, by sums."""
    return _impossible_by_groups(certain, scope) or refused_by_sums(certain.question)


def _impossible_by_groups(certain: Case, scope: Scope) -> bool:
    problem = problem_of(certain, "spread", optimistic=True, any_layout=scope == "any layout", mixing=None)
    return assign(_bare(problem)).status == "impossible"


def _bare(problem: Problem) -> Problem:
    """The problem without goals and wishes: whether there is any plan at all."""
    return replace(problem, goals=(), relations=())


def _has_ordered_plan(question: Question) -> bool | None:
    """Whether there is a plan of ordered layouts, by little effort; nothing where none is found."""
    return verdict_of(question, True, TRIED) == "fits" or None


def with_nearest_change(decided: Decided, *, leaving_out: bool) -> Decided:
    """The answer without a plan, with the nearest change that was tried and gives one, if need be by leaving out."""

    def attempt(question: Question) -> bool | None:
        found = or_fault(question.cabinet.name, lambda: not refused_by_sums(question) and _has_ordered_plan(question))
        return None if isinstance(found, Fault) else found

    turns = nearest_change(decided.case, decided.reasons, admit, attempt, leaving_out=leaving_out)
    return replace(decided, turns=turns)
