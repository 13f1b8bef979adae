"""From what is asked to the answer, by the same calls as the command line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from matcher.catalogue import typed_measured
from matcher.desk.asking import Ask, CompareAsk, PlanAsk, Typed
from matcher.house import House
from matcher.planning import Outcome, find_cabinet, plan
from matcher.records import Cabinet, Catalogue, Drawer, Measurement, Wishes, counted, show_mm
from matcher.studies import Comparison, Measuring, Step, compare, measure, own_name, steps

ToldWords: TypeAlias = Callable[[str], None]
"""Told in words what is being worked on."""


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan's outcome; as measured, if anything was."""

    outcome: Outcome
    measuring: Measuring | None = None


@dataclass(frozen=True, slots=True)
class Compared:
    """A comparison with what changes from variant to variant."""

    comparison: Comparison
    steps: tuple[Step, ...]


Answer: TypeAlias = Planned | Compared


def answered(catalogue: Catalogue, rules: House, ask: Ask, told: ToldWords) -> Answer:
    """The answer to an ask.

    Raises
    ------
    MatcherError
        It names something that is not there, asks for what excludes itself, or has readings that are none.
    """
    if isinstance(ask, CompareAsk):
        return _compared(catalogue, rules, ask, told)
    if ask.typed:
        return _as_measured(catalogue, rules, ask)
    outcome = plan(
        catalogue,
        rules,
        ask.set,
        ask.cabinet,
        progress=lambda goal, value, bound: told(f"proving {goal} {value} (bound {bound})"),
        wishes=_wishes(ask),
    )
    return Planned(outcome)


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


def _wishes(ask: PlanAsk) -> Wishes:
    return Wishes(fill=ask.fill, pins=ask.pins)


def _as_measured(catalogue: Catalogue, rules: House, ask: PlanAsk) -> Planned:
    """Planned at the readings less the tape error; the cabinet's label says so wherever it is shown."""
    found = measure(catalogue, rules, ask.set, ask.cabinet, measurements(catalogue, ask), wishes=_wishes(ask))
    question = found.outcome.question
    note = f"drawers as measured, less {show_mm(found.error)} that the tape may be off; as measured: {found.verdict}"
    label = f"{question.cabinet.label}; {note}" if question.cabinet.label else note
    labelled = replace(question, cabinet=replace(question.cabinet, label=label))
    return Planned(replace(found.outcome, question=labelled), found)


def _compared(catalogue: Catalogue, rules: House, ask: CompareAsk, told: ToldWords) -> Compared:
    def planning(done: int, total: int, name: str) -> None:
        told(f"{done} of {counted(total, 'cabinet')} planned" + (f", now {name}" if name else ""))

    found = compare(catalogue, rules, ask.set, ask.cabinets, ask.fill, told=planning)
    return Compared(found, steps(found))
