"""Suppliers' lists read into tools: right, or with a mark; what is open is asked about and never chosen."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from matcher.catalogue.reading import read_catalogue
from matcher.drafting import draft, vocabulary, write_tables
from matcher.drafting.line_reading import LineReading, ListLine, read_line
from matcher.drafting.ranges import OpenError, expanded
from matcher.drafting.vocabulary import shipped_tables
from matcher.planning.grouping import groups_of
from matcher.records.errors import CatalogueError, UnknownNameError, UsageError
from matcher.records.units import inch
from matcher.tools.kinds import KINDS
from tests.builders import catalogue
from tests.draft_lists import answers, compared, exact, written, written_book
from tests.shop_kinds import DRIVES
from tests.shop_kinds import KINDS as SHOP

KNOWN = vocabulary()
COUNTS = {
    # list: right, right with a mark, asked about though it has an answer, wrong with a mark, wrong without one
    "abbreviations": (60, 0, 0, 0, 0),
    "german": (56, 0, 0, 0, 0),
    "spreadsheet": (44, 1, 1, 1, 0),
    "traps": (65, 1, 0, 1, 0),
    "sentences": (55, 0, 0, 0, 0),
    "french_spanish": (53, 0, 0, 0, 0),
    "mixed_first": (55, 2, 0, 0, 0),
    "mixed_second": (78, 3, 0, 0, 0),
    "mixed_third": (81, 0, 0, 0, 0),
    "mixed_fourth": (61, 0, 0, 0, 0),
    "mixed_fifth": (60, 0, 1, 0, 0),
    "held_out": (60, 0, 1, 0, 0),
    "held_out_second": (54, 4, 2, 1, 0),
}
"""Only ``held_out_second`` was never used to mend the rules: 58 of its 61 lines are read right, four of them with a
mark, and none is wrong without one. ``held_out`` was held out until then (46, 10, 4, 0, 1) and was looked at since.
Figures of the other lists when they were first read, headings included: sentences and french_spanish 102, 2, 4, 0, 0;
mixed_first 41, 4, 12, 0, 0; mixed_second 60, 7, 10, 1, 3; mixed_third 70, 4, 3, 1, 3; mixed_fourth 42, 5, 11, 2, 1;
mixed_fifth 8, 45, 7, 1, 0 (a heading of a column was not known). Some answers of the mixed lists were put right when
they were read: three of the seven wrong lines had a wrong answer, not a wrong reading. Rules and lists are by one hand,
so lists of real suppliers will be read less well."""
ORDER = ("right", "right, marked", "open", "wrong, marked", "wrong")
SEMICOLONS = ("german", "french_spanish")


def read(name: str, folder: Path):
    path = (
        written_book(name, folder)
        if name == "spreadsheet"
        else written(name, folder, ";" if name in SEMICOLONS else ",")
    )
    return draft(path, KNOWN)


def one(text: str, language: str = "en", **columns: str) -> LineReading:
    return read_line(ListLine("", 2, "set", text, **columns), KNOWN, language, commas=language != "en")


def sizes(reading: LineReading) -> list[str]:
    return [tool.size for tool in reading.tools]


@pytest.mark.parametrize("name", COUNTS)
def test_lists_are_read_as_well_as_is_told(name, tmp_path):
    verdicts = Counter(verdict for *_, verdict in compared(name, read(name, tmp_path)))
    assert tuple(verdicts[word] for word in ORDER) == COUNTS[name]


@pytest.mark.slow
def test_no_line_of_a_list_is_lost(tmp_path):
    for name in COUNTS:
        found = read(name, tmp_path)
        assert [reading.line.row for reading in found.readings] == list(range(1, len(answers(name)) + 1))


def test_a_word_that_no_rule_knows_always_leaves_a_mark(tmp_path):
    """Whatever a list's line was read as, with one more word in it that nobody knows it is not sure."""
    for name in ("abbreviations", "sentences", "held_out"):
        for reading in read(name, tmp_path).readings:
            if reading.sure == "read":
                told = replace(reading.line, text=f"{reading.line.text} zorpel")
                assert read_line(told, KNOWN, "en", commas=False).sure != "read", told


def test_one_more_size_is_never_passed_over(tmp_path):
    """A figure too many is asked about, or leaves a mark, wherever a kind has a size."""
    for name in ("abbreviations", "sentences", "held_out"):
        for reading in read(name, tmp_path).readings:
            if reading.sure == "read" and any("size" in need for need in KINDS[reading.tools[0].kind].needs):
                for more in (" 777", " 7/64 in", " - 777 mm"):
                    told = replace(reading.line, text=reading.line.text + more)
                    assert read_line(told, KNOWN, "en", commas=False).sure != "read", told


WORDS = {
    # a trade's word for a kind in each language, as the tests' author says it
    "socket": "socket; Steckschlüsseleinsatz; douille; vaso",
    "deep socket": "deep socket; Steckschlüsseleinsatz lang; douille longue; vaso largo",
    "impact socket": "impact socket; Kraft-Steckschlüsseleinsatz; douille impact; vaso de impacto",
    "deep impact socket": "deep impact socket; Kraft-Steckschlüsseleinsatz lang; douille impact longue; "
    "vaso largo de impacto",
    "external hexalobular socket": "external hexalobular socket; Steckschlüsseleinsatz Außensechsrund; "
    "douille femelle étoile",
    "spark plug socket": "spark plug socket; Zündkerzeneinsatz; douille à bougie; vaso de bujía",
    "ratchet": "ratchet; Umschaltknarre; cliquet; carraca",
    "flex-head ratchet": "flex-head ratchet; Gelenkknarre; cliquet à tête articulée; carraca articulada",
    "breaker bar": "breaker bar; Gelenkgriff; poignée articulée; barra de fuerza",
    "sliding T-handle": "sliding T-handle; Gleitgriff; poignée coulissante; mango corredizo",
    "extension": "extension; Verlängerung; rallonge; alargador",
    "universal joint": "universal joint; Kardangelenk; cardan; junta cardán",
    "torque wrench": "torque wrench; Drehmomentschlüssel; clé dynamométrique; llave dinamométrica",
    "combination wrench": "combination wrench; Ringmaulschlüssel; clé mixte; llave combinada",
    "ratcheting wrench": "ratcheting wrench; Ratschenringmaulschlüssel; clé mixte à cliquet; "
    "llave combinada de carraca",
    "double box wrench": "double box wrench; Doppelringschlüssel; clé polygonale; llave de estrella acodada",
    "open-end wrench": "open-end wrench; Doppelmaulschlüssel; clé à fourches; llave fija",
    "hex key": "hex key; Winkelschraubendreher Sechskant; clé mâle six pans; llave hexagonal",
    "hexalobular key": "hexalobular key; Winkelschraubendreher Innensechsrund; clé mâle étoile; llave macho estrella",
    "screwdriver": "screwdriver; Schraubendreher; tournevis; destornillador",
    "nut driver": "nut driver; Sechskantschraubendreher; tournevis à douille; destornillador de vaso",
    "insert bit": "insert bit; Bit; embout de vissage; punta de atornillar",
    "combination pliers": "combination pliers; Kombizange; pince universelle; alicate universal",
    "diagonal cutters": "diagonal cutters; Seitenschneider; pince coupante diagonale; alicate de corte diagonal",
    "long-nose pliers": "long-nose pliers; Flachrundzange; pince à bec long; alicate de boca larga",
    "water-pump pliers": "water-pump pliers; Wasserpumpenzange; pince multiprise; alicate pico de loro",
    "locking pliers": "locking pliers; Gripzange; pince-étau; alicate de presión",
    "adjustable wrench": "adjustable wrench; Rollgabelschlüssel; clé à molette; llave ajustable",
    "ball-peen hammer": "ball-peen hammer; Ingenieurhammer; marteau à boule; martillo de bola",
    "mallet": "mallet; Gummihammer; maillet; mazo de goma",
    "punch": "punch; Durchtreiber; chasse-goupille; botador",
    "file": "file; Feile; lime; lima",
    "pry bar": "pry bar; Montierhebel; levier; palanca",
    "tape measure": "tape measure; Rollbandmaß; mètre ruban; flexómetro",
    "hacksaw": "hacksaw; Metallsägebogen; scie à métaux; arco de sierra",
}
LANGUAGES = ("en", "de", "fr", "es")


def said_in_words():
    """Tools of the shops' series told in words: kind, drive and size in two orders, with a point or a comma."""
    for kind in SHOP:
        for language, word in zip(LANGUAGES, WORDS.get(kind.word, "").split("; "), strict=False):
            for drive, size in sizes_by_drive(kind) if word else ():
                told = size.replace(".", ",") if language != "en" else size
                unit = " mm" if size.replace(".", "").isdigit() else ""
                square = f'{drive}"' if drive else ""
                yield kind.word, drive, size, language, " ".join(f"{word} {square} {told}{unit}".split())
                yield kind.word, drive, size, language, " ".join(f"{told}{unit} {word} {square}".split())


def sizes_by_drive(kind):
    for drive in kind.drives:
        named = kind.sizes[0] if kind.sizes else ""
        for size in (DRIVES[drive][0] if named == "by drive" else named).split() or [""]:
            yield drive, size


@pytest.mark.slow
def test_tools_told_in_words_are_read_back_or_marked():
    """Never another tool without a mark; nine in ten of them without one."""
    sure = []
    for kind, drive, size, language, text in said_in_words():
        found = one(text, language)
        right = [(tool.kind, tool.drive, exact(tool.size, kind, tool.system), tool.count) for tool in found.tools] == [
            (kind, drive, exact(size, kind, "metric" if KINDS[kind].has_system and size[:1].isdigit() else ""), 1)
        ]
        assert right or found.sure != "read", (text, found)
        sure.append(right and found.sure == "read")
    assert len(sure) > 1500
    assert sum(sure) > 0.9 * len(sure)


# --------------------------------------------------------------------------------------------------------------- ranges


def test_a_range_is_every_size_of_the_one_series_that_has_so_many():
    assert expanded("8", "19", "metric", "combination wrench", 12, KNOWN) == tuple(map(str, range(8, 20)))
    with pytest.raises(OpenError, match="no usual series has so many"):
        expanded("8", "19", "metric", "combination wrench", 11, KNOWN)
    with pytest.raises(OpenError, match="no number of pieces"):
        expanded("8", "19", "metric", "combination wrench", None, KNOWN)
    with pytest.raises(OpenError):
        expanded("19", "8", "metric", "combination wrench", 12, KNOWN)


def test_every_run_of_a_series_is_read_back_or_asked_about():
    """A range with its number of pieces gives just these sizes, or a question: never others."""
    asked = []
    for series in KNOWN.series:
        kind = series.kinds[0]
        for start in range(0, len(series.sizes) - 2, 3):
            run = series.sizes[start : start + 5]
            try:
                found = expanded(run[0], run[-1], series.system, kind, len(run), KNOWN)
            except OpenError:
                asked.append(run)
            else:
                assert found == run
    assert len(asked) < 25


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("5,5x125", ["5.5x125"]),
        ("5,5 x 125 mm", ["5.5x125"]),
        ("5.5x125", ["5.5x125"]),
        ("3,5x75, 5,5x100", ["3.5x75", "5.5x100"]),
        ("1,2 x 8,0 x 175", ["1.2x8.0x175"]),
        ("PH 2 x 100", ["PH2x100"]),
    ],
)
def test_decimal_commas_and_points(text, told):
    assert sizes(one(f"Schraubendreher {text}", "de")) == told


def test_a_comma_that_may_part_two_sizes_is_asked_about():
    found = one("hex key 4,5 mm")
    assert (found.sure, found.notes) == ("ask", ("is 4,5 one size or two?",))
    assert sizes(one("hex key 4, 5 mm")) == ["4", "5"]
    assert sizes(one("Innensechskantschlüssel 4,5 mm", "de")) == ["4.5"]


# ----------------------------------------------------------------------------------------------------- marks and counts


def test_an_ambiguous_abbreviation_is_asked_about_until_the_house_says_what_it_means(tmp_path):
    text = "EXT 3/8 DR 6IN"
    assert one(text).notes == ("extension or external or extractor",)
    (tmp_path / "words.csv").write_text("language,words,means\nen,ext,extension\n")
    own = read_line(ListLine("", 2, "set", text), vocabulary(tmp_path), "en", commas=False)
    assert (own.sure, own.tools[0].tool) == ("read", "extension 3/8 6 in")


def test_a_series_of_the_house_settles_a_range(tmp_path):
    (tmp_path / "series.csv").write_text(
        "kinds,system,series,sizes\ncombination wrench,metric,ours,8 10 11 12 13 14 17 19\n"
    )
    line = ListLine("", 2, "set", "8 pc combination wrench set 8-19 mm")
    assert one(line.text).sure == "ask"
    own = read_line(line, vocabulary(tmp_path), "en", commas=False)
    assert sizes(own) == ["8", "10", "11", "12", "13", "14", "17", "19"]


def test_pieces_that_do_not_add_up_leave_a_mark():
    found = one("4 pc socket set 1/2 dr 10, 13, 17 mm")
    assert found.sure == "look"
    assert found.notes == ("4 pieces advertised, 3 sizes listed",)


@pytest.mark.parametrize(
    ("text", "count", "told"),
    [
        ("combination wrench 13 mm", "3", "read 3"),
        ("insert bit PH2x25, pack of 10", "1", "read 10"),
        ("3 pc socket set 1/2 dr 10, 13, 17 mm", "2", "read 2 2 2"),
        ("sockets 1/2 dr 10, 13, 17 mm", "2", "look 2 2 2"),
        ("sockets 1/2 dr 10, 13, 17 mm", "3", "ask"),
        ("insert bit PH2x25, pack of 10", "2", "ask"),
        ("combination wrench 13 mm", "some", "ask"),
    ],
)
def test_how_many_of_each(text, count, told):
    found = one(text, count=count)
    assert " ".join([found.sure, *(str(tool.count) for tool in found.tools)]) == told


def test_a_heading_gives_what_a_line_lacks_with_a_mark():
    found = one("13 mm", heading="1/2 drive impact sockets")
    assert (found.sure, found.tools[0].tool) == ("look", "impact socket 1/2 13 mm")
    beside = one("socket 1/2 dr 13 mm", heading="1/2 drive impact sockets")
    assert (beside.sure, beside.tools[0].kind) == ("look", "socket")
    assert "impact socket?" in beside.notes[0]


def test_a_length_that_is_told_counts():
    """A ratchet longer than is usual for its drive must not get a pocket that is too short."""
    (tool,) = one('ratchet 1/2 dr 24" long').tools
    assert tool.length == inch(24)


# ---------------------------------------------------------------------------------------------------------------- lists


def listed_as(tmp_path: Path, text: str):
    path = tmp_path / "list.csv"
    path.write_bytes(text.encode("cp1252"))
    return draft(path, KNOWN)


def test_a_list_without_names_of_columns_is_read_with_a_mark(tmp_path):
    found = listed_as(tmp_path, "Steckschlüsseleinsatz 1/2 Zoll 13 mm;2\nRingmaulschlüssel 10 mm;3\n")
    assert [reading.sure for reading in found.readings] == ["look", "look"]
    assert "not understood: 2" in found.readings[0].notes[-1]


def test_a_column_that_is_not_understood_leaves_a_mark_but_for_numbers_of_articles(tmp_path):
    found = listed_as(tmp_path, "Description,Ordered,Stock code\nratchet 3/8 drive,4,A-17\nratchet 1/4 drive,,A-18\n")
    assert [reading.sure for reading in found.readings] == ["no tool", "look", "read"]


def test_a_column_may_be_named_in_two_languages(tmp_path):
    found = listed_as(tmp_path, "Pos;Artikel / Description;Qty (ordered)\n7;ratchet 3/8 dr;2\n")
    (heading, line) = found.readings
    assert (heading.sure, line.sure) == ("no tool", "read")
    assert [(tool.kind, tool.count) for tool in line.tools] == [("ratchet", 2)]


def test_a_tool_alone_in_its_row_is_not_taken_for_a_heading(tmp_path):
    found = listed_as(tmp_path, "Item,Description,Qty\n,SOCKETS,\n1,socket 1/2 dr 13 mm,1\n,ratchet 3/8 drive,\n")
    assert [reading.sure for reading in found.readings] == ["no tool", "no tool", "read", "ask"]


def test_advertised_pieces_are_compared_with_those_read(tmp_path):
    sections = read("spreadsheet", tmp_path).sections
    assert [(one.advertised, one.read, one.open) for one in sections] == [(38, 39, 0), (15, 13, 1), (27, 27, 0)]


@pytest.mark.parametrize(
    ("content", "told"), [(b"", "at least one line"), (b"a\0b", "a text table or a workbook"), (b"PK\x03\x04", "")]
)
def test_a_file_that_is_no_list_is_told(tmp_path, content, told):
    path = tmp_path / "list.csv"
    path.write_bytes(content)
    if told:
        with pytest.raises(CatalogueError, match=told):
            draft(path, KNOWN)
    else:
        assert draft(path, KNOWN).pieces == 0
    with pytest.raises(UnknownNameError, match="no such file"):
        draft(tmp_path / "none.csv", KNOWN)


# --------------------------------------------------------------------------------------------------------------- tables


def test_no_phrase_means_two_things_in_one_language():
    from matcher.drafting.vocabulary import _parsed, _spelled

    meant: dict[tuple[str, tuple[str, ...]], str] = {}
    for row in _parsed("words.csv", shipped_tables()["words"]).rows:
        for phrase in filter(str.strip, row["words"].split(";")):
            for words in _spelled(phrase):
                place = (row["language"], words)
                assert meant.setdefault(place, row["means"]) == row["means"], phrase


def test_every_kind_but_boxes_has_words():
    assert {kind.kind for kind in KNOWN.kinds} == set(KINDS) - {"other", "cased"}
    traits = {trait for own in KNOWN.phrases.values() for meaning in own.values() for trait in meaning.traits}
    assert {trait for kind in KNOWN.kinds for trait in kind.needed} <= traits


@pytest.mark.parametrize(
    ("table", "text", "told"),
    [
        ("words", "language,words,means\nen,gizmo,gadget\n", r"words\.csv, row 2, column means: 'gadget': expected"),
        ("words", "language,words\nen,gizmo\n", r"words\.csv, row 1.*expected the columns language, words, means"),
        ("kinds", "kind,says\ngizmo,socket\n", r"kinds\.csv, row 2, column kind: 'gizmo': expected a kind of tool"),
        ("series", "kinds,system,series,sizes\nsocket,metric,ours,8 x\n", r"series\.csv, row 2, column sizes: '8 x'"),
        ("columns", "language,heading,means\nen,gizmo,gadget\n", r"columns\.csv, row 2, column means: 'gadget'"),
    ],
)
def test_a_bad_row_of_the_house_is_named(tmp_path, table, text, told):
    (tmp_path / f"{table}.csv").write_text(text)
    with pytest.raises(CatalogueError, match=told):
        vocabulary(tmp_path)


def test_the_shipped_tables_are_written_and_read_back(tmp_path):
    write_tables(tmp_path / "words")
    assert vocabulary(tmp_path / "words") == KNOWN
    with pytest.raises(UsageError, match="is there already"):
        write_tables(tmp_path / "words")
    with pytest.raises(UnknownNameError, match="no folder with one of the tables"):
        vocabulary(tmp_path)


# -------------------------------------------------------------------------------------------------------- the catalogue


@pytest.mark.slow
def test_every_drafted_tool_has_a_group_with_a_tier(tmp_path):
    rules = read_catalogue(Path(__file__).parents[1] / "data" / "workshop").group_rules
    for name in COUNTS:
        pieces = [replace(tool, set="s") for reading in read(name, tmp_path).readings for tool in reading.tools]
        groups = groups_of(replace(catalogue(pieces=pieces), group_rules=rules), "s")
        assert sum(len(group.pieces) for group in groups) == len(pieces)
        assert all(group.family and group.tier for group in groups)


@pytest.mark.slow
def test_a_draft_is_a_catalogue_that_is_planned_at_once(run, tmp_path):
    source, out = written_book("spreadsheet", tmp_path), tmp_path / "mine.xlsx"
    code, told, noted = run("draft", source, "--out", out)
    assert (code, "38 pieces advertised, 39 read" in told) == (0, True)
    assert "cabinets are those of the demonstration" in noted
    assert run("check", out)[0] == 0
    code, told, _ = run("plan", out, "Wren-27", "Glen-7", "--json")
    assert (code, '"verdict": "fits"' in told) == (0, True)
    assert re.search(r'"pieces": 27\b', told)
    code, _, told = run("draft", source, "--out", out)
    assert (code, "is there already" in told) == (2, True)
