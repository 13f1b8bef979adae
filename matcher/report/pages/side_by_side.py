"""The fronts of compared cabinets at one scale, with the names of their groups, so that what moves is seen to move."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from matcher.planning import Outcome, placed_in
from matcher.report.fitted_words import extent, fitted, wrapped
from matcher.report.pages.front_view import BOLD, PAD, SMALLEST, TALL, FrontCell, FrontView, FrontWords, front_view

USUAL = 10.6
"""Usual font size in CSS pixels; where words have no room at it they are set in the smallest."""
WIDEST, LARGEST, LOW = 585.0, 0.42, 0.6
"""The widest front is so many CSS pixels wide, if that is no more than so many a millimeter; where the lowest drawer
takes no word at that, the fronts are larger, up to so many."""
SIDE, LINE = 12.0, 1.12
"""Room left and right of a front in CSS pixels; distance of two lines, in font sizes."""
EMPTY = {"blocked": "blocked", "free": "free", "bare": "free, no foam", "open-bare": "no foam"}
"""Words for a drawer in which nothing lies, by its state."""


def fronts(outcomes: Sequence[Outcome]) -> list[FrontView]:
    """The front of every outcome's cabinet, all at one scale; a view's ``across`` is its exact width in CSS pixels."""
    views = [front_view(outcome) for outcome in outcomes]
    if not views:
        return []
    lowest = min(box.height for view in views for _, box in view.front.drawers)
    widest = max(view.front.width for view in views)
    scale = max(min(LARGEST, WIDEST / widest), min(LOW, SMALLEST / (TALL * lowest)))
    return [_named(view, outcome, scale) for view, outcome in zip(views, outcomes, strict=True)]


def _named(view: FrontView, outcome: Outcome, scale: float) -> FrontView:
    """The view with the words that its drawers take at so many CSS pixels a millimeter."""
    sizes = USUAL / scale, SMALLEST / scale
    cells = tuple(
        replace(cell, words=tuple(_words(cell, [one.group for one in placed_in(outcome, cell.name)], sizes)))
        for cell in view.cells
    )
    return replace(view, cells=cells, em=SIDE / 2 / scale, across=view.front.width * scale + 2 * SIDE)


def _words(cell: FrontCell, groups: Sequence[str], sizes: tuple[float, float]) -> Iterator[FrontWords]:
    """The drawer's name and the groups in it, in as many lines as it takes; what has no room ends in an ellipsis."""
    box, held = cell.box, " + ".join(groups) or EMPTY.get(cell.state, "")
    usual, least = min(sizes[0], TALL * box.height), sizes[1]
    if usual < least - 1e-6:
        return
    for size in (usual, least):
        left, room = box.x + PAD * size, box.width - 2 * PAD * size
        name = fitted(cell.name, room, BOLD * size)
        start = extent(name, BOLD * size) + 0.4 * size
        most = max(1, int((box.height - 0.3 * size) / (LINE * size)))
        lines = wrapped(held, room, size, start) or [""]
        if len(lines) <= most and not any(line.endswith("…") for line in lines):
            break
    else:
        rest = " ".join([*lines[most - 1 :], "…"]) if len(lines) > most else lines[-1]
        lines = [*lines[: most - 1], fitted(rest, room - (start if most == 1 else 0), size)]
    first = box.y + (box.height - LINE * size * (len(lines) - 1)) / 2 + 0.35 * size
    yield FrontWords("name", name, left, first, size)
    for number, text in enumerate(lines):
        if text:
            yield FrontWords("holds", text, left + (0 if number else start), first + LINE * size * number, size)
