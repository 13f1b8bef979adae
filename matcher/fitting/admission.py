"""Which drawer takes which organizer (R3, R8), how (R15), and what is short where it does not.

Per axis, with outside size s, pocket field p, margin m and target = drawer - 2 x side clearance: `as is` or `shim` if
s <= target, `trim` if p + 2m <= target < s, `re-cut` or `new` if the group's shape curve has a point that goes in.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import product
from typing import TypeAlias

from matcher.fitting.openings import Opening, clear_rectangles, opening
from matcher.fitting.room_left import below, both_margins, least_trimmed, roomiest
from matcher.fitting.shortfalls import Shortfall, Triple, least_lacks
from matcher.house import House
from matcher.layout import curve, eased, excluded_by, free
from matcher.records import HOWS, Drawer, Footprint, Group, How, Layout, Organizer, Rectangle, Scope, remembered

EXACT_CASES = 3
"""Up to so many cases the shape curve holds every way to stand them, sides parallel to the drawer's."""


@dataclass(frozen=True, slots=True)
class OutsideSize:
    """One outside size a group may take in a drawer, how, and the least footprint for it if it is laid out."""

    width: int
    depth: int
    height: int
    how_width: How
    how_depth: How
    footprint: Footprint | None = None

    @property
    def how(self) -> How:
        """The worse of the two axes."""
        return max(self.how_width, self.how_depth, key=work_of)


@dataclass(frozen=True, slots=True)
class GoesIn:
    """A drawer takes a group: ``alone`` at ``place``, or in any of ``sizes`` beside others.

    ``place`` is in the coordinates of the drawer's opening. ``layout`` is set only where the order is lost; then
    ``shortfall`` says what an ordered layout lacks.
    """

    alone: OutsideSize
    place: Rectangle
    sizes: tuple[OutsideSize, ...] = ()
    gap_width: int = 0
    gap_depth: int = 0
    layout: Layout | None = None
    shortfall: Shortfall | None = None


@dataclass(frozen=True, slots=True)
class StaysOut:
    """A drawer does not take a group, proved within the scope of the shortfall."""

    shortfall: Shortfall


@dataclass(frozen=True, slots=True)
class Open:
    """Neither a layout for this drawer nor a proof that there is none was found."""

    shortfall: Shortfall


Fit: TypeAlias = GoesIn | StaysOut | Open


def work_of(how: How) -> int:
    """Rank of a way in by the work it means; cased equipment means none."""
    return HOWS.index(how) if how in HOWS else 0


def effort_of(how: How) -> int:
    """What a way in costs the goal of least re-cutting; foam that has to be cut anyway costs nothing more."""
    return {"as is": 0, "shim": 1, "trim": 2, "re-cut": 3, "unordered": 4}.get(how, 0)


def corner_inset(group: Group, space: Opening, house: House) -> int:
    """How far a group's outside must stay off the walls for a rounded corner.

    Foam cut for the drawer is rounded with it, so its margin may lie in the corner; a case and a ready-made organizer
    that is not rounded for such a drawer keep their sharp corners.
    """
    rounded = not group.cased and (group.organizer is None or group.organizer.rounded >= space.corner)
    return space.inset(space.side + (house.pocket.margin if rounded else 0))


def admit(group: Group, drawer: Drawer, house: House) -> Fit:
    """Whether ``drawer`` takes ``group`` as a ready-made or an ordered organizer, how, and what is short if not."""
    return _admit(group, box_of(drawer), house)


def admit_free(group: Group, drawer: Drawer, house: House) -> Fit:
    """As `admit`, and where that says no, the last resort: all pockets in the drawer with no order kept."""
    return _admit_free(group, box_of(drawer), house)


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
    ready = _ready_made(group.organizer, space, house) if group.organizer else None
    if ready is None or (isinstance(ready, StaysOut) and group.pieces):
        return _laid_out(group, space, house)
    if isinstance(ready, StaysOut) or not group.pieces:
        return ready
    anew = _laid_out(group, space, house)
    return replace(ready, sizes=(*ready.sizes, *anew.sizes)) if isinstance(anew, GoesIn) else ready


# ------------------------------------------------------------------------------------------------------- ready-made


def _ready_made(organizer: Organizer, space: Opening, house: House) -> GoesIn | StaysOut:
    """A ready-made organizer in the clear rectangle that asks for the least work on it."""
    least = least_trimmed(organizer, house)
    places = clear_rectangles(space) if organizer.height <= space.height else ()
    room = [_cornered(organizer, least, space, place) for place in places]
    fits = [
        _ready_made_in(organizer, least, place, house)
        for place in room
        if least[0] <= place.width and least[1] <= place.depth
    ]
    if fits:
        return min(fits, key=lambda fit: (work_of(fit.sizes[0].how), fit.gap_width + fit.gap_depth, fit.place))
    return StaysOut(_nearest([(*least, organizer.height)], space, "any layout"))


def _cornered(organizer: Organizer, least: tuple[int, int], space: Opening, place: Rectangle) -> Rectangle:
    """The place, less what keeps a sharp corner out of a rounded one if the organizer fills it too far."""
    if organizer.rounded >= space.corner:
        return place
    left, front, width, depth = place
    gaps = (max(0, width - organizer.width), max(0, depth - organizer.depth))
    untrimmed = organizer.width <= width and organizer.depth <= depth
    smallest = (max(0, width - least[0]), max(0, depth - least[1]))
    if space.clears_corners(space.side, *gaps) or (not untrimmed and not space.clears_corners(space.side, *smallest)):
        return place
    inset = space.inset(space.side)
    return Rectangle(left + inset, front + inset, width - 2 * inset, depth - 2 * inset)


def _ready_made_in(organizer: Organizer, least: tuple[int, int], place: Rectangle, house: House) -> GoesIn:
    left, front, width, depth = place
    gap_width, gap_depth = max(0, width - organizer.width), max(0, depth - organizer.depth)
    alone = OutsideSize(
        min(organizer.width, width),
        min(organizer.depth, depth),
        organizer.height,
        _way_in(organizer.width, width, house),
        _way_in(organizer.depth, depth, house),
    )
    widths = sorted({min(organizer.width, width), least[0]}, reverse=True)
    depths = sorted({min(organizer.depth, depth), least[1]}, reverse=True)
    sizes = tuple(
        OutsideSize(w, d, organizer.height, _trimmed(w, organizer.width), _trimmed(d, organizer.depth))
        for w, d in product(widths, depths)
    )
    centered = Rectangle(left + gap_width // 2, front + gap_depth // 2, alone.width, alone.depth)
    return GoesIn(alone, centered, sizes, gap_width, gap_depth)


def _trimmed(size: int, outside: int) -> How:
    return "as is" if size == outside else "trim"


def _way_in(outside: int, target: int, house: House) -> How:
    """How an existing organizer meets a drawer along one axis; a gap below the narrowest strip stays open."""
    if outside > target:
        return "trim"
    gap = target - outside
    return "as is" if gap <= house.clearance.gap or gap < house.clearance.strip_min else "shim"


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
        return _refused(group, space, house)
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


def _refused(group: Group, space: Opening, house: House) -> StaysOut:
    """Why no ordered layout goes in: a bound on any layout if there is one, else the nearest ordered layout."""
    margins = both_margins(group, house)
    if group.cased and not space.blocked and sum(piece.piece.count for piece in group.pieces) <= EXACT_CASES:
        return StaysOut(_nearest_point(group, space, "any layout", house))
    found = _nearest_point(group, space, "house layout", house)
    hard = excluded_by(group, space.width - margins, space.depth - margins, space.height, house)
    if hard:
        found = Shortfall(hard.axis, hard.short, "any layout", found.enough)
    return StaysOut(found)


def _nearest_point(group: Group, space: Opening, scope: Scope, house: House) -> Shortfall:
    """What the point of the shape curve that comes nearest to going in lacks."""
    margins = both_margins(group, house)
    return _nearest(
        ((point.width + margins, point.depth + margins, point.height) for point in curve(group, house)), space, scope
    )


def _nearest(needs: Iterable[Triple], space: Opening, scope: Scope) -> Shortfall:
    """The least lack over all sizes and clear rectangles, called by the side that lacks most."""
    lacks = least_lacks(needs, ((width, depth, space.height) for _, _, width, depth in clear_rectangles(space)))
    axis, short = lacks[0] if lacks else ("area", 0)
    return Shortfall(axis, short, scope, lacks)


# ------------------------------------------------------------------------------------------------------ last resort


@remembered(20_000)
def _admit_free(group: Group, drawer: Drawer, house: House) -> Fit:
    ordered = _admit(group, drawer, house)
    refused = ordered.shortfall
    if refused is None or not group.pieces or refused.scope == "any layout":
        return ordered
    space = opening(drawer, house)
    margin, rim = both_margins(group, house) // 2, edge(group, space, house)
    blocked = tuple(
        Rectangle(left - margin - rim, front - margin - rim, width + 2 * margin, depth + 2 * margin)
        for left, front, width, depth in space.blocked
    )
    answer = free(group, space.width - 2 * rim, space.depth - 2 * rim, space.height, house, blocked)
    if answer.layout is not None:
        layout = eased(answer.layout, house.pocket, space.height)
        alone = OutsideSize(space.width, space.depth, layout.height, "unordered", "unordered")
        place = Rectangle(0, 0, space.width, space.depth)
        loaded = drawer.load_rating is None or group.mass_high <= drawer.load_rating
        return GoesIn(alone, place, layout=layout, shortfall=refused) if loaded else Open(refused)
    return ordered if answer.status == "excluded" and rim == margin else Open(refused)


def edge(group: Group, space: Opening, house: House) -> int:
    """Foam kept round the pockets of a free layout: the margin, and what the rounded corners ask for beyond it."""
    margin = both_margins(group, house) // 2
    return margin + space.inset(space.side + margin)
