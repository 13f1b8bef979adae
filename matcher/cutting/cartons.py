"""What a bundle is shipped in: cartons for its organizers without tools, and the mass of the tools beside them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import ceil

from matcher.house import House
from matcher.planning import Fits, Outcome
from matcher.records import PER_KG, PER_MM, Foam, Group, Placement

PER_M = 1000 * PER_MM


@dataclass(frozen=True, slots=True)
class CartonLayer:
    """An organizer in a carton: outside size, ``thickness`` of its foam, mass at most (``None``: not known).

    ``estimated`` if its mass is that of the whole block, pockets not taken off, or its thickness that of the clear
    height it needs.
    """

    group: str
    drawer: str
    width: int
    depth: int
    thickness: int
    mass: int | None
    estimated: bool


@dataclass(frozen=True, slots=True)
class Carton:
    """Organizers in one carton, by drawer: its outside size, and its mass with the board (``None``: not known).

    The mass is an estimate, as the board's is.
    """

    layers: tuple[CartonLayer, ...]
    length: int
    width: int
    height: int
    mass: int | None


@dataclass(frozen=True, slots=True)
class ToolLoad:
    """The tools of a group, shipped on their own: how many, and their mass between two bounds."""

    group: str
    drawer: str
    pieces: int
    mass_low: int
    mass_high: int
    cased: bool


@dataclass(frozen=True, slots=True)
class PackingList:
    """Everything of a bundle but the cabinet."""

    cartons: tuple[Carton, ...]
    tools: tuple[ToolLoad, ...]

    @property
    def pieces(self) -> int:
        """All tools."""
        return sum(load.pieces for load in self.tools)

    @property
    def tool_mass(self) -> tuple[int, int]:
        """Mass of all tools between two bounds."""
        return sum(load.mass_low for load in self.tools), sum(load.mass_high for load in self.tools)


def packing_of(outcome: Outcome) -> PackingList | None:
    """Organizers stacked flat in the order of their drawers, a new carton where one gets too high or too heavy.

    The order is kept, so fewer cartons may be possible. Without a plan there is nothing to pack.
    """
    if not isinstance(outcome, Fits):
        return None
    plan, question = outcome.plan, outcome.question
    house, stock = question.house, question.catalogue.foam
    groups = {group.name: group for group in plan.groups}
    places = {drawer.name: (drawer.row, drawer.bank) for drawer in question.cabinet.drawers}
    placed = sorted(plan.placements, key=lambda placement: (places[placement.drawer], placement.left))
    kept = [placement for placement in placed if not groups[placement.group].cased]
    layers = [_layer(placement, groups[placement.group], stock) for placement in kept]
    loads = [_tools(groups[placement.group], placement.drawer) for placement in placed]
    return PackingList(
        tuple(_carton(stack, house) for stack in _stacks(layers, house)), tuple(load for load in loads if load.pieces)
    )


def _layer(placement: Placement, group: Group, stock: Iterable[Foam]) -> CartonLayer:
    ready = group.organizer if placement.layout is None else None
    laid = placement.layout.thickness or placement.layout.height if placement.layout else 0
    thickness = laid or placement.height
    known = ready.mass if ready else None
    name = ready.foam if ready else ""
    base = placement.layout.base if placement.layout else 0
    sheets = (thickness - base, base) if base else (thickness,)
    mass = known if known is not None else _together([_block(placement, sheet, name, stock) for sheet in sheets])
    return CartonLayer(
        placement.group, placement.drawer, placement.width, placement.depth, thickness, mass, known is None or not laid
    )


def _block(placement: Placement, thickness: int, name: str, stock: Iterable[Foam]) -> int | None:
    """Mass of the block of foam without its pockets: of the foam named, else of the densest of that thickness."""
    fitting = [foam for foam in stock if foam.density is not None and (foam.name == name or not name)]
    alike = [foam for foam in fitting if foam.thickness == thickness] or fitting
    if not alike:
        return None
    densest = max(foam.density or 0.0 for foam in alike)
    volume = placement.width * placement.depth * thickness / PER_M**3
    return ceil(volume * densest * PER_KG)


def _together(masses: list[int | None]) -> int | None:
    """Their sum, not known unless all are."""
    known = [mass for mass in masses if mass is not None]
    return sum(known) if len(known) == len(masses) else None


def _stacks(layers: Iterable[CartonLayer], house: House) -> Iterator[list[CartonLayer]]:
    """Runs of layers that one carton takes; a single organizer beyond its limits gets a carton of its own."""
    stack: list[CartonLayer] = []
    for layer in layers:
        if stack and not _goes_in([*stack, layer], house):
            yield stack
            stack = []
        stack.append(layer)
    if stack:
        yield stack


def _goes_in(stack: list[CartonLayer], house: House) -> bool:
    high = sum(layer.thickness for layer in stack)
    mass = _carton(stack, house).mass
    return high <= house.carton.stack and (mass is None or mass <= house.carton.most)


def _carton(stack: list[CartonLayer], house: House) -> Carton:
    """Outside size of a carton round the stack; its board is that of a regular slotted carton.

    The board's area is 2 (length + width) x (height + width), the flaps being half the width each (common practice).
    """
    rules = house.carton
    room = 2 * (rules.pad + rules.wall)
    sides = sorted((max(layer.width for layer in stack) + room, max(layer.depth for layer in stack) + room))
    width, length = sides
    height = sum(layer.thickness for layer in stack) + room
    board = 2 * (length + width) * (height + width) / PER_M**2 * rules.board_kg_m2
    foam = _together([layer.mass for layer in stack])
    mass = None if foam is None else foam + ceil(board * PER_KG)
    return Carton(tuple(stack), length, width, height, mass)


def _tools(group: Group, drawer: str) -> ToolLoad:
    pieces = group.pieces
    return ToolLoad(
        group.name,
        drawer,
        group.tools,
        sum(piece.mass_low * piece.piece.count for piece in pieces),
        sum(piece.mass_high * piece.piece.count for piece in pieces),
        group.cased,
    )
