"""Where each kind of tool lies, as records of an index; the order in which a person reads drawers."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from matcher.planning import Fits
from matcher.records import Cabinet, Drawer, plural
from matcher.report.paper.tick_lines import UNNAMED


@dataclass(frozen=True, slots=True)
class IndexPlace:
    """A drawer, and the system of all that lies in it of a kind, where that tells it from another."""

    drawer: str
    system: str = ""


@dataclass(frozen=True, slots=True)
class IndexEntry:
    """A kind, or what goes by its own name, and its drawers in the order of the front."""

    name: str
    places: tuple[IndexPlace, ...]


def in_order(cabinet: Cabinet) -> list[Drawer]:
    """Drawers as a person reads a front: row by row, then from the left."""
    return sorted(cabinet.drawers, key=lambda drawer: (drawer.row, drawer.bank, drawer.name))


def kind_index(outcome: Fits) -> tuple[IndexEntry, ...]:
    """Every kind of a plan by name; a ready-made organizer without a list of pieces by the name of its group.

    Where a kind lies in several drawers and all of it in one of them is of one system, that is said.
    """
    groups = {group.name: group for group in outcome.plan.groups}
    places: dict[str, dict[str, set[str]]] = defaultdict(lambda: defaultdict(set))
    for drawer in in_order(outcome.question.cabinet):
        for placement in outcome.plan.placements:
            if placement.drawer == drawer.name:
                group = groups[placement.group]
                for sized in group.pieces:
                    piece = sized.piece
                    name = piece.tool if piece.kind in UNNAMED else plural(piece.kind, 2)
                    places[name][drawer.name].add(piece.system)
                if not group.pieces:
                    places[group.name][drawer.name].add("")
    return tuple(_entry(name, places[name]) for name in sorted(places, key=lambda name: (name.casefold(), name)))


def _entry(name: str, systems: dict[str, set[str]]) -> IndexEntry:
    several = len(systems) > 1
    return IndexEntry(
        name,
        tuple(
            IndexPlace(drawer, next(iter(found)) if several and len(found) == 1 else "")
            for drawer, found in systems.items()
        ),
    )
