"""From what is asked to the answer, by the same calls as the command line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from matcher.catalogue import split_question, typed_measured
from matcher.desk.asking import Ask, CompareAsk, DrawersAsk, OfferAsk, PlanAsk, SetsAsk, StandingAsk, Typed
from matcher.desk.following import FromPlan, Standing, following, standing
from matcher.desk.progress import TellHowFar, cabinets_told, goals_told
from matcher.desk.wishing import Entry, goes_in, in_force, pins_entry, wishes_of, words_of
from matcher.house import House
from matcher.offer import Offer, limits_of, plan_offer
from matcher.planning import (
    Fits,
    Outcome,
    Question,
    answer,
    changes,
    counting_on,
    find_cabinet,
    sentences,
    sets_of,
    snapshot,
    summary,
    with_best_part,
)
from matcher.planning import ask as question_of
from matcher.records import Cabinet, Catalogue, Changes, Drawer, Measurement, Snapshot, Verdict, Wishes, show_mm
from matcher.studies import (
    AskedDrawers,
    Comparison,
    Measuring,
    Move,
    Step,
    Stopped,
    ask_drawers,
    compare,
    measure_for,
    moves,
    own_name,
    ranked_sets,
    steps,
)


@dataclass(frozen=True, slots=True)
class Moved:
    """What the last wish did to the plan before it; no changes are told where one of the two is no plan."""

    wish: str
    before: Verdict
    summary: str = ""
    sentences: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan's outcome and where its groups might go instead; as measured, if anything was.

    ``others`` are the wishes that lead to each of its alternatives; ``None`` where parts of a group move, as pins mean
    whole groups.
    """

    outcome: Outcome
    moves: tuple[Move, ...] = ()
    others: tuple[Entry | None, ...] = ()
    moved: Moved | None = None
    measuring: Measuring | None = None


@dataclass(frozen=True, slots=True)
class Compared:
    """A comparison with what changes from variant to variant; ``left`` are cabinets that somebody did not wait for."""

    comparison: Comparison
    steps: tuple[Step, ...]
    left: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ComparedSets:
    """A comparison of one cabinet for every set, in ranked order; ``left`` are sets that somebody did not wait for."""

    cabinet: str
    comparisons: tuple[Comparison, ...]
    left: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Offered:
    """An offer."""

    offer: Offer


@dataclass(frozen=True, slots=True)
class InDrawers:
    """The answer for drawers that were told in one line."""

    asked: AskedDrawers


Answer: TypeAlias = Planned | Compared | ComparedSets | Offered | InDrawers | Standing | FromPlan


def answered(catalogue: Catalogue, rules: House, ask: Ask, told: TellHowFar, before: Planned | None = None) -> Answer:
    """The answer to an ask; ``before`` is the plan without its last wish, or the one that is asked about, if any.

    Raises
    ------
    MatcherError
        It names something that is not there, asks for what excludes itself, or has readings that are none.
    """
    if isinstance(ask, PlanAsk):
        return _planned(catalogue, rules, ask, told, before)
    if isinstance(ask, CompareAsk):
        return _compared(catalogue, rules, ask, told)
    if isinstance(ask, SetsAsk):
        return _sets_compared(catalogue, rules, ask, told)
    if isinstance(ask, OfferAsk):
        limits = limits_of(rules, ask.max_new_sizes, ask.budget, ask.max_bundles, each_set=ask.each_set)
        return Offered(plan_offer(catalogue, rules, limits, ask.fill, cabinets_told(told)))
    if isinstance(ask, DrawersAsk):
        return InDrawers(ask_drawers(catalogue, rules, *split_question(ask.question)))
    if isinstance(ask, StandingAsk):
        return standing(catalogue, rules, ask)
    assert before
    return following(catalogue, ask, before.outcome)


def check(catalogue: Catalogue, rules: House, ask: PlanAsk) -> None:
    """Refuse wishes about what is not there, before any work is done.

    Raises
    ------
    UnknownNameError, UsageError
        As `planning.ask` does.
    """
    _question(catalogue, rules, ask, ask.keep.plan if ask.keep else None)


def measured_drawers(cabinet: Cabinet, typed: Sequence[Typed]) -> list[tuple[Drawer, Typed]]:
    """Drawers of which something was typed, with it, in the order of the cabinet."""
    return [(drawer, sizes) for drawer, sizes in zip(cabinet.drawers, typed, strict=True) if any(sizes)]


def measurements(catalogue: Catalogue, ask: PlanAsk) -> tuple[Measurement, ...]:
    """Typed sizes as readings; row 2 of an error is the first of `measured_drawers`.

    Raises
    ------
    CatalogueError
        A size is none; holds every bad one.
    """
    touched = measured_drawers(find_cabinet(catalogue, ask.cabinet), ask.typed)
    rows = [(drawer.cabinet, own_name(drawer), *sizes) for drawer, sizes in touched]
    return typed_measured(rows, ask.unit, catalogue)


def wishes_in_force(ask: PlanAsk) -> Wishes:
    """The wishes of an ask, but for a plan to stay near to."""
    return wishes_of(ask.wishes, ask.fill, add_to=ask.add_to.plans if ask.add_to else ())


def _question(catalogue: Catalogue, rules: House, ask: PlanAsk, near_to: Snapshot | None) -> Question:
    """The question with its wishes; the organizers of a released plan to keep count as existing ones."""
    wishes = replace(wishes_in_force(ask), alternatives=ask.alternatives, keep=near_to)
    question = question_of(catalogue, rules, ask.set, ask.cabinet, wishes)
    released = ask.keep.released if ask.keep else None
    return counting_on(question, released) if released else question


def _planned(catalogue: Catalogue, rules: House, ask: PlanAsk, told: TellHowFar, before: Planned | None) -> Planned:
    """Planned as near to the plan before it as wished, or else to the plan to keep."""
    if ask.typed:
        return _as_measured(catalogue, rules, ask)
    near_to = ask.keep.plan if ask.keep else None
    if before:
        near_to = snapshot(before.outcome) if ask.near and isinstance(before.outcome, Fits) else None
    outcome = with_best_part(answer(_question(catalogue, rules, ask, near_to), goals_told(told)))
    could = moves(outcome)
    return Planned(outcome, could, _others(outcome, could), _moved(ask, before.outcome, outcome) if before else None)


def _moved(ask: PlanAsk, before: Outcome, now: Outcome) -> Moved:
    """What the last wish moved and cost, against the plan before it."""
    wish = words_of(ask.wishes[-1])
    if not (isinstance(before, Fits) and isinstance(now, Fits)):
        return Moved(wish, before.verdict)
    found: Changes = now.kept or changes(snapshot(before), snapshot(now))
    return Moved(wish, before.verdict, summary(found), sentences(found))


def _as_measured(catalogue: Catalogue, rules: House, ask: PlanAsk) -> Planned:
    """Planned at the readings less the tape error; the cabinet's label says so wherever it is shown."""
    readings = measurements(catalogue, ask)
    found = measure_for(_question(catalogue, rules, ask, ask.keep.plan if ask.keep else None), readings)
    question = found.outcome.question
    note = f"drawers as measured, less {show_mm(found.error)} that the tape may be off; as measured: {found.verdict}"
    label = f"{question.cabinet.label}; {note}" if question.cabinet.label else note
    labelled = replace(found.outcome, question=replace(question, cabinet=replace(question.cabinet, label=label)))
    return Planned(labelled, moves(labelled), measuring=found)


def _others(outcome: Outcome, could: Sequence[Move]) -> tuple[Entry | None, ...]:
    """For each alternative the pins of the groups that lie elsewhere in it."""
    names = {move.group: move.name for move in could if move.whole}
    listed = outcome.alternatives if isinstance(outcome, Fits) else ()
    return tuple(
        pins_entry([goes_in(names[group], now) for group, _, now in other.changes.moved])
        if other.changes.moved and all(group in names for group, *_ in other.changes.moved)
        else None
        for other in listed
    )


def _compared(catalogue: Catalogue, rules: House, ask: CompareAsk, told: TellHowFar) -> Compared:
    """Compared as far as somebody waited for it."""
    wishes = wishes_of(in_force(ask.wishes), ask.fill)
    try:
        tell = cabinets_told(told)
        model = ask.existing.released if ask.existing and ask.existing.released else ask.reference
        found = compare(catalogue, rules, ask.set, ask.cabinets, None, model, tell, wishes, by=ask.rank)
    except Stopped as early:
        if not early.so_far.variants:
            raise
        return Compared(early.so_far, steps(early.so_far), early.left)
    return Compared(found, steps(found))


def _sets_compared(catalogue: Catalogue, rules: House, ask: SetsAsk, told: TellHowFar) -> ComparedSets:
    """Every set in one cabinet, as far as somebody waited for it."""
    names, found, tell = sets_of(catalogue), list[Comparison](), cabinets_told(told)
    try:
        for done, name in enumerate(names):
            tell(done, len(names), name)
            found.append(compare(catalogue, rules, name, (ask.cabinet,), ask.fill, by=ask.rank))
    except KeyboardInterrupt:
        if not found:
            raise
    return ComparedSets(ask.cabinet, tuple(ranked_sets(found)), tuple(names[len(found) :]))
