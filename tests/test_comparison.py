"""One set over many cabinets: ranking and carried-over organizers."""

import pytest

from matcher.records.errors import UsageError
from matcher.records.given import GroupRule
from matcher.records.units import mm
from matcher.studies.comparison import compare
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


@pytest.mark.parametrize("radius", [3, 20])
def test_foam_of_the_reference_is_cut_round_at_its_drawers_corners(radius):
    # A corner of 3 mm lies in the margin's 12 mm and the clearance's 1.6 mm, one of 20 mm reaches past both.
    block = piece("block", length=200, width=300, height=30)
    boxes = [_row(name, 1, corner_radius=mm(radius)) for name in ("plain", "like it")]
    told = compare(_known(*boxes, pieces=[block]), HOUSE, "set", reference="plain").variants
    assert [one.outcome.plan.placements[0].how for one in told] == ["as is", "as is"]
    sharper = _known(_row("plain", 1), _row("rounded", 1, corner_radius=mm(3)), pieces=[block])
    told = {one.outcome.cabinet: one for one in compare(sharper, HOUSE, "set", reference="plain").variants}
    assert told["rounded"].count("as is") == 1, "a knife rounds its corners, and its pockets keep their margin"
    codes = {caution.code for caution in told["rounded"].outcome.cautions}
    assert "corners" not in codes, "1.4 sqrt 2 = 2.0 mm from the middle of the circle of 3 mm they do not touch it"


def test_the_reference_of_two_sets_together_carries_over_too():
    # Each set has blocks of its own, and both have keys, which share one organizer.
    one, other = (piece("block", length=200, width=300, height=30, set=name, group=f"{name}s") for name in ("a", "b"))
    keys = [piece("key", length=150, width=40, height=10, count=4, set=name, group="keys") for name in ("a", "b")]
    known = _known(_row("plain", 3), _row("wider", 3, width=600), pieces=[one, other, *keys])
    for name in ("a+b", "b + a"):
        told = {variant.outcome.cabinet: variant for variant in compare(known, HOUSE, name, reference="plain").variants}
        assert told["plain"].count("as is") == 3
        assert told["wider"].count("shim") == 3
        assert told["plain"].outcome.basis.total == told["wider"].outcome.basis.total == 10


def test_ties_go_to_the_variant_with_the_same_groups_in_the_same_places():
    # Clear heights alone decide where the two trays go; in "mirrored" they change places.
    high, low = organizer("high", height=80), organizer("low", height=30, tier=2)
    boxes = {"b like": (90, 40), "a mirrored": (40, 90), "c like": (90, 40)}
    cabinets = [
        cabinet(*(drawer(str(row), row=row, height=h, cabinet=name) for row, h in enumerate(heights, 1)), name=name)
        for name, heights in boxes.items()
    ]
    known = catalogue(organizers=[high, low], cabinets=sorted(cabinets, key=lambda one: one.name))
    told = compare(known, HOUSE, "set", reference="c like")
    assert [(one.outcome.cabinet, one.moved) for one in told.variants] == [
        ("b like", 0),
        ("c like", 0),
        ("a mirrored", 2),
    ]
    assert told.model == "c like"
    plain = compare(known, HOUSE, "set")
    assert plain.model == "a mirrored"
    assert [(one.outcome.cabinet, one.moved) for one in plain.variants] == [
        ("a mirrored", 0),
        ("b like", 2),
        ("c like", 2),
    ]


def test_a_reference_without_a_plan_is_refused():
    known = _known(_row("one", 1), _row("two", 2))
    with pytest.raises(UsageError, match="does not fit"):
        compare(known, HOUSE, "set", reference="one")


def test_progress_names_each_cabinet_before_it_is_planned():
    told = []
    compare(_known(_row("one", 1), _row("two", 2)), HOUSE, "set", told=lambda *step: told.append(step))
    assert told == [(0, 2, "one"), (1, 2, "two"), (2, 2, "")]
