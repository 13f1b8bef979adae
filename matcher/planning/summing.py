"""Whether a set is refused by sums alone: areas, loads and heights over single tools, however it is divided and mixed.

Everything is dealt out tool by tool, so that this holds for every division. What is counted is either what the house's
pockets take at least, with their webs, or the bare tools, in whatever pose, without web, margin or floor.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import repeat
from math import floor, prod

from matcher.assignment import DrawerRoom, ToolNeed, cannot_be_dealt
from matcher.fitting import admit, least_trimmed, opening
from matcher.house import House
from matcher.layout import bare_area, least_area, reading_order, singles
from matcher.planning.grouping import divisible
from matcher.planning.posing import may_go_in, pins_allow, usable
from matcher.planning.question import Question
from matcher.records import Drawer, Group, Organizer

HIGH = 10**9
"""A height at which every tool may stand."""


def refused_by_sums(question: Question) -> bool:
    """Whether the house's pockets ask for more than the drawers have, dealt out in whatever way; proved, or false."""
    pocket, drawers = question.house.pocket, usable(question.cabinet)
    if 2 * pocket.margin < pocket.web:
        return False
    spaces = [opening(drawer, question.house) for drawer in drawers]
    rooms = [
        DrawerRoom((space.width + pocket.web) * (space.depth + pocket.web), drawer.load_rating)
        for space, drawer in zip(spaces, drawers, strict=True)
    ]
    return cannot_be_dealt(Counter(_house_needs(question, drawers)), rooms, question.house.work)


def refused_bare(question: Question) -> bool:
    """Whether the bare tools do not go in, in whatever pose and layout, with no house rule in force: proved."""
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
    counts = [group.pieces[n].piece.count for n in reading_order(group.pieces)]
    yield from zip(singles(group), counts, strict=True)


# -------------------------------------------------------------------------------------------------------------- needs


def _house_needs(question: Question, drawers: Sequence[Drawer]) -> Iterator[ToolNeed]:
    house, pins = question.house, question.pins
    for group in question.groups:
        for part, count in dealt_out(group, house):
            fits = [
                may_go_in(admit(part, drawer, house), any_layout=True) and pins_allow(pins, group, drawer)
                for drawer in drawers
            ]
            area = least_asked(part, house)
            yield from repeat(ToolNeed(part.mass_low, tuple(area if fit else None for fit in fits)), count)


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
