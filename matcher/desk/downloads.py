"""Files to take away, made by the same writers as those of commands; chosen by name from a list, so that no name is a
path."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from threading import Lock
from typing import TypeAlias
from urllib.parse import quote

from starlette.responses import Response

from matcher.cutting import cut, packing_of
from matcher.desk.answering import Answer, Compared, ComparedSets, InDrawers, Offered, Planned
from matcher.desk.following import Deciding, PartsOfPlan, PiecesToMeasure, Standing
from matcher.desk.releases import released_book, released_plan
from matcher.desk.uploads import Source
from matcher.report import (
    asked_document,
    check_pdf,
    compare_book,
    comparison_document,
    comparison_page,
    csv_text,
    cut_writers,
    drawing_of,
    estimates_document,
    guide_pdf,
    json_text,
    offer_book,
    offer_document,
    offer_page,
    painted_poster,
    paper_named,
    plan_book,
    plan_document,
    plan_page,
    plan_sizes,
    poster_svg,
    sheet_document,
    shipping_pdf,
    standing_document,
    tolerance_document,
)
from matcher.studies import Comparison, Step, sheet_for

KINDS = {
    "pdf": "application/pdf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "dxf": "image/vnd.dxf",
    "svg": "image/svg+xml",
    "html": "text/html; charset=utf-8",
    "json": "application/json",
    "csv": "text/csv; charset=utf-8",
}
ONE_AT_A_TIME = Lock()
"""Writers of drawings set options of their library for as long as they write."""

FileMakers: TypeAlias = Mapping[str, Callable[[], str | bytes]]


@dataclass(frozen=True, slots=True)
class FileWish:
    """What is said about a file: the paper of a print, the group of a drawing, whether foam is cut from estimates.

    ``source`` is where the catalogue came from.
    """

    paper: str
    group: str
    estimates: bool
    source: Source


def download(answer: Answer, file: str, wish: FileWish) -> Response | None:
    """A file of an answer to save; ``None`` where there is none of that name.

    Raises
    ------
    MatcherError
        The answer has no such file: there is no plan, or foam would be cut from guessed sizes.
    """
    makers = _makers(answer, wish)
    if file not in makers:
        return None
    with ONE_AT_A_TIME:
        made = makers[file]()
    kind = file.rpartition(".")[2]
    headers = {"Content-Disposition": _saved_as(f"{_title(answer)}{_part(file, wish)}.{kind}")}
    return Response(made, media_type=KINDS[kind], headers=headers)


def _makers(answer: Answer, wish: FileWish) -> FileMakers:
    if isinstance(answer, Planned):
        return _of_plan(answer, wish)
    if isinstance(answer, Compared):
        return _of_comparisons([answer.comparison], [answer.steps])
    if isinstance(answer, ComparedSets):
        return _of_comparisons(answer.comparisons, [()] * len(answer.comparisons))
    if isinstance(answer, InDrawers):
        return {"asked.json": lambda: json_text(asked_document(answer.asked))}
    if isinstance(answer, Standing):
        return {"standing.json": lambda: json_text(standing_document(answer.found))}
    if isinstance(answer, Deciding):
        return {"tolerance.json": lambda: json_text(tolerance_document(answer.found))}
    if isinstance(answer, PiecesToMeasure):
        return {"settling.json": lambda: json_text(estimates_document(answer.found))}
    if isinstance(answer, PartsOfPlan):
        return {
            "released.xlsx": lambda: released_book(answer, wish.source),
            "plan.json": lambda: released_plan(answer),
        }
    return _of_offer(answer)


def _of_plan(made: Planned, wish: FileWish) -> FileMakers:
    outcome, paper = made.outcome, paper_named(wish.paper)

    def cut_file(suffix: str) -> str | bytes:
        return cut_writers(cut(outcome, allow_estimates=wish.estimates))[suffix]()

    return {
        "guide.pdf": lambda: guide_pdf(outcome, paper),
        "packing.pdf": lambda: shipping_pdf(outcome, packing_of(outcome), paper),
        "poster.svg": lambda: poster_svg(outcome),
        "workbook.xlsx": lambda: plan_book(plan_document(outcome), plan_sizes(outcome), painted_poster(outcome)),
        "page.html": lambda: plan_page(outcome),
        "plan.json": lambda: json_text(plan_document(outcome)),
        "measure.csv": lambda: csv_text(
            sheet_document(sheet_for(outcome, outcome.question.house.measure.off))["readings"]
        ),
        "organizer.svg": lambda: drawing_of(outcome, wish.group),
        "organizer.pdf": lambda: check_pdf(outcome, wish.group, paper),
        "cut.dxf": lambda: cut_file(".dxf"),
        "cut.svg": lambda: cut_file(".svg"),
        "cut.xlsx": lambda: cut_file(".xlsx"),
    }


def _of_comparisons(found: Sequence[Comparison], changes: Sequence[Sequence[Step]]) -> FileMakers:
    return {
        "workbook.xlsx": lambda: compare_book([comparison_document(one) for one in found]),
        "page.html": lambda: comparison_page(found, changes),
    }


def _of_offer(made: Offered) -> FileMakers:
    return {
        "workbook.xlsx": lambda: offer_book(offer_document(made.offer)),
        "page.html": lambda: offer_page(made.offer),
    }


def _title(answer: Answer) -> str:
    if isinstance(answer, (Planned, PartsOfPlan, Deciding, PiecesToMeasure)):
        return f"{answer.outcome.set} in {answer.outcome.cabinet}"
    if isinstance(answer, Standing):
        return f"{answer.found.plan.snapshot.set} in {answer.found.plan.snapshot.cabinet}"
    if isinstance(answer, InDrawers):
        return "drawers asked about"
    if isinstance(answer, ComparedSets):
        return f"sets in {answer.cabinet}"
    return f"{answer.comparison.set} compared" if isinstance(answer, Compared) else "offer"


def _part(file: str, wish: FileWish) -> str:
    """What of the answer is in the file, where it is not all of it."""
    name = file.partition(".")[0]
    parts = {
        "cut": ", foam to cut",
        "poster": ", poster",
        "organizer": f", {wish.group}",
        "measure": ", to measure",
        "released": ", released",
        "standing": ", as it stands",
        "tolerance": ", tolerance",
        "settling": ", pieces to measure",
    }
    return parts.get(name, "")


def _saved_as(name: str) -> str:
    """The name a browser saves under: in plain letters for any, and as it is for those that can."""
    plain = re.sub(r"[^A-Za-z0-9 .,+_-]", "_", name)[-120:]
    whole = quote(re.sub(r"[\x00-\x1f/\\:]", "_", name)[-120:], safe="")
    return f"attachment; filename=\"{plain}\"; filename*=UTF-8''{whole}"
