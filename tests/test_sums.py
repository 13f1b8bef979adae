"""Refusals by sums: pockets with their margins ask for more than there is, and never refuse what has a plan."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from matcher.layout.bounds import least_area, pocket_area
from matcher.layout.curves import curve, realize
from matcher.planning.answering import plan
from matcher.planning.question import ask
from matcher.planning.summing import refused_by_sums
from tests.builders import cabinet, catalogue, drawer, organizer, piece
from tests.generated import catalogue as generated
from tests.pieces import HOUSE, group_of, made, mm, socket, wrench


def blocks(count: int, side: float) -> list:
    return [piece("block", side, side, 20, count=count, group="blocks")]


def refused(pieces: list, *drawers) -> bool:
    return refused_by_sums(ask(catalogue(pieces, cabinets=[cabinet(*drawers)]), HOUSE, "set", "cabinet"))


def test_the_margin_round_the_pockets_counts() -> None:
    """By hand. A drawer of 303.2 x 303.2 mm opens 300 x 300 and has a field of 276 x 276, with half a web of 6 mm round
    it 282 x 282, that is 79,524 mm2. A block of 90 mm has a pocket of 91.6 mm, which with half a web round it takes
    97.6 squared less the rounded corners, at most 9,526 mm2: eight of them take 76,203 and nine 85,728 mm2, more than
    the field has and less than the 90,000 that open."""
    box = drawer(width=303.2, depth=303.2)
    assert not refused(blocks(8, 90), box)
    assert refused(blocks(9, 90), box)


@pytest.mark.parametrize("make", [socket, wrench])
def test_a_pocket_takes_at_least_what_any_does(make) -> None:
    """The house's own pockets follow the tool, so that they never take less than the bound for all outlines but a mere
    disc, and never more than their layout's."""
    tool = make(14, "1/2", "metric") if make is socket else make(14)
    some = group_of(tool)
    (only,) = some.pieces
    least = pocket_area(only, mm(300), HOUSE)
    for point in curve(some, HOUSE):
        (pocket,) = realize(some, HOUSE, point).pockets
        assert least <= Polygon(pocket.ring).buffer(HOUSE.pocket.web_for(pocket.depth) / 2, quad_segs=64).area
    assert least >= Fraction(9, 10) * least_area(only, some, mm(300), HOUSE)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.integers(30, 120), min_size=1, max_size=6), st.integers(150, 420), st.integers(150, 420))
def test_what_has_a_layout_is_never_refused(sides: list[int], width: int, depth: int) -> None:
    some = [piece(f"block {n}", side, side, 20, group="blocks") for n, side in enumerate(sides)]
    known = catalogue(some, cabinets=[cabinet(drawer(width=width, depth=depth))])
    if plan(known, HOUSE, "set", "cabinet").verdict == "fits":
        assert not refused_by_sums(ask(known, HOUSE, "set", "cabinet"))


@pytest.mark.parametrize("seed", range(40))
def test_generated_sets_that_fit_are_never_refused(seed: int) -> None:
    """With ready-made organizers, cases, obstructions, pins and two units; quickly, and only where a plan is found."""
    known = generated(4000 + seed, sets=1, cabinets=1, pieces=(20, 40))
    quick = replace(HOUSE, work=replace(HOUSE.work, together=1.0, free_layout=0.5))
    name, where = known.pieces[0].set, known.cabinets[0].name
    if plan(known, quick, name, where).verdict == "fits":
        assert not refused_by_sums(ask(known, quick, name, where))


def test_a_smaller_ready_made_organizer_counts_for_its_pieces() -> None:
    """Pieces whose pockets alone ask for more than the drawer has, but whose organizer, cut otherwise, goes in."""
    known = catalogue(
        blocks(9, 90),
        [organizer("blocks", width=299, depth=299, height=50)],
        [cabinet(drawer(width=303.2, depth=303.2))],
    )
    assert not refused_by_sums(ask(known, HOUSE, "set", "cabinet"))


def test_made_pieces_are_counted_by_their_outlines() -> None:
    file = group_of(made("file", 1, 98.4, 38.4, 30)).pieces[0]
    assert pocket_area(file, mm(100), HOUSE) > mm(98.4) * mm(38.4)
