"""Numbers are read exactly as a person sees them, or refused: in cells, in options, in house rules."""

import json
import unicodedata
from fractions import Fraction

import pytest

from matcher.catalogue.cells import LENGTH, Cell, bank, drive, number, whole
from matcher.house.reading import read_house
from matcher.planning.pins import parse_keep_free, parse_pin
from matcher.records.errors import CatalogueError, UsageError
from matcher.records.units import PER_INCH, PER_MM
from matcher.tools.dates import spoiled
from matcher.tools.kinds import KINDS
from matcher.tools.notation import SizingError
from matcher.tools.sizes import parse_size

OTHER_DIGITS = [chr(code) for code in range(128, 0x110000) if unicodedata.numeric(chr(code), None) is not None]
"""Every character that Unicode gives a numeric value to and that is none of the ten plain digits."""
STRANGE = [
    "560²",
    "²560",
    "5\u20660",
    "５６０",
    "٥٦٠",
    "५६०",
    "𝟓𝟔𝟎",
    "560①",
    "5_60",
    "5 60",
    "5\u00a060",
    "5\u202f60",
    "560ₒ",
]
"""Texts that some reader of numbers takes for 560 or 5602."""


@pytest.mark.parametrize("text", [*STRANGE, "0x10", "1e2²", "½½", "⅙4", "⅓2", "5⅒", "5⁄", "⁄2", "22 7⁄1６", "1e٣"])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_what_is_no_plain_number_is_refused_with_what_was_expected(text, unit):
    for parser in (LENGTH, whole(0, 10**9), number("a number", 0, 10**9), bank()):
        with pytest.raises(ValueError, match=r"^a "):
            parser(Cell(text, unit if parser is LENGTH else ""))


def test_no_other_digit_is_read_as_a_plain_one():
    """A fraction in one character, alone or behind a whole number, is its value; all else spoils what it stands in."""
    assert [ascii(char) for char in OTHER_DIGITS if not _refused_or_exact(char)] == []


def _refused_or_exact(char):
    value = Fraction(str(unicodedata.numeric(char))).limit_denominator(64)
    alone = (None, value) if 0 < value < 1 else (None,)
    behind = (None, 5 + value) if 0 < value < 1 else (None,)
    never = (f"{char}5", f"5{char}0", f"1/{char}6")
    return _inches(char) in alone and _inches(f"5{char}") in behind and not any(map(_inches, never))


def _inches(text):
    try:
        return LENGTH(Cell(text, "in")) / PER_INCH
    except ValueError:
        return None


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("22 7⁄16", "359/16"),
        ("22 7/16", "359/16"),
        ("22\u00a07/16", "359/16"),  # a space that does not break a line is a space
        ("22½", "45/2"),
        ("22 ½ in", "45/2"),
        ("¾", "3/4"),
        ("⅞″", "7/8"),
        ("1e1", "10"),
        ("+22.5", "45/2"),
    ],
)
def test_shop_fractions_in_one_character_or_more_are_read_exactly(text, value):
    assert LENGTH(Cell(text, "in")) == Fraction(value) * PER_INCH


def test_a_fraction_in_millimeters_is_sent_to_an_inch_column():
    with pytest.raises(ValueError, match="a column whose name ends in _in"):
        LENGTH(Cell("22½", "mm"))


@pytest.mark.parametrize("sign", ["-", "−", "–"])
def test_a_minus_is_a_minus_however_it_is_typed(sign):
    """U+2212 and the dash that word processors make of a hyphen: refused where a length is above 0, else read."""
    assert number("an amount", -100, 100)(Cell(f"{sign}2.5")) == -2.5
    with pytest.raises(ValueError, match="a length above 0"):
        LENGTH(Cell(f"{sign}560", "mm"))


@pytest.mark.parametrize(
    "kind", ["socket", "open-end wrench", "bit socket", "hexalobular key", "screwdriver", "hammer"]
)
@pytest.mark.parametrize("size", ["13²", "１３", "١٣", "T２5", "10x１2", "5٠0 g"])
def test_sizes_are_in_plain_digits_too(kind, size):
    assert kind in KINDS
    with pytest.raises(SizingError):
        parse_size(size, "metric", kind)


@pytest.mark.parametrize("text", ["３/8", "3/８", "¹/2", "3/8²", "٦"])
def test_drives_are_in_plain_digits_too(text):
    with pytest.raises(ValueError, match="a square drive"):
        drive()(Cell(text))


def test_only_a_date_in_plain_digits_is_taken_for_one():
    assert spoiled("8-Mar")
    assert spoiled("45000")
    assert not spoiled("٨-Mar")
    assert not spoiled("٤٥٠٠٠")


@pytest.mark.parametrize(
    "words", ["keep row ٣ free", "hex keys in bank １", "hex keys in row 1²", "keep ２ drawers free"]
)
def test_pins_are_in_plain_digits(words):
    with pytest.raises(UsageError, match="expected"):
        parse_pin(words)


@pytest.mark.parametrize("words", ["٢", "２", "2²", "2 of １00 mm", "2 of 100² mm", "2 of 3 15/１6 in"])
def test_drawers_to_keep_free_are_in_plain_digits(words):
    with pytest.raises(UsageError, match="expected a number of drawers"):
        parse_keep_free(words)


def test_a_row_beyond_any_number_is_refused():
    with pytest.raises(UsageError, match="a whole number"):
        parse_pin("hex keys in row " + "9" * 5000)


@pytest.mark.parametrize(
    ("command", "option", "value"),
    [
        *[("plan", "--tolerance", value) for value in ("٣", "３", "3²", "nan", "inf", "1_0", "2,5", "-1", "1001", "")],
        ("fit", "--tolerance", "٣"),
        *[("plan", "--alternatives", value) for value in ("２", "1_0", "-1", "21")],
        *[("cut", "--batch", value) for value in ("٢", "0", "1_0")],
        *[("offer", "--budget", value) for value in ("nan", "inf", "١", "1_000", "-1")],
        *[("offer", option, value) for option in ("--max-new-sizes", "--max-bundles") for value in ("١", "-1")],
        *[("compare", "--workers", value) for value in ("１", "0", "1_0")],
    ],
)
def test_numbers_in_options_are_plain(run, folder, command, option, value):
    places = {"plan": ["trays", "wide"], "cut": ["trays", "wide"], "fit": ["trays"]}.get(command, [])
    code, out, err = run(command, folder, *places, option, value)
    assert (code, out) == (2, "")
    assert f"'{option}'" in err
    assert "expected a" in err


def test_a_tolerance_is_taken_exactly(run, folder):
    """0.1 mm is 32 units of 1/320 mm; as a binary fraction it would be rounded up to 33."""
    told = run("plan", folder, "trays", "wide", "--tolerance", "0.1", "--json")[1]
    assert json.loads(told)["within_mm"] == 32 / PER_MM


@pytest.mark.parametrize("value", ["３", "3²", '"3"', "nan", "inf", "٣"])
def test_numbers_in_house_rules_are_plain(tmp_path, value):
    (tmp_path / "house.toml").write_text(f"[clearance]\nside_mm = {value}\n", encoding="utf-8")
    with pytest.raises(CatalogueError, match=r"expected a (number|readable TOML file)"):
        read_house(tmp_path / "house.toml")
