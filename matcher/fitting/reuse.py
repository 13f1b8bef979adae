"""Whether an organizer cut for one drawer goes into another: as is, with a strip, trimmed, or not without re-cutting.

The rules are those of R15 and of trade practice for reuse: p + 2m <= target is the least an organizer is trimmed to.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from matcher.fitting.admission import GoesIn, admit
from matcher.fitting.shortfalls import Axis
from matcher.house import House
from matcher.records import Drawer, Group, How, Organizer, Placement


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
    """The organizer of a placement as cut for it, its pocket field where it is known."""
    made = Organizer("", group.name, placement.width, placement.depth, placement.height)
    if placement.layout:
        return replace(made, field_width=placement.layout.width, field_depth=placement.layout.depth)
    ready = group.organizer
    return replace(made, field_width=ready.field_width, field_depth=ready.field_depth) if ready else made


def carried(organizer: Organizer, drawer: Drawer, house: House, rounded: int = 0) -> Carried:
    """How ``organizer`` gets into ``drawer`` alone; only its outside, pocket field and height count, not its load.

    ``rounded`` is the corner radius it is cut for: a drawer's corner that is no larger is not in its way.
    """
    group = Group(organizer.group, "", 0, "", False, False, False, (), organizer, 0, 0, None)
    corner = drawer.corner_radius if drawer.corner_radius > rounded else 0
    fit = admit(group, replace(drawer, slot="foam", load_rating=None, corner_radius=corner), house)
    if not isinstance(fit, GoesIn):
        return Carried("re-cut", lacks=fit.shortfall.axis, short=fit.shortfall.short)
    width, depth = fit.alone.width - organizer.width, fit.alone.depth - organizer.depth
    return Carried(fit.alone.how, width or fit.gap_width, depth or fit.gap_depth)


def rounded_for(placement: Placement, group: Group, drawer: Drawer) -> int:
    """The corner radius an organizer is cut for: its drawer's, but a ready-made one keeps the corners it has."""
    ready = group.organizer
    return drawer.corner_radius if placement.layout or ready is None else ready.rounded


def spot_of(placement: Placement, drawer: Drawer, alone: bool, house: House) -> Drawer:
    """The drawer if the placement has it alone, else a box that offers just the placement's part of it."""
    if alone:
        return drawer
    rim = 2 * house.clearance.side
    box = replace(drawer, inside_width=placement.width + rim, inside_depth=placement.depth + rim)
    return replace(box, corner_radius=0, obstructions=())
