"""From chosen drawers to placements with real geometry: where each organizer and its pocket field lie (R13)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from matcher.fitting import GoesIn, Opening, OutsideSize, edge, field_in, opening, roomiest
from matcher.layout import eased, evened, realize
from matcher.planning.filling import Packed, filled
from matcher.planning.homes import place_of
from matcher.planning.plainest import plainest
from matcher.planning.posing import Case
from matcher.planning.sharing import SideBySide, share
from matcher.records import Group, Layout, Placement, Rectangle


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
    space = opening(case.drawers[d], case.house)
    if len(members) == 1:
        return [_alone(case, members[0], d, space)]
    return _shared(case, d, members, space)


def _alone(case: Case, g: int, d: int, space: Opening) -> Placement:
    """A group that has the drawer to itself."""
    group, fit = case.groups[g], case.fits[g, d]
    assert isinstance(fit, GoesIn)
    if fit.layout:
        rim = edge(group, space, case.house)
        return _placement(case, g, d, fit.alone, fit.place, fit.layout, fit.field or (rim, rim))
    gaps = fit.gap_width, fit.gap_depth
    if fit.alone.footprint and not group.cased:
        low = replace(space, height=fit.alone.height)
        layout, corner = _plainly(case, group, fit.place, low)
        return _placement(case, g, d, fit.alone, fit.place, layout, corner, gaps)
    return _kept(case, g, d, fit.alone, fit.place, gaps)


def _shared(case: Case, d: int, members: list[int], space: Opening) -> list[Placement]:
    """Groups that share a drawer; foam cut for it is spread over all that the packing leaves, families by tier."""
    shared, every = share(case, d, members), [_sizes(case, g, d) for g in members]
    assert isinstance(shared, SideBySide)
    sizes = [own[choice] for own, (choice, _, _) in zip(every, shared.positions, strict=True)]
    new = [size.footprint is not None and not case.groups[g].cased for g, size in zip(members, sizes, strict=True)]
    packed = [
        Packed(
            Rectangle(left, front, size.width, size.depth),
            tuple((one.width, one.depth) for one in own) if grows else (),
        )
        for own, size, grows, (_, left, front) in zip(every, sizes, new, shared.positions, strict=True)
    ]
    inset = shared.inset
    room = Rectangle(inset, inset, space.width - 2 * inset, space.depth - 2 * inset)
    mixed = len({case.groups[g].family for g in members}) > 1
    found = filled(packed, room, space.blocked, in_turn=mixed)
    return [
        _part(case, g, d, size, place, space) if grows else _kept(case, g, d, size, place, (0, 0))
        for g, size, grows, place in zip(members, sizes, new, found, strict=True)
    ]


def _sizes(case: Case, g: int, d: int) -> tuple[OutsideSize, ...]:
    fit = case.fits[g, d]
    return fit.sizes if isinstance(fit, GoesIn) else ()


def _part(case: Case, g: int, d: int, size: OutsideSize, place: Rectangle, space: Opening) -> Placement:
    """Foam cut for a part of a drawer that is clear of its corners."""
    group, square, margins = case.groups[g], replace(space, corner=0), 2 * case.house.pocket.margin
    layout, corner = _plainly(case, group, place, square)
    found = roomiest(group, (place,), square, case.house)
    assert found is not None
    gaps = place.width - found[1].width - margins, place.depth - found[1].depth - margins
    return _placement(case, g, d, replace(size, height=layout.height), place, layout, corner, gaps)


def _plainly(case: Case, group: Group, place: Rectangle, space: Opening) -> tuple[Layout, tuple[int, int]]:
    """The plainest layout, spread evenly over the place, or in the middle of it where the drawer's corners are in the
    way, its pockets as deep as the floor allows; and where its field begins."""
    margin, (_, _, width, depth) = case.house.pocket.margin, place
    point, style = plainest(group, place, space, case.house)
    if space.corner <= space.side + margin:
        field = width - 2 * margin, depth - 2 * margin
        layout, left, front = evened(group, case.house, point, field, style)
        corner = left + margin, front + margin
    else:
        layout = realize(group, case.house, point, style)
        corner = (width - layout.width) // 2, (depth - layout.depth) // 2
    return eased(layout, case.house.pocket, space.height), corner


def _kept(case: Case, g: int, d: int, size: OutsideSize, place: Rectangle, gaps: tuple[int, int]) -> Placement:
    """A ready-made organizer, or cases standing in the drawer itself."""
    group, (_, _, width, depth), home = case.groups[g], place, case.homes.get((g, d))
    if home and place == place_of(home, case.house):
        made = home.placement
        return _placement(case, g, d, size, place, made.layout, (made.field_left, made.field_front), gaps)
    if size.footprint is None:
        assert group.organizer is not None
        return _placement(case, g, d, size, place, None, field_in(group.organizer, width, depth, case.house)[:2], gaps)
    layout = realize(group, case.house, size.footprint)
    corner = (width - layout.width) // 2, (depth - layout.depth) // 2
    return _placement(case, g, d, size, place, layout, corner, gaps)


def _placement(
    case: Case,
    g: int,
    d: int,
    size: OutsideSize,
    place: Rectangle,
    layout: Layout | None,
    corner: tuple[int, int],
    gaps: tuple[int, int] = (0, 0),
) -> Placement:
    """A group's organizer at its place in the drawer's opening, its field at ``corner`` of it."""
    side = case.house.clearance.side
    left, front, width, depth = place
    return Placement(
        group=case.groups[g].name,
        drawer=case.drawers[d].name,
        how=size.how,
        how_width=size.how_width,
        how_depth=size.how_depth,
        left=left + side,
        front=front + side,
        width=width,
        depth=depth,
        height=size.height,
        gap_width=gaps[0],
        gap_depth=gaps[1],
        layout=layout,
        field_left=corner[0],
        field_front=corner[1],
    )
