"""The desk's pages: its own templates round those of the reports."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from starlette.responses import HTMLResponse

from matcher.desk.answering import Compared, Planned, measured_drawers
from matcher.desk.asking import Ask, CompareAsk, PlanAsk
from matcher.desk.uploads import LARGEST
from matcher.planning import find_cabinet, groups_of, pin_words, sets_of
from matcher.records import Catalogue, CellError, Drawer, to_mm
from matcher.report import comparison_shown, environment, measuring_document, plan_shown

TEMPLATES = environment("matcher.desk")
POLICY = (
    f"default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-{TEMPLATES.globals['script_hash']}'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
LOOK_AGAIN = "2"
"""Seconds after which a page that waits for an answer looks again."""
SIZES = ("inside width", "inside depth", "clear height")
NAMES = {400: "Not understood", 403: "Refused", 404: "Not here", 405: "Not possible", 413: "Too large"}


def choosing(catalogue: Catalogue, name: str, token: str, chosen: Ask) -> HTMLResponse:
    """Choose set and cabinet, compare, or upload another catalogue."""
    return _page(
        "choose.html",
        token=token,
        chosen=chosen,
        name=name,
        sets=sets_of(catalogue),
        cabinets=catalogue.cabinets,
        largest=LARGEST // 10**6,
    )


def planning(
    catalogue: Catalogue,
    answer: Planned,
    ask: PlanAsk,
    key: str,
    token: str,
    typed: PlanAsk | None = None,
    faults: Sequence[CellError] = (),
) -> HTMLResponse:
    """A plan with its pins and measured drawers; ``typed`` and ``faults`` are of readings that could not be taken."""
    shown = typed or ask
    cabinet = find_cabinet(catalogue, ask.cabinet)
    return _page(
        "case.html",
        400 if faults else 200,
        **plan_shown(answer.outcome),
        key=key,
        token=token,
        ask=ask,
        pins=[pin_words(pin) for pin in ask.pins],
        groups=[group.name for group in groups_of(catalogue, ask.set)],
        boxes=[_box(drawer) for drawer in cabinet.drawers],
        unit=shown.unit,
        typed=shown.typed or (("", "", ""),) * len(cabinet.drawers),
        faults=[_reading_fault(catalogue, shown, cell) for cell in faults],
        size_names=SIZES,
        measured=measuring_document(answer.measuring) if answer.measuring else None,
    )


def comparing(answer: Compared, ask: CompareAsk, key: str, token: str) -> HTMLResponse:
    """A comparison, with a way to the plan of each of its cabinets."""
    return _page(
        "compared.html",
        **comparison_shown([answer.comparison], [answer.steps]),
        key=key,
        token=token,
        ask=ask,
    )


def waiting(ask: Ask, told: str) -> HTMLResponse:
    """What is shown until there is an answer; the browser looks again by itself."""
    page = _page("waiting.html", 202, ask=ask, told=told)
    page.headers["Refresh"] = LOOK_AGAIN
    return page


def refusal(status: int, words: str, cells: Sequence[CellError] = ()) -> HTMLResponse:
    """An error as a page: what is wrong and the way back; bad cells one a row."""
    heading = "This catalogue cannot be used yet" if cells else NAMES.get(status, "Something went wrong")
    lines = [] if cells else words.splitlines()
    return _page("refused.html", status, heading=heading, lines=lines, cells=cells)


def _box(drawer: Drawer) -> dict[str, Any]:
    sizes = (drawer.inside_width, drawer.inside_depth, drawer.clear_height)
    return {"name": drawer.name, "sizes": [to_mm(size) for size in sizes]}


def _reading_fault(catalogue: Catalogue, typed: PlanAsk, cell: CellError) -> str:
    """A reading that is none, by drawer and size: the row counts the measured drawers, the first one being row 2."""
    touched = measured_drawers(find_cabinet(catalogue, typed.cabinet), typed.typed)
    size = cell.column.removesuffix(f"_{typed.unit}").replace("_", " ")
    return f"Drawer {touched[cell.row - 2][0].name}, {size}, {cell.value!r}: expected {cell.expected}"


def _page(template: str, status: int = 200, **shown: Any) -> HTMLResponse:
    return HTMLResponse(TEMPLATES.get_template(template).render(shown), status)
