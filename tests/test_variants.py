"""What changes from one ranked variant to the next."""

from dataclasses import replace
from fractions import Fraction

import pytest

from matcher.fitting.reuse import Carried, carried, organizer_of
from matcher.planning.answering import plan
from matcher.records.given import GroupRule
from matcher.records.units import Toward, inch, mm
from matcher.report.terminal import show
from matcher.report.variant_views import steps_document, steps_view
from matcher.studies.comparison import compare
from matcher.studies.variants import carry_counts, steps
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece

IN_INCHES = replace(
    HOUSE,
    clearance=replace(HOUSE.clearance, side=inch(0.125), gap=inch(0.25)),
    pocket=replace(HOUSE.pocket, margin=inch(0.5)),
)


def _row(name, *widths, **more):
    boxes = (drawer(str(n), row=n, width=width, cabinet=name, **more) for n, width in enumerate(widths, 1))
    return cabinet(*boxes, name=name)


def _steps(*cabinets, organizers=(), pieces=(), house=HOUSE):
    rules = (GroupRule("other tools", "other tools", 6, ("other",), house=True),)
    known = catalogue(pieces, organizers, sorted(cabinets, key=lambda one: one.name), group_rules=rules)
    return steps(compare(known, house, "set"))


TRAY = organizer("tray", width=500, depth=380, height=50, field_width=mm(450), field_depth=mm(340))


IN_22 = replace(TRAY, width=inch(22), field_width=inch(Fraction(41, 2)))
"""Trade practice, worked example: s = 22, p = 20.5, m = .5, clearance .125 in a side."""


def _in_drawer(width: str):
    depth = TRAY.depth + 2 * IN_INCHES.clearance.side
    box = replace(drawer(), inside_width=inch(Fraction(width), Toward.DOWN), inside_depth=depth)
    return carried(IN_22, box, IN_INCHES)


@pytest.mark.parametrize(
    ("width", "how", "change"),
    [("22.25", "as is", "0"), ("21.75", "trim", "-0.5"), ("23.5", "shim", "1.25"), ("24.5", "shim", "2.25")],
)
def test_an_organizer_carries_over_as_trade_practice_says(width, how, change):
    found = _in_drawer(width)
    assert (found.how, found.width, found.depth) == (how, inch(Fraction(change)), 0)


def test_an_organizer_short_of_its_margins_is_re_cut():
    # The same example: 21.70 in is 0.05 in short; 406.4 units, rounded against the fit.
    assert _in_drawer("21.70") == Carried("re-cut", lacks="width", short=407)


def test_the_reason_for_the_order_is_the_first_thing_that_differs():
    more = (TRAY, replace(TRAY, group="tray 2", tier=2))
    found = _steps(
        _row("a tight", 490, 490),
        _row("b snug", 504, 504),
        _row("c snug", 504, 504),
        _row("three", 504, 504, 504),
        _row("one", 504),
        organizers=more,
    )
    assert [(step.before, step.after, step.why) for step in found] == [
        ("b snug", "c snug", "all alike; by name"),
        ("c snug", "a tight", "less trim: 0 against 2"),
        ("a tight", "three", "fewer unused drawers: 0 against 1"),
        ("three", "one", "verdict: fits against does not fit"),
    ]


def test_the_same_group_in_the_same_place_is_a_reason_too():
    high, low = organizer("high", height=80), organizer("low", height=30, tier=2)

    def built(name, *heights):
        boxes = (drawer(str(row), row=row, width=504, height=h, cabinet=name) for row, h in enumerate(heights, 1))
        return cabinet(*boxes, name=name)

    found = _steps(built("a", 90, 40), built("b", 40, 90), built("c", 90, 40), organizers=[high, low])
    assert [(step.after, step.why) for step in found] == [
        ("c", "all alike; by name"),
        ("b", "fewer groups in another place than in a: 0 against 2"),
    ]


def test_drawers_gained_lost_and_changed_are_named():
    lower = _row("b", 504, 560)
    other = cabinet(drawer("1", width=504, cabinet="c"), drawer("3", row=3, cabinet="c"), name="c")
    slotted = _row("d", 504, 560, slot="foam")
    slotted = replace(slotted, drawers=(slotted.drawers[0], replace(slotted.drawers[1], slot="no foam", liner=mm(2))))
    found = {step.after: step for step in _steps(lower, other, slotted, organizers=[TRAY])}
    assert (found["c"].gained, found["c"].lost) == (("3",), ("2",))
    narrow = _steps(_row("a", 504, 560), _row("b", 504, 540), organizers=[TRAY])[0]
    assert narrow.resized == ("drawer 2: inside width 560.0 mm in a, 540.0 mm in b",)
    changed = _steps(_row("a", 504, 560), replace(slotted, name="d"), organizers=[TRAY])[0]
    assert changed.resized == ("drawer 2: foam in a, no foam in d; other corners or liner",)


def test_organizers_that_carry_over_are_told_by_what_they_need():
    block = piece("block", length=200, width=300, height=30)
    found = _steps(
        _row("a plain", 560), _row("b wider", 600), _row("c tighter", 540), _row("d low", 400), pieces=[block]
    )
    hows = {(step.before, step.after): step.carries[0].carried.how for step in found}
    assert hows == {
        ("a plain", "b wider"): "shim",
        ("b wider", "c tighter"): "trim",
        ("c tighter", "d low"): "trim",
    }
    assert carry_counts(found[0]) == {"shim": 1}
    assert found[0].carries[0].carried.width == mm(40)


def test_foam_carries_over_into_a_drawer_with_rounded_corners_where_its_pockets_keep_their_margin():
    block = piece("block", length=200, width=300, height=30)
    (step,) = _steps(_row("a", 560, corner_radius=mm(20)), _row("b", 560, corner_radius=mm(20)), pieces=[block])
    assert step.carries[0].carried.how == "as is"
    (sharper,) = _steps(_row("a", 560), _row("b", 560, corner_radius=mm(20)), pieces=[block])
    # 200 x 300 mm of pockets in 560 x 400 mm: far from every corner
    assert sharper.carries[0].carried.how == "as is"


def test_a_group_that_shares_a_drawer_there_must_fit_its_part_of_it():
    # Foam cut to fill a drawer of 504 mm alone; in the other cabinet two groups of a family share the one drawer.
    blocks = [piece(f"block {n}", length=150, width=300, height=30, group=f"blocks {n}") for n in (1, 2)]
    rules = tuple(GroupRule(f"blocks {n}", "blocks", n, ("other",)) for n in (1, 2))
    known = catalogue(blocks, cabinets=[_row("a two", 504, 504), _row("b one", 504)], group_rules=rules)
    ranked = compare(known, HOUSE, "set")
    (step,) = steps(ranked)
    shared = {variant.outcome.cabinet: variant.outcome.plan for variant in ranked.variants}["b one"]
    assert {placed.drawer for placed in shared.placements} == {"1"}
    # Alone a block lies across, its field 301.6 mm wide and two margins of 12; there each has half of 500.8 mm.
    assert {placed.width for placed in shared.placements} == {mm(Fraction("250.4"))}
    assert (step.before, step.after) == ("a two", "b one")
    assert [carry.carried for carry in step.carries] == [
        Carried("re-cut", lacks="width", short=mm(Fraction("75.2")))
    ] * 2


def test_moves_are_told_and_nothing_is_where_one_has_no_plan():
    two = [replace(TRAY, group="tray"), organizer("low", width=500, depth=380, height=30, tier=2)]
    tall_first = cabinet(drawer("1", width=504, height=60), drawer("2", row=2, width=504, height=40), name="a")
    tall_last = cabinet(drawer("1", width=504, height=40), drawer("2", row=2, width=504, height=60), name="b")
    none = _row("c", 300, 300)
    first, last = _steps(tall_first, tall_last, none, organizers=two)
    assert "tray: from drawer 1 to 2" in first.changes
    assert (last.carries, last.changes) == ((), ())


def test_cases_are_no_organizers():
    case = piece("drill", kind="cased", length=300, width=200, height=80)
    together = (GroupRule("cased equipment", "cased equipment", 7, ("cased",), house=True),)
    boxes = [_row(name, 560, slot="no foam") for name in ("a", "b")]
    known = catalogue([case], cabinets=boxes, group_rules=together)
    (step,) = steps(compare(known, HOUSE, "set"))
    assert step.carries == ()


def test_a_ready_made_organizer_keeps_its_field_when_it_was_trimmed():
    known = catalogue(organizers=[TRAY], cabinets=[_row("a", 490)])
    made = plan(known, HOUSE, "set", "a").plan
    organizer_now = organizer_of(made.placements[0], made.groups[0])
    assert organizer_now.width == mm(490) - 2 * HOUSE.clearance.side
    assert organizer_now.field_width == mm(450)


def test_steps_are_shown(capsys):
    found = _steps(_row("a", 560, 560), _row("b", 540), organizers=[replace(TRAY, width=mm(550))])
    document = steps_document(found)
    assert document[0]["organizers"][0]["how"] in {"trim", "shim"}
    show(steps_view(found))
    told = capsys.readouterr().out
    assert "fewer unused drawers: 0 against 1" in told
    assert "free drawers: 0 in b, 1 in a" in told
    assert "before" not in told, "it would mean ranked before as well as earlier"
    assert "drawers gained: 2" in told
