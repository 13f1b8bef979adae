"""Readings a little smaller than nominal: what must be cut anew is, and nothing else moves or changes.

Against arithmetic and brute force of the tests' own.
"""

from dataclasses import replace
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.planning.outcome import Fits
from matcher.records.given import GroupRule, Measurement
from matcher.records.units import PER_MM, mm
from matcher.studies.as_measured import measure
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece

TAPE, SIDE, MARGIN = HOUSE.measure.tape, HOUSE.clearance.side, HOUSE.pocket.margin
NAMES = ("a", "b", "c")
ALONE = tuple(GroupRule(name, name, tier, share=False, house=True) for tier, name in enumerate(NAMES, 1))
LESS = st.integers(0, 4 * PER_MM)


def _tray(name, width, field):
    """A ready-made organizer with its pocket field in the middle."""
    return organizer(name, width=width, depth=380, height=50, field_width=mm(field), field_depth=mm(340))


def _readings(known, less):
    """The width of every drawer smaller than nominal by so much."""
    boxes = known.cabinets[0].drawers
    return [Measurement("cabinet", box.name, box.inside_width - off) for box, off in zip(boxes, less, strict=True)]


# Drawers from 560 mm on, trays a little narrower with fields of their own: some go in as they are, some are trimmed.
@given(st.tuples(LESS, LESS, LESS), st.lists(st.integers(520, 560), min_size=3, max_size=3))
@settings(max_examples=40, deadline=None)
def test_a_tray_is_cut_anew_only_where_its_field_and_margins_no_longer_go_in(less, widths):
    boxes = [drawer(name, row=row, width=560) for row, name in enumerate("123", 1)]
    trays = [_tray(name, width, width - 24) for name, width in zip(NAMES, widths, strict=True)]
    known = catalogue(organizers=trays, cabinets=[cabinet(*boxes)], group_rules=ALONE)
    found = measure(known, HOUSE, "set", "cabinet", _readings(known, less))
    sizes = {tray.group: tray for tray in trays}
    lost = dict(zip("123", less, strict=True))
    if not isinstance(found.nominal, Fits):
        return
    for contents in found.contents:
        (group,) = contents.groups
        target = mm(560) - lost[contents.drawer] - TAPE - 2 * SIDE
        tray = sizes[group]
        fits = tray.width <= target or tray.field_width + 2 * MARGIN <= target
        assert (contents.recut == "smaller") is not fits


@given(st.permutations([520, 535, 550]), st.permutations([520, 535, 550]), st.tuples(LESS, LESS, LESS))
@settings(max_examples=40, deadline=None)
def test_as_few_groups_move_as_the_readings_force(trays, widths, less):
    """Of all ways to lay one tray into each drawer that go in as measured, none leaves more where they were."""
    named = zip("123", widths, strict=True)
    boxes = [drawer(name, row=row, width=width + 4) for row, (name, width) in enumerate(named, 1)]
    known = catalogue(
        organizers=[_tray(name, width, width - 24) for name, width in zip(NAMES, trays, strict=True)],
        cabinets=[cabinet(*boxes)],
        group_rules=ALONE,
    )
    found = measure(known, HOUSE, "set", "cabinet", _readings(known, less))
    assert isinstance(found.nominal, Fits), "each tray has a drawer of its width"
    room = {box.name: box.inside_width - off - TAPE - 2 * SIDE for box, off in zip(boxes, less, strict=True)}
    before = {placed.group: placed.drawer for placed in found.nominal.plan.placements}
    ways = [
        dict(zip(NAMES, order, strict=True))
        for order in permutations("123")
        if all(mm(width) <= room[name] for width, name in zip(trays, order, strict=True))
    ]
    assert isinstance(found.outcome, Fits) is bool(ways)
    if not isinstance(found.outcome, Fits):
        return
    now = {placed.group: placed.drawer for placed in found.outcome.plan.placements}
    assert now in ways
    assert _moved(before, now) == min(_moved(before, way) for way in ways)
    assert found.stays is (before in ways)


def _moved(before, now):
    return sum(before[name] != now[name] for name in before)


@given(st.sampled_from("123"), st.integers(1, 3 * PER_MM), st.booleans())
@settings(max_examples=20, deadline=None)
def test_foam_in_drawers_that_nobody_measured_stays_as_it_was(which, off, depth_too):
    """Organizers laid out from pieces: those in other drawers keep every pocket, the measured one keeps its groups."""
    pieces = [
        piece(f"{name} {length}", length, 40, 20, count=3, group=name) for name in NAMES for length in (180, 220, 260)
    ]
    boxes = [drawer(name, row=row) for row, name in enumerate("123", 1)]
    known = catalogue(pieces, cabinets=[cabinet(*boxes)], group_rules=ALONE)
    box = boxes["123".index(which)]
    depth = box.inside_depth - off if depth_too else None
    found = measure(known, HOUSE, "set", "cabinet", [Measurement("cabinet", which, box.inside_width - off, depth)])
    assert isinstance(found.nominal, Fits)
    assert isinstance(found.outcome, Fits)
    assert found.stays
    before, now = found.nominal.plan.placements, found.outcome.plan.placements
    assert [one for one in before if one.drawer != which] == [one for one in now if one.drawer != which]
    assert [one.group for one in before if one.drawer == which] == [one.group for one in now if one.drawer == which]
    assert found.outcome.kept is not None
    assert not found.outcome.kept.moved


def test_a_reading_that_is_no_smaller_than_the_foam_needs_cuts_nothing_anew():
    """With no error of the tape and foam that just goes in: down to the last unit it is as is, below it is trimmed."""
    sure = replace(HOUSE, measure=replace(HOUSE.measure, tape=0))
    known = catalogue(organizers=[_tray("a", 520, 480)], cabinets=[cabinet(drawer("1", depth=384))], group_rules=ALONE)
    least = mm(520) + 2 * SIDE
    for width, how in ((least, "as is"), (least - 1, "trim"), (mm(480) + 2 * (MARGIN + SIDE) - 1, "re-cut")):
        (contents,) = measure(known, sure, "set", "cabinet", [Measurement("cabinet", "1", width)]).contents
        assert (contents.now.how, contents.recut) == (how, "smaller" if how == "re-cut" else "")
