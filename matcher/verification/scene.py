"""A plan beside the drawers it uses, as every rule looks at it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from matcher.house import House
from matcher.records import Cabinet, Catalogue, Drawer, Group, GroupRule, Organizer, Pin, Placement, Plan
from matcher.verification.belonging import Belonging, belonging, names_of, said_of, said_of_joined

READY_MADE = ("as is", "shim", "trim")
"""How a ready-made organizer is used, as opposed to pockets cut anew."""


@dataclass(frozen=True, slots=True)
class SceneRectangle:
    """A rectangle seen from above."""

    left: int
    front: int
    width: int
    depth: int

    @property
    def right(self) -> int:
        """Distance of the right edge from the origin."""
        return self.left + self.width

    @property
    def back(self) -> int:
        """Distance of the back edge from the origin."""
        return self.front + self.depth

    def grown(self, by: int) -> SceneRectangle:
        """The rectangle with ``by`` more on every side."""
        return SceneRectangle(self.left - by, self.front - by, self.width + 2 * by, self.depth + 2 * by)

    def overlap(self, other: SceneRectangle) -> int:
        """How far one would have to move until the two do not overlap; 0 or less if they do not."""
        across = min(self.right - other.left, other.right - self.left)
        along = min(self.back - other.front, other.back - self.front)
        return min(across, along)

    def beyond(self, other: SceneRectangle) -> int:
        """How far this rectangle sticks out of ``other`` at most; 0 or less if it lies inside."""
        sides = (other.left - self.left, self.right - other.right, other.front - self.front, self.back - other.back)
        return max(sides)


@dataclass(frozen=True, slots=True)
class Seat:
    """A placement with the group and the drawer that it names."""

    placement: Placement
    group: Group
    drawer: Drawer

    @property
    def box(self) -> SceneRectangle:
        """The organizer's outside in the drawer."""
        return SceneRectangle(self.placement.left, self.placement.front, self.placement.width, self.placement.depth)

    @property
    def ready(self) -> Organizer | None:
        """The ready-made organizer, if this placement uses it."""
        return self.group.organizer if self.placement.how in READY_MADE else None

    @property
    def cased(self) -> bool:
        """Whether this is equipment in its own case, by its pieces' kinds."""
        return is_cased(self.group)


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything a rule may look at. ``seats`` leaves out placements of unknown groups or drawers; ``pins`` are those
    about these sets and this cabinet."""

    catalogue: Catalogue
    house: House
    plan: Plan
    cabinet: Cabinet
    sets: frozenset[str]
    seats: tuple[Seat, ...]
    pins: tuple[Pin, ...]
    belonging: Belonging

    @property
    def held(self) -> dict[str, list[Seat]]:
        """What each used drawer holds, by name."""
        held: dict[str, list[Seat]] = defaultdict(list)
        for seat in self.seats:
            held[seat.drawer.name].append(seat)
        return held


def scene_of(catalogue: Catalogue, house: House, plan: Plan) -> Scene | None:
    """The plan with its drawers; ``None`` if the catalogue does not have its cabinet."""
    cabinet = next((cabinet for cabinet in catalogue.cabinets if cabinet.name == plan.cabinet), None)
    if cabinet is None:
        return None
    groups = {group.name: group for group in plan.groups}
    drawers = {drawer.name: drawer for drawer in cabinet.drawers}
    seats = tuple(
        Seat(placement, groups[placement.group], drawers[placement.drawer])
        for placement in plan.placements
        if placement.group in groups and placement.drawer in drawers
    )
    sets = _member_sets(catalogue, plan.set)
    pins = pins_about(catalogue, (plan.set, *sets), cabinet.name)
    return Scene(catalogue, house, plan, cabinet, sets, seats, pins, belonging(catalogue, sets, pins))


def _member_sets(catalogue: Catalogue, name: str) -> frozenset[str]:
    """``A+B`` means two sets, unless a set is called just that."""
    known = {piece.set for piece in catalogue.pieces} | {made.set for made in catalogue.organizers}
    return frozenset([name] if name in known else (part.strip() for part in name.split("+")))


def is_cased(group: Group) -> bool:
    """Whether all of a group comes in its own case."""
    return all(piece.piece.kind == "cased" for piece in group.pieces) if group.pieces else group.cased


def called(scene: Scene, group: Group, name: str) -> bool:
    """Whether ``name`` means this group, the group that it is a part of, one that is joined to it, or the group of
    which it is the tools of one drive or system."""
    own, whole = scene.belonging, group.part_of or group.name
    members = own.joined.get(whole, (whole,))
    return name != "" and name in (group.name, group.part_of, *members, *(own.whole.get(one) for one in members))


def stated(scene: Scene, group: Group) -> GroupRule:
    """What the catalogue says of a group; of a joined one what it says of the first in it, shared only if all may be,
    and never divided."""
    own, name = scene.belonging, group.part_of or group.name
    if name in own.joined:
        said = said_of_joined(scene.catalogue, own, own.joined[name])
        shared = not any(rule.share is False for rule in said)
        return GroupRule(name, said[0].family, said[0].tier, share=shared, split=False)
    pieces = own.pieces.get(name, ()) if group.part_of else [one.piece for one in group.pieces]
    made = None if group.part_of else group.organizer
    names = names_of(own, name, made)
    return said_of(scene.catalogue, names, pieces, group.organizer, own.whole.get(name, name))


def pins_about(catalogue: Catalogue, names: Iterable[str], cabinet: str) -> tuple[Pin, ...]:
    """Every pin of these sets and this cabinet; a blank set or cabinet means all."""
    sets = ("", *names)
    return tuple(pin for pin in catalogue.pins if pin.set in sets and pin.cabinet in ("", cabinet))
