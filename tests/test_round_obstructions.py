"""Foam cut round what stands in a drawer: ordered organizers over all of it where no clear rectangle takes them."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from shapely import Polygon, box

from matcher.cutting.drawings import drawing
from matcher.fitting.admission import admit
from matcher.fitting.fits import GoesIn
from matcher.house.rules import House
from matcher.layout.curves import curve
from matcher.layout.two_rooms import in_two_rooms
from matcher.planning.answering import plan
from matcher.planning.grouping import groups_of
from matcher.planning.outcome import Fits
from matcher.records.given import Cabinet, Catalogue, Drawer, Obstruction, Piece
from matcher.records.laid_out import Group
from matcher.records.units import mm
from matcher.report.drawing import drawing_of
from matcher.verification.checker import verify
from matcher.verification.sequence import order_kept
from tests.builders import HOUSE, catalogue, drawer
from tests.pieces import group_of, made, socket, wrench
from tests.test_cut_geometry import field_faults, web_faults
from tests.test_layout import scene_with

SIDE, MARGIN = HOUSE.clearance.side, HOUSE.pocket.margin
WRENCHES = tuple(
    Piece("set", f"wrench {n} mm", "combination wrench", 1, system="metric", size=str(n), group="tools")
    for n in range(8, 20)
)


def shop(*blocks: Obstruction, width: int = 400, depth: int = 380) -> Catalogue:
    """Twelve wrenches and a drawer."""
    box_ = replace(drawer("1", width=width, depth=depth, height=80), obstructions=blocks)
    return catalogue(WRENCHES, cabinets=[Cabinet("cabinet", (box_,))])


DUCT = Obstruction(mm(276), mm(260), mm(124), mm(120), mm(80))
"""In the right rear corner of a drawer of 400 x 380 mm."""


def answer(known: Catalogue) -> Fits:
    found = plan(known, HOUSE, "set", "cabinet")
    assert isinstance(found, Fits)
    return found


def test_wrenches_lie_in_order_round_a_duct_over_all_of_the_drawer() -> None:
    """No clear rectangle takes them: 276 or 260 mm of the drawer are left beside or in front of the duct."""
    made_of = answer(shop(DUCT))
    (placed,) = made_of.plan.placements
    assert placed.layout is not None
    assert (placed.how, placed.layout.ordered) == ("new", True)
    assert (placed.width, placed.depth) == (mm(400) - 2 * SIDE, mm(380) - 2 * SIDE)
    assert verify(shop(DUCT), HOUSE, made_of.plan) == ()
    taken = box(DUCT.left, DUCT.front, DUCT.left + DUCT.width, DUCT.front + DUCT.depth)
    x, y = placed.left + placed.field_left, placed.front + placed.field_front
    for cut in (*placed.layout.pockets, *placed.layout.notches):
        shape = Polygon([(x + across, y + along) for across, along in cut.ring])
        assert shape.distance(taken) >= SIDE + MARGIN - 1e-6


def test_the_checker_sees_a_pocket_too_near_and_one_that_is_not_in_order() -> None:
    known = shop(DUCT)
    good = answer(known).plan
    (placed,) = good.placements
    wider = replace(DUCT, left=DUCT.left - mm(60), front=DUCT.front - mm(60))
    rules = {one.rule for one in verify(shop(wider), HOUSE, good)}
    assert "R9" in rules
    first, *rest = placed.layout.pockets
    changed = (replace(first, piece=rest[-1].piece), *rest[:-1], replace(rest[-1], piece=first.piece))
    layout = replace(placed.layout, pockets=changed)
    assert verify(known, HOUSE, replace(good, placements=(replace(placed, layout=layout),)))


def test_the_cut_drawing_and_the_picture_have_the_notch() -> None:
    outcome = answer(shop(DUCT))
    (placed,), (group,) = outcome.plan.placements, outcome.plan.groups
    box_ = outcome.question.cabinet.drawers[0]
    drawn = drawing(placed, placed.layout, group, box_, mm(30), HOUSE, True)
    (hole,) = [one for one in drawn.contours if one.part == "cutout"]
    inside = Polygon([(x, y) for x, y, _ in hole.corners])
    assert inside.bounds == (DUCT.left - 2 * SIDE, DUCT.front - 2 * SIDE, placed.width, placed.depth)
    for label in placed.layout.labels:
        at = box(label.x, label.y, label.x + 1, label.y + 1)
        assert not inside.intersects(at) or not label.on_foam
    assert 'class="taken"' in drawing_of(outcome, "tools")


def test_what_goes_into_a_clear_rectangle_lies_there_as_before() -> None:
    corner = Obstruction(mm(380), mm(360), mm(20), mm(20), mm(80))
    (placed,) = answer(shop(corner, width=500, depth=420)).plan.placements
    assert placed.width < mm(500) - 2 * SIDE or placed.depth < mm(420) - 2 * SIDE


GROUPS = {
    "wrenches": group_of(*(wrench(size) for size in range(8, 20))),
    "sockets": group_of(*(socket(rank, drive) for drive, rank in product(("1/4", "3/8", "1/2"), range(8, 15)))),
    "both systems": group_of(*(socket(rank, "3/8", system) for system in ("inch", "metric") for rank in range(8, 18))),
    "screwdrivers": group_of(*(made("screwdriver", n, 140 + 12 * n, 28 + n, 26 + n) for n in range(8))),
}
NO_BANDS = replace(HOUSE, layout=replace(HOUSE.layout, bands=False))


def ells(group: Group, house: House):
    """Drawers a little too small for the group once a block stands in a corner or at the back."""
    points = curve(group, house)
    for point, spare in product(points[:: max(len(points) // 8, 1)], (mm(45), mm(70), mm(100))):
        width, depth = point.width + spare, point.depth + spare
        for wide, deep in ((width // 3, depth // 3), (width // 2, depth // 5), (width // 5, depth // 2)):
            right, back = width - wide, depth - deep
            for left, front in ((right, back), (0, back), (right // 2, back), (0, 0)):
                block = Obstruction(left, front, wide, deep, mm(120))
                yield Drawer("cabinet", "1", 1, 1, 1, width, depth, mm(120), obstructions=(block,)), block


@pytest.mark.parametrize("name", GROUPS)
@pytest.mark.parametrize("house", [HOUSE, NO_BANDS], ids=["bands", "no bands"])
def test_layouts_in_two_rooms_are_sound_wherever_they_are_found(name: str, house: House) -> None:
    group, found = GROUPS[name], 0
    for box_, block in ells(group, house):
        fit = admit(group, box_, house)
        if not isinstance(fit, GoesIn) or fit.field is None:
            continue
        layout, (left, front) = fit.layout, fit.field
        assert layout is not None
        found += 1
        assert [*web_faults(layout), *field_faults(layout)] == []
        assert [one.text for one in order_kept(replace(scene_with(group, layout), house=house))] == []
        assert min(left, front) >= MARGIN
        assert left + layout.width + MARGIN <= fit.alone.width
        assert front + layout.depth + MARGIN <= fit.alone.depth
        taken = box(block.left, block.front, block.left + block.width, block.front + block.depth)
        for cut in (*layout.pockets, *layout.notches):
            shape = Polygon([(SIDE + left + x, SIDE + front + y) for x, y in cut.ring])
            assert shape.distance(taken) >= SIDE + MARGIN - 1e-6
    assert found > 0


def test_nothing_is_found_where_one_room_is_all_there_is() -> None:
    assert groups_of(shop(), "set")[0].pieces
    assert in_two_rooms(GROUPS["wrenches"], (), (), mm(80), HOUSE) is None
