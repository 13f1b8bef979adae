"""Cases alone that do not go in: a no where that holds of every plan, by hand; never one that a plan refutes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from matcher.planning.answering import plan
from matcher.planning.outcome import DoesNotFit, Fits, Outcome
from matcher.records.given import GroupRule, Pin
from tests.builders import HOUSE, cabinet, catalogue, drawer, piece

SIDES = 3.2
"""Both side clearances, mm."""


def case(name: str, length: int, width: int, group: str = "cases", count: int = 1):
    return piece(name, length, width, 100, count, "cased", group=group)


def answer(pieces, sizes, **more) -> Outcome:
    """Cases in drawers without foam of these widths and depths, a small tool in one for foam."""
    boxes = [
        drawer(str(n), 1, n, wide + SIDES, deep + SIDES, 150, slot="no foam") for n, (wide, deep) in enumerate(sizes, 1)
    ]
    tools = [piece("small", 100, 50, 20, group="tools")]
    known = catalogue([*pieces, *tools], (), [cabinet(*boxes, drawer("foam", 1, 9))], **more)
    return plan(known, HOUSE, "set", "cabinet")


def kept_whole(*groups: str) -> tuple[GroupRule, ...]:
    return tuple(GroupRule(group, split=False) for group in groups)


def test_cases_that_go_in_by_area_but_not_side_by_side_are_a_proved_no() -> None:
    """Four of 300 x 200 go into 490 x 490 by area (0.2401 to 0.06 m2), but only two: beside one of 300 there is room
    for none of 200 (300 + 200 > 490), and two that stand across take 400 x 300 and leave 490 x 190."""
    assert isinstance(answer([case("case", 300, 200, count=4)], [(490, 490)] * 2), Fits)
    refused = answer([case("case", 300, 200, count=5)], [(490, 490)] * 2)
    assert isinstance(refused, DoesNotFit)
    (reason,) = refused.reasons
    assert (reason.code, reason.scope) == ("all-tried", "house layout")
    assert (reason.groups, reason.drawers) == (("cases",), ("1", "2"))
    assert "lying flat side by side, none on another, and on no case lying in a drawer for foam" in reason.text


@pytest.mark.parametrize("split", [True, False])
def test_four_cases_go_round_a_hole(split: bool) -> None:
    """Four of 300 x 200 fill 500 x 500 but for 100 x 100 in the middle; no straight cut takes them apart."""
    rules = () if split else kept_whole("cases")
    assert isinstance(answer([case("case", 300, 200, count=4)], [(500, 500)], group_rules=rules), Fits)


def test_cases_of_a_group_kept_whole_need_not_lie_in_one_block() -> None:
    """Four of 300 x 200 round one of 100 x 100 fill 500 x 500, which leaves 300 x 500 of the drawer for the other case.
    No straight cuts lay these five so, and the program may not find it: but then it must not call it impossible."""
    pieces = [
        case("large", 300, 200, count=4),
        case("middle", 100, 100),
        case("beside", 500, 300, group="others"),
    ]
    found = answer(pieces, [(800, 500)], group_rules=kept_whole("cases"))
    assert found.verdict != "does not fit"


def test_a_pin_is_no_part_of_the_proof() -> None:
    """Two cases, two drawers, one kept free by a pin: no words about cases may hide that the pin is the cause."""
    pieces = [case("case", 300, 200, count=2)]
    assert isinstance(answer(pieces, [(300, 200)] * 2), Fits)
    pinned = answer(pieces, [(300, 200)] * 2, pins=(Pin("keep free", drawer="1"),))
    assert not isinstance(pinned, Fits)
    assert not any("every way tried" in reason.text for reason in pinned.reasons)


def test_what_the_house_lets_into_foam_drawers_is_not_refused_for_want_of_others() -> None:
    house = replace(HOUSE, layout=replace(HOUSE.layout, cased_in_foam=True))
    boxes = [drawer("1", 1, 1, 493.2, 493.2, 150, slot="no foam"), drawer("2", 1, 2, 493.2, 493.2, 150)]
    found = plan(catalogue([case("case", 300, 200, count=4)], (), [cabinet(*boxes)]), house, "set", "cabinet")
    assert isinstance(found, Fits)
