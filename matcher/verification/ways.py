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
    """A ready-made organizer on one axis of a drawer: ``target`` is the drawer less both side clearances."""

    axis: str
    how: How
    placed: int
    made: int
    field: int
    target: int


def ways_told_truly(scene: Scene) -> Iterator[Violation]:
    """R15: what each axis says, and that the worse of the two is the whole."""
    for seat in scene.seats:
        placed = seat.placement
        if seat.cased or "cased" in (placed.how, placed.how_width, placed.how_depth):
            yield from _cased(seat)
            continue
        worse = max(placed.how_width, placed.how_depth, key=HOWS.index)
        if placed.how != worse:
            steps = abs(HOWS.index(placed.how) - HOWS.index(worse))
            yield _violation(seat, steps, f"is called {placed.how}, but the worse axis is {worse}")
        elif placed.how in READY_MADE:
            yield from _ready_made(scene, seat)
        else:
            yield from _laid_out(scene, seat)


def _violation(seat: Seat, excess: int, text: str) -> Violation:
    return Violation("R15", seat.group.name, excess, f"{seat.group.name} in {seat.drawer.name} {text}")


def _cased(seat: Seat) -> Iterator[Violation]:
    """Cases are called cased, or unordered where their places keep no order; nothing else is called cased."""
    placed = seat.placement
    loose = placed.layout is not None and not placed.layout.ordered
    known = ("cased", "unordered") if loose else ("cased",)
    wrong = sum((how in known) != seat.cased for how in (placed.how, placed.how_width, placed.how_depth))
    if wrong:
        yield _violation(seat, wrong, "is cased and not called so" if seat.cased else "is called cased and is not")


def _fits(seat: Seat, made: Organizer, house: House) -> tuple[_Fit, _Fit]:
    placed, drawer, both = seat.placement, seat.drawer, 2 * house.clearance.side
    width = made.width if made.field_width is None else made.field_width
    depth = made.depth if made.field_depth is None else made.field_depth
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
        yield from _trimmed(scene, seat, fit) if fit.how == "trim" else _whole(scene, seat, fit)


def _trimmed(scene: Scene, seat: Seat, fit: _Fit) -> Iterator[Violation]:
    least = fit.field + 2 * scene.house.pocket.margin
    if fit.placed < least:
        yield _violation(seat, least - fit.placed, f"is trimmed {show_mm(least - fit.placed)} too far in {fit.axis}")
    if fit.placed >= fit.made:
        yield _violation(seat, fit.placed - fit.made + 1, f"is called trimmed in {fit.axis}, but nothing is cut off")


def _whole(scene: Scene, seat: Seat, fit: _Fit) -> Iterator[Violation]:
    off = abs(fit.placed - fit.made)
    if off:
        yield _violation(seat, off, f"is called {fit.how} in {fit.axis}, but is {show_mm(off)} off the ready-made size")
    elif _alone(scene, seat):
        gap, loosest = fit.target - fit.made, _loosest(scene.house)
        if (gap > loosest) != (fit.how == "shim"):
            yield _violation(
                seat, abs(gap - loosest), f"is called {fit.how} in {fit.axis} with a gap of {show_mm(gap)}"
            )


def _loosest(house: House) -> int:
    """Largest gap that takes no filler strip: up to the allowed gap, or below the narrowest strip."""
    return max(house.clearance.gap, house.clearance.strip_min - 1)


def _alone(scene: Scene, seat: Seat) -> bool:
    """Whether the gap is simply what the drawer leaves: nobody beside, no obstruction, no rounded corner."""
    drawer = seat.drawer
    plain = not drawer.obstructions and drawer.corner_radius <= scene.house.clearance.side
    return plain and len(scene.held[drawer.name]) == 1


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
    for fit in _fits(seat, made, scene.house) if made else ():
        yield from _as_if_kept(scene, seat, fit)


def _as_if_kept(scene: Scene, seat: Seat, fit: _Fit) -> Iterator[Violation]:
    """An axis of a re-cut organizer may say what the ready-made one would have needed there."""
    least = fit.field + 2 * scene.house.pocket.margin if fit.how == "trim" else fit.made
    if fit.how in READY_MADE and least > fit.target:
        over = least - fit.target
        yield _violation(
            seat, over, f"is called {fit.how} in {fit.axis}, where the old one is {show_mm(over)} too large"
        )
