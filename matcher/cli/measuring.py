"""What ``matcher fit`` answers with a tape at hand: will it fit as measured, what decides, what to measure."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from matcher.cli.running import EXITS, NO, OPEN, YES
from matcher.records import UsageError

if TYPE_CHECKING:
    from matcher.house import House
    from matcher.records import Catalogue, Wishes


@dataclass(frozen=True, slots=True)
class Asked:
    """The options given; ``tolerance`` in millimeters."""

    measured: Path | None
    unit: str
    tolerance: float | None
    sheet: bool

    def __bool__(self) -> bool:
        return self._given() > 0

    def _given(self) -> int:
        return sum((self.measured is not None, self.tolerance is not None, self.sheet))

    def check(self) -> None:
        """Refuse questions that exclude each other."""
        if self._given() > 1:
            raise UsageError("--measured, --tolerance and --sheet are three questions: give one of them")


@dataclass(frozen=True, slots=True)
class Answer:
    """One cabinet's document and view, its rows as a table, and the exit code of its verdict."""

    document: dict[str, Any]
    view: Callable[[], Any]
    rows: list[dict[str, Any]]
    code: int


def answers(
    read: Catalogue, rules: House, set_name: str, cabinets: Iterable[str], asked: Asked, wishes: Wishes
) -> Iterator[Answer]:
    """One answer for each cabinet named, in order; none named: all, or with readings those that were measured."""
    asked.check()
    names = sorted(set(cabinets))
    if asked.measured:
        return _as_measured(read, rules, set_name, names, asked.measured, asked.unit, wishes)
    every = names or [cabinet.name for cabinet in read.cabinets]
    return (_ahead(read, rules, set_name, name, asked, wishes) for name in every)


def exit_code(codes: Iterable[int]) -> int:
    """That of the command: a no of any cabinet, else whatever is open, else yes."""
    found = set(codes)
    return NO if NO in found else OPEN if OPEN in found else YES


def _as_measured(
    read: Catalogue, rules: House, set_name: str, names: list[str], path: Path, unit: str, wishes: Wishes
) -> Iterator[Answer]:
    from matcher.catalogue import read_measured
    from matcher.report import TAPE_EXITS, measuring_document, measuring_view
    from matcher.studies import measure, measured_cabinets

    rows = read_measured(path, read)
    known = names or measured_cabinets(read, rows)

    def answer(name: str) -> Answer:
        found = measure(read, rules, set_name, name, rows, unit, wishes=wishes)
        document = measuring_document(found)
        return Answer(document, lambda: measuring_view(found), _rows(document, "contents"), TAPE_EXITS[found.verdict])

    return map(answer, known)


def _ahead(read: Catalogue, rules: House, set_name: str, name: str, asked: Asked, wishes: Wishes) -> Answer:
    """Before anything is measured: the sheet of what to measure, or which sizes decide."""
    from matcher.planning import find_cabinet, worked_in
    from matcher.planning import plan as planned
    from matcher.records import mm
    from matcher.report import measuring_views as views
    from matcher.studies import sheet_for, tolerance

    outcome = planned(read, rules, set_name, name, wishes=wishes)
    read, rules = worked_in(read, rules, set_name, wishes)
    code = EXITS[outcome.verdict]
    if asked.tolerance is None:
        sheet = sheet_for(read, rules, outcome, rules.measure.off)
        document = views.sheet_document(sheet)
        return Answer(document, lambda: views.sheet_view(sheet), _rows(document, "readings"), code)
    turns = tolerance(read, rules, outcome, find_cabinet(read, name), mm(asked.tolerance))
    document = views.tolerance_document(turns)
    return Answer(document, lambda: views.tolerance_view(turns), _rows(document, "turns"), code)


def _rows(document: dict[str, Any], key: str) -> list[dict[str, Any]]:
    return [{"set": document["set"], "cabinet": document["cabinet"], **row} for row in document[key]]
