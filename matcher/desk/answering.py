"""From what is asked to the answer, by the same calls as the command line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from matcher.catalogue import split_question, typed_measured
from matcher.desk.asking import Ask, CompareAsk, DrawersAsk, OfferAsk, PlanAsk, Typed
from matcher.desk.wishing import Entry, goes_in, in_force, pins_entry, wishes_of, words_of
from matcher.house import House
from matcher.offer import Offer, limits_of, plan_offer
from matcher.packing import abandon
from matcher.planning import Fits, Outcome, answer, changes, find_cabinet, sentences, snapshot, summary, with_best_part
from matcher.planning import ask as question_of
from matcher.records import Cabinet, Catalogue, Changes, Drawer, Measurement, Verdict, Wishes, show_mm
from matcher.studies import (
    AskedDrawers,
    Comparison,
    Measuring,
    Move,
    Step,
    Stopped,
    ask_drawers,
    compare,
    measure,
    moves,
    own_name,
    steps,
)


@dataclass(frozen=True, slots=True)
class HowFar:
    """How far an answer is: ``done`` of ``total`` plans and whose is next, or goals that are proved or not yet."""

    done: int = 0
    total: int = 0
    name: str = ""
    goals: tuple[tuple[str, bool], ...] = ()


TellHowFar: TypeAlias = Callable[[HowFar], None]


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
class Offered:
    """An offer."""

    offer: Offer


@dataclass(frozen=True, slots=True)
class InDrawers:
    """The answer for drawers that were told in one line."""

    asked: AskedDrawers


Answer: TypeAlias = Planned | Compared | Offered | InDrawers


def answered(catalogue: Catalogue, rules: House, ask: Ask, told: TellHowFar, before: Planned | None = None) -> Answer:
    """The answer to an ask; ``before`` is the plan without its last wish, if it has one.

    Raises
    ------
    MatcherError
        It names something that is not there, asks for what excludes itself, or has readings that are none.
    """
    if isinstance(ask, CompareAsk):
        return _compared(catalogue, rules, ask, told)
    if isinstance(ask, OfferAsk):
        limits = limits_of(rules, ask.max_new_sizes, ask.budget, ask.max_bundles, each_set=ask.each_set)
        return Offered(plan_offer(catalogue, rules, limits, ask.fill, _cabinets_told(told)))
    if isinstance(ask, DrawersAsk):
        return InDrawers(ask_drawers(catalogue, rules, *split_question(ask.question)))
    if ask.typed:
        return _as_measured(catalogue, rules, ask)
    keep = snapshot(before.outcome) if before and ask.near and isinstance(before.outcome, Fits) else None
    wishes = wishes_of(ask.wishes, ask.fill, ask.alternatives, keep)
    outcome = with_best_part(answer(question_of(catalogue, rules, ask.set, ask.cabinet, wishes), _goals_told(told)))
    could = moves(outcome)
    return Planned(outcome, could, _others(outcome, could), _moved(ask, before.outcome, outcome) if before else None)


def check(catalogue: Catalogue, rules: House, ask: PlanAsk) -> None:
    """Refuse wishes about what is not there, before any work is done.

    Raises
    ------
    UnknownNameError, UsageError
        As `planning.ask` does.
    """
    question_of(catalogue, rules, ask.set, ask.cabinet, wishes_of(ask.wishes, ask.fill))


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


def wishes_in_force(ask: PlanAsk | CompareAsk) -> Wishes:
    """The wishes of an ask, but for a plan to stay near to."""
    return wishes_of(ask.wishes, ask.fill)


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
    found = measure(catalogue, rules, ask.set, ask.cabinet, readings, wishes=wishes_in_force(ask))
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
        tell = _cabinets_told(told)
        found = compare(catalogue, rules, ask.set, ask.cabinets, None, ask.reference, tell, wishes)
    except Stopped as early:
        if not early.so_far.variants:
            raise
        return Compared(early.so_far, steps(early.so_far), early.left)
    return Compared(found, steps(found))


def _cabinets_told(told: TellHowFar) -> Callable[[int, int, str], None]:
    """Tells how many are done, and goes no further once somebody has ended the work."""

    def tell(done: int, total: int, name: str) -> None:
        abandon()
        told(HowFar(done, total, name))

    return tell


def _goals_told(told: TellHowFar) -> Callable[[str, int, int], None]:
    """Tells which goals are proved, and goes no further once somebody has ended the work."""
    goals: dict[str, bool] = {}

    def tell(name: str, value: int, bound: int) -> None:
        abandon()
        goals[name] = value == bound
        told(HowFar(goals=tuple(goals.items())))

    return tell
