"""What a plan takes of foam and of the machine, organizer by organizer, without laying out sheets.

Foam is counted by the area of its blanks and paid for by area: what is left over of sheets is not in it, so a job's own
sheets cost more. `jobs` counts sheets.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from matcher.cutting.blanks import Blank, blanks, fitting, thickness_of
from matcher.cutting.drawings import drawing
from matcher.cutting.guesses import guesses
from matcher.cutting.layers import layered
from matcher.cutting.minutes import organizer_minutes
from matcher.cutting.sheets import preference
from matcher.house import House
from matcher.planning import Fits
from matcher.records import Foam, Layout


@dataclass(frozen=True, slots=True)
class BlankAmount:
    """One organizer to cut: the area of its blank, what foam of that area costs, minutes at the machine.

    ``cost`` is ``None`` where no foam in the catalogue will do or it has no price, ``minutes`` where the house rules
    give no feed or depth of a pass. ``foam`` names the sheets; blank where none will do.
    """

    group: str
    drawer: str
    foam: str
    area: int
    cost: float | None
    minutes: float | None


@dataclass(frozen=True, slots=True)
class Amounts:
    """All organizers of a plan: how many there are, and those to cut one by one.

    ``estimated`` says that sizes of pieces to cut for are not measured, so area, cost and minutes may change.
    """

    organizers: int
    blanks: tuple[BlankAmount, ...]
    estimated: bool

    @property
    def area(self) -> int:
        """Area of all blanks together."""
        return sum(blank.area for blank in self.blanks)

    @property
    def cost(self) -> float | None:
        """Foam for all blanks, ``None`` if the cost of one is not known."""
        costs = [blank.cost for blank in self.blanks]
        return None if None in costs else sum(cost for cost in costs if cost is not None)

    @property
    def minutes(self) -> float | None:
        """At the machine for all blanks, ``None`` if they are not known."""
        minutes = [blank.minutes for blank in self.blanks]
        return None if None in minutes else sum(one for one in minutes if one is not None)


def amounts(made: Fits) -> Amounts:
    """What the plan takes; pieces whose sizes are not measured count with those that are estimated."""
    plan = made.plan
    cut = tuple(_amounts(made))
    to_cut = {one.group for one in cut}
    cased = {group.name for group in plan.groups if group.cased}
    return Amounts(
        organizers=sum(placement.group not in cased for placement in plan.placements),
        blanks=cut,
        estimated=bool(guesses(group for group in plan.groups if group.name in to_cut)),
    )


def _amounts(made: Fits) -> Iterator[BlankAmount]:
    question, house = made.question, made.question.house
    placements = {placement.group: placement for placement in made.plan.placements}
    groups = {group.name: group for group in made.plan.groups}
    drawers = {drawer.name: drawer for drawer in question.cabinet.drawers}
    listed = blanks(made.plan, house)
    layers = layered(listed, question.catalogue.foam, house)
    for n, blank in enumerate(listed):
        sheets = [_sheet(layer.blanks[n], layer.foam, house) for layer in layers]
        top, base = sheets[0], sheets[-1] if len(sheets) > 1 else None
        placement = placements[blank.group]
        assert placement.layout is not None
        thickness = thickness_of(blank, top, base)
        drawn = drawing(
            placement,
            placement.layout,
            groups[blank.group],
            drawers[blank.drawer],
            thickness,
            house,
            production=False,
        )
        yield BlankAmount(
            group=blank.group,
            drawer=blank.drawer,
            foam=" on ".join(sheet.name for sheet in sheets if sheet),
            area=blank.area,
            cost=_cost(blank, sheets),
            minutes=_minutes(placement.layout, drawn.through, thickness, house),
        )


def _sheet(blank: Blank, foam: Iterable[Foam], house: House) -> Foam | None:
    """The foam that a blank takes: the thinnest that will do, of several the cheapest by area."""
    return min(fitting(blank, foam, house), key=preference, default=None)


def _cost(blank: Blank, sheets: Iterable[Foam | None]) -> float | None:
    prices = [
        sheet.price / (sheet.length * sheet.width) if sheet and sheet.price is not None else None for sheet in sheets
    ]
    return None if None in prices else blank.area * sum(price for price in prices if price is not None)


def _minutes(layout: Layout, through: float, thickness: int, house: House) -> float | None:
    """At the machine; ``None`` without a feed or a depth of a pass."""
    if min(house.cut.feed_mm_min, house.cut.pass_depth) <= 0:
        return None
    return organizer_minutes(layout, through, thickness, house.cut, house.cutters).total
