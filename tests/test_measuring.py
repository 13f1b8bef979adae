"""Measured drawers: readings applied, the verdict and what it rests on, sizes that decide, the measuring sheet."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.measured import read_measured
from matcher.catalogue.reading import read_catalogue
from matcher.cli.running import EXITS
from matcher.fitting.openings import clear_rectangles, opening
from matcher.house.reading import read_house
from matcher.planning.answering import plan
from matcher.planning.deciding import verdict_of
from matcher.planning.question import ask
from matcher.records.errors import CatalogueError, UnknownNameError, UsageError
from matcher.records.given import GroupRule, Measurement, Obstruction, Pin
from matcher.records.units import PER_MM, inch, mm
from matcher.report.measuring_views import (
    measuring_document,
    measuring_view,
    sheet_document,
    sheet_view,
    tolerance_document,
    tolerance_view,
)
from matcher.report.terminal import show
from matcher.studies.as_measured import as_measured, measure
from matcher.studies.inside_sizes import DIMENSIONS, all_larger, resized, size_of, with_sizes
from matcher.studies.measuring_sheet import sheet, sheet_for
from matcher.studies.readings import Reading, applied, measured_cabinets, own_name, readings_of
from matcher.studies.told_readings import Counted
from matcher.studies.tolerances import tolerance
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.catalogue_files import folder

CLEARANCES = 2 * HOUSE.clearance.side
TAPE = HOUSE.measure.tape
TRAY = organizer("tray", width=500, depth=380, height=50, field_width=mm(450), field_depth=mm(340))
LEAST_WIDTH = mm(450 + 24) + CLEARANCES
"""Trimmed to its field and two margins of 12 mm, with the side clearances."""

RULES = (GroupRule("other tools", "other tools", 6, ("other",), house=True),)


def _known(*boxes, organizers=(TRAY,), pieces=()):
    return catalogue(pieces, organizers, [cabinet(*boxes)], group_rules=RULES)


def _row(name="1", width=None, depth=None, height=None, **more):
    sizes = (None if size is None else mm(size) for size in (width, depth, height))
    return Measurement(more.pop("cabinet", "cabinet"), name, *sizes, **more)


def _exactly(known):
    """Readings of every size of every drawer, equal to the sizes given."""
    return [
        Measurement(box.cabinet, box.name, box.inside_width, box.inside_depth, box.clear_height)
        for box in known.cabinets[0].drawers
    ]


SURE = replace(HOUSE, measure=replace(HOUSE.measure, tape=0))
TWO = (drawer("1", row=1, width=504), drawer("2", row=2, width=600))


# -------------------------------------------------------------------------------------------------------- readings


def test_readings_stand_beside_the_sizes_given_and_replace_only_what_was_measured():
    known = _known(*TWO)
    readings = readings_of(known.cabinets[0], [_row("2", width=598.5, height=97)])
    assert readings == (
        Reading("2", "inside width", mm(600), mm(598.5)),
        Reading("2", "clear height", mm(100), mm(97)),
    )
    first, second = applied(known.cabinets[0], readings).drawers
    assert first == TWO[0]
    assert (second.inside_width, second.inside_depth, second.clear_height) == (mm(598.5), mm(400), mm(97))


def test_in_a_stack_the_name_that_the_base_puts_in_front_is_left_off():
    low = drawer("base: 1", row=2, cabinet="base")
    unit = cabinet(drawer("1", cabinet="chest"), low, name="chest")
    assert own_name(low) == "1"
    rows = [_row("1", width=555, cabinet="base"), _row("1", depth=390, cabinet="chest")]
    assert [(one.drawer, one.dimension) for one in readings_of(unit, rows)] == [
        ("1", "inside depth"),
        ("base: 1", "inside width"),
    ]


def test_two_units_of_one_model_are_kept_apart_by_their_order_or_serial_number():
    unit = cabinet(*TWO)
    rows = [_row("1", width=550, order="SO-1"), _row("1", width=556, order="SO-2", serial="77")]
    assert [one.value for one in readings_of(unit, rows, "SO-1")] == [mm(550)]
    assert [one.value for one in readings_of(unit, rows, "77")] == [mm(556)]
    with pytest.raises(UsageError, match="more than once; name one of: SO-1, SO-2"):
        readings_of(unit, rows)
    with pytest.raises(UsageError, match="under 'SO-3'; there is: SO-1, SO-2"):
        readings_of(unit, rows, "SO-3")
    with pytest.raises(UsageError, match="nothing of cabinet was measured; there are no readings at all"):
        readings_of(unit, [])


def test_where_nothing_was_measured_the_cabinets_that_were_are_named():
    rows = [_row("1", width=550, cabinet=name) for name in ("wide", "narrow", "wide")]
    with pytest.raises(UsageError, match=r"nothing of cabinet was measured; there are readings of narrow, wide$"):
        readings_of(cabinet(*TWO), rows)
    with pytest.raises(UsageError, match="nothing of cabinet was measured under '7'; there are readings of narrow"):
        readings_of(cabinet(*TWO), rows, "7")


def test_a_file_of_readings_is_read_like_the_catalogues_own_table(tmp_path):
    known = read_catalogue(folder(tmp_path / "sound"))
    file = tmp_path / "buyer.csv"
    file.write_text("cabinet,drawer,inside_width_in,by\nLow,1,22 3/8,buyer\n", encoding="utf-8")
    (row,) = read_measured(file, known)
    assert row == replace(known.measured[0], date="")
    assert read_measured(tmp_path / "sound", known) == known.measured
    assert measured_cabinets(known, [row]) == ("Low", "Top"), "Top stands on Low"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("cabinet,drawer,inside_width_mm\nLow,9,570\n", "a drawer of Low"),
        ("cabinet,drawer,inside_width_mm\nHigh,1,570\n", "a cabinet that has drawers"),
        ("cabinet,drawer,inside_width_mm\nLow,1,wide\n", "row 2, column inside_width_mm"),
        ("cabinet,drawer,inside_width_mm,by\nLow,1,,buyer\n", "at least one of"),
        ("cabinet,drawer,inside_width\nLow,1,570\n", "the unit in the column's name"),
        ("cabinet;drawer\n", "commas"),
    ],
)
def test_a_bad_file_of_readings_is_refused_with_its_place(tmp_path, text, told):
    known = read_catalogue(folder(tmp_path / "sound"))
    file = tmp_path / "buyer.csv"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(CatalogueError, match=told):
        read_measured(file, known)


def test_a_file_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(UnknownNameError, match="no such file"):
        read_measured(tmp_path / "none.csv", _known(*TWO))


# ------------------------------------------------------------------------------------------------- changed drawers


BLOCKS = st.tuples(st.integers(0, 400), st.integers(0, 300), st.integers(1, 160), st.integers(1, 100))


@given(BLOCKS, st.integers(-40, 40), st.integers(0, 30), st.sampled_from(DIMENSIONS))
def test_a_larger_drawer_offers_every_clear_rectangle_that_a_smaller_one_does(block, change, more, dimension):
    left, front, width, depth = (mm(size) for size in block)
    box = drawer(width=560, depth=400, obstructions=(Obstruction(left, front, width, depth, mm(50)),))
    small = resized(box, dimension, size_of(box, dimension) + mm(change))
    large = resized(small, dimension, size_of(small, dimension) + mm(more))
    wide = clear_rectangles(opening(large, HOUSE))
    for place in clear_rectangles(opening(small, HOUSE)):
        assert any(other.width >= place.width and other.depth >= place.depth for other in wide)


def test_a_block_at_the_far_wall_moves_with_it_and_one_in_front_of_it_does_not():
    duct, bar = Obstruction(mm(480), 0, mm(80), mm(90), mm(75)), Obstruction(0, mm(300), mm(560), mm(20), mm(75))
    narrow = resized(drawer(width=560, obstructions=(duct, bar)), "inside width", mm(555))
    assert [(block.left, block.width) for block in narrow.obstructions] == [(mm(475), mm(80)), (0, mm(555))]
    assert [block.front for block in narrow.obstructions] == [0, mm(300)]


# --------------------------------------------------------------------------------------------- nominal and measured


@given(st.permutations(range(2)))
@settings(max_examples=2)
def test_readings_equal_to_the_sizes_given_change_nothing(order):
    known = _known(*TWO, organizers=(TRAY, organizer("rack", width=480, depth=380, tier=2)))
    rows = [_exactly(known)[index] for index in order]
    found = measure(known, SURE, "set", "cabinet", rows)
    assert found.verdict == "fits"
    assert (found.changes, found.assumed) == ((), ())
    assert found.outcome.plan == found.nominal.plan
    assert found.stays
    assert {row.now.how for row in found.contents} <= {"as is", "shim"}
    assert {row.recut for row in found.contents} == {""}


@pytest.mark.parametrize(
    ("off", "verdict"),
    [(0, "fits"), (-1, "depends on the tape"), (-2 * TAPE, "depends on the tape"), (-2 * TAPE - 1, "does not fit")],
)
def test_what_fits_only_at_the_upper_end_of_the_tape_error_depends_on_the_tape(off, verdict):
    # At a reading of the least width and the error the lower end still fits; two errors less only the upper end does.
    reading = LEAST_WIDTH + TAPE + off
    found = measure(_known(drawer("1")), HOUSE, "set", "cabinet", [Measurement("cabinet", "1", reading)])
    assert found.verdict == verdict
    assert found.outcome.verdict == ("fits" if verdict == "fits" else "does not fit")
    assert found.nominal.verdict == "fits"


def test_a_drawer_that_turns_out_larger_turns_a_refusal():
    found = measure(_known(drawer("1", width=470)), HOUSE, "set", "cabinet", [_row("1", width=480)])
    assert (found.nominal.verdict, found.verdict) == ("does not fit", "fits")
    assert (found.changes, found.contents) == ((), ())


def test_a_partly_measured_cabinet_is_conditional_on_the_sizes_the_plan_takes_as_given():
    found = measure(_known(*TWO), HOUSE, "set", "cabinet", [_row("1", width=506, depth=400)])
    assert found.outcome.plan.free_drawers == ("2",)
    assert found.assumed == (("1", ("clear height",)),)
    refused = measure(
        _known(drawer("1", height=40), drawer("2", row=2, height=40)), HOUSE, "set", "cabinet", [_row("1", width=504)]
    )
    assert [drawer for drawer, _ in refused.assumed] == ["1", "2"], "a no rests on every drawer"


def test_a_group_whose_drawer_is_too_narrow_moves_and_the_change_is_told():
    found = measure(_known(*TWO), HOUSE, "set", "cabinet", [_row("1", width=470)])
    assert found.verdict == "fits"
    assert "tray: from drawer 1 to 2" in found.changes
    assert not found.stays


def test_a_group_that_may_stay_stays_though_another_drawer_is_now_snugger():
    # 504 - 1.5 - 3.2 leave 499.3 mm for 500: trimmed it stays; in drawer 2 it would need no trimming, only a filler.
    found = measure(_known(*TWO), HOUSE, "set", "cabinet", [_row("1", width=504)])
    assert [placed.drawer for placed in found.outcome.plan.placements] == ["1"]
    assert not any("from drawer" in change for change in found.changes)
    assert found.stays


@pytest.mark.parametrize(
    ("width", "now", "best", "recut"),
    [
        # 500 mm of foam in reading - 1.5 to reading + 1.5, less 3.2 mm of clearances; field and margins 474 mm
        (505, "as is", "as is", ""),  # room 500.3 to 503.3
        (503, "trim", "as is", ""),  # room 498.3 to 501.3
        (478, "re-cut", "trim", "smaller"),  # room 473.3 to 476.3
        (474, "re-cut", "re-cut", "smaller"),
        (510, "as is", "as is", "larger"),  # 6.8 mm open at the reading: over 3, too narrow for a strip of 12
        (520, "shim", "shim", "larger"),
    ],
)
def test_foam_of_the_nominal_plan_in_the_measured_drawer(width, now, best, recut):
    known = _known(drawer("1", width=503.2, depth=384), drawer("2", row=2, width=800))
    found = measure(known, HOUSE, "set", "cabinet", [_row("1", width=width)])
    (row,) = found.contents
    assert (row.now.how, row.best.how, row.recut) == (now, best, recut)
    assert row.gap_width == mm(width) - mm(500), "foam to walls, both sides together"


def test_a_pin_holds_in_the_measured_cabinet_too():
    known, rows = _known(*TWO), [_row("1", width=470)]
    here = Pin("in", group="tray", drawer="1")
    assert measure(known, HOUSE, "set", "cabinet", rows, pins=(here,)).verdict == "does not fit"
    with pytest.raises(UnknownNameError, match="no group 'rack'"):
        measure(known, HOUSE, "set", "cabinet", rows, pins=(replace(here, group="rack"),))


def test_groups_that_share_a_drawer_are_set_in_it_as_one_block():
    pair = [organizer(f"tray {n}", width=250, depth=380, height=50, family="trays", tier=n) for n in (1, 2)]
    found = measure(_known(drawer("1", width=504), organizers=pair), HOUSE, "set", "cabinet", [_row("1", width=506)])
    (row,) = found.contents
    assert row.groups == ("tray 1", "tray 2")
    assert row.gap_width == mm(506 - 500)
    short = measure(_known(drawer("1", width=504), organizers=pair), HOUSE, "set", "cabinet", [_row("1", width=504)])
    # 504 - 1.5 - 3.2 = 499.3: the two lack 0.7 mm at the lower end and have 2.3 to spare at the upper
    assert short.verdict == "depends on the tape"
    assert short.contents[0].now.short == pytest.approx(0.7 * PER_MM, abs=1)


def test_a_as_measured_has_a_digest_of_its_own():
    known = _known(*TWO)
    asked = ask(known, HOUSE, "set", "cabinet")
    readings = readings_of(asked.cabinet, [_row("1", width=503)])
    digests = {as_measured(asked, readings, more).catalogue.digest for more in (-1, 0)}
    assert len(digests | {known.digest}) == 3


def test_the_tape_error_is_a_house_rule(tmp_path):
    file = tmp_path / "house.toml"
    file.write_text("[measure]\ntape_mm = 0.5\n", encoding="utf-8")
    assert read_house(file).measure.tape == mm(0.5)
    assert read_house(file).measure.off == mm(3)


# ------------------------------------------------------------------------------------------------------- tolerance


def _tolerance(known, within=3):
    return tolerance(plan(known, HOUSE, "set", "cabinet"), mm(within))


def test_far_from_any_limit_nothing_decides():
    found = _tolerance(_known(*TWO))
    assert (found.smallest, found.largest, found.together, found.turns) == ("fits", "fits", None, ())
    refused = _tolerance(_known(drawer("1", width=400)))
    assert (refused.smallest, refused.largest, refused.turns) == ("does not fit", "does not fit", ())


@pytest.mark.parametrize("spare", [0, 1, mm(1), mm(3) - 1])
def test_the_size_from_which_on_a_set_fits_is_exact(spare):
    tight = replace(drawer("1"), inside_width=LEAST_WIDTH + spare)
    found = _tolerance(_known(tight))
    (turn,) = found.turns
    assert (turn.drawer, turn.dimension, turn.at, turn.below) == ("1", "inside width", LEAST_WIDTH, "does not fit")
    assert found.together == -spare


@pytest.mark.parametrize("lack", [1, mm(2), mm(3)])
def test_a_refusal_turns_at_the_size_that_is_lacking(lack):
    # 50 mm of organizer and 3 mm over it
    low = replace(drawer("1"), clear_height=mm(53) - lack)
    (turn,) = _tolerance(_known(low)).turns
    assert (turn.dimension, turn.at, turn.below) == ("clear height", mm(53), "does not fit")


def test_a_drawer_that_another_can_stand_in_for_does_not_decide_alone():
    tight = replace(drawer("1"), inside_width=LEAST_WIDTH)
    found = _tolerance(_known(tight, replace(tight, name="2", row=2)))
    assert found.smallest == "does not fit"
    assert (found.together, found.turns) == (0, ())


def test_the_nearest_turn_comes_first():
    box = replace(drawer("1"), inside_width=LEAST_WIDTH + mm(2), clear_height=mm(54))
    assert [turn.dimension for turn in _tolerance(_known(box)).turns] == ["clear height", "inside width"]


@given(
    st.lists(st.integers(-4 * PER_MM, 4 * PER_MM), min_size=6, max_size=6),
    st.lists(st.integers(0, 3 * PER_MM), min_size=6, max_size=6),
)
@settings(max_examples=30, deadline=None)
def test_larger_drawers_never_turn_a_yes_into_a_no(offs, growth):
    rack = organizer("rack", width=470, depth=396, height=47, tier=2)
    tight = replace(drawer("1"), inside_width=LEAST_WIDTH, clear_height=mm(53), corner_radius=mm(8))
    unit = cabinet(tight, replace(tight, name="2", row=2, inside_depth=mm(400)))
    places = [(box.name, dimension) for box in unit.drawers for dimension in DIMENSIONS]
    sizes = [size_of(box, dimension) for box in unit.drawers for dimension in DIMENSIONS]
    small = with_sizes(unit, {place: size + off for place, size, off in zip(places, sizes, offs, strict=True)})
    large = with_sizes(small, {p: s + o + g for p, s, o, g in zip(places, sizes, offs, growth, strict=True)})
    asked = ask(_known(*unit.drawers, organizers=(TRAY, rack)), HOUSE, "set", "cabinet")
    if verdict_of(asked.elsewhere(small)) == "fits":
        assert verdict_of(asked.elsewhere(large)) == "fits"


@given(st.integers(-3 * PER_MM, 3 * PER_MM), st.integers(0, 3 * PER_MM))
@settings(max_examples=25, deadline=None)
def test_each_turn_fits_at_its_size_and_not_one_unit_below(off, within):
    rack = organizer("rack", width=470, depth=390, height=47, tier=2)
    boxes = (drawer("1", width=478, depth=394), drawer("2", row=2, width=474, height=51))
    known = _known(*(all_larger(cabinet(*boxes), off)).drawers, organizers=(TRAY, rack))
    unit = known.cabinets[0]
    outcome = plan(known, HOUSE, "set", "cabinet")
    for turn in tolerance(outcome, within).turns:
        assert turn.off <= within
        at, below = (with_sizes(unit, {(turn.drawer, turn.dimension): size}) for size in (turn.at, turn.at - 1))
        assert verdict_of(outcome.question.elsewhere(at)) == "fits"
        assert verdict_of(outcome.question.elsewhere(below)) == turn.below != "fits"


def test_the_verdict_alone_is_that_of_a_whole_plan():
    block = piece("block", length=200, width=300, height=30)
    for width in (200, 327, 328, 400):
        known = _known(drawer("1", width=width), organizers=(), pieces=[block])
        assert verdict_of(ask(known, HOUSE, "set", "cabinet")) == plan(known, HOUSE, "set", "cabinet").verdict


# ------------------------------------------------------------------------------------------------- measuring sheet


def _sheet(known, path=()):
    return sheet(plan(known, HOUSE, "set", "cabinet"), _tolerance(known), path)


def test_the_sheet_begins_with_what_decides_and_names_each_reading_once():
    # The tray's only drawer is 1 mm wider than it needs; its height has 1 mm to spare too.
    tight = replace(drawer("1"), inside_width=LEAST_WIDTH + mm(1), clear_height=mm(54.5))
    found = _sheet(_known(tight, drawer("2", row=2, height=30)), [("2", "clear height")])
    assert [(line.drawer, line.dimension, line.purpose) for line in found.lines] == [
        ("2", "clear height", "which cabinet it is"),
        ("1", "inside width", "whether the set fits"),
        ("1", "clear height", "whether the set fits"),
        ("1", "inside depth", "size of the foam"),
    ]
    assert found.lines[1].least == LEAST_WIDTH
    assert found.lines[1].enough == LEAST_WIDTH + TAPE


def test_a_size_that_only_this_plan_rests_on_comes_after_those_that_decide():
    # Drawer 2 would take it too, with a filler; 504 mm are 0.8 mm more than 500 mm and the clearances of 3.2 mm.
    boxes = (drawer("1", width=504), drawer("2", row=2, width=1000))
    found = _sheet(_known(*boxes, organizers=(organizer("tray", width=500, depth=380, height=50),)))
    assert found.lines[0].least == mm(500) + CLEARANCES
    assert [(line.dimension, line.purpose) for line in found.lines] == [
        ("inside width", "whether this plan holds"),
        ("inside depth", "size of the foam"),
    ]


def test_a_refusal_asks_for_the_sizes_that_would_turn_it():
    found = _sheet(_known(replace(drawer("1"), clear_height=mm(52))))
    assert [(line.dimension, line.purpose, line.least) for line in found.lines] == [
        ("clear height", "whether the set fits", mm(53))
    ]


def test_the_tape_goes_where_trade_practice_puts_it():
    # Common practice, no source: narrowest width, inside to inside, lowest thing above; the liner counts in the height.
    box = replace(drawer("1"), inside_width=LEAST_WIDTH, clear_height=mm(55), liner=mm(2))
    tapes = {line.dimension: line.tape for line in _sheet(_known(box)).lines}
    assert "narrowest" in tapes["inside width"]
    assert "inside of the back" in tapes["inside depth"]
    assert "lowest thing above" in tapes["clear height"]
    assert "2.0 mm" in tapes["clear height"]


def test_a_sheet_for_one_of_several_look_alikes_begins_with_what_tells_it_from_them():
    wide, narrow = (
        replace(cabinet(drawer("1", width=width, cabinet=name), name=name), model_line="Line")
        for name, width in (("wide", 560), ("narrow", 500))
    )
    known = catalogue(organizers=[TRAY], cabinets=[narrow, wide])
    found = sheet_for(plan(known, HOUSE, "set", "wide"), mm(3))
    assert [(line.dimension, line.purpose) for line in found.lines] == [
        ("inside width", "which cabinet it is"),
        ("inside depth", "size of the foam"),
    ]


def test_a_sheet_begins_with_what_can_be_counted(capsys):
    boxes = [drawer("1", cabinet="one"), drawer("1", cabinet="two"), drawer("2", row=2, cabinet="two")]
    one, two = (
        replace(cabinet(*(box for box in boxes if box.cabinet == name), name=name), model_line="Line")
        for name in ("one", "two")
    )
    found = sheet_for(plan(catalogue(organizers=[TRAY], cabinets=[one, two]), HOUSE, "set", "two"), mm(3))
    assert found.counts == (Counted("drawers", 2),)
    assert "which cabinet it is" not in {line.purpose for line in found.lines}
    show(sheet_view(found))
    assert "Count the drawers: 2; else it is another cabinet" in capsys.readouterr().out
    assert sheet_document(found)["counts"] == [{"count": "drawers", "number": 2}]


def test_a_drawer_that_the_cabinet_lacks_is_not_asked_for():
    assert "9" not in {line.drawer for line in _sheet(_known(*TWO), [("9", "inside width")]).lines}


# ----------------------------------------------------------------------------------------------------------- shown


def test_tables_of_a_cabinet_given_in_inches_are_in_inches(capsys):
    """A tray of 474 mm wants 477.2, which are 18.787 in: 18 13/16 up to 1/32 in, as given. 1.5 mm of error are
    0.059 in, 1/16 up to 1/32; both together 18.846 in: 18 7/8."""
    sides = [inch(Fraction(size)) for size in ("301/16", "63/4", "47/16")]
    known = _known(replace(drawer("1"), inside_width=sides[0], inside_depth=sides[1], clear_height=sides[2]))
    show(tolerance_view(_tolerance(known)))
    turned = " ".join(capsys.readouterr().out.split())
    assert "given in fits from in" in turned
    assert "1 inside width 18 13/16 18 13/16" in turned
    show(sheet_view(_sheet(known)))
    sheet = " ".join(capsys.readouterr().out.split())
    assert "should be in enough in read in" in sheet
    assert "inside width 18 13/16 18 7/8 ______" in sheet
    assert "enough: the least size that serves and 1/16 in more, by which a tape may be off" in sheet
    row = replace(_row("1"), inside_width=inch(Fraction("151/8")))
    show(measuring_view(measure(known, HOUSE, "set", "cabinet", [row])))
    measured = " ".join(capsys.readouterr().out.split())
    assert "nominal in read in difference" in measured
    assert "1 inside width 18 13/16 18 7/8 +1/16" in measured


def test_documents_and_views_tell_verdict_condition_and_sizes(capsys):
    known = _known(replace(drawer("1"), inside_width=LEAST_WIDTH + mm(1)))
    found = measure(known, HOUSE, "set", "cabinet", [_row("1", width=478)])
    document = measuring_document(found)
    assert document["verdict"] == "depends on the tape"
    assert document["conditional"] is True
    assert document["nominal"]["verdict"] == "fits"
    assert document["placements"] == [], "no plan is proved"
    assert EXITS[found.verdict] == 3
    assert document["readings"][0]["difference_mm"] == pytest.approx(-0.2, abs=0.01)
    show(measuring_view(found))
    told = " ".join(capsys.readouterr().out.split())
    assert "depends on the tape (by nominal sizes: fits)" in told
    assert "1 (inside depth, clear height)" in told


def test_the_tolerance_and_the_sheet_are_shown(capsys):
    known = _known(replace(drawer("1"), inside_width=LEAST_WIDTH + mm(1)))
    found = _tolerance(known)
    assert tolerance_document(found)["turns"][0]["fits_from_mm"] == LEAST_WIDTH / PER_MM
    first, *_, last = sheet_document(_sheet(known))["readings"]
    assert first["purpose"] == "whether the set fits"
    assert first["enough_note"] == "the least size that serves and 1.5 mm more, by which a tape may be off"
    assert (last["purpose"], last["enough_mm"], last["enough_note"]) == ("size of the foam", None, "")
    show(tolerance_view(found))
    show(tolerance_view(_tolerance(_known(*TWO))))
    show(sheet_view(_sheet(known)))
    told = capsys.readouterr().out
    assert "477.2" in told
    assert "enough: the least size that serves and 1.5 mm more, by which a tape may be off" in " ".join(told.split())
    assert "still fits" in told
    assert "narrowest point" in told
