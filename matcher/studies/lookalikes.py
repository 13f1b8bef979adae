"""Which of several cabinets that look alike it is: what counts and readings leave possible, and what to take next."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from matcher.house import House
from matcher.planning import find_cabinet
from matcher.records import Cabinet, Catalogue, Measurement, UsageError, listed
from matcher.studies.inside_sizes import size_of
from matcher.studies.readings import Reading, readings_of
from matcher.studies.telling_apart import Tree, tell_apart, window
from matcher.studies.told_readings import Counted, Taped, ToldReading, count_of, own_drawers


@dataclass(frozen=True, slots=True)
class Lookalike:
    """A cabinet beside a buyer's counts and readings; what excludes it, nothing where it is possible.

    ``miscounted`` are counts with the number that this cabinet has, ``against`` readings with its own sizes as the
    nominal ones, ``lacking`` drawers that were measured and that it does not have; ``contradictions`` is how many
    counts and readings that are. ``off`` is how far a reading is from its sizes at most: the smaller, the likelier.
    """

    cabinet: str
    against: tuple[Reading, ...]
    lacking: tuple[str, ...]
    miscounted: tuple[tuple[Counted, int], ...] = ()
    off: int = 0
    contradictions: int = 0

    @property
    def possible(self) -> bool:
        """Whether nothing excludes it."""
        return not self.contradictions


@dataclass(frozen=True, slots=True)
class Narrowing:
    """What one count or reading excludes by itself: cabinets, with what they have instead, ``None`` for no such drawer.

    ``lone`` says that it contradicts all the others: without it a cabinet would be possible, with it none is.
    """

    told: ToldReading
    excludes: tuple[tuple[str, int | None], ...]
    lone: bool = False


@dataclass(frozen=True, slots=True)
class Identity:
    """What counts and readings of a cabinet taken for ``cabinet`` say of its look-alikes, and how to go on."""

    cabinet: str
    readings: tuple[Reading, ...]
    lookalikes: tuple[Lookalike, ...]
    tree: Tree
    narrowing: tuple[Narrowing, ...] = ()


def identify(
    catalogue: Catalogue,
    house: House,
    cabinet_name: str,
    measured: Iterable[Measurement] = (),
    unit: str = "",
    told: Iterable[ToldReading] = (),
) -> Identity:
    """Which cabinets of the same model line all that is known leaves possible, and what tells those apart.

    ``measured`` are rows of a table of readings, ``told`` what was counted or measured besides, of drawers that any
    look-alike has.

    Raises
    ------
    UnknownNameError
        The cabinet is not in the catalogue.
    UsageError
        There are rows, but none of this cabinet, a drawer was measured more than once, or no look-alike has it.
    """
    cabinet, rows = find_cabinet(catalogue, cabinet_name), tuple(measured)
    own = own_drawers(cabinet)
    readings = tuple(one for one in readings_of(cabinet, rows, unit) if one.drawer in own) if rows else ()
    alike = model_line(catalogue.cabinets, cabinet)
    known: tuple[ToldReading, ...] = (*(Taped(one.drawer, one.dimension, one.value) for one in readings), *told)
    _check(known, alike, cabinet_name)
    found = lookalikes(alike, known, house)
    left = {one.cabinet for one in found if one.possible}
    return Identity(
        cabinet_name,
        tuple(
            Reading(one.drawer, one.dimension, size_of(own[one.drawer], one.dimension), one.value)
            for one in known
            if isinstance(one, Taped) and one.drawer in own
        ),
        found,
        tell_apart((one for one in alike if one.name in left), house),
        tuple(_narrowing(alike, known, n, house) for n in range(len(known))),
    )


def model_line(cabinets: Iterable[Cabinet], cabinet: Cabinet) -> tuple[Cabinet, ...]:
    """The cabinets of one model line, by name; the cabinet alone where it names no line."""
    same = [other for other in cabinets if cabinet.model_line and other.model_line == cabinet.model_line]
    return tuple(sorted(same or [cabinet], key=lambda other: other.name))


def lookalikes(cabinets: Iterable[Cabinet], known: Sequence[ToldReading], house: House) -> tuple[Lookalike, ...]:
    """Every cabinet with what excludes it: other counts, readings further from its sizes than the window, no drawer."""
    return tuple(_beside(cabinet, known, house) for cabinet in sorted(cabinets, key=lambda one: one.name))


def _beside(cabinet: Cabinet, known: Sequence[ToldReading], house: House) -> Lookalike:
    boxes = own_drawers(cabinet)
    taped = [one for one in known if isinstance(one, Taped)]
    counts = [(one, count_of(cabinet, one.what)) for one in known if isinstance(one, Counted)]
    here = [
        Reading(one.drawer, one.dimension, size_of(boxes[one.drawer], one.dimension), one.value)
        for one in taped
        if one.drawer in boxes
    ]
    against = tuple(one for one in here if abs(one.value - one.nominal) > window(house))
    miscounted = tuple((count, number) for count, number in counts if count.number != number)
    return Lookalike(
        cabinet=cabinet.name,
        against=against,
        lacking=tuple(dict.fromkeys(one.drawer for one in taped if one.drawer not in boxes)),
        miscounted=miscounted,
        off=max((abs(one.value - one.nominal) for one in here), default=0),
        contradictions=len(against) + len(miscounted) + len(taped) - len(here),
    )


def _narrowing(alike: Sequence[Cabinet], known: Sequence[ToldReading], at: int, house: House) -> Narrowing:
    """What one of all counts and readings excludes by itself, and whether it alone stands against all others."""
    one, others = known[at], (*known[:at], *known[at + 1 :])
    alone = zip(alike, lookalikes(alike, [one], house), strict=True)
    excluded = tuple((cabinet.name, _instead(cabinet, one)) for cabinet, found in alone if not found.possible)
    none_left = not any(found.possible for found in lookalikes(alike, known, house))
    return Narrowing(one, excluded, none_left and any(found.possible for found in lookalikes(alike, others, house)))


def _instead(cabinet: Cabinet, told: ToldReading) -> int | None:
    if isinstance(told, Counted):
        return count_of(cabinet, told.what)
    box = own_drawers(cabinet).get(told.drawer)
    return size_of(box, told.dimension) if box else None


def _check(known: Iterable[ToldReading], alike: Iterable[Cabinet], name: str) -> None:
    """Refuse a drawer that no look-alike has."""
    drawers = sorted({drawer for cabinet in alike for drawer in own_drawers(cabinet)})
    for one in known:
        if isinstance(one, Taped) and one.drawer not in drawers:
            raise UsageError(
                f"reading of drawer {one.drawer!r}: neither {name} nor a look-alike of it has one; expected one of: "
                f"{listed(drawers)}"
            )
