"""Every number of the house rules that a plan rests on, other for the makers than for the checker.

The makers plan by house rules in which one number is more lenient, and find no fault with their plan; by the true rules
the checker refuses it, or counts a goal otherwise. So the checker reads each of these numbers itself.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from matcher.house.rules import House, SideRules
from matcher.layout.curves import curve
from matcher.planning.answering import plan
from matcher.planning.grouping import groups_of
from matcher.records.given import Cabinet, Catalogue, Drawer, GroupRule, Piece, Pin
from matcher.records.units import kg, mm
from matcher.records.words import GoalName
from matcher.verification.checker import verify
from matcher.verification.goals import recount
from tests.builders import HOUSE, drawer, organizer, piece
from tests.builders import catalogue as records


def tool(kind: str, size: str, **more: Any) -> Piece:
    return Piece("set", f"{kind} {size}", kind, 1, system="metric", size=size, group="tools", **more)


BLOCKS = (piece("one", group="tools"), piece("two", group="tools"))
WRENCHES = tuple(tool("combination wrench", size) for size in ("10", "12", "14", "17"))
DEEP_SOCKETS = tuple(tool("deep socket", size, drive="1/2") for size in ("13", "17", "19"))
BOTH_SYSTEMS = tuple(
    Piece("set", f"socket {drive} {size} {system}", "socket", 1, system=system, size=size, drive=drive, group="tools")
    for system, sizes in (("metric", ("10", "13")), ("inch", ("3/8", "1/2")))
    for drive in ("1/4", "3/8")
    for size in sizes
)
FILES = tuple(tool("file", size) for size in ("200", "250"))


def of(pieces: tuple[Piece, ...], *boxes: Drawer, **more: Any) -> Catalogue:
    return records(pieces, cabinets=[Cabinet("cabinet", boxes)], **more)


def snug(pieces: tuple[Piece, ...], house: House) -> Catalogue:
    """The pieces and a drawer that their narrowest organizer by these rules just fills."""
    group = groups_of(of(pieces), "set")[0]
    point, rim = curve(group, house)[0], 2 * (house.pocket.margin + house.clearance.side)
    box = replace(drawer(), inside_width=point.width + rim, inside_depth=point.depth + rim)
    return of(pieces, replace(box, clear_height=point.height + house.clearance.top))


def changed(house: House, table: str, number: str, value: object) -> House:
    return replace(house, **{table: replace(getattr(house, table), **{number: value})})


DEEPER = changed(HOUSE, "pocket", "depth_max", (("default", mm(45)),))
"""The cutters, not the house's deepest pocket, end pockets of deep sockets."""

FOAM: tuple[tuple[str, str, object, tuple[Piece, ...], str], ...] = (
    ("clearance", "side", HOUSE.clearance.side - 1, WRENCHES, "R4"),
    ("clearance", "top", HOUSE.clearance.top - 1, WRENCHES, "R5"),
    ("pocket", "web", HOUSE.pocket.web - 1, BLOCKS, "R12"),
    ("pocket", "web_share", Decimal("0.29"), DEEP_SOCKETS, "R12"),
    ("pocket", "margin", HOUSE.pocket.margin - 1, WRENCHES, "R13"),
    ("pocket", "fit", HOUSE.pocket.fit - 2, WRENCHES, "R14"),
    ("pocket", "floor", HOUSE.pocket.floor - mm(2), FILES, "R14"),
    ("pocket", "depth_share", (("default", Decimal("0.3")),), WRENCHES, "R14"),
    ("pocket", "depth_max", (("default", mm(30) + 1),), DEEP_SOCKETS, "R14"),
    ("pocket", "depth_step", mm(4), WRENCHES, "R14"),
    ("pocket", "stock", (mm(20), mm(40)), WRENCHES, "R14"),
    ("pocket", "stock_tolerance", 0, (tool("combination wrench", "20", height=mm(13)),), "R14"),
    ("pocket", "base", mm(10), WRENCHES, "R18"),
    ("notch", "width", HOUSE.notch.width - 1, WRENCHES, "R14"),
    ("notch", "grip", 0, WRENCHES, "R14"),
    ("layout", "sides", SideRules(left="metric"), BOTH_SYSTEMS, "R16"),
    ("layout", "sides", SideRules(outermost="smallest"), BOTH_SYSTEMS, "R16"),
    ("layout", "cased_in_foam", True, (replace(BLOCKS[0], kind="cased"),), "R3"),
)


@pytest.mark.parametrize(("table", "number", "value", "pieces", "rule"), FOAM, ids=lambda part: str(part)[:20])
def test_numbers_of_foam_and_room(table: str, number: str, value: object, pieces: tuple[Piece, ...], rule: str) -> None:
    house = changed(HOUSE, table, number, value)
    found = snug(pieces, house)
    made = plan(found, house, "set", "cabinet").plan
    assert made is not None
    assert verify(found, house, made) == ()
    assert rule in {violation.rule for violation in verify(found, HOUSE, made)}


def test_the_reach_of_the_cutters() -> None:
    longer = replace(DEEPER, cutters=tuple(replace(one, reach=one.reach + 1) for one in DEEPER.cutters))
    found = snug(DEEP_SOCKETS, longer)
    made = plan(found, longer, "set", "cabinet").plan
    assert made is not None
    assert {(violation.rule, violation.excess) for violation in verify(found, DEEPER, made)} >= {("R14", 1)}


@pytest.mark.parametrize("number", ["gap", "strip_min"])
def test_what_counts_as_a_gap(number: str) -> None:
    """Of 556.8 mm the organizer takes 543.8 mm: a gap of 13 mm takes a strip from 12 mm on, and is above 3 mm."""
    house = changed(HOUSE, "clearance", number, mm(14))
    found = of((), drawer(), organizers=[replace(organizer(), width=mm(556) - mm(13) + mm(1) * 8 // 10)])
    made = plan(found, house, "set", "cabinet").plan
    assert made is not None
    assert [violation.rule for violation in verify(found, HOUSE, made)] == ["R15"]


# ------------------------------------------------------------------------------------------------------------- goals


def in_places(*tiers: int) -> Catalogue:
    """Groups in tiers 1, 2, ... each pinned to its drawer, the first to the lowest, floors 16 mm apart."""
    names = "abc"[: len(tiers)]
    pieces = tuple(piece(name, group=name) for name in names)
    boxes = [drawer(name, row=3 - n, above_ground=mm(700 + 16 * n)) for n, name in enumerate(names)]
    rows = tuple(GroupRule(name, tier=tier) for name, tier in zip(names, tiers, strict=True))
    pins = tuple(Pin("in", group=name, drawer=name) for name in names)
    return of(pieces, *boxes, group_rules=rows, pins=pins)


def used(times: float, floor: float, mass: float = 1) -> Catalogue:
    """Two groups, one of them used so often and its piece so heavy; the other at a height that is best."""
    blocks = piece("one", group="one", use=times, mass=mass), piece("two", group="two", use=2 * times)
    boxes = drawer("1", above_ground=mm(floor)), drawer("2", row=2, above_ground=mm(750))
    return of(blocks, *boxes, pins=(Pin("in", group="one", drawer="1"), Pin("in", group="two", drawer="2")))


def parted() -> Catalogue:
    """Four blocks of which one fills a drawer; the drawers lie one under the other."""
    boxes = [drawer(name, row=row, width=80, depth=160) for row, name in enumerate("abcd", 1)]
    return of(tuple(piece(f"block {n}", 120 - n, 40, group="tools") for n in range(4)), *boxes)


GOALS: tuple[tuple[str, str, object, Callable[[], Catalogue], GoalName], ...] = (
    ("order", "level", mm(16), lambda: in_places(1, 2), "order"),
    ("order", "swap", ((1, 2),), lambda: in_places(1, 2), "order"),
    ("goals", "parts_weight", 1, parted, "neighbors"),
    ("height", "lower_leg", mm(100), lambda: used(1, 150), "reach"),
    ("height", "knuckle", mm(500), lambda: used(1, 550), "reach"),
    ("height", "elbow", mm(1150), lambda: used(1, 1080), "reach"),
    ("height", "shoulder", mm(1500), lambda: used(1, 1300), "reach"),
    ("height", "best", Decimal("0.9"), lambda: used(1, 800), "reach"),
    ("height", "near", Decimal(1), lambda: used(1, 550), "reach"),
    ("height", "far", Decimal(1), lambda: used(1, 150), "reach"),
    ("lift", "mass", kg(6), lambda: used(1, 150, mass=5), "reach"),
)


@pytest.mark.parametrize(("table", "number", "value", "case", "goal"), GOALS, ids=lambda part: str(part)[:20])
def test_numbers_of_goals(
    table: str, number: str, value: object, case: Callable[[], Catalogue], goal: GoalName
) -> None:
    house, found = changed(HOUSE, table, number, value), case()
    outcome = plan(found, house, "set", "cabinet")
    assert outcome.plan is not None
    claimed = next(one.value for one in outcome.goals if one.name == goal)
    assert recount(found, house, outcome.plan)[goal] == claimed
    assert recount(found, HOUSE, outcome.plan)[goal] != claimed
