"""Tools are drawn in their pockets as they lie there, and nothing is drawn where a pocket is not for them."""

from __future__ import annotations

from pathlib import Path

import pytest
from shapely import Point, Polygon

from matcher.catalogue.reading import read_catalogue
from matcher.layout.curves import curve, realize
from matcher.layout.pocket_rings import pocket_ring
from matcher.planning.grouping import groups_of, sets_of
from matcher.records.laid_out import Pocket, SizedPiece
from matcher.records.units import mm
from matcher.report.drawing import drawing_of
from matcher.report.lying_tools import lying_tool
from matcher.tools.dimensions import sized
from tests import page_cases
from tests.pieces import HOUSE
from tests.tool_pieces import a_piece

WORKSHOP = Path(__file__).resolve().parents[1] / "data" / "workshop"
FIT, CUTTER = mm(0.8), mm(1.6)
HAMMER = sized(a_piece("hammer"))


def pocket_of(piece: SizedPiece, quarter: int) -> Pocket:
    """The piece's pocket, its head turned clockwise by quarters, somewhere in a field."""
    turned = [((x, y), (y, -x), (-x, -y), (-y, x))[quarter] for x, y in pocket_ring(piece, False, FIT, CUTTER)]
    left, front = min(x for x, _ in turned), min(y for _, y in turned)
    return Pocket(0, tuple((x - left + mm(30), y - front + mm(50)) for x, y in turned), mm(20), mm(30))


@pytest.mark.parametrize(("quarter", "to"), [(0, (0, 1)), (1, (1, 0)), (2, (0, -1)), (3, (-1, 0))])
def test_a_hammer_lies_as_its_pocket_does(quarter: int, to: tuple[int, int]) -> None:
    """A hammer's weight is at its head: its middle lies towards it from the middle of its box."""
    pocket = pocket_of(HAMMER, quarter)
    tool = lying_tool(HAMMER, pocket)
    assert tool is not None
    shape, room = Polygon(tool.rings[0]), Polygon(pocket.ring)
    left, front, right, back = shape.bounds
    off = shape.centroid.x - (left + right) / 2, shape.centroid.y - (front + back) / 2
    assert off[0] * to[0] + off[1] * to[1] > 0.05 * HAMMER.length
    assert room.buffer(1).contains(shape)
    assert shape.exterior.distance(room.exterior) == pytest.approx(FIT, abs=mm(0.15))


def test_nothing_is_drawn_in_a_pocket_for_something_else() -> None:
    pocket = pocket_of(HAMMER, 0)
    assert lying_tool(sized(a_piece("combination pliers", "200")), pocket) is None
    assert lying_tool(sized(a_piece("hammer", "2 kg")), pocket) is None


def test_every_pocket_of_the_bundled_sets_shows_its_tool_in_it() -> None:
    """Sharp corners of tools reach into foam by less than the fit: see `layout.cutouts`."""
    catalogue, looked_at = read_catalogue(WORKSHOP), 0
    for name in sets_of(catalogue)[:3]:
        for group in groups_of(catalogue, name):
            if group.cased or not group.pieces:
                continue
            for pocket in realize(group, HOUSE, curve(group, HOUSE)[0]).pockets:
                tool = lying_tool(group.pieces[pocket.piece], pocket)
                assert tool is not None, group.pieces[pocket.piece].piece.tool
                shape, room = Polygon(tool.rings[0]), Polygon(pocket.ring)
                assert room.buffer(FIT).contains(shape), group.pieces[pocket.piece].piece.tool
                assert room.contains(Point(shape.representative_point()))
                looked_at += 1
    assert looked_at > 100


def test_a_drawing_shows_every_pocket_s_tool() -> None:
    outcome = page_cases.planned()
    placement = next(one for one in outcome.plan.placements if one.layout)
    text = drawing_of(outcome, placement.group)
    assert text.count('class="pocket"') == text.count('class="tool"') == len(placement.layout.pockets)
