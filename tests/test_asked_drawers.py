"""Questions on the phone: drawers told in one line, partly known; the answers by hand and by trying every size."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.typed import split_question, typed_drawers
from matcher.planning.deciding import verdict_of
from matcher.planning.question import ask
from matcher.records.errors import UnknownNameError, UsageError
from matcher.records.typed import TypedSize
from matcher.records.units import PER_INCH, PER_MM, mm
from matcher.report.asked_views import asked_sentences
from matcher.studies.asked_drawers import ask_drawers
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece

BUNDLED = Path(__file__).resolve().parents[1] / "data" / "workshop"
SIDES = 3.2
"""Both side clearances of the house as shipped, mm."""


def case(name: str, length: int, width: int, height: int = 50):
    return piece(name, length, width, height, kind="cased", group=name)


def known(*pieces, organizers=()):
    return catalogue(pieces, organizers, [cabinet(drawer("A", 1, 1))])


def asked(pieces, line: str, what: str = "set", organizers=()):
    return ask_drawers(known(*pieces, organizers=organizers), HOUSE, what, typed_drawers(line))


# ---------------------------------------------------------------------------------------------------------- the line


def test_a_line_of_drawers_as_they_are_said() -> None:
    one, two, three, four = typed_drawers("B3: 22 1/4 x ? x 2 3/4; 2 of 565x~415x70 mm; 20 in by 15 in by 3 in no foam")
    assert (one.name, one.inches, one.width, one.depth) == (
        "B3",
        True,
        TypedSize(int(Fraction(89, 4) * PER_INCH)),
        TypedSize(None),
    )
    assert (two.name, three.name, two.inches) == ("2", "3", False)
    assert two.depth == TypedSize(mm(415), guessed=True)
    assert two.height == TypedSize(mm(70))
    assert (four.slot, four.width.length, two.slot) == ("no foam", 20 * PER_INCH, "foam")


@given(
    st.lists(st.tuples(*[st.integers(1, 999)] * 3), min_size=1, max_size=4),
    st.sampled_from([" x ", "x", " by ", "×", " * "]),
)
def test_every_way_to_write_times_reads_alike(sizes, times) -> None:
    line = "; ".join(times.join(map(str, one)) + " mm" for one in sizes)
    read = [(one.width.length, one.depth.length, one.height.length) for one in typed_drawers(line)]
    assert read == [tuple(PER_MM * size for size in one) for one in sizes]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("565 x 415 x 70", "expected mm or in behind the sizes"),
        ("565 x 415 mm", "expected inside width x depth x clear height"),
        ("565 x 415 x 1/3", "halves to sixty-fourths"),
        ("565 x 415 x 0 mm", "expected more than 0"),
        ("a: 5 x 4 x 7 mm; a: 5 x 4 x 7 mm", "two drawers are called 'a'"),
        ("? x ? x ?", "expected mm or in"),
        (";", "expected inside width"),
    ],
)
def test_what_is_no_drawer_is_one_clear_error(line: str, told: str) -> None:
    with pytest.raises(UsageError, match=told):
        typed_drawers(line)


def test_the_question_ends_where_the_drawers_begin() -> None:
    what, (one,) = split_question("1/2 in drive sockets of Linden-348 in 22 1/4 x 16 3/8 x 2 3/4")
    assert what == "1/2 in drive sockets of Linden-348"
    assert one.inches
    with pytest.raises(UsageError, match="expected 'GROUP of SET in DRAWERS'"):
        split_question("will it fit?")


# -------------------------------------------------------------------------------------------------------- the answer


def test_a_case_that_goes_in_and_what_is_tightest() -> None:
    """300 + 3.2 of 305 leaves 1.8 mm of width, 200 + 3.2 of 210 leaves 6.8 of depth."""
    found = asked([case("case", 300, 200)], "305 x 210 x 90 mm")
    assert (found.verdict, found.conditions) == ("fits", ())
    first, then = asked_sentences(found)
    assert first == "set goes into a drawer of 305 x 210 x 90 mm inside in its case."
    assert "inside width of drawer 1" in then
    assert "1.8 mm to spare" in then


def test_what_would_do_is_what_is_short() -> None:
    """Two cases of 300 x 200 side by side ask for 400 + 3.2 of width (100.2 more), or for as much depth in turn."""
    found = asked([case("one", 300, 200), case("two", 300, 200)], "303 x 304 x 90 mm")
    assert found.verdict == "does not fit"
    (least, *_) = found.would_do
    assert (least.dimension, least.at_least) == ("inside width", mm(404))
    assert "404 mm inside width (101 mm more)" in asked_sentences(found)[1]


def test_an_organizer_is_asked_for_by_its_part_and_trimmed() -> None:
    """An organizer of 400 x 300 with its field of 360 x 260 in the middle: 10 mm come off a drawer of 393.2."""
    made = replace(organizer("tools", 400, 300, field_width=mm(360), field_depth=mm(260)), part="F-1")
    found = asked([], "393.2 x 320 x 90 mm", "f-1", organizers=[made])
    first, _ = asked_sentences(found)
    assert found.verdict == "fits"
    assert "trimmed: 10 mm off its width" in first


def test_an_unknown_size_is_answered_with_a_condition() -> None:
    """300 x 200 across a depth of 210 asks for 300 + 3.2 of width: 304 in whole millimeters."""
    found = asked([case("case", 300, 200)], "A: ? x 210 x 90 mm")
    (condition,) = found.conditions
    assert (found.verdict, condition.at_least, condition.needed) == ("depends on sizes", mm(304), True)
    first, then = asked_sentences(found)
    assert first.endswith("in its case if it is at least 304 mm wide inside.")
    assert then == "Measure the inside width of drawer A next."


def test_inches_are_asked_for_in_sixteenths() -> None:
    """303.2 mm is 11.937 in: the next sixteenth is 11 15/16 (303.21 mm)."""
    found = asked([case("case", 300, 200)], "? x 8 1/4 x 4")
    assert "at least 11 15/16 in wide" in asked_sentences(found)[0]


def test_a_guess_that_decides_is_marked_with_what_it_may_be_off() -> None:
    enough = asked([case("case", 300, 200)], "~320 x 210 x 90 mm")
    assert enough.verdict == "depends on sizes"
    assert "at least 304 mm wide inside (the guess is 320 mm)" in asked_sentences(enough)[0]
    less = asked([case("case", 300, 200)], "~290 x 210 x 90 mm")
    assert less.verdict == "depends on sizes"
    assert "at least 304 mm wide inside (more than the guess of 290 mm)" in asked_sentences(less)[0]


def test_a_size_that_does_not_matter_is_no_condition() -> None:
    found = asked([case("case", 300, 200)], "305 x 210 x 90 mm; 305 x 210 x ? mm")
    assert (found.verdict, found.conditions) == ("fits", ())


def test_what_is_too_little_whatever_the_rest_is_said_to_be_needed() -> None:
    """No drawer as low as 50 mm takes a case of 50 mm below 3 mm of clearance, however wide it is."""
    found = asked([case("case", 300, 200)], "? x ? x 50 mm")
    assert (found.verdict, found.conditions) == ("does not fit", ())


SIZES = st.integers(20, 50)


@settings(max_examples=15)
@given(st.lists(st.tuples(SIZES, SIZES), min_size=1, max_size=2), SIZES.map(lambda n: n + 20), st.sampled_from([0, 1]))
def test_conditions_against_trying_every_size(cases, other, axis) -> None:
    """Of one drawer one side is not known: the least that is found is the least of all whole millimeters."""
    pieces = [case(f"case {n}", *sizes) for n, sizes in enumerate(cases)]
    sides = ["?", "?"]
    sides[1 - axis] = str(other)
    found = asked(pieces, f"A: {' x '.join(sides)} x 90 mm")

    def verdict(size: int) -> str:
        wide, deep = (size, other) if axis == 0 else (other, size)
        box = drawer("A", 1, 1, wide, deep, 90, slot="no foam")
        tried = catalogue(pieces, (), [cabinet(box)])
        return verdict_of(ask(tried, HOUSE, "set", "cabinet"))

    largest = sum(max(sizes) for sizes in cases) + 20
    least = next((size for size in range(1, largest) if verdict(size) == "fits"), None)
    if found.verdict == "does not fit":
        assert least is None
    else:
        (condition,) = found.conditions
        assert condition.at_least == mm(least)
        assert not condition.needed or verdict(least - 1) == "does not fit"


def test_two_unknown_sizes_are_enough_together() -> None:
    """The width is looked for first, while any depth counts: 200 + 3.2; then the depth that goes with it."""
    found = asked([case("case", 300, 200)], "? x ? x 90 mm")
    assert [(one.dimension, one.at_least) for one in found.conditions] == [
        ("inside width", mm(204)),
        ("inside depth", mm(304)),
    ]


def test_names_that_are_not_there() -> None:
    with pytest.raises(UnknownNameError, match="no group 'saws' in set; it has: case"):
        asked([case("case", 300, 200)], "305 x 210 x 90 mm", "saws of set")
    with pytest.raises(UnknownNameError, match="no set 'other'"):
        asked([case("case", 300, 200)], "305 x 210 x 90 mm", "case of other")


# ------------------------------------------------------------------------------------------------------- the command


def test_the_command_answers_in_sentences_and_as_json(run, tmp_path) -> None:
    question = "drive extensions of Alder-64 in 22 1/4 x 16 3/8 x 2 3/4"
    code, out, _ = run("ask", BUNDLED, question)
    assert code == 0
    assert "The drive extensions of Alder-64 go into a drawer of 22 1/4 x 16 3/8 x 2 3/4 in inside" in " ".join(
        out.split()
    )
    assert "the ratings and the manual of the cabinet maker decide" in " ".join(out.split())
    file = tmp_path / "asked.json"
    code, out, _ = run("ask", BUNDLED, question, "--json", "--out", file)
    document = json.loads(out)
    assert (document["verdict"], document["groups"]) == ("fits", ["drive extensions"])
    assert document == json.loads(file.read_text())
    code, _, err = run("ask", BUNDLED, "Alder-64 in 22 x 16 x 3")
    assert code == 2
    assert "expected mm or in" in err


def test_a_drawer_narrower_than_its_clearances_takes_nothing() -> None:
    found = asked([case("one", 30, 30), case("two", 30, 30)], "1 x 60 x 90 mm")
    assert found.verdict == "does not fit"
