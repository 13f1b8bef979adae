"""What stands for a group that may be divided: the fewest parts that go in, or in proofs the tool hardest to place."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from matcher.house import House
from matcher.layout import parts, singles
from matcher.planning.grouping import divisible
from matcher.planning.posing import Admit, may_go_in
from matcher.records import Drawer, Group, Scope


def whole_or_parts(group: Group, goes_in: Callable[[Group], bool], house: House) -> tuple[Group, ...]:
    """The group if it goes in whole or cannot be split, else the fewest parts that go in, if there are any."""
    if not divisible(group, house) or goes_in(group):
        return (group,)
    return parts(group, goes_in, house.layout.sides) or (group,)


def narrowest(group: Group, drawers: Iterable[Drawer], house: House, admission: Admit, scope: Scope) -> Group:
    """The piece of a group that, as far as is proved within the scope, the fewest drawers take; of equals the largest.

    It bears the group's name. What has no place for it has none for the group, however that is split.
    """
    boxes, whatever = tuple(drawers), scope == "any layout"

    def taken(single: Group) -> int:
        return sum(may_go_in(admission(single, box, house), any_layout=whatever) for box in boxes)

    least = min(singles(group, house.layout.sides), key=lambda single: (taken(single), -_extent(single)))
    return replace(least, name=group.name)


def _extent(group: Group) -> int:
    return max(piece.length * piece.width for piece in group.pieces)
