"""Sized pieces and groups for the tests of layouts, in millimeters, sizes by simple rules of our own."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import combinations, product

from shapely import Polygon, box

from matcher.house.reading import default_house
from matcher.records.given import Piece
from matcher.records.laid_out import Footprint, Group, Layout, Notch, Pocket, SizedPiece
from matcher.records.units import mm as exact_mm
from matcher.records.words import System

HOUSE = default_house()
UNSTEPPED = replace(HOUSE, pocket=replace(HOUSE.pocket, depth_step=0))
"""Every pocket as deep as its tool alone asks for."""


def mm(value: float) -> int:
    """Length of a value as written: 98.4 means 98.4, not the nearest binary fraction."""
    return exact_mm(Decimal(str(value)))


def made(
    kind: str,
    rank: int = 0,
    length: float = 100,
    width: float = 20,
    height: float = 10,
    *,
    diameter: float | None = None,
    system: System = "",
    drive: str = "",
    count: int = 1,
    use: float | None = None,
) -> SizedPiece:
    """A piece of 1 unit of mass at least and 2 at most."""
    piece = Piece("set", f"{kind} {rank}", kind, count, system=system, size=str(rank), drive=drive, use=use)
    size = None if diameter is None else mm(diameter)
    return SizedPiece(piece, mm(length), mm(width), mm(height), size, 1, 2, rank, "estimated", "by hand")


def socket(rank: int, drive: str = "3/8", system: System = "metric", kind: str = "socket", **more: float) -> SizedPiece:
    """A round socket ``rank`` mm across the flats."""
    across = more.get("across", 1.25 * rank + 3)
    length = more.get("length", 64 if kind.startswith("deep") else 28)
    return made(kind, rank, length, across, across, diameter=across, system=system, drive=drive)


def wrench(rank: int, system: System = "metric", kind: str = "combination wrench") -> SizedPiece:
    """A combination wrench ``rank`` mm across the flats."""
    return made(kind, rank, 11 * rank + 26, 2.1 * rank + 7, 0.55 * rank + 3.5, system=system)


def group_of(*pieces: SizedPiece, **more: object) -> Group:
    """Group of the pieces, in this order."""
    plain = Group("group", "family", 1, "", True, True, False, tuple(pieces), None, 0, 0, None)
    return replace(plain, **more)  # type: ignore[arg-type]


def boxes(layout: Layout) -> list[tuple[int, int, int, int]]:
    """Left, front, right, back of every pocket."""
    return [
        (min(x for x, _ in p.ring), min(y for _, y in p.ring), max(x for x, _ in p.ring), max(y for _, y in p.ring))
        for p in layout.pockets
    ]


def faults(layout: Layout, group: Group) -> list[str]:
    """What is wrong with a layout: pieces, field, webs, height."""
    found = []
    wanted = sorted(n for n, piece in enumerate(group.pieces) for _ in range(piece.piece.count))
    if sorted(pocket.piece for pocket in layout.pockets) != wanted:
        found.append("not every tool once")
    cuts: list[tuple[Pocket | Notch, set[int]]] = [(pocket, {n}) for n, pocket in enumerate(layout.pockets)]
    cuts += [(notch, set(notch.pockets)) for notch in layout.notches]
    shapes = [Polygon(cut.ring) for cut, _ in cuts]
    field = box(0, 0, layout.width, layout.depth)
    if not all(field.covers(shape) for shape in shapes):
        found.append("outside the field")
    if max(pocket.rise for pocket in layout.pockets) != layout.height:
        found.append("another height")
    found += [f"no simple outline: {shape}" for shape in shapes if not shape.is_valid]
    for ((one, own), a), ((other, more), b) in combinations(zip(cuts, shapes, strict=True), 2):
        web = 0 if group.cased else HOUSE.pocket.web_for(max(one.depth, other.depth))
        if not own & more and (a.distance(b) < web - 1e-6 or a.intersection(b).area > 0):
            found.append(f"web between {one} and {other}")
    return found


def pareto(points: Sequence[tuple[int, ...]]) -> set[tuple[int, ...]]:
    """The points that no other one beats."""
    distinct = set(points)
    return {p for p in distinct if not any(q != p and all(a <= b for a, b in zip(q, p, strict=True)) for q in distinct)}


def as_tuples(points: Sequence[Footprint]) -> list[tuple[int, int, int]]:
    """Footprints as plain numbers."""
    return [(point.width, point.depth, point.height) for point in points]


def drive_spans(group: Group, layout: Layout) -> dict[tuple[System, Fraction], tuple[int, int]]:
    """From where to where, left to right, the pockets of each system and drive reach; 0 is without a drive."""
    found: dict[tuple[System, Fraction], tuple[int, int]] = {}
    for pocket, (left, _, right, _) in zip(layout.pockets, boxes(layout), strict=True):
        piece = group.pieces[pocket.piece].piece
        key = piece.system, Fraction(piece.drive or 0)
        least, most = found.get(key, (left, right))
        found[key] = min(least, left), max(most, right)
    return found


def drives_outside_in(group: Group, layout: Layout) -> bool:
    """Whether of any two pockets side by side, of one system and different drives, the larger drive's is the outer one:
    the left one, but the right one of metric pieces beside inch ones."""
    driven = [
        (group.pieces[pocket.piece].piece, box)
        for pocket, box in zip(layout.pockets, boxes(layout), strict=True)
        if group.pieces[pocket.piece].piece.drive
    ]
    both = {"inch", "metric"} <= {piece.piece.system for piece in group.pieces}
    return all(
        b[2] < a[0] if both and one.system == "metric" else a[2] < b[0]
        for (one, a), (other, b) in product(driven, driven)
        if one.system == other.system and Fraction(one.drive) > Fraction(other.drive) and a[1] < b[3] and b[1] < a[3]
    )


def sizes_apart(group: Group, layout: Layout) -> bool:
    """Whether of any two sizes of a series the larger is further right or further back."""
    series = defaultdict(list)
    for pocket, extent in zip(layout.pockets, boxes(layout), strict=True):
        piece = group.pieces[pocket.piece]
        series[piece.piece.system, piece.piece.drive, piece.piece.kind].append((piece.rank, extent))
    return all(
        one[0] + one[2] < other[0] + other[2] or one[1] + one[3] < other[1] + other[3]
        for members in series.values()
        for (small, one), (large, other) in product(members, members)
        if small < large
    )
