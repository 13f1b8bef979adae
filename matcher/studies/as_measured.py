"""A set in a cabinet by the sizes its maker gives and by a buyer's tape, side by side.

A reading r with a tape error e means a size from r - e to r + e. The proof stands on r - e: a plan that goes in there
goes in whatever the size is. What only goes in at r + e depends on the tape.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import Literal, TypeAlias

from matcher.fitting import Carried, block_of, carried, kept_of
from matcher.house import House
from matcher.planning import NO_WISHES, Fits, Outcome, Question, answer, ask, differences, snapshot, verdict_of
from matcher.records import (
    Cabinet,
    Catalogue,
    Drawer,
    Fill,
    Measurement,
    Pin,
    Placement,
    Plan,
    Verdict,
    Wishes,
)
from matcher.studies.inside_sizes import DIMENSIONS, Dimension
from matcher.studies.readings import Reading, applied, readings_of

TapeVerdict: TypeAlias = Literal["fits", "depends on the tape", "does not fit", "undecided"]


@dataclass(frozen=True, slots=True)
class DrawerContents:
    """The organizers that the nominal plan puts in one drawer, set in that drawer as measured.

    ``now`` is how they go in at the reading less the tape error, ``best`` at the reading and the tape error.
    ``gap_width`` and ``gap_depth`` are from foam to walls at the reading, both sides together; negative: too large.
    ``recut``: foam must be laid out anew to go in (``smaller``), or the drawer leaves a gap that the nominal one does
    not (``larger``); blank where neither.
    """

    drawer: str
    groups: tuple[str, ...]
    now: Carried
    best: Carried
    gap_width: int
    gap_depth: int
    recut: Literal["larger", "smaller", ""]


@dataclass(frozen=True, slots=True)
class Measuring:
    """The answer for one set in one cabinet as measured, beside the one by nominal sizes.

    ``outcome`` is planned at the readings less the tape error; ``assumed`` are the sizes the verdict takes from the
    maker because nobody measured them, by drawer: where there are any, the verdict is conditional on them. ``stays``
    says that every group may stay in the drawer of the nominal plan; where a group was split it is looked into only as
    far as ``outcome`` shows it.
    """

    set: str
    cabinet: str
    error: int
    readings: tuple[Reading, ...]
    verdict: TapeVerdict
    nominal: Outcome
    outcome: Outcome
    stays: bool
    changes: tuple[str, ...]
    contents: tuple[DrawerContents, ...]
    assumed: tuple[tuple[str, tuple[Dimension, ...]], ...]


def measure(
    catalogue: Catalogue,
    house: House,
    set_name: str,
    cabinet_name: str,
    measured: Iterable[Measurement],
    unit: str = "",
    fill: Fill | None = None,
    pins: tuple[Pin, ...] = (),
    wishes: Wishes = NO_WISHES,
) -> Measuring:
    """Plan the set in the cabinet as given and as measured, and tell what differs.

    ``fill`` and ``pins`` stand for wishes that say no more.

    Raises
    ------
    UnknownNameError
        The set or cabinet is not in the catalogue, or a pin names something that is not there.
    UsageError
        Nothing of the cabinet was measured, or a drawer more than once and ``unit`` does not say which counts.
    """
    wishes = replace(wishes, fill=fill or wishes.fill, pins=(*wishes.pins, *pins))
    return measure_for(ask(catalogue, house, set_name, cabinet_name, wishes), measured, unit)


def measure_for(question: Question, measured: Iterable[Measurement], unit: str = "") -> Measuring:
    """As `measure`, of a question that was asked already."""
    cabinet, error = question.cabinet, question.house.measure.tape
    readings = readings_of(cabinet, measured, unit)
    sure = as_measured(question, readings, -error)
    nominal = answer(question)
    outcome = answer(replace(sure, near=snapshot(nominal)) if isinstance(nominal, Fits) else sure)
    return Measuring(
        set=nominal.set,
        cabinet=nominal.cabinet,
        error=error,
        readings=readings,
        verdict=_verdict(outcome.verdict, lambda: verdict_of(as_measured(question, readings, error))),
        nominal=nominal,
        outcome=outcome,
        stays=isinstance(nominal, Fits) and (_stayed(outcome) or _stays(sure, nominal.plan)),
        changes=_differences(nominal, outcome),
        contents=_all_contents(nominal, readings) if isinstance(nominal, Fits) else (),
        assumed=_assumed(outcome, cabinet, readings),
    )


def as_measured(question: Question, readings: tuple[Reading, ...], more: int = 0) -> Question:
    """The question about the cabinet as measured, ``more`` added to each reading.

    Its catalogue holds that cabinet in place of the maker's, and its digest tells the two apart.
    """
    catalogue, changed = question.catalogue, applied(question.cabinet, readings, more)
    others = (changed if other.name == changed.name else other for other in catalogue.cabinets)
    digest = sha256(f"{catalogue.digest}\n{changed.name}\n{readings}\n{more}".encode()).hexdigest()[:16]
    measured = replace(catalogue, cabinets=tuple(others), digest=digest)
    return replace(question, catalogue=measured, cabinet=changed)


def _differences(nominal: Outcome, outcome: Outcome) -> tuple[str, ...]:
    """What changes from the nominal plan to the one for the drawers as measured; nothing unless both are there."""
    planned = isinstance(nominal, Fits) and isinstance(outcome, Fits)
    return differences(snapshot(nominal), snapshot(outcome)) if planned else ()


def _verdict(proved: Verdict, best: Callable[[], Verdict]) -> TapeVerdict:
    """The verdict from the one at the readings less the error, and the one at the readings and the error."""
    if proved == "fits":
        return "fits"
    possible = best()
    if possible == "does not fit":
        return "does not fit"
    return "depends on the tape" if proved == "does not fit" and possible == "fits" else "undecided"


def _stayed(outcome: Outcome) -> bool:
    """Whether a plan for the drawers as measured leaves every group, and every part, where the nominal one has it."""
    kept = outcome.kept if isinstance(outcome, Fits) else None
    return kept is not None and not (kept.moved or kept.divided)


def _stays(sure: Question, made: Plan) -> bool:
    """Whether there is a plan with every group where ``made`` has it."""
    if any(group.part_of for group in made.groups):
        return False
    pins = tuple(Pin("in", group=placed.group, drawer=placed.drawer) for placed in made.placements)
    return verdict_of(replace(sure, pins=(*sure.pins, *pins))) == "fits"


def _assumed(
    outcome: Outcome, cabinet: Cabinet, readings: Iterable[Reading]
) -> tuple[tuple[str, tuple[Dimension, ...]], ...]:
    """Sizes that were not measured, of the drawers the plan uses; of all that may hold something without a plan."""
    known = {(reading.drawer, reading.dimension) for reading in readings}
    used = {placed.drawer for placed in outcome.plan.placements} if isinstance(outcome, Fits) else None
    drawers = (box for box in cabinet.drawers if (box.slot != "blocked" if used is None else box.name in used))
    lacking = ((box.name, tuple(d for d in DIMENSIONS if (box.name, d) not in known)) for box in drawers)
    return tuple((name, dimensions) for name, dimensions in lacking if dimensions)


def _all_contents(nominal: Fits, readings: tuple[Reading, ...]) -> tuple[DrawerContents, ...]:
    """What the nominal plan puts in the measured drawers, set in them as they are."""
    made, cabinet, house = nominal.plan, nominal.question.cabinet, nominal.question.house
    error = house.measure.tape
    low, read, high = (_by_name(applied(cabinet, readings, more)) for more in (-error, 0, error))
    touched = {reading.drawer for reading in readings}
    return tuple(
        _contents(held, (drawer, low[drawer.name], read[drawer.name], high[drawer.name]), made, house)
        for drawer in cabinet.drawers
        if drawer.name in touched and (held := _foam_in(made, drawer.name))
    )


def _contents(
    held: Sequence[Placement], boxes: tuple[Drawer, Drawer, Drawer, Drawer], made: Plan, house: House
) -> DrawerContents:
    """The contents of one drawer as its maker gives it, at the reading less the error, at it, and with the error."""
    nominal, _, read, _ = boxes
    groups = {group.name: group for group in made.groups}
    organizer = block_of([kept_of(placed, groups[placed.group]) for placed in held], house)
    was, now, at, best = (carried(organizer, box, house) for box in boxes)
    gap = house.clearance.gap
    loose = at.width > max(gap, was.width) or at.depth > max(gap, was.depth)
    return DrawerContents(
        drawer=nominal.name,
        groups=tuple(placed.group for placed in held),
        now=now,
        best=best,
        gap_width=read.inside_width - organizer.width,
        gap_depth=read.inside_depth - organizer.depth,
        recut="smaller" if now.how == "re-cut" else "larger" if loose else "",
    )


def _by_name(cabinet: Cabinet) -> Mapping[str, Drawer]:
    return {drawer.name: drawer for drawer in cabinet.drawers}


def _foam_in(made: Plan, drawer: str) -> list[Placement]:
    """Placements of organizers in a drawer; cases stand in it without foam."""
    cased = {group.name for group in made.groups if group.cased}
    return [placed for placed in made.placements if placed.drawer == drawer and placed.group not in cased]
