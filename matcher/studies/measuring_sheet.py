"""What to measure before ordering, and where to put the tape: the few readings that decide first.

How to measure a drawer is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from matcher.planning import Fits, Outcome, find_cabinet
from matcher.records import Drawer, Margin, Plan, unit_of_drawers
from matcher.studies.inside_sizes import DIMENSIONS, Dimension, size_of
from matcher.studies.lookalikes import model_line
from matcher.studies.telling_apart import counts_to, path_to, tell_apart
from matcher.studies.told_readings import Counted
from matcher.studies.tolerances import Tolerance, tolerance

Purpose: TypeAlias = Literal[
    "which cabinet it is", "whether the set fits", "whether this plan holds", "size of the foam"
]
"""What a reading decides, the most first. A buyer may stop after any of them."""

TAPE: Mapping[Dimension, str] = {
    "inside width": (
        "between the side walls at the narrowest point: in front, in the middle and at the back, at the floor and at "
        "the height of the organizer; the smallest counts. Mind slide members, rolled lips and spot-weld dimples"
    ),
    "inside depth": (
        "from the inside of the front to the inside of the back; the smallest counts. "
        "Mind the latch, the lock rod and the label holder"
    ),
    "clear height": (
        "from the drawer's floor to the lowest thing above it while it slides: the next drawer's bottom, a frame rail, "
        "a slide or the top; not the height of the front"
    ),
}
_Wanted: TypeAlias = tuple[Purpose, str, Dimension, int | None]
"""Purpose, drawer, dimension, least size."""

ENOUGH = "the least size that serves and {error} more, by which a tape may be off"
"""What is enough of a reading, for whoever reads the sheet."""
ONE_AT_A_TIME = "Open one drawer at a time, and close it before the next: with several open a cabinet can tip over."
"""For whoever stands at the cabinet with a tape. Common practice, no source."""
NOTE = "Write down whole millimeters or 1/32 in, never rounded up."


@dataclass(frozen=True, slots=True)
class Line:
    """One reading to take.

    ``least`` is the least size that serves the purpose, where there is one; a reading of ``enough`` (the tape error
    more) or above settles it.
    """

    drawer: str
    bank: int
    row: int
    dimension: Dimension
    purpose: Purpose
    given: int
    least: int | None
    enough: int | None
    tape: str


@dataclass(frozen=True, slots=True)
class MeasuringSheet:
    """The readings to take of one cabinet, those that decide first; before them what to count, for its look-alikes."""

    set: str
    cabinet: str
    within: int
    error: int
    lines: tuple[Line, ...]
    counts: tuple[Counted, ...] = ()


def sheet(outcome: Outcome, stands: Tolerance, path: Iterable[tuple[str, Dimension]] = ()) -> MeasuringSheet:
    """The measuring sheet for a planned set.

    ``stands`` says which sizes turn the verdict; ``path`` are the readings that tell the cabinet from its
    look-alikes (see `telling_apart.path_to`). Then come sizes with less to spare in this plan than ``stands.within``,
    then the other widths and depths that foam is cut to. Each reading comes once, for the most it decides.
    """
    boxes = {drawer.name: drawer for drawer in outcome.question.cabinet.drawers}
    tape = outcome.question.house.measure.tape
    lines: dict[tuple[str, Dimension], Line] = {}
    for purpose, name, dimension, least in _wanted(outcome, stands, path):
        if name in boxes:
            lines.setdefault((name, dimension), _line(boxes[name], dimension, purpose, least, tape))
    return MeasuringSheet(outcome.set, outcome.cabinet, stands.within, tape, tuple(lines.values()))


def sheet_for(outcome: Outcome, within: int) -> MeasuringSheet:
    """The measuring sheet of an outcome in the catalogue's own cabinet, readings against its look-alikes included."""
    cabinet = find_cabinet(outcome.question.catalogue, outcome.cabinet)
    tree = tell_apart(model_line(outcome.question.catalogue.cabinets, cabinet), outcome.question.house)
    listed = sheet(outcome, tolerance(outcome, within), path_to(tree, cabinet.name))
    return replace(listed, counts=counts_to(tree, cabinet.name))


def _wanted(outcome: Outcome, stands: Tolerance, path: Iterable[tuple[str, Dimension]]) -> Iterator[_Wanted]:
    """Readings by what they decide, the most first; one may come again for less."""
    yield from (("which cabinet it is", drawer, dimension, None) for drawer, dimension in path)
    yield from (("whether the set fits", turn.drawer, turn.dimension, turn.at) for turn in stands.turns)
    if not isinstance(outcome, Fits):
        return
    tight = sorted((spare, at, wanted) for at, (spare, wanted) in enumerate(_spares(outcome.margins)))
    yield from (wanted for spare, _, wanted in tight if spare < stands.within)
    for margin in sorted(outcome.margins, key=lambda margin: margin.drawer):
        if not _cased(outcome.plan, margin):
            yield "size of the foam", margin.drawer, "inside width", None
            yield "size of the foam", margin.drawer, "inside depth", None


def _spares(margins: Iterable[Margin]) -> Iterator[tuple[int, _Wanted]]:
    """What each size of a used drawer has beyond what its contents need as planned."""
    for margin in margins:
        spares = (margin.spare_width, margin.spare_depth, margin.spare_height)
        leasts = (margin.least_width, margin.least_depth, margin.least_height)
        for dimension, spare, least in zip(DIMENSIONS, spares, leasts, strict=True):
            yield spare, ("whether this plan holds", margin.drawer, dimension, least)


def _cased(made: Plan, margin: Margin) -> bool:
    """Whether a drawer holds cases, which stand in it without foam."""
    return any(group.cased for group in made.groups if group.name in margin.groups)


def _line(drawer: Drawer, dimension: Dimension, purpose: Purpose, least: int | None, error: int) -> Line:
    return Line(
        drawer=drawer.name,
        bank=drawer.bank,
        row=drawer.row,
        dimension=dimension,
        purpose=purpose,
        given=size_of(drawer, dimension),
        least=least,
        enough=None if least is None else least + error,
        tape=_where(drawer, dimension),
    )


def _where(drawer: Drawer, dimension: Dimension) -> str:
    """Where to put the tape; the clear height counts from the floor under the liner."""
    if dimension == "clear height" and drawer.liner:
        thick = unit_of_drawers([drawer]).needed(drawer.liner)
        return f"{TAPE[dimension]}. With the liner in, add its thickness ({thick})"
    return TAPE[dimension]
