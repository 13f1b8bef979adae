"""What a machine follows for one organizer: closed outlines with their depths, and the words beside them.

Seen from above, origin at the organizer's front left corner, x to the right, y to the back.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from matcher.cutting.contours import QUARTER, Contour, ContourPart, Vertex
from matcher.cutting.cut_order import in_cutting_order
from matcher.cutting.lettering import LetterLine, strokes
from matcher.house import House
from matcher.records import Drawer, Group, Label, Layout, Notch, Obstruction, Placement, Pocket, mm, show_mm


@dataclass(frozen=True, slots=True)
class DrawnWords:
    """A text with its middle at (x, y), ``upright`` if it reads from the front to the back; on the face of the foam,
    where it may be engraved, or in a pocket."""

    text: str
    x: int
    y: int
    height: int
    upright: bool = False
    on_foam: bool = True

    @property
    def lines(self) -> tuple[LetterLine, ...]:
        """Its letters as single lines to be engraved; none for a text that is not on the face of the foam."""
        return strokes(self.text, self.x, self.y, self.height, self.upright) if self.on_foam else ()


@dataclass(frozen=True, slots=True)
class Drawing:
    """One organizer: its contours in the order in which they are cut, the outer one last, and the sizes written beside
    the pockets; a note under its name."""

    name: str
    width: int
    depth: int
    thickness: int
    contours: tuple[Contour, ...]
    sizes: tuple[DrawnWords, ...]
    production: bool
    note: str = ""

    @property
    def through(self) -> float:
        """Length in millimeters of what is cut right through: the outline, and what is cut out for obstructions."""
        return sum(contour.length for contour in self.contours if contour.part in ("outer", "cutout"))


def drawing(
    placement: Placement, layout: Layout, group: Group, drawer: Drawer, thickness: int, house: House, production: bool
) -> Drawing:
    """The drawing of an organizer ``thickness`` thick; ``production`` is whether it may be cut from."""
    return Drawing(
        name=f"{placement.group}, drawer {placement.drawer}",
        width=placement.width,
        depth=placement.depth,
        thickness=thickness,
        contours=in_cutting_order(
            [
                *cuts(layout, placement.field_left, placement.field_front),
                *_cutouts(placement, drawer.obstructions, thickness, house),
                Contour("outer", thickness, outline(placement, drawer, house)),
            ]
        ),
        sizes=tuple(_sizes(placement, layout, group)),
        production=production,
        note=bond_note(layout) if layout.base else "",
    )


def bond_note(layout: Layout) -> str:
    """What to do with the two sheets of a layout that has a base."""
    top, base = show_mm(layout.thickness - layout.base), show_mm(layout.base)
    return f"two sheets, {top} on a base of {base}: bond, then cut; depths from the top"


def outline(placement: Placement, drawer: Drawer, house: House) -> tuple[Vertex, ...]:
    """The outer cut, counterclockwise from the front left: a corner is rounded where it would touch the drawer's.

    A corner ``x`` and ``y`` off the walls is rounded by the drawer's radius less the smaller of the two: the arc then
    keeps at least as far from the drawer's corner as that side keeps from its wall (R10).
    """
    right = drawer.inside_width - placement.left - placement.width
    back = drawer.inside_depth - placement.front - placement.depth
    walls = ((placement.left, placement.front), (right, placement.front), (right, back), (placement.left, back))
    corners = ((0, 0), (placement.width, 0), (placement.width, placement.depth), (0, placement.depth))
    most = min(placement.width, placement.depth) // 2
    side = house.clearance.side
    radii = [min(most, rounding(*off, drawer.corner_radius, side)) for off in walls]
    return tuple(
        vertex
        for n, (corner, radius) in enumerate(zip(corners, radii, strict=True))
        for vertex in _rounded(corner, radius, n)
    )


def rounding(across: int, along: int, radius: int, side: int) -> int:
    """Radius for a corner of foam so far from two walls that meet in a corner of ``radius``; 0 where it is clear.

    It is clear if it lies within the circle of radius - side round the middle of the drawer's corner, or beyond it.
    """
    x, y = radius - across, radius - along
    clear = x <= 0 or y <= 0 or x * x + y * y <= max(0, radius - side) ** 2
    return 0 if clear else max(x, y)


def _rounded(corner: tuple[int, int], radius: int, quadrant: int) -> list[Vertex]:
    """The corner itself, or where its arc begins and ends, going round counterclockwise."""
    x, y = corner
    if radius <= 0:
        return [(x, y, 0.0)]
    dx, dy = ((0, 1), (-1, 0), (0, -1), (1, 0))[quadrant]
    ex, ey = ((1, 0), (0, 1), (-1, 0), (0, -1))[quadrant]
    return [(x + dx * radius, y + dy * radius, QUARTER), (x + ex * radius, y + ey * radius, 0.0)]


def _cutouts(placement: Placement, blocks: Iterable[Obstruction], thickness: int, house: House) -> Iterator[Contour]:
    """What is cut out for obstructions, the side clearance round them, as far as it meets the organizer (R9)."""
    side = house.clearance.side
    for block in blocks:
        left = max(0, block.left - side - placement.left)
        front = max(0, block.front - side - placement.front)
        right = min(placement.width, block.left + block.width + side - placement.left)
        back = min(placement.depth, block.front + block.depth + side - placement.front)
        if left < right and front < back:
            yield Contour("cutout", thickness, _straight([(left, front), (right, front), (right, back), (left, back)]))


def cuts(layout: Layout, left: int, front: int) -> Iterator[Contour]:
    """Pockets, then notches, of a layout; its field begins ``left`` and ``front`` from the foam's front left corner."""
    parts: tuple[tuple[ContourPart, Sequence[Pocket | Notch]], ...] = (
        ("pocket", layout.pockets),
        ("notch", layout.notches),
    )
    for part, cuts in parts:
        for cut in cuts:
            ring = [(x + left, y + front) for x, y in cut.ring]
            yield Contour(part, cut.depth, _straight(ring))


def _straight(ring: Iterable[tuple[int, int]]) -> tuple[Vertex, ...]:
    return tuple((x, y, 0.0) for x, y in ring)


def _sizes(placement: Placement, layout: Layout, group: Group) -> Iterator[DrawnWords]:
    labels = layout.labels or [_middle(pocket, group) for pocket in layout.pockets]
    for pocket, label in zip(layout.pockets, labels, strict=True):
        text = group.pieces[pocket.piece].piece.mark
        if label.height > 0:
            x, y = label.x + placement.field_left, label.y + placement.field_front
            yield DrawnWords(text, x, y, label.height, label.upright, label.on_foam)


def _middle(pocket: Pocket, group: Group) -> Label:
    """In the middle of the pocket, along it, no larger than it takes; letters about 0.6 as wide as high."""
    xs, ys = [x for x, _ in pocket.ring], [y for _, y in pocket.ring]
    across, along = max(xs) - min(xs), max(ys) - min(ys)
    letters = len(group.pieces[pocket.piece].piece.mark)
    height = min(mm(7), min(across, along) * 3 // 5, max(across, along) * 8 // (5 * letters))
    return Label((max(xs) + min(xs)) // 2, (max(ys) + min(ys)) // 2, height, along > across, on_foam=False)
