"""The setup sheet of one organizer: what the person at the machine has to know before the first cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isqrt

from matcher.cutting.blanks import Blank, depths
from matcher.cutting.minutes import cutter_for
from matcher.house.rules import Cutter
from matcher.records import Foam, Layout
from matcher.units import show_mm

ORIGIN = "front left corner of the organizer, seen from above; x to the right, y to the back"
CAUTIONS = (
    "Read the foam maker's safety data sheet first, then the machine maker's manual; where they differ from this "
    "sheet, they hold.",
    "Guards in place; hands off until the spindle stands still.",
    "Hold the sheet down over its whole area: vacuum, adhesive film or clamps clear of the cut.",
    "Dust extraction on; eye protection worn.",
    "Fire and fumes: a dull or stalled cutter melts foam. Keep the cutter sharp and moving, air the room, have an "
    "extinguisher at hand.",
)
"""Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Tool:
    """A cutter and the depths it cuts, shallowest first."""

    diameter: int
    reach: int
    depths: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Check:
    """A dimension to measure on the first article."""

    name: str
    length: int


@dataclass(frozen=True, slots=True)
class SetupSheet:
    """Foam, tools, origin, what to measure first, how many; notes on this organizer, and cautions that always hold."""

    group: str
    drawer: str
    foam: str
    thickness: int
    face_up: str
    origin: str
    tools: tuple[Tool, ...]
    first_article: tuple[Check, ...]
    batch: int
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    production: bool


def setup_sheet(
    blank: Blank, foam: Foam | None, layout: Layout, cutters: Sequence[Cutter], batch: int, production: bool
) -> SetupSheet:
    """The setup sheet for a blank cut from ``foam``; with none, of the thickness the plan counts on."""
    thickness = foam.thickness if foam else blank.least
    return SetupSheet(
        group=blank.group,
        drawer=blank.drawer,
        foam=foam.name if foam else "",
        thickness=thickness,
        face_up=f"{foam.color}: the face that shows" if foam and foam.color else "the face that shows",
        origin=ORIGIN,
        tools=_tools(layout, cutters),
        first_article=(
            Check("outside width", blank.width),
            Check("outside depth", blank.depth),
            Check("deepest pocket", depths(layout)[-1]),
            Check("diagonal, corner to corner (rounded ones extended)", diagonal(blank.width, blank.depth)),
        ),
        batch=batch,
        notes=tuple(_notes(blank, foam, cutters)),
        cautions=CAUTIONS,
        production=production,
    )


def diagonal(width: int, depth: int) -> int:
    """From corner to opposite corner, to the nearest 1/320 mm."""
    return (isqrt(4 * (width * width + depth * depth)) + 1) // 2


def _tools(layout: Layout, cutters: Sequence[Cutter]) -> tuple[Tool, ...]:
    used: dict[Cutter, list[int]] = {}
    for depth in depths(layout):
        cutter = cutter_for(depth, cutters)
        if cutter is not None:
            used.setdefault(cutter, []).append(depth)
    return tuple(Tool(cutter.diameter, cutter.reach, tuple(cut)) for cutter, cut in used.items())


def _notes(blank: Blank, foam: Foam | None, cutters: Sequence[Cutter]) -> Iterator[str]:
    if foam is None:
        yield (
            f"No foam of the catalogue takes a blank of {show_mm(blank.width)} x {show_mm(blank.depth)} at least "
            f"{show_mm(blank.least)} thick on a sheet that goes on the router's bed."
        )
        return
    surplus = foam.thickness - blank.least
    if surplus > 0:
        yield (
            f"The foam is {show_mm(surplus)} thicker than the plan counts on: pieces rise by as much unless the "
            "pockets are cut deeper by it or the bottom is skived."
        )
    thin = blank.needed - foam.thickness + foam.tolerance
    if thin > 0:
        yield f"In the thinnest sheet within its tolerance the floor under the deepest pocket is {show_mm(thin)} short."
    reach = max((cutter.reach for cutter in cutters), default=0)
    if cutters and foam.thickness > reach:
        yield (
            f"No cutter reaches through {show_mm(foam.thickness)} (the longest {show_mm(reach)}): cut the outline with "
            "a knife or a saw."
        )
