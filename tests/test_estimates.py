"""Which pieces to measure: the verdict stands with these as estimated and all others off, and none can be spared."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from matcher.planning.answering import plan
from matcher.records.given import GroupRule, Piece
from matcher.records.units import mm
from matcher.report.estimates_views import estimates_document
from matcher.studies.estimates import Settling, fewest, settling
from matcher.tools.rules import NOMINAL
from tests.builders import HOUSE, cabinet, catalogue, drawer

MORE = 1 + NOMINAL.above
"""Greatest length of a bar as a share of its nominal length."""


TIPS = 2
"""More than the 1.2 mm that a pocket is longer because it is opened for the cutter round a bar's thin tips, in mm."""


def bar(nominal: int, group: str = "bars") -> Piece:
    """A pry bar of that nominal length: 0.1 of it wide and high, at least 20 mm; common practice, no source."""
    return Piece("set", f"pry bar {nominal}", "pry bar", 1, size=f"{nominal} mm", group=group, mass=100)


def file(length: int, group: str) -> Piece:
    """A file so long with its handle, 110 mm, and up to 10 % shorter; common practice, no source."""
    return Piece("set", f"file {length}", "file", 1, size=f"{length - 110} mm", group=group, mass=100)


def settled(pieces: Sequence[Piece], width: float, verdict: str) -> Settling:
    """Groups of bars in drawers that are only 90 mm from front to back, so that bars lie across."""
    groups = sorted({one.group for one in pieces})
    rules = tuple(GroupRule(name, name, 1, ("pry bar",), split=False) for name in groups)
    boxes = cabinet(*(drawer(str(row), row=row, width=width, depth=90) for row, _ in enumerate(groups, 1)))
    known = catalogue(pieces, (), [boxes], group_rules=rules)
    outcome = plan(known, HOUSE, "set", "cabinet")
    assert outcome.verdict == verdict
    return settling(outcome)


def needed(nominal: float) -> float:
    """Inside width for a bar: pocket fit 0.8, margin 12, side clearance 1.6 mm, each on both sides."""
    return nominal + 2 * (0.8 + 12 + 1.6)


def test_a_verdict_with_room_for_larger_pieces_stands() -> None:
    found = settled([bar(200)], needed(200 * MORE) + TIPS, "fits")
    assert found.stands
    assert found.measure == ()


def test_a_fit_that_larger_pieces_would_turn_names_the_one_that_decides() -> None:
    """200 mm could be 216, which the drawer does not take; 150 mm could be 162, which it does."""
    found = settled([bar(200, "long"), bar(150, "short")], needed(200 * MORE) - 1, "fits")
    assert not found.stands
    assert [(doubt.group, doubt.piece.piece.tool) for doubt in found.measure] == [("long", "pry bar 200")]
    document = estimates_document(found)
    assert document["with_all_estimates_off"] != "fits"
    assert document["measure"][0]["length_mm"] == 200
    assert document["tried"] == "high"
    assert document["off_share"] == 0.25  # the width, by common practice


def test_a_refusal_that_smaller_pieces_would_turn_names_the_one_that_decides() -> None:
    """200 mm in a drawer for 185: 180 would go in; that the file of 165 is smaller does not matter."""
    found = settled([file(200, "long"), file(165, "short")], needed(185), "does not fit")
    assert found.turned == "fits"
    assert [doubt.piece.piece.tool for doubt in found.measure] == ["file 200"]
    assert estimates_document(found)["tried"] == "low"


def test_of_two_that_are_each_too_long_one_measurement_settles_the_refusal() -> None:
    """If one of them turns out as long as estimated, the set does not fit, whatever the other does."""
    found = settled([file(200, "a"), file(201, "b")], needed(185), "does not fit")
    assert len(found.measure) == 1


def test_of_two_that_may_both_be_too_long_both_have_to_be_measured_for_a_fit() -> None:
    found = settled([bar(200, "a"), bar(201, "b")], needed(205), "fits")
    assert {doubt.group for doubt in found.measure} == {"a", "b"}


def test_what_the_catalogue_gives_is_never_off() -> None:
    given_length = replace(bar(200), length=mm(200), width=mm(20), height=mm(20))
    found = settled([given_length], needed(200), "fits")
    assert found.stands
    assert found.estimated == 0


@given(st.lists(st.booleans(), min_size=1, max_size=12), st.integers(0, 3))
def test_fewest_finds_exactly_what_cannot_be_spared(wanted: list[bool], extra: int) -> None:
    """Enough = holds every wanted item and, beyond these, ``extra`` of the rest."""
    items = list(range(len(wanted)))
    must = {item for item in items if wanted[item]}
    spare = min(extra, len(items) - len(must))

    def enough(held: Sequence[int]) -> bool:
        return must <= set(held) and len(set(held) - must) >= spare

    found = fewest(items, enough)
    assert enough(found)
    assert all(not enough([item for item in found if item != left]) for left in found)


def test_where_pockets_take_the_greatest_sizes_a_fit_stands() -> None:
    """Nothing is larger than the greatest, so nothing need be measured; by likely sizes one piece would."""
    careful = replace(HOUSE, pocket=replace(HOUSE.pocket, estimates="high"))
    box = cabinet(drawer("1", row=1, width=needed(200 * MORE) + TIPS, depth=90))
    rules = (GroupRule("bars", "bars", 1, ("pry bar",), split=False),)
    outcome = plan(catalogue([bar(200)], (), [box], group_rules=rules), careful, "set", "cabinet")
    assert outcome.verdict == "fits"
    assert settling(outcome).stands
