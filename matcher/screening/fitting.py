"""Fit tables: every distinct group against every distinct drawer, once, as arrays.

Rows are groups, columns drawers without their names and places. A column holds what `admission` says of the pair.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields
from typing import Any, TypeAlias
from zlib import compress, decompress

import numpy as np
import numpy.typing as npt

from matcher.fitting import Fit, GoesIn, OutsideSize, admit, effort_of, least_trimmed, opening
from matcher.house import House
from matcher.records import EVERY_HOW, Drawer, Group

EFFORT = 2.0**34
"""A step of work on the foam outweighs all gaps of a plan: 100 groups with a gap of 10 m on both axes."""

NEVER = 2**40
"""Longer than any row."""

Array: TypeAlias = npt.NDArray[Any]


@dataclass(frozen=True, slots=True)
class FitTable:
    """A group (or groups, a row each) against all drawers.

    ``cost`` is infinite where the drawer does not take the group in an ordered layout, else work and gap.
    ``spare`` is the smallest spare inside size, ``load`` the share of the load rating (negative without one).

    ``beside`` says what the group needs in a row with others, side by side (0) and one behind the other (1): least
    length along the row, length across it, height, way in (index of `EVERY_HOW`); its shape is (rows, drawers, 2, 4),
    the first `NEVER` where that is not known from sizes alone.
    """

    cost: Array
    how: Array
    spare: Array
    load: Array
    beside: Array


def fits_of(group: Group, drawers: Sequence[Drawer], house: House) -> FitTable:
    """One row of the table."""
    fits = [admit(group, drawer, house) for drawer in drawers]
    pairs = list(zip(fits, drawers, strict=True))
    return FitTable(
        cost=np.array([_cost(fit) for fit in fits]),
        how=np.array([EVERY_HOW.index(fit.alone.how) if isinstance(fit, GoesIn) else 0 for fit in fits], np.int8),
        spare=np.array([spare_of(fit, group, drawer, house) for fit, drawer in pairs], np.int64),
        load=np.array([load_share(group.mass_high, drawer) for drawer in drawers]),
        beside=np.array([_beside(fit, drawer, house) for fit, drawer in pairs], np.int64).reshape(-1, 2, 4),
    )


KINDS = {"cost": "<f8", "how": "i1", "spare": "<i8", "load": "<f8", "beside": "<i8"}
"""How the numbers of a row are kept as bytes."""


def row_bytes(row: FitTable) -> bytes:
    """One row as bytes."""
    return compress(b"".join(getattr(row, name).astype(kind).tobytes() for name, kind in KINDS.items()), 1)


def row_from(content: bytes, drawers: int) -> FitTable:
    """The row of so many drawers that was brought into these bytes."""
    rest, columns = decompress(content), []
    for name, kind in KINDS.items():
        count = drawers * (8 if name == "beside" else 1)
        length = count * np.dtype(kind).itemsize
        columns.append(np.frombuffer(rest[:length], kind).astype(np.dtype(kind).newbyteorder("=")))
        rest = rest[length:]
    cost, how, spare, load, beside = columns
    return FitTable(cost, how, spare, load, beside.reshape(-1, 2, 4))


def stacked(rows: Iterable[FitTable]) -> FitTable:
    """One table of many rows."""
    listed = list(rows)
    return FitTable(*(np.stack([getattr(row, field.name) for row in listed]) for field in fields(FitTable)))


def load_share(mass: int, drawer: Drawer) -> float:
    """What share of its rating a load is; -1 where the drawer has no rating, above 1 for any load on a rating of 0."""
    if drawer.load_rating is None:
        return -1.0
    return mass / drawer.load_rating if drawer.load_rating else 2.0 * bool(mass)


def spare_of(fit: Fit, group: Group, drawer: Drawer, house: House) -> int:
    """The smallest inside size the drawer has beyond what the group alone in it needs (as `margins` counts it)."""
    if not isinstance(fit, GoesIn):
        return 0
    space = opening(drawer, house)
    width, depth = least_size(fit, group, house)
    left, front = (fit.place[0], fit.place[1]) if drawer.obstructions else (0, 0)
    return min(space.width - left - width, space.depth - front - depth, space.height - fit.alone.height)


def least_size(fit: GoesIn, group: Group, house: House) -> tuple[int, int]:
    """Smallest outside the group alone in its drawer may be cut or trimmed to without laying it out anew."""
    if group.cased or fit.layout is not None:
        return fit.place[2], fit.place[3]
    if fit.alone.footprint is not None or group.organizer is None:
        return fit.place[2] - fit.gap_width, fit.place[3] - fit.gap_depth
    return least_trimmed(group.organizer, house)


def _cost(fit: Fit) -> float:
    if not isinstance(fit, GoesIn):
        return np.inf
    return EFFORT * effort_of(fit.alone.how) + fit.gap_width + fit.gap_depth


def room_of(drawer: Drawer, house: House) -> tuple[int, int, int, int, int]:
    """Width, depth and height a row of groups may fill, the load it may weigh, and what rounded corners take off."""
    space = opening(drawer, house)
    inset = space.inset(space.side)
    load = NEVER if drawer.load_rating is None else drawer.load_rating
    return space.width - 2 * inset, space.depth - 2 * inset, space.height, load, inset


def _beside(fit: Fit, drawer: Drawer, house: House) -> list[tuple[int, int, int, int]]:
    """What the group needs in a row with others, in both directions; obstructed drawers are left to `packing`."""
    width, depth, *_ = room_of(drawer, house)
    if not isinstance(fit, GoesIn) or drawer.obstructions:
        return [(NEVER, 0, 0, 0)] * 2
    across = [(size.width, size.depth, size) for size in fit.sizes if size.depth <= depth]
    along = [(size.depth, size.width, size) for size in fit.sizes if size.width <= width]
    return [_smallest(across), _smallest(along)]


def _smallest(sizes: list[tuple[int, int, OutsideSize]]) -> tuple[int, int, int, int]:
    """The shortest along a row, of these the least work, the lowest and the narrowest across."""
    told = [
        (length, effort_of(size.how), size.height, across, EVERY_HOW.index(size.how)) for length, across, size in sizes
    ]
    length, _, height, across, how = min(told, default=(NEVER, 0, 0, 0, 0))
    return length, across, height, how
