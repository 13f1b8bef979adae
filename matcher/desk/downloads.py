"""Files to take away, made by the same writers as ``--out``; chosen by name from a list, so that no name is a path."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from threading import Lock
from urllib.parse import quote

from starlette.responses import Response

from matcher.cutting import cut, packing_of
from matcher.desk.answering import Answer, Compared, Planned
from matcher.report import (
    compare_book,
    comparison_document,
    comparison_page,
    cut_dxf,
    guide_pdf,
    json_text,
    paper_named,
    plan_book,
    plan_document,
    plan_page,
    plan_sizes,
)

KINDS = {
    "pdf": "application/pdf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "dxf": "image/vnd.dxf",
    "html": "text/html; charset=utf-8",
    "json": "application/json",
}
ONE_AT_A_TIME = Lock()
"""Writers of drawings set options of their library for as long as they write."""


def download(answer: Answer, file: str) -> Response | None:
    """A file of an answer to save; ``None`` where there is none of that name.

    Raises
    ------
    MatcherError
        The answer has no such file: there is no plan, or foam would be cut from guessed sizes.
    """
    writers = _of_comparison(answer) if isinstance(answer, Compared) else _of_plan(answer)
    if file not in writers:
        return None
    with ONE_AT_A_TIME:
        made = writers[file]()
    kind = file.rpartition(".")[2]
    headers = {"Content-Disposition": _saved_as(f"{_title(answer)}.{kind}")}
    return Response(made, media_type=KINDS[kind], headers=headers)


def _of_plan(made: Planned) -> Mapping[str, Callable[[], str | bytes]]:
    outcome = made.outcome
    return {
        "guide.pdf": lambda: guide_pdf(outcome, packing_of(outcome), paper_named("A4")),
        "workbook.xlsx": lambda: plan_book(plan_document(outcome), plan_sizes(outcome)),
        "cut.dxf": lambda: cut_dxf(cut(outcome)),
        "page.html": lambda: plan_page(outcome),
        "plan.json": lambda: json_text(plan_document(outcome)),
    }


def _of_comparison(made: Compared) -> Mapping[str, Callable[[], str | bytes]]:
    return {
        "workbook.xlsx": lambda: compare_book([comparison_document(made.comparison)]),
        "page.html": lambda: comparison_page([made.comparison], [made.steps]),
    }


def _title(answer: Answer) -> str:
    if isinstance(answer, Compared):
        return f"{answer.comparison.set} compared"
    return f"{answer.outcome.set} in {answer.outcome.cabinet}"


def _saved_as(name: str) -> str:
    """The name a browser saves under: in plain letters for any, and as it is for those that can."""
    plain = re.sub(r"[^A-Za-z0-9 .+_-]", "_", name)[-120:]
    whole = quote(re.sub(r"[\x00-\x1f/\\:]", "_", name)[-120:], safe="")
    return f"attachment; filename=\"{plain}\"; filename*=UTF-8''{whole}"
