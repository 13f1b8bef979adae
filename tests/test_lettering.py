"""Sizes as single lines that a cutter follows: whole characters, in the room of their label, in DXF and SVG."""

from __future__ import annotations

import io
from string import ascii_letters, digits
from xml.etree import ElementTree

import ezdxf
import pytest

from matcher.catalogue.reading import read_catalogue
from matcher.cutting.lettering import GLYPHS, UNKNOWN, strokes
from matcher.records.units import PER_MM, mm
from matcher.report.cut_files import cut_dxf, cut_svg
from tests.cutting_cases import example
from tests.test_cut_files import WORKSHOP


def bounds(lines) -> tuple[int, int, int, int]:
    xs, ys = [x for line in lines for x, _ in line], [y for line in lines for _, y in line]
    return min(xs), min(ys), max(xs), max(ys)


def test_all_letters_and_digits_have_strokes_and_none_two_alike():
    assert {*ascii_letters, *digits, *"/-.,'"} <= set(GLYPHS)
    drawn = [glyph for letter, glyph in GLYPHS.items() if letter not in " O"]
    assert len(set(drawn)) == len(drawn), "only O and 0 look alike"
    for glyph in drawn:
        for stroke in glyph.split():
            points = list(zip(stroke[::2], stroke[1::2], strict=True))
            assert len(points) > 1
            assert all("0" <= across <= "4" and "0" <= along <= "8" for across, along in points)


def test_every_size_of_the_bundled_catalogue_can_be_written():
    marks = {piece.mark for piece in read_catalogue(WORKSHOP).pieces}
    assert len(marks) > 150
    assert {letter for mark in marks for letter in mark} <= set(GLYPHS)


@pytest.mark.parametrize("text", ["13", "1-1/16", "T25", "PH2", "10x11", "pick hook", "0.05"])
def test_letters_lie_in_the_room_that_labels_are_given(text):
    """0.65 of the height a character, capitals 0.8 of it; tails reach no further below than a millimeter of foam."""
    height, (x, y) = mm(5), (mm(100), mm(40))
    left, low, right, high = bounds(strokes(text, x, y, height, False))
    assert right - left <= 0.65 * height * len(text)
    assert abs(left + right - 2 * x) <= 0.3 * height
    assert y - height / 2 - mm(1) <= low
    assert high <= y + height / 2
    turned = bounds(strokes(text, x, y, height, True))
    assert (turned[1] - y, turned[3] - y) == pytest.approx((left - x, right - x), abs=1)
    assert (x - turned[2], x - turned[0]) == pytest.approx((low - y, high - y), abs=1), "its top is to the left"


def test_a_capital_is_as_high_as_its_share_of_the_writing():
    _, low, _, high = bounds(strokes("H", 0, 0, mm(5), False))
    assert high - low == mm(4)


def test_fractions_and_accents_are_drawn_plainly_and_what_is_unknown_as_a_box():
    plain = strokes("1/2 x 3", 0, 0, mm(5), False)
    assert strokes("½ × 3", 0, 0, mm(5), False) == plain
    assert strokes("é", 0, 0, mm(5), False) == strokes("e", 0, 0, mm(5), False)
    (box,) = strokes("錘", 0, 0, mm(5), False)
    assert len(box) == len(UNKNOWN) // 2


def test_both_files_hold_the_lines_of_sizes_on_foam_beside_their_text():
    """The second size of the example stands on foam, the first in its pocket, where nothing can be engraved."""
    inside, outside = example().jobs[0].drawing.sizes
    assert (inside.lines, bool(outside.lines)) == ((), True)
    lines = ezdxf.read(io.StringIO(cut_dxf(example()))).modelspace().query('LWPOLYLINE[layer=="SIZES_LINES"]')
    drawn = sorted(tuple((round(x * PER_MM), round(y * PER_MM)) for x, y, *_ in line.get_points()) for line in lines)
    assert drawn == sorted(outside.lines)
    assert not any(line.closed for line in lines)
    root = ElementTree.fromstring(cut_svg(example()))
    (path,) = [one for one in root.iter("{http://www.w3.org/2000/svg}path") if one.get("class") == "letters"]
    assert path.get("d").count("M") == len(outside.lines)
    assert sum(text.text == "13" for text in root.iter("{http://www.w3.org/2000/svg}text")) == 2
