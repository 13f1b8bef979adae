"""What is sound in a table of drawers, cabinets or foam and yet cannot be so: boxes larger than what holds them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import TypeAlias

from matcher.catalogue.places import PlaceKey
from matcher.records import Cabinet, Catalogue, Drawer, Foam, show_kg, show_mm

RowDoubt: TypeAlias = tuple[PlaceKey, str]
"""Which row is doubted, and a sentence that says why."""


def box_doubts(catalogue: Catalogue) -> Iterator[RowDoubt]:
    """A sentence for each drawer, bank, cabinet or sheet that a person should look at again."""
    for cabinet in catalogue.cabinets:
        own = [drawer for drawer in cabinet.drawers if drawer.cabinet == cabinet.name]
        for drawer in own:
            for doubt in _of_drawer(drawer, cabinet):
                yield _about(drawer, cabinet, doubt)
        yield from _of_floors(own, cabinet)
        for doubt in (*_of_banks(own, cabinet), *_of_cabinet(own, cabinet)):
            yield ("cabinets", cabinet.name), f"{cabinet.name}, {doubt}"
    for foam in catalogue.foam:
        yield from ((("foam", foam.name), f"foam {foam.name}: {doubt}") for doubt in _of_foam(foam))


def _about(drawer: Drawer, cabinet: Cabinet, doubt: str) -> RowDoubt:
    return ("drawers", cabinet.name, drawer.name), f"{cabinet.name}, drawer {drawer.name}: {doubt}"


def _of_drawer(drawer: Drawer, cabinet: Cabinet) -> Iterator[str]:
    sides = (
        ("inside width", drawer.inside_width, "width", cabinet.width),
        ("inside depth", drawer.inside_depth, "depth", cabinet.depth),
        ("clear height", drawer.clear_height, "height", cabinet.height),
    )
    for inside, taken, outside, there in sides:
        if there is not None and taken > there and inside not in drawer.unknown:
            yield f"{inside} {show_mm(taken)}, but the cabinet's {outside} is {show_mm(there)}"
    least = min(drawer.inside_width, drawer.inside_depth)
    if 2 * drawer.corner_radius > least:
        yield f"corner radius {show_mm(drawer.corner_radius)} in a drawer that is {show_mm(least)} on its shorter side"
    if drawer.liner >= drawer.clear_height:
        yield f"liner {show_mm(drawer.liner)} in a clear height of {show_mm(drawer.clear_height)}"
    if drawer.travel is not None and cabinet.depth is not None and drawer.travel > 2 * cabinet.depth:
        yield f"travel {show_mm(drawer.travel)}, more than twice the cabinet's depth of {show_mm(cabinet.depth)}"
    rated, whole = drawer.load_rating, cabinet.load_rating
    if rated is not None and whole is not None and rated > whole:
        yield f"load rating {show_kg(rated)}, but the whole cabinet's is {show_kg(whole)}"


def _of_floors(drawers: Sequence[Drawer], cabinet: Cabinet) -> Iterator[RowDoubt]:
    """Drawers whose floor lies lower than what stands under them is high: one below the ground, or in one another."""
    for bank in sorted({number for drawer in drawers for number in (drawer.bank, drawer.last_bank)}):
        least = 0
        upward = sorted((one for one in drawers if one.bank <= bank <= one.last_bank), key=lambda one: -one.row)
        for drawer in upward:
            if drawer.above_ground is not None and drawer.above_ground < least:
                told = f"floor {show_mm(drawer.above_ground)} above the ground, but the drawers under it reach up to"
                yield _about(drawer, cabinet, f"{told} {show_mm(least)} at least")
            least = max(least, drawer.above_ground or 0) + _least(drawer, "clear height", drawer.clear_height)


def _of_cabinet(drawers: Sequence[Drawer], cabinet: Cabinet) -> Iterator[str]:
    """What a cabinet cannot weigh."""
    boxes = sum(drawer.mass or 0 for drawer in drawers)
    if cabinet.mass is not None and cabinet.mass < boxes:
        yield f"mass {show_kg(cabinet.mass)}, but its drawers weigh {show_kg(boxes)} together"


def _of_banks(drawers: Sequence[Drawer], cabinet: Cabinet) -> Iterator[str]:
    """Banks whose drawers are together higher than the cabinet, and rows whose drawers are together wider."""
    banks, rows = defaultdict[int, int](int), defaultdict[int, int](int)
    for drawer in drawers:
        rows[drawer.row] += _least(drawer, "inside width", drawer.inside_width)
        for bank in range(drawer.bank, drawer.last_bank + 1):
            banks[bank] += _least(drawer, "clear height", drawer.clear_height)
    for kind, totals, side, there in (
        ("bank", banks, "high", cabinet.height),
        ("row", rows, "wide", cabinet.width),
    ):
        for number, total in sorted(totals.items()):
            if there is not None and total > there:
                yield f"{kind} {number}: its drawers are {show_mm(total)} {side} together, the cabinet {show_mm(there)}"


def _least(drawer: Drawer, name: str, length: int) -> int:
    """An inside size as it counts beside others: one that is not known may be next to nothing."""
    return 0 if name in drawer.unknown else length


def _of_foam(foam: Foam) -> Iterator[str]:
    if foam.tolerance >= foam.thickness:
        yield f"tolerance {show_mm(foam.tolerance)} of a thickness of {show_mm(foam.thickness)}"
