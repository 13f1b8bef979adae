"""How organizers get into their drawers: R15."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from matcher.house import House
from matcher.records import HOWS, How, Organizer, show_mm
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import READY_MADE, Scene, Seat


@dataclass(frozen=True, slots=True)
class _Fit:
    """A ready-made organizer along one axis of a drawer.

    ``least`` is what it may be trimmed to, its field and both margins; ``target`` is the drawer less both side
    clearances.
    """

    axis: str
    how: How
    placed: int
    made: int
    least: int
    target: int


def ways_told_truly(scene: Scene) -> Iterator[Violation]:
    """R15: what each axis says, and that the worse of the two is the whole."""
    for seat in scene.seats:
        placed = seat.placement
        if seat.cased or "cased" in (placed.how, placed.how_width, placed.how_depth):
            yield from _cased(scene, seat)
            continue
        worse = max(placed.how_width, placed.how_depth, key=HOWS.index)
        if placed.how != worse:
            steps = abs(HOWS.index(placed.how) - HOWS.index(worse))
            yield _violation(seat, steps, f"is called {placed.how}, but the worse axis is {worse}")
        elif placed.how in READY_MADE:
            yield from _ready_made(scene, seat)
        else:
            yield from _laid_out(scene, seat)
            yield from _gaps_in_foam(scene, seat)


def _violation(seat: Seat, excess: int, text: str) -> Violation:
    return Violation("R15", seat.group.name, excess, f"{seat.group.name} in {seat.drawer.name} {text}")


def _cased(scene: Scene, seat: Seat) -> Iterator[Violation]:
    """Cases are called cased, or unordered where their places keep no order; nothing else is called cased."""
    placed = seat.placement
    loose = placed.layout is not None and not placed.layout.ordered
    known = ("cased", "unordered") if loose else ("cased",)
    wrong = sum((how in known) != seat.cased for how in (placed.how, placed.how_width, placed.how_depth))
    if wrong:
        yield _violation(seat, wrong, "is cased and not called so" if seat.cased else "is called cased and is not")
    if seat.cased and not seat.drawer.obstructions:
        yield from _gaps_told(scene, seat, (placed.width, placed.depth))


def _fits(seat: Seat, made: Organizer, house: House) -> tuple[_Fit, _Fit]:
    placed, drawer, both = seat.placement, seat.drawer, 2 * house.clearance.side
    margins = 2 * house.pocket.margin
    width = (made.width if made.field_width is None else made.field_width) + margins
    depth = (made.depth if made.field_depth is None else made.field_depth) + margins
    return (
        _Fit("width", placed.how_width, placed.width, made.width, width, drawer.inside_width - both),
        _Fit("depth", placed.how_depth, placed.depth, made.depth, depth, drawer.inside_depth - both),
    )


# -------------------------------------------------------------------------------------------------------- ready-made


def _ready_made(scene: Scene, seat: Seat) -> Iterator[Violation]:
    """Its outside is its own, or trimmed as far as its field and margins allow; it is never turned or thinned."""
    made = seat.ready
    if made is None:
        yield _violation(seat, 1, f"is called {seat.placement.how}, but there is no ready-made organizer")
        return
    if seat.placement.height < made.height:
        thinned = made.height - seat.placement.height
        yield _violation(seat, thinned, f"is {show_mm(thinned)} thinner than the ready-made organizer")
    for fit in _fits(seat, made, scene.house):
        yield from (_trimmed if fit.how == "trim" else _whole)(scene, seat, made, fit)
    if len(scene.held[seat.drawer.name]) > 1 or _plainly_alone(scene, seat, made):
        yield from _gaps_told(scene, seat, (made.width, made.depth))


def _trimmed(scene: Scene, seat: Seat, made: Organizer, fit: _Fit) -> Iterator[Violation]:
    if fit.placed < fit.least:
        over = fit.least - fit.placed
        yield _violation(seat, over, f"is trimmed {show_mm(over)} too far in {fit.axis}")
    if fit.placed >= fit.made:
        yield _violation(seat, fit.placed - fit.made + 1, f"is called trimmed in {fit.axis}, but nothing is cut off")
    elif _plainly_alone(scene, seat, made) and fit.made <= fit.target:
        yield _violation(seat, fit.made - fit.placed, f"is trimmed in {fit.axis}, where it goes in whole")


def _whole(scene: Scene, seat: Seat, made: Organizer, fit: _Fit) -> Iterator[Violation]:
    off = abs(fit.placed - fit.made)
    if off:
        yield _violation(seat, off, f"is called {fit.how} in {fit.axis}, but is {show_mm(off)} off the ready-made size")
    elif fit.how == "shim" and len(scene.held[seat.drawer.name]) > 1:
        yield _violation(seat, 1, f"is called shim in {fit.axis}, but shares its drawer")
    elif _plainly_alone(scene, seat, made):
        gap, loosest = fit.target - fit.made, _loosest(scene.house)
        if (gap > loosest) != (fit.how == "shim"):
            yield _violation(
                seat, abs(gap - loosest), f"is called {fit.how} in {fit.axis} with a gap of {show_mm(gap)}"
            )


def _loosest(house: House) -> int:
    """Largest gap that takes no filler strip: up to the allowed gap, or below the narrowest strip."""
    return max(house.clearance.gap, house.clearance.strip_min - 1)


def _plainly_alone(scene: Scene, seat: Seat, made: Organizer) -> bool:
    """Whether the drawer is there for the organizer from wall to wall: nobody beside, no obstruction, and in the middle
    of the drawer no corner of it in a rounded one.

    From the middle of such a corner it is at most as far as the corner's radius less the side clearance.
    """
    drawer, side = seat.drawer, scene.house.clearance.side
    if drawer.obstructions or len(scene.held[drawer.name]) > 1:
        return False
    radius = max(drawer.corner_radius - side, 0)
    gaps = (drawer.inside_width - 2 * side - made.width, drawer.inside_depth - 2 * side - made.depth)
    across, along = (max(2 * radius - max(gap, 0), 0) for gap in gaps)
    return across * along == 0 or across * across + along * along <= 4 * radius * radius


def _gaps_told(scene: Scene, seat: Seat, size: tuple[int, int]) -> Iterator[Violation]:
    """What is left between the clearances of a drawer beside something of this size is told as the gap; nothing where
    several share a drawer."""
    placed, drawer, both = seat.placement, seat.drawer, 2 * scene.house.clearance.side
    shared = len(scene.held[drawer.name]) > 1
    axes = ((placed.gap_width, drawer.inside_width, size[0]), (placed.gap_depth, drawer.inside_depth, size[1]))
    for (told, inside, outside), axis in zip(axes, ("width", "depth"), strict=True):
        off = abs(told - (0 if shared else max(inside - both - outside, 0)))
        if off:
            yield _violation(seat, off, f"has a gap in {axis} that is {show_mm(off)} off what is told")


# ---------------------------------------------------------------------------------------------------------- laid out


def _laid_out(scene: Scene, seat: Seat) -> Iterator[Violation]:
    """New only without a ready-made organizer, re-cut only with one; unordered says whether the order is lost."""
    placed, made = seat.placement, seat.group.organizer
    if placed.layout is None:
        return
    if placed.how == "new" and made is not None:
        yield _violation(seat, 1, "is called new, but there is a ready-made organizer")
    if placed.how == "re-cut" and made is None:
        yield _violation(seat, 1, "is called re-cut, but there is no ready-made organizer")
    if placed.layout.ordered == (placed.how == "unordered"):
        words = "in order" if placed.layout.ordered else "without order"
        yield _violation(seat, 1, f"is called {placed.how}, but is laid out {words}")
    axes = ((placed.how_width, "width"), (placed.how_depth, "depth"))
    for how, axis in axes if made is None else ():
        if how not in ("new", "unordered"):
            yield _violation(seat, 1, f"is called {how} in {axis}, but there is no ready-made organizer")
    if made is not None:
        yield from _not_kept(scene, seat, made)


def _not_kept(scene: Scene, seat: Seat, made: Organizer) -> Iterator[Violation]:
    """Pockets are cut anew only where the ready-made organizer does not go in.

    An axis of a re-cut one may say what the ready-made one would have needed there.
    """
    fits, drawer = _fits(seat, made, scene.house), seat.drawer
    for fit in fits:
        needed = fit.least if fit.how == "trim" else fit.made
        over = needed - fit.target
        if fit.how in READY_MADE and over > 0:
            words = f"is called {fit.how} in {fit.axis}, where the old one is {show_mm(over)} too large"
            yield _violation(seat, over, words)
    room = drawer.clear_height - drawer.liner - scene.house.clearance.top
    goes_in = all(min(fit.least, fit.made) <= fit.target for fit in fits) and made.height <= room
    if goes_in and _plainly_alone(scene, seat, made):
        yield _violation(seat, 1, f"is called {seat.placement.how}, where the ready-made organizer goes in")


def _gaps_in_foam(scene: Scene, seat: Seat) -> Iterator[Violation]:
    """Gaps of foam cut for a place are what the roomiest layout would leave of it, which is less than all between its
    margins; which layout that is only those know who lay out, so no more is checked."""
    placed, margins = seat.placement, 2 * scene.house.pocket.margin
    rooms = ((placed.gap_width, placed.width, "width"), (placed.gap_depth, placed.depth, "depth"))
    for gap, outside, axis in rooms:
        over = max(-gap, gap + margins - outside)
        if over > 0:
            yield _violation(seat, over, f"is told to have a gap of {show_mm(gap)} in {axis}")
