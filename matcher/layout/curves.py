"""A group's shape curve in three dimensions, and the layout behind each of its points."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import repeat

from matcher.house import House
from matcher.layout.blocks import Room, Spot, levels
from matcher.layout.cutouts import chamfered, moved
from matcher.layout.kept_curves import CurvePoints, recalled_points
from matcher.layout.labels import labelled
from matcher.layout.pocket_rings import radius_for
from matcher.layout.poses import Rules, rules_for, sheets
from matcher.layout.styles import Style
from matcher.layout.tree import organizer
from matcher.packing import EMPTY, least_depths, merged
from matcher.records import Footprint, Group, Layout, Notch, Pocket, SizedPiece, remembered


def curve(group: Group, house: House, style: Style | None = None) -> tuple[Footprint, ...]:
    """The shape curve of a group's organizer: footprints that no other one beats, sorted by width, depth and height.

    Sizes are those of the pocket field, without margin; the height is the clear height needed before top clearance,
    all in 1/320 mm. The curve is that of the ordered layouts of `matcher.layout.tree`: with a ``style`` only of layouts
    in it, of which there may be none, else of all that the house allows. It is exact, with three exceptions: bands
    are tried at a limited number of depths (`matcher.layout.bands`), the lines of large series at a limited number of
    widths and depths (`matcher.layout.breaking`), and of nests only those that a search meets are known
    (`matcher.layout.kind_nests`). There a point may be a little larger than its layout, or missing.

    Cased equipment stands in the drawer itself: its footprints are those of the cases, without foam. A group without
    pieces has no footprint.
    """
    return _curve(group.pieces, rules_for(group, house, style)) if group.pieces else ()


@remembered(1024)
def _curve(pieces: tuple[SizedPiece, ...], rules: Rules) -> tuple[Footprint, ...]:
    points = recalled_points(pieces, rules, lambda: _points(pieces, rules))
    return tuple(Footprint(*point) for point in points)


def _points(pieces: tuple[SizedPiece, ...], rules: Rules) -> CurvePoints:
    """The curve, height by height: a size counts at the least height at which it is possible."""
    blocks = [organizer(pieces, sheet).block for sheet in sheets(pieces, rules)]
    points: list[tuple[int, int, int]] = []
    lower = EMPTY
    for height in levels(block.heights for block in blocks):
        flat = merged([block.curve(height, block.webs[-1]) for block in blocks])
        better = flat.depths < least_depths(lower, flat.widths)
        points += zip(flat.widths[better].tolist(), flat.depths[better].tolist(), repeat(height))
        lower = flat
    return sorted(points)


def realize(group: Group, house: House, footprint: Footprint, style: Style | None = None) -> Layout:
    """A layout that goes into a footprint, and fills it if the footprint is an exact point of the curve.

    Raises
    ------
    ValueError
        No ordered layout of the group goes into the footprint.
    """
    return evened(group, house, footprint, style=style)[0]


def evened(
    group: Group,
    house: House,
    footprint: Footprint,
    room: tuple[int, int] | None = None,
    style: Style | None = None,
) -> tuple[Layout, int, int]:
    """A layout that goes into a footprint, spread evenly over a ``room`` (width, depth) no smaller than the footprint.

    The webs within a line grow alike, and so do those between lines. The lines of a stretch are as even as the room
    allows, blocks side by side are laid out anew in their shares of it, and blocks or stretches side by side begin in
    one line. Without a ``room`` it is the footprint.

    Returns
    -------
    tuple of Layout, int and int
        The layout, and how far from the left and the front of the room its field begins. The field is the smallest
        rectangle round its pockets and notches.

    Raises
    ------
    ValueError
        No ordered layout of the group goes into the footprint.
    """
    rules = rules_for(group, house, style)
    depth, sheet = min(
        ((_depth(group.pieces, sheet, footprint), sheet) for sheet in sheets(group.pieces, rules)),
        key=lambda found: found[0],
    )
    if depth > footprint.depth:
        raise ValueError(f"no ordered layout of {group.name!r} goes into {footprint}")
    tree = organizer(group.pieces, sheet)
    size = footprint.width, depth
    spots = tree.block.spots(footprint.height, tree.block.webs[-1], size, Room(0, 0, *(room or size)))
    left, front = (min(spot.box[side] for spot in spots) for side in (0, 1))
    layout = layout_of([spot.nearer(left, front) for spot in spots], tree.pieces, sheet)
    return labelled(layout, group.pieces, 0 if group.cased else house.pocket.margin), left, front


def _depth(pieces: tuple[SizedPiece, ...], sheet: Rules, footprint: Footprint) -> int:
    """Least depth of an organizer in this foam that is no wider and no higher than the footprint."""
    block = organizer(pieces, sheet).block
    return block.curve(footprint.height, block.webs[-1]).depth_at(footprint.width)


def layout_of(spots: Sequence[Spot], pieces: Sequence[int], sheet: Rules) -> Layout:
    """The layout with a pocket at each spot; ``pieces`` has the index of the piece at each, ``sheet`` is their foam."""
    pockets = tuple(
        Pocket(
            piece, moved(spot.pose.pocket, spot.x, spot.y), spot.pose.cut, spot.pose.rise, spot.pose.way == "standing"
        )
        for spot, piece in zip(spots, pieces, strict=True)
    )
    return Layout(
        width=max(spot.box.right for spot in spots),
        depth=max(spot.box.back for spot in spots),
        height=max(spot.pose.rise for spot in spots),
        pockets=pockets,
        notches=tuple(_notches(spots, sheet)),
        thickness=sheet.thickness,
        base=sheet.base,
    )


def _notches(spots: Sequence[Spot], sheet: Rules) -> Iterator[Notch]:
    """The notches at the spots: those of single pockets, and line notches, as deep as the deepest pocket they join."""
    for n, spot in enumerate(spots):
        if spot.pose.notch:
            yield Notch(moved(spot.pose.notch, spot.x, spot.y), spot.pose.cut, (n,))
        if shared := spot.line_notch:
            joined = range(n + shared.first, n + shared.end)
            cut = max(spots[index].pose.cut for index in joined)
            outline = chamfered(shared.width, shared.depth, radius_for(cut, sheet.cutters))
            ring = moved(outline, shared.left, shared.front)
            yield Notch(ring, cut, tuple(joined))
