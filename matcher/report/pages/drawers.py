"""What a page shows of each drawer: the plan's own figures, the picture from above and the pieces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from matcher.planning import Outcome, drawn, placed_in
from matcher.records import Drawer, Group, counted, to_kg, to_mm
from matcher.report.document import Document, plan_document
from matcher.report.drawer_states import STATES, state_of
from matcher.report.drawing import drawer_picture
from matcher.report.families import family_colors
from matcher.report.placement_documents import part_shown
from matcher.tools import counted_kind


@dataclass(frozen=True, slots=True)
class Content:
    """One organizer (or cased group): its placement as in the JSON document, its part, what it is for."""

    placement: Document
    part: str
    pieces: tuple[Document, ...]
    summary: str
    work: str


@dataclass(frozen=True, slots=True)
class DrawerView:
    """A drawer; ``place`` is its bank and row in words, ``margin`` its row of the document's margins."""

    link: str
    name: str
    place: str
    state: str
    words: str
    sizes: tuple[float, float, float]
    above_ground: float | None
    rating: float | None
    rating_basis: str
    contents: tuple[Content, ...]
    margin: Document | None
    picture: Markup
    reasons: tuple[str, ...]


def drawer_views(outcome: Outcome) -> tuple[DrawerView, ...]:
    """Every drawer of the cabinet, in the order of the front view's cells."""
    plan = drawn(outcome)
    document = plan_document(outcome) | (part_shown(plan) if plan else {})
    groups = {group.name: group for group in plan.plan.groups} if plan else {}
    return tuple(
        _view(position, drawer, outcome, document, groups)
        for position, drawer in enumerate(outcome.question.cabinet.drawers, start=1)
    )


def _view(
    position: int, drawer: Drawer, outcome: Outcome, document: Document, groups: Mapping[str, Group]
) -> DrawerView:
    held = placed_in(outcome, drawer.name)
    state = state_of(drawer, held, outcome)
    rows = [row for row in document["placements"] if row["drawer"] == drawer.name]
    names = " and ".join(placement.group for placement in held)
    label = f"Drawer {drawer.name} from above, front edge at the bottom: {names or STATES[state]}"
    return DrawerView(
        link=f"drawer-{position}",
        name=drawer.name,
        place=place_of(drawer),
        state=state,
        words=STATES[state],
        sizes=(to_mm(drawer.inside_width), to_mm(drawer.inside_depth), to_mm(drawer.clear_height)),
        above_ground=None if drawer.above_ground is None else to_mm(drawer.above_ground),
        rating=None if drawer.load_rating is None else to_kg(drawer.load_rating),
        rating_basis=drawer.rating_basis,
        contents=tuple(_content(row, groups[row["group"]]) for row in rows),
        margin=next((row for row in document["margins"] if row["drawer"] == drawer.name), None),
        picture=Markup(
            drawer_picture(
                drawer,
                [(groups[placement.group], placement) for placement in held],
                label,
                family_colors(outcome.question),
            )
        ),
        reasons=tuple(row["text"] for row in document["reasons"] if drawer.name in row["drawers"]),
    )


def place_of(drawer: Drawer) -> str:
    """Bank and row, counted as a person stands before the cabinet."""
    banks = f"bank {drawer.bank}" if drawer.bank == drawer.last_bank else f"banks {drawer.bank}-{drawer.last_bank}"
    return f"{banks}, row {drawer.row}"


def _content(placement: Document, group: Group) -> Content:
    pieces = tuple(
        {
            "tool": sized.piece.tool,
            "kind": sized.piece.kind,
            "count": sized.piece.count,
            "basis": sized.basis,
        }
        for sized in sorted(group.pieces, key=lambda sized: sized.listed)
    )
    ready = group.organizer
    return Content(
        placement=placement,
        part=" ".join(word for word in (ready.part, ready.revision and f"rev. {ready.revision}") if word)
        if ready
        else "",
        pieces=pieces,
        summary=_summary(pieces),
        work=work_words(placement),
    )


def _summary(pieces: Iterable[Document]) -> str:
    """How many pieces of each kind, e.g. ``13 pieces: 12 sockets, 1 ratchet``."""
    kinds: Counter[str] = Counter()
    for piece in pieces:
        kinds[piece["kind"]] += piece["count"]
    told = ", ".join(counted_kind(count, kind) for kind, count in kinds.items())
    return f"{counted(kinds.total(), 'piece')}: {told}" if len(kinds) > 1 else told or "not listed"


def work_words(placement: Document) -> str:
    """What is to be done to an organizer's foam, per axis where the axes differ, e.g. ``trim in depth``."""
    across, along = placement["how_width"], placement["how_depth"]
    if across == along or placement["how"] not in (across, along):
        return str(placement["how"])
    axes = ((across, "width"), (along, "depth"))
    return ", ".join(f"{how} in {axis}" for how, axis in axes if how != "as is")
