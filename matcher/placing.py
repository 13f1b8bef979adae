"""From chosen drawers to placements with real geometry: where each organizer and its pocket field lie (R13)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from matcher.admission import Fit, Size, edge
from matcher.layout import realize
from matcher.openings import Rectangle, opening
from matcher.posing import Case, share
from matcher.records import Group, Layout, Placement


def placements(case: Case, places: Sequence[int]) -> tuple[Placement, ...]:
    """Placements of all groups, in the order of the groups; ``places`` gives each group's drawer index."""
    held: dict[int, list[int]] = defaultdict(list)
    for g, d in enumerate(places):
        held[d].append(g)
    found = {
        g: placement
        for d, members in held.items()
        for g, placement in zip(members, _held(case, d, members), strict=True)
    }
    return tuple(found[g] for g in range(len(case.groups)))


def _held(case: Case, d: int, members: list[int]) -> list[Placement]:
    """Placements of the groups one drawer holds."""
    if len(members) == 1:
        fit = case.fits[members[0], d]
        assert fit.alone is not None
        assert fit.place is not None
        return [_placement(case, members[0], d, fit.alone, fit.place, fit)]
    shared = share(case, d, members)
    placed = []
    for g, (choice, left, front) in zip(members, shared.positions, strict=True):
        size = case.fits[g, d].sizes[choice]
        placed.append(_placement(case, g, d, size, (left, front, size.width, size.depth), None))
    return placed


def _placement(case: Case, g: int, d: int, size: Size, place: Rectangle, alone: Fit | None) -> Placement:
    group, side = case.groups[g], case.house.clearance.side
    layout = alone.layout if alone and alone.layout else _layout(case, group, size)
    left, front, width, depth = place
    if alone and alone.layout:
        field_left = field_front = edge(group, opening(case.drawers[d], case.house), case.house)
    else:
        field_left, field_front = _field_corner(case, group, layout, width, depth)
    return Placement(
        group=group.name,
        drawer=case.drawers[d].name,
        how=size.how,
        how_width=size.how_width,
        how_depth=size.how_depth,
        left=left + side,
        front=front + side,
        width=width,
        depth=depth,
        height=size.height,
        gap_width=alone.gap_width if alone else 0,
        gap_depth=alone.gap_depth if alone else 0,
        layout=layout,
        field_left=field_left,
        field_front=field_front,
    )


def _layout(case: Case, group: Group, size: Size) -> Layout | None:
    if size.footprint is None:
        return None
    house = replace(case.house, layout=size.rules) if size.rules else case.house
    return realize(group, house, size.footprint)


def _field_corner(case: Case, group: Group, layout: Layout | None, width: int, depth: int) -> tuple[int, int]:
    """Where the pocket field begins in its organizer: in the middle, or where a ready-made one has it."""
    if layout is not None:
        return (width - layout.width) // 2, (depth - layout.depth) // 2
    organizer, margin = group.organizer, case.house.pocket.margin
    if organizer is None:
        return 0, 0
    return (
        _after_trim(organizer.field_left, organizer.field_width, organizer.width, width, margin),
        _after_trim(organizer.field_front, organizer.field_depth, organizer.depth, depth, margin),
    )


def _after_trim(offset: int | None, field: int | None, outside: int, size: int, margin: int) -> int:
    """Offset of the field once ``outside`` is trimmed to ``size``: its old share of the foam left, the margin kept."""
    if field is None:
        return 0
    before, after = outside - field, size - field
    start = before // 2 if offset is None else offset
    shared = after * start // before if before else 0
    return start if size == outside else min(max(shared, margin), max(after - margin, 0))
