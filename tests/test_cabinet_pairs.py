"""Two cabinets side by side for one set: which pairs are planned, shared out, and cautions of each by itself."""

import json
from dataclasses import replace
from itertools import combinations_with_replacement

import pytest

from matcher.cautions.every_caution import cautions
from matcher.planning.answering import plan
from matcher.records.errors import UsageError
from matcher.records.given import GroupRule
from matcher.records.units import kg, mm
from matcher.studies.cabinet_pairs import cabinet_pairs, side_by_side
from matcher.studies.comparison import compare
from matcher.verification.checker import verify
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece


def _row(name, count, width=560, price=None, outside=None, **more):
    boxes = [drawer(str(row), row=row, width=width, cabinet=name, **more) for row in range(1, count + 1)]
    return replace(
        cabinet(*boxes, name=name), price=price, width=outside and mm(outside), depth=mm(450), height=mm(900)
    )


def _known(*cabinets, trays=4):
    ready = [organizer(f"tray {n}", tier=n) for n in range(1, trays + 1)]
    return catalogue((), ready, sorted(cabinets, key=lambda one: one.name))


def test_a_set_that_goes_into_no_single_cabinet_is_shared_out_between_two():
    known = _known(_row("one", 1), _row("two", 2), _row("three", 3))
    assert {one.outcome.verdict for one in compare(known, HOUSE, "set").variants} == {"does not fit"}
    pairs = cabinet_pairs(known, HOUSE, "set")
    found = compare(pairs.catalogue, HOUSE, "set", pairs.names)
    # Four trays need four drawers: of the pairs with repetition those with as many.
    wanted = {
        " + ".join(sorted(pair, key=known_order))
        for pair in combinations_with_replacement(("one", "two", "three"), 2)
        if sum({"one": 1, "two": 2, "three": 3}[name] for name in pair) >= 4
    }
    assert {one.outcome.cabinet for one in found.variants if one.outcome.verdict == "fits"} == wanted
    for one in found.variants:
        if one.outcome.verdict == "fits":
            assert not verify(pairs.catalogue, HOUSE, one.outcome.plan)
            halves = {place.drawer.partition("/")[0] for place in one.outcome.plan.placements}
            assert len(halves) == 2


def known_order(name):
    return ("one", "three", "two").index(name)


def test_pairs_that_lack_the_area_are_counted_and_none_of_them_would_fit():
    known = _known(_row("one", 1), _row("two", 2), _row("three", 3))
    found = cabinet_pairs(known, HOUSE, "set")
    every = list(combinations_with_replacement(known.cabinets, 2))
    assert (found.every, found.short + len(found.names) + found.left) == (6, 6)
    short = [pair for pair in every if " + ".join(one.name for one in pair) not in found.names]
    assert len(short) == found.short > 0
    for pair in short:
        both = side_by_side(*pair)
        assert plan(replace(known, cabinets=(both,)), HOUSE, "set", both.name).verdict == "does not fit"


def test_no_more_than_so_many_are_planned_the_first_by_the_yardstick():
    known = _known(
        _row("cheap", 2, price=100, outside=900), _row("dear", 2, price=300, outside=500), _row("none", 2), trays=2
    )
    by_price = cabinet_pairs(known, HOUSE, "set", by="price", most=2)
    assert (by_price.names, by_price.every, by_price.left) == (("cheap + cheap", "cheap + dear"), 6, 4)
    assert cabinet_pairs(known, HOUSE, "set", by="width", most=1).names == ("dear + dear",)
    small = _known(_row("wide", 2, width=600), _row("narrow", 2, width=510), trays=2)
    assert cabinet_pairs(small, HOUSE, "set", most=1).names == ("narrow + narrow",)


def test_a_pair_is_as_wide_and_as_dear_as_both():
    left, right = _row("a", 2, price=100, outside=500), _row("b", 1, price=50.5, outside=600)
    both = side_by_side(left, right)
    assert (both.width, both.depth, both.height, both.price) == (mm(1100), mm(450), mm(900), 150.5)
    assert [(box.name, box.bank) for box in both.drawers] == [("a/1", 1), ("a/2", 1), ("b/1", 2)]
    assert {box.cabinet for box in both.drawers} == {"a + b"}
    twice = side_by_side(left, left)
    assert [box.name for box in twice.drawers] == ["a (1)/1", "a (1)/2", "a (2)/1", "a (2)/2"]
    assert side_by_side(left, replace(right, price=None)).price is None


def test_each_bears_by_itself():
    # 20 kg a tray: two of them overload the left cabinet's rating of 30 kg, though both together would bear 130 kg.
    boxes = [_row("a", 2), _row("b", 2)]
    boxes = [replace(boxes[0], load_rating=kg(30)), replace(boxes[1], load_rating=kg(100))]
    pieces = [piece(f"block {n}", 300, 500, 40, mass=20, group=f"blocks {n}") for n in range(1, 5)]
    rules = (GroupRule("other tools", "other tools", 6, ("other",), house=True),)
    known = catalogue(pieces, (), boxes, group_rules=rules)
    both = side_by_side(*boxes)
    found = plan(replace(known, cabinets=(both,)), HOUSE, "set", both.name)
    told = [one for one in found.cautions if one.code.startswith("LOAD")]
    assert told
    assert all(one.text.startswith("a: ") for one in told)
    for half in both.beside:
        own = {box.name for box in half.drawers}
        placed = tuple(one for one in found.plan.placements if one.drawer in own)
        names = {one.group for one in placed}
        groups = tuple(one for one in found.plan.groups if one.name in names)
        alone = cautions(half, replace(found.plan, cabinet=half.name, placements=placed, groups=groups), HOUSE)
        here = {one.text.removeprefix(f"{half.name}: ") for one in found.cautions}
        assert {one.text for one in alone} <= here


def test_where_every_pair_is_too_small_that_is_said():
    with pytest.raises(UsageError, match="each of 1 pairs of cabinets lacks the area"):
        cabinet_pairs(_known(_row("one", 1), trays=9), HOUSE, "set")


def test_the_command_tells_how_many_were_planned(run, folder):
    code, out, _ = run("compare", folder, "trays", "--pairs", "--most-pairs", "1")
    assert code == 0
    assert "planned, side by side as one cabinet" in " ".join(out.split())
    document = json.loads(run("compare", folder, "trays", "--pairs", "--json")[1])
    counts = document["pairs"]
    assert counts["every"] == counts["lack_area"] + counts["planned"] + counts["left"]
    assert len(document["variants"]) == counts["planned"]
    for words in (["--cabinet", "wide"], ["trays", "--reference", "wide"], []):
        assert run("compare", folder, *words, "--pairs")[0] == 2
