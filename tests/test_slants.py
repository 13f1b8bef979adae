"""What is too long to lie along or across lies at an angle: exact for boxes, a web from the others, and drawn so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from math import cos, hypot, radians, sin

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, union_all

from matcher.fitting.admission import admit, admit_free
from matcher.fitting.fits import GoesIn, StaysOut
from matcher.layout.bounds import excluded_by
from matcher.layout.nesting import nested
from matcher.layout.poses import Pose, poses, rules_for, sheets
from matcher.layout.slants import rectangle_goes_in, slanted
from matcher.planning.answering import plan
from matcher.planning.outcome import Fits
from matcher.records.given import Drawer, Piece
from matcher.records.rectangles import Rectangle
from matcher.report.lying_tools import lying_tool
from matcher.verification.checker import verify
from tests.builders import cabinet, catalogue, drawer, group, piece
from tests.pieces import HOUSE, group_of, made, mm

BAR = piece("bar", length=600, width=45, height=30, kind="breaker bar", drive="1/2", group="drive tools")


def planned(pieces: Sequence[Piece], *drawers: Drawer) -> Fits:
    answer = plan(catalogue(pieces, cabinets=[cabinet(*drawers)]), HOUSE, "set", "cabinet")
    assert isinstance(answer, Fits)
    return answer


def boxed(width: int, depth: int) -> Pose:
    return Pose("along", width, depth, 0, 0, 0)


@given(p=st.integers(1, 40), q=st.integers(1, 40), a=st.integers(1, 40), b=st.integers(1, 40))
def test_the_published_criterion_says_what_turning_by_small_steps_finds(p: int, q: int, a: int, b: int) -> None:
    """By sines and cosines alone: the box round a rectangle turned by every hundredth of a degree."""
    turned = ((p * cos(t) + q * sin(t), p * sin(t) + q * cos(t)) for t in (radians(step / 100) for step in range(9001)))
    least = min(max(wide - a, deep - b) for wide, deep in turned)
    if abs(least) > 0.02:
        assert rectangle_goes_in(p, q, a, b) == (least < 0)


@settings(max_examples=60)
@given(p=st.integers(10, 700), q=st.integers(5, 200), a=st.integers(50, 600), b=st.integers(50, 600))
def test_poses_at_an_angle_are_found_where_a_rectangle_goes_in_with_some_room(p: int, q: int, a: int, b: int) -> None:
    found = slanted(boxed(mm(q), mm(p)), mm(a), mm(b))
    assert all(pose.width <= mm(a) and pose.depth <= mm(b) for pose in found)
    assert all(Polygon(pose.pocket).area >= mm(p) * mm(q) for pose in found)
    if not found:
        assert not rectangle_goes_in(mm(p + 2), mm(q + 2), mm(a), mm(b)) or (p <= max(a, b) and q <= min(a, b))


@settings(max_examples=25, deadline=None)
@given(
    long=st.integers(420, 560),
    others=st.lists(st.tuples(st.integers(60, 220), st.integers(10, 50)), max_size=8),
    block=st.tuples(st.integers(0, 300), st.integers(0, 300), st.integers(20, 90), st.integers(20, 90)),
)
def test_round_a_tool_at_an_angle_and_what_is_blocked_others_keep_their_webs(long, others, block) -> None:
    """With shapely alone: inside the field, clear of what is blocked, a web apart."""
    some = group_of(made("file", 1, long, 25, 20), *(made("file", 2, a, b, 20) for a, b in others))
    field, blocked = (mm(400), mm(420)), [Rectangle(*map(mm, block))]
    (sheet, *_) = sheets(some.pieces, rules_for(some, HOUSE))
    choices = [
        (*(pose.alone for pose in poses(sized, sheet)), *slanted(poses(sized, sheet)[0].alone, *field))
        for sized in some.pieces
    ]
    spots = nested(choices, *field, blocked)
    if spots is None:
        return
    shapes = [
        union_all([Polygon([(x + spot.x, y + spot.y) for x, y in ring]) for ring in spot.pose.shape]) for spot in spots
    ]
    web = max(spot.pose.web for spot in spots)
    assert all(shape.within(Polygon([(0, 0), (field[0], 0), field, (0, field[1])]).buffer(1)) for shape in shapes)
    taken = Polygon([(x, y) for x, y in _corners(blocked[0])])
    assert all(shape.intersection(taken).area == 0 for shape in shapes)
    assert all(one.distance(other) >= web - 1 for one, other in combinations(shapes, 2))


def _corners(box: Rectangle) -> list[tuple[int, int]]:
    return [(box.left, box.front), (box.right, box.front), (box.right, box.back), (box.left, box.back)]


def test_a_long_bar_lies_at_an_angle_is_checked_and_drawn() -> None:
    """600 mm of bar in a drawer of 560 x 520 mm, whose diagonal is 764 mm."""
    answer = planned([BAR], drawer(width=560, depth=520))
    assert verify(answer.question.catalogue, HOUSE, answer.plan) == ()
    (placement,) = answer.plan.placements
    assert placement.how == "unordered"
    pocket = placement.layout.pockets[0]
    smaller = tuple((x * 49 // 50, y * 49 // 50) for x, y in pocket.ring)
    shrunk = replace(placement, layout=replace(placement.layout, pockets=(replace(pocket, ring=smaller),)))
    broken = verify(answer.question.catalogue, HOUSE, replace(answer.plan, placements=(shrunk,)))
    assert "R14" in {violation.rule for violation in broken}
    lying = lying_tool(answer.question.groups[0].pieces[0], pocket)
    assert lying is not None
    assert Polygon(lying.rings[0]).difference(Polygon(pocket.ring).buffer(1)).area < 0.03 * Polygon(lying.rings[0]).area


def test_the_other_tools_lie_in_order_where_only_one_is_too_long() -> None:
    """The bar takes a drawer to itself, so that the others are divided from it and mixed as ever."""
    others = [piece(f"pliers {n}", n, 55, 20, kind="combination pliers", group="pliers") for n in (160, 180)]
    others += [piece("hammer", 300, 100, 30, kind="hammer", group="striking tools")]
    bars = [piece("ratchet", 250, 40, 30, kind="ratchet", drive="1/2", group="drive tools"), BAR]
    drawers = [drawer(str(n), row=n, width=560, depth=520) for n in (1, 2)]
    answer = planned([*bars, *others], *drawers)
    hows = {placement.group: placement.how for placement in answer.plan.placements}
    assert sorted(hows.values()) == ["new", "new", "new", "unordered"]


def test_a_case_at_an_angle_goes_in_and_one_a_little_larger_is_refused() -> None:
    """600 x 100 mm at 45 degrees takes 495 x 495 mm; a case of 640 x 300 needs more than a drawer of 600 x 520 has."""
    case = group("case", piece("case", 600, 100, 60, kind="cased"))
    box = drawer(width=560, depth=520, slot="no foam")
    assert isinstance(admit(case, box, HOUSE), StaysOut)
    assert isinstance(admit_free(case, box, HOUSE), GoesIn)
    large = group("case", piece("case", 640, 300, 60, kind="cased"))
    assert isinstance(admit_free(large, drawer(width=600, depth=520, slot="no foam"), HOUSE), StaysOut)


def test_a_refused_case_lacks_what_makes_it_go_in() -> None:
    """With the missing millimeters added the criterion holds, and with one unit less it does not."""
    case = group("case", piece("case", 640, 300, 60, kind="cased"))
    refused = excluded_by(case, mm(600), mm(520), mm(100), HOUSE)
    assert refused is not None
    more = {"width": (refused.short, 0), "depth": (0, refused.short)}[refused.axis]
    assert rectangle_goes_in(mm(640), mm(300), mm(600) + more[0], mm(520) + more[1])
    less = tuple(max(0, side - 1) for side in more)
    assert not rectangle_goes_in(mm(640), mm(300), mm(600) + less[0], mm(520) + less[1])


def test_nothing_says_whatever_the_layout_of_what_may_lie_at_an_angle() -> None:
    """The field is 27.2 mm less than the drawer both ways; the pocket has 0.8 mm round the bar."""
    bar = group("drive tools", BAR)
    for width in range(300, 640, 20):
        fit = admit_free(bar, drawer(width=width, depth=520), HOUSE)
        field = width - 27.2, 520 - 27.2
        if isinstance(fit, StaysOut) and fit.shortfall.scope == "any layout":
            assert hypot(*field) < 600 + 1.6
        if rectangle_goes_in(602, 47, *map(int, field)):
            assert isinstance(fit, GoesIn)
