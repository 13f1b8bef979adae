"""``matcher fit``."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import typer

from matcher.cli.options import CabinetsArg, JsonOption, OutOption, SetArg, SourceOptions, TapeOptions, WishOptions
from matcher.cli.progress import progress
from matcher.cli.running import NO, OPEN, YES, before_writing, show, show_so_far
from matcher.cli.tape import TapeAnswer, answers, exit_code, one_question
from matcher.records import FailedError, Fault


def fit(
    source: SourceOptions,
    set_name: SetArg,
    wished: WishOptions,
    tape: TapeOptions,
    cabinets: CabinetsArg = None,
    json: JsonOption = False,
    out: OutOption = None,
) -> None:
    """Will it fit, and if not, what is short?"""
    from rich.console import Group as Stack

    from matcher.planning import Undecided
    from matcher.report import (
        check_writers,
        comparison_document,
        conditional_lines,
        conditions_document,
        csv_text,
        fault_document,
        fit_book,
        fit_view,
        json_text,
        plain_rows,
        plan_document,
        write,
    )
    from matcher.studies import Stopped, conditional_plan
    from matcher.studies import compare as compared

    check_writers(out, (".json", ".csv", ".xlsx"), sources=[source.catalogue, tape.measured])
    one_question(tape.measured, tape.tolerance is not None, tape.sheet)
    wishes = wished.wishes()
    read, rules = source.load()
    if tape:
        _with_tape(set_name, answers(read, rules, set_name, cabinets or (), tape, wishes), json, out)
    try:
        with before_writing(out), progress(json) as told:
            found = compared(read, rules, set_name, cabinets or (), told=told, wishes=wishes)
    except Stopped as early:
        so_far = early.so_far
        answered = [variant.outcome for variant in so_far.variants]
        show_so_far(lambda: fit_view(answered, so_far.faults), [str(early)], json)
        raise
    outcomes = [variant.outcome for variant in found.variants]
    faults = [fault_document(found.set, fault) for fault in found.faults]
    depends = {one.cabinet: plan for one in outcomes if isinstance(one, Undecided) and (plan := conditional_plan(one))}
    document = [
        plan_document(one)
        | ({"conditions": conditions_document(depends[one.cabinet])} if one.cabinet in depends else {})
        for one in outcomes
    ]
    document += faults
    rows = plain_rows(comparison_document(found))
    write(
        out, {".json": lambda: json_text(document), ".csv": lambda: csv_text(rows), ".xlsx": lambda: fit_book(document)}
    )
    show(document, lambda: Stack(fit_view(outcomes, found.faults), *conditional_lines(depends)), json)
    if faults:
        raise FailedError(found.faults)
    verdicts = {outcome.verdict for outcome in outcomes}
    raise typer.Exit(NO if "does not fit" in verdicts else OPEN if "undecided" in verdicts else YES)


def _with_tape(set_name: str, asked: Iterable[TapeAnswer | Fault], json: bool, out: list[Path] | None) -> None:
    """The answers of `tape`, as they come, and their verdict."""
    from rich.console import Group as Stack

    from matcher.records import counted
    from matcher.report import csv_text, fault_document, fault_lines, json_text, write

    found: list[TapeAnswer] = []
    faults: list[Fault] = []

    def view() -> Stack:
        return Stack(*(one.view() for one in found), *fault_lines(faults))

    try:
        with before_writing(out):
            for one in asked:
                if isinstance(one, Fault):
                    faults.append(one)
                else:
                    found.append(one)
    except KeyboardInterrupt:
        words = f"stopped by hand after {counted(len(found) + len(faults), 'cabinet')}"
        show_so_far(view, [words], json)
        raise
    document = [*(one.document for one in found), *(fault_document(set_name, fault) for fault in faults)]
    rows = [row for one in found for row in one.rows]
    write(out, {".json": lambda: json_text(document), ".csv": lambda: csv_text(rows)})
    show(document, view, json)
    if faults:
        raise FailedError(faults)
    raise typer.Exit(exit_code(one.code for one in found))
