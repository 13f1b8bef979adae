"""The desk's pages: its own templates round those of the reports."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from dataclasses import replace
from hashlib import sha256
from typing import Any

from starlette.responses import HTMLResponse

from matcher.desk.answering import (
    Answer,
    Compared,
    ComparedSets,
    InDrawers,
    Planned,
    measured_drawers,
    wishes_in_force,
)
from matcher.desk.asking import SIZES, Ask, CompareAsk, PlanAsk, address_of
from matcher.desk.earlier import EarlierPlan
from matcher.desk.following import FromPlan, PartsOfPlan, PiecesToMeasure, Standing
from matcher.desk.matrices import Matrix, small
from matcher.desk.memory import AskedWork
from matcher.desk.uploads import LARGEST
from matcher.desk.wishing import goes_in, in_force, stays_free, stays_out, words_of
from matcher.planning import find_cabinet, groups_of, sets_of, wish_words
from matcher.records import Catalogue, CellError, Drawer, Wishes, to_mm
from matcher.report import (
    asked_shown,
    comparison_shown,
    environment,
    estimates_document,
    measuring_document,
    offer_shown,
    plan_shown,
    release_shown,
    settling_words,
    standing_document,
    standing_words,
    tolerance_document,
    tolerance_words,
)
from matcher.studies import OF_SETS, RANK_WORDS

TEMPLATES = environment("matcher.desk")
OWN_SCRIPT = b64encode(sha256(TEMPLATES.get_template("desk.js").render().encode()).digest()).decode()
TEMPLATES.globals |= {"own_script": OWN_SCRIPT, "address_of": address_of, "words_of": words_of}
TEMPLATES.globals |= {"goes_in": goes_in, "stays_out": stays_out, "stays_free": stays_free}
TEMPLATES.globals |= {"rank_words": RANK_WORDS, "set_rank_words": {name: RANK_WORDS[name] for name in OF_SETS}}
POLICY = (
    "default-src 'none'; style-src 'unsafe-inline'; "
    f"script-src 'sha256-{TEMPLATES.globals['script_hash']}' 'sha256-{OWN_SCRIPT}'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
LOOK_AGAIN = "2"
"""Seconds after which a page that waits for an answer looks again."""
NAMES = {400: "Not understood", 403: "Refused", 404: "Not here", 405: "Not possible", 413: "Too large"}
SIZE_NAMES = ("inside width", "inside depth", "clear height")
GOALS = {
    "together": "groups whole, families apart",
    "drawers": "drawers used or free",
    "moves": "few groups moved",
    "order": "order from the top",
    "neighbors": "related groups near each other",
    "recut": "little re-cutting, snug drawers",
    "reach": "much used tools at a good height",
}
"""What goals ask for, for somebody who waits for them."""


def home(
    catalogue: Catalogue, name: str, token: str, matrix: Matrix | None, set_name: str = "", cabinet: str = ""
) -> HTMLResponse:
    """Every set in every cabinet at a glance, and forms to plan, compare, offer and upload another catalogue."""
    return _page(
        "home.html",
        token=token,
        key=catalogue.digest,
        name=name,
        chosen={"set": set_name.split("+"), "cabinet": cabinet},
        sets=sets_of(catalogue),
        cabinets=catalogue.cabinets,
        matrix=matrix,
        small=small(catalogue),
        demand=bool(catalogue.demand),
        largest=LARGEST // 10**6,
    )


def answer(catalogue: Catalogue, name: str, made: Answer, ask: Ask, token: str) -> HTMLResponse:
    """The page of an answer from the catalogue of that name."""
    if isinstance(made, Planned):
        assert isinstance(ask, PlanAsk)
        return _planned(catalogue, made, ask, token)
    shared: dict[str, Any] = {"ask": ask, "token": token}
    if isinstance(made, Compared):
        assert isinstance(ask, CompareAsk)
        entries = [words_of(entry) for entry in ask.wishes]
        shown = comparison_shown([made.comparison], [made.steps])
        return _page("compared.html", **shown, **shared, wishes=entries, left=made.left)
    if isinstance(made, ComparedSets):
        shown = comparison_shown(made.comparisons, [()] * len(made.comparisons))
        return _page("sets.html", **shown, **shared, left=made.left)
    if isinstance(made, InDrawers):
        return _page("drawers.html", **asked_shown(made.asked), **shared)
    if isinstance(made, (Standing, FromPlan)):
        template, shown = _following(made)
        return _page(template, **shown, **shared, name=name)
    return _page("offered.html", **offer_shown(made.offer), **shared)


def _following(made: Standing | FromPlan) -> tuple[str, dict[str, Any]]:
    """Template of an answer about a plan, and what it shows."""
    if isinstance(made, Standing):
        return "standing.html", {"standing": standing_document(made.found), "words": standing_words(made.found)}
    if isinstance(made, PartsOfPlan):
        return "released.html", {"released": release_shown(made.outcome, made.plan)}
    if isinstance(made, PiecesToMeasure):
        return "settling.html", {"settling": estimates_document(made.found), "words": settling_words(made.found)}
    unit = made.outcome.question.unit.name
    told = {"off": tolerance_document(made.found), "words": tolerance_words(made.found), "inch": unit == "in"}
    return "tolerance.html", told


def _planned(catalogue: Catalogue, made: Planned, ask: PlanAsk, token: str) -> HTMLResponse:
    """A plan with all that can be done to it."""
    drawers = (drawer.name for drawer in made.outcome.question.cabinet.drawers)
    moves = {name: [one for one in made.moves if one.drawer == name] for name in drawers}
    return _page(
        "case.html",
        **plan_shown(made.outcome),
        **_asking(catalogue, ask, token),
        moves=moves,
        moved=made.moved,
        others=made.others,
        measured=measuring_document(made.measuring) if made.measuring else None,
        stopped=made.outcome.run.stopped,
        faults=[],
    )


def _asking(catalogue: Catalogue, ask: PlanAsk, token: str) -> dict[str, Any]:
    """What the forms of a plan's page need."""
    groups, asked = groups_of(catalogue, ask.set), wishes_in_force(ask)
    drawers = find_cabinet(catalogue, ask.cabinet).drawers
    return {
        "token": token,
        "ask": ask,
        "other_sets": [name for name in sets_of(catalogue) if name not in ask.set.split("+")],
        "untyped": replace(ask, typed=()).fields,
        "wishes": [(entry, words_of(entry)) for entry in in_force(ask.wishes)],
        "beside": wish_words(Wishes(add_to=asked.add_to, keep=ask.keep.plan if ask.keep else None)),
        "groups": [group.name for group in groups],
        "family_names": dict.fromkeys(group.family for group in groups),
        "pieces": {group.name: list(dict.fromkeys(one.piece.tool for one in group.pieces)) for group in groups},
        "boxes": [_box(drawer) for drawer in drawers],
        "rows": sorted({drawer.row for drawer in drawers}),
        "banks": sorted({drawer.bank for drawer in drawers}),
        "typed": ask.typed or (("", "", ""),) * len(drawers),
        "size_names": dict(zip(SIZES, SIZE_NAMES, strict=True)),
        "goal_words": GOALS,
    }


def earlier(catalogue: Catalogue, plan: EarlierPlan, token: str) -> HTMLResponse:
    """An earlier plan that was opened, and what can be asked about it."""
    return _page("earlier.html", token=token, key=catalogue.digest, earlier=plan, sets=sets_of(catalogue))


def readings_refused(catalogue: Catalogue, ask: PlanAsk, cells: Sequence[CellError], token: str) -> HTMLResponse:
    """Readings that could not be taken, as typed, with what is wrong with each."""
    faults = [_reading_fault(catalogue, ask, cell) for cell in cells]
    return _page("readings.html", 400, **_asking(catalogue, ask, token), faults=faults)


def waiting(ask: Ask, work: AskedWork, token: str) -> HTMLResponse:
    """What is shown until there is an answer; the browser looks again by itself."""
    page = _page("waiting.html", 202, ask=ask, work=work, token=token, goal_words=GOALS)
    page.headers["Refresh"] = LOOK_AGAIN
    return page


def ended(ask: Ask, token: str) -> HTMLResponse:
    """What is shown of a work that somebody ended."""
    return _page("begin.html", ask=ask, token=token, was_ended=True)


def not_asked(ask: Ask, token: str) -> HTMLResponse:
    """What is shown of an address whose answer is not remembered: all that it asks, and a button to work it out."""
    return _page("begin.html", ask=ask, token=token, was_ended=False)


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
