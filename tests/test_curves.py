"""Shape curves against trying every line break, every way to lie and every row, and against textbook line breaking."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.layout.bands import Bands
from matcher.layout.blocks import Block, Room
from matcher.layout.curves import curve
from matcher.layout.poses import Pose
from matcher.layout.rows import Beside, BlockRows
from matcher.layout.series import FLAT, UPRIGHT, Series, series
from matcher.layout.styles import Stance
from matcher.packing.staircases import EMPTY, behind, beside, merged, staircase_of
from tests.pieces import HOUSE, UNSTEPPED, as_tuples, group_of, made, pareto, socket, wrench

Field = tuple[int, int, int]
"""Width, depth, height."""

# ------------------------------------------------------------------------------------------------------- brute force


def breaks(count: int) -> Iterator[list[range]]:
    """Every way to cut ``count`` things in a row into runs."""
    for cuts in product((False, True), repeat=count - 1):
        ends = [n for n, cut in enumerate(cuts, 1) if cut]
        yield [range(a, b) for a, b in pairwise([0, *ends, count])]


def pose_in(tool: Sequence[Pose], way: Stance) -> Pose | None:
    return next((pose for pose in tool if pose.way == way), None)


def series_fields(block: Series, most: int) -> Iterator[Field]:
    """Every layout of a series, or of a part of it, with no web above ``most``, at each height of the whole, where what
    can stand does: stretches side by side of lines one behind another, standing or along; and the other way round,
    stretches one behind another of lines side by side that run to the back, across. Lines and stretches are apart by
    the widest web of all tools up to the end of the second, lying as any may."""
    whole = block.laying.tools
    web_of = {way: max((p.web for tool in whole for p in tool if p.way == way), default=0) for way in {*FLAT, *UPRIGHT}}
    least = max(min(pose.rise for pose in tool) for tool in whole)
    heights = [height for height in sorted({pose.rise for tool in whole for pose in tool}) if height >= least]
    webs = [web for web in sorted(set(web_of.values())) if web <= most]
    for web, height, (upright, known) in product(webs, heights, ((False, FLAT), (True, UPRIGHT))):
        ways = [way for way in known if web_of[way] <= web]
        posed = [[pose.web for pose in tool if pose.way in ways] for tool in whole]
        widest = [max((web for some in posed[: n + 1] for web in some), default=0) for n in range(len(whole))]
        low = [[pose for pose in tool if pose.rise <= height] for tool in whole]
        stood = [[p for p in tool if p.way == "standing"] or tool for tool in low]
        for stretches in breaks(block.end - block.first):
            runs = [range(block.first + run.start, block.first + run.stop) for run in stretches]
            for chosen in product(*(list(stretch_fields(stood, run, ways, widest, upright)) for run in runs)):
                long = sum(field[0] for field in chosen) + sum(widest[run[-1]] for run in runs[1:])
                deep, rise = max(field[1] for field in chosen), max(field[2] for field in chosen)
                yield (deep, long, rise) if upright else (long, deep, rise)


def stretch_fields(
    tools: Sequence[Sequence[Pose]], run: range, ways: Sequence[Stance], widest: Sequence[int], upright: bool
) -> Iterator[tuple[int, int, int]]:
    for lines in breaks(len(run)):
        for chosen in product(ways, repeat=len(lines)):
            rows = [[pose_in(tools[run[n]], way) for n in line] for line, way in zip(lines, chosen, strict=True)]
            posed = [[pose for pose in row if pose] for row in rows]
            if sum(map(len, posed)) == len(run):
                size = [[(p.depth, p.width) if upright else (p.width, p.depth) for p in row] for row in posed]
                gaps = [sum(max(a.web, b.web) for a, b in pairwise(row)) for row in posed]
                long = [sum(a for a, _ in row) + gap for row, gap in zip(size, gaps, strict=True)]
                deep = sum(max(b for _, b in row) for row in size) + sum(widest[run[line[-1]]] for line in lines[1:])
                yield max(long), deep, max(pose.rise for row in posed for pose in row)


def row_field(parts: Sequence[Block], chosen: Sequence[Field], web: int) -> Field:
    """Blocks side by side; between two neighbors the wider of the webs that they may have."""
    tops = [max([own for own in part.webs if own <= web], default=0) for part in parts]
    width = sum(part[0] for part in chosen) + sum(max(pair) for pair in pairwise(tops))
    return width, max(part[1] for part in chosen), max(part[2] for part in chosen)


def rows_fields(block: BlockRows, web: int) -> Iterator[Field]:
    """Every break of the parts into rows, one behind another with the web between them."""
    for rows in breaks(len(block.parts)):
        if all(block.may_share[n] for row in rows for n in row[1:]):
            for chosen in product(*(fields(part, web) for part in block.parts)):
                found = [row_field([block.parts[n] for n in row], [chosen[n] for n in row], web) for row in rows]
                deep = sum(row[1] for row in found) + web * (len(rows) - 1)
                yield max(row[0] for row in found), deep, max(row[2] for row in found)


def bands_fields(block: Bands, web: int) -> Iterator[Field]:
    """Every way to cut the columns that leaves the outermost in both bands, or if unframed one that reads in order."""
    outward = range(len(block.columns)) if block.outermost == 0 else range(len(block.columns))[::-1]
    for chosen in product(*block.columns):
        bands = [[cut[n] for cut in chosen if cut[n]] for n in (0, 1)]
        only = [[n for n, k in enumerate(outward) if not chosen[k][other]] for other in (1, 0)]
        both = 0 not in only[0] + only[1]
        in_order = all(one < other for one in only[0] for other in only[1]) and 0 not in only[1]
        if both if block.framed else in_order and all(bands):
            found = [
                [row_field(band, some, web) for some in product(*(fields(b, web) for b in band))] for band in bands
            ]
            for front, back in product(*found):
                yield max(front[0], back[0]), front[1] + web + back[1], max(front[2], back[2])


def fields(block: Block, most: int) -> list[Field]:
    """Every layout of a block with no web above ``most``, of which those that no other beats."""
    if isinstance(block, Series):
        found = list(series_fields(block, most))
    else:
        found = [field for web in block.webs if web <= most for field in joined_fields(block, web)]
    return sorted(pareto(found))  # type: ignore[arg-type]


def joined_fields(block: Block, web: int) -> Iterator[Field]:
    if isinstance(block, BlockRows):
        yield from rows_fields(block, web)
    elif isinstance(block, Bands):
        yield from bands_fields(block, web)
    else:
        assert isinstance(block, Beside)
        for chosen in product(*(fields(part, web) for part in block.parts)):
            yield row_field(block.parts, chosen, web)


def curve_of(block: Block) -> set[tuple[int, ...]]:
    """The block's curve in width, depth and height."""
    return pareto([(w, d, height) for height in block.heights for w, d in block.curve(height, block.webs[-1]).points])


def tools_of(block: Block) -> list[Sequence[Pose]]:
    """Tools as they are read: part by part, column by column."""
    if isinstance(block, Series):
        return list(block.tools)
    if isinstance(block, Bands):
        return [tool for column in block.columns for part in column[0] if part for tool in tools_of(part)]
    assert isinstance(block, (BlockRows, Beside))
    return [tool for part in block.parts for tool in tools_of(part)]


# ------------------------------------------------------------------------------------------------------------- blocks

lengths = st.integers(1, 9)


@st.composite
def tools(draw: st.DrawFn) -> tuple[Pose, ...]:
    """A tool that lies along and across, and may stand too."""
    width, depth, height = draw(lengths), draw(lengths), draw(lengths)
    web, steep = draw(st.integers(0, 2)), draw(st.integers(0, 3))
    along, across = Pose("along", width, depth, height, 0, web), Pose("across", depth, width, height, 0, web)
    standing = Pose("standing", width, width, depth, 0, steep)
    return (standing, along, across) if draw(st.booleans()) else (along, across)


series_blocks = st.lists(tools(), min_size=1, max_size=4).map(lambda some: series(tuple(some)))
short_series = st.lists(tools(), min_size=1, max_size=2).map(lambda some: series(tuple(some)))


def joined(parts: st.SearchStrategy[Block]) -> st.SearchStrategy[Block]:
    several = st.lists(parts, min_size=2, max_size=3).map(tuple)
    rows = several.flatmap(
        lambda some: st.tuples(*[st.booleans()] * len(some)).map(lambda share: BlockRows(some, (False, *share[1:])))
    )
    return st.one_of(several.map(Beside), rows)


@st.composite
def banded(draw: st.DrawFn) -> Bands:
    """Two or three series as columns in two bands, cut anywhere."""
    whole = draw(st.lists(short_series, min_size=2, max_size=3))
    columns = tuple(tuple((_part(one, 0, cut), _part(one, cut, one.end)) for cut in one.laying.cuts) for one in whole)
    return Bands(columns, draw(st.sampled_from([0, len(whole) - 1])), framed=draw(st.booleans()))


def _part(whole: Series, first: int, end: int) -> Series | None:
    return whole.part(first, end) if first < end else None


@settings(max_examples=80, deadline=None)
@given(block=banded())
def test_bands_equal_trying_every_cut(block: Bands) -> None:
    assert curve_of(block) == pareto(fields(block, block.webs[-1]))


@settings(max_examples=150, deadline=None)
@given(block=series_blocks)
def test_series_curve_equals_trying_every_break(block: Series) -> None:
    assert curve_of(block) == pareto(fields(block, block.webs[-1]))


@settings(max_examples=80, deadline=None)
@given(block=st.one_of(joined(short_series), joined(joined(short_series))))
def test_tree_curve_equals_trying_every_layout(block: Block) -> None:
    assert curve_of(block) == pareto(fields(block, block.webs[-1]))


@settings(max_examples=80, deadline=None)
@given(block=st.one_of(series_blocks, joined(short_series), joined(joined(short_series)), banded()))
def test_every_point_has_its_layout(block: Block) -> None:
    """The pockets of a point reach its width and depth exactly and keep the wider of two webs."""
    for width, depth, height in curve_of(block):
        spots = block.spots(height, block.webs[-1], (width, depth), Room(5, 7, width, depth))
        assert max(spot.x + spot.pose.width for spot in spots) == 5 + width
        assert max(spot.y + spot.pose.depth for spot in spots) == 7 + depth
        assert min(spot.x for spot in spots) == 5
        assert min(spot.y for spot in spots) >= 7
        assert max(spot.pose.rise for spot in spots) == height
        assert all(spot.pose in tool for spot, tool in zip(spots, tools_of(block), strict=True)), "in reading order"
        for n, one in enumerate(spots):
            for other in spots[:n]:
                across = max(other.x - one.x - one.pose.width, one.x - other.x - other.pose.width)
                along = max(other.y - one.y - one.pose.depth, one.y - other.y - other.pose.depth)
                assert max(across, along) >= max(one.pose.web, other.pose.web)


def test_a_field_too_small_is_refused() -> None:
    block = series(((Pose("along", 3, 4, 1, 0, 0),),))
    with pytest.raises(ValueError, match="does not go"):
        block.spots(1, 0, (3, 3), Room(0, 0, 3, 3))


# -------------------------------------------------------------------------------------------------------- staircases

points = st.lists(st.tuples(lengths, lengths), min_size=1, max_size=6)


@given(one=points, other=points, gap=st.integers(0, 3))
def test_curves_add_up_as_every_pair_of_sizes_does(
    one: list[tuple[int, int]], other: list[tuple[int, int]], gap: int
) -> None:
    """Stockmeyer, 1983: composition of curves equals composition of every pair of their points."""
    curves = [staircase_of(one), staircase_of(other)]
    pairs = list(product(one, other))
    assert set(beside(curves, gap).points) == pareto([(a + b + gap, max(c, d)) for (a, c), (b, d) in pairs])
    assert set(behind(curves, gap).points) == pareto([(max(a, b), c + d + gap) for (a, c), (b, d) in pairs])
    assert set(merged(curves).points) == pareto([*one, *other])


@given(some=points, width=st.integers(0, 10), depth=st.integers(0, 10))
def test_look_up(some: list[tuple[int, int]], width: int, depth: int) -> None:
    stairs = staircase_of(some)
    assert stairs.holds(width, depth) == any(w <= width and d <= depth for w, d in some)
    assert (stairs.width_at(depth) <= width) == stairs.holds(width, depth)


def test_nothing_joined_to_something_is_nothing() -> None:
    assert len(beside([EMPTY, staircase_of([(1, 1)])], 0)) == 0
    assert len(merged([])) == 0


# ---------------------------------------------------------------------------------------------- textbook line breaking


def line_tools(*boxes: tuple[int, int]) -> Series:
    return series(tuple((Pose("along", width, depth, 0, 0, 0),) for width, depth in boxes))


def test_books_on_shelves() -> None:
    """(thickness, height) of books on shelves 4 wide: total height 6, greedy 8 (a textbook example, from memory)."""
    shelf = line_tools((1, 1), (2, 3), (2, 3), (1, 1), (1, 1), (1, 1), (1, 2))
    assert shelf.curve(0, 0).depth_at(4) == 6


def test_linear_partition() -> None:
    """1 to 9 in three runs: the largest sum is at least 17 (a textbook example, from memory)."""
    runs = line_tools(*((n, 1) for n in range(1, 10)))
    assert runs.curve(0, 0).width_at(3) == 17


# ------------------------------------------------------------------------------------------------------------- groups


def test_curve_is_sorted_and_not_dominated() -> None:
    points = as_tuples(curve(group_of(*(socket(n) for n in range(8, 20)), wrench(10)), HOUSE))
    assert points == sorted(points)
    assert set(points) == pareto(points)


def test_two_sockets_by_hand() -> None:
    """Sockets 20 x 20 x 28 and 22 x 22 x 30 mm; fit 0.8, floor 6, no steps; pockets 21.6, 23.6, lying 29.6, 31.6 long.

    Standing, 0.6 x 30 = 18 mm deep pockets, floor and 0.8 mm of tolerance take foam of 25.4. In it the larger one may
    sink to the floor, 19.4 deep, and rises 36 mm; webs are 6 mm. Lying in this foam, 13.2 deep, it rises
    25.4 - 13.2 + 22 = 34.2. If both lie from the beginning, 13.2 + 6 + 0.8 still take 25.4, but both may sink: they
    rise 28 mm, stand out by 2.6 and share a notch, which they can only as neighbors whose long sides face each other. A
    finger of 28 mm across them would leave no foam: it lies over their ends, 14 mm in and 14 mm beyond. One behind the
    other each has such a notch of its own, wider than the socket, and 43.6 + 6 + 45.6 is long enough for both.
    """
    pair = group_of(socket(10, across=20, length=28), socket(11, across=22, length=30))
    found = {(w / 320, d / 320, h / 320) for w, d, h in as_tuples(curve(pair, UNSTEPPED))}
    assert found == {
        (23.6, 51.2, 36),  # both stand, one behind the other
        (51.2, 23.6, 36),  # both stand side by side
        (23.6, 67.2, 34.2),  # both lie along, one behind the other
        (67.2, 23.6, 34.2),  # both lie across, end to end
        (31.6, 51.2, 34.2),  # both lie across, one behind the other, 8 mm and more above the foam, without a notch
        (51.2, 31.6, 34.2),  # both lie along side by side like that
        (45.6, 51.2, 28),  # both lie across, one behind the other, over one notch
        (51.2, 45.6, 28),  # both lie along side by side, over one notch
        (28, 95.2, 28),  # both lie along, each with a notch
        (95.2, 28, 28),  # both lie across, each with a notch
    }


def test_a_group_without_pieces_has_no_curve() -> None:
    assert curve(group_of(), HOUSE) == ()


def test_a_count_means_that_many_tools() -> None:
    one = made("punch", 5, 100, 10, 10, count=3)
    three = [made("punch", 5, 100, 10, 10) for _ in range(3)]
    assert curve(group_of(one), HOUSE) == curve(group_of(*three), HOUSE)
