"""The poster of a plan: every drawer from above in its place and at one scale, with what lies in it, as records.

Pages, drawings and paper show these records and place nothing themselves.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf, isfinite
from typing import TypeAlias

from shapely import LineString

from matcher.planning import Outcome, drawn, part_of, placed_in
from matcher.records import PER_KG, PER_LB, Drawer, Group, Placement, Toward, counted, in_fraction, listed, to_mm
from matcher.report.drawer_states import STATES, brief_of, state_of
from matcher.report.families import family_colors
from matcher.report.fitted_words import extent, fitted, shrunk, wrapped
from matcher.report.front import FrontBox
from matcher.report.listed_tools import listed_tools
from matcher.report.lying_tools import lying_tool
from matcher.report.poster_outside import OutsideShelf, outside_shelf
from matcher.report.poster_places import LINE, PosterRoom, poster_places

UNKNOWN = "positions not on file"
"""What is said of a ready-made organizer: where its tools lie is not in the catalogue."""
FINE = 100
"""By how much a tool's outline may be off on a poster, in 1/320 mm; own choice."""
MOST_LINES = 3
"""Lines of words over a drawer at most; own choice."""
BOLD = 1.15
"""How much longer bold words are."""
OUTSIDE_LEAST, OUTSIDE_MORE, OUTSIDE_MOST = 0.14, 0.08, 0.42
"""Share of the width for what stays outside, for each group of it more, and at most; own choice."""
PAD = 0.4
"""Room beside words in a box, in font sizes."""

PosterLine: TypeAlias = tuple[tuple[float, float], ...]
PosterRows: TypeAlias = tuple[float, float]
"""The first of some rows, and the one after them."""
ALL_ROWS: PosterRows = (-inf, inf)


@dataclass(frozen=True, slots=True)
class PosterWord:
    """A line of words: middle or start of its baseline, font size, whether it reads from bottom to top.

    ``kind`` is name, holds, state, unknown, share, mm or in; of the last two one is shown, as the reader wishes.
    """

    kind: str
    text: str
    x: float
    y: float
    size: float
    anchor: str = "start"
    upright: bool = False


@dataclass(frozen=True, slots=True)
class PosterBar:
    """A bar of which a ``share`` from 0 to 1 is full; ``kind`` is fill or load."""

    kind: str
    box: FrontBox
    share: float


@dataclass(frozen=True, slots=True)
class PosterOrganizer:
    """An organizer or what is cased; ``hatch`` are the lines over one of which no pockets are known."""

    group: str
    family: str
    color: str
    cased: bool
    box: FrontBox
    hatch: tuple[PosterLine, ...]


@dataclass(frozen=True, slots=True)
class PosterDrawer:
    """A drawer from above; ``tools`` are closed outlines in millimeters from its back left corner, y to the front."""

    name: str
    link: str
    state: str
    label: str
    box: FrontBox
    taken: tuple[FrontBox, ...]
    organizers: tuple[PosterOrganizer, ...]
    tools: tuple[PosterLine, ...]
    bars: tuple[PosterBar, ...]
    words: tuple[PosterWord, ...]


@dataclass(frozen=True, slots=True)
class Poster:
    """All drawers in the order of the cabinet; ``scale`` is units of the poster a millimeter.

    ``outside`` is what the best part found leaves outside, ``beside`` where a line between it and the drawers stands.
    """

    width: float
    height: float
    scale: float
    drawers: tuple[PosterDrawer, ...]
    outside: OutsideShelf | None = None
    beside: float = 0.0


def poster_of(outcome: Outcome, room: PosterRoom, rows: PosterRows = ALL_ROWS) -> Poster:
    """The poster of an answer, of all drawers or those of some rows.

    It has as few lines over the drawers as take all that is said there, or `MOST_LINES`.

    Without a plan its drawers show the best part found, and what stays outside lies beside them, or under them where
    the room is as high as it needs; without one they are empty.
    """
    for lines in range(room.lines, MOST_LINES + 1):
        made = _poster(outcome, replace(room, lines=lines), rows)
        if not any(word.text.endswith("…") for drawer in made.drawers for word in drawer.words):
            break
    return made


def _poster(outcome: Outcome, room: PosterRoom, rows: PosterRows) -> Poster:
    part, colors = part_of(outcome), family_colors(outcome.question)
    share = min(OUTSIDE_MOST, OUTSIDE_LEAST + OUTSIDE_MORE * len(part.outside)) if part else 0.0
    column = share * room.width if isfinite(room.height) else 0.0
    cabinet = outcome.question.cabinet
    shown = tuple(drawer for drawer in cabinet.drawers if rows[0] <= drawer.row < rows[1])
    places = poster_places(replace(cabinet, drawers=shown), replace(room, width=room.width - column))
    poster = Poster(
        width=max(places.width + column, room.width),
        height=places.height,
        scale=places.scale,
        drawers=tuple(
            _drawer(drawer, box, outcome, places.scale, room, colors)
            for drawer, box in zip(shown, places.boxes, strict=True)
        ),
    )
    if part is None:
        return poster
    left = places.width + room.gap if column else 0.0
    beside = places.width + room.gap / 2 if column else 0.0
    top = 0.0 if column else places.height + 2 * room.em
    shelf = replace(room, width=poster.width - left)
    outside = outside_shelf(part, colors, places.scale, left, top, shelf)
    height = max(poster.height, outside.box.y + outside.box.height)
    return replace(poster, outside=outside, height=height, beside=beside)


def _drawer(
    drawer: Drawer,
    box: FrontBox,
    outcome: Outcome,
    scale: float,
    room: PosterRoom,
    colors: Mapping[str, str],
) -> PosterDrawer:
    held = placed_in(outcome, drawer.name)
    plan = drawn(outcome)
    groups = {group.name: group for group in plan.plan.groups} if plan else {}
    state = state_of(drawer, held, outcome)
    organizers = tuple(_organizer(groups[placement.group], placement, box, scale, room, colors) for placement in held)
    inside = [word for one in organizers for word in _inside(one, len(organizers) > 1, room)]
    bars, told = _amounts(drawer, outcome, box, room)
    beside = [one.group for one in organizers]
    told_inside = all(any(word.kind == "holds" for word in _inside(one, True, room)) for one in organizers)
    things = "case" if state == "cased" else "organizer"
    holds = counted(len(beside), things) if len(beside) > 1 and told_inside else " + ".join(beside)
    return PosterDrawer(
        name=drawer.name,
        link=f"drawer-{outcome.question.cabinet.drawers.index(drawer) + 1}",
        state=state,
        label=f"Drawer {drawer.name} from above: {listed(beside) if beside else STATES[state]}",
        box=box,
        taken=tuple(
            _scaled(box, scale, (block.left, block.front, block.width, block.depth)) for block in drawer.obstructions
        ),
        organizers=organizers,
        tools=tuple(
            line
            for placement in held
            for line in _tools(groups[placement.group], placement, to_mm(drawer.inside_depth))
        ),
        bars=bars,
        words=(*_head(drawer.name, holds, box, room), *inside, *_state(drawer, state, box, room), *told),
    )


def _scaled(box: FrontBox, scale: float, place: tuple[int, int, int, int]) -> FrontBox:
    """A rectangle given from the front left corner of a drawer, on the poster."""
    left, front, width, depth = (to_mm(length) * scale for length in place)
    return FrontBox(box.x + left, box.y + box.height - front - depth, width, depth)


def _organizer(
    group: Group, placement: Placement, box: FrontBox, scale: float, room: PosterRoom, colors: Mapping[str, str]
) -> PosterOrganizer:
    place = _scaled(box, scale, (placement.left, placement.front, placement.width, placement.depth))
    known = placement.layout is not None or group.cased
    return PosterOrganizer(
        group=group.name,
        family=group.family,
        color=colors[group.family],
        cased=group.cased,
        box=place,
        hatch=() if known else tuple(hatched(place, room.em)),
    )


def hatched(box: FrontBox, step: float) -> Iterator[PosterLine]:
    """Lines from the lower left to the upper right over a box, ``step`` apart across."""
    for number in range(1, int((box.width + box.height) / step) + 1):
        along = number * step
        low, high = max(0.0, along - box.height), min(along, box.width)
        yield (box.x + low, box.y + along - low), (box.x + high, box.y + along - high)


def _tools(group: Group, placement: Placement, depth: float) -> Iterator[PosterLine]:
    """Edges and holes of the tools in an organizer, as plain as a poster shows them."""
    layout = placement.layout
    left, front = placement.left + placement.field_left, placement.front + placement.field_front
    for listed_line in listed_tools(group, placement):
        at = placement.left, placement.front
        plain = LineString(listed_line).simplify(FINE).coords
        yield tuple((to_mm(at[0] + round(x)), depth - to_mm(at[1] + round(y))) for x, y in plain)
    for pocket in layout.pockets if layout and not group.cased else ():
        lying = lying_tool(group.pieces[pocket.piece], pocket)
        for ring in lying.rings if lying else ((*pocket.ring, pocket.ring[0]),):
            plain = LineString(ring).simplify(FINE).coords
            yield tuple((to_mm(left + round(x)), depth - to_mm(front + round(y))) for x, y in plain)


def _head(name: str, holds: str, box: FrontBox, room: PosterRoom) -> Iterator[PosterWord]:
    """The drawer's name and what it holds, over it: smaller or in more lines where it is long."""
    width = box.width - PAD * room.em
    shown = fitted(name, width, BOLD * room.em)
    start = extent(shown, BOLD * room.em) + PAD * room.em
    size = shrunk(holds, width - start, room.em, room.least)
    lines = wrapped(holds, width, size, start) or [""]
    if len(lines) > room.lines:
        last = " ".join(lines[room.lines - 1 :])
        lines = [*lines[: room.lines - 1], fitted(f"{last} …", width - (start if room.lines == 1 else 0), size)]
    top = box.y - 0.45 * room.em - LINE * room.em * (len(lines) - 1)
    yield PosterWord("name", shown, box.x, top, room.em)
    for number, text in enumerate(lines):
        if text:
            yield PosterWord("holds", text, box.x + (0 if number else start), top + LINE * room.em * number, size)


def _inside(one: PosterOrganizer, several: bool, room: PosterRoom) -> Iterator[PosterWord]:
    """The group's name on one of several organizers, and that pockets are not known, where there is room for it."""
    box, size = one.box, room.least
    width = box.width - 2 * PAD * size
    if several:
        lines, deep = wrapped(one.group, width, size), box.height - PAD * size
        if not any(line.endswith("…") for line in lines) and LINE * size * len(lines) <= (
            deep / 2 if one.hatch else deep
        ):
            yield from _centered(
                lines, "holds", box.y + box.height - (0.35 + LINE * (len(lines) - 1)) * size, one, size
            )
        elif extent(one.group, size) <= box.height - PAD * size and box.width >= LINE * size:
            x, y = box.x + 1.1 * size, box.y + box.height / 2
            yield PosterWord("holds", one.group, x, y, size, "middle", upright=True)
    lines = wrapped(UNKNOWN, width, size)
    if one.hatch and not any(line.endswith("…") for line in lines) and box.height >= 2 * LINE * size * len(lines):
        yield from _centered(lines, "unknown", box.y + box.height / 2, one, size)


def _centered(lines: Sequence[str], kind: str, y: float, one: PosterOrganizer, size: float) -> Iterator[PosterWord]:
    """Lines of words in the middle of an organizer, the first on the baseline ``y``."""
    for number, text in enumerate(lines):
        middle = one.box.x + one.box.width / 2
        yield PosterWord(kind, text, middle, y + LINE * size * number, size, "middle")


def _state(drawer: Drawer, state: str, box: FrontBox, room: PosterRoom) -> Iterator[PosterWord]:
    """What an empty drawer is and how large inside, in its middle: small and in several lines where it is narrow."""
    if state in ("used", "cased"):
        return
    text, width = brief_of(state), box.width - 2 * PAD * room.em
    size = 1.3 * room.em if extent(text, 1.3 * room.em) <= width else room.least
    lines = wrapped(text, width, size)
    middle, y = box.x + box.width / 2, box.y + box.height / 2 + (0.35 - LINE * (len(lines) - 1) / 2) * size
    for line in lines:
        yield PosterWord("state", line, middle, y, size, "middle")
        y += LINE * size
    inside = (drawer.inside_width, drawer.inside_depth, drawer.clear_height)
    metric, inch = (
        " × ".join(f"{to_mm(side):g}" for side in inside),
        " × ".join(in_fraction(side, Toward.DOWN) for side in inside),
    )
    for kind, words in (("mm", f"{metric} mm"), ("in", f"{inch} in")):
        if extent(words, room.least) <= width and y + room.least < box.y + box.height:
            yield PosterWord(kind, words, middle, y, room.least, "middle")


def _amounts(
    drawer: Drawer, outcome: Outcome, box: FrontBox, room: PosterRoom
) -> tuple[tuple[PosterBar, ...], tuple[PosterWord, ...]]:
    """How full a drawer is and what lies in it, in figures under it; beside them bars, of the load against its rating.

    Bars are as long as the figures leave room for, and no longer than half of the drawer is wide.
    """
    plan = drawn(outcome)
    margins = plan.margins if plan else ()
    margin = next((margin for margin in margins if margin.drawer == drawer.name), None)
    if margin is None:
        return (), ()
    fill = f"{100 * margin.fill:.0f} % full", f"{100 * margin.fill:.0f} %"
    loads = {
        kind: f"{margin.load / per:.1f} {unit}" for kind, unit, per in (("mm", "kg", PER_KG), ("in", "lb", PER_LB))
    }
    shares = [("fill", min(1.0, margin.fill))]
    shares += [("load", min(1.0, margin.load / drawer.load_rating))] if drawer.load_rating else []
    gap = PAD * room.em
    widest = max(extent(text, room.least) for text in loads.values())
    share = next((text for text in fill if extent(text, room.least) <= max(widest, box.width / 2 - gap)), fill[-1])
    long = min(box.width / 2, box.width - max(widest, extent(share, room.least)) - 2 * gap)
    rows = {kind: box.y + box.height + (0.3 + 0.1 * row) * room.em + row * LINE * room.least
            for row, kind in enumerate(("fill", "load"))}  # fmt: skip
    bars = tuple(
        PosterBar(kind, FrontBox(box.x, rows[kind] + 0.35 * room.least, long, 0.5 * room.least), part)
        for kind, part in shares
        if long >= gap
    )
    start = box.x + (long + gap if long >= gap else 0)
    return bars, (
        PosterWord("share", share, start, rows["fill"] + 0.95 * room.least, room.least),
        *(PosterWord(kind, text, start, rows["load"] + 0.95 * room.least, room.least) for kind, text in loads.items()),
    )
