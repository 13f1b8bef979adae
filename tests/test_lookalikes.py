"""Cabinets that look alike: what readings leave possible, and the fewest readings that tell them apart."""

from dataclasses import replace
from itertools import combinations, product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.reading import read_catalogue
from matcher.records.errors import UsageError
from matcher.records.given import Cabinet, Measurement, Obstruction
from matcher.records.units import mm
from matcher.report.lookalike_views import identity_document, identity_view, tree_lines
from matcher.report.terminal import show
from matcher.studies.inside_sizes import DIMENSIONS, size_of
from matcher.studies.lookalikes import EXACT, Tree, identify, lookalikes, model_line, path_to, tell_apart, window
from matcher.studies.readings import Reading
from tests.builders import HOUSE, catalogue, drawer

FOLDER = Path(__file__).resolve().parents[1] / "data" / "workshop"
OFF = window(HOUSE)
"""1.5 mm of tape and 3 mm of drawer."""


def _cabinet(name, *widths, line="Line", **more):
    """A bank of drawers 1, 2, ... of the given inside widths; ``None`` leaves a drawer out."""
    boxes = (
        drawer(str(row), row=row, width=width, cabinet=name, **more)
        for row, width in enumerate(widths, 1)
        if width is not None
    )
    return Cabinet(name, tuple(boxes), model_line=line)


def _end(tree: Tree, cabinet: Cabinet, off: int) -> Tree:
    """Where a buyer of ``cabinet`` ends whose every reading is off by ``off``."""
    while tree.branches:
        boxes = {box.name: box for box in cabinet.drawers}
        box = boxes.get(tree.drawer)
        if box is None:
            (tree,) = (branch.tree for branch in tree.branches if branch.start is None)
        else:
            read = size_of(box, tree.dimension) + off
            (tree,) = (
                branch.tree
                for branch in tree.branches
                if branch.start is not None and branch.start <= read and (branch.end is None or read < branch.end)
            )
    return tree


def _told_apart(one: Cabinet, other: Cabinet) -> bool:
    mine, yours = ({box.name: box for box in cabinet.drawers} for cabinet in (one, other))
    if mine.keys() != yours.keys():
        return True
    return any(
        abs(size_of(mine[name], dimension) - size_of(yours[name], dimension)) > 2 * OFF
        for name, dimension in product(mine, DIMENSIONS)
    )


# -------------------------------------------------------------------------------------------------------- possible


def test_a_reading_leaves_those_within_the_window_and_says_what_excludes_the_others():
    wide, narrow, low = _cabinet("wide", 560), _cabinet("narrow", 500), _cabinet("low", None, 560)
    reading = Reading("1", "inside width", mm(560), mm(560) - OFF)
    found = {one.cabinet: one for one in lookalikes([wide, narrow, low], [reading], HOUSE)}
    assert [name for name, one in found.items() if one.possible] == ["wide"]
    assert found["narrow"].against == (Reading("1", "inside width", mm(500), mm(560) - OFF),)
    assert found["low"].lacking == ("1",)
    (beyond,) = lookalikes([wide], [Reading("1", "inside width", mm(560), mm(560) - OFF - 1)], HOUSE)
    assert not beyond.possible


def test_look_alikes_are_those_of_one_model_line():
    all_of_them = [_cabinet("b"), _cabinet("a"), _cabinet("other", line="Else"), _cabinet("lone", line="")]
    assert [one.name for one in model_line(all_of_them, all_of_them[0])] == ["a", "b"]
    assert [one.name for one in model_line(all_of_them, all_of_them[3])] == ["lone"]


def test_readings_of_a_cabinet_narrow_its_line_down_and_the_tree_goes_on_from_there():
    known = catalogue(cabinets=[_cabinet("a", 560, 560), _cabinet("b", 560, 400), _cabinet("c", 400, 400)])
    found = identify(known, HOUSE, "a", [Measurement("a", "1", mm(558))])
    assert [one.cabinet for one in found.lookalikes if one.possible] == ["a", "b"]
    assert (found.tree.drawer, found.tree.dimension) == ("2", "inside width")
    assert identify(known, HOUSE, "a").tree.cabinets == ("a", "b", "c"), "without readings all are possible"
    none = identify(known, HOUSE, "a", [Measurement("a", "1", mm(480))])
    assert none.tree == Tree(())
    with pytest.raises(UsageError, match="nothing of b was measured"):
        identify(known, HOUSE, "b", [Measurement("a", "1", mm(480))])


# ------------------------------------------------------------------------------------------------------------ tree


def test_one_reading_tells_the_narrow_one():
    tree = tell_apart([_cabinet("wide", 560), _cabinet("narrow", 500)], HOUSE)
    # half way between 500 and 560
    assert tree_lines(tree) == ["drawer 1, inside width:", "  under 530.0 mm: narrow", "  530.0 mm and more: wide"]


def test_a_limit_keeps_the_window_to_both_sizes_down_to_one_unit():
    just = drawer("1", cabinet="a")
    over = [Cabinet("a", (just,)), Cabinet("b", (_wider(just, 2 * OFF + 1),))]
    (low, high) = tell_apart(over, HOUSE).branches
    assert (low.tree.cabinets, high.tree.cabinets) == (("a",), ("b",))
    assert just.inside_width + OFF < low.end <= just.inside_width + 2 * OFF + 1 - OFF
    assert tell_apart([over[0], Cabinet("b", (_wider(just, 2 * OFF),))], HOUSE).branches == ()


def _wider(box, by):
    return replace(box, cabinet="b", inside_width=box.inside_width + by)


def test_a_drawer_that_only_some_have_tells_them_apart():
    tree = tell_apart([_cabinet("eight", 560, None), _cabinet("nine", 560, 560)], HOUSE)
    assert tree.drawer == "2"
    assert tree_lines(tree)[-1] == "  no such drawer: eight"


def test_a_size_between_two_others_stays_possible_on_both_sides():
    # 555 is within two windows (9 mm) of 550 and of 560; these two are told apart, the middle one never is.
    tree = tell_apart([_cabinet("a", 550), _cabinet("b", 555), _cabinet("c", 560)], HOUSE)
    assert [branch.tree.cabinets for branch in tree.branches] == [("a", "b"), ("b", "c")]


def test_what_no_tape_tells_apart_is_said_with_what_differs():
    duct = _cabinet("duct", 560, obstructions=(Obstruction(0, 0, mm(50), mm(50), mm(50)),))
    (line,) = tree_lines(tell_apart([_cabinet("plain", 560), duct], HOUSE))
    assert line == "duct or plain, not to be told apart by tape (by eye: drawer 1: blocks in it)"
    (same,) = tree_lines(tell_apart([_cabinet("plain", 560), _cabinet("twin", 560)], HOUSE))
    assert "equal in all that is known" in same


def test_four_cabinets_need_two_readings_of_two_sizes_but_one_of_four():
    two_sizes = [_cabinet(f"{a}{b}", a, b) for a in (400, 500) for b in (400, 500)]
    assert tell_apart(two_sizes, HOUSE).depth == 2
    four = [
        _cabinet(name, width, last)
        for (name, width, last) in (("a", 400, 1), ("b", 400, 20), ("c", 500, 40), ("d", 500, 60))
    ]
    tree = tell_apart(four, HOUSE)
    assert (tree.depth, tree.drawer) == (1, "2")


WIDTHS = st.lists(
    st.lists(st.one_of(st.none(), st.integers(100, 140)), min_size=3, max_size=3).filter(any), min_size=2, max_size=6
)


@given(WIDTHS, st.integers(-OFF, OFF))
@settings(max_examples=60, deadline=None)
def test_every_buyer_ends_at_their_own_cabinet_among_those_no_tape_tells_from_it(table, off):
    cabinets = [_cabinet(str(number), *widths) for number, widths in enumerate(table)]
    tree = tell_apart(cabinets, HOUSE)
    by_name = {cabinet.name: cabinet for cabinet in cabinets}
    for cabinet in cabinets:
        end = _end(tree, cabinet, off)
        assert cabinet.name in end.cabinets
        for one, other in combinations(end.cabinets, 2):
            assert not _told_apart(by_name[one], by_name[other])


@given(WIDTHS)
@settings(max_examples=40, deadline=None)
def test_the_order_of_cabinets_changes_nothing(table):
    cabinets = [_cabinet(str(number), *widths) for number, widths in enumerate(table)]
    assert tell_apart(cabinets, HOUSE) == tell_apart(cabinets[::-1], HOUSE)


@given(
    st.lists(st.tuples(st.booleans(), st.booleans(), st.booleans(), st.booleans()), min_size=2, max_size=5, unique=True)
)
@settings(max_examples=40, deadline=None)
def test_the_tree_has_the_least_depth_there_is(table):
    """Against trying every order of readings: drawers are either wide or narrow, so a reading has two answers."""
    cabinets = [_cabinet(str(n), *(500 if wide else 400 for wide in row)) for n, row in enumerate(table)]
    assert tell_apart(cabinets, HOUSE).depth == _least_depth(tuple(table))


def _least_depth(rows):
    if len(rows) < 2:
        return 0
    splits = [[[row for row in rows if row[column] is side] for side in (False, True)] for column in range(4)]
    return min(1 + max(_least_depth(tuple(part)) for part in parts) for parts in splits if all(parts))


def test_many_cabinets_are_told_apart_by_the_reading_that_tells_most():
    cabinets = [_cabinet(f"{n:02}", *(400 + 100 * (n >> bit & 1) for bit in range(4))) for n in range(EXACT + 4)]
    tree = tell_apart(cabinets, HOUSE)
    assert tree.depth == 4
    assert all(_end(tree, cabinet, 0).cabinets == (cabinet.name,) for cabinet in cabinets)


def test_the_path_to_a_cabinet_is_the_readings_its_buyer_takes():
    cabinets = [_cabinet("a", 400, 400), _cabinet("b", 400, 500), _cabinet("c", 500, 400)]
    tree = tell_apart(cabinets, HOUSE)
    assert set(path_to(tree, "b")) <= {("1", "inside width"), ("2", "inside width")}
    assert path_to(tell_apart(cabinets[:1], HOUSE), "a") == ()


# --------------------------------------------------------------------------------------------------------- bundled


def test_one_width_tells_the_bundled_cabinet_with_narrow_outer_banks():
    # drawers.csv: outer banks of Dune-27N are 385 mm wide, of Dune-27 560 mm; half way lie 472.5 mm.
    known = read_catalogue(FOLDER)
    pair = [one for one in known.cabinets if one.name in ("Dune-27", "Dune-27N")]
    tree = tell_apart(pair, HOUSE)
    assert (tree.drawer, tree.dimension, tree.depth) == ("A1", "inside width", 1)
    assert tree.branches[0].tree.cabinets == ("Dune-27N",)
    assert tree.branches[0].end == mm(472)


def test_bundled_readings_leave_what_looks_alike_and_are_shown(capsys):
    known = read_catalogue(FOLDER)
    found = identify(known, HOUSE, "Moor-13", known.measured)
    document = identity_document(found)
    possible = [one["cabinet"] for one in document["lookalikes"] if one["possible"]]
    assert possible == ["Moor-13", "Moor-13D", "Moor-13L"], "Moor-13S is lower in its upper rows, Moor-11 has fewer"
    assert document["tree"]["dimension"] == "inside depth", "the lift column of Moor-13L takes depth"
    show(identity_view(found))
    assert "not to be told apart by tape" in " ".join(capsys.readouterr().out.split())
