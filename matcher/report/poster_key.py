"""The key of a poster that stands alone, as a drawing or on paper: what colors, hatching, dashes and bars mean."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from matcher.planning import Outcome
from matcher.report.drawer_states import STATES
from matcher.report.families import families_shown
from matcher.report.fitted_words import extent
from matcher.report.front import FrontBox
from matcher.report.poster import Poster, PosterLine, hatched
from matcher.report.poster_places import LINE

MARK_WIDTH, MARK_HEIGHT = 2.2, 1.0
"""Size of a mark, in font sizes."""
APART, ROW = 1.4, 1.6
"""Distance between entries of a row, and from row to row, in font sizes."""
WORDS = {
    "hatch": "existing organizer, positions not on file",
    "taken": "built into the drawer",
    "fill": "% of the drawer under tools and webs",
    "load": "load, as a share of the drawer's rating",
}
"""What is drawn in every drawer, and the words for it."""
SHOWN_STATES = {
    "free": ("free", "bare"),
    "idle": ("idle", "idle-bare"),
    "blocked": ("blocked",),
    "earlier": ("earlier",),
}
"""States that are told in a key, each with those drawn like it: words in the drawer tell them apart."""


@dataclass(frozen=True, slots=True)
class KeyEntry:
    """An entry: a mark with its words beside it, ``x`` and ``y`` the start of their baseline.

    ``kind`` is family, hatch, taken, fill, load or a drawer's state; ``color`` is a family's.
    """

    kind: str
    text: str
    color: str
    box: FrontBox
    x: float
    y: float
    size: float

    @property
    def hatch(self) -> tuple[PosterLine, ...]:
        """Lines over the mark of an organizer whose pockets are not known."""
        return tuple(hatched(self.box, 0.5 * self.size)) if self.kind == "hatch" else ()


def poster_key(outcome: Outcome, poster: Poster, width: float, size: float) -> tuple[KeyEntry, ...]:
    """What stands on the poster, in rows no wider than ``width``, from (0, 0) down; ``size`` is that of the words."""
    x = y = 0.0
    placed = []
    for kind, text, color in poster_entries(outcome, poster):
        long = (MARK_WIDTH + 0.5) * size + extent(text, size)
        if x and x + long > width:
            x, y = 0.0, y + ROW * size
        box = FrontBox(x, y + 0.1 * size, MARK_WIDTH * size, MARK_HEIGHT * size)
        placed.append(KeyEntry(kind, text, color, box, x + (MARK_WIDTH + 0.5) * size, y + 0.95 * size, size))
        x += long + APART * size
    return tuple(placed)


def key_height(entries: tuple[KeyEntry, ...]) -> float:
    """How high the rows of a key are."""
    return max((entry.y + (LINE - 0.8) * entry.size for entry in entries), default=0.0)


def moved(entry: KeyEntry, left: float, top: float) -> KeyEntry:
    """The entry from another corner on."""
    box = replace(entry.box, x=entry.box.x + left, y=entry.box.y + top)
    return replace(entry, box=box, x=entry.x + left, y=entry.y + top)


def poster_entries(outcome: Outcome, poster: Poster) -> Iterator[tuple[str, str, str]]:
    """What is on the poster: kind, words and a family's color of each entry."""
    groups = [one.group for drawer in poster.drawers for one in drawer.organizers]
    families = {one.group: one.family for drawer in poster.drawers for one in drawer.organizers}
    for family, color in families_shown(outcome).items():
        of = list(dict.fromkeys(group for group in groups if families[group] == family))
        yield "family", f"{family}: {of[0]}" if len(of) == 1 and family.split()[-1] not in of[0] else family, color
    drawers = poster.drawers
    if any(one.hatch for drawer in drawers for one in drawer.organizers):
        yield "hatch", WORDS["hatch"], "#ffffff"
    if any(drawer.taken for drawer in drawers):
        yield "taken", WORDS["taken"], ""
    for state, alike in SHOWN_STATES.items():
        if any(drawer.state in alike for drawer in drawers):
            yield state, STATES[state], ""
    for kind in ("fill", "load"):
        if any(bar.kind == kind for drawer in drawers for bar in drawer.bars):
            yield kind, WORDS[kind], ""
