"""Files to records and back."""

from __future__ import annotations

import random
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import openpyxl
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.cells import DENSITIES, LENGTH, MASS, Cell, bank, drive, number, rounded, word, words, yes_no
from matcher.catalogue.reading import read_catalogue
from matcher.catalogue.tables import tables
from matcher.catalogue.writing import write_folder, write_workbook
from matcher.records.errors import CatalogueError
from matcher.records.given import Catalogue, Drawer, Obstruction, Relation
from matcher.records.units import PER_KG, PER_LB, Toward, inch, kg, lb, mm
from tests.catalogue_files import SOUND, folder, records, with_cell, workbook


@pytest.fixture
def sound(tmp_path) -> Path:
    return folder(tmp_path / "catalogue")


def unsigned(catalogue: Catalogue) -> Catalogue:
    """The catalogue without what says where and in which order it was written."""
    return replace(catalogue, digest="", folder="")


# ------------------------------------------------------------------------------------------------------------- cells


@given(st.integers(1, 393 * 64), st.sampled_from([" ", "-", " - "]), st.sampled_from(["", '"', " in", " inch", "″"]))
def test_a_shop_fraction_is_exact(sixty_fourths, between, mark):
    """1/64 in is 127 units of 1/320 mm: 25.4 x 320 / 64."""
    whole, rest = divmod(Fraction(sixty_fourths, 64), 1)
    said = between.join(str(part) for part in (whole, rest) if part)
    assert rounded(LENGTH, Toward.DOWN)(Cell(said + mark, "in")) == 127 * sixty_fourths


@given(st.integers(1, 100_000), st.sampled_from(["", "mm", " mm"]))
def test_a_tenth_of_a_millimeter_is_exact(tenths, mark):
    assert rounded(LENGTH, Toward.UP)(Cell(f"{Decimal(tenths) / 10}{mark}", "mm")) == 32 * tenths


LEAST = Fraction(1, 320)
"""Of a millimeter: the least length that is told apart."""


@given(st.decimals("0.0032", 10_000, places=6))
def test_what_is_off_the_grid_goes_against_the_fit(value):
    """A tool never gets smaller, an opening never larger; both stay within one unit of the true value."""
    true = Fraction(value) * 320
    up = rounded(LENGTH, Toward.UP)(Cell(str(value), "mm"))
    down = rounded(LENGTH, Toward.DOWN)(Cell(str(value), "mm"))
    assert true <= up < true + 1
    assert true - 1 < down <= true


@given(st.decimals(-100_000, 100_000, places=3))
def test_a_length_is_taken_exactly_if_it_is_from_one_unit_to_ten_meters(value):
    assert_taken_iff(LEAST <= value <= 10_000, LENGTH, Cell(str(value), "mm"))
    assert_taken_iff(LEAST <= Fraction(value) * Fraction("25.4") <= 10_000, LENGTH, Cell(str(value), "in"))
    assert_taken_iff(0 <= value <= 10_000, MASS, Cell(str(value), "kg"))


def assert_taken_iff(good: bool, parser, cell: Cell) -> None:
    if good:
        parser(cell)
    else:
        with pytest.raises(ValueError, match=r"^a (length|mass) "):
            parser(cell)


@given(st.text(max_size=12))
def test_no_text_does_worse_than_say_what_was_expected(text):
    tidy = " ".join(text.split())
    for parser, unit in ((LENGTH, "mm"), (LENGTH, "in"), (MASS, "lb"), (bank(), ""), (drive(), ""), (yes_no(), "")):
        assert_value_or_expectation(parser, Cell(tidy, unit))


def assert_value_or_expectation(parser, cell: Cell) -> None:
    try:
        value = parser(cell)
    except ValueError as refused:
        value = str(refused)
    assert value is not None
    assert value != ""


def test_limits_are_inclusive():
    assert LENGTH(Cell("10000", "mm")) == mm(10_000)
    assert MASS(Cell("10000", "kg")) == kg(10_000)
    assert MASS(Cell("0", "lb")) == 0


@pytest.mark.parametrize(
    ("text", "unit", "units"),
    [("1½", "in", inch(Fraction(3, 2))), ("22 7⁄16", "in", inch(Fraction(359, 16))), ("1e2", "mm", mm(100))],
)
def test_other_ways_to_write_a_number(text, unit, units):
    assert LENGTH(Cell(text, unit)) == units


def test_a_pound_is_the_international_pound():
    """0.45359237 kg, international agreement of 1959; from memory."""
    assert Fraction(PER_LB, PER_KG) == Fraction("0.45359237")
    assert rounded(MASS, Toward.UP)(Cell("2 lb", "lb")) == lb(2)


def test_density_of_foam_in_either_unit():
    """1 lb/ft3 = 16.01846 kg/m3; from memory."""
    density = number("a density", 0, 10_000, DENSITIES)
    assert density(Cell("1", "lb_ft3")) == pytest.approx(16.01846, abs=1e-5)
    assert density(Cell("33", "kg_m3")) == 33


@pytest.mark.parametrize(
    ("text", "name"),
    [
        *[("1/4", "1/4"), ('3/8"', "3/8"), ("0.5", "1/2"), ("3/4 in", "3/4"), ("1", "1")],
        *[("6.3", "1/4"), ("10", "3/8"), ("12.5", "1/2"), ("20", "3/4"), ("25 mm", "1")],
    ],
)
def test_square_drives(text, name):
    """Inch names and metric nominal sizes of the same squares: ISO 1174-1, from memory."""
    assert drive()(Cell(text)) == name


@pytest.mark.parametrize(("text", "banks"), [("2", (2, 2)), ("1-2", (1, 2)), ("1 – 3", (1, 3)), ("4.0", (4, 4))])
def test_banks(text, banks):
    assert bank()(Cell(text)) == banks


def test_words_are_taken_in_any_case_and_once():
    kinds = words(word(("socket", "T-handle hex key"), "a kind"))
    assert kinds(Cell("SOCKET; t-handle HEX key;socket;")) == ("socket", "T-handle hex key")


# ----------------------------------------------------------------------------------------------------------- records


def test_rows_become_records(sound):
    catalogue = read_catalogue(sound)
    assert [piece.tool for piece in catalogue.pieces] == [
        "drill in its case",
        "bench puller",
        "ratchet",
        "socket 13",
        "socket 9/16",
        "wrench 10",
    ]
    organizer = catalogue.organizers[0]
    assert (organizer.width, organizer.height, organizer.field_left) == (359 * 508, inch(Fraction(3, 2)), inch(1))
    assert (organizer.mass, organizer.tier, organizer.foam) == (lb(Fraction(3, 2)), 2, "black")
    assert catalogue.measured[0].inside_width == inch(Fraction(179, 8))
    assert catalogue.measured[0].clear_height is None
    assert (catalogue.demand[0].cabinet, catalogue.demand[0].offered) == ("Low", "must")
    assert catalogue.foam[0].density == pytest.approx(32.0369, abs=1e-4)


def test_a_bank_range_and_the_slot_words(sound):
    wide = {cabinet.name: cabinet for cabinet in read_catalogue(sound).cabinets}["Wide"]
    assert [(box.name, box.bank, box.last_bank, box.slot) for box in wide.drawers] == [
        ("01", 1, 2, "foam"),
        ("02", 1, 1, "blocked"),
    ]


def test_sae_is_inch_and_a_fraction_needs_no_system(tmp_path):
    unsaid = with_cell("tools", 3, "system", "")
    pieces = read_catalogue(folder(tmp_path, tools=unsaid)).pieces
    assert {piece.size: piece.system for piece in pieces if piece.kind == "socket"} == {"13": "metric", "9/16": "inch"}


def test_a_chest_on_its_base_is_one_unit_and_the_base_stays_as_well(sound):
    """Rows of the base count on below the chest's last row; banks, names and own cabinets stay."""
    cabinets = {cabinet.name: cabinet for cabinet in read_catalogue(sound).cabinets}
    assert [(box.cabinet, box.name, box.row) for box in cabinets["Top"].drawers] == [
        ("Top", "A", 1),
        ("Top", "B", 2),
        ("Low", "1", 3),
        ("Low", "2", 4),
    ]
    assert [box.row for box in cabinets["Low"].drawers] == [1, 2]
    assert cabinets["Top"].drawers[2].obstructions == cabinets["Low"].drawers[0].obstructions


def test_where_names_collide_the_base_comes_in_front(tmp_path):
    same = SOUND["drawers"].replace("Top,A", "Top,1")
    pins = "set,cabinet,rule,drawer\n,Top,keep free,Low: 2\n"
    catalogue = read_catalogue(folder(tmp_path, drawers=same, pins=pins))
    top = next(cabinet for cabinet in catalogue.cabinets if cabinet.name == "Top")
    assert [box.name for box in top.drawers] == ["1", "B", "Low: 1", "Low: 2"]


def test_cabinets_may_stand_in_drawers_only(tmp_path):
    bare = {name: None for name in SOUND if name not in ("tools", "drawers")}
    assert [cabinet.name for cabinet in read_catalogue(folder(tmp_path, **bare)).cabinets] == ["Low", "Top", "Wide"]


def test_an_obstruction_is_rounded_outward_and_may_reach_the_wall(tmp_path):
    """22.0001 + 548 mm = 570.0001 mm is beyond by less than a unit; 0.0015 mm is less than half a unit of 1/320 mm."""
    text = "cabinet,drawer,left_mm,front_mm,width_mm,depth_mm,height_mm\nLow,1,22.0001,0.0015,548,10,75\n"
    catalogue = read_catalogue(folder(tmp_path, obstructions=text))
    block = next(c for c in catalogue.cabinets if c.name == "Low").drawers[0].obstructions[0]
    assert block == Obstruction(mm(22), 0, mm(548), mm(10) + 1, mm(75))


def test_the_catalogues_own_groups_come_first_and_the_house_fills_in(sound):
    rules = read_catalogue(sound).group_rules
    assert (rules[0].group, rules[0].kinds) == ("sockets of all sorts", ("socket", "deep socket"))
    assert not rules[0].house
    assert all(rule.house for rule in rules[1:])
    assert any(rule.group == "pliers" for rule in rules)


def test_relations_of_the_catalogue_replace_the_default_ones(sound, tmp_path):
    assert read_catalogue(sound).relations == (Relation("pullers", "hex keys", "near", 3),)
    assert len(read_catalogue(folder(tmp_path / "other", relations=None, groups=None)).relations) > 1


@pytest.mark.parametrize("form", ["folder", "book.xlsx"])
@pytest.mark.parametrize("table", [name for name in SOUND if name != "drawers"])
def test_a_table_without_rows_is_an_empty_table(tmp_path, table, form):
    """For all but relations that is the same as none: only they have rows of the house that others replace."""
    alone = dict.fromkeys(SOUND) | {"tools": SOUND["tools"], "drawers": SOUND["drawers"]}
    alone = alone | ({"organizers": SOUND["organizers"]} if table == "tools" else {})
    bare = read_catalogue(folder(tmp_path / "bare", **(alone | {table: None})))
    empty = folder(tmp_path / "folder", **(alone | {table: ",".join(records(table)[0]) + "\n,,\n"}))
    read = read_catalogue(empty if form == "folder" else workbook(empty, tmp_path / form))
    assert unsigned(read) == unsigned(replace(bare, relations=() if table == "relations" else bare.relations))
    assert bare.relations


def test_an_empty_table_stays_one_from_folder_to_workbook_and_back(run, tmp_path):
    given = folder(tmp_path / "given", relations="group,other,wish\n")
    assert run("check", given, "--out", tmp_path / "book.xlsx")[0] == 0
    assert run("check", tmp_path / "book.xlsx", "--out", tmp_path / "back")[0] == 0
    assert read_catalogue(given).relations == read_catalogue(tmp_path / "back").relations == ()
    assert (tmp_path / "back" / "relations.csv").read_text() == "group,other,wish\n"


def test_an_outline_file_counts_for_the_digest(tmp_path):
    tools = with_cell("tools", 6, "group", "puller.svg", to="outline")
    drawn = folder(tmp_path, tools=tools, relations=None, pins=None)
    drawing = '<svg xmlns="http://www.w3.org/2000/svg" width="{0}mm" height="{1}mm" viewBox="0 0 {0} {1}">{2}</svg>'
    shape = drawing.format(120, 300, '<path d="M 0 0 H 120 V 300 H 0 Z"/>')
    (drawn / "puller.svg").write_text(shape)
    before = read_catalogue(drawn)
    (drawn / "puller.svg").write_text(shape + " ")
    after = read_catalogue(drawn)
    assert before.digest != after.digest
    assert unsigned(before) == unsigned(after)


# ------------------------------------------------------------------------------------------------ orders and formats


@pytest.mark.parametrize("seed", range(5))
def test_shuffling_rows_and_columns_changes_nothing_but_the_digest(sound, tmp_path, seed):
    shuffle = random.Random(seed)
    mixed = {}
    for name in SOUND:
        columns = list(zip(*records(name), strict=True))
        shuffle.shuffle(columns)
        header, *rows = zip(*columns, strict=True)
        shuffle.shuffle(rows)
        mixed[name] = "\n".join(",".join(cells) for cells in (header, *rows))
    before, after = read_catalogue(sound), read_catalogue(folder(tmp_path / "mixed", **mixed))
    assert before.digest != after.digest
    assert unsigned(before) == unsigned(after)


def test_a_workbook_reads_like_the_folder(sound, tmp_path):
    from_folder, from_workbook = read_catalogue(sound), read_catalogue(workbook(sound, tmp_path / "catalogue.xlsx"))
    assert unsigned(from_folder) == unsigned(from_workbook)
    assert from_folder.digest == from_workbook.digest


def test_a_workbook_typed_by_hand_reads_like_the_folder(sound, tmp_path):
    """Numbers as numbers, a fraction in a fraction format, yes as TRUE, leading zeros by format, capital titles."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name in SOUND:
        sheet = book.create_sheet(name.title())
        for at, cells in enumerate(records(name), 1):
            for place, text in enumerate(cells, 1):
                fill(sheet.cell(at, place), text)
    book.save(tmp_path / "typed.xlsx")
    assert unsigned(read_catalogue(tmp_path / "typed.xlsx")) == unsigned(read_catalogue(sound))


def fill(cell, text: str) -> None:
    """Put ``text`` into a cell as a spreadsheet would keep it."""
    if text in ("01", "02"):
        cell.value, cell.number_format = int(text), "00"
    elif text == "9/16":
        cell.value, cell.number_format = 0.5625, "# ??/??"
    elif text in ("yes", "no"):
        cell.value = text == "yes"
    elif text.replace(".", "", 1).removeprefix("-").isdecimal():
        cell.value = float(text)
    else:
        cell.value = text or None


def typed(at: Path, column: str, value: object, shown_as: str) -> Path:
    """A workbook with one organizer, one cell of which holds ``value`` in that number format."""
    made = f"set,group,{column},depth_in,height_in\nFir,hex keys,x,16,1\n"
    book = openpyxl.load_workbook(workbook(folder(at / "csv", organizers=made), at / "typed.xlsx"))
    cell = book["organizers"]["C2"]
    cell.value, cell.number_format = value, shown_as
    book.save(at / "typed.xlsx")
    return at / "typed.xlsx"


@pytest.mark.parametrize(
    ("value", "shown_as"),
    [
        *[("22 7/16", shown_as) for shown_as in ("General", "@", "0.00", "# ?/?")],
        *[(text, "@") for text in ("22.4375", "22-7/16", " 22 7/16 ", '22 7/16"', "22 7⁄16", "22\u00a07/16")],
        *[(22.4375, shown_as) for shown_as in ("General", "@", "0.00", "# ?/?", "# ??/??", "# ?/16", "# ??/32")],
        *[(22.4375, shown_as) for shown_as in ("#\\ ?/?", '# ?/?" in"', "# ?/?;-# ?/?", "0 0/16", "# ???/???")],
        *[(22.4375, shown_as) for shown_as in ("0.0\\ \\m", '0.0" d"', '0.0" %"', "#,##0.00_-", "0.00E+00")],
    ],
)
def test_an_inch_cell_of_a_workbook_reads_the_same_however_it_was_typed(tmp_path, value, shown_as):
    """22 7/16 in as text, as a number, as a number shown as a fraction or with words beside it: 359 x 508 units."""
    assert read_catalogue(typed(tmp_path, "width_in", value, shown_as)).organizers[0].width == 359 * 508


@pytest.mark.parametrize(
    ("value", "column", "shown_as", "seen"),
    [
        (0.5, "width_in", "0%", "50%"),
        (22.5, "width_in", "0.00%", "2250%"),
        (0.5, "width_mm", "# ?/?%", "50%"),
        (22.5, "width_in", "yyyy-mm-dd", "1900-01-22 12:00:00"),
        (22, "width_in", "d-mmm", "1900-01-22"),
        (45_870.0, "width_mm", "m/d/yy", "2025-08-01"),
        (0.5, "width_in", "h:mm", "12:00:00"),
        (22.5, "width_in", "[h]:mm", "22 days, 12:00:00"),
        (True, "width_in", "General", "yes"),
        (22.5, "width_mm", "# ?/?", "22 1/2"),
    ],
)
def test_a_number_that_is_shown_as_something_else_is_refused_as_it_is_seen(tmp_path, value, column, shown_as, seen):
    """A percentage, a date, a time, a truth; and an inch fraction in millimeters, as where it is typed as text."""
    with pytest.raises(CatalogueError) as refused:
        read_catalogue(typed(tmp_path, column, value, shown_as))
    (cell,) = refused.value.cells
    assert (cell.sheet, cell.row, cell.column, cell.value) == ("organizers", 2, column, seen)
    assert cell.expected.startswith("a length above 0 and at most 10 m")


TABLE = st.lists(
    st.lists(st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=9), min_size=3, max_size=3),
    min_size=1,
    max_size=5,
).filter(lambda rows: any(cell.strip() for cell in rows[-1]))


@settings(max_examples=60, deadline=None)
@given(TABLE)
def test_csv_to_xlsx_to_csv_loses_nothing(tmp_path_factory, rows):
    at = tmp_path_factory.mktemp("trip")
    frame = pd.DataFrame(rows, columns=["set", "tool", "size"], dtype=str)
    write_folder({"tools": frame}, at / "first")
    write_workbook(tables(at / "first"), at / "second.xlsx")
    write_folder(tables(at / "second.xlsx"), at / "third")
    assert tables(at / "first")["tools"].equals(frame)
    assert (at / "third" / "tools.csv").read_bytes() == (at / "first" / "tools.csv").read_bytes()


HOSTILE = ["=cmd", "+1", "@x", "'quoted", "3/8", "007", "1.0", " two  spaces ", "line\nbreak", "_x000D_", "نجمة", "🔧"]


def test_hostile_texts_and_row_order_survive_the_trip(tmp_path):
    frame = pd.DataFrame({"set": HOSTILE, "size": HOSTILE[::-1]}, dtype=str)
    write_workbook({"tools": frame}, tmp_path / "book.xlsx")
    assert tables(tmp_path / "book.xlsx")["tools"].equals(frame)
    sheet = openpyxl.load_workbook(tmp_path / "book.xlsx")["tools"]
    assert {cell.data_type for row in sheet.iter_rows() for cell in row} == {"s"}


def test_nothing_half_written_stays_behind(tmp_path, monkeypatch):
    (tmp_path / "tools.csv").write_text("kept")
    monkeypatch.setattr(pd.DataFrame, "to_csv", broken)
    with pytest.raises(OSError, match="disk full"):
        write_folder({"tools": pd.DataFrame({"a": ["b"]})}, tmp_path)
    assert [(file.name, file.read_text()) for file in tmp_path.iterdir()] == [("tools.csv", "kept")]


def broken(frame, path, **options):
    Path(path).write_text("half")
    raise OSError("disk full")


def test_blank_rows_trailing_commas_and_a_byte_order_mark_do_no_harm(tmp_path):
    sound = folder(tmp_path)
    lines = SOUND["tools"].strip().splitlines()
    spaced = [lines[0] + ",,", "", *[line + ",," for line in lines[1:]], ",,", ""]
    before = read_catalogue(sound)
    (sound / "tools.csv").write_bytes(b"\xef\xbb\xbf" + "\r\n".join(spaced).encode())
    assert unsigned(read_catalogue(sound)) == unsigned(before)


def test_unrounded_units_do_not_matter(sound, tmp_path):
    """The same organizer typed in millimeters: 22 7/16 in = 569.9125 mm exactly."""
    millimeters = "set,group,width_mm,depth_mm,height_mm,field_width_mm,field_depth_mm,field_left_mm,field_front_mm"
    row = "Fir,hex keys,569.9125,406.4,38.1,508,355.6,25.4,25.4"
    text = f"{millimeters},tier,mass_lb,foam\n{row},2,1.5,black\n"
    again = read_catalogue(folder(tmp_path / "mm", organizers=text))
    assert again.organizers == read_catalogue(sound).organizers


def test_liner_corner_and_ratings_are_kept(sound):
    low = next(cabinet for cabinet in read_catalogue(sound).cabinets if cabinet.name == "Low")
    first, second = low.drawers
    assert isinstance(first, Drawer)
    assert (first.liner, first.load_rating, second.load_rating, second.slot) == (mm(2), kg(40), 0, "no foam")
