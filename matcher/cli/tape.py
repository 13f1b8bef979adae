"""What ``matcher fit`` and ``matcher plan`` answer with a tape at hand: as measured, what decides, what to measure."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from matcher.cli.options import TapeOptions
from matcher.cli.running import EXITS, NO, OPEN, YES
from matcher.records import Fault, UsageError, or_fault

if TYPE_CHECKING:
    from matcher.house import House
    from matcher.planning import Outcome, Question
    from matcher.records import Catalogue, Measurement, Wishes


@dataclass(frozen=True, slots=True)
class TapeAnswer:
    """One cabinet's document and view, its rows as a table, and the exit code of its verdict."""

    document: dict[str, Any]
    view: Callable[[], Any]
    rows: list[dict[str, Any]]
    code: int


def answers(
    read: Catalogue, rules: House, set_name: str, cabinets: Iterable[str], tape: TapeOptions, wishes: Wishes
) -> Iterator[TapeAnswer | Fault]:
    """One answer for each cabinet named, in order; none named: all, or with readings those that were measured.

    A cabinet on which the program fails gives its fault.
    """
    from matcher.catalogue import read_measured
    from matcher.planning import answer, ask
    from matcher.studies import measured_cabinets

    names = sorted(set(cabinets))
    rows = read_measured(tape.measured, read) if tape.measured else ()

    def told(name: str) -> TapeAnswer:
        question = ask(read, rules, set_name, name, wishes)
        return as_measured(question, rows, tape.unit) if tape.measured else ahead(answer(question), tape)

    every = names or (measured_cabinets(read, rows) if tape.measured else [one.name for one in read.cabinets])
    if not every:
        raise UsageError(f"--measured {tape.measured}: holds no readings of any cabinet")
    return (or_fault(name, partial(told, name)) for name in every)


def as_measured(question: Question, rows: Iterable[Measurement], unit: str) -> TapeAnswer:
    """The plan for the drawers as measured, beside the nominal one."""
    from matcher.report import measuring_document, measuring_view
    from matcher.studies import measure_for

    found = measure_for(question, rows, unit)
    document = measuring_document(found)
    return TapeAnswer(document, lambda: measuring_view(found), _rows(document, "contents"), EXITS[found.verdict])


def ahead(outcome: Outcome, tape: TapeOptions) -> TapeAnswer:
    """Before anything is measured: the sheet of what to measure, or which sizes decide."""
    from matcher.records import mm
    from matcher.report import sheet_document, sheet_view, tolerance_document, tolerance_view
    from matcher.studies import sheet_for, tolerance

    within = outcome.question.house.measure.off if tape.tolerance is None else mm(tape.tolerance)
    if tape.sheet:
        sheet = sheet_for(outcome, within)
        return _beside(outcome, sheet_document(sheet), lambda: sheet_view(sheet), "readings")
    turns = tolerance(outcome, within)
    return _beside(outcome, tolerance_document(turns), lambda: tolerance_view(turns), "turns")


def settled(outcome: Outcome) -> TapeAnswer:
    """Which pieces to measure with a caliper, so that a verdict no longer rests on estimates."""
    from matcher.report import estimates_document, estimates_view
    from matcher.studies import settling

    found = settling(outcome)
    return _beside(outcome, estimates_document(found), lambda: estimates_view(found), "measure")


def one_question(*asked: Any) -> None:
    """Refuse options that each ask for an answer of its own."""
    if sum(map(bool, asked)) > 1:
        raise UsageError(
            "--measured, --estimates, --sheet or --tolerance, and --alternatives are questions of their own: ask one"
        )


def exit_code(codes: Iterable[int]) -> int:
    """That of the command: a no of any cabinet, else whatever is open, else yes."""
    found = set(codes)
    return NO if NO in found else OPEN if OPEN in found else YES


def _beside(outcome: Outcome, document: dict[str, Any], view: Callable[[], Any], key: str) -> TapeAnswer:
    """An answer to a question about an outcome, with what stays outside."""
    from rich.console import Group as Stack

    from matcher.report import left_out_document, left_out_lines

    left = outcome.question.left_out
    whole = document | {"left_out": left_out_document(left)}
    return TapeAnswer(whole, lambda: Stack(view(), *left_out_lines(left)), _rows(document, key), EXITS[outcome.verdict])


def _rows(document: dict[str, Any], key: str) -> list[dict[str, Any]]:
    return [{"set": document["set"], "cabinet": document["cabinet"], **row} for row in document[key]]
