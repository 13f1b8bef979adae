"""What was edited from one catalogue to another: rows that are new or gone, and cells with another value."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, fields, replace
from typing import Any

from matcher.records import Catalogue, to_kg, to_mm

MASSES = {"mass", "load_rating", "caster_load"}
LENGTHS = {
    *("length", "width", "depth", "height", "thickness", "tolerance", "inside_width", "inside_depth", "clear_height"),
    *("field_width", "field_depth", "field_left", "field_front", "above_ground", "travel", "corner_radius", "liner"),
    *("cg_depth", "cg_height", "contact_front", "contact_span", "caster_trail", "left", "front"),
}
OF_OTHER_TABLES = {"drawers"}
"""Fields of a record that stand in a table of their own."""


@dataclass(frozen=True, slots=True)
class Edit:
    """A cell with another value, or with a blank ``column`` a row that is ``new`` or ``gone``.

    ``row`` is what the row is known by. ``sets`` and ``cabinets`` are those it is about, all of them where empty.
    """

    table: str
    row: str
    column: str
    before: str
    now: str
    sets: tuple[str, ...] = ()
    cabinets: tuple[str, ...] = ()

    def touches(self, set_name: str, cabinet: str) -> bool:
        """Whether it is about a set in a cabinet."""
        return set_name in (self.sets or (set_name,)) and cabinet in (self.cabinets or (cabinet,))


@dataclass(frozen=True, slots=True)
class _Table:
    """A table of the catalogue: its rows, what each is known by, and the fields that name sets and cabinets."""

    name: str
    rows: Callable[[Catalogue], Iterable[Any]]
    key: tuple[str, ...]
    sets: tuple[str, ...] = ()
    cabinets: tuple[str, ...] = ()


TABLES = (
    _Table("tools", lambda known: known.pieces, ("set", "tool"), sets=("set",)),
    _Table("organizers", lambda known: known.organizers, ("set", "group"), sets=("set",)),
    _Table(
        "organizers",
        lambda known: [kept.made for kept in known.parts],
        ("set", "group", "cabinet", "part"),
        sets=("set",),
        cabinets=("cabinet",),
    ),
    _Table("cabinets", lambda known: known.cabinets, ("name",), cabinets=("name",)),
    _Table(
        "drawers",
        lambda known: dict.fromkeys(drawer for cabinet in known.cabinets for drawer in cabinet.drawers),
        ("cabinet", "name"),
        cabinets=("cabinet",),
    ),
    _Table("groups", lambda known: [rule for rule in known.group_rules if not rule.house], ("group", "system")),
    _Table("relations", lambda known: known.relations, ("group", "other", "wish")),
    _Table(
        "pins",
        lambda known: known.pins,
        ("rule", "set", "cabinet", "group", "other", "drawer", "bank", "row"),
        sets=("set",),
        cabinets=("cabinet",),
    ),
    _Table("foam", lambda known: known.foam, ("name",)),
    _Table("demand", lambda known: known.demand, ("set", "cabinet", "year"), sets=("set",), cabinets=("cabinet",)),
)
WITHOUT_PLANS = ("foam", "demand")
"""Tables that say nothing of what lies where."""


def edits(old: Catalogue, new: Catalogue) -> tuple[Edit, ...]:
    """Every edit, table by table; of equal rows the first of one stands for the first of the other, and so on."""
    return tuple(_of_units(edit, (old, new)) for table in TABLES for edit in _edited(table, old, new))


def _of_units(edit: Edit, known: Iterable[Catalogue]) -> Edit:
    """The edit, if it is about a cabinet then also about the chests that stand on it: they hold its drawers."""
    units = {
        cabinet.name
        for catalogue in known
        for cabinet in catalogue.cabinets
        if any(drawer.cabinet in edit.cabinets for drawer in cabinet.drawers)
    }
    return replace(edit, cabinets=(*edit.cabinets, *sorted(units - set(edit.cabinets)))) if edit.cabinets else edit


def _edited(table: _Table, old: Catalogue, new: Catalogue) -> Iterator[Edit]:
    was, now = (_keyed(table, table.rows(known)) for known in (old, new))
    for key in sorted(was.keys() | now.keys()):
        before, after = was.get(key, []), now.get(key, [])
        for one, other in zip(before, after, strict=False):
            yield from _cells(table, key, one, other)
        for row in before[len(after) :]:
            yield _edit(table, key, row, "", "gone", "")
        for row in after[len(before) :]:
            yield _edit(table, key, row, "", "", "new")


def _keyed(table: _Table, rows: Iterable[Any]) -> dict[tuple[str, ...], list[Any]]:
    found: dict[tuple[str, ...], list[Any]] = defaultdict(list)
    for row in rows:
        found[tuple(str(getattr(row, name) or "") for name in table.key)].append(row)
    return found


def _cells(table: _Table, key: tuple[str, ...], one: Any, other: Any) -> Iterator[Edit]:
    for name in (field.name for field in fields(one) if field.name not in OF_OTHER_TABLES):
        before, now = getattr(one, name), getattr(other, name)
        if before != now:
            yield _edit(table, key, other, name, _shown(name, before), _shown(name, now))


def _edit(table: _Table, key: tuple[str, ...], row: Any, column: str, before: str, now: str) -> Edit:
    about = (tuple(value for name in names if (value := getattr(row, name))) for names in (table.sets, table.cabinets))
    return Edit(table.name, ", ".join(filter(None, key)), column, before, now, *about)


def _shown(name: str, value: Any) -> str:
    """A value for a person, with its unit."""
    if value is None or value == "":
        return "blank"
    if isinstance(value, tuple):
        return "; ".join(_row(one) if hasattr(one, "__dataclass_fields__") else str(one) for one in value) or "none"
    if name in LENGTHS:
        return f"{to_mm(value):g} mm"
    return f"{to_kg(value):g} kg" if name in MASSES else str(value)


def _row(value: Any) -> str:
    return ", ".join(f"{field.name} {_shown(field.name, getattr(value, field.name))}" for field in fields(value))
