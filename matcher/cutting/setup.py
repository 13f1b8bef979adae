"""The setup sheet of one organizer: what the person at the machine has to know before the first cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isqrt

from matcher.cutting.blanks import Blank, depths
from matcher.cutting.cut_order import CutStep, cut_steps
from matcher.cutting.minutes import cutter_for
from matcher.house import Cutter
from matcher.records import Foam, Layout, show_mm

ORIGIN = "front left corner of the organizer, seen from above; x to the right, y to the back"
HAND_CAUTIONS = (
    "Knife: a sharp blade, on a cutting mat, away from the body and from the hand that holds; a cut-resistant glove on "
    "that hand; the blade sheathed or drawn in between cuts.",
    "Adhesive: its maker's safety data sheet first; air the room, no flames or sparks near it, gloves on; tools go in "
    "only when it has cured as its maker says.",
)
"""For foam that is trimmed, filled up or bonded by hand. Common practice, no source."""
CAUTIONS = (
    "Read the foam maker's safety data sheet first, then the machine maker's manual; where they differ from this "
    "sheet, they hold.",
    "Guards in place; hands off until the spindle stands still.",
    "Hold the sheet down over its whole area: vacuum, adhesive film or clamps clear of the cut.",
    "Dust extraction on; eye protection worn.",
    "Fire and fumes: a dull or stalled cutter melts foam. Keep the cutter sharp and moving, air the room, have an "
    "extinguisher at hand.",
    *HAND_CAUTIONS,
)
"""Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Tool:
    """A cutter and the depths it cuts, shallowest first."""

    diameter: int
    reach: int
    depths: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class ArticleCheck:
    """A dimension to measure on the first article."""

    name: str
    length: int


@dataclass(frozen=True, slots=True)
class SetupSheet:
    """Foam, tools, origin, ``order`` of cuts, what to measure first, how many; notes on this organizer, and cautions
    that always hold. The outline comes after all pockets and notches.

    ``thickness`` is that of all foam, ``base_thickness`` of the base under the top sheet, 0 where it is one sheet.
    """

    group: str
    drawer: str
    foam: str
    thickness: int
    base: str
    base_thickness: int
    face_up: str
    origin: str
    tools: tuple[Tool, ...]
    order: tuple[CutStep, ...]
    first_article: tuple[ArticleCheck, ...]
    batch: int
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    production: bool


def setup_sheet(
    blank: Blank,
    foam: Foam | None,
    base: Foam | None,
    layout: Layout,
    cutters: Sequence[Cutter],
    batch: int,
    production: bool,
) -> SetupSheet:
    """The setup sheet for a blank from ``foam``, bonded on ``base``; without, of the thickness the plan counts on."""
    top, under = foam.thickness if foam else blank.least - blank.base, base.thickness if base else blank.base
    notes = _bonding_notes(blank, foam, base) if blank.base else _notes(blank, foam)
    return SetupSheet(
        group=blank.group,
        drawer=blank.drawer,
        foam=foam.name if foam else "",
        thickness=top + under,
        base=base.name if base else "",
        base_thickness=under,
        face_up=f"the face that shows, {foam.color}" if foam and foam.color else "the face that shows",
        origin=ORIGIN,
        tools=_tools(layout, cutters),
        order=cut_steps(layout, cutters),
        first_article=(
            ArticleCheck("outside width", blank.width),
            ArticleCheck("outside depth", blank.depth),
            *([ArticleCheck("bottom of the top sheet, where the base begins", top)] if blank.base else []),
            ArticleCheck("deepest pocket", depths(layout)[-1]),
            ArticleCheck("diagonal, corner to corner (rounded ones extended)", diagonal(blank.width, blank.depth)),
        ),
        batch=batch,
        notes=(*notes, *_reach_note(top + under, cutters)),
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


def _notes(blank: Blank, foam: Foam | None) -> Iterator[str]:
    if foam is None:
        yield (
            f"No foam of the catalogue takes a blank of {_size(blank)} at least {show_mm(blank.least)} thick on a "
            "sheet that goes on the router's bed."
        )
        return
    surplus = foam.thickness - blank.least
    if surplus > 0:
        yield (
            f"The foam is {show_mm(surplus)} thicker than the plan counts on: pieces rise by as much unless the "
            "pockets are cut deeper by it or the bottom is skived."
        )
    yield from _floor_note(blank, foam.thickness - foam.tolerance)


def _bonding_notes(blank: Blank, top: Foam | None, base: Foam | None) -> Iterator[str]:
    """What two sheets ask for. Common practice, no source."""
    planned = blank.planned - blank.base
    yield (
        f"Two sheets: bond the base under the top sheet over the whole area, then cut. Depths are measured from the "
        f"top; the top sheet ends at {show_mm(planned)}, and every floor must show the base."
    )
    fits = f"takes a blank of {_size(blank)} on a sheet that goes on the router's bed"
    if top is None:
        yield (
            f"No foam of the catalogue that is {show_mm(planned)} thick, for the top sheet, {fits}: stock_mm "
            "of the house rules should name thicknesses that there are."
        )
    if base is None:
        color = f" and not {top.color}" if top and top.color else ""
        yield f"No foam of the catalogue that is {show_mm(blank.base)} thick{color}, for the base, {fits}."
    if top and base:
        if not (top.color and base.color):
            yield "The catalogue does not give both colors: take a base that contrasts with the top sheet."
        if top.thickness > planned:
            yield (
                f"The top sheet is {show_mm(top.thickness - planned)} thicker than the plan counts on: cut every "
                "pocket and notch deeper by it."
            )
        yield from _floor_note(blank, top.thickness - top.tolerance + base.thickness - base.tolerance)


def _floor_note(blank: Blank, thinnest: int) -> Iterator[str]:
    thin = blank.needed - thinnest
    if thin > 0:
        yield f"In the thinnest sheet within its tolerance the floor under the deepest pocket is {show_mm(thin)} short."


def _reach_note(thickness: int, cutters: Sequence[Cutter]) -> Iterator[str]:
    reach = max((cutter.reach for cutter in cutters), default=0)
    if cutters and thickness > reach:
        yield (
            f"No cutter reaches through {show_mm(thickness)} (the longest {show_mm(reach)}): cut the outline with a "
            "knife or a saw."
        )


def _size(blank: Blank) -> str:
    return f"{show_mm(blank.width)} x {show_mm(blank.depth)}"
