"""Generated cabinets and sets for the assignment: sizes and wishes like those of a real shop, all numbers invented.

A cabinet has two to four banks of equal rows; the wider bank is the middle one, rows grow deeper downwards, the lowest
row of a bank may be without foam. Groups carry the families, tiers and wishes of the default tables.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass

from matcher.assignment.problem import Box, Node, Option, Problem, Side, Together, Wished
from matcher.house.reading import default_house
from matcher.records.units import PER_KG, PER_MM
from matcher.records.words import Fill

FAMILIES = ((12, 18), (18, 24), (24, 30), (32, 44))
"""Groups x drawers."""

# name, family, tier, cased; in the order in which sets grow
NAMES = (
    ("chrome sockets", "chrome sockets", 1, False),
    ("deep chrome sockets", "chrome sockets", 1, False),
    ("impact sockets", "impact sockets", 1, False),
    ("drive tools", "drive accessories", 2, False),
    ("drive extensions", "drive accessories", 2, False),
    ("bit sockets", "drive accessories", 2, False),
    ("screwdrivers", "screwdrivers", 3, False),
    ("metric combination wrenches", "metric wrenches", 4, False),
    ("inch combination wrenches", "inch wrenches", 5, False),
    ("pliers", "pliers", 6, False),
    ("striking tools", "striking tools", 6, False),
    ("cased torque tools", "cased tools", 7, True),
    ("metric ratcheting wrenches", "metric wrenches", 4, False),
    ("inch ratcheting wrenches", "inch wrenches", 5, False),
    ("deep impact sockets", "impact sockets", 1, False),
    ("hex keys", "drive accessories", 2, False),
    ("measuring tools", "measuring tools", 6, False),
    ("specialty wrenches", "specialty wrenches", 3, False),
    ("metric double-end wrenches", "metric wrenches", 4, False),
    ("inch double-end wrenches", "inch wrenches", 5, False),
    ("adjustable wrenches", "specialty wrenches", 3, False),
    ("insert bits", "screwdrivers", 3, False),
    ("cased pullers", "cased tools", 7, True),
    ("large impact sockets", "impact sockets", 1, False),
    ("large chrome sockets", "chrome sockets", 1, False),
    ("metric stubby wrenches", "metric wrenches", 4, False),
    ("inch stubby wrenches", "inch wrenches", 5, False),
    ("locking pliers", "pliers", 6, False),
    ("files", "striking tools", 6, False),
    ("flare-nut wrenches", "specialty wrenches", 3, False),
    ("cased testers", "cased tools", 7, True),
    ("large drive tools", "drive accessories", 2, False),
)

WISHES = (
    ("chrome sockets", "deep chrome sockets", "near", 2),
    ("impact sockets", "deep impact sockets", "near", 2),
    ("drive tools", "chrome sockets", "near", 2),
    ("drive extensions", "drive tools", "beside", 2),
    ("bit sockets", "drive extensions", "near", 1),
    ("hex keys", "bit sockets", "near", 1),
    ("impact sockets", "chrome sockets", "near", 1),
    ("specialty wrenches", "screwdrivers", "near", 1),
    ("adjustable wrenches", "specialty wrenches", "near", 1),
    ("insert bits", "screwdrivers", "near", 2),
    ("metric ratcheting wrenches", "metric combination wrenches", "beside", 2),
    ("metric double-end wrenches", "metric combination wrenches", "beside", 1),
    ("inch ratcheting wrenches", "inch combination wrenches", "beside", 2),
    ("inch double-end wrenches", "inch combination wrenches", "beside", 1),
    ("inch combination wrenches", "metric combination wrenches", "below", 1),
    ("inch ratcheting wrenches", "metric ratcheting wrenches", "below", 1),
    ("inch double-end wrenches", "metric double-end wrenches", "below", 1),
    ("measuring tools", "pliers", "near", 1),
    ("striking tools", "pliers", "near", 1),
    ("large impact sockets", "impact sockets", "near", 1),
    ("large chrome sockets", "chrome sockets", "near", 1),
    ("metric stubby wrenches", "metric combination wrenches", "beside", 1),
    ("inch stubby wrenches", "inch combination wrenches", "beside", 1),
    ("inch stubby wrenches", "metric stubby wrenches", "below", 1),
    ("locking pliers", "pliers", "near", 2),
    ("files", "striking tools", "near", 1),
    ("flare-nut wrenches", "specialty wrenches", "near", 1),
    ("large drive tools", "drive tools", "beside", 1),
    ("inch combination wrenches", "metric combination wrenches", "left_of", 1),
)


HOUSE = default_house()


@dataclass(frozen=True, slots=True)
class Size:
    width: int
    depth: int
    height: int


def case(groups: int, drawers: int, seed: int, fill: Fill = "spread") -> Problem:
    """The ``seed``-th case of a family: a set that goes into a cabinet, because it was placed in it first."""
    rng = random.Random(f"{groups}x{drawers}/{seed}")
    boxes, rooms = _cabinet(drawers, rng)
    nodes, sizes, uses = _set(groups, boxes, rooms, rng)
    options = {
        (g, d): _option(sizes[g], rooms[d], rng.random(), _lost(uses[g], boxes[d]))
        for g, node in enumerate(nodes)
        for d in range(drawers)
        if _goes_in(sizes[g], rooms[d]) and node.cased == _cased(boxes, d)
    }
    index = {node.name: g for g, node in enumerate(nodes)}
    relations: tuple[Wished, ...] = tuple(
        (index[group], index[other], wish, weight)  # type: ignore[misc]
        for group, other, wish, weight in WISHES
        if group in index and other in index
    )
    work = HOUSE.work
    return Problem(
        nodes=nodes,
        boxes=boxes,
        options=options,
        together=in_a_row(sizes, rooms),
        relations=relations,
        apart=(),
        kept_free=frozenset(),
        swap=((4, 5),),
        level=15 * PER_MM,
        fill=fill,
        goals=("drawers", "order", "neighbors", "recut", "reach"),
        work=work,
        seed=work.seed,
    )


def in_a_row(sizes: Mapping[int, Size] | list[Size], rooms: list[Size]) -> Together:
    """Sharing by one row of organizers side by side or one behind the other."""

    def together(box: int, groups: frozenset[int]) -> Side:
        room, things = rooms[box], [sizes[g] for g in groups]
        fits = all(_goes_in(thing, room) for thing in things) and (
            sum(thing.width for thing in things) <= room.width or sum(thing.depth for thing in things) <= room.depth
        )
        return "yes" if fits else "no"

    return together


def _cabinet(drawers: int, rng: random.Random) -> tuple[tuple[Box, ...], list[Size]]:
    banks = 4 if drawers > 36 else 3
    per_bank = drawers // banks
    wide = rng.randrange(banks)
    boxes, rooms, kinds = [], [], {}
    for bank in range(banks):
        heights = _row_heights(per_bank, rng if rng.random() < 0.4 else random.Random(f"rows/{drawers}"))
        floor = 1250
        for row, height in enumerate(heights):
            floor -= height + 12
            room = Size(560 if bank == wide else rng.choice((560, 430)) if row == 0 else rooms[-1].width, 470, height)
            kind = kinds.setdefault(room, len(kinds))
            boxes.append(
                Box(
                    name=f"{bank + 1}.{row + 1:02}",
                    bank=bank + 1,
                    last_bank=bank + 1,
                    row=row + 1,
                    floor=floor * PER_MM,
                    load=45 * PER_KG,
                    kind=kind,
                )
            )
            rooms.append(room)
    return tuple(boxes), rooms


def _row_heights(rows: int, rng: random.Random) -> list[int]:
    return [*sorted(rng.choices((50, 75, 100, 125), (4, 5, 3, 1), k=rows - 2)), 150, rng.choice((200, 250))]


def _cased(boxes: tuple[Box, ...], d: int) -> bool:
    """Whether this is the lowest drawer of its bank: without foam."""
    return boxes[d].row == max(box.row for box in boxes if box.bank == boxes[d].bank)


def _set(
    groups: int, boxes: tuple[Box, ...], rooms: list[Size], rng: random.Random
) -> tuple[tuple[Node, ...], list[Size], list[int]]:
    """Groups cut to drawers drawn for them from the top down, so that they go in; a few are taller than their place.

    With each how often it is used.
    """
    chosen = sorted(NAMES[:groups], key=lambda row: (row[2], row[1], row[0]))
    foam = sorted((d for d in range(len(boxes)) if not _cased(boxes, d)), key=lambda d: -boxes[d].floor)
    deep = [d for d in range(len(boxes)) if _cased(boxes, d)]
    homes = sorted(rng.sample(foam, sum(not row[3] for row in chosen)), key=foam.index)
    for _ in range(rng.randrange(5)):
        a, b = rng.sample(range(len(homes)), 2)
        homes[a], homes[b] = homes[b], homes[a]
    nodes, sizes, uses = [], [], []
    for name, family, tier, cased in chosen:
        room = rooms[deep.pop() if cased else homes.pop(0)]
        sizes.append(
            Size(
                room.width - rng.choice((3, 3, 3, 30, 150, room.width // 2)),
                room.depth - rng.choice((3, 3, 40, 120, room.depth // 2)),
                max(35, room.height - rng.choice((3, 10, 25, 25, 50))),
            )
        )
        nodes.append(Node(name, tier, family, rng.randint(3, 20) * PER_KG, share=True, cased=cased))
        uses.append(rng.randint(1, 9))
    return tuple(nodes), sizes, uses


def _goes_in(thing: Size, room: Size) -> bool:
    return thing.width <= room.width and thing.depth <= room.depth and thing.height <= room.height


def _lost(use: int, box: Box) -> int:
    """Use lost to the height of a drawer with an organizer 50 mm high, in thousandths."""
    return int(1000 * use * (1 - HOUSE.height.score(box.floor + 50 * PER_MM)))


def _option(thing: Size, room: Size, chance: float, reach: int) -> Option:
    gap = room.width - thing.width + room.depth - thing.depth
    how_cost = 3 if chance < 0.2 else 1 if gap > 12 else 0
    return Option(how_cost, gap * PER_MM, reach)
