"""A cabinet's front view as cells with words that fit, for pages and as a standalone SVG with a scale bar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from unicodedata import east_asian_width

from matcher.planning import Fits, Outcome, placed_in
from matcher.records import Drawer, Placement, to_kg, to_mm
from matcher.report.front import Front, FrontBox, front_of
from matcher.report.pages.quantities import inch_words, kg_words, lb_words, mm_words
from matcher.report.pages.rendering import render

PAGE_WIDTH, PAGE_HEIGHT = 1100, 800
"""CSS pixels that a front view gets on a page; its words are sized for them."""
PAD = 0.5
"""Room left of a drawer's words, in font sizes."""
LEAST, BOLD = 0.75, 1.2
"""How far words may shrink to fit; how much longer bold ones are."""
STATES = {
    "used": "organizer",
    "cased": "cased equipment, no foam",
    "free": "free",
    "bare": "free, takes no foam",
    "blocked": "blocked",
    "open": "no plan",
    "open-bare": "no plan; takes no foam",
}
"""What a drawer is in a plan, and the words for it."""
BRIEF = {"open": "", "open-bare": "takes no foam"}
"""Shorter words for a state, where the page says the rest."""


@dataclass(frozen=True, slots=True)
class FrontWords:
    """A line of words in a drawer: ``kind`` is name, holds, mm or in; ``x`` and ``y`` of its start on the baseline."""

    kind: str
    text: str
    x: float
    y: float
    size: float


@dataclass(frozen=True, slots=True)
class FrontCell:
    """A drawer in the front view; ``link`` is the fragment of its section on the page."""

    link: str
    name: str
    state: str
    box: FrontBox
    words: tuple[FrontWords, ...]
    label: str


@dataclass(frozen=True, slots=True)
class FrontView:
    """A front view ready to draw; ``shape`` is wide or tall, ``em`` the font size in millimeters."""

    title: str
    front: Front
    cells: tuple[FrontCell, ...]
    em: float
    shape: str
    states: tuple[str, ...]


def front_view(outcome: Outcome) -> FrontView:
    """The front of the cabinet with what the outcome's plan puts into each drawer."""
    front = front_of(outcome.question.cabinet)
    em = 14 * max(front.width / PAGE_WIDTH, front.height / PAGE_HEIGHT)
    cells = tuple(
        _cell(position, drawer, box, outcome, em) for position, (drawer, box) in enumerate(front.drawers, start=1)
    )
    return FrontView(
        title=f"{outcome.set} in {outcome.cabinet}: {outcome.verdict}",
        front=front,
        cells=cells,
        em=em,
        shape="wide" if front.width > front.height else "tall",
        states=tuple(state for state in STATES if any(cell.state == state for cell in cells)),
    )


def front_svg(outcome: Outcome) -> str:
    """The front view as a standalone SVG, true to scale in millimeters, with a scale bar."""
    view = front_view(outcome)
    return render("front.svg", view=view, bar=500 if view.front.width > 500 else 100)


def state_of(drawer: Drawer, held: Sequence[Placement], outcome: Outcome) -> str:
    """What a drawer is in the outcome's plan: one of `STATES`."""
    if drawer.slot == "blocked":
        return "blocked"
    if not isinstance(outcome, Fits):
        return "open" if drawer.slot == "foam" else "open-bare"
    if held:
        return "cased" if all(placement.how == "cased" for placement in held) else "used"
    return "free" if drawer.slot == "foam" else "bare"


def _cell(position: int, drawer: Drawer, box: FrontBox, outcome: Outcome, em: float) -> FrontCell:
    held = placed_in(outcome, drawer.name)
    state = state_of(drawer, held, outcome)
    groups = [placement.group for placement in held]
    shown = groups or [BRIEF.get(state, STATES[state])]
    room = f"{mm_words(to_mm(drawer.inside_width))} mm wide, {mm_words(to_mm(drawer.clear_height))} mm high inside"
    told = " and ".join(groups) + (" (cased)" if state == "cased" else "") if groups else STATES[state]
    return FrontCell(
        link=f"drawer-{position}",
        name=drawer.name,
        state=state,
        box=box,
        words=tuple(_words(drawer, shown, box, _load(drawer, outcome), em)),
        label=f"Drawer {drawer.name}: {told}; {room}",
    )


def _load(drawer: Drawer, outcome: Outcome) -> tuple[str, str]:
    """What lies in a drawer and what it may hold, in kilograms and in pounds; blank where it holds nothing."""
    margins = outcome.margins if isinstance(outcome, Fits) else ()
    loads = [to_kg(margin.load) for margin in margins if margin.drawer == drawer.name]
    if not loads:
        return "", ""
    rating = None if drawer.load_rating is None else to_kg(drawer.load_rating)
    metric = f", {kg_words(loads[0])} kg" + (f" of {kg_words(rating)} kg" if rating is not None else "")
    inch = f", {lb_words(loads[0])} lb" + (f" of {lb_words(rating)} lb" if rating is not None else "")
    return metric, inch


def _words(drawer: Drawer, shown: list[str], box: FrontBox, load: tuple[str, str], em: float) -> Iterator[FrontWords]:
    """Name and contents, and sizes with the load below them where the drawer is high enough for another line.

    Several groups stand one under the other where there is room for that, else in one line.
    """
    size, small = min(em, 0.62 * box.height), 0.78 * em
    lines = shown if box.height >= (0.2 + 1.2 * len(shown)) * em + 1.25 * small else [" + ".join(shown)]
    two = box.height >= 1.15 * em + 1.25 * small
    block = (1.2 * len(lines) - 0.2) * size + (1.25 * small if two else 0)
    first = box.y + (box.height - block) / 2 + 0.82 * size
    left, room = box.x + PAD * em, box.width - 2 * PAD * em
    name = fitted(drawer.name, room, BOLD * size)
    yield FrontWords("name", name, left, first, size)
    used = extent(name, BOLD * size) + 0.5 * size
    for position, text in enumerate(lines):
        if text:
            yield _line("holds", text, left + used, first + 1.2 * position * size, size, room - used)
    if two:
        sizes = (to_mm(drawer.inside_width), to_mm(drawer.inside_depth), to_mm(drawer.clear_height))
        below = first + 1.2 * (len(lines) - 1) * size + 1.25 * small
        yield _line("mm", f"{' × '.join(map(mm_words, sizes))} mm{load[0]}", left, below, small, room)
        yield _line("in", f"{' × '.join(map(inch_words, sizes))} in{load[1]}", left, below, small, room)


def _line(kind: str, text: str, x: float, y: float, size: float, room: float) -> FrontWords:
    """A line no longer than its room: set smaller down to `LEAST`, then cut off."""
    smaller = min(size, max(LEAST * size, size * room / max(extent(text, size), 1e-9)))
    return FrontWords(kind, fitted(text, room, smaller), x, y, smaller)


def fitted(text: str, room: float, size: float) -> str:
    """As much of a text as goes into the room at a font size; what is cut off shows as an ellipsis."""
    if extent(text, size) <= room + 1e-6:
        return text
    while text and extent(text + "…", size) > room:
        text = text[:-1]
    return f"{text.rstrip()}…" if text else ""


def extent(text: str, size: float) -> float:
    """Length of a text in a common sans serif, on the safe side: 0.58 em a character, 1.1 em a wide one."""
    return size * sum(1.1 if east_asian_width(mark) in "WF" else 0.58 for mark in text)
