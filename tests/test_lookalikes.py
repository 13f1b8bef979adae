"""Cabinets that look alike: what readings leave possible, and the fewest readings that tell them apart."""

import json
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
from matcher.studies.lookalikes import identify, lookalikes, model_line
from matcher.studies.readings import Reading
from matcher.studies.telling_apart import EXACT, Tree, path_to, tell_apart, window
from matcher.studies.told_readings import Counted, Taped, count_of, told_reading
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
        if tree.counted:
            number = count_of(cabinet, tree.counted)
            (tree,) = (branch.tree for branch in tree.branches if branch.number == number)
            continue
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
    reading = Taped("1", "inside width", mm(560) - OFF)
    found = {one.cabinet: one for one in lookalikes([wide, narrow, low], [reading], HOUSE)}
    assert [name for name, one in found.items() if one.possible] == ["wide"]
    assert found["narrow"].against == (Reading("1", "inside width", mm(500), mm(560) - OFF),)
    assert found["low"].lacking == ("1",)
    (beyond,) = lookalikes([wide], [Taped("1", "inside width", mm(560) - OFF - 1)], HOUSE)
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
    odd = Cabinet("odd", (drawer("1", cabinet="odd"), drawer("X", row=2, cabinet="odd")), model_line="Line")
    tree = tell_apart([_cabinet("even", 560, 560), odd], HOUSE)
    assert (tree.drawer, tree.counted) == ("2", None), "both have two drawers in one bank"
    assert tree_lines(tree)[-1] == "  no such drawer: odd"


def test_a_size_between_two_others_stays_possible_on_both_sides():
    # 555 is within two windows (9 mm) of 550 and of 560; these two are told apart, the middle one never is.
    tree = tell_apart([_cabinet("a", 550), _cabinet("b", 555), _cabinet("c", 560)], HOUSE)
    assert [branch.tree.cabinets for branch in tree.branches] == [("a", "b"), ("b", "c")]


def test_what_no_tape_tells_apart_is_said_with_what_differs():
    duct = _cabinet("duct", 560, obstructions=(Obstruction(0, 0, mm(50), mm(50), mm(50)),))
    (line,) = tree_lines(tell_apart([_cabinet("plain", 560), duct], HOUSE))
    assert line == "duct or plain, not to be told apart by tape (by eye: blocks of drawer 1)"
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


# --------------------------------------------------------------------------------------------------------- counted


def _banks(name, *rows, across=0):
    """Banks of so many equal drawers, and one row on top of them across so many banks."""
    boxes = [drawer(f"{bank}{row}", bank, row + 1, cabinet=name) for bank, n in enumerate(rows, 1) for row in range(n)]
    if across:
        boxes.append(drawer("top", 1, 1, cabinet=name, last_bank=across))
    return Cabinet(name, tuple(boxes), model_line="Line")


def test_drawers_banks_and_rows_are_counted_as_a_buyer_does():
    base = drawer("base: 1", cabinet="base")
    stack = Cabinet("stack", (drawer("1", cabinet="stack"), base), stands_on="base")
    assert [count_of(stack, what) for what in ("drawers", "banks", "rows")] == [1, 1, 1], "without what it stands on"
    assert [count_of(_banks("a", 3, 2), what) for what in ("drawers", "banks", "rows")] == [5, 2, 3]
    assert [count_of(_banks("a", 3, 2, across=2), what) for what in ("drawers", "banks", "rows")] == [6, 2, 4]


def test_what_can_be_counted_is_asked_before_any_tape():
    tall, wide, more = _banks("tall", 3), _banks("wide", 3, 1), _banks("more", 3, 3, 1)
    assert tree_lines(tell_apart([tall, wide, more], HOUSE)) == [
        "count the drawers:",
        "  3: tall",
        "  4: wide",
        "  7: more",
    ]
    tree = tell_apart([wide, _banks("high", 4), _banks("flat", 2, 1, 1), _banks("short", 2, 2)], HOUSE)
    assert tree_lines(tree) == [
        "count the banks:",
        "  1: high",
        "  2:",
        "    count the rows in the bank with the most:",
        "      2: short",
        "      3: wide",
        "  3: flat",
    ]
    assert (tree.depth, tree.readings) == (0, 0), "no tape is needed"
    assert path_to(tree, "wide") == ()


def test_rows_are_counted_where_drawers_and_banks_are_as_many():
    tree = tell_apart([_banks("even", 3, 3), _banks("uneven", 4, 2)], HOUSE)
    assert tree_lines(tree)[0] == "count the rows in the bank with the most:"
    assert [(branch.number, branch.tree.cabinets) for branch in tree.branches] == [(3, ("even",)), (4, ("uneven",))]


@given(st.lists(st.lists(st.integers(1, 4), min_size=1, max_size=3), min_size=2, max_size=6))
@settings(max_examples=40, deadline=None)
def test_where_a_count_differs_the_first_question_is_a_count(table):
    cabinets = [_banks(str(number), *rows) for number, rows in enumerate(table)]
    counts = {tuple(count_of(one, what) for what in ("drawers", "banks", "rows")) for one in cabinets}
    tree = tell_apart(cabinets, HOUSE)
    assert bool(tree.counted) is (len(counts) > 1)
    for cabinet in cabinets:
        assert cabinet.name in _end(tree, cabinet, 0).cabinets


def test_drawers_that_differ_a_little_are_never_called_equal():
    """By 2 mm, too little for a tape to tell surely: both sizes are told, with the drawers that have them."""
    a, b = _cabinet("a", 560, 500, 500), _cabinet("b", 560, 502, 502)
    (line,) = tree_lines(tell_apart([a, b], HOUSE))
    assert line == (
        "a or b, not to be told apart surely by tape (the nearer size is the likelier: "
        "inside width of drawers 2 and 3 500.0 mm in a, 502.0 mm in b)"
    )


@given(WIDTHS)
@settings(max_examples=60, deadline=None)
def test_whatever_size_differs_at_an_end_is_named(table):
    cabinets = {str(number): _cabinet(str(number), *widths) for number, widths in enumerate(table)}
    trees = [tell_apart(cabinets.values(), HOUSE)]
    for tree in trees:
        trees += [branch.tree for branch in tree.branches]
        if tree.branches:
            continue
        boxes = [{box.name: box for box in cabinets[name].drawers} for name in tree.cabinets]
        differ = {name for name in boxes[0] if len({own[name].inside_width for own in boxes}) > 1}
        assert {drawer for one in tree.nearly for drawer in one.drawers} == differ
        equal = "equal in all that is known" in tree_lines(tree)[0]
        assert equal is (len(tree.cabinets) > 1 and not differ)


# ------------------------------------------------------------------------------------------------------------ told


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("13 drawers", Counted("drawers", 13)),
        ("1 bank", Counted("banks", 1)),
        ("6 Rows", Counted("rows", 6)),
        ("B3 width 515", Taped("B3", "inside width", mm(515))),
        ("drawer B3 inside depth 20.5 in", Taped("B3", "inside depth", mm("520.7"))),
        ("B3 depth 16 3/8", Taped("B3", "inside depth", mm("415.925"))),
        ("top left clear height: 70 mm", Taped("top left", "clear height", mm(70))),
    ],
)
def test_what_was_counted_or_measured_is_read_from_words(text, told):
    assert told_reading(text) == told


@pytest.mark.parametrize(
    "text", ["", "B3", "B3 515", "width 515", "B3 width", "B3 width wide", "B3 width 0", "B3 width 10001", "0 drawers"]
)
def test_other_words_are_refused_with_what_is_expected(text):
    with pytest.raises(UsageError, match="expected"):
        told_reading(text)


def test_readings_in_words_narrow_the_list_and_say_which_excludes_what():
    known = catalogue(cabinets=[_cabinet("a", 560, 560), _cabinet("b", 560, 400), _cabinet("c", 560)])
    counted, read = told_reading("2 drawers"), told_reading("2 width 402")
    found = identify(known, HOUSE, "c", told=[counted, read])
    assert [one.cabinet for one in found.lookalikes if one.possible] == ["b"]
    assert [(one.told, one.excludes) for one in found.narrowing] == [
        (counted, (("c", 1),)),
        (read, (("a", mm(560)), ("c", None))),
    ]
    assert found.lookalikes[1].off == mm(2)
    assert not any(one.lone for one in found.narrowing)
    assert found.readings == (), "the cabinet it was taken for has no such drawer"
    with pytest.raises(
        UsageError, match="drawer '3': neither c nor a look-alike of it has one; expected one of: 1 and 2"
    ):
        identify(known, HOUSE, "c", told=[told_reading("3 width 402")])


def test_a_reading_that_stands_alone_against_all_others_is_named(capsys):
    known = catalogue(cabinets=[_cabinet("a", 560, 560), _cabinet("b", 400, 400)])
    told = [told_reading(text) for text in ("2 drawers", "1 width 560", "2 width 400", "2 depth 400")]
    found = identify(known, HOUSE, "a", told=told)
    assert [one.lone for one in found.narrowing] == [False, True, True, False]
    assert found.tree == Tree(())
    show(identity_view(found))
    shown = " ".join(capsys.readouterr().out.split())
    assert "0 of 2 possible" in shown
    assert "2 inside width read 400.0 mm: excludes a (560.0 mm)" in shown
    assert "alone stands against all the rest, check it first: 1 inside width read 560.0 mm; 2 inside" in shown


def test_the_command_takes_readings_in_words(run, tmp_path):
    code, out, _ = run("check", FOLDER, "--cabinet", "Moor-13", "--reading", "B5 depth 345", "--json")
    document = json.loads(out)
    assert (code, document["tree"]["cabinets"]) == (0, ["Moor-13L"])
    (told,) = document["narrowing"]
    assert (told["drawer"], told["value_mm"], told["excludes"][0]) == ("B5", 345, {"cabinet": "Moor-11", "has_mm": 460})
    code, _, err = run("check", FOLDER, "--reading", "13 drawers")
    assert (code, "--cabinet" in err) == (2, True)
    code, _, err = run("check", FOLDER, "--cabinet", "Moor-13", "--reading", "B5 breadth 3")
    assert (code, "'B5 breadth 3': expected a drawer" in err) == (2, True)


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
    assert document["tree"]["count"] is None, "all that are left have thirteen drawers in two banks"
    assert document["tree"]["dimension"] == "inside depth", "the lift column of Moor-13L takes depth"
    show(identity_view(found))
    assert "not to be told apart by tape" in " ".join(capsys.readouterr().out.split())
