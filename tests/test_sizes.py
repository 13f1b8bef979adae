"""Sizes are read exactly as people write them, and what a spreadsheet did to one is named."""

from __future__ import annotations

from datetime import date, datetime
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matcher.records.units import inch, mm
from matcher.records.words import System
from matcher.tools.dates import spoiled
from matcher.tools.notation import SizingError
from matcher.tools.sizes import DRIVE_NAMES, ToolSize, drive_name, parse_drive, parse_size

SIXTY_FOURTH, TENTH_MM = 127, 32  # in 1/320 mm: 25.4 / 64 = 0.396875 mm and 0.1 mm


def flats(text: str, system: System = "", kind: str = "socket") -> int | None:
    return parse_size(text, system, kind).flats


# --------------------------------------------------------------------------------------------------------- exactness


@given(st.integers(min_value=1, max_value=64 * 3))
def test_inch_sizes_are_exact_however_they_are_written(sixty_fourths: int) -> None:
    """1 in = 25.4 mm exactly (international inch), so 1/64 in is 127 units of 1/320 mm."""
    whole, rest = divmod(Fraction(sixty_fourths, 64), 1)
    decimal = f"{sixty_fourths / 64}"
    written = [str(Fraction(sixty_fourths, 64)) if not whole else f"{whole}-{rest}" if rest else str(whole)]
    written += [f"{whole} {rest}"] if whole and rest else []
    for text in (*written, *(f'{text}"' for text in written), decimal, f"{decimal} in"):
        assert flats(text, "inch") == sixty_fourths * SIXTY_FOURTH, text


@given(st.integers(min_value=5, max_value=1000))
def test_metric_sizes_are_exact(tenths: int) -> None:
    for text in (f"{tenths / 10:g}", f"{tenths / 10}", f" {tenths / 10} mm", f"{tenths / 10}mm"):
        assert flats(text, "metric") == tenths * TENTH_MM


@given(st.integers(min_value=1, max_value=192), st.sampled_from(["inch"]))
def test_the_tidy_text_reads_back_to_the_same_size(sixty_fourths: int, system: System) -> None:
    size = parse_size(f"{sixty_fourths / 64}", system, "socket")
    assert parse_size(size.text, system, "socket") == size


@pytest.mark.parametrize(
    ("text", "same"),
    [("½", "1/2"), ("1½", "1-1/2"), ("9/16″", "9/16"), ("9/16”", "9/16"), ("1–1/16", "1-1/16"), ("9⁄16", "9/16")],
)
def test_typographic_characters_mean_the_same(text: str, same: str) -> None:
    assert parse_size(text, "inch", "socket") == parse_size(same, "inch", "socket")


def test_metric_and_inch_sizes_share_one_order() -> None:
    """12 mm < 1/2 in = 12.7 mm < 13 mm."""
    ranks = [parse_size(*size, "socket").rank for size in (("12", "metric"), ("1/2", "inch"), ("13", "metric"))]
    assert ranks == sorted(ranks)
    assert len(set(ranks)) == 3


# -------------------------------------------------------------------------------------------------------------- tips


@pytest.mark.parametrize(
    ("text", "kind", "tip", "number"),
    [
        ("T25", "bit socket", "T", 25),
        ("t 25", "insert bit", "T", 25),
        ("TX25", "hexalobular key", "T", 25),
        ("25", "hexalobular key", "T", 25),
        ("E12", "external hexalobular socket", "E", 12),
        ("PH2", "screwdriver", "PH", 2),
        ("#2", "screwdriver", "PH", 2),
        ("PZ1", "stubby screwdriver", "PZ", 1),
    ],
)
def test_lettered_tips(text: str, kind: str, tip: str, number: int) -> None:
    size = parse_size(text, "", kind)
    assert (size.tip, size.number, size.text) == (tip, number, f"{tip}{number}")


@pytest.mark.parametrize(
    ("text", "width"), [("5.5", 55), ("1x5.5", 55), ("0.8 x 4", 40), ("1 × 5.5 mm", 55), ("SL6.5", 65)]
)
def test_slotted_tips_are_known_by_their_blade_width(text: str, width: int) -> None:
    size = parse_size(text, "", "screwdriver")
    assert (size.tip, size.flats) == ("SL", width * TENTH_MM)


@pytest.mark.parametrize(
    ("text", "system", "width", "length"),
    [
        ("5.5x125", "", 5.5, 125),
        ("5,5 x 125", "", 5.5, 125),
        ("5,5", "", 5.5, None),
        ("1x5.5x125", "", 5.5, 125),
        ("3 x 75 mm", "", 3, 75),
        ("1/4 x 4", "", 6.35, 101.6),
        ('3/16 x 6"', "", 4.7625, 152.4),
    ],
)
def test_a_blade_by_its_width_and_length(text: str, system: System, width: float, length: float | None) -> None:
    size = parse_size(text, system, "screwdriver")
    assert size.flats == pytest.approx(width * 320)
    assert size.length == (None if length is None else pytest.approx(length * 320))


@pytest.mark.parametrize(
    ("text", "kind", "tip", "number", "length"),
    [
        ("PH2x100", "screwdriver", "PH", 2, 100),
        ("PH 2 x 100 mm", "screwdriver", "PH", 2, 100),
        ("#2 x 4 in", "screwdriver", "PH", 2, 101.6),
        ("TX25x100", "screwdriver", "T", 25, 100),
        ("PZ1 x 25", "insert bit", "PZ", 1, 25),
    ],
)
def test_a_tip_with_the_length_behind_it(text: str, kind: str, tip: str, number: int, length: float) -> None:
    size = parse_size(text, "", kind)
    assert (size.tip, size.number) == (tip, number)
    assert size.length == pytest.approx(length * 320)


def test_a_hexagon_with_the_length_behind_it() -> None:
    size = parse_size("6x150", "", "T-handle hex key")
    assert (size.flats, size.length, size.system) == (6 * 320, 150 * 320, "metric")


@pytest.mark.parametrize("text", ["125", "5.5x", "x125", "PH2x4", "PH2x1000", "1x5.5x125x3", "5.5x125x75", "1,000"])
def test_what_is_no_blade(text: str) -> None:
    with pytest.raises(SizingError) as refused:
        parse_size(text, "", "screwdriver")
    assert refused.value.column == "size"


def test_an_extension_of_six_inches_however_it_is_written() -> None:
    written = (("6 in", ""), ('6"', ""), ("6", "inch"), ("6 inches", "metric"))
    assert {parse_size(text, system, "extension").length for text, system in written} == {6 * 8128}


def test_tips_of_one_letter_ascend_and_letters_do_not_mix() -> None:
    sizes = ["2", "10", "SL3", "SL8", "PH1", "PH3", "PZ1", "T6", "T40"]
    ranks = [parse_size(size, "metric", "insert bit").rank for size in sizes]
    assert ranks == sorted(ranks)


def test_a_plain_number_is_a_hexagon_in_a_bit_socket_and_a_blade_in_a_screwdriver() -> None:
    assert parse_size("5", "metric", "bit socket").tip == ""
    assert parse_size("5", "metric", "screwdriver").tip == "SL"


# ------------------------------------------------------------------------------------------------ two ends, lengths


@pytest.mark.parametrize("text", ["10x12", "12x10", "10 x 12", "10 × 12 mm", "10mm x 12mm"])
def test_double_ended_sizes_know_their_larger_end(text: str) -> None:
    size = parse_size(text, "metric", "open-end wrench")
    assert (size.smaller, size.flats) == (100 * TENTH_MM, 120 * TENTH_MM)


def test_double_ended_inch_sizes() -> None:
    size = parse_size("3/8x7/16", "inch", "double box wrench")
    assert (size.smaller, size.flats) == (24 * SIXTY_FOURTH, 28 * SIXTY_FOURTH)


@pytest.mark.parametrize(
    ("text", "system", "units"),
    [("200", "", 200 * 320), ("8", "inch", 8 * 8128), ("8 in", "", 8 * 8128), ('6"', "metric", 6 * 8128)],
)
def test_nominal_lengths(text: str, system: System, units: int) -> None:
    assert parse_size(text, system, "combination pliers").length == units


@pytest.mark.parametrize(
    ("text", "grams"),
    [("500 g", 500), ("500", 500), ("1.5 kg", 1500), ("16 oz", 453.59237), ("1 lb", 453.59237)],
)
def test_hammer_weights(text: str, grams: float) -> None:
    """1 lb = 453.59237 g exactly (international avoirdupois pound), 16 oz to the pound."""
    assert parse_size(text, "", "hammer").mass == pytest.approx(grams * 100_000, abs=1)


# ------------------------------------------------------------------------------------------------------------ drives


@pytest.mark.parametrize(
    ("name", "texts"),
    [
        ("1/4", ["1/4", '1/4"', "0.25", ".25", "6.3", "6.3 mm", "6.35", "1/4 in", "¼"]),
        ("3/8", ["3/8", "0.375", '3/8"', "9.5 mm", "9.525", "10", "10 mm"]),
        ("1/2", ["1/2", "0.5", "12.5", "12.7 mm", "½"]),
        ("3/4", ["3/4", "0.75", "20", "19.05"]),
        ("1", ["1", "1.0", '1"', "1 in", "25", "25.4 mm"]),
    ],
)
def test_drives_by_inches_and_by_iso_millimeters(name: str, texts: list[str]) -> None:
    """Inch sizes and their millimeters: US Navy training manual 14001; ISO 1174-1 nominals from memory."""
    assert {drive_name(parse_drive(text)) for text in texts} == {name}


def test_drives_ascend() -> None:
    exact = [parse_drive(name) for name in DRIVE_NAMES]
    assert exact == [2032, 3048, 4064, 6096, 8128]  # 1 in is 8128 units


@pytest.mark.parametrize("text", ["", "2", "5/16", "25 in", "1 mm", "square", "-1/4", "nan"])
def test_other_drives_are_refused(text: str) -> None:
    with pytest.raises(SizingError, match="1/4, 3/8, 1/2, 3/4 or 1") as refused:
        parse_drive(text)
    assert refused.value.column == "drive"


# ------------------------------------------------------------------------------- what spreadsheets do to shop fractions

EPOCH = date(1899, 12, 30)  # serial number 0 of spreadsheet dates (common practice: the 1900 date system)


def as_spreadsheets_show(day: date) -> list[str]:
    """The texts by which a date typed as a fraction reaches a file: short forms, ISO, serial number."""
    return [
        f"{day.day}-{day:%b}",
        f"{day:%d-%b}",
        f"{day:%b} {day.day}, {day.year}",
        f"{day:%m/%d/%Y}",
        f"{day:%d.%m.%Y}",
        f"{day:%Y-%m-%d}",
        str(datetime(day.year, day.month, day.day)),
        str((day - EPOCH).days),
    ]


@pytest.mark.parametrize("fraction", ["1/2", "1/4", "3/4", "1/8", "3/8", "5/8", "7/8", "1/16", "5/16", "7/16", "11/16"])
def test_a_fraction_turned_into_a_date_is_named(fraction: str) -> None:
    """Spreadsheets read 3/8 as March 8 of this year, or as 3 August where the day comes first."""
    top, bottom = map(int, fraction.split("/"))
    days = [date(2026, top, bottom)] + ([date(2026, bottom, top)] if bottom <= 12 else [])
    for day in days:
        for text in as_spreadsheets_show(day):
            with pytest.raises(SizingError, match=f"{fraction} turned into a date .* format the column as text"):
                parse_size(text, "inch", "socket")


@pytest.mark.parametrize(
    ("text", "was"),
    [("Mar-08", "3/8"), ("May-32", "5/32"), ("1932-05-01", "5/32"), ("2008-01-03", "1-3/8"), ("08. Mrz", "3/8")],
)
def test_months_with_years_are_understood(text: str, was: str) -> None:
    """5/32 becomes May 1932, 1-3/8 becomes January 3, 2008 (common practice, no source)."""
    found = spoiled(text)
    assert found is not None
    assert found.was == was


def test_a_date_that_was_no_shop_fraction_is_still_called_a_date() -> None:
    with pytest.raises(SizingError, match="looks like a date by a spreadsheet"):
        parse_size("2026-10-10", "inch", "socket")


def test_spoiled_drives_and_metric_sizes_are_named_too() -> None:
    with pytest.raises(SizingError, match="3/8 turned into a date"):
        parse_drive("8-Mar")
    with pytest.raises(SizingError, match="3/8 turned into a date"):
        parse_size("46089", "metric", "socket")  # 2026-03-08


@given(st.integers(min_value=1, max_value=200))
def test_no_size_is_mistaken_for_a_date(size: int) -> None:
    assert spoiled(str(size)) is None
    assert spoiled(f"{size} mm") is None


# --------------------------------------------------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    ("text", "system", "kind", "expected"),
    [
        ("", "metric", "socket", "a metric size such as 13"),
        ("-13", "metric", "socket", "a metric size such as 13"),
        ("0", "metric", "socket", "a metric size such as 13"),
        ("nan", "metric", "socket", "a metric size such as 13"),
        ("inf", "metric", "socket", "a metric size such as 13"),
        ("1e3", "metric", "socket", "a metric size such as 13"),
        ("9" * 5000, "metric", "socket", "a metric size such as 13"),
        ("13", "inch", "socket", "an inch size such as 3/8"),
        ("9/16", "metric", "socket", "9/16 is inch where column system says metric"),
        ("13 mm", "inch", "socket", "13 mm is metric where column system says inch"),
        ("1/3", "inch", "socket", "halves to sixty-fourths"),
        ("1/0", "inch", "socket", "halves to sixty-fourths"),
        ("T25", "metric", "socket", "a metric size such as 13"),
        ("10", "metric", "open-end wrench", "two sizes such as 10x12"),
        ("8x10x12", "metric", "open-end wrench", "two sizes such as 10x12"),
        ("X9", "", "bit socket", "5, 3/16 or T25"),
        ("PHx", "", "screwdriver", "5.5x125, 1x5.5, PH2 or T25"),
        ("heavy", "", "hammer", "500 g or 16 oz"),
        ("500 t", "", "hammer", "500 g or 16 oz"),
        ("long", "", "file", "200 (mm) or 8 in"),
    ],
)
def test_what_was_expected_is_said(text: str, system: System, kind: str, expected: str) -> None:
    with pytest.raises(SizingError) as refused:
        parse_size(text, system, kind)
    assert expected in str(refused.value)
    assert refused.value.column == "size"


@given(st.text(max_size=30), st.sampled_from(["socket", "screwdriver", "open-end wrench", "hammer", "file", "adapter"]))
def test_any_text_is_either_a_size_or_refused(text: str, kind: str) -> None:
    found: ToolSize | SizingError
    try:
        found = parse_size(text, "metric", kind)
    except SizingError as refused:
        found = refused
    assert found.rank > 0 if isinstance(found, ToolSize) else found.expected


# ------------------------------------------------------------------------------------------------------------ threads


@pytest.mark.parametrize(
    ("text", "system", "inches"),
    [
        ("1/4-20", "inch", "1/4"),
        ("5/16-18 UNC", "inch", "5/16"),
        ("1-1/8-12", "inch", "9/8"),
        ("1-8", "inch", "1"),
        ("8-32", "inch", "0.164"),
        ("#10-24", "inch", "0.19"),
        ("No. 6-32 UNC", "inch", "0.138"),
        ("1/4 NPT", "inch", "0.54"),
        ("1/8-27 NPT", "inch", "0.405"),
        ("G1/2", "inch", "0.84"),
    ],
)
def test_threads_in_inches(text: str, system: str, inches: str) -> None:
    """Number sizes are 0.060 in + 0.013 in a number (ASME B1.1), pipe sizes those of ASME B1.20.1; from memory."""
    found = parse_size(text, "", "tap")
    assert (found.flats, found.system) == (inch(Fraction(inches)), system)


@pytest.mark.parametrize(("text", "diameter"), [("M8", 8), ("M8x1.25", 8), ("m10 x 1", 10), ("6x1", 6), ("M2.5", 2.5)])
def test_metric_threads(text: str, diameter: float) -> None:
    found = parse_size(text, "", "die")
    assert (found.flats, found.system) == (mm(diameter), "metric")


@pytest.mark.parametrize("text", ["8", "M", "M0", "thread", "3/5-20", "5/8 in NPT x", "1/3 NPT"])
def test_what_is_no_thread(text: str) -> None:
    with pytest.raises(SizingError) as refused:
        parse_size(text, "", "tap")
    assert refused.value.column == "size"


def test_a_thread_in_inches_is_not_metric() -> None:
    with pytest.raises(SizingError, match="1/4-20 is inch"):
        parse_size("1/4-20", "metric", "tap")
