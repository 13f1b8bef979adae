"""Whether an organizer cut for one drawer goes into another: as is, with a strip, trimmed, or not without re-cutting.

The rules are those of R15 and of trade practice for reuse: p + 2m <= target is the least an organizer is trimmed to.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from matcher.fitting.admission import admit
from matcher.fitting.fits import GoesIn
from matcher.fitting.ready_made import field_in
from matcher.fitting.shortfalls import Axis
from matcher.house import House
from matcher.records import Drawer, Group, How, KeptOrganizer, Organizer, Placement, Rectangle, between


@dataclass(frozen=True, slots=True)
class Carried:
    """How an organizer that exists gets into a drawer.

    ``width`` and ``depth`` are what changes per axis: cut off (negative) or left open beyond the side clearances.
    For ``re-cut`` both are 0, ``lacks`` is the direction in which the drawer is too small and ``short`` by how much.
    """

    how: How
    width: int = 0
    depth: int = 0
    lacks: Axis | None = None
    short: int = 0


def organizer_of(placement: Placement, group: Group) -> Organizer:
    """The organizer of a placement as a ready-made one: its outside as placed, its pocket field where that is known."""
    layout, ready = placement.layout, group.organizer
    wide, deep = (layout.width, layout.depth) if layout and not group.cased else (None, None)
    if ready and not layout:
        wide, deep = ready.field_width, ready.field_depth
    return Organizer(
        set="",
        group=group.name,
        width=placement.width,
        depth=placement.depth,
        height=placement.height,
        field_width=wide,
        field_depth=deep,
        field_left=None if wide is None else placement.field_left,
        field_front=None if deep is None else placement.field_front,
    )


def kept_of(placement: Placement, group: Group) -> KeptOrganizer:
    """The organizer of a placement as another plan may keep it: at its place, with how many tools it holds."""
    made = organizer_of(placement, group)
    place = (placement.drawer, made, placement.left, placement.front)
    return KeptOrganizer(*place, group.tools, group.part_of, group.mass_low, group.mass_high)


def block_of(held: Sequence[KeptOrganizer], house: House) -> Organizer:
    """What lies in one drawer as one organizer: all of the outsides and all of the pocket fields together."""
    if len(held) == 1:
        return held[0].made
    outsides, fields = [], []
    for kept in held:
        made = kept.made
        outsides.append(Rectangle(kept.left, kept.front, made.width, made.depth))
        fields.append(field_in(made, made.width, made.depth, house).moved(kept.left, kept.front))
    outside, field = _around(outsides), _around(fields)
    return Organizer(
        set="",
        group=" + ".join(kept.made.group for kept in held),
        width=outside.width,
        depth=outside.depth,
        height=max(kept.made.height for kept in held),
        field_width=field.width,
        field_depth=field.depth,
        field_left=field.left - outside.left,
        field_front=field.front - outside.front,
    )


def _around(places: Sequence[Rectangle]) -> Rectangle:
    """The smallest rectangle round all of these."""
    left, front = min(place.left for place in places), min(place.front for place in places)
    return between(left, front, max(place.right for place in places), max(place.back for place in places))


def carried(organizer: Organizer, drawer: Drawer, house: House) -> Carried:
    """How ``organizer`` gets into ``drawer`` alone; only its outside, pocket field and height count, not its load."""
    group = Group(organizer.group, "", 0, "", False, False, False, (), organizer, 0, 0, None)
    fit = admit(group, replace(drawer, slot="foam", load_rating=None), house)
    if not isinstance(fit, GoesIn):
        return Carried("re-cut", lacks=fit.shortfall.axis, short=fit.shortfall.short)
    width, depth = fit.alone.width - organizer.width, fit.alone.depth - organizer.depth
    return Carried(fit.alone.how, width or fit.gap_width, depth or fit.gap_depth)


def spot_of(placement: Placement, drawer: Drawer, alone: bool, house: House) -> Drawer:
    """The drawer if the placement has it alone, else a box that offers just the placement's part of it."""
    if alone:
        return drawer
    rim = 2 * house.clearance.side
    box = replace(drawer, inside_width=placement.width + rim, inside_depth=placement.depth + rim)
    return replace(box, corner_radius=0, obstructions=())
