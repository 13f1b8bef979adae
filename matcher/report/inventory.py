"""What a sound catalogue holds, and the words that name a kind of tool."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from rich.console import Group as Stack
from rich.console import RenderableType

from matcher.records import Catalogue, counted
from matcher.report.document import Document
from matcher.report.grids import Grid
from matcher.report.nominal_views import nominal_rows, nominal_table
from matcher.studies import NominalOff
from matcher.tools import KINDS

SHOWN = 20
"""Doubts that are told before the rest is counted."""


def inventory_document(
    catalogue: Catalogue, doubts: Sequence[str] = (), nominals: Iterable[NominalOff] = ()
) -> Document:
    """Sets with their pieces, cabinets with their drawers, the size of every other table, and what is doubted.

    ``nominals`` are sizes of drawers beside what was measured of them.
    """
    pieces: Counter[str] = Counter()
    for piece in catalogue.pieces:
        pieces[piece.set] += piece.count
    organizers = Counter(row.set for row in catalogue.organizers)
    names = sorted({*pieces, *organizers})
    return {
        "sets": [{"set": name, "pieces": pieces[name], "organizers": organizers[name]} for name in names],
        "cabinets": [
            {"cabinet": cabinet.name, "model_line": cabinet.model_line, "drawers": len(cabinet.drawers)}
            for cabinet in catalogue.cabinets
        ],
        "pins": len(catalogue.pins),
        "measured": len(catalogue.measured),
        "foam": len(catalogue.foam),
        "demand": len(catalogue.demand),
        "doubts": list(doubts),
        "measured_sizes": nominal_rows(nominals),
        "input_hash": catalogue.digest,
    }


def inventory_view(
    catalogue: Catalogue, doubts: Sequence[str] = (), nominals: Sequence[NominalOff] = ()
) -> RenderableType:
    """The inventory as two tables, a third of what was measured, what is doubted, and a line that all is sound."""
    document = inventory_document(catalogue, doubts)
    sets = Grid("set", "*pieces", "*organizers")
    for row in document["sets"]:
        sets.add_row(*map(str, row.values()))
    cabinets = Grid("cabinet", "model line", "*drawers")
    for row in document["cabinets"]:
        cabinets.add_row(*map(str, row.values()))
    doubted = [f"look again: {doubt}" for doubt in doubts[:SHOWN]]
    if len(doubts) > SHOWN:
        doubted.append(f"look again: {counted(len(doubts) - SHOWN, 'more row')} (--json lists all)")
    measured = [nominal_table(nominals)] if nominals else []
    return Stack(sets, cabinets, *measured, *doubted, f"No faults found. Input hash {document['input_hash']}.")


SYSTEM_HINT = (
    "system (metric or inch) only where a size leaves it open: 3/8 and 1 in are inch, 13 and 5.5 metric, "
    "1 may be either"
)


def kinds_document() -> Document:
    """Every kind with the columns it needs."""
    return {"kinds": [{"kind": kind.word, "needs": list(kind.needs)} for kind in KINDS.values()]}


def kinds_view() -> RenderableType:
    """The kinds as a table."""
    table = Grid("kind", "~=needs")
    for row in kinds_document()["kinds"]:
        table.add_row(row["kind"], ", ".join(row["needs"]))
    return Stack(table, SYSTEM_HINT)
