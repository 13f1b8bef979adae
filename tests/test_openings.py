"""What a drawer offers after clearances, obstructions and rounded corners."""

from fractions import Fraction
from math import sqrt

from hypothesis import given
from hypothesis import strategies as st

from matcher.fitting.openings import Opening, clear_rectangles, opening
from matcher.records.given import Obstruction
from matcher.records.rectangles import Rectangle
from matcher.records.units import mm
from tests.builders import HOUSE, drawer


def _space(width, depth, *blocked):
    return Opening(width, depth, 100, tuple(Rectangle(*one) for one in blocked), 0, 0)


def test_clearances_and_liner_come_off_the_drawer():
    space = opening(drawer(width=560, depth=400, height=100, liner=mm(3)), HOUSE)
    assert space.width == mm(560) - 2 * mm(Fraction("1.6"))
    assert space.depth == mm(400) - 2 * mm(Fraction("1.6"))
    assert space.height == mm(100 - 3 - 3)


def test_an_obstruction_in_a_corner_leaves_two_rectangles():
    block = Obstruction(mm(460), mm(300), mm(100), mm(100), mm(50))
    space = opening(drawer(width=560, depth=400, obstructions=(block,)), HOUSE)
    side = HOUSE.clearance.side
    beside = (0, 0, mm(460) - 2 * side, mm(400) - 2 * side)
    before = (0, 0, mm(560) - 2 * side, mm(300) - 2 * side)
    assert set(clear_rectangles(space)) == {beside, before}


def test_nothing_is_clear_where_an_obstruction_fills_the_drawer():
    assert clear_rectangles(_space(10, 10, (0, 0, 10, 10))) == ()


@given(
    st.lists(
        st.tuples(st.integers(-2, 8), st.integers(-2, 8), st.integers(1, 6), st.integers(1, 6)), min_size=0, max_size=3
    )
)
def test_clear_rectangles_are_clear_and_cover_every_clear_cell(blocked):
    space = _space(8, 8, *blocked)
    solid = {(x, y) for left, front, w, d in blocked for x in range(left, left + w) for y in range(front, front + d)}
    clear = {(x, y) for x in range(8) for y in range(8)} - solid
    covered = set()
    for left, front, w, d in clear_rectangles(space):
        cells = {(x, y) for x in range(left, left + w) for y in range(front, front + d)}
        assert cells <= clear
        covered |= cells
    assert covered == clear


@given(st.integers(0, mm(80)), st.integers(0, mm(20)))
def test_the_inset_point_lies_inside_the_rounded_corner_and_one_unit_less_does_not(radius, kept):
    inset = Opening(0, 0, 0, (), radius, 0).inset(kept)
    circle = radius - kept

    def inside(k):
        return k >= circle or sqrt(2) * (circle - k) <= circle + 1e-6

    assert inside(inset)
    assert inset == 0 or not inside(inset - 1)
