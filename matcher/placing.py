"""From chosen drawers to placements with real geometry: where each organizer and its pocket field lie (R13)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from matcher.admission import Fit, Size, edge
from matcher.layout import evened, realize
from matcher.openings import Opening, Rectangle, opening
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
    space = opening(case.drawers[d], case.house)
    left, front, width, depth = place
    if alone and alone.layout:
        layout, field_left = alone.layout, edge(group, space, case.house)
        field_front = field_left
    elif size.footprint:
        layout, field_left, field_front = _laid_out(case, group, size, space, (width, depth))
    else:
        layout, (field_left, field_front) = None, _field_corner(case, group, width, depth)
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


def _laid_out(
    case: Case, group: Group, size: Size, space: Opening, outside: tuple[int, int]
) -> tuple[Layout, int, int]:
    """The size's layout and where its field begins: spread evenly over all the foam within the margins, or in the
    middle of it where the drawer's corners are in the way; cases stand in the drawer itself."""
    assert size.footprint is not None
    house = replace(case.house, layout=size.rules) if size.rules else case.house
    margin = case.house.pocket.margin
    if group.cased or not space.clears_corners(space.side + margin, 0, 0):
        layout = realize(group, house, size.footprint)
        return layout, (outside[0] - layout.width) // 2, (outside[1] - layout.depth) // 2
    layout, left, front = evened(group, house, size.footprint, (outside[0] - 2 * margin, outside[1] - 2 * margin))
    return layout, left + margin, front + margin


def _field_corner(case: Case, group: Group, width: int, depth: int) -> tuple[int, int]:
    """Where the pocket field of a ready-made organizer begins."""
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
