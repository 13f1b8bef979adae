"""Splitting a group that is too large: the fewest parts, ended between series where possible, in order."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations, pairwise

from hypothesis import given
from hypothesis import strategies as st

from matcher.layout.curves import curve
from matcher.layout.splitting import cuts_series, parts, run_of, units
from matcher.layout.tree import reading_order
from matcher.records.laid_out import Group
from tests.pieces import HOUSE, group_of, made, mm, socket, wrench

SIDES = HOUSE.layout.sides


def up_to(most: int) -> Callable[[Group], bool]:
    """A drawer that takes so many tools."""
    return lambda group: sum(piece.piece.count for piece in group.pieces) <= most


def tools_of(group: Group) -> list[str]:
    return [group.pieces[n].piece.tool for n in reading_order(group.pieces, SIDES)]


TWO_SERIES = group_of(*(socket(n) for n in range(8, 14)), *(socket(n, kind="deep socket") for n in range(8, 12)))
"""Six sockets and four deep ones."""


def test_a_group_that_goes_in_stays_whole() -> None:
    assert parts(TWO_SERIES, up_to(10), SIDES) == (TWO_SERIES,)


def test_two_parts_end_between_series() -> None:
    """Seven tools go in, so 7 + 3 and 6 + 4 are both two parts; the series ends after six."""
    split = parts(TWO_SERIES, up_to(7), SIDES)
    assert split is not None
    assert [part.name for part in split] == ["group (1 of 2)", "group (2 of 2)"]
    assert [part.part_of for part in split] == ["group", "group"]
    assert [{piece.piece.kind for piece in part.pieces} for part in split] == [{"socket"}, {"deep socket"}]


def test_between_sizes_where_series_would_take_more_parts() -> None:
    """Five a drawer: 5 + 5 are two parts, by series they would be 5 + 1 + 4."""
    split = parts(TWO_SERIES, up_to(5), SIDES)
    assert split is not None
    assert [len(part.pieces) for part in split] == [5, 5]
    assert [name for part in split for name in tools_of(part)] == tools_of(TWO_SERIES)


def test_equal_sizes_are_not_torn_apart() -> None:
    pairs = group_of(made("file", 1, count=2), made("file", 2, count=2), made("file", 3, count=2))
    split = parts(pairs, up_to(3), SIDES)
    assert split is not None
    assert [[piece.rank for piece in part.pieces] for part in split] == [[1], [2], [3]]
    assert parts(pairs, up_to(1), SIDES) is None


def test_no_more_parts_than_allowed() -> None:
    assert parts(TWO_SERIES, up_to(2), SIDES, most=4) is None
    assert len(parts(TWO_SERIES, up_to(2), SIDES, most=5) or ()) == 5


def test_masses_use_and_system_are_those_of_the_part() -> None:
    inch, metric = made("punch", 1, system="inch", count=3, use=2), made("punch", 2, system="metric")
    whole = group_of(inch, metric, mass_low=4, mass_high=8, use=6.0)
    first, second = parts(whole, up_to(3), SIDES) or ()
    assert (first.mass_low, first.mass_high, first.use, first.system) == (3, 6, 6, "inch")
    assert (second.mass_low, second.mass_high, second.use, second.system) == (1, 2, None, "metric")


def test_by_real_size() -> None:
    """Wrenches 8 to 19 do not go into 250 x 250 mm together; their parts do, in order of size."""
    wrenches = group_of(*(wrench(n) for n in range(8, 20)))

    def goes_in(group: Group) -> bool:
        return any(point.width <= mm(250) and point.depth <= mm(250) for point in curve(group, HOUSE))

    split = parts(wrenches, goes_in, SIDES)
    assert split is not None
    assert len(split) > 1
    assert all(goes_in(part) for part in split)
    assert [piece.rank for part in split for piece in part.pieces] == list(range(8, 20))


@given(
    counts=st.lists(st.tuples(st.sampled_from("abc"), st.integers(1, 4)), min_size=1, max_size=7),
    most=st.integers(1, 9),
)
def test_never_more_parts_than_the_fewest(counts: list[tuple[str, int]], most: int) -> None:
    """Against trying every way to cut the sizes in a row."""
    kinds = {"a": "file", "b": "punch", "c": "chisel"}
    group = group_of(*(made(kinds[kind], rank, count=count) for rank, (kind, count) in enumerate(counts)))
    row = [group.pieces[n].piece.count for n in reading_order(group.pieces, SIDES)]

    def fits(cuts: tuple[int, ...]) -> bool:
        ends = [0, *cuts, len(row)]
        return all(sum(row[a:b]) <= most for a, b in pairwise(ends))

    fewest = next(
        (number + 1 for number in range(len(row)) if any(map(fits, combinations(range(1, len(row)), number)))), None
    )
    split = parts(group, up_to(most), SIDES, most=20)
    assert (len(split) if split else None) == fewest


def test_a_cut_between_kinds_cuts_no_series_in_whichever_order_two_tools_would_lie() -> None:
    """Kinds lie in an order that all tools of a group decide; that of two of them alone may be the other way round."""
    tools = (
        made("tape measure", 1, 80, 70, 40),
        made("caliper", 1, 250, 80, 20),
        made("mirror", 1, 200, 40, 20),
    )
    for order in (tools, tools[::-1], (tools[1], tools[0], tools[2])):
        group = group_of(*order)
        row = [unit for series in units(group, SIDES, lambda _: 1) for unit in series]
        for end in range(1, len(row)):
            assert not cuts_series(run_of(group, row[:end]), run_of(group, row[end:]), SIDES)
    sockets = group_of(*(socket(n) for n in range(8, 12)))
    row = [unit for series in units(sockets, SIDES, lambda _: 99) for unit in series]
    assert cuts_series(run_of(sockets, row[:2]), run_of(sockets, row[2:]), SIDES)


def test_a_cut_between_drives_of_the_right_half_cuts_no_series() -> None:
    """Drives of the metric half lie mirrored, 1/4 before 3/8, where there is an inch half, and not where there is none;
    of the last tool before a cut and the first one after it no inch half is seen."""
    halves = [("1/4", "inch"), ("1/4", "metric"), ("3/8", "metric")]
    group = group_of(*(socket(n, drive, system) for drive, system in halves for n in (8, 9)))
    row = [unit for series in units(group, SIDES, lambda _: 1) for unit in series]
    assert len(row) == 3
    for end in (1, 2):
        assert not cuts_series(run_of(group, row[:end]), run_of(group, row[end:]), SIDES)
