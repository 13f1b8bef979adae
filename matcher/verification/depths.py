"""How deep pockets are cut, and the foam that they are cut in; part of R14."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from matcher.house import House
from matcher.records import Layout, Pocket, SizedPiece, show_mm
from matcher.verification.arithmetic import deepest_pocket, floor_under, laid_size, next_step, sunk
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Seat


def depths_kept(seat: Seat, layout: Layout, house: House) -> Iterator[Violation]:
    """Every pocket is neither deeper nor shallower than the house says, in foam that is thick enough and of stock."""
    beds = [
        _Bed(pocket, seat.group.pieces[pocket.piece], layout, house)
        for pocket in layout.pockets
        if 0 <= pocket.piece < len(seat.group.pieces)
    ]
    top = max([layout.thickness, *(bed.below + bed.least_height for bed in beds)])
    for bed in beds:
        least, most = bed.least(), bed.most(top)
        for lack, word in ((bed.pocket.depth - most, "deep"), (least - bed.pocket.depth, "shallow")):
            if lack > 0:
                text = f"{seat.group.name}: the pocket of {bed.sized.piece.tool} is too {word} by {show_mm(lack)}"
                yield Violation("R14", seat.group.name, lack, text)
    lacks = (
        (_off_stock(layout, house), "is not of a thickness in stock"),
        (_too_thin(beds, layout, house), "is too thin for the depth of its pockets"),
        (max((bed.rise - bed.pocket.rise for bed in beds), default=0), "raises a piece above what is said"),
        (layout.thickness - layout.height, "is itself higher than said"),
    )
    for lack, words in lacks:
        if lack > 0:
            text = f"{seat.group.name}: foam of {show_mm(layout.thickness)} {words}, by {show_mm(lack)}"
            yield Violation("R14", seat.group.name, lack, text)


@dataclass(frozen=True, slots=True)
class _Bed:
    """A pocket, the piece in it, the foam that it is cut in and the house rules."""

    pocket: Pocket
    sized: SizedPiece
    layout: Layout
    house: House

    @property
    def height(self) -> int:
        """Thickness of the piece as it lies, or its length as it stands."""
        return laid_size(self.sized, self.pocket.standing)[2]

    @property
    def settled(self) -> bool:
        """Whether the piece stands or cannot stand: one that lies but could stand may be in foam chosen for either."""
        return self.pocket.standing or self.sized.diameter is None

    @property
    def least_height(self) -> int:
        """Its height, or the lesser one of both ways if it is not settled."""
        return self.height if self.settled else min(self.height, laid_size(self.sized, True)[2])

    @property
    def below(self) -> int:
        """Foam that is to be left under the deepest pocket."""
        return floor_under(self.house.pocket, self.layout.base > 0)

    @property
    def rise(self) -> int:
        """How high the piece really stands above the floor of the drawer, or the foam round it if that is higher."""
        return self.layout.thickness + max(self.height - self.pocket.depth, 0)

    @property
    def own(self) -> int:
        """How deep the piece lies by itself: its kind's share of its height; with a base, down to that at least."""
        sheet = self.layout.thickness - self.layout.base if self.layout.base else 0
        return max(sunk(self.house, self.sized.piece.kind, self.height), sheet)

    def least(self) -> int:
        """Least depth: as deep as the piece lies by itself; on a base, or if the foam was not chosen for it as it lies,
        no deeper than the foam leaves, a thin sheet's tolerance allowed for."""
        if self.settled and not self.layout.base:
            return self.own
        tolerance = 0 if self.layout.base else self.house.pocket.stock_tolerance
        return min(self.own, self.layout.thickness - self.below - tolerance)

    def most(self, top: int) -> int:
        """Greatest depth: deeper than the piece lies by itself only so far that it does not stand out above what stands
        highest anyway (``top``), and then to the next step of the house where that leaves the floor in a thin sheet;
        never deeper than its kind's deepest pocket or into the floor."""
        foam, rules = self.layout.thickness, self.house.pocket
        needed = max(self.own, foam + self.height - top)
        stepped = min(next_step(rules, needed), foam - self.below - _lost(self.layout, self.house))
        return min(max(needed, stepped), deepest_pocket(self.house, self.sized.piece.kind), foam - rules.floor)

    def through(self) -> int:
        """Thickest top sheet over a base that the pocket may be cut through; one for a piece that stands leaves it to
        stand out by a grip, or is the thinnest in stock."""
        deepest, stock = deepest_pocket(self.house, self.sized.piece.kind), self.house.pocket.stock
        if self.sized.diameter is None:
            return deepest
        return min(deepest, max(laid_size(self.sized, True)[2] - self.house.notch.grip, min(stock, default=0)))


def _off_stock(layout: Layout, house: House) -> int:
    """How far the foam is off the nearest sheet in stock, over a base if it has one; foam thicker than all sheets, as
    thin as they may be, is made for it."""
    stock = house.pocket.stock
    return 0 if _made_for_it(layout, house) else min((abs(_sheet(layout) - thick) for thick in stock), default=0)


def _sheet(layout: Layout) -> int:
    """Thickness of the sheet from stock, the base taken off."""
    return layout.thickness - layout.base


def _lost(layout: Layout, house: House) -> int:
    """By what a sheet from stock may be thinner; with a base that counts among what is left under pockets."""
    return 0 if layout.base or _made_for_it(layout, house) else house.pocket.stock_tolerance


def _made_for_it(layout: Layout, house: House) -> bool:
    rules = house.pocket
    return not layout.base and layout.thickness > max(rules.stock, default=0) - rules.stock_tolerance


def _too_thin(beds: Sequence[_Bed], layout: Layout, house: House) -> int:
    """What is lacking under pockets as deep as their pieces lie by themselves.

    A sheet from stock has the floor even if it is thin. On a base, where both sheets have it, the top sheet may be too
    thin if it is the thickest in stock that all pockets may be cut through.
    """
    rules, deepest = house.pocket, max((bed.own for bed in beds if bed.settled), default=0)
    lack = deepest + floor_under(rules, layout.base > 0) + _lost(layout, house) - layout.thickness
    through = min((bed.through() for bed in beds), default=0)
    thickest = bool(layout.base) and not any(_sheet(layout) < sheet <= through for sheet in rules.stock)
    return 0 if thickest else lack
