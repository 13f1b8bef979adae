"""What foam a set asks for and what the cabinet has, and which drawers are the bottleneck: figures made by hand."""

from dataclasses import replace

import pytest

from matcher.fitting.openings import opening
from matcher.planning.answering import plan
from matcher.planning.foam_asked import foam_asked, foam_told
from matcher.planning.outcome import reasons_of
from matcher.records.units import kg, mm
from matcher.report.document import plan_document
from tests.builders import HOUSE, cabinet, catalogue, drawer, group, organizer, piece, question


def tall(number, **more):
    """Blocks of 180 x 180 x 60 mm, each a group."""
    return [group(f"tall {n}", piece(f"tall {n}", 180, 180, 60), **more) for n in range(number)]


def low(number):
    return [group(f"low {n}", piece(f"low {n}", 180, 180, 20)) for n in range(number)]


def test_what_is_asked_at_least_in_order_and_there():
    """A block of 100 x 100 mm: 100 + 2 x 0.8 + 2 x 12 mm a side, and a finger's 28 mm beside it at most. The drawer has
    556.8 x 396.8 mm."""
    asked = foam_asked(question(cabinet(drawer("1")), [group("g", piece("p", 100, 100, 20))]))
    assert mm(125.6) ** 2 <= asked.usual <= mm(125.6) * mm(125.6 + 28)
    sides = 2 * HOUSE.clearance.side
    assert asked.there == (mm(560) - sides) * (mm(400) - sides)
    assert mm(100) ** 2 < asked.least < asked.usual
    assert asked.missing == 0


def test_ready_made_organizers_ask_for_what_they_may_be_trimmed_to():
    ready = organizer("tray", 500, 380, field_width=mm(400), field_depth=mm(300))
    asked = foam_asked(question(cabinet(drawer("1")), [group("tray", ready=ready)]))
    assert asked.least == asked.usual == mm(424) * mm(324)


@pytest.mark.parametrize(("number", "missing"), [(4, 0), (5, 0), (6, 1), (11, 2)])
def test_about_so_many_drawers_are_missing(number, missing):
    """205.6 mm a side are 0.0423 m2, a drawer has 0.2209 m2: 5.2 of them fill it at that density."""
    asked = foam_asked(question(cabinet(drawer("1")), tall(number)))
    assert asked.missing == missing


def test_drawers_without_foam_and_cases_do_not_count():
    boxes = cabinet(drawer("1"), drawer("2", row=2, slot="no foam"), drawer("3", row=3, slot="blocked"))
    case = group("case", piece("case", kind="cased"))
    asked = foam_asked(question(boxes, [*tall(1), case]))
    assert asked == foam_asked(question(cabinet(drawer("1")), tall(1)))


def test_without_any_drawer_for_foam_nothing_is_there():
    asked = question(cabinet(drawer("1", slot="no foam")), tall(2))
    assert (foam_asked(asked).there, foam_asked(asked).missing) == (0, 0)
    assert foam_told(asked).endswith("the drawers have 0.00 m2: none is for foam")


# ---------------------------------------------------------------------------------------------------------- bottleneck


def told(boxes, groups):
    return foam_told(question(boxes, groups))


def test_the_only_high_drawer_is_the_bottleneck_by_height():
    """Eight high blocks ask for 8 x 0.0423 m2, a little more at the density of the whole set, of the 0.2209 m2 of the
    one drawer that is high enough."""
    boxes = cabinet(drawer("1", height=40), drawer("2", row=2, height=40), drawer("3", row=3, height=100))
    words = told(boxes, [*tall(8), *low(2)])
    assert "the bottleneck: only drawer 3, 0.22 m2, is high enough for 8 pieces (tall 0, tall 1, tall 2 and " in words
    assert "others), which ask for 0.35 m2 in order: about 1 such drawer missing" in words


def test_the_only_wide_drawers_are_the_bottleneck_by_width():
    bars = [group(f"bar {n}", piece(f"bar {n}", 700, 150, 20)) for n in range(5)]
    boxes = cabinet(*(drawer(str(n), row=n, width=760 if n == 1 else 300, depth=300) for n in (1, 2, 3)))
    words = told(boxes, bars)
    assert "only drawer 1, " in words
    assert "is wide enough for 5 pieces" in words


def test_the_only_strong_drawer_is_the_bottleneck_by_load():
    heavy = [group(f"g{n}", piece(f"p{n}", 180, 180, 20, mass=10)) for n in range(8)]
    boxes = cabinet(drawer("1", load_rating=kg(50)), drawer("2", row=2, load_rating=kg(5)))
    assert "only drawer 1, 0.22 m2, is rated for them for 8 pieces" in told(boxes, heavy)


def test_where_all_drawers_are_asked_as_much_there_is_no_bottleneck():
    boxes = cabinet(drawer("1", height=100), drawer("2", row=2, height=40))
    assert "bottleneck" not in told(boxes, [*tall(2), *low(2)])
    assert "bottleneck" not in told(cabinet(drawer("1")), tall(20))


def test_a_piece_that_goes_in_nowhere_is_no_bottleneck():
    bar = group("bar", piece("bar", 900, 20, 20))
    assert "bottleneck" not in told(cabinet(drawer("1"), drawer("2", row=2)), [bar])


# ------------------------------------------------------------------------------------------------------------- answers


def test_a_refusal_says_the_figures_in_words_and_in_the_document():
    blocks = [piece(f"b{n}", 180, 250, 30, group=f"b{n}") for n in range(6)]
    outcome = plan(catalogue(blocks, (), [cabinet(drawer("1"))]), HOUSE, "set", "cabinet")
    assert outcome.verdict == "does not fit"
    (reason,) = reasons_of(outcome)
    assert "the most for b0 " in reason.text
    foam = plan_document(outcome)["foam"]
    assert foam["there_m2"] == pytest.approx(0.5568 * 0.3968, abs=0.001)
    assert foam["least_m2"] < foam["usual_m2"]
    assert foam["drawers_missing"] == 1


def test_a_plan_says_no_such_figures():
    outcome = plan(catalogue([piece("b")], (), [cabinet(drawer("1"))]), HOUSE, "set", "cabinet")
    assert plan_document(outcome)["foam"] is None


def test_a_liner_and_obstructions_leave_the_opening_that_counts():
    box = replace(drawer("1"), liner=mm(3))
    asked = foam_asked(question(cabinet(box), tall(1)))
    assert asked.there == opening(box, HOUSE).width * opening(box, HOUSE).depth


def test_a_piece_that_would_lie_only_at_an_angle_is_named_in_an_open_answer() -> None:
    """By hand: 455 mm in a field of 372.8 x 272.8 mm: longer than either side, shorter than the diagonal of 462 mm,
    but 20 mm wide."""
    bars = [piece("long bar", 455, 20, 20, group="bars"), piece("short bar", 200, 20, 20, group="bars")]
    outcome = plan(catalogue(bars, (), [cabinet(drawer("1", 1, 1, 400, 300, 100))]), HOUSE, "set", "cabinet")
    assert outcome.verdict == "undecided"
    assert "long bar would lie in drawer 1 only at an angle" in outcome.reasons[0].text
    assert "short bar" not in outcome.reasons[0].text
