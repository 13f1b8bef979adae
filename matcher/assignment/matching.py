"""Counting before searching: which groups can have a drawer each, and if not all, the groups that show why.

A bipartite matching decides; where it leaves a group out, the groups reached from it by alternating paths are one more
than their drawers (Hall 1935). Such a set is inclusion-minimal: each proper subset of it can be matched.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Deficiency:
    """``groups`` that have only ``drawers`` between them: one drawer too few."""

    groups: tuple[int, ...]
    drawers: tuple[int, ...]


def matching(drawers_of: Sequence[Collection[int]]) -> tuple[int | None, ...]:
    """Drawer of each group in a maximum matching, ``None`` for a group left out.

    ``drawers_of`` lists each group's drawers; earlier drawers are tried first. Shortest augmenting paths, O(V E).
    """
    place: list[int | None] = [None] * len(drawers_of)
    holder: dict[int, int] = {}
    for group in range(len(drawers_of)):
        _augment(group, drawers_of, place, holder)
    return tuple(place)


def deficient_set(drawers_of: Sequence[Collection[int]]) -> Deficiency | None:
    """An inclusion-minimal set of groups with fewer drawers than groups, or ``None`` if each can have its own.

    Of the sets that belong to one maximum matching the smallest is given, then the first.
    """
    place = matching(drawers_of)
    holder = {drawer: group for group, drawer in enumerate(place) if drawer is not None}
    found = [_reached(group, drawers_of, holder) for group, drawer in enumerate(place) if drawer is None]
    return min(found, key=lambda deficiency: (len(deficiency.groups), deficiency.groups), default=None)


def _augment(
    start: int, drawers_of: Sequence[Collection[int]], place: list[int | None], holder: dict[int, int]
) -> None:
    """Give ``start`` a drawer along a shortest alternating path, if there is one."""
    came_from: dict[int, int] = {}
    queue = deque([start])
    while queue:
        group = queue.popleft()
        for drawer in drawers_of[group]:
            if drawer in came_from:
                continue
            came_from[drawer] = group
            if drawer not in holder:
                _flip(drawer, came_from, place, holder)
                return
            queue.append(holder[drawer])


def _flip(drawer: int, came_from: dict[int, int], place: list[int | None], holder: dict[int, int]) -> None:
    """Move every group on the path to the drawer it was reached by."""
    end: int | None = drawer
    while end is not None:
        group = came_from[end]
        before = place[group]
        place[group], holder[end] = end, group
        end = before


def _reached(start: int, drawers_of: Sequence[Collection[int]], holder: dict[int, int]) -> Deficiency:
    groups, drawers, queue = {start}, set[int](), deque([start])
    while queue:
        for drawer in drawers_of[queue.popleft()]:
            if drawer not in drawers:
                drawers.add(drawer)
                groups.add(holder[drawer])
                queue.append(holder[drawer])
    return Deficiency(tuple(sorted(groups)), tuple(sorted(drawers)))
