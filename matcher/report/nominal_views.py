"""Readings beside the sizes that makers give: rows, and sentences for those to look at. Shows, never computes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rich.console import RenderableType

from matcher.catalogue import PlaceKey
from matcher.records import counted, show_mm, to_mm
from matcher.report.document import Document
from matcher.report.grids import Grid
from matcher.studies import NominalOff


def nominal_rows(found: Iterable[NominalOff]) -> list[Document]:
    """A row for each size of a drawer that was measured: how many readings, and how far they are off."""
    return [
        {
            "cabinet": one.cabinet,
            "drawer": one.drawer,
            "dimension": one.dimension,
            "nominal_mm": to_mm(one.nominal),
            "readings": len(one.offs),
            "measured_under": list(one.units),
            "median_off_mm": to_mm(one.median),
            "least_off_mm": to_mm(one.offs[0]),
            "greatest_off_mm": to_mm(one.offs[-1]),
            "doubted": one.doubted,
        }
        for one in found
    ]


def nominal_table(found: Iterable[NominalOff]) -> RenderableType:
    """The same as a table."""
    table = Grid("cabinet", "drawer", "size", "*nominal mm", "*readings", "*median off", "*range")
    for one in found:
        place = (one.cabinet, one.drawer, one.dimension, f"{to_mm(one.nominal):.1f}")
        table.add_row(*place, str(len(one.offs)), f"{to_mm(one.median):+.1f}", _range_off(one))
    return table


def nominal_lines(found: Iterable[NominalOff], places: Mapping[PlaceKey, str]) -> list[str]:
    """A sentence for each nominal size that is doubted, with the place of its drawer in the files."""
    return [_line(one, places["drawers", one.cabinet, one.drawer]) for one in found if one.doubted]


def _line(one: NominalOff, place: str) -> str:
    only = f", all of one cabinet, {one.units[0]}" if len(one.units) == 1 else ""
    return (
        f"{place}: {one.cabinet}, drawer {one.drawer}: {one.dimension} {show_mm(one.nominal)}, but "
        f"{counted(len(one.offs), 'reading')} are off by {to_mm(one.median):+.1f} mm "
        f"(median; {_range_off(one)} mm{only}); is the nominal size right?"
    )


def _range_off(one: NominalOff) -> str:
    return f"{to_mm(one.offs[0]):+.1f} to {to_mm(one.offs[-1]):+.1f}"
