"""Whether a set is refused by sums alone: areas, loads and heights over single tools, however it is divided and mixed.

Everything is dealt out tool by tool, so that this holds for every division. What is counted is either what the house's
pockets take at least, with their webs, or the bare tools, in whatever pose, without web, margin or floor.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import repeat
from math import ceil, floor, prod

from shapely import box as rectangle
from shapely import union_all

from matcher.assignment import DrawerRoom, ToolNeed, cannot_be_dealt
from matcher.fitting import Opening, admit, box_of, least_trimmed, opening, shut_out
from matcher.house import House
from matcher.layout import bare_area, least_area, pocket_area, reading_order, singles
from matcher.planning.grouping import divisible
from matcher.planning.kept_answers import recalled_verdict
from matcher.planning.posing import may_go_in, pins_allow, usable
from matcher.planning.question import Question
from matcher.records import Drawer, Group, Organizer, Verdict, remembered

HIGH = 10**9
"""A height at which every tool may stand."""


def refused_by_sums(question: Question) -> bool:
    """Whether the house's pockets ask for more than the drawers have, dealt out in whatever way; proved, or false."""
    return recalled_verdict("sums of pockets", question, lambda: _by_sums(_asks_too_much(question))) == "does not fit"


def refused_bare(question: Question) -> bool:
    """Whether the bare tools do not go in, in whatever pose and layout, with no house rule in force: proved."""
    return recalled_verdict("sums of tools", question, lambda: _by_sums(_too_large(question))) == "does not fit"


def _by_sums(refused: bool) -> Verdict:
    return "does not fit" if refused else "undecided"


def _asks_too_much(question: Question) -> bool:
    pocket, drawers = question.house.pocket, usable(question.cabinet)
    if 2 * pocket.margin < pocket.web:
        return False
    rooms = [DrawerRoom(_clear_area(opening(drawer, question.house)), drawer.load_rating) for drawer in drawers]
    return cannot_be_dealt(Counter(_house_needs(question, drawers)), rooms, question.house.work)


def _too_large(question: Question) -> bool:
    drawers = usable(question.cabinet)
    rooms = [DrawerRoom(drawer.inside_width * drawer.inside_depth, drawer.load_rating) for drawer in drawers]
    return cannot_be_dealt(Counter(_bare_needs(question, drawers)), rooms, question.house.work)


def least_asked(group: Group, house: House) -> int:
    """Area that a group's pockets ask for at least with their webs, or its organizer trimmed; 1/320 mm squared."""
    if group.pieces:
        return floor(sum(piece.piece.count * least_area(piece, group, HIGH, house) for piece in group.pieces))
    assert group.organizer is not None
    return prod(least_trimmed(group.organizer, house))


def dealt_out(group: Group, house: House) -> Iterator[tuple[Group, int]]:
    """The tools of a group, each with its count; the group itself if it is never divided."""
    if not divisible(group, house):
        yield group, 1
        return
    sides = house.layout.sides
    counts = [group.pieces[n].piece.count for n in reading_order(group.pieces, sides)]
    yield from zip(singles(group, sides), counts, strict=True)


# -------------------------------------------------------------------------------------------------------------- needs


def _house_needs(question: Question, drawers: Sequence[Drawer]) -> Iterator[ToolNeed]:
    house, pins, boxes = question.house, question.pins, [box_of(drawer) for drawer in drawers]
    for group in question.groups:
        allowed = [pins_allow(pins, group, drawer) for drawer in drawers]
        shares = {box: _share_at_most(group, opening(box, house), house) for box in boxes}
        for part, count in dealt_out(group, house):
            areas = {
                box: floor(share * _area_in(part, box, house))
                for box, share in shares.items()
                if _open_to(part, box, house)
            }
            taken = (areas.get(box) if allows else None for box, allows in zip(boxes, allowed, strict=True))
            yield from repeat(ToolNeed(part.mass_low, tuple(taken)), count)


def _open_to(part: Group, drawer: Drawer, house: House) -> bool:
    """Whether a drawer may take a part, for all that is proved of any layout."""
    if part.organizer:
        return may_go_in(admit(part, drawer, house), any_layout=True)
    return not shut_out(part, drawer, house)


@remembered(100_000)
def _area_in(part: Group, drawer: Drawer, house: House) -> Fraction:
    return _taken(part, opening(drawer, house), house)


def _clear_area(space: Opening) -> int:
    """Area of what a drawer offers, less what is blocked of it."""
    blocked = [rectangle(block.left, block.front, block.right, block.back) for block in space.blocked]
    return ceil(float(rectangle(0, 0, space.width, space.depth).difference(union_all(blocked)).area))


def _taken(group: Group, space: Opening, house: House) -> Fraction:
    """Area of a drawer that a group takes at least, outside its pockets too.

    An organizer of w x d has the margin m round its pockets, so that these with half a web u round each lie within
    (w - 2 m + u) (d - 2 m + u). As 2 m >= u, that is no greater a share of w d than it is for an organizer as large as
    the drawer: so they take their area divided by that share.
    """
    if group.cased or not group.pieces:
        return Fraction(least_asked(group, house))
    less = 2 * house.pocket.margin - house.pocket.web
    width, depth = space.width - less, space.depth - less
    pockets = Fraction(sum(one.piece.count * pocket_area(one, space.height, house) for one in group.pieces))
    if width <= 0 or depth <= 0:
        return pockets
    return pockets * Fraction(space.width * space.depth, width * depth)


def _share_at_most(group: Group, space: Opening, house: House) -> Fraction:
    """The share of what its pockets take that a group takes at least: less than all if it has a smaller organizer."""
    if not group.pieces or not group.organizer:
        return Fraction(1)
    made = Fraction(prod(least_trimmed(group.organizer, house)))
    return min(Fraction(1), made / _taken(group, space, house))


def _bare_needs(question: Question, drawers: Sequence[Drawer]) -> Iterator[ToolNeed]:
    for group in question.groups:
        for piece in group.pieces:
            fits = [_bare_fits(sorted((piece.length, piece.width, piece.height)), drawer) for drawer in drawers]
            area = floor(bare_area(piece))
            need = ToolNeed(piece.mass_low, tuple(area if fit else None for fit in fits))
            yield from repeat(need, piece.piece.count)
        if group.organizer and not group.pieces:
            yield _bare_organizer(group.organizer, group.mass_low, drawers)


def _bare_fits(sides: Sequence[int], drawer: Drawer) -> bool:
    """Whether a box of these sides, shortest first, might go in: no side of it is longer than the drawer's diagonal,
    and at whatever angle it reaches as far as its shortest side along each of the drawer's."""
    inside = (drawer.inside_width, drawer.inside_depth, drawer.clear_height)
    return sides[0] <= min(inside) and sides[-1] ** 2 <= sum(side**2 for side in inside)


def _bare_organizer(ready: Organizer, mass: int, drawers: Sequence[Drawer]) -> ToolNeed:
    """A ready-made organizer by its pocket field; it is never turned."""
    width, depth = ready.field_width or ready.width, ready.field_depth or ready.depth
    fits = [
        width <= drawer.inside_width and depth <= drawer.inside_depth and ready.height <= drawer.clear_height
        for drawer in drawers
    ]
    return ToolNeed(mass, tuple(width * depth if fit else None for fit in fits))
