"""A buyer's readings set against the drawers of a cabinet, and the cabinet as they say it is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from matcher.records import Cabinet, Catalogue, Drawer, Measurement, UsageError
from matcher.studies.inside_sizes import DIMENSIONS, Dimension, size_of, with_sizes


@dataclass(frozen=True, slots=True)
class Reading:
    """What the tape says of one size of one drawer, beside what its maker says."""

    drawer: str
    dimension: Dimension
    nominal: int
    value: int


def own_name(drawer: Drawer) -> str:
    """The name a drawer has in its own cabinet: in a stack the base's name may stand in front of it."""
    name, front = drawer.name, f"{drawer.cabinet}: "
    while name.startswith(front):
        name = name.removeprefix(front)
    return name


def readings_of(cabinet: Cabinet, measured: Iterable[Measurement], unit: str = "") -> tuple[Reading, ...]:
    """The readings of one cabinet, in the order of its drawers.

    ``unit`` is the order or serial number of the cabinet that was measured; needed where several of one model were.

    Raises
    ------
    UsageError
        Nothing of the cabinet was measured (under that number), or a drawer more than once.
    """
    every = tuple(measured)
    rows = rows_of(cabinet, every)
    chosen = [row for row in rows if unit in ("", row.order, row.serial)]
    if not chosen:
        known = f"there is: {_numbers(rows)}" if rows else _others(every)
        raise UsageError(f"nothing of {cabinet.name} was measured{f' under {unit!r}' if unit else ''}; {known}")
    readings = tuple(reading for drawer in cabinet.drawers for reading in _readings(drawer, chosen))
    places = [(reading.drawer, reading.dimension) for reading in readings]
    twice = next((place for place in places if places.count(place) > 1), None)
    if twice:
        numbers = _numbers(chosen)
        raise UsageError(f"{cabinet.name}: drawer {twice[0]} was measured more than once; name one of: {numbers}")
    return readings


def rows_of(cabinet: Cabinet, measured: Iterable[Measurement]) -> list[Measurement]:
    """The rows about one of the cabinet's drawers, those of what it stands on included."""
    places = {(drawer.cabinet, own_name(drawer)) for drawer in cabinet.drawers}
    return [row for row in measured if (row.cabinet, row.drawer) in places]


def measured_cabinets(catalogue: Catalogue, measured: Sequence[Measurement]) -> tuple[str, ...]:
    """Names of the cabinets of which something was measured."""
    return tuple(cabinet.name for cabinet in catalogue.cabinets if rows_of(cabinet, measured))


def applied(cabinet: Cabinet, readings: Iterable[Reading], more: int = 0) -> Cabinet:
    """The cabinet with the readings, ``more`` added to each (negative: the proof side), in place of its own sizes."""
    return with_sizes(cabinet, {(reading.drawer, reading.dimension): reading.value + more for reading in readings})


def _readings(drawer: Drawer, rows: Iterable[Measurement]) -> list[Reading]:
    place = (drawer.cabinet, own_name(drawer))
    return [
        Reading(drawer.name, dimension, size_of(drawer, dimension), value)
        for row in rows
        if (row.cabinet, row.drawer) == place
        for dimension, value in zip(DIMENSIONS, (row.inside_width, row.inside_depth, row.clear_height), strict=True)
        if value is not None
    ]


def _others(rows: Iterable[Measurement]) -> str:
    names = ", ".join(sorted({row.cabinet for row in rows}))
    return f"there are readings of {names}" if names else "there are no readings at all"


def _numbers(rows: Iterable[Measurement]) -> str:
    return ", ".join(sorted({row.order or row.serial or "(no number)" for row in rows}))
