"""Parts of a split group lie side by side: consecutive ones wish to be beside each other, in goal `neighbors`."""

from __future__ import annotations

from dataclasses import replace

import pytest

from matcher.house.reading import read_house
from matcher.house.rules import House
from matcher.planning.answering import plan
from matcher.planning.outcome import Fits
from matcher.records.given import GroupRule
from matcher.verification.goals import recount
from tests.builders import HOUSE, cabinet, catalogue, drawer, piece

RULES = (GroupRule("blocks", "blocks", 1, ("other",)),)


def planned(*places: tuple[str, int, int], parts: int = 2, house: House = HOUSE) -> Fits:
    """Blocks of which each takes a drawer of its own, in drawers (name, bank, row) of one size."""
    pieces = [piece(f"block {n}", length=300 + n, width=300) for n in range(parts)]
    known = catalogue(pieces, (), [cabinet(*(drawer(*place) for place in places))], group_rules=RULES)
    outcome = plan(known, house, "set", "cabinet")
    assert isinstance(outcome, Fits)
    assert recount(known, house, outcome.plan)["neighbors"] == neighbors(outcome).value
    return outcome


def neighbors(outcome: Fits):
    return next(goal for goal in outcome.goals if goal.name == "neighbors")


def drawers(outcome: Fits) -> dict[str, str]:
    return {placement.group: placement.drawer for placement in outcome.plan.placements}


GRID = (("A1", 1, 1), ("A2", 1, 2), ("B1", 2, 1), ("B2", 2, 2))


def weighing(weight: int) -> House:
    return replace(HOUSE, goals=replace(HOUSE.goals, parts_weight=weight))


def test_two_parts_lie_in_the_same_row_of_neighboring_banks() -> None:
    """Without the wish the plan is the smallest list of drawers, A1 and A2; with it the second part is across."""
    assert drawers(planned(*GRID, house=weighing(0))) == {"blocks (1 of 2)": "A1", "blocks (2 of 2)": "A2"}
    found = planned(*GRID)
    assert drawers(found) == {"blocks (1 of 2)": "A1", "blocks (2 of 2)": "B1"}
    assert (neighbors(found).value, neighbors(found).proved) == (0, True)


@pytest.mark.parametrize(("weight", "value"), [(1, 2), (2, 4), (5, 10)])
def test_each_part_counts_beside_the_next_by_the_house_weight(weight: int, value: int) -> None:
    """Three parts in one bank of rows 1, 2, 3: part 1 to 2 and 2 to 3 are a row apart each; 1 to 3 is no wish."""
    found = planned(("A1", 1, 1), ("A2", 1, 2), ("A3", 1, 3), parts=3, house=weighing(weight))
    assert neighbors(found).value == value
    told = f"beside blocks (2 of 3) (drawer A2) but lie 1 row above: 1 x weight {weight}"
    assert neighbors(found).contributions[0] == f"blocks (1 of 3) (drawer A1) should be {told}"


def test_the_middle_part_lies_between_the_others() -> None:
    """Banks 1 to 3 of one row: 1, 2, 3 or 3, 2, 1 cost nothing, any other order has parts with a bank between."""
    places = drawers(planned(("A1", 1, 1), ("B1", 2, 1), ("C1", 3, 1), parts=3))
    assert places["blocks (2 of 3)"] == "B1"


def test_the_weight_is_a_whole_number(tmp_path) -> None:
    path = tmp_path / "house.toml"
    path.write_text("[goals]\nparts_weight = 7\n", encoding="utf-8")
    assert read_house(path).goals.parts_weight == 7
