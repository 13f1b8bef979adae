"""How a tool may be put into foam: the box of its pocket seen from above, how high it stands, the foam it needs around.

A pocket is the box of the tool's outline grown by the fit clearance on every side. Only this module knows that.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from matcher.house import House, PocketRules
from matcher.records import Group, SizedPiece

Way: TypeAlias = Literal["along", "across", "standing"]
"""Lying with the long axis from front to back, lying with it from left to right, standing on end."""


@dataclass(frozen=True, slots=True)
class Pose:
    """A pocket's ``width`` x ``depth`` from above, how high the tool rises over the drawer's floor, how deep the pocket
    is cut, and the least foam between it and a pocket no deeper."""

    way: Way
    width: int
    depth: int
    rise: int
    cut: int
    web: int


@dataclass(frozen=True, slots=True)
class Rules:
    """All that the house and the kind of drawer say about pockets. Cased equipment has none: it stands on the floor."""

    pocket: PocketRules
    reach: int | None
    standing: bool
    cased: bool


def rules_for(group: Group, house: House) -> Rules:
    """Rules under which the tools of ``group`` are laid out."""
    reach = max((cutter.reach for cutter in house.cutters), default=None)
    return Rules(house.pocket, reach, house.layout.standing_sockets, group.cased)


def poses(piece: SizedPiece, rules: Rules) -> tuple[Pose, ...]:
    """Poses a tool may take, the most natural first.

    The pocket's depth is the rule's share of the thickness, within the deepest pocket of the kind and the cutter's
    reach. The tool rises floor + its own thickness above the drawer's floor: with foam as thick as floor and pocket
    the pocket's depth cancels out.
    """
    across = _pose(piece, rules, "across", piece.length, piece.width, piece.height)
    along = _pose(piece, rules, "along", piece.width, piece.length, piece.height)
    lying = (along,) if piece.length == piece.width else (along, across)
    if rules.cased or not rules.standing or piece.diameter is None:
        return lying
    return (_pose(piece, rules, "standing", piece.diameter, piece.diameter, piece.length), *lying)


def _pose(piece: SizedPiece, rules: Rules, way: Way, width: int, depth: int, thickness: int) -> Pose:
    if rules.cased:
        return Pose(way, width, depth, thickness, 0, 0)
    kind, pocket = piece.piece.kind, rules.pocket
    cut = min(int(pocket.share_of(kind) * thickness), pocket.deepest(kind))
    if rules.reach is not None:
        cut = min(cut, rules.reach)
    grown = 2 * pocket.fit
    return Pose(way, width + grown, depth + grown, pocket.floor + thickness, cut, pocket.web_for(cut))
