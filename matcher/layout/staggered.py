"""Staggered rows of standing tools: every second row is set off by half a pitch, so each tool faces a gap of the next.

A *pitch* is the distance between the centers of neighbors in a row. Column n is made of the n-th tools of all rows.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import ceil, hypot

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from matcher.layout.blocks import BlockSize
from matcher.layout.courses import Laid
from matcher.layout.facing import Facing
from matcher.layout.notches import running
from matcher.layout.poses import Pose
from matcher.layout.profiles import FAR
from matcher.layout.styles import Style
from matcher.packing import Lengths

ROWS = (2, 3)
"""How many rows are staggered together. More gain little over several such lines, one behind another."""


@dataclass(frozen=True, slots=True, eq=False)
class _Fields:
    """Fields of staggered rows, each of equally many consecutive tools, listed by the tool that comes first.

    ``along`` (by field, row and column) and ``across`` (by field and row) are where centers lie along the rows and
    across them, from the corner of the box round all pockets; ``length`` and ``depth`` are the size of that box.
    """

    along: Lengths
    across: Lengths
    length: Lengths
    depth: Lengths


class Staggered:
    """A `Course` whose lines are so many staggered ``rows``, all with equally many tools, at least two.

    Sizes ascend along the rows and from row to row. The pitch between two columns is what the row in most need asks
    for, and no less than between the columns before; odd rows lie half a pitch further on. Rows come as near to each
    other as pockets, taken as circles, may with a web between them. But no pocket reaches in between those of another
    row, so that the rows are read as such.
    """

    def __init__(self, facing: Facing, rows: int) -> None:
        self.rows = rows
        self.upright = facing.upright
        self.way = facing.way
        self.poses = list(facing.poses)
        self._webs = np.diag(facing.webs)
        self._boxes = np.array([max(size) for size in facing.sizes])
        self._circles = np.array([_circle_round(pose) if pose else 0 for pose in self.poses])

    @property
    def length(self) -> Lengths:
        """See `Course`."""
        return self._sizes[0]

    @property
    def depth(self) -> Lengths:
        """See `Course`."""
        return self._sizes[1]

    @cached_property
    def rise(self) -> Lengths:
        """See `Course`."""
        rises = running(np.array([pose.rise if pose else FAR for pose in self.poses]))
        return np.where(self.length < FAR, rises, FAR)

    def abreast(self, count: int) -> int:
        """See `Course`."""
        return count // self.rows

    def laid(self, first: int, end: int, room: BlockSize) -> tuple[list[Laid], None]:
        """See `Course`; columns and rows are spread evenly. There is no notch: staggered tools need none."""
        columns = self.abreast(end - first)
        field = self._fields(first, end, columns)
        wide, deep = room[0] - int(field.length[0]), room[1] - int(field.depth[0])
        placed = []
        for n, pose in enumerate(pose for pose in self.poses[first:end] if pose):
            row, column = divmod(n, columns)
            along = int(field.along[0, row, column]) + wide * (4 * column + 2 * (row % 2) + 1) // (4 * columns)
            across = int(field.across[0, row]) + deep * (2 * row + 1) // (2 * self.rows)
            placed.append(Laid(pose, along - pose.width // 2, across - pose.depth // 2))
        return placed, None

    @cached_property
    def _sizes(self) -> tuple[Lengths, Lengths]:
        """The tables of lengths and depths; see `Course`."""
        count = len(self.poses)
        length, depth = np.full((2, count, count), FAR, dtype=np.int64)
        for columns in range(2, count // self.rows + 1):
            field = self._fields(0, count, columns)
            first = np.arange(len(field.length))
            last = first + self.rows * columns - 1
            length[first, last], depth[first, last] = field.length, field.depth
        unfit = np.cumsum([0, *(pose is None or bool(pose.notch) or pose.finger > 0 for pose in self.poses)])
        possible = unfit[None, 1:] == unfit[:-1, None]
        return np.where(possible, length, FAR), np.where(possible, depth, FAR)

    def _fields(self, begin: int, end: int, columns: int) -> _Fields:
        """All fields of consecutive tools with so many columns, from number ``begin`` to before number ``end``."""

        def fields_of(values: Lengths) -> Lengths:
            return sliding_window_view(values[begin:end], self.rows * columns).reshape(-1, self.rows, columns)

        boxes, circles = fields_of(self._boxes), fields_of(self._circles)
        web = fields_of(self._webs).max(axis=(1, 2))[:, None] + 1  # a center is rounded by half a unit both ways
        pitch = _halved(circles[:, :, 1:] + circles[:, :, :-1]).max(axis=1) + web
        pitch = np.maximum.accumulate(np.concatenate([pitch, pitch[:, -1:]], axis=1), axis=1)
        odd = np.arange(self.rows)[:, None] % 2
        along = (np.cumsum(pitch, axis=1) - pitch)[:, None] + (pitch // 2)[:, None] * odd
        across = np.cumsum([_halved(boxes[:, 0].max(axis=1)), *_steps(boxes, circles, web, pitch)], axis=0).T
        half = _halved(boxes)
        left, right = (along - half).min(axis=(1, 2)), (along + half).max(axis=(1, 2))
        return _Fields(along - left[:, None, None], across, right - left, across[:, -1] + half[:, -1].max(axis=1))


def staggered(facing: Facing, style: Style) -> tuple[Staggered, ...]:
    """The staggered courses of a facing, for standing tools; none if the style does not let tools be set back."""
    return tuple(Staggered(facing, rows) for rows in ROWS) if style.stagger else ()


def _steps(boxes: Lengths, circles: Lengths, web: Lengths, pitch: Lengths) -> list[Lengths]:
    """How far the centers of each row but the first lie behind those of the row before, in all fields.

    Tools half a pitch aside from each other are then a web apart, and so are tools of one column two rows apart. The
    boxes of two rows do not overlap.
    """
    steps = []
    for row in range(1, boxes.shape[1]):
        even, odd = circles[:, row - row % 2], circles[:, row - 1 + row % 2]
        both = even + odd
        both[:, :-1] = np.maximum(both[:, :-1], even[:, 1:] + odd[:, :-1])
        apart = _halved(both) + web
        aslant = np.ceil(np.sqrt(np.maximum(apart**2 - (pitch // 2) ** 2, 0))).max(axis=1).astype(np.int64)
        in_line = _halved(np.maximum(even, odd).max(axis=1) + web[:, 0])
        beside = _halved(boxes[:, row - 1].max(axis=1) + boxes[:, row].max(axis=1))
        steps.append(np.maximum.reduce([aslant, in_line, beside]))
    return steps


def _halved(values: Lengths) -> Lengths:
    """Half of each value, rounded up."""
    half: Lengths = -(-values // 2)
    return half


def _circle_round(pose: Pose) -> int:
    """Diameter of the least circle round a pocket that has its center in the middle of the pocket's box."""
    return ceil(2 * max(hypot(x - pose.width / 2, y - pose.depth / 2) for x, y in pose.pocket))
