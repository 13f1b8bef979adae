"""The first page: the poster of the plan. The cabinet's front, and every drawer from above in its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import cos, pi, sin

from matcher.planning import Fits, Outcome, drawn, part_of, placed_in
from matcher.records import Drawer, counted, listed
from matcher.report.drawer_states import brief_of, part_sentence, state_of, verdict_sentence
from matcher.report.families import colors_of, family_colors
from matcher.report.fitted_words import extent, wrapped
from matcher.report.front import FrontBox, front_of
from matcher.report.paper.at_the_cabinet import first_words, told_at
from matcher.report.paper.painting import Painting
from matcher.report.paper.poster_paper import color_of, draw_key, draw_poster
from matcher.report.paper.sheets import FAINT, INK, MARGIN, PAPERS, POINT, Sheets, printed_at, scale_bar, scale_for
from matcher.report.paper.surfaces import Color, Surface
from matcher.report.poster import poster_of
from matcher.report.poster_key import key_height, poster_key
from matcher.report.poster_places import PosterRoom

FILLS: dict[str, Color | None] = {"holds": None, "free": None, "blocked": (190, 190, 190)}
SMALLEST = 6.0
"""Smallest size of words in a drawer, in points."""
CAPITALS = 0.73
"""Height of capitals and figures, in font sizes."""
EM, LEAST = 8.0 * POINT, 6.2 * POINT
"""Usual and smallest size of words on the poster, in millimeters."""
TOLD = 4.8
"""Height of a line under the heading, in millimeters."""
FRONT_SHARE = 0.33
"""Share of the page's width that the front takes at most; own choice."""
NAME, SIDE, GAP = 0.4, 1.5, 1.8
"""Share of a drawer's width that its name takes at most; millimeters before it and between it and what it holds."""


def front_page(sheets: Sheets, outcome: Fits) -> None:
    """The poster on a page that lies: what this is, front and drawers."""
    sheets.page(landscape=True)
    _draw(sheets, outcome, f"{outcome.set} in {outcome.cabinet}", tuple(_contents(outcome)))


def painted_poster(outcome: Outcome) -> bytes:
    """The poster as a picture in pixels (PNG), for a sheet of a workbook: its verdict above all."""
    painting = Painting(PAPERS["a4"].height, PAPERS["a4"].width)
    placed, part = outcome.plan.placements if isinstance(outcome, Fits) else (), part_of(outcome)
    foam = counted(sum(placement.how != "cased" for placement in placed), "organizer")
    told = foam if placed else part_sentence(part) if part else outcome.verdict
    _draw(painting, outcome, verdict_sentence(outcome), (f"{outcome.set} in {outcome.cabinet}: {told}",))
    return painting.png()


def _draw(sheets: Surface, outcome: Outcome, heading: str, told: Sequence[str]) -> None:
    """A heading and lines under it, front, drawers and key on one page."""
    room = sheets.width - 2 * MARGIN
    sheets.write(MARGIN, MARGIN + 4, heading, 18, room=room)
    lines = [line for text in told for line in sheets.lines(text, 10, room)]
    for number, line in enumerate(lines):
        sheets.write(MARGIN, MARGIN + 10 + TOLD * number, line, 10, room=room)
    top, end = MARGIN + 16 + TOLD * (len(lines) - 1), sheets.height - MARGIN
    right = _front(sheets, outcome, top, end)
    beside = sheets.width - MARGIN - right
    key = poster_key(outcome, poster_of(outcome, PosterRoom(beside, end - top, EM, LEAST)), room, LEAST)
    bottom = end - key_height(key) - 2
    poster = poster_of(outcome, PosterRoom(beside, bottom - top - 10, EM, LEAST))
    draw_poster(sheets, poster, right, top, outcome.question.unit)
    scale_bar(sheets, right, bottom - 4.5, 1 / poster.scale, 500, "drawers from above, all at one scale")
    draw_key(sheets, key, MARGIN, bottom + 2)


def _contents(outcome: Fits) -> Iterator[str]:
    """How much lies in how many drawers, what nobody may miss, and that there is more to read."""
    plan = outcome.plan
    pieces = sum(sized.piece.count for group in plan.groups for sized in group.pieces)
    used = len({placement.drawer for placement in plan.placements})
    listed_all = all(group.pieces for group in plan.groups)
    what = counted(pieces, "piece") if listed_all else counted(len(plan.placements), "organizer")
    counts = ((len(told_at(outcome, "error")), "stop"), (len(told_at(outcome, "caution")), "caution"))
    warned = [counted(count, word) for count, word in counts if count]
    more = f" Read page 2 first: {listed(warned)}." if warned else " More on page 2."
    yield f"{what} in {counted(used, 'drawer')}.{more}"
    yield from first_words(outcome)


def _front(sheets: Surface, outcome: Outcome, top: float, end: float) -> float:
    """The front view at the left, above ``end``; where the drawers beside it may begin."""
    front, colors = front_of(outcome.question.cabinet), family_colors(outcome.question)
    room = (sheets.width - 2 * MARGIN) * FRONT_SHARE
    scale = scale_for(front.width, front.height, room, end - top - 20)
    body = _scaled(front.body, MARGIN, top, scale)
    sheets.box(body.x, body.y, body.width, body.height, pen=0.4)
    for wheel in (_scaled(one, MARGIN, top, scale) for one in front.casters):
        sheets.ring(_circle(wheel), pen=0.3)
    for drawer, box in front.drawers:
        _drawer(sheets, outcome, drawer, _scaled(box, MARGIN, top, scale), colors)
    bottom = top + front.height / scale
    if front.ground is not None:
        sheets.line((MARGIN - 2, bottom), (MARGIN + front.width / scale + 2, bottom), pen=0.4)
    scale_bar(sheets, MARGIN, bottom + 4, scale, 500 if front.width > 500 else 100, f"front, {printed_at(scale)}")
    return MARGIN + front.width / scale + 7


def _drawer(sheets: Surface, outcome: Outcome, drawer: Drawer, box: FrontBox, colors: Mapping[str, str]) -> None:
    """A drawer in the colors of its families, with its name and what it holds where it is high enough for words."""
    held, plan = placed_in(outcome, drawer.name), drawn(outcome)
    state = "holds" if held else "blocked" if drawer.slot == "blocked" else "free"
    brief = brief_of(state_of(drawer, held, outcome))
    groups = {group.name: group for group in plan.plan.groups} if plan else {}
    shades = colors_of([groups[placement.group] for placement in held], colors)
    for number, shade in enumerate(shades):
        part = box.width / len(shades)
        sheets.box(box.x + number * part, box.y, part, box.height, fill=color_of(shade), pen=0)
    sheets.box(box.x, box.y, box.width, box.height, fill=FILLS[state], pen=0.25, dash=0 if held else 1)
    words = " + ".join(placement.group for placement in held) or brief
    size = max(SMALLEST, min(9.0, 2.4 * box.height))
    if CAPITALS * size * POINT > box.height:
        return
    named = min(extent(drawer.name, size * POINT), NAME * box.width)
    middle = box.y + box.height / 2 + CAPITALS / 2 * size * POINT
    sheets.write(box.x + SIDE, middle, drawer.name, size, room=named, least=SMALLEST)
    start = SIDE + named + GAP
    beside = FrontBox(box.x + start, box.y, box.width - start - SIDE / 2, box.height)
    _filled(sheets, words, beside, size, INK if held else FAINT)


def _filled(sheets: Surface, words: str, box: FrontBox, size: float, color: Color) -> None:
    """Words in as many lines as the box is high, set smaller where they take more; none where they are too long.

    Several lines keep some air above and below.
    """
    while size >= SMALLEST:
        em = size * POINT
        lines = wrapped(words, box.width, em)
        high = em * (CAPITALS + 1.2 * (len(lines) - 1))
        air = 0.5 * em if len(lines) > 1 else 0
        if high + air <= box.height and not any(line.endswith("…") for line in lines):
            first = box.y + (box.height - high) / 2 + CAPITALS * em
            for number, line in enumerate(lines):
                sheets.write(box.x, first + number * 1.2 * em, line, size, room=box.width, color=color, least=SMALLEST)
            return
        size -= 0.5


def _circle(box: FrontBox) -> list[tuple[float, float]]:
    """A circle in a square, as a ring of many corners."""
    radius, turns = box.width / 2, [2 * pi * step / 32 for step in range(32)]
    return [(box.x + radius * (1 + cos(turn)), box.y + radius * (1 + sin(turn))) for turn in turns]


def _scaled(box: FrontBox, left: float, top: float, scale: float) -> FrontBox:
    return FrontBox(left + box.x / scale, top + box.y / scale, box.width / scale, box.height / scale)
