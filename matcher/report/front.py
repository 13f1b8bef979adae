"""Where each drawer of a cabinet stands in its front view: true sizes in millimeters, y down from the top.

Widths are inside widths and heights clear heights. Where the catalogue gives every drawer's height above the ground the
drawers stand at it, else they are drawn one row under the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from matcher.records import Cabinet, Drawer, to_mm

GAP, FRAME = 20.0, 30.0
"""Between drawers of unknown place, and between the outermost drawers and the body's outline, in millimeters."""
WHEEL = 125.0
"""Height of a caster at most, in millimeters; common practice, no source."""


@dataclass(frozen=True, slots=True)
class FrontBox:
    """A rectangle of the picture."""

    x: float
    y: float
    width: float
    height: float

    def meets(self, other: FrontBox) -> bool:
        """Whether two boxes overlap."""
        across = self.x < other.x + other.width and other.x < self.x + self.width
        return across and self.y < other.y + other.height and other.y < self.y + self.height


@dataclass(frozen=True, slots=True)
class Front:
    """A cabinet's front: its body, the ground (``None`` where heights are not known), one box a drawer, in order.

    The body stands on the ground, or on ``casters`` where the catalogue says something of them.
    """

    width: float
    height: float
    body: FrontBox
    ground: float | None
    drawers: tuple[tuple[Drawer, FrontBox], ...]
    casters: tuple[FrontBox, ...] = ()


def front_of(cabinet: Cabinet) -> Front:
    """The front of a cabinet in true proportion."""
    columns = _columns(cabinet.drawers)
    inner = max(left + width for left, width in columns.values())
    width = max(inner + 2 * FRAME, to_mm(cabinet.width or 0))
    across = {drawer: _across(drawer, columns, (width - inner) / 2) for drawer in cabinet.drawers}
    return _at_true_heights(cabinet, across, width) or _stacked(cabinet, across, width)


def _columns(drawers: Sequence[Drawer]) -> Mapping[int, tuple[float, float]]:
    """Left edge and width of every bank; a gap between banks as wide as drawers that span them ask for."""
    banks = sorted({bank for drawer in drawers for bank in (drawer.bank, drawer.last_bank)})
    spans = [(drawer, [b for b in banks if drawer.bank <= b <= drawer.last_bank]) for drawer in drawers]
    own = {
        bank: max(
            [to_mm(drawer.inside_width) for drawer, over in spans if over == [bank]]
            or [to_mm(drawer.inside_width) / len(over) for drawer, over in spans if bank in over]
        )
        for bank in banks
    }
    asked = [
        (to_mm(drawer.inside_width) - sum(own[bank] for bank in over)) / (len(over) - 1)
        for drawer, over in spans
        if len(over) > 1
    ]
    gap = max([GAP, *asked])
    return {bank: (sum(own[b] + gap for b in banks if b < bank), own[bank]) for bank in banks}


def _across(drawer: Drawer, columns: Mapping[int, tuple[float, float]], start: float) -> tuple[float, float]:
    """Left edge and width of a drawer in the middle of its banks."""
    left = columns[drawer.bank][0]
    right = sum(columns[drawer.last_bank])
    width = to_mm(drawer.inside_width)
    return start + (left + right - width) / 2, width


def _at_true_heights(cabinet: Cabinet, across: Mapping[Drawer, tuple[float, float]], width: float) -> Front | None:
    """Every drawer as high above the ground as it is, unless that is not known or would let drawers overlap."""
    floors = [drawer.above_ground for drawer in cabinet.drawers if drawer.above_ground is not None]
    if len(floors) < len(cabinet.drawers):
        return None
    reach = max(to_mm(floor + drawer.clear_height) for floor, drawer in zip(floors, cabinet.drawers, strict=True))
    height = max(reach + FRAME, to_mm(cabinet.height or 0))
    placed = tuple(
        (drawer, _box(drawer, across, height - to_mm(floor + drawer.clear_height)))
        for drawer, floor in zip(cabinet.drawers, floors, strict=True)
    )
    if any(one.meets(other) for (_, one), (_, other) in combinations(placed, 2)):
        return None
    under = max(0.0, height - max(box.y + box.height for _, box in placed) - FRAME)
    wheel = min(WHEEL, under) if cabinet.caster_load is not None or cabinet.caster_trail else 0.0
    inset = 0.06 * width
    casters = [FrontBox(x, height - wheel, wheel, wheel) for x in (inset, width - inset - wheel)] if wheel else []
    return Front(width, height, FrontBox(0, 0, width, height - wheel), height, placed, tuple(casters))


def _stacked(cabinet: Cabinet, across: Mapping[Drawer, tuple[float, float]], width: float) -> Front:
    """One row under the other, as high as its highest drawer."""
    tops, y = {}, FRAME
    for row in sorted({drawer.row for drawer in cabinet.drawers}):
        tops[row] = y
        y += GAP + to_mm(max(drawer.clear_height for drawer in _row(cabinet.drawers, row)))
    placed = tuple((drawer, _box(drawer, across, tops[drawer.row])) for drawer in cabinet.drawers)
    height = y - GAP + FRAME
    return Front(width, height, FrontBox(0, 0, width, height), None, placed)


def _row(drawers: Iterable[Drawer], row: int) -> list[Drawer]:
    return [drawer for drawer in drawers if drawer.row == row]


def _box(drawer: Drawer, across: Mapping[Drawer, tuple[float, float]], y: float) -> FrontBox:
    left, width = across[drawer]
    return FrontBox(left, y, width, to_mm(drawer.clear_height))
