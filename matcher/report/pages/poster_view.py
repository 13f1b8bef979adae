"""The poster on a page and as a standalone SVG: the same records in rooms of their own."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import inf

from matcher.planning import Outcome, part_of
from matcher.report.caution_views import cautions_note
from matcher.report.drawer_states import part_sentence, verdict_sentence
from matcher.report.fitted_words import wrapped
from matcher.report.pages.front_view import FrontView, front_view
from matcher.report.pages.rendering import render
from matcher.report.poster import Poster, poster_of
from matcher.report.poster_key import KeyEntry, key_height, moved, poster_key
from matcher.report.poster_places import LINE, PosterRoom
from matcher.report.turning import turn_notes

SCREEN, BESIDE, HIGH = 1200.0, 24.0, 652.0
"""Width of a page's content on a usual screen, distance to the front, height left under the verdict: CSS pixels."""
KEY, LARGER = 15.0, 1.05
"""Font size of the key under the front, in CSS pixels; by how much drawers have to be
larger for some to stand there."""
PHONE = PosterRoom(350, inf, em=11.5, least=9.5)
"""All banks side by side on a narrow screen, in CSS pixels."""
SHEET_WIDTH, SHEET_HEIGHT, SHEET_MARGIN = 420.0, 297.0, 12.0
"""ISO 216 A3 lying, in millimeters, and what is left free round it."""
BAR = 110.0
"""How long the scale bar is at most, in millimeters."""
SHEET_NOTE = 3.2
"""Font size of the lines at the foot of the sheet in millimeters."""
SHEET_EM, SHEET_LEAST = 3.4, 2.6
"""Usual and smallest font size on the sheet in millimeters; printed on A4 the smallest is 5.2 points high."""


@dataclass(frozen=True, slots=True)
class PosterSheet:
    """A poster as a drawing of its own: the front's place and size beside the drawers, in millimeters.

    ``told`` stands under the verdict, ``key`` and ``notes`` at the foot; the scale bar stands ``foot`` from the top.
    """

    verdict: str
    told: str
    key: tuple[KeyEntry, ...]
    notes: tuple[str, ...]
    foot: float
    key_height: float
    front: FrontView
    front_width: float
    front_height: float
    drawers: Poster
    left: float
    bar: int


def screen_posters(outcome: Outcome, front: FrontView) -> tuple[Poster, Poster | None]:
    """The drawers beside the front on a usual screen, and the lowest rows under the front, at one scale.

    Nothing stands under the front where all drawers are about as large without it. Larger screens show both larger.
    """
    room = PosterRoom(SCREEN - BESIDE - front.across, HIGH, em=12.5, least=10.5)
    whole = poster_of(outcome, room)
    rows = sorted({drawer.row for drawer in outcome.question.cabinet.drawers})
    key = key_height(poster_key(outcome, whole, front.across, KEY))
    under = replace(room, width=front.across, height=HIGH - front.high - key - 3 * room.em)
    best: tuple[Poster, Poster | None] = whole, None
    for last in () if part_of(outcome) else rows[1:]:
        low = poster_of(outcome, under, (last, inf))
        if low.height > under.height + 1e-6:
            continue
        beside = poster_of(outcome, replace(room, most=low.scale), (-inf, last))
        if beside.scale > LARGER * best[0].scale:
            best = beside, poster_of(outcome, replace(under, most=beside.scale), (last, inf))
    return best


def phone_poster(outcome: Outcome) -> Poster:
    """The drawers under the front on a narrow screen."""
    return poster_of(outcome, PHONE)


def poster_svg(outcome: Outcome) -> str:
    """The whole plan on one A3 sheet: verdict, front and every drawer from above with a scale bar."""
    view = front_view(outcome)
    room_width, part = SHEET_WIDTH - 2 * SHEET_MARGIN, part_of(outcome)
    told = [*turn_notes(outcome), *cautions_note(outcome)]
    notes = tuple(line for note in told for line in wrapped(note, room_width, SHEET_NOTE))
    room_height = SHEET_HEIGHT - 2 * SHEET_MARGIN - 26 - LINE * SHEET_NOTE * len(notes)
    wide, high = view.front.width + 4 * view.em, view.front.height + 2.5 * view.em
    scale = min(view.across / SCREEN * room_width / wide, room_height / high)
    left = wide * scale + 6
    room = PosterRoom(room_width - left, room_height, SHEET_EM, SHEET_LEAST)
    key = poster_key(outcome, poster_of(outcome, room), room_width, SHEET_NOTE)
    room_height -= key_height(key)
    drawers = poster_of(outcome, replace(room, height=room_height))
    sheet = PosterSheet(
        verdict=verdict_sentence(outcome),
        told=f"{outcome.set} in {outcome.cabinet}. {part_sentence(part)}" if part else view.title,
        key=tuple(moved(entry, 0, 18 + room_height + 11) for entry in key),
        notes=notes,
        foot=18 + room_height + 6,
        key_height=key_height(key) + 4,
        front=view,
        front_width=wide * scale,
        front_height=high * scale,
        drawers=drawers,
        left=left,
        bar=500 if 500 * drawers.scale <= BAR else 100,
    )
    return render("poster.svg", sheet=sheet, title=view.title, width=SHEET_WIDTH, height=SHEET_HEIGHT)
