"""Released plans named in options: what ``--keep`` and ``--reference`` count on, and what ``check --plan`` looks at."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import typer

from matcher.cli.running import NO, YES, show

if TYPE_CHECKING:
    from matcher.cli.options import SourceOptions
    from matcher.planning import Question
    from matcher.records import Catalogue, ReleasedPlan


def counting(question: Question, keep: Path | None) -> Question:
    """The question with the organizers of the plan to keep as existing ones, if that plan is a released one."""
    from matcher.catalogue import is_released, read_released
    from matcher.planning import counting_on

    return counting_on(question, read_released(keep)) if keep and is_released(keep) else question


def reference_of(name: str, catalogue: Catalogue) -> str | ReleasedPlan:
    """The cabinet that ``--reference`` names, or the released plan in the file that it names."""
    from matcher.catalogue import read_released

    cabinet = any(one.name == name for one in catalogue.cabinets)
    return name if cabinet or not name.lower().endswith(".json") else read_released(Path(name))


def check_plan(file: Path, source: SourceOptions, json: bool, *, writes: bool) -> NoReturn:
    """Tell whether a released plan still holds, and end; exit code 1 where it does not. It ``writes`` no file."""
    from matcher.catalogue import read_released
    from matcher.planning import standing_today
    from matcher.report import standing_document, standing_view

    if writes:
        raise typer.BadParameter("--plan writes no file: --json prints its document")
    found = standing_today(read_released(file), *source.load())
    show(standing_document(found), lambda: standing_view(found), json)
    raise typer.Exit(YES if found.holds else NO)
