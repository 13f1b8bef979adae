"""A plan beside the drawers it uses, as every rule looks at it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar

from matcher.house import House
from matcher.records import Cabinet, Catalogue, Drawer, Group, GroupRule, Organizer, Piece, Placement, Plan

READY_MADE = ("as is", "shim", "trim")
"""How a ready-made organizer is used, as opposed to pockets cut anew."""
SILENT = GroupRule("")
Said = TypeVar("Said")


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
    """Everything a rule may look at. ``seats`` leaves out placements of unknown groups or drawers."""

    catalogue: Catalogue
    house: House
    plan: Plan
    cabinet: Cabinet
    sets: frozenset[str]
    seats: tuple[Seat, ...]

    @property
    def held(self) -> dict[str, list[Seat]]:
        """What each used drawer holds, by name."""
        held: dict[str, list[Seat]] = defaultdict(list)
        for seat in self.seats:
            held[seat.drawer.name].append(seat)
        return held

    def members(self, group: str) -> list[Piece]:
        """Pieces of these sets that belong to the group of that name."""
        own = (piece for piece in self.catalogue.pieces if piece.set in self.sets)
        return [piece for piece in own if group_of(self.catalogue, piece) == group]


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
    return Scene(catalogue, house, plan, cabinet, _member_sets(catalogue, plan.set), seats)


def _member_sets(catalogue: Catalogue, name: str) -> frozenset[str]:
    """``A+B`` means two sets, unless a set is called just that."""
    known = {piece.set for piece in catalogue.pieces} | {made.set for made in catalogue.organizers}
    return frozenset([name] if name in known else (part.strip() for part in name.split("+")))


def is_cased(group: Group) -> bool:
    """Whether all of a group comes in its own case."""
    return all(piece.piece.kind == "cased" for piece in group.pieces) if group.pieces else group.cased


def called(group: Group, name: str) -> bool:
    """Whether ``name`` means this group or the group that it is a part of."""
    return name != "" and name in (group.name, group.part_of)


def plain_name(group: Group) -> str:
    """The name under which the catalogue speaks of a group or of the group that it is a part of."""
    return group.part_of or (group.organizer.group if group.organizer else group.name)


def rule_of_kind(catalogue: Catalogue, piece: Piece) -> GroupRule:
    """The row of ``groups`` for a piece's kind and system: the catalogue's own before the house's, and of these one
    that names the system before one that does not; where there is none, the row for kind ``other``."""
    rows = [row for row in catalogue.group_rules if piece.kind in row.kinds and row.system in ("", piece.system)]
    other = _first(row for row in catalogue.group_rules if "other" in row.kinds) or SILENT
    return min(rows, key=lambda row: (row.house, not row.system), default=other)


def group_of(catalogue: Catalogue, piece: Piece) -> str:
    """Name of the group that a piece belongs to: as its own row says, of a case its name, else by its kind; blank where
    no row puts it anywhere."""
    return piece.group or (piece.tool if piece.kind == "cased" else rule_of_kind(catalogue, piece).group)


def stated(scene: Scene, group: Group) -> GroupRule:
    """What the catalogue says of a group, value by value by the first that says anything.

    These are its own rows of ``groups``, its ready-made organizer, the house's rows, the row for the kind of its first
    piece; then the tier is that of kind ``other`` or else 1, and the family bears the group's name.
    """
    catalogue, name, made = scene.catalogue, plain_name(group), group.organizer
    rows = [row for row in catalogue.group_rules if row.group == name]
    ladder = [row for row in rows if not row.house]
    ladder += [GroupRule("", made.family, made.tier)] if made else []
    ladder += [row for row in rows if row.house]
    pieces = scene.members(name) if group.part_of else [one.piece for one in group.pieces]
    ladder += [rule_of_kind(catalogue, pieces[0])] if pieces else []
    other = _first(row for row in catalogue.group_rules if "other" in row.kinds) or SILENT
    return GroupRule(
        group=name,
        family=_first(row.family or None for row in ladder) or group.part_of or group.name,
        tier=_first([*(row.tier for row in ladder), other.tier, 1]),
        share=_first(row.share for row in ladder),
        split=_first(row.split for row in ladder),
    )


def _first(said: Iterable[Said | None]) -> Said | None:
    return next((value for value in said if value is not None), None)
