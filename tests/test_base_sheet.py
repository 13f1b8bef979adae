"""Foam of two sheets, the lower one contrasting: every pocket ends in it, so that a missing tool is seen at once.

Trade practice: 3/8 to 1/2 in of contrasting bottom under a dark top, the top cut through.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from matcher.house.rules import House
from matcher.layout.bounds import least_height
from matcher.layout.curves import curve, realize
from matcher.layout.easing import eased
from matcher.layout.free import free
from matcher.records.laid_out import Group, Layout
from matcher.records.units import inch
from tests.pieces import HOUSE, faults, group_of, made, mm, socket
from tests.test_layout import groups

BASE = inch(0.375)


def with_base(base: int = BASE, house: House = HOUSE, **pocket: object) -> House:
    return replace(house, pocket=replace(house.pocket, base=base, **pocket))


def lowest(group: Group, house: House) -> Layout:
    return realize(group, house, min(curve(group, house), key=lambda point: point.height))


# ------------------------------------------------------------------------------------------------- worked by hand


@pytest.mark.parametrize(
    ("depth", "through", "top"),
    [
        (13.2, 30, 12.7),  # 9.525 - 6 - 2 x 0.8 = 1.925 mm may be cut into the base: 12.7 + 1.925 >= 13.2
        (14.625, 30, 12.7),  # just enough
        (14.63, 30, 19.05),
        (3, 30, 12.7),  # the thinnest there is
        (30, 32, 31.75),
        (30, 30, 25.4),  # 28.1 mm of top sheet are needed, but 31.75 cannot be cut through: a thinner one
    ],
)
def test_the_top_sheet_is_the_thinnest_that_leaves_the_floor_and_can_be_cut_through(depth, through, top) -> None:
    """Trade practice: T >= b + f t, with the tolerance of either sheet taken off; stock 12.7, 19.05, 25.4, 31.75."""
    assert with_base().pocket.thickness_for(mm(depth), mm(through)) == mm(top) + BASE


def test_a_thick_and_a_thin_wrench_by_hand() -> None:
    """13.2 and 8 mm thick, let in by their full thickness: a top sheet of 12.7 mm on a base of 9.525 mm.

    The foam is 22.225 mm high. The thick one lies 13.5 mm deep, the next step of 1.5 mm, on 8.725 mm of the base; the
    thin one 12.7 mm deep, 4.7 mm below the face, and needs a notch to be taken.
    """
    pair = group_of(*(made("open-end wrench", n, 150, 30, thick) for n, thick in ((1, 8), (2, 13.2))))
    laid = lowest(pair, with_base())
    assert (laid.thickness, laid.base, laid.height) == (mm(22.225), BASE, mm(22.225))
    assert [(pocket.depth, pocket.rise) for pocket in laid.pockets] == [
        (mm(12.7), mm(22.225)),
        (mm(13.5), mm(22.225)),
    ]
    assert {index for notch in laid.notches for index in notch.pockets} == {0, 1}
    assert all(notch.depth == max(laid.pockets[index].depth for index in notch.pockets) for notch in laid.notches)


def test_a_tall_piece_goes_down_as_far_as_the_floor_in_thin_sheets_allows() -> None:
    """A file 30 mm thick: 18 mm by its share, a top sheet of 19.05 mm, 28.575 mm of foam.

    It may sink to 28.575 - 7.6 = 20.975 mm and rises 37.6 mm: floor, both tolerances and its thickness.
    """
    laid = lowest(group_of(made("file", 1, 200, 30, 30)), with_base())
    assert laid.thickness == mm(28.575)
    assert [(pocket.depth, pocket.rise) for pocket in laid.pockets] == [(mm(20.975), mm(37.6))]
    assert eased(laid, with_base().pocket, mm(100)) == laid, "both tolerances are allowed for already"


def test_where_the_kind_is_never_cut_that_deep_the_top_sheet_is_thinner() -> None:
    """Pliers ask for 24 mm of depth and thus for 25.4 mm of top sheet; files are never cut deeper than 20 mm.

    So it is 19.05 mm: the pliers lie 19.05 + 1.925 mm deep, and the file just at the base.
    """
    house = with_base(depth_max=(("default", mm(30)), ("file", mm(20))))
    both = group_of(made("file", 1, 200, 30, 30), made("combination pliers", 2, 200, 50, 40))
    laid = lowest(both, house)
    assert laid.thickness == mm(19.05) + BASE
    assert {both.pieces[pocket.piece].piece.kind: pocket.depth for pocket in laid.pockets} == {
        "combination pliers": mm(20.975),
        "file": mm(19.05),
    }


def test_the_top_sheet_is_so_thin_that_standing_sockets_can_be_gripped() -> None:
    """A socket 25 mm long and one of 38: 22.8 mm by the share of the longer, but the short one is to stand out by 8 mm.

    So the top sheet is not 25.4 but 12.7 mm thick. Where 19.05 mm is the thinnest in stock, the short one stands out
    by 5.95 mm and has a notch.
    """
    pair = group_of(socket(8, length=25), socket(19, length=38))
    height = mm(7.6 + 38)
    laid = realize(pair, with_base(), next(point for point in curve(pair, with_base()) if point.height == height))
    assert (laid.thickness, laid.notches) == (mm(12.7) + BASE, ())
    assert all(pocket.standing for pocket in laid.pockets)
    thick = with_base(stock=(mm(19.05), mm(25.4)))
    laid = realize(pair, thick, next(point for point in curve(pair, thick) if point.height == height))
    assert laid.thickness == mm(19.05) + BASE
    assert laid.notches


# ------------------------------------------------------------------------------------------------------ properties


def broken(layout: Layout, house: House) -> list[str]:
    """What keeps a floor from being base that holds: R18 anew, from the words of the rule."""
    cuts = (*layout.pockets, *layout.notches)
    top, thin = layout.thickness - house.pocket.base, layout.thickness - 2 * house.pocket.stock_tolerance
    return [
        *(["above the base"] if min(cut.depth for cut in cuts) < top else []),
        *(["no floor"] if thin - max(cut.depth for cut in cuts) < house.pocket.floor else []),
        *(["no stock"] if top not in house.pocket.stock else []),
        *(["foam above what is said"] if layout.height < layout.thickness else []),
    ]


@settings(max_examples=40, deadline=None)
@given(group=groups, base=st.sampled_from((mm(7.6), BASE, inch(0.5), mm(25))))
def test_every_layout_on_a_base_is_cut_through_its_top_sheet(group: Group, base: int) -> None:
    house = with_base(base)
    points = curve(group, house)
    for point in points[:: max(1, len(points) // 4)]:
        laid = realize(group, house, point)
        assert laid.base == base
        assert broken(laid, house) == []
        assert faults(laid, group) == []
        assert least_height(group, house) <= laid.height


@settings(max_examples=20, deadline=None)
@given(group=groups)
def test_free_layouts_too(group: Group) -> None:
    answer = free(group, mm(2000), mm(2000), mm(600), with_base())
    assume(answer.layout is not None)
    assert broken(answer.layout, with_base()) == []


@settings(max_examples=40, deadline=None)
@given(group=groups, sheet=st.sampled_from((12.7, 19.05, 25.4)), thicker=st.integers(0, 20))
def test_under_the_same_sheet_a_base_only_asks_for_more_height(group: Group, sheet: float, thicker: int) -> None:
    """Foam of one sheet, the same on a base, and on a thicker base. With sheets to choose from it need not be so: a
    top sheet on a base may be so much thinner than a single one that both together are thinner, too."""

    def needed(base: int) -> int:
        return min(point.height for point in curve(group, with_base(base, stock=(mm(sheet),))))

    one = needed(0)
    if max(piece.height for piece in group.pieces) <= mm(sheet) - HOUSE.pocket.floor:
        assert one <= needed(BASE)
    assert mm(sheet) + BASE <= needed(BASE) <= needed(BASE + mm(thicker))
