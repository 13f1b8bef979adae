"""Tables for a terminal of any width: names stay, words stay whole, what has no room for columns comes as records."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console

from matcher.report.grids import Grid, column, grid


def shown(view, width: int) -> list[str]:
    stream = io.StringIO()
    Console(file=stream, width=width, highlight=False).print(view)
    return [line.rstrip() for line in stream.getvalue().splitlines()]


def drawers() -> Grid:
    rows = [
        ("A1", "560 x 405 x 45 mm", "metric combination wrenches", "as is", "30 %"),
        ("", "", "inch combination wrenches", "new", ""),
        ("A2", "560 x 405 x 70 mm", "", "", ""),
    ]
    return grid("drawer", "clear", "~=holds", "=how", "*fill", title="the plan", rows=rows)


def test_marks_before_a_heading_say_what_a_column_is():
    assert (column("*fill").figure, column("~=holds").wraps, column("~=holds").bare) == (True, True, True)
    assert column("~=holds").heading == "holds"
    assert column("*").heading == ""


def test_columns_stand_where_there_is_room():
    lines = shown(drawers(), 80)
    assert lines[:2] == ["the plan", "drawer  clear              holds                        how    fill"]
    assert lines[3] == "A1      560 x 405 x 45 mm  metric combination wrenches  as is  30 %"
    assert lines[4] == "                           inch combination wrenches    new"


def test_words_are_broken_at_spaces_before_a_table_becomes_records():
    lines = shown(drawers(), 60)
    assert lines[3:5] == [
        "A1      560 x 405 x 45 mm  metric combination    as is  30 %",
        "                           wrenches",
    ]


def test_a_record_names_its_row_and_every_value_but_those_that_say_what_they_are():
    assert shown(drawers(), 40) == [
        "the plan",
        "A1: clear 560 x 405 x 45 mm; metric",
        "combination wrenches; as is; fill 30 %",
        "  inch combination wrenches; new",
        "A2: clear 560 x 405 x 70 mm",
    ]


def test_several_lines_of_a_cell_stay_or_come_one_after_the_other():
    made = grid("tool", "*length\nmm", rows=[("ratchet", "180.0\n171-189")])
    assert shown(made, 80)[-2:] == ["ratchet    180.0", "         171-189"]
    assert shown(made, 12) == ["ratchet:", "length mm", "180.0", "171-189"]


NAMES = st.text("abcdefgh", min_size=1, max_size=10)
CELLS = st.lists(NAMES, min_size=1, max_size=8).map(" ".join)


@given(
    st.lists(st.tuples(NAMES, CELLS, st.integers(0, 10**6), CELLS), min_size=1, max_size=6),
    st.sampled_from([40, 60, 80, 120]),
)
def test_nothing_is_cut_off_or_broken_inside_a_word_at_any_width(rows, width):
    made = grid("name", "~holds", "*figure", "~why", rows=[(a, b, str(c), d) for a, b, c, d in rows])
    lines = shown(made, width)
    assert max(map(len, lines)) <= width
    words = " ".join(lines).replace(";", " ").replace(":", " ").split()
    for row in rows:
        assert {word for cell in row for word in str(cell).split()} <= set(words)
    begun = [line.split()[0].strip(":") for line in lines if line[:1].strip()]
    assert {name for name, *_ in rows} <= set(begun)


@pytest.mark.parametrize("width", [1, 5, 39])
def test_even_where_hardly_anything_has_room_it_is_told(width):
    told = "".join("".join(shown(drawers(), width)).split())
    assert "metriccombinationwrenches" in told
