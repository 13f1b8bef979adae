"""Organizers of a released plan in the drawers they were made for: they go in as they are, by how they were made."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TypeAlias

from matcher.fitting import Fit, GoesIn, OutsideSize, box_of
from matcher.house import House
from matcher.planning.made_organizers import same_made
from matcher.planning.question import Question
from matcher.planning.released import MadeOrganizer
from matcher.records import Drawer, Group, Rectangle

Homes: TypeAlias = Mapping[tuple[int, int], MadeOrganizer]
"""The organizer that was made for a group in a drawer, by their indices."""


def homes_of(question: Question, groups: Iterable[Group], drawers: Sequence[Drawer]) -> Homes:
    """The pairs of group and drawer for which an organizer was made, where that drawer is what it was."""
    released = question.released
    if released is None or not released.is_for(question.cabinet):
        return {}
    made = {one.placement.group: one for one in released.made}
    return {
        (g, d): home
        for g, group in enumerate(groups)
        if (home := made.get(group.name)) and same_made(group.organizer, home.row)
        for d, drawer in enumerate(drawers)
        if drawer.name == home.drawer.name and box_of(drawer) == box_of(home.drawer)
    }


def at_home(home: MadeOrganizer, elsewhere: Fit, house: House) -> Fit:
    """How an organizer goes into the drawer it was made for: as is at its place, or beside others in its size.

    By itself in a drawer that it was made to share it goes in as any ready-made one, which is ``elsewhere``.
    """
    row, placed = home.row, home.placement
    size = OutsideSize(row.width, row.depth, row.height, "as is", "as is")
    others = elsewhere.sizes if isinstance(elsewhere, GoesIn) else ()
    if isinstance(elsewhere, GoesIn) and not home.alone:
        return replace(elsewhere, sizes=(size, *others))
    return GoesIn(size, place_of(home, house), (size, *others), placed.gap_width, placed.gap_depth)


def place_of(home: MadeOrganizer, house: House) -> Rectangle:
    """Where the organizer lies in its drawer's opening."""
    side, placed = house.clearance.side, home.placement
    return Rectangle(placed.left - side, placed.front - side, placed.width, placed.depth)
