"""Which drawer takes which organizer (R3, R8), how (R15), and what is short where it does not.

Per axis, with outside size s, pocket field p, margin m and target = drawer - 2 x side clearance: `as is` or `shim` if
s <= target, `trim` if p + 2m <= target < s, `re-cut` or `new` if the group's shape curve has a point that goes in.
"""

from __future__ import annotations

from dataclasses import replace

from matcher.fitting.fits import Fit, GoesIn, Open, OutsideSize, StaysOut
from matcher.fitting.openings import Opening, clear_rectangles, opening
from matcher.fitting.ready_made import foam_round, ready_made
from matcher.fitting.room_left import below, both_margins, nearest, roomiest
from matcher.fitting.shortfalls import Shortfall
from matcher.house import House
from matcher.layout import curve, eased, excluded_by, free, in_two_rooms, rectangle_goes_in
from matcher.records import Drawer, Group, How, Rectangle, Scope, remembered

EXACT_CASES = 3
"""Up to so many cases the shape curve holds every way to stand them, sides parallel to the drawer's."""


def corner_inset(group: Group, space: Opening, house: House) -> int:
    """How far a group's outside must stay off the walls of a shared drawer for its rounded corners.

    The foam round the pockets may lie in the corner, where it is cut round; a case keeps its own corners.
    """
    made = group.organizer
    foam = foam_round(made, made.width, made.depth, house) if made else both_margins(group, house) // 2
    return space.inset(space.side + foam)


def admit(group: Group, drawer: Drawer, house: House) -> Fit:
    """Whether ``drawer`` takes ``group`` as a ready-made or an ordered organizer, how, and what is short if not."""
    return _admit(group, box_of(drawer), house)


def shut_out(group: Group, drawer: Drawer, house: House) -> bool:
    """Whether it is proved without any layout that ``drawer`` takes no organizer of the group's pieces, nor cases."""
    return _shut_out(group, box_of(drawer), house)


@remembered(100_000)
def _shut_out(group: Group, drawer: Drawer, house: House) -> bool:
    too_heavy = drawer.load_rating is not None and group.mass_low > drawer.load_rating
    if too_heavy or not _slot_takes(group, drawer, house):
        return True
    space, margins = opening(drawer, house), both_margins(group, house)
    width, depth = space.width - margins, space.depth - margins
    return excluded_by(group, width, depth, space.height, house) is not None


def admit_free(group: Group, drawer: Drawer, house: House) -> Fit:
    """As `admit`, and where that says no, the last resort: all pockets in the drawer with no order kept."""
    return _admit_free(group, box_of(drawer), house)


def admit_angled(group: Group, drawer: Drawer, house: House) -> Fit:
    """As `admit`, but a tool by itself that goes in along no wall may lie at an angle; the drawer is then its own."""
    fit = admit(group, drawer, house)
    return admit_free(group, drawer, house) if isinstance(fit, StaysOut) and group.tools == 1 else fit


@remembered(4096)
def box_of(drawer: Drawer) -> Drawer:
    """The drawer by what a group meets in it: without its name, its place, and what only cautions look at."""
    placeless = replace(drawer, cabinet="", name="", bank=0, last_bank=0, row=0, above_ground=None)
    return replace(placeless, mass=None, travel=None, rating_basis="")


@remembered(100_000)
def _admit(group: Group, drawer: Drawer, house: House) -> Fit:
    if not _slot_takes(group, drawer, house):
        return StaysOut(Shortfall("slot", 0, "any layout"))
    space = opening(drawer, house)
    fit = _sized_fit(group, space, house)
    if isinstance(fit, StaysOut) and space.corner > space.side:
        square = _sized_fit(group, replace(space, corner=0), house)
        return square if isinstance(square, StaysOut) else Open(fit.shortfall)
    if isinstance(fit, GoesIn) and drawer.load_rating is not None and group.mass_high > drawer.load_rating:
        over = Shortfall("load", group.mass_high - drawer.load_rating, "any layout")
        return StaysOut(over) if group.mass_low > drawer.load_rating else Open(over)
    return fit


def _slot_takes(group: Group, drawer: Drawer, house: House) -> bool:
    if drawer.slot == "no foam":
        return group.cased
    return drawer.slot == "foam" and (not group.cased or house.layout.cased_in_foam)


def _sized_fit(group: Group, space: Opening, house: House) -> GoesIn | StaysOut:
    """The ready-made organizer if there is one and it goes in, else the pieces laid out.

    Beside others the pieces of a ready-made organizer may be laid out anew where it is too large itself.
    """
    ready = ready_made(group.organizer, space, house) if group.organizer else None
    if ready is None or (isinstance(ready, StaysOut) and group.pieces):
        return _laid_out(group, space, house)
    if isinstance(ready, StaysOut) or not group.pieces:
        return ready
    anew = _laid_out(group, space, house)
    return replace(ready, sizes=(*ready.sizes, *anew.sizes)) if isinstance(anew, GoesIn) else ready


# --------------------------------------------------------------------------------------------------------- laid out


def _laid_out(group: Group, space: Opening, house: House) -> GoesIn | StaysOut:
    """The group's pieces laid out in order, if any way of the house's goes in.

    Gap and height are those of the roomiest way, whatever plainer one is cut; where the drawer is high enough for it,
    the height leaves room for pockets shallow enough for a thin sheet.
    """
    how: How = "cased" if group.cased else "re-cut" if group.organizer else "new"
    margins = both_margins(group, house)
    found = roomiest(group, clear_rectangles(space), space, house)
    if found is None:
        return _round_obstructions(group, space, house) or _refused(group, space, house)
    place, point = found
    sizes = tuple(
        OutsideSize(point.width + margins, point.depth + margins, point.height, how, how, point)
        for point in below(curve(group, house), space.height)
    )
    gaps = (place.width - point.width - margins, place.depth - point.depth - margins)
    height = point.height
    if group.cased:
        place = Rectangle(place.left + gaps[0] // 2, place.front + gaps[1] // 2, point.width, point.depth)
    elif not house.pocket.base:
        height = min(point.height + house.pocket.stock_tolerance, space.height)
    return GoesIn(OutsideSize(place.width, place.depth, height, how, how, point), place, sizes, *gaps)


def _round_obstructions(group: Group, space: Opening, house: House) -> GoesIn | None:
    """The pieces in order over all of the opening, the foam cut round what stands in it (R9), if that is found."""
    if not space.blocked or group.cased or not group.pieces:
        return None
    how: How = "re-cut" if group.organizer else "new"
    rim, blocked = edge(group, space, house), _blocked(group, space, house)
    field = replace(space, width=space.width - 2 * rim, depth=space.depth - 2 * rim, blocked=blocked)
    found = in_two_rooms(group, clear_rectangles(field), blocked, space.height, house)
    if found is None:
        return None
    layout = eased(found[0], house.pocket, space.height)
    alone = OutsideSize(space.width, space.depth, layout.height, how, how)
    place = Rectangle(0, 0, space.width, space.depth)
    return GoesIn(alone, place, layout=layout, field=(rim + found[1], rim + found[2]))


def _blocked(group: Group, space: Opening, house: House) -> tuple[Rectangle, ...]:
    """Where no pocket may be for what stands in the opening, from where the field of a layout over all of it begins."""
    margin, rim = both_margins(group, house) // 2, edge(group, space, house)
    return tuple(
        Rectangle(left - margin - rim, front - margin - rim, width + 2 * margin, depth + 2 * margin)
        for left, front, width, depth in space.blocked
    )


def _refused(group: Group, space: Opening, house: House) -> StaysOut:
    """Why no ordered layout goes in: a bound on any layout if there is one, else the nearest ordered layout."""
    margins = both_margins(group, house)
    if group.cased and not space.blocked and group.tools <= EXACT_CASES and not _slanting(group, space):
        return StaysOut(_nearest_point(group, space, "any layout", house))
    found = _nearest_point(group, space, "house layout", house)
    hard = excluded_by(group, space.width - margins, space.depth - margins, space.height, house)
    if hard:
        found = Shortfall(hard.axis, hard.short, "any layout", found.enough)
    return StaysOut(found)


def _slanting(group: Group, space: Opening) -> bool:
    """Whether some case goes into a drawer at an angle only."""
    sides = [(piece.length, piece.width) for piece in group.pieces]
    square = all(
        min(side) <= min(space.width, space.depth) and max(side) <= max(space.width, space.depth) for side in sides
    )
    return not square and all(rectangle_goes_in(*side, space.width, space.depth) for side in sides)


def _nearest_point(group: Group, space: Opening, scope: Scope, house: House) -> Shortfall:
    """What the point of the shape curve that comes nearest to going in lacks."""
    margins = both_margins(group, house)
    return nearest(
        ((point.width + margins, point.depth + margins, point.height) for point in curve(group, house)), space, scope
    )


# ------------------------------------------------------------------------------------------------------ last resort


@remembered(20_000)
def _admit_free(group: Group, drawer: Drawer, house: House) -> Fit:
    ordered = _admit(group, drawer, house)
    refused = ordered.shortfall
    if refused is None or not group.pieces or refused.scope == "any layout":
        return ordered
    space = opening(drawer, house)
    margin, rim = both_margins(group, house) // 2, edge(group, space, house)
    blocked = _blocked(group, space, house)
    answer = free(group, space.width - 2 * rim, space.depth - 2 * rim, space.height, house, blocked)
    if answer.layout is not None:
        layout = eased(answer.layout, house.pocket, space.height)
        how: How = "cased" if group.cased else "unordered"
        alone = OutsideSize(space.width, space.depth, layout.height, how, how)
        place = Rectangle(0, 0, space.width, space.depth)
        loaded = drawer.load_rating is None or group.mass_high <= drawer.load_rating
        return GoesIn(alone, place, layout=layout, shortfall=refused) if loaded else Open(refused)
    return ordered if answer.status == "excluded" and rim == margin else Open(refused)


def edge(group: Group, space: Opening, house: House) -> int:
    """Foam kept round the pockets of a free layout: the margin, and what the rounded corners ask for beyond it."""
    margin = both_margins(group, house) // 2
    return margin + space.inset(space.side + margin)
