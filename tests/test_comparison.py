"""One set over many cabinets: ranking and carried-over organizers."""

import pytest

from matcher.comparison import compare
from matcher.errors import UsageError
from matcher.records import GroupRule
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece


def _row(name, count, width=560, **more):
    return cabinet(
        *(drawer(str(row), row=row, width=width, cabinet=name, **more) for row in range(1, count + 1)), name=name
    )


def _known(*cabinets, pieces=()):
    ready = [organizer(f"tray {index}", tier=index) for index in (1, 2)]
    rules = (GroupRule("other tools", "other tools", 6, ("other",), house=True),)
    return catalogue(pieces, () if pieces else ready, sorted(cabinets, key=lambda one: one.name), group_rules=rules)


def test_fits_come_first_then_fewest_unused_drawers_then_names():
    known = _known(_row("four", 4), _row("two", 2), _row("one", 1), _row("three", 3), _row("also two", 2))
    ranked = [(v.outcome.cabinet, v.outcome.verdict, v.free) for v in compare(known, HOUSE, "set").variants]
    assert ranked == [
        ("also two", "fits", 0),
        ("two", "fits", 0),
        ("three", "fits", 1),
        ("four", "fits", 2),
        ("one", "does not fit", 0),
    ]


def test_less_re_cutting_ranks_before_a_name():
    known = _known(_row("a wide", 2, width=600, depth=384), _row("b snug", 2, width=505, depth=384))
    ranked = compare(known, HOUSE, "set").variants
    assert [variant.outcome.cabinet for variant in ranked] == ["b snug", "a wide"]
    assert [variant.count("shim") for variant in ranked] == [0, 2]


def test_a_reference_plan_makes_its_organizers_existing_ones():
    block = piece("block", length=200, width=300, height=30)
    known = _known(_row("plain", 1), _row("wider", 1, width=600), _row("tighter", 1, width=540), pieces=[block])
    hows = {
        variant.outcome.cabinet: [p.how_width for p in variant.outcome.plan.placements]
        for variant in compare(known, HOUSE, "set", reference="plain").variants
    }
    assert hows == {"plain": ["as is"], "wider": ["shim"], "tighter": ["trim"]}


def test_a_reference_without_a_plan_is_refused():
    known = _known(_row("one", 1), _row("two", 2))
    with pytest.raises(UsageError, match="does not fit"):
        compare(known, HOUSE, "set", reference="one")


def test_progress_names_each_cabinet_before_it_is_planned():
    told = []
    compare(_known(_row("one", 1), _row("two", 2)), HOUSE, "set", told=lambda *step: told.append(step))
    assert told == [(0, 2, "one"), (1, 2, "two"), (2, 2, "")]
