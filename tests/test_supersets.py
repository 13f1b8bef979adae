"""More of the same does not turn a no: in proofs one piece stands for a group that has to be split, however it is."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.reading import read_catalogue
from matcher.fitting.admission import admit_free
from matcher.fitting.fits import GoesIn, StaysOut
from matcher.layout.splitting import singles
from matcher.planning.answering import plan
from matcher.planning.deciding import verdict_of
from matcher.planning.grouping import groups_of
from matcher.planning.outcome import DoesNotFit
from matcher.planning.posing import usable
from matcher.planning.question import ask
from matcher.records.given import Cabinet, Catalogue, Drawer, GroupRule
from matcher.records.laid_out import Group
from matcher.records.units import kg
from matcher.screening.sweep import screen
from tests.builders import HOUSE, cabinet, catalogue, drawer, piece

WORKSHOP = read_catalogue(Path(__file__).resolve().parents[1] / "data" / "workshop")


def test_more_than_what_does_not_fit_does_not_fit_either() -> None:
    """Their pockets ask for more area than the chest has, however they are divided and mixed."""
    part, more, name = "Birch-134+Cedar-229", "Alder-64", "Glen-5"
    assert verdict_of(ask(WORKSHOP, HOUSE, part, name)) == "does not fit"
    assert verdict_of(ask(WORKSHOP, HOUSE, f"{more}+{part}", name)) == "does not fit"


def bars_and_plate(*held: Drawer) -> Catalogue:
    """A bar of 480 mm with three slabs, and a plate of 500 x 340 mm, which shares no drawer with them."""
    slabs = [piece(f"slab {n}", 300 + n, 200, 30, group="bars") for n in range(3)]
    plate = piece("plate", 500, 340, 30, group="plates")
    rules = (GroupRule("plates", share=False),)
    return catalogue([*slabs, piece("bar", 480, 40, 40, group="bars"), plate], (), [cabinet(*held)], group_rules=rules)


def test_a_split_group_needs_a_drawer_that_takes_the_worst_of_its_pieces() -> None:
    """Bar and slabs are too much for any drawer, so they are split; but only one drawer is as long as the bar, and
    only that one takes the plate. With three such drawers all goes in."""
    small = [drawer(str(row), row=row, width=380, depth=260) for row in (2, 3, 4, 5)]
    known = bars_and_plate(drawer("1"), *small)
    outcome = plan(known, HOUSE, "set", "cabinet")
    assert isinstance(outcome, DoesNotFit)
    (reason,) = outcome.reasons
    assert (reason.code, reason.scope) == ("too-few-drawers", "house layout")
    assert (reason.groups, reason.drawers) == (("bars", "plates"), ("1",))
    assert "between them (1): bars (bar), plates" in reason.text
    assert "share = no of plates" in reason.text
    (pair,) = screen(known, HOUSE)
    assert (pair.verdict, pair.decided_by, pair.reasons) == ("does not fit", "model", outcome.reasons)
    more = bars_and_plate(drawer("1"), *small, drawer("6", row=6), drawer("7", row=7))
    assert plan(more, HOUSE, "set", "cabinet").verdict == "fits"


def test_a_small_piece_that_is_the_proved_no_is_not_missed_beside_a_larger_open_one() -> None:
    """A plate of 300 x 250 mm is neither laid out nor excluded in a field of 350 x 300 mm less margins and clearance
    (across it would have to be turned by an angle); a peg of 150 mm height is too high for a drawer of 100 mm."""
    plate, peg = piece("plate", 300, 250, 20, group="mixed"), piece("peg", 160, 155, 150, group="mixed")
    held = cabinet(*(drawer(str(row), row=row, width=350, depth=300) for row in (1, 2)))
    assert plan(catalogue([plate], (), [held]), HOUSE, "set", "cabinet").verdict == "undecided"
    outcome = plan(catalogue([plate, peg], (), [held]), HOUSE, "set", "cabinet")
    assert isinstance(outcome, DoesNotFit)
    assert outcome.reasons[0].text.startswith("mixed (peg): goes into no drawer for foam")


def test_as_many_parts_as_are_needed() -> None:
    """Eight blocks of 5 kg for eight drawers rated 6 kg: each lies in a drawer of its own."""
    blocks = [piece(f"block {n}", 100 + n, 40, 30, mass=5, group="blocks") for n in range(8)]
    held = cabinet(*(drawer(str(row), row=row, load_rating=kg(6)) for row in range(8)))
    assert verdict_of(ask(catalogue(blocks, (), [held]), HOUSE, "set", "cabinet")) == "fits"


@pytest.mark.parametrize("name", ["Alder-64", "Birch-134"])
def test_no_drawer_takes_a_group_and_refuses_one_of_its_pieces(name: str) -> None:
    """A piece is refused only where every layout that has it among others is."""
    boxes = {replace(box, cabinet="", name="") for held in WORKSHOP.cabinets for box in usable(held)}
    refused = 0
    for group, box in product(groups_of(WORKSHOP, name), sorted(boxes, key=repr)):
        if any(isinstance(admit_free(single, box, HOUSE), StaysOut) for single in singles(group, HOUSE.layout.sides)):
            refused += 1
            assert isinstance(admit_free(group, box, HOUSE), StaysOut)
    assert refused


# ------------------------------------------------------------------------------------------- against every division

SIZES = st.tuples(st.sampled_from((60, 130, 210)), st.sampled_from((40, 110)), st.sampled_from((20, 60)))
DRAWERS = st.tuples(st.sampled_from((120, 200, 280)), st.sampled_from((120, 170)), st.sampled_from((50, 90)))


@settings(max_examples=150, deadline=None, derandomize=True)
@given(
    st.lists(st.tuples(SIZES, st.sampled_from("ab")), min_size=2, max_size=4), st.lists(DRAWERS, min_size=1, max_size=3)
)
def test_no_division_of_what_does_not_fit_goes_in(
    pieces: list[tuple[tuple[int, int, int], str]], drawers: list[tuple[int, int, int]]
) -> None:
    """Against trying every way to put each piece in a drawer, two groups never in one; whole where a group goes in."""
    held = cabinet(*(drawer(str(row), row=row, width=w, depth=d, height=h) for row, (w, d, h) in enumerate(drawers)))
    blocks = [piece(f"block {n}", *size, group=group, mass=0.1) for n, (size, group) in enumerate(pieces)]
    known = catalogue(blocks, (), [held])
    ways = [_ways(group, held) for group in groups_of(known, "set")]
    if any(map(_apart, product(*ways))):
        assert verdict_of(ask(known, HOUSE, "set", "cabinet")) != "does not fit"


ROWS = st.tuples(SIZES, st.sampled_from("abc"))


@settings(max_examples=100, deadline=None, derandomize=True)
@given(
    st.lists(ROWS, min_size=1, max_size=3),
    st.lists(ROWS, min_size=1, max_size=3),
    st.lists(DRAWERS, max_size=3).filter(bool),
)
def test_a_no_never_becomes_a_fit_by_adding_a_set(
    part: list[tuple[tuple[int, int, int], str]],
    more: list[tuple[tuple[int, int, int], str]],
    drawers: list[tuple[int, int, int]],
) -> None:
    held = cabinet(*(drawer(str(row), row=row, width=w, depth=d, height=h) for row, (w, d, h) in enumerate(drawers)))
    rows = [
        piece(f"{name} {n}", *size, group=group, mass=0.1, set=name)
        for name, given_rows in (("part", part), ("more", more))
        for n, (size, group) in enumerate(given_rows)
    ]
    known = catalogue(rows, (), [held])
    if verdict_of(ask(known, HOUSE, "part", "cabinet")) == "does not fit":
        both = plan(known, HOUSE, "more+part", "cabinet")
        assert both.verdict != "fits"


def _ways(group: Group, held: Cabinet) -> list[frozenset[int]]:
    """Every set of drawers that takes the group: whole in one, or if none does, in parts."""
    boxes = usable(held)

    def goes_in(some: list[Group], box: int) -> bool:
        pieces = tuple(piece for single in some for piece in single.pieces)
        return isinstance(admit_free(replace(group, pieces=pieces), boxes[box], HOUSE), GoesIn)

    whole = [frozenset((box,)) for box in range(len(boxes)) if goes_in([group], box)]
    if whole:
        return whole
    own = singles(group, HOUSE.layout.sides)
    found = set()
    for places in product(range(len(boxes)), repeat=len(own)):
        shared = {box: [single for single, place in zip(own, places, strict=True) if place == box] for box in places}
        if all(goes_in(some, box) for box, some in shared.items()):
            found.add(frozenset(places))
    return sorted(found, key=sorted)


def _apart(way: tuple[frozenset[int], ...]) -> bool:
    """Whether no drawer is used by two groups."""
    return sum(map(len, way)) == len(frozenset().union(*way))
