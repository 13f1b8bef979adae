"""What was measured of each drawer, less what its maker says: a nominal size that is off in several readings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from matcher.house import House
from matcher.records import Cabinet, Catalogue, Drawer, Measurement
from matcher.studies.inside_sizes import DIMENSIONS, Dimension, size_of
from matcher.studies.readings import readings_of
from matcher.studies.told_readings import own_drawers


@dataclass(frozen=True, slots=True)
class NominalOff:
    """Readings of one size of one drawer; ``offs`` are measured minus nominal, ascending.

    ``units`` are the serial or order numbers of what was measured, ``doubted`` whether the nominal size is off in
    so many readings and by so much that the house wants it looked at.
    """

    cabinet: str
    drawer: str
    dimension: Dimension
    nominal: int
    offs: tuple[int, ...]
    units: tuple[str, ...]
    doubted: bool

    @property
    def median(self) -> int:
        """The middle of the readings less the nominal size; of the two in the middle their mean, rounded to zero."""
        return int(_twice_median(self.offs) / 2)


def nominals_off(catalogue: Catalogue, house: House, measured: Iterable[Measurement]) -> tuple[NominalOff, ...]:
    """Every size of which there are readings, by cabinet, then as its drawers stand; each row of readings counts."""
    rows = tuple(measured)
    cabinets = sorted(catalogue.cabinets, key=lambda cabinet: cabinet.name)
    return tuple(
        _size(box, dimension, found, house)
        for cabinet in cabinets
        for box in own_drawers(cabinet).values()
        for dimension in DIMENSIONS
        if (found := _readings(cabinet, box.name, dimension, rows))
    )


def _readings(
    cabinet: Cabinet, drawer: str, dimension: Dimension, rows: Iterable[Measurement]
) -> list[tuple[int, str]]:
    """What was read of one size, each time with the number that it was read under."""
    return [
        (one.value, row.serial or row.order)
        for row in rows
        if (row.cabinet, row.drawer) == (cabinet.name, drawer)
        for one in readings_of(cabinet, [row])
        if one.dimension == dimension
    ]


def _size(drawer: Drawer, dimension: Dimension, found: Iterable[tuple[int, str]], house: House) -> NominalOff:
    nominal = size_of(drawer, dimension)
    offs = tuple(sorted(value - nominal for value, _ in found))
    units = tuple(sorted({unit for _, unit in found} - {""}))
    return NominalOff(drawer.cabinet, drawer.name, dimension, nominal, offs, units, _doubted(offs, house))


def _doubted(offs: tuple[int, ...], house: House) -> bool:
    rules = house.measure
    return len(offs) >= rules.doubt_readings and abs(_twice_median(offs)) > 2 * rules.doubt


def _twice_median(offs: tuple[int, ...]) -> int:
    return offs[(len(offs) - 1) // 2] + offs[len(offs) // 2]
