"""What is sound in a table of drawers, cabinets or foam and yet cannot be so: boxes larger than what holds them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from matcher.records import Cabinet, Catalogue, Drawer, Foam, show_mm


def box_doubts(catalogue: Catalogue) -> Iterator[str]:
    """A sentence for each drawer, bank or sheet that a person should look at again."""
    for cabinet in catalogue.cabinets:
        own = [drawer for drawer in cabinet.drawers if drawer.cabinet == cabinet.name]
        for drawer in own:
            yield from (f"{cabinet.name}, drawer {drawer.name}: {doubt}" for doubt in _of_drawer(drawer, cabinet))
        yield from (f"{cabinet.name}, {doubt}" for doubt in _of_banks(own, cabinet))
    for foam in catalogue.foam:
        yield from (f"foam {foam.name}: {doubt}" for doubt in _of_foam(foam))


def _of_drawer(drawer: Drawer, cabinet: Cabinet) -> Iterator[str]:
    sides = (
        ("inside width", drawer.inside_width, "width", cabinet.width),
        ("inside depth", drawer.inside_depth, "depth", cabinet.depth),
        ("clear height", drawer.clear_height, "height", cabinet.height),
    )
    for inside, taken, outside, there in sides:
        if there is not None and taken > there:
            yield f"{inside} {show_mm(taken)}, but the cabinet's {outside} is {show_mm(there)}"
    least = min(drawer.inside_width, drawer.inside_depth)
    if 2 * drawer.corner_radius > least:
        yield f"corner radius {show_mm(drawer.corner_radius)} in a drawer that is {show_mm(least)} on its shorter side"
    if drawer.liner >= drawer.clear_height:
        yield f"liner {show_mm(drawer.liner)} in a clear height of {show_mm(drawer.clear_height)}"
    if drawer.travel is not None and cabinet.depth is not None and drawer.travel > 2 * cabinet.depth:
        yield f"travel {show_mm(drawer.travel)}, more than twice the cabinet's depth of {show_mm(cabinet.depth)}"


def _of_banks(drawers: list[Drawer], cabinet: Cabinet) -> Iterator[str]:
    """Banks whose drawers are together higher than the cabinet, and rows whose drawers are together wider."""
    banks, rows = defaultdict[int, int](int), defaultdict[int, int](int)
    for drawer in drawers:
        rows[drawer.row] += drawer.inside_width
        for bank in range(drawer.bank, drawer.last_bank + 1):
            banks[bank] += drawer.clear_height
    for kind, totals, side, there in (
        ("bank", banks, "high", cabinet.height),
        ("row", rows, "wide", cabinet.width),
    ):
        for number, total in sorted(totals.items()):
            if there is not None and total > there:
                yield f"{kind} {number}: its drawers are {show_mm(total)} {side} together, the cabinet {show_mm(there)}"


def _of_foam(foam: Foam) -> Iterator[str]:
    if foam.tolerance >= foam.thickness:
        yield f"tolerance {show_mm(foam.tolerance)} of a thickness of {show_mm(foam.thickness)}"
