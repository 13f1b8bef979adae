"""From blanks to sheets: which foam, how many sheets with proof, where each blank lies, what is left over."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Literal, TypeAlias

from matcher.cutting.blanks import Blank, fitting, holds, room, ways
from matcher.cutting.guillotine import BlankSizes, Guillotine
from matcher.cutting.nesting import Nest, fewest
from matcher.cutting.offcuts import largest_offcut
from matcher.house import House
from matcher.packing import Position, pack
from matcher.records import Foam, Rectangle

CutWay: TypeAlias = Literal["free", "guillotine"]
"""Blanks anywhere, for a router; or parted by straight cuts from side to side, for a saw or a knife."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A blank on a sheet, its front left corner from the sheet's own, edge trim included."""

    blank: int
    left: int
    front: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Sheet:
    """Blanks on one sheet, and the largest rectangle left within its trimmed edges (left, front, width, depth)."""

    placed: tuple[Placed, ...]
    offcut: Rectangle


@dataclass(frozen=True, slots=True)
class SheetCount:
    """Sheets found, the bound, and whether they meet: then no fewer suffice."""

    way: CutWay
    value: int
    bound: int
    proved: bool
    sheets: tuple[Sheet, ...]


@dataclass(frozen=True, slots=True)
class Stock:
    """One foam row, the blanks (indices) cut from it, and the sheets they take in both ways.

    ``cost`` is the price of the sheets of the free way, ``None`` where the catalogue gives no price.
    """

    foam: Foam
    blanks: tuple[int, ...]
    free: SheetCount
    guillotine: SheetCount
    cost: float | None


def stocks(blanks: Sequence[Blank], foam: Iterable[Foam], house: House, batch: int = 1) -> tuple[Stock, ...]:
    """Foam and sheets for ``batch`` of every blank; blanks for which there is no foam are in none of them.

    A blank takes the thinnest foam that is thick and large enough, of several materials the cheapest by area. Blanks
    of one material share the size of sheet that costs least in all.
    """
    by_material: dict[tuple[object, ...], list[int]] = defaultdict(list)
    rows: dict[tuple[object, ...], list[Foam]] = {}
    known = sorted(foam, key=preference)
    for n, blank in enumerate(blanks):
        fits = fitting(blank, known, house)
        if fits:
            material = _material(min(fits, key=preference))
            by_material[material].append(n)
            rows[material] = [row for row in known if _material(row) == material]
    return tuple(
        stock
        for material in sorted(rows, key=lambda key: preference(rows[key][0]))
        for stock in _shared(blanks, by_material[material], rows[material], house, batch)
    )


def preference(foam: Foam) -> tuple[int, bool, float, str]:
    """Thinnest first, then cheapest by area, then by name."""
    by_area = 0.0 if foam.price is None else foam.price / (foam.length * foam.width)
    return foam.thickness, foam.price is None, by_area, foam.name


def _material(foam: Foam) -> tuple[object, ...]:
    return foam.thickness, foam.tolerance, foam.color, foam.density


def _shared(
    blanks: Sequence[Blank], members: Sequence[int], rows: Sequence[Foam], house: House, batch: int
) -> list[Stock]:
    """The size of sheet that costs least for all members; if none takes all, the one that takes most of them first."""
    taken = [(tuple(n for n in members if holds(row, blanks[n], house)), row) for row in rows]
    most = max(len(held) for held, _ in taken)
    held = next(held for held, _ in taken if len(held) == most)
    best = min((_stock(blanks, held, row, house, batch) for own, row in taken if own == held), key=_expense)
    rest = [n for n in members if n not in held]
    return [best, *(_shared(blanks, rest, rows, house, batch) if rest else [])]


def _expense(stock: Stock) -> tuple[bool, float, int, str]:
    area = stock.free.value * stock.foam.length * stock.foam.width
    return stock.cost is None, stock.cost or 0.0, area, stock.foam.name


def _stock(blanks: Sequence[Blank], members: Sequence[int], foam: Foam, house: House, batch: int) -> Stock:
    """Sheets of one foam for the members; where straight cuts need no more sheets, they are the free way too."""
    items = [n for n in members for _ in range(batch)]
    gap = _gap(house)
    width, depth = (side + gap for side in room(foam, house))
    sizes: list[BlankSizes] = [tuple((w + gap, d + gap) for w, d in ways(blanks[n], house)) for n in items]
    work, seed = house.work.sheets, house.work.seed
    anywhere = partial(pack, width=width, depth=depth, work=work, seed=seed)
    straight = fewest(sizes, width, depth, Guillotine(width, depth).packing, work=work, seed=seed)
    free = fewest(sizes, width, depth, anywhere, work=work, seed=seed, start=straight)
    straight = Nest(straight.sheets, max(straight.bound, free.bound))

    def counted(way: CutWay, nest: Nest) -> SheetCount:
        sheets = tuple(_sheet(held, sizes, items, (width, depth), house) for held in nest.sheets)
        return SheetCount(way, nest.value, nest.bound, nest.proved, sheets)

    cost = None if foam.price is None else foam.price * free.value
    return Stock(foam, tuple(members), counted("free", free), counted("guillotine", straight), cost)


def _gap(house: House) -> int:
    """Between two blanks: each takes as much to its right and behind it, and so does the room."""
    return max(house.cut.spacing, house.cut.kerf)


def _sheet(
    held: Iterable[tuple[int, Position]],
    sizes: Sequence[BlankSizes],
    items: Sequence[int],
    size: tuple[int, int],
    house: House,
) -> Sheet:
    """Items on one sheet in the coordinates of the sheet, ``size`` and ``sizes`` with their gaps."""
    edge, gap = max(house.cut.edge, house.cut.kerf), _gap(house)
    places = list(held)
    taken = [Rectangle(left, front, *sizes[n][choice]) for n, (choice, left, front) in places]
    offcut = largest_offcut(*size, taken, gap).moved(edge, edge)
    placed = (Placed(items[n], edge + x, edge + y, choice == 1) for n, (choice, x, y) in places)
    return Sheet(tuple(sorted(placed, key=lambda p: (p.left, p.front))), offcut)
