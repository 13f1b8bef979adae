"""A group's shape curve in three dimensions, and the layout behind each of its points."""

from __future__ import annotations

from functools import lru_cache

from matcher.geometry import moved
from matcher.house import House
from matcher.layout.blocks import Spot
from matcher.layout.poses import Rules, rules_for
from matcher.layout.tree import organizer
from matcher.packing.staircases import EMPTY, least_depths
from matcher.records import Footprint, Group, Layout, Pocket, SizedPiece


def curve(group: Group, house: House) -> tuple[Footprint, ...]:
    """Shape curve of a group's organizer: no footprint beats another, sorted by width, depth, height.

    Sizes are those of the pocket field, without margin; the height is the clear height needed before top clearance.
    Exact for the ordered layouts of `matcher.layout.tree`, a height at a time on the curves of what needs no more.
    Cased equipment stands in the drawer itself: boxes round the cases, without foam. No pieces, no points.
    """
    return _curve(group.pieces, rules_for(group, house)) if group.pieces else ()


@lru_cache(maxsize=1024)
def _curve(pieces: tuple[SizedPiece, ...], rules: Rules) -> tuple[Footprint, ...]:
    block = organizer(pieces, rules).block
    points: list[Footprint] = []
    lower = EMPTY
    for height in block.heights:
        flat = block.curve(height, block.webs[-1])
        better = flat.depths < least_depths(lower, flat.widths)
        sizes = zip(flat.widths[better].tolist(), flat.depths[better].tolist(), strict=True)
        points += [Footprint(width, depth, height) for width, depth in sizes]
        lower = flat
    return tuple(sorted(points))


def realize(group: Group, house: House, footprint: Footprint) -> Layout:
    """Layout behind a footprint: exactly its field if it is a point of the group's curve, else one that goes into it.

    Raises
    ------
    ValueError
        No ordered layout of the group goes into the footprint.
    """
    tree = organizer(group.pieces, rules_for(group, house))
    web = tree.block.webs[-1]
    depth = tree.block.curve(footprint.height, web).depth_at(footprint.width)
    if depth > footprint.depth:
        raise ValueError(f"no ordered layout of {group.name!r} goes into {footprint}")
    spots = tree.block.spots(footprint.height, web, footprint.width, depth, 0, 0)
    return Layout(
        width=max(spot.x + spot.pose.width for spot in spots),
        depth=max(spot.y + spot.pose.depth for spot in spots),
        height=max(spot.pose.rise for spot in spots),
        pockets=tuple(pocket(spot, piece) for spot, piece in zip(spots, tree.pieces, strict=True)),
    )


def pocket(spot: Spot, piece: int) -> Pocket:
    """Pocket of piece number ``piece`` at a spot."""
    ring = moved(spot.pose.outline, spot.x, spot.y)
    return Pocket(piece, ring, spot.pose.cut, spot.pose.rise, spot.pose.way == "standing")
