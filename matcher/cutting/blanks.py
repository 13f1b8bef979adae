"""What has to be made or changed for a plan: blanks to cut pockets into, and organizers on hand to trim or to shim."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from matcher.house import House
from matcher.records import Foam, Group, How, Layout, Placement, Plan

CUT: tuple[How, ...] = ("re-cut", "new", "unordered")
"""Ways into a drawer that need foam; the others use an organizer on hand."""


@dataclass(frozen=True, slots=True)
class Blank:
    """A piece of foam for one organizer, outside ``width`` x ``depth``.

    ``needed`` is the floor and the deepest pocket or notch; ``planned`` is the thickness of foam for which the pockets
    were laid out, 0 where the layout leaves it open, and ``base`` how much of it is a base. ``like`` is the foam of the
    ready-made organizer that this one replaces, if the catalogue knows it. A blank that is ``bonded`` is one of two
    sheets.
    """

    group: str
    drawer: str
    how: How
    width: int
    depth: int
    needed: int
    planned: int
    like: str = ""
    base: int = 0
    bonded: bool = False

    @property
    def least(self) -> int:
        """Thickness on which the plan counts: pieces in thicker foam rise higher."""
        return self.planned or self.needed

    def allows(self, foam: Foam) -> bool:
        """Whether foam is thick enough: as thick as planned, else floor and pockets also in the thinnest sheet.

        thickness - tolerance >= floor + deepest pocket (trade practice: T >= b + f t). Each of two sheets is as thick
        as planned, within its own tolerance: a thicker top sheet would hide the base.
        """
        if self.bonded:
            return abs(foam.thickness - self.planned) <= foam.tolerance
        return foam.thickness >= self.planned if self.planned else foam.thickness - foam.tolerance >= self.needed

    @property
    def area(self) -> int:
        """Outside area."""
        return self.width * self.depth


@dataclass(frozen=True, slots=True)
class Refit:
    """A ready-made organizer to be changed: trimmed down to its new outside size, or filled up by strips.

    Along an axis that is trimmed the size falls ``from`` the old to the new; ``strip_width`` and ``strip_depth`` are
    the gaps that filler strips close, 0 where there is none.
    """

    group: str
    drawer: str
    part: str
    how: How
    from_width: int
    from_depth: int
    width: int
    depth: int
    strip_width: int
    strip_depth: int


def blanks(plan: Plan, house: House) -> tuple[Blank, ...]:
    """A blank for every organizer of the plan that has to be cut, in the order of its placements."""
    groups = {group.name: group for group in plan.groups}
    return tuple(
        _blank(placement, placement.layout, groups[placement.group], house)
        for placement in plan.placements
        if placement.how in CUT and placement.layout is not None
    )


def refits(plan: Plan) -> tuple[Refit, ...]:
    """A job for every ready-made organizer of the plan that is trimmed or shimmed, in the order of its placements."""
    groups = {group.name: group for group in plan.groups}
    return tuple(
        refit
        for placement in plan.placements
        if placement.how in ("trim", "shim")
        for refit in _refit(placement, groups[placement.group])
    )


def depths(layout: Layout) -> tuple[int, ...]:
    """Depths of its pockets and notches, each once, shallowest first."""
    return tuple(sorted({pocket.depth for pocket in layout.pockets} | {notch.depth for notch in layout.notches}))


def holds(foam: Foam, blank: Blank, house: House) -> bool:
    """Whether the blank goes on a sheet of the foam, and the sheet whole on the router's bed."""
    width, depth = room(foam, house)
    bed = sorted((house.cut.bed_length, house.cut.bed_width))
    on_bed = all(side <= limit for side, limit in zip(sorted((foam.length, foam.width)), bed, strict=True))
    return on_bed and any(w <= width and d <= depth for w, d in ways(blank, house))


def room(foam: Foam, house: House) -> tuple[int, int]:
    """Length and width of a sheet once its edges are trimmed; never less than the blade takes."""
    lost = 2 * max(house.cut.edge, house.cut.kerf)
    return max(0, foam.length - lost), max(0, foam.width - lost)


def ways(blank: Blank, house: House) -> tuple[tuple[int, int], ...]:
    """Sizes along a sheet's length and width that a blank may take: as it is, and turned by a quarter if allowed."""
    turned = house.cut.turn and blank.width != blank.depth
    return ((blank.width, blank.depth), *([(blank.depth, blank.width)] if turned else []))


def fitting(blank: Blank, foam: Iterable[Foam], house: House) -> tuple[Foam, ...]:
    """Foam rows thick and large enough for the blank, of the material it should be like if that is stocked."""
    rows = [row for row in foam if blank.allows(row) and holds(row, blank, house)]
    model = next((row for row in foam if row.name == blank.like), None)
    alike = [row for row in rows if model and (row.color, row.density) == (model.color, model.density)]
    return tuple(alike or rows)


def thickness_of(blank: Blank, foam: Foam | None, base: Foam | None) -> int:
    """How thick the blank is: as its sheets are, or where there is none as the plan counts on."""
    return (foam.thickness if foam else blank.least - blank.base) + (base.thickness if base else blank.base)


def _blank(placement: Placement, layout: Layout, group: Group, house: House) -> Blank:
    return Blank(
        group=placement.group,
        drawer=placement.drawer,
        how=placement.how,
        width=placement.width,
        depth=placement.depth,
        needed=house.pocket.floor + depths(layout)[-1],
        planned=layout.thickness,
        base=layout.base,
        like=group.organizer.foam if group.organizer else "",
    )


def _refit(placement: Placement, group: Group) -> tuple[Refit, ...]:
    ready = group.organizer
    if ready is None:
        return ()
    return (
        Refit(
            group=placement.group,
            drawer=placement.drawer,
            part=ready.part,
            how=placement.how,
            from_width=ready.width,
            from_depth=ready.depth,
            width=placement.width,
            depth=placement.depth,
            strip_width=placement.gap_width if placement.how_width == "shim" else 0,
            strip_depth=placement.gap_depth if placement.how_depth == "shim" else 0,
        ),
    )
