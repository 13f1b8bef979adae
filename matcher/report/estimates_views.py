"""Which pieces to measure, as a document and for a terminal. Shows, never computes."""

from __future__ import annotations

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.records import counted, to_mm
from matcher.report.document import Document
from matcher.report.grids import Grid
from matcher.report.measuring_views import STYLES
from matcher.report.size_views import range_cell, size_rows
from matcher.studies import Doubt, Settling


def estimates_document(found: Settling) -> Document:
    """What estimated sizes do to a verdict, and the pieces whose measurement settles it."""
    return {
        "set": found.set,
        "cabinet": found.cabinet,
        "verdict": found.verdict,
        "estimated_pieces": found.estimated,
        "tried": found.bound,
        "off_share": round(found.off, 4),
        "with_all_estimates_off": found.turned,
        "stands": found.stands,
        "measure": [_doubt(doubt) for doubt in found.measure],
    }


def estimates_view(found: Settling) -> RenderableType:
    """Whether the verdict stands, and what to measure first if it does not."""
    head = Text.assemble(
        (found.set, "bold"), " in ", (found.cabinet, "bold"), ": ", (found.verdict, STYLES[found.verdict])
    )
    told = Text(settling_words(found))
    if found.stands or not found.measure:
        return Stack(head, told)
    table = Grid("~group", "~piece", "*length mm", "*width mm", "*height mm")
    for doubt in found.measure:
        (row,) = size_rows([doubt.piece])
        sizes = (range_cell(row, f"{name}_mm") for name in ("length", "width", "height"))
        table.add_row(doubt.group, doubt.piece.piece.tool, *sizes)
    return Stack(
        head,
        told,
        Text("measure these with a caliper; it stays as it is if they turn out as estimated, whatever the others do;"),
        Text("likely sizes, below them the least and the greatest that each may be by its own rule:"),
        table,
    )


def settling_words(found: Settling) -> str:
    """Whether the verdict stands with all estimated sizes at their worse bound."""
    size, way = ("largest", "larger") if found.bound == "high" else ("smallest", "smaller")
    tried = f"with all {counted(found.estimated, 'estimated piece')} at their {size}, up to {found.off:.0%} {way},"
    if found.stands:
        return f"{tried} still: {found.verdict}; no caliper is needed for the verdict"
    return f"{tried} it reads: {found.turned}"


def _doubt(doubt: Doubt) -> Document:
    piece = doubt.piece
    (row,) = size_rows([piece])
    return {
        "group": doubt.group,
        "tool": piece.piece.tool,
        "length_mm": to_mm(piece.length),
        "width_mm": to_mm(piece.width),
        "height_mm": to_mm(piece.height),
        **{
            f"{word}_{name}_mm": row[f"{word}_{name}_mm"]
            for name in ("length", "width", "height")
            for word in ("least", "likely", "greatest")
        },
        "source": piece.source,
    }
