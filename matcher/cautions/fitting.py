"""How organizers sit in their drawers, and on what their sizes rest: loose, wide-gap, corners, unordered, basis."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from matcher.cautions.wording import listed
from matcher.fitting import opening
from matcher.house import House
from matcher.records import (
    Cabinet,
    Caution,
    Drawer,
    Group,
    How,
    LengthUnit,
    Placement,
    Plan,
    Rectangle,
    SizedPiece,
    counted,
    widest,
)

CUT_FROM_PIECES: tuple[How, ...] = ("re-cut", "new", "unordered", "cased")
"""Ways in that rest on the sizes of the pieces, not on a ready-made organizer's."""
READY_MADE: tuple[How, ...] = ("as is", "shim", "trim")
"""Ways in of an organizer that is there already."""


def fit_cautions(cabinet: Cabinet, plan: Plan, house: House) -> Iterator[Caution]:
    """Loose, wide-gap, corners and unordered, per placement."""
    boxes = {drawer.name: drawer for drawer in cabinet.drawers}
    unit = house.lengths.unit_for(cabinet.drawers)
    for placement in plan.placements:
        yield from _gaps(placement, boxes[placement.drawer], house, unit)
        if placement.how in READY_MADE and _meets_corners(placement, boxes[placement.drawer], house):
            where = f"Drawer {placement.drawer}: the {placement.group} organizer meets the drawer's rounded corners"
            yield Caution("corners", "caution", f"{where}: cut its own round with a knife where they are sharp.")
        if placement.how == "unordered":
            one = placement.layout is not None and len(placement.layout.pockets) == 1
            told = "goes in, but only at an angle" if one else "pieces go in, but not in the house order"
            yield Caution("unordered", "caution", f"Drawer {placement.drawer}: {placement.group}: {told}.")


def _meets_corners(placement: Placement, drawer: Drawer, house: House) -> bool:
    """Whether a sharp corner of the organizer would touch a corner of the drawer; no clearance is needed there."""
    space = opening(drawer, house)
    place = Rectangle(placement.left - space.side, placement.front - space.side, placement.width, placement.depth)
    return not space.clears_corners(place, -space.side)


def _gaps(placement: Placement, drawer: Drawer, house: House, unit: LengthUnit) -> Iterator[Caution]:
    axes = (
        ("width", placement.how_width, placement.gap_width, drawer.inside_width),
        ("depth", placement.how_depth, placement.gap_depth, drawer.inside_depth),
    )
    where = f"Drawer {placement.drawer}: the {placement.group} organizer"
    for axis, how, gap, room in axes:
        if how == "as is" and gap > house.clearance.gap:
            yield Caution(
                "loose",
                "caution",
                f"{where} is {unit.show(gap)} loose in {axis}; too little for a filler strip (at least "
                f"{unit.needed(house.clearance.strip_min)}), so it can shift.",
            )
        if how == "shim" and gap / room > house.clearance.wide_gap_share:
            share = f"{gap / room:.0%} of the drawer's {axis}"
            yield Caution(
                "wide-gap", "caution", f"{where} needs {unit.show(gap)} of filler, {share}: consider using it."
            )


def estimated_to_cut(plan: Plan) -> tuple[int, int]:
    """How many pieces that foam is cut for have estimated sizes, and how many these are in all."""
    pieces = [piece for group in _cut_for(plan) for piece in group.pieces]
    return (
        sum(piece.piece.count for piece in pieces if piece.basis == "estimated"),
        sum(piece.piece.count for piece in pieces),
    )


def _cut_for(plan: Plan) -> list[Group]:
    cut = {placement.group for placement in plan.placements if placement.how in CUT_FROM_PIECES}
    return [group for group in plan.groups if group.name in cut]


def basis_cautions(plan: Plan, house: House) -> Iterator[Caution]:
    """Pieces with estimated sizes whose pockets are to be cut."""
    groups = _cut_for(plan)
    guessed = [piece for group in groups for piece in group.pieces if piece.basis == "estimated"]
    number, every = estimated_to_cut(plan)
    if number:
        counts = {
            group.name: sum(piece.piece.count for piece in group.pieces if piece.basis == "estimated")
            for group in groups
        }
        where = listed([f"{name} ({counts[name]})" for name in sorted(counts) if counts[name]])
        yield Caution(
            "basis",
            "caution",
            f"{number} of {counted(every, 'size')} {'is' if number == 1 else 'are'} estimated; measure before cutting. "
            f"In {where}: {_taken(guessed, house)}; use a caliper{_shape(guessed)}.",
        )


def _shape(guessed: Sequence[SizedPiece]) -> str:
    """What to do about shapes that are drawn in the proportions of a kind, common practice, and no tool's own."""
    if all(piece.piece.outline for piece in guessed):
        return ""
    return ", and check the shape too, which is drawn as common for the kind: print the full-size check"


def _taken(guessed: Sequence[SizedPiece], house: House) -> str:
    """Which sizes pockets take, and how far real tools may be beyond them."""
    if house.pocket.estimates == "high":
        return f"pockets take the greatest, and a tool may be up to {widest(guessed, 'low'):.0%} smaller than likely"
    return f"pockets take the likely ones, and a tool may be up to {widest(guessed, 'high'):.0%} larger"
