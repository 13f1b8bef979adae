"""The order a reader of the drawer relies on: R16."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from matcher.records import SizedPiece
from matcher.units import show_mm
from matcher.verification.fields import bounds
from matcher.verification.rules import Violation
from matcher.verification.scene import Box, Scene, Seat

SAME_LINE = 4
"""Two pockets are beside each other if they overlap front to back by at least a quarter of the shorter one."""
NUMBER = re.compile(r"(?:(\d+)[ -])?(\d+)/(\d+)|(\d+(?:\.\d+)?)")


@dataclass(frozen=True, slots=True)
class _Laid:
    """A piece and the rectangle round its pocket."""

    sized: SizedPiece
    box: Box


def order_kept(scene: Scene) -> Iterator[Violation]:
    """R16: every layout that is called ordered reads in order, by the rectangles round its pockets.

    - every inch pocket ends left of where the first metric one begins;
    - of each system, the pockets of one drive end before those of the next begin, from left to right: on the inch side
      from the largest drive to the smallest, on the metric side from the smallest to the largest, and either way where
      the organizer holds one system only;
    - of each series (kind, drive, system), a larger size lies right of a smaller one beside it, and behind a smaller
      one that is not beside it. So lines read from left to right and from front to back; a line may be staggered by up
      to three quarters of its shorter pieces.
    """
    for seat in scene.seats:
        layout = seat.placement.layout
        if layout is not None and layout.ordered and not seat.cased:
            laid = [
                _Laid(seat.group.pieces[pocket.piece], bounds(pocket))
                for pocket in layout.pockets
                if 0 <= pocket.piece < len(seat.group.pieces)
            ]
            yield from _systems(seat, laid)
            yield from _drives(seat, laid)
            yield from _sizes(seat, laid)


def _systems(seat: Seat, laid: Sequence[_Laid]) -> Iterator[Violation]:
    sides = [[one for one in laid if one.sized.piece.system == system] for system in ("inch", "metric")]
    over = _reaches_over(sides)
    if over > 0:
        text = f"{seat.group.name}: inch reaches {show_mm(over)} over metric"
        yield Violation("R16", seat.group.name, over, text)


def _reaches_over(columns: Sequence[Sequence[_Laid]]) -> int:
    """How far a column reaches beyond the beginning of the next one to its right, at most; 0 or less if none does."""
    full = [column for column in columns if column]
    return max(
        (max(one.box.right for one in left) - min(one.box.left for one in right) for left, right in pairwise(full)),
        default=0,
    )


def _drives(seat: Seat, laid: Sequence[_Laid]) -> Iterator[Violation]:
    systems = {one.sized.piece.system for one in laid}
    for system in sorted(systems):
        columns: dict[Fraction, list[_Laid]] = defaultdict(list)
        for one in laid:
            drive = number(one.sized.piece.drive)
            if one.sized.piece.system == system and drive is not None:
                columns[drive].append(one)
        over = _drives_over(columns, system if {"inch", "metric"} <= systems else "")
        if over > 0:
            text = f"{seat.group.name}: {system or 'drive'} columns are {show_mm(over)} out of their order outside in"
            yield Violation("R16", seat.group.name, over, text)


def _drives_over(columns: Mapping[Fraction, Sequence[_Laid]], side: str) -> int:
    rising = [columns[drive] for drive in sorted(columns)]
    over = {"metric": _reaches_over(rising), "inch": _reaches_over(rising[::-1])}
    return over[side] if side in over else min(over.values())


def _sizes(seat: Seat, laid: Sequence[_Laid]) -> Iterator[Violation]:
    series: dict[tuple[str, str, str], list[_Laid]] = defaultdict(list)
    for one in laid:
        piece = one.sized.piece
        series[piece.kind, piece.drive, piece.system].append(one)
    for (kind, drive, system), members in sorted(series.items()):
        wrong = sum(_descends(one, other) for one in members for other in members)
        if wrong:
            name = " ".join(word for word in (drive, system, kind) if word)
            text = f"{seat.group.name}: sizes of {name} descend between {wrong} pairs of pockets"
            yield Violation("R16", seat.group.name, wrong, text)


def _descends(small: _Laid, large: _Laid) -> bool:
    """Whether the larger of two pieces of a series comes first in reading order."""
    if not _smaller(small.sized, large.sized):
        return False
    one, other = small.box, large.box
    shared = min(one.back, other.back) - max(one.front, other.front)
    if shared * SAME_LINE >= min(one.depth, other.depth):
        return 2 * other.left + other.width <= 2 * one.left + one.width
    return other.front < one.front


def _smaller(one: SizedPiece, other: SizedPiece) -> bool:
    """By the sizes as written where the system says what they mean and both are plain numbers, else by rank."""
    first, second = number(one.piece.size), number(other.piece.size)
    if not one.piece.system or first is None or second is None:
        return one.rank < other.rank
    return first < second


def number(text: str) -> Fraction | None:
    """A whole, decimal or mixed number (``13``, ``5.5``, ``9/16``, ``1 1/8``), or ``None`` for any other text."""
    found = NUMBER.fullmatch(text.strip())
    if found is None:
        return None
    whole, above, below, plain = found.groups()
    if plain:
        return Fraction(plain)
    return Fraction(int(whole or 0)) + Fraction(int(above), int(below)) if int(below) else None
