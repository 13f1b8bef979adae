"""The order a reader of the drawer relies on: R16."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import hypot

from matcher.house import House, LayoutRules
from matcher.records import SizedPiece, counted, remembered, show_mm
from matcher.verification.fields import bounds
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Scene, SceneRectangle, Seat

APART = 0.25
"""Share of the smaller of two pockets by which they may reach into each other and still come one after the other."""
READINGS = ((True, False, True), (False, True, False), (False, True, False, True))
"""Rounds of cuts, each from left to right or not; the last reading is that of a series in two bands."""
NUMBER = re.compile(r"(?:(\d+)[ -])?(\d+)/(\d+)|(\d+(?:\.\d+)?)")


@dataclass(frozen=True, slots=True)
class _Laid:
    """A piece and the rectangle round its pocket."""

    sized: SizedPiece
    box: SceneRectangle


def order_kept(scene: Scene) -> Iterator[Violation]:
    """R16: every layout that is called ordered reads in order, by the rectangles round its pockets.

    - every inch pocket ends left of where the first metric one begins, or the other way round if metric is the house's
      left;
    - of each system, the pockets of one drive end before those of the next begin, from left to right: on the left side
      from the outermost drive, the largest or by the house the smallest, to the innermost, on the right side from the
      innermost to the outermost, and either way where the organizer holds one system only. Where the house allows
      bands, a straight line from left to right may part the pockets of a system into two of them, each in this order,
      and both holding the outermost drive; of tools without a system the one in front holds it, and drives in front
      only lie further out than drives behind only;
    - each series (kind, drive, system) can be cut by straight lines from front to back into stretches, each of these by
      lines from left to right into rows, and each row from front to back into single sizes (or all of it with the
      directions exchanged; or, where there are bands, parted from left to right before that), so that sizes ascend from
      left to right and from front to back. A cut passes between the centers of the rectangles round the pockets; two
      rectangles that it parts reach into each other across it by a quarter of the smaller one at most, or by a smaller
      share than they do along it, as in a staggered line or one with the heads end for end. A series of a kind that
      the house lets lie in nests may instead lie with no center in front of that of a smaller size, and together: each
      pocket's rectangle as near as a finger notch is wide to that of another one of the kind or, of tools with a drive,
      of the drive. Where all kinds with a drive may lie in nests and those of each drive lie together so, the drives
      need not be in columns.
    """
    for seat in scene.seats:
        layout = seat.placement.layout
        if layout is not None and layout.ordered and not seat.cased:
            laid = [
                _Laid(seat.group.pieces[pocket.piece], bounds(pocket.ring))
                for pocket in layout.pockets
                if 0 <= pocket.piece < len(seat.group.pieces)
            ]
            rules = scene.house.layout
            yield from _systems(seat, laid, rules)
            yield from _drives(seat, laid, scene.house)
            yield from _sizes(seat, laid, READINGS if rules.bands else READINGS[:2], scene.house)


def _systems(seat: Seat, laid: Sequence[_Laid], rules: LayoutRules) -> Iterator[Violation]:
    left = rules.sides.left
    right = "metric" if left == "inch" else "inch"
    over = _reaches_over([[one for one in laid if one.sized.piece.system == system] for system in (left, right)])
    if over > 0:
        text = f"{seat.group.name}: {left} reaches {show_mm(over)} over {right}"
        yield Violation("R16", seat.group.name, over, text)


def _reaches_over(columns: Sequence[Sequence[_Laid]]) -> int:
    """How far a column reaches beyond the beginning of the next one to its right, at most; 0 or less if none does."""
    full = [column for column in columns if column]
    return max(
        (max(one.box.right for one in left) - min(one.box.left for one in right) for left, right in pairwise(full)),
        default=0,
    )


def _drives(seat: Seat, laid: Sequence[_Laid], house: House) -> Iterator[Violation]:
    rules = house.layout
    systems, largest = {one.sized.piece.system for one in laid}, rules.sides.outermost == "largest"
    for system in sorted(systems):
        driven = [one for one in laid if one.sized.piece.system == system and _drive(one) is not None]
        on_left = [system == rules.sides.left] if {"inch", "metric"} <= systems and system else [True, False]
        ways = [[driven], *(_banded(driven, largest, framed=system != "") if rules.bands else ())]
        over = min(max(_drives_over(band, falling=left == largest) for band in way) for way in ways for left in on_left)
        if over > 0 and not _nested_by_drive(driven, house):
            text = f"{seat.group.name}: {system or 'drive'} columns are {show_mm(over)} out of their order outside in"
            yield Violation("R16", seat.group.name, over, text)


def _drive(one: _Laid) -> Fraction | None:
    return number(one.sized.piece.drive)


def _columns(band: Sequence[_Laid]) -> dict[Fraction, list[_Laid]]:
    columns: dict[Fraction, list[_Laid]] = defaultdict(list)
    for one in band:
        if (drive := _drive(one)) is not None:
            columns[drive].append(one)
    return columns


def _drives_over(band: Sequence[_Laid], falling: bool) -> int:
    """How far a drive's column reaches over the next one's to its right, drives ``falling`` or rising that way."""
    columns = _columns(band)
    return _reaches_over([columns[drive] for drive in sorted(columns, reverse=falling)])


def _banded(driven: Sequence[_Laid], largest: bool, framed: bool) -> Iterator[list[list[_Laid]]]:
    """Every way to part pockets into two bands that hold the drives that they must."""
    for line in sorted({one.box.back for one in driven}):
        front = [one for one in driven if one.box.back <= line]
        back = [one for one in driven if one.box.front >= line]
        if back and len(front) + len(back) == len(driven):
            sign = 1 if largest else -1
            ahead, behind = ({sign * drive for drive in _columns(band)} for band in (front, back))
            outermost = max(ahead | behind)
            whole = outermost in ahead and outermost in behind
            in_order = outermost in ahead and all(one > other for one in ahead - behind for other in behind - ahead)
            if whole if framed else in_order:
                yield [front, back]


def _sizes(seat: Seat, laid: Sequence[_Laid], readings: Sequence[Sequence[bool]], house: House) -> Iterator[Violation]:
    series: dict[tuple[str, str, str], list[_Laid]] = defaultdict(list)
    for one in laid:
        piece = one.sized.piece
        series[piece.kind, piece.drive, piece.system].append(one)
    for (kind, drive, system), members in sorted(series.items()):
        wrong = min(_unread(members, reading) for reading in readings)
        if wrong and kind in house.layout.nests:
            beside = [one for one in laid if (_drive(one), one.sized.piece.system) == (number(drive), system)]
            alone = _stray(beside if drive else members, house.notch.width)
            wrong = min(wrong, _larger_in_front(members) + alone)
        if wrong:
            name = " ".join(word for word in (drive, system, kind) if word)
            text = f"{seat.group.name}: sizes of {name} descend between {counted(wrong, 'pair')} of pockets"
            yield Violation("R16", seat.group.name, wrong, text)


def _unread(members: Sequence[_Laid], reading: Sequence[bool]) -> int:
    """Pairs out of order where rounds of cuts leave different sizes together, each from left to right or not."""
    parts = [list(members)]
    for across in reading:
        parts = [piece for part in parts for piece in _cut(part, across)]
    return sum(_descents(part, reading[-1]) for part in parts)


def _cut(part: Sequence[_Laid], across: bool) -> list[list[_Laid]]:
    """The part cut at every place where nothing larger, and nothing that is no further on, comes before."""
    row = sorted(part, key=lambda one: _center(one, across))
    cuts, last = [0], 0
    for k in range(1, len(row)):
        held = (j for j in range(len(row) - 1, max(last, k) - 1, -1) if not _follows(row[k - 1], row[j], across))
        last = max(last, next(held, 0))
        if last < k:
            cuts.append(k)
    return [row[begin:end] for begin, end in zip(cuts, [*cuts[1:], len(row)], strict=True)]


def _follows(one: _Laid, other: _Laid, across: bool) -> bool:
    """Whether ``other`` may come after ``one`` with a cut between them."""
    if smaller(other.sized, one.sized) or _center(one, across) >= _center(other, across):
        return False
    return _overlap(one.box, other.box, across) <= max(APART, _overlap(one.box, other.box, not across))


def _nested_by_drive(driven: Sequence[_Laid], house: House) -> bool:
    """Whether the pockets of each drive lie together, all of kinds that may lie in nests."""
    columns = _columns(driven).values()
    loose = all(one.sized.piece.kind in house.layout.nests for one in driven)
    return loose and not any(_stray(column, house.notch.width) for column in columns)


def _larger_in_front(members: Sequence[_Laid]) -> int:
    """Pairs of which the larger lies in front of the smaller."""
    pairs = [(one, other) for one in members for other in members if smaller(one.sized, other.sized)]
    return sum(_center(large, across=False) < _center(small, across=False) for small, large in pairs)


def _stray(members: Sequence[_Laid], near: int) -> int:
    """Pockets with no way to the first one by near ones."""
    reached, rest = [members[0]], list(members[1:])
    for one in reached:
        found = [other for other in rest if _distance(one.box, other.box) <= near]
        reached += found
        rest = [other for other in rest if other not in found]
    return len(rest)


def _distance(one: SceneRectangle, other: SceneRectangle) -> float:
    across = max(one.left - other.right, other.left - one.right, 0)
    return hypot(across, max(one.front - other.back, other.front - one.back, 0))


def _center(one: _Laid, across: bool) -> int:
    """Twice the center's distance from the left, or from the front."""
    return 2 * one.box.left + one.box.width if across else 2 * one.box.front + one.box.depth


def _overlap(one: SceneRectangle, other: SceneRectangle, across: bool) -> float:
    """How much of the smaller extent is shared, from left to right or from front to back."""
    if across:
        return (min(one.right, other.right) - max(one.left, other.left)) / max(min(one.width, other.width), 1)
    return (min(one.back, other.back) - max(one.front, other.front)) / max(min(one.depth, other.depth), 1)


def _descents(part: Sequence[_Laid], across: bool) -> int:
    """Pairs of different sizes of which the larger comes no later; one at least if the sizes differ at all."""
    pairs = [(one, other) for one in part for other in part if smaller(one.sized, other.sized)]
    wrong = sum(_center(large, across) <= _center(small, across) for small, large in pairs)
    return max(wrong, 1) if pairs else 0


def smaller(one: SizedPiece, other: SizedPiece) -> bool:
    """By the sizes as written where the system says what they mean and both are plain numbers, else by rank."""
    first, second = number(one.piece.size), number(other.piece.size)
    if not one.piece.system or first is None or second is None:
        return one.rank < other.rank
    return first < second


@remembered(4096)
def number(text: str) -> Fraction | None:
    """A whole, decimal or mixed number (``13``, ``5.5``, ``9/16``, ``1 1/8``), or ``None`` for any other text."""
    found = NUMBER.fullmatch(text.strip())
    if found is None:
        return None
    whole, above, below, plain = found.groups()
    if plain:
        return Fraction(plain)
    return Fraction(int(whole or 0)) + Fraction(int(above), int(below)) if int(below) else None
