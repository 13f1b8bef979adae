"""The packing list of a bundle: cartons with their organizers, sizes and masses; the tools beside them."""

from __future__ import annotations

from collections.abc import Sequence

from matcher.cutting import Carton, CartonLayer, PackingList, ToolLoad
from matcher.planning import Fits, together_words
from matcher.records import counted, to_kg, to_mm
from matcher.report.paper.flow import TEXT, Flow
from matcher.report.paper.sheets import FAINT, MARGIN, Sheets

ROW = 5.0
"""Height of a line of the list, in millimeters."""
ESTIMATES = (
    "Masses of foam are those of whole blocks, pockets not taken off, unless the catalogue gives the organizer's own; "
    "board by area. Weigh the packed carton before it is shipped.",
    "Sizes of cartons are outside sizes: the stack of organizers, padding and board as the house rules [carton] say.",
    "Organizers stay in the order of their drawers; fewer cartons may be possible.",
)


def packing_pages(sheets: Sheets, outcome: Fits, packing: PackingList) -> None:
    """Cartons, tools, what lies together or is divided, and on what the figures rest."""
    plan = outcome.plan
    flow = Flow(sheets, f"Packing list: {plan.set} in {plan.cabinet}", "one bundle; the cabinet ships by itself")
    for number, carton in enumerate(packing.cartons, 1):
        _carton(flow, number, len(packing.cartons), carton)
    if packing.tools:
        flow.subhead("Tools, packed by themselves", ROW * (len(packing.tools) + 1))
        for load in packing.tools:
            _row(flow, [f"drawer {load.drawer}", load.group, counted(load.pieces, "piece"), tool_mass(load)])
        _row(flow, ["", "together", counted(packing.pieces, "piece"), _between(*packing.tool_mass)], tick=False)
    if together := together_words(outcome):
        flow.points("What lies together, and what is divided", together)
    flow.points("On what these figures rest", ESTIMATES)


def carton_words(carton: Carton) -> str:
    """Outside size and mass of a carton."""
    size = " x ".join(f"{to_mm(side):.0f}" for side in (carton.length, carton.width, carton.height))
    mass = "mass not known: the foam's density is not given" if carton.mass is None else _estimated(carton.mass)
    return f"{size} mm, {mass}"


def tool_mass(load: ToolLoad) -> str:
    """Mass of a group's tools; between two bounds where it is not measured."""
    return f"{_between(load.mass_low, load.mass_high)}{', in its own case' if load.cased else ''}"


def _between(low: int, high: int) -> str:
    if low == high:
        return f"{to_kg(low):.1f} kg"
    return f"{to_kg(low):.1f} to {to_kg(high):.1f} kg, estimated"


def _estimated(mass: int) -> str:
    return f"at most about {to_kg(mass):.1f} kg, estimated"


def _carton(flow: Flow, number: int, of: int, carton: Carton) -> None:
    flow.subhead(f"Carton {number} of {of}: {carton_words(carton)}", ROW * len(carton.layers))
    for layer in carton.layers:
        size = " x ".join(f"{to_mm(side):.0f}" for side in (layer.width, layer.depth, layer.thickness))
        _row(flow, [f"drawer {layer.drawer}", layer.group, f"{size} mm", _layer_mass(layer)])


def _layer_mass(layer: CartonLayer) -> str:
    if layer.mass is None:
        return "mass not known"
    return f"{to_kg(layer.mass):.2f} kg{', estimated' if layer.estimated else ''}"


def _row(flow: Flow, cells: Sequence[str], *, tick: bool = True) -> None:
    flow.need(ROW)
    shares = (0, 0.16, 0.52, 0.74, 1)
    if tick:
        flow.sheets.box(MARGIN, flow.y - 2.6, 3, 3, color=FAINT, pen=0.2)
    for cell, start, end in zip(cells, shares, shares[1:], strict=False):
        indent = 5 if start == 0 else 0
        flow.sheets.write(
            MARGIN + indent + start * flow.room, flow.y, cell, TEXT, room=(end - start) * flow.room - indent - 2
        )
    flow.y += ROW
