"""Plans by hand for the tests of cutting, lengths in millimeters."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from matcher.cutting.jobs import Cut, cut
from matcher.house.rules import House
from matcher.planning.outcome import DoesNotFit, Fits
from matcher.records.answered import Placement
from matcher.records.given import Cabinet, Foam
from matcher.records.laid_out import Group, Label, Layout, Notch, Pocket
from matcher.records.units import mm
from tests.builders import HOUSE, cabinet, catalogue, drawer, fits, group, organizer, piece, question, refused


def foam(name="black 30", length=1200, width=600, thickness=30, tolerance=0, **more) -> Foam:
    return Foam(name, mm(length), mm(width), mm(thickness), mm(tolerance), **more)


def box_ring(left, front, width, depth) -> tuple[tuple[int, int], ...]:
    right, back = left + width, front + depth
    return tuple((mm(x), mm(y)) for x, y in ((left, front), (right, front), (right, back), (left, back)))


def pocket(index=0, left=0, front=0, width=60, depth=100, cut=18) -> Pocket:
    return Pocket(index, box_ring(left, front, width, depth), mm(cut), mm(cut + 10))


def layout(*pockets: Pocket, width=200, depth=100, **more) -> Layout:
    return Layout(mm(width), mm(depth), max(p.rise for p in pockets), pockets, **more)


def placement(
    name="group", where="1", how="new", width=300, depth=200, laid: Layout | None = None, **more
) -> Placement:
    plain = Placement(
        name, where, how, how, how, HOUSE.clearance.side, HOUSE.clearance.side, mm(width), mm(depth), 0, 0, 0
    )
    start = {"field_left": (mm(width) - laid.width) // 2, "field_front": (mm(depth) - laid.depth) // 2} if laid else {}
    return replace(plain, layout=laid, **{**start, **more})


def tools(basis="measured", name="group", size="13", count=1) -> Group:
    plain = group(name, piece("wrench 13 mm", size=size, count=count))
    sized = tuple(replace(one, basis=basis, source="ISO 3318") for one in plain.pieces)
    return replace(plain, pieces=sized)


def outcome(
    where: Cabinet,
    groups: Iterable[Group],
    placements: Iterable[Placement],
    *,
    stock: Iterable[Foam] = (),
    house: House = HOUSE,
    free: Iterable[str] = (),
) -> Fits:
    """A plan made by hand, in a cabinet of a catalogue that has that foam in stock."""
    known = catalogue(cabinets=[where], foam=tuple(stock))
    return fits(question(where, groups, known=known, house=house), placements, free)


def without_plan() -> DoesNotFit:
    """An answer that has nothing to cut."""
    return refused(question(cabinet(drawer())))


NOTCHED = layout(
    pocket(0, 0, 0, 60, 100, 18),
    pocket(0, 80, 10, 30, 90, 9.5),
    notches=(Notch(box_ring(-10, 40, 80, 28), mm(18), (0,)),),
    labels=(Label(mm(30), mm(50), mm(6), True, False), Label(mm(95), mm(55), mm(5), False, True)),
)
"""Two pockets with labels, a notch 28 mm wide that reaches 10 mm out of the deeper one on both sides."""

ROUNDED = drawer(width=303.2, depth=203.2, corner_radius=mm(20))
"""A drawer that an organizer of 300 x 200 mm fills up to the side clearance of 1.6 mm."""


def example(basis="measured", allow_estimates=True, stock=None, laid: Layout = NOTCHED, house=HOUSE, batch=1) -> Cut:
    """One new organizer of 300 x 200 mm that fills a drawer with rounded corners, one trimmed, one as is."""
    ready = group("ready", ready=organizer("ready", 300, 210, part="P-1"))
    kept = group("kept", ready=organizer("kept", 300, 200))
    seats = (
        placement(laid=laid),
        placement("ready", "2", "trim", 300, 200, how_width="as is", how_depth="trim"),
        placement("kept", "3", "as is"),
    )
    place = cabinet(ROUNDED, drawer("2", row=2), drawer("3", row=3))
    rows = (foam(price=10.0, color="black"),) if stock is None else tuple(stock)
    made = outcome(place, [tools(basis, count=2), ready, kept], seats, stock=rows, house=house)
    return cut(made, allow_estimates=allow_estimates, batch=batch)
