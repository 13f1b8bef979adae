"""A cabinet's front view as cells with words that fit and can be read at the size at which it is shown."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from matcher.planning import Outcome, drawn, placed_in
from matcher.records import Drawer, to_kg, to_mm
from matcher.report.drawer_states import STATES, brief_of, state_of
from matcher.report.families import colors_of, family_colors
from matcher.report.fitted_words import extent, fitted, shrunk
from matcher.report.front import Front, FrontBox, front_of
from matcher.report.pages.quantities import inch_words, kg_words, lb_words, mm_words

SMALLEST, USUAL = 9.2, 12.0
"""Font sizes in CSS pixels: none is smaller at the width at which the front is shown at least."""
NARROWEST, WIDEST = 280.0, 500.0
"""How wide a front is shown at least, in CSS pixels: within these bounds so that its lowest drawer takes words."""
TALL = 0.94
"""Font size of a line that a drawer just takes, as a share of the drawer's height."""
SIDES = 4.0
"""What is left beside the front, in font sizes."""
PAD = 0.5
"""Room left of a drawer's words, in font sizes."""
BOLD, TINY = 1.2, 1e-6
"""How much longer bold words are; what sizes may differ by rounding."""


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
    """A drawer in the front view; ``link`` is the fragment of its section on the page.

    ``colors`` are those of the families in it, from the left; ``groups`` the groups, whole ones where parts lie in it.
    """

    link: str
    name: str
    state: str
    box: FrontBox
    colors: tuple[str, ...]
    groups: tuple[str, ...]
    words: tuple[FrontWords, ...]
    label: str


@dataclass(frozen=True, slots=True)
class FrontView:
    """A front view ready to draw; ``em`` is the usual font size in millimeters.

    ``across`` is how wide it is shown at least, with its surroundings, in CSS pixels.
    """

    title: str
    front: Front
    cells: tuple[FrontCell, ...]
    em: float
    across: float
    states: tuple[str, ...]


def front_view(outcome: Outcome) -> FrontView:
    """The front of the cabinet with what the outcome's plan puts into each drawer."""
    front = front_of(outcome.question.cabinet)
    lowest = min(box.height for _, box in front.drawers)
    across = min(WIDEST, max(NARROWEST, SMALLEST / (TALL * lowest) * front.width + SIDES * USUAL))
    em = USUAL * front.width / (across - SIDES * USUAL)
    sizes = em, em * SMALLEST / USUAL
    colors = family_colors(outcome.question)
    cells = tuple(
        _cell(position, drawer, box, outcome, sizes, colors)
        for position, (drawer, box) in enumerate(front.drawers, start=1)
    )
    return FrontView(
        title=f"{outcome.set} in {outcome.cabinet}: {outcome.verdict}",
        front=front,
        cells=cells,
        em=em,
        across=across,
        states=tuple(state for state in STATES if any(cell.state == state for cell in cells)),
    )


def _cell(
    position: int,
    drawer: Drawer,
    box: FrontBox,
    outcome: Outcome,
    sizes: tuple[float, float],
    colors: Mapping[str, str],
) -> FrontCell:
    held = placed_in(outcome, drawer.name)
    plan = drawn(outcome)
    known = {group.name: group for group in plan.plan.groups} if plan else {}
    state = state_of(drawer, held, outcome)
    groups = [placement.group for placement in held]
    shown = groups or [brief_of(state)]
    room = f"{mm_words(to_mm(drawer.inside_width))} mm wide, {mm_words(to_mm(drawer.clear_height))} mm high inside"
    told = " and ".join(groups) + (" (cased)" if state == "cased" else "") if groups else STATES[state]
    return FrontCell(
        link=f"drawer-{position}",
        name=drawer.name,
        state=state,
        box=box,
        colors=colors_of([known[name] for name in groups], colors),
        groups=tuple(dict.fromkeys(known[name].part_of or name for name in groups)),
        words=tuple(_words(drawer, shown, box, _load(drawer, outcome), sizes)),
        label=f"Drawer {drawer.name}: {told}; {room}",
    )


def _load(drawer: Drawer, outcome: Outcome) -> tuple[str, str]:
    """What lies in a drawer and what it may hold, in kilograms and in pounds; blank where it holds nothing."""
    plan = drawn(outcome)
    margins = plan.margins if plan else ()
    loads = [to_kg(margin.load) for margin in margins if margin.drawer == drawer.name]
    if not loads:
        return "", ""
    rating = None if drawer.load_rating is None else to_kg(drawer.load_rating)
    metric = f", {kg_words(loads[0])} kg" + (f" of {kg_words(rating)} kg" if rating is not None else "")
    inch = f", {lb_words(loads[0])} lb" + (f" of {lb_words(rating)} lb" if rating is not None else "")
    return metric, inch


def _words(
    drawer: Drawer, shown: list[str], box: FrontBox, load: tuple[str, str], sizes: tuple[float, float]
) -> Iterator[FrontWords]:
    """Name and contents, and inside sizes with the load below them where the drawer is high enough for another line.

    Several groups stand one under the other where there is room for that, else in one line. A drawer too low for the
    smallest of the two font ``sizes``, the usual and the smallest, has no words.
    """
    em, least = sizes
    size, small = min(em, TALL * box.height), max(least, 0.78 * em)
    if size < least - TINY:
        return
    lines = shown if box.height >= (0.2 + 1.2 * len(shown)) * em + 1.25 * small else [" + ".join(shown)]
    two = box.height >= 1.15 * em + 1.25 * small
    block = (1.2 * len(lines) - 0.2) * size + (1.25 * small if two else 0)
    first = box.y + (box.height - block) / 2 + 0.775 * size
    left, room = box.x + PAD * em, box.width - 2 * PAD * em
    name = fitted(drawer.name, room, BOLD * size)
    yield FrontWords("name", name, left, first, size)
    used = extent(name, BOLD * size) + 0.5 * size
    for position, text in enumerate(lines):
        if text:
            x, y = left + used, first + 1.2 * position * size
            yield _line("holds", text, x, y, size, room - used, least)
    if two:
        inside = (to_mm(drawer.inside_width), to_mm(drawer.inside_depth), to_mm(drawer.clear_height))
        below = first + 1.2 * (len(lines) - 1) * size + 1.25 * small
        yield _line("mm", f"{' × '.join(map(mm_words, inside))} mm{load[0]}", left, below, small, room, least)
        yield _line("in", f"{' × '.join(map(inch_words, inside))} in{load[1]}", left, below, small, room, least)


def _line(kind: str, text: str, x: float, y: float, size: float, room: float, least: float) -> FrontWords:
    """A line no longer than its room: set smaller down to ``least``, then cut off."""
    smaller = shrunk(text, room, size, least)
    return FrontWords(kind, fitted(text, room, smaller), x, y, smaller)
