"""Whether the names that rows refer to exist, and whether each thing is there once. Bad rows are looked at too."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from itertools import chain
from typing import TypeAlias

from matcher.catalogue.contents import Contents
from matcher.catalogue.parsing import ReadTable
from matcher.catalogue.rows import OrganizerRow, Row
from matcher.catalogue.stacks import stack, unit_names
from matcher.records import CellError, with_nearest

KeyTexts: TypeAlias = tuple[int, tuple[str, ...]]
"""A row's number and the texts that it is known by."""
KEYS: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "drawers": ("drawer", ("cabinet", "drawer")),
    "cabinets": ("cabinet", ("cabinet",)),
    "groups": ("group", ("group",)),
    "relations": ("other", ("group", "other", "wish")),
    "measured": ("drawer", ("cabinet", "drawer", "order", "serial")),
    "foam": ("foam", ("foam",)),
    "demand": ("cabinet", ("set", "cabinet", "year")),
}
"""Per table: the column a second row is reported at, and the columns that together may come once only."""


@dataclass(frozen=True, slots=True)
class Names:
    """Everything a row may refer to by name; ``drawers`` and ``unit`` by cabinet, ``unit`` with its bases' drawers."""

    sets: Set[str]
    groups: Set[str]
    foam: Set[str]
    cabinets: Set[str]
    drawers: Mapping[str, Sequence[str]]
    unit: Mapping[str, Set[str]]


def names(found: Contents, house_groups: Iterable[str]) -> Names:
    """The names in a catalogue's tables and those of the groups of the house table."""
    drawers: dict[str, list[str]] = defaultdict(list)
    for _, (cabinet, drawer) in found.drawers.texts("cabinet", "drawer"):
        drawers[cabinet].append(drawer)
    bases = {cabinet: base for _, (cabinet, base) in found.cabinets.texts("cabinet", "stands_on")}
    units = {
        cabinet: unit_names([(part, tuple(dict.fromkeys(drawers.get(part, ())))) for part in stack(cabinet, bases)])
        for cabinet in drawers
    }
    ready = _organizers(found.organizers, ("set",), made=False)
    return Names(
        sets=({name for _, (name,) in found.tools.texts("set")} | {name for _, (name,) in ready}) - {""},
        groups=_groups(found) | set(house_groups),
        foam={name for _, (name,) in found.foam.texts("foam")},
        cabinets=set(drawers),
        drawers=drawers,
        unit={cabinet: set(chain.from_iterable(parts)) for cabinet, parts in units.items()},
    )


def _groups(found: Contents) -> set[str]:
    """Groups named anywhere, each case of cased equipment, and a group's organizer of one set among several."""
    named = {name for table in (found.tools, found.groups) for _, (name,) in table.texts("group")}
    cases = {tool for _, (tool, kind) in found.tools.texts("tool", "kind") if kind.lower() == "cased"}
    ready = [pair for _, pair in found.organizers.texts("group", "set")]
    return (named | cases | {group for group, _ in ready} | {f"{group} ({owner})" for group, owner in ready}) - {""}


def reference_faults(found: Contents, known: Names) -> Iterator[CellError]:
    """Every reference to something that is not there, and every thing that is there twice."""
    for table, (column, key) in KEYS.items():
        yield from _repeated(getattr(found, table).texts(*key), getattr(found, table), column, key)
    for key, made in ((("set", "group"), False), (("set", "group", "cabinet", "part"), True)):
        yield from _repeated(_organizers(found.organizers, key, made=made), found.organizers, "group", key)
    for of_cabinets in (found.cabinets, found.obstructions, found.measured, found.demand, found.pins):
        yield from _unknown(of_cabinets, "cabinet", "a cabinet that has drawers", known.cabinets)
    yield from _unknown(found.cabinets, "stands_on", "a cabinet that has drawers", known.cabinets)
    for of_groups in (found.pins, found.relations):
        yield from _unknown(of_groups, "group", "a known group", known.groups)
        yield from _unknown(of_groups, "other", "a known group", known.groups)
    if known.foam:
        yield from _unknown(found.organizers, "foam", "a foam of the table foam", known.foam)
    for of_sets in (found.pins, found.demand):
        yield from _unknown_sets(of_sets, known.sets)
    for of_drawers in (found.obstructions, found.measured):
        yield from _unknown_drawers(of_drawers, known.drawers)
    yield from _unknown_drawers(found.pins, known.unit)


def _organizers(table: ReadTable[OrganizerRow], key: Sequence[str], *, made: bool) -> Iterator[KeyTexts]:
    """Keys of the organizers made for just so many tools, of which a group may have several, or of all others."""
    for at, (pieces, *texts) in table.texts("pieces", *key):
        if bool(pieces) == made:
            yield at, tuple(texts)


def _repeated(rows: Iterable[KeyTexts], table: ReadTable[Row], column: str, key: Sequence[str]) -> Iterator[CellError]:
    first: dict[tuple[str, ...], int] = {}
    for at, texts in rows:
        if first.setdefault(texts, at) != at:
            yield table.fault(at, column, f"the same {', '.join(key)} once only; row {first[texts]} has it already")


def _unknown(table: ReadTable[Row], column: str, expected: str, known: Set[str]) -> Iterator[CellError]:
    for at, (name,) in table.texts(column):
        if name and name not in known:
            yield table.fault(at, column, _hinted(expected, name, known))


def _unknown_sets(table: ReadTable[Row], known: Set[str]) -> Iterator[CellError]:
    for at, (name,) in table.texts("set"):
        if name and name not in known:
            strange = [part for part in (half.strip() for half in name.split("+")) if part not in known]
            if strange:
                yield table.fault(at, "set", _hinted("a known set, or several joined by +", strange[0], known))


def _unknown_drawers(table: ReadTable[Row], by_cabinet: Mapping[str, Iterable[str]]) -> Iterator[CellError]:
    """Drawers that their cabinet does not have, or no cabinet has where the row names none."""
    everywhere = set(chain.from_iterable(by_cabinet.values()))
    for at, (cabinet, drawer) in table.texts("cabinet", "drawer"):
        if drawer and (cabinet in by_cabinet or not cabinet):
            here = set(by_cabinet[cabinet]) if cabinet else everywhere
            if drawer not in here:
                yield table.fault(at, "drawer", _hinted(f"a drawer of {cabinet or 'some cabinet'}", drawer, here))


def _hinted(expected: str, name: str, known: Iterable[str]) -> str:
    """The nearest name, or the one that lost its leading zeros on the way through a spreadsheet."""
    for other in sorted(known):
        if other != name and other.lstrip("0") == name.lstrip("0"):
            return f"{expected}: {other}, if a spreadsheet has changed the leading zeros (format the column as text)"
    return with_nearest(expected, name, known)
