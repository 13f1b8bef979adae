"""A cabinet's front view as cells with words that fit and can be read at the size at which it is shown."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from matcher.planning import Outcome, drawn, placed_in
from matcher.records import Drawer, to_kg, to_mm
from matcher.report.drawer_states import STATES, brief_of, state_of
from matcher.report.families import colors_of, family_colors
from matcher.report.fitted_words import extent, fitted, shrunk, wrapped
from matcher.report.front import Front, FrontBox, front_of
from matcher.report.pages.quantities import inch_words, kg_words, lb_words, mm_words

SMALLEST, USUAL = 9.2, 12.0
"""Font sizes in CSS pixels: none is smaller at the width at which the front is shown at least."""
NARROWEST, WIDEST = 280.0, 500.0
"""How wide a front is shown at least, in CSS pixels: within these bounds so that its lowest drawer takes words."""
TALL = 0.94
"""Font size of a line that a drawer just takes, as a share of the drawer's height."""
LOW = 1.15
"""The same of a drawer's name alone: capitals and figures are about 0.73 em high."""
WIDER = (1.0, 1.08, 1.16)
"""By how much wider it may be for its words; own choice."""
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

    @property
    def high(self) -> float:
        """How high it is at that width, in CSS pixels."""
        return self.across * (self.front.height + 2.5 * self.em) / (self.front.width + 4 * self.em)


def front_view(outcome: Outcome) -> FrontView:
    """The front of the cabinet with what the outcome's plan puts into each drawer, as narrow as its words let it be.

    A little wider where that lets more drawers say all that they hold.
    """
    front = front_of(outcome.question.cabinet)
    lowest = min(box.height for _, box in front.drawers)
    least = min(WIDEST, max(NARROWEST, SMALLEST / (LOW * lowest) * front.width + SIDES * USUAL))
    views = [_at(outcome, front, min(WIDEST, wider * least)) for wider in WIDER]
    return max(views, key=lambda view: sum(map(_says_all, view.cells)))


def _says_all(cell: FrontCell) -> bool:
    held = [line.text for line in cell.words if line.kind == "holds"]
    return bool(held) and not held[-1].endswith("…")


def _at(outcome: Outcome, front: Front, across: float) -> FrontView:
    """The front shown so wide."""
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

    Several groups stand one under the other where there is room for that, else in one line, or in several lines that
    end at spaces. Where there is none for all of it, it ends after whole words: no word is cut. A drawer too low for
    its name in the smallest of the two font ``sizes``, the usual and the smallest, has no words.
    """
    em, least = sizes
    size, small = min(em, TALL * box.height), max(least, 0.78 * em)
    if size < least - TINY:
        size = least
        if LOW * box.height < least - TINY:
            return
    left, room = box.x + PAD * em, box.width - 2 * PAD * em
    named, name = size, fitted(drawer.name, room, BOLD * size)
    used = extent(name, BOLD * size) + 0.5 * size
    lines, font = _contents(shown, room - used, box.height, size, least)
    two = box.height >= (1.2 * len(lines) - 0.05) * font + 1.25 * small if lines else False
    size = font if len(lines) > 1 else size
    block = (1.2 * max(len(lines), 1) - 0.2) * size + (1.25 * small if two else 0)
    first = box.y + (box.height - block) / 2 + 0.775 * size
    yield FrontWords("name", name, left, first, min(named, (first - box.y) / 0.8))
    for position, text in enumerate(lines):
        if text:
            yield FrontWords("holds", text, left + used, first + 1.2 * position * font, font)
    if two:
        inside = (to_mm(drawer.inside_width), to_mm(drawer.inside_depth), to_mm(drawer.clear_height))
        below = first + 1.2 * (len(lines) - 1) * font + 1.25 * small
        for kind, words, unit, held in (("mm", mm_words, "mm", load[0]), ("in", inch_words, "in", load[1])):
            told, high = f"{' × '.join(map(words, inside))} {unit}", f"{words(inside[2])} {unit} high"
            fits = [text for text in (f"{told}{held}", told, high) if extent(text, least) <= room]
            if fits:
                yield FrontWords(kind, fits[0], left, below, shrunk(fits[0], room, small, least))


def _contents(shown: list[str], room: float, height: float, size: float, least: float) -> tuple[list[str], float]:
    """What a drawer holds in lines that go in whole, with their font size; else as many of its first words as go in."""
    joined = " + ".join(shown)
    for lines, largest in ((shown, size), ([joined], size), (wrapped(joined, room, least), least)):
        font = min([largest, *(shrunk(line, room, largest, least) for line in lines)])
        whole = all(extent(line, font) <= room + TINY and not line.endswith("…") for line in lines)
        if whole and (len(lines) == 1 or (1.2 * len(lines) - 0.2) * font <= height):
            return lines, font
    words = joined.split()
    begun = (f"{' '.join(words[:count])} …" for count in range(len(words) - 1, 0, -1))
    return [text for text in begun if extent(text, least) <= room][:1], least
