"""The first page: the cabinet's front true to scale, with what lies in which drawer."""

from __future__ import annotations

from matcher.planning import Fits, left_out_words, together_words
from matcher.records import Cabinet, Drawer, Plan, counted
from matcher.report.front import FrontBox, front_of
from matcher.report.paper.sheets import FAINT, INK, MARGIN, POINT, Color, Sheets, scale_bar, scale_for
from matcher.report.size_views import basis_words

FILLS: dict[str, Color | None] = {"holds": (222, 228, 231), "free": None, "blocked": (190, 190, 190)}
SMALLEST = 5.0
"""Smallest size of words in a drawer, in points."""
NOTES = (
    "Boxes are as wide and high as the drawers are inside; fronts and frame of the cabinet are larger.",
    "The cabinet maker's ratings and manuals come first. Open one drawer at a time; lock the casters before.",
)


def front_page(sheets: Sheets, outcome: Fits) -> None:
    """Title, front view, scale bar, and what needs to be known before loading."""
    plan = outcome.plan
    sheets.page()
    room = sheets.width - 2 * MARGIN
    sheets.write(MARGIN, MARGIN + 7, f"{outcome.set} in {outcome.cabinet}", 18, room=room)
    free = len(plan.free_drawers)
    foam = sum(placement.how != "cased" for placement in plan.placements)
    told = f"{counted(foam, 'organizer')}; {counted(free, 'drawer')} free for your own tools"
    sheets.write(MARGIN, MARGIN + 14, told, 11, room=room)
    below = _front(sheets, plan, outcome.question.cabinet, MARGIN + 22)
    cautions = [f"{caution.text}" for caution in outcome.cautions if caution.level != "info"]
    stopped = ["The search was stopped by hand: a better plan may exist."] if outcome.run.stopped else []
    together = [f"{told}." for told in together_words(outcome)]
    left = [f"Not in this bundle: {told}." for told in left_out_words(outcome.question.left_out)]
    for note in (*NOTES, _basis(outcome), *left, *together, *stopped, *cautions):
        lines = sheets.lines(note, 8, room - 4)
        if below + 3.8 * len(lines) > sheets.height - MARGIN:
            sheets.page()
            below = MARGIN + 5
        sheets.write(MARGIN, below, "-", 8)
        below = sheets.paragraph(MARGIN + 4, below, note, 8, room - 4) + 0.6


def _basis(outcome: Fits) -> str:
    words = basis_words(outcome.basis)
    return f"{words[0].upper()}{words[1:]}."


def _front(sheets: Sheets, plan: Plan, cabinet: Cabinet, top: float) -> float:
    """The front view; where the text below it may begin."""
    front = front_of(cabinet)
    room = sheets.width - 2 * MARGIN
    scale = scale_for(front.width, front.height, room, sheets.height - top - 95)
    left = MARGIN + (room - front.width / scale) / 2
    body = _scaled(front.body, left, top, scale)
    sheets.box(body.x, body.y, body.width, body.height, pen=0.4)
    for drawer, box in front.drawers:
        _drawer(sheets, plan, drawer, _scaled(box, left, top, scale))
    bottom = top + front.height / scale
    if front.ground is not None:
        sheets.line((left - 4, bottom), (left + front.width / scale + 4, bottom), pen=0.4)
    scale_bar(sheets, MARGIN, bottom + 7, scale, 500 if front.width > 500 else 100)
    return bottom + 16


def _drawer(sheets: Sheets, plan: Plan, drawer: Drawer, box: FrontBox) -> None:
    """A drawer with its name and what it holds, in words as large as it is high."""
    held = [placement for placement in plan.placements if placement.drawer == drawer.name]
    state = "holds" if held else "blocked" if drawer.slot == "blocked" else "free"
    sheets.box(box.x, box.y, box.width, box.height, fill=FILLS[state], pen=0.25)
    words = " + ".join(placement.group for placement in held) or state
    size = min(9.0, 1.9 * box.height)
    middle = box.y + box.height / 2 + 0.35 * size * POINT
    sheets.write(box.x + 1.5, middle, drawer.name, size, room=0.2 * box.width)
    _filled(
        sheets,
        words,
        FrontBox(box.x + 0.24 * box.width, box.y, 0.74 * box.width, box.height),
        size,
        INK if held else FAINT,
    )


def _filled(sheets: Sheets, words: str, box: FrontBox, size: float, color: Color) -> None:
    """Words in as many lines as the box is high, set smaller where they take more."""
    step = 1.2 * POINT
    lines = sheets.lines(words, size, box.width)
    while len(lines) > 1 and len(lines) * step * size > box.height and size > SMALLEST:
        size -= 0.5
        lines = sheets.lines(words, size, box.width)
    if len(lines) * step * size > box.height:
        lines = [words]
    first = box.y + box.height / 2 - (len(lines) - 1) / 2 * step * size + 0.35 * size * POINT
    for number, line in enumerate(lines):
        sheets.write(box.x, first + number * step * size, line, size, room=box.width, color=color)


def _scaled(box: FrontBox, left: float, top: float, scale: float) -> FrontBox:
    return FrontBox(left + box.x / scale, top + box.y / scale, box.width / scale, box.height / scale)
