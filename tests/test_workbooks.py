"""Workbooks of results: equal to the documents, safe as text, the same bytes every time, readable by LibreOffice."""

import io
import zipfile
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

from matcher.catalogue.reading import read_catalogue
from matcher.catalogue.spreadsheet import BookSheet, SheetColumn, workbook
from matcher.catalogue.tables import TABLES, tables
from matcher.catalogue.template import template
from matcher.catalogue.writing import write_folder
from matcher.offer.deciding import offer
from matcher.planning.answering import plan, with_best_part
from matcher.planning.goal_words import in_amounts
from matcher.records.answered import Goal, TriedChange
from matcher.records.units import mm
from matcher.report.cut_sheets import cut_document
from matcher.report.document import comparison_document, plan_document
from matcher.report.files import csv_text
from matcher.report.offer_documents import offer_document
from matcher.report.paper.front_page import painted_poster
from matcher.report.setup_sheets import NOT_FOR_PRODUCTION
from matcher.report.variant_views import steps_document
from matcher.report.workbook import compare_book, cut_book, fit_book, offer_book, plan_book
from matcher.studies.comparison import compare
from matcher.studies.variants import steps
from matcher.tools.kinds import KINDS
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer
from tests.cutting_cases import example
from tests.offer_cases import one_drawer, simple
from tests.office import needs_office, office_charts, office_rows

FOLDER = Path(__file__).resolve().parents[1] / "data" / "workshop"
HOSTILE = [
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "3/8",
    "1-2",
    "007",
    "1e5",
    "TRUE",
    "http://x.test",
    " spaces ",
    "نجمة",
    "🔧",
]
"""Texts that spreadsheets turn into formulas, dates, numbers, truths and links (common practice, no source)."""


def read(made):
    """Values of every sheet's cells as rows."""
    book = openpyxl.load_workbook(io.BytesIO(made))
    return {sheet.title: [list(row) for row in sheet.iter_rows(values_only=True)] for sheet in book.worksheets}


def outcome(*names, width=560):
    """A plan of ready-made organizers of these names."""
    drawers = [drawer(str(row), row=row, width=width) for row in range(1, len(names) + 2)]
    organizers = [organizer(name, part=name) for name in names]
    return plan(catalogue(organizers=organizers, cabinets=[cabinet(*drawers)]), HOUSE, "set", "cabinet")


def test_a_text_stays_a_text_however_it_looks():
    made = workbook([BookSheet("s", (SheetColumn("=head"),), [[text] for text in HOSTILE])])
    cells = [cell for (cell,) in openpyxl.load_workbook(io.BytesIO(made))["s"].iter_rows()]
    assert [cell.value for cell in cells] == ["=head", *HOSTILE]
    assert {cell.data_type for cell in cells} == {"s"}
    assert {cell.number_format for cell in cells} == {"@"}  # text still when somebody edits the cell
    with zipfile.ZipFile(io.BytesIO(made)) as archive:
        assert not [name for name in archive.namelist() if "rels" in name and b"hyperlink" in archive.read(name)]


def test_a_csv_keeps_a_formula_from_running():
    # A leading apostrophe makes text of what a spreadsheet would run (common practice, no source).
    lines = csv_text([{"group": text} for text in HOSTILE]).splitlines()[1:]
    assert [line.strip('"')[:1] for line in lines[:4]] == ["'"] * 4


def test_headers_stay_in_sight_and_can_be_filtered():
    book = openpyxl.load_workbook(io.BytesIO(plan_book(plan_document(outcome("a", "b")))))
    for sheet in book.worksheets:
        assert sheet.freeze_panes == "A2", sheet.title
        assert sheet.auto_filter.ref.startswith("A1:"), sheet.title
        assert max(column.width for column in sheet.column_dimensions.values()) <= 61, sheet.title


def test_the_figures_are_those_of_the_document_with_their_unit_in_the_heading():
    document = plan_document(outcome("a", "b"))
    sheets = read(plan_book(document))
    head, *rows = sheets["placements"]
    assert head[:3] == ["group", "drawer", "how"]
    for name in ("left", "front", "width", "depth", "height"):
        place = head.index(f"{name} (mm)")
        assert [row[place] for row in rows] == [row[f"{name}_mm"] for row in document["placements"]]
    assert [row[:4] for row in sheets["goals"][1:]] == [
        [goal["name"], amount["unit"], amount["value"], amount["bound"]]
        for goal in document["goals"]
        for amount in goal["amounts"]
    ]
    assert ["most free", document["most_free"]] in sheets["answer"]


def test_a_question_without_rows_has_no_sheet():
    sheets = read(plan_book(plan_document(outcome("a"))))
    assert not {"reasons", "left out", "fits but", "part", "would turn it"} & set(sheets)
    assert {"answer", "placements", "goals", "margins"} <= set(sheets)


def test_no_number_of_the_search_stands_in_a_workbook():
    """Goal ``recut`` is told as work and gaps; no value that a plan of drawers can have is above a million."""
    document = plan_document(outcome("a", "b", width=570))
    assert max(goal["value"] for goal in document["goals"]) > 10**9, "the search counts work and gaps in one number"
    sheets = read(plan_book(document))
    rows = [row for row in sheets["goals"] if row[0] == "recut"]
    assert [row[1] for row in rows] == ["work", "gaps, mm"]
    numbers = [cell for rows in sheets.values() for row in rows for cell in row if isinstance(cell, int | float)]
    assert max(numbers) < 10**6


def test_a_bound_of_gaps_is_told_only_for_the_least_work():
    goal = Goal("recut", 2 * 10**9 + mm(10), 10**9, False)
    assert in_amounts(goal) == (("work", 2, 1), ("gaps, mm", 10.0, None))
    assert in_amounts(replace(goal, bound=2 * 10**9))[1] == ("gaps, mm", 10.0, 0.0)


def test_a_refusal_stands_in_the_workbook_with_its_reasons():
    refused = outcome("a", width=300)
    sheets = read(fit_book([plan_document(refused)]))
    assert "placements" not in sheets
    assert refused.reasons[0].text in sheets["reasons"][1]
    assert "does not fit" in sheets["cabinets"][1]


def test_the_same_document_gives_the_same_bytes():
    document = plan_document(outcome("a", "b"))
    assert plan_book(document) == plan_book(document)
    assert template() == template()


def test_a_comparison_holds_every_variant_with_its_reasons_and_what_changes():
    organizers = [organizer("a")]
    cabinets = [cabinet(drawer(cabinet=name, height=height), name=name) for name, height in (("low", 40), ("high", 90))]
    known = catalogue(organizers=organizers, cabinets=cabinets)
    found = compare(known, HOUSE, "set")
    document = comparison_document(found) | {"steps": steps_document(steps(found))}
    sheets = read(compare_book([document]))
    assert [row[:3] for row in sheets["variants"][1:]] == [["set", "high", "fits"], ["set", "low", "does not fit"]]
    head = sheets["variants"][0]
    assert sheets["variants"][2][head.index("reasons")] == document["variants"][1]["reasons"][0]["text"]
    assert sheets["steps"][1][:3] == ["set", "high", "low"]


def test_an_offer_holds_bundles_sizes_and_curve():
    known, plans = simple([one_drawer("A"), one_drawer("B", width=500)])
    document = offer_document(offer(known, HOUSE, plans))
    sheets = read(offer_book(document))
    head, *rows = sheets["bundles"]
    assert [(row[head.index("cabinet")], row[head.index("brings")]) for row in rows] == [
        (bundle["cabinet"], bundle["brings"]) for bundle in document["bundles"]
    ]
    assert len(sheets["sizes"]) == len(document["sizes"]) + 1
    assert len(sheets["sizes serve"]) == sum(len(size["serves"]) for size in document["sizes"]) + 1
    assert [row[1] for row in sheets["curve"][1:]] == [point["new_sizes"] for point in document["curve"]]
    assert ["gain", document["gain"]] in sheets["answer"]


def test_what_is_cut_holds_blanks_sheets_and_the_warning():
    document = cut_document(example(basis="estimated"))
    sheets = read(cut_book(document))
    head, *rows = sheets["blanks"]
    assert [row[head.index("thickness (mm)")] for row in rows] == [
        blank["thickness_mm"] for blank in document["blanks"]
    ]
    assert ["note", NOT_FOR_PRODUCTION] in sheets["answer"]
    placed = [blank for stock in document["stocks"] for sheet in stock["free"]["sheets"] for blank in sheet["blanks"]]
    assert len(sheets["sheets"]) == len(placed) + 1
    assert len(sheets["not measured"]) == len(document["guesses"]) + 1
    assert len(sheets["order of cuts"]) == sum(len(one["order_of_cuts"]) for one in document["setup_sheets"]) + 1
    assert [row[3:] for row in sheets["in stock"][1:]] == [[None, 1, 0], [None, 1, 0]]


@needs_office
@pytest.mark.slow
def test_libreoffice_reads_equal_values_and_hostile_names_as_text(tmp_path):
    document = plan_document(outcome(*HOSTILE))
    (tmp_path / "plan.xlsx").write_bytes(plan_book(document))
    sheets = office_rows(tmp_path / "plan.xlsx", tmp_path)
    assert set(sheets) == set(read(plan_book(document)))
    head, *rows = sheets["placements"]
    assert [row[0] for row in rows] == [placement["group"] for placement in document["placements"]]
    for name in ("left", "front", "width", "depth", "height"):
        place = head.index(f"{name} (mm)")
        assert [float(row[place]) for row in rows] == [row[f"{name}_mm"] for row in document["placements"]]


# ------------------------------------------------------------------------------------------------- pictures and charts


def books():
    """A plan with its poster, a comparison and an offer as workbooks, by name, with how many charts each has."""
    found = outcome("a", "b")
    known, plans = simple([one_drawer("A"), one_drawer("B", width=500)])
    cabinets = [cabinet(drawer(cabinet=name), drawer("2", row=2, cabinet=name), name=name) for name in ("one", "two")]
    compared = compare(catalogue(organizers=[organizer("a")], cabinets=cabinets), HOUSE, "set")
    return {
        "plan": (plan_book(plan_document(found), (), painted_poster(found)), 1),
        "comparison": (compare_book([comparison_document(compared)]), 1),
        "offer": (offer_book(offer_document(offer(known, HOUSE, plans))), 1),
    }


def test_the_poster_is_a_picture_on_the_first_sheet():
    found = outcome("a", "b")
    book = openpyxl.load_workbook(io.BytesIO(plan_book(plan_document(found), (), painted_poster(found))))
    assert [len(sheet._images) for sheet in book.worksheets] == [1] + [0] * (len(book.worksheets) - 1)
    assert painted_poster(found) == painted_poster(found)


def test_a_refusals_workbook_has_the_part_what_stays_outside_and_what_would_turn_it():
    given = [organizer("small", 200, 200), organizer("wide", 900, 300)]
    refused = with_best_part(plan(catalogue((), given, [cabinet(drawer("1"))]), HOUSE, "set", "cabinet"))
    refused = replace(refused, turns=(TriedChange("the cabinet big instead", cabinet="big"),))
    sheets = read(plan_book(plan_document(refused), (), painted_poster(refused)))
    assert [row[0] for row in sheets["part"]] == ["group", "small"]
    head, row = sheets["stays outside"]
    assert row[head.index("group")] == "wide"
    assert isinstance(row[head.index("least (m2)")], int | float)
    assert sheets["would turn it"][1][:2] == ["the cabinet big instead", "matcher plan CATALOGUE set big"]


@pytest.mark.parametrize(
    ("name", "sheet", "headings"),
    [
        ("plan", "margins", ["drawer", "fill (share)"]),
        ("comparison", "variants", ["cabinet", "fewest free", "free drawers", "most free"]),
        ("offer", "curve", ["new sizes", "gain"]),
    ],
)
def test_a_chart_refers_to_the_cells_under_its_headings(name, sheet, headings):
    book = openpyxl.load_workbook(io.BytesIO(books()[name][0]))
    (chart,) = book[sheet]._charts
    head = [cell.value for cell in book[sheet][1]]
    last = book[sheet].max_row
    meant = {heading: f"$2:${chr(65 + head.index(heading))}${last}" for heading in headings}
    across, *shown = headings
    assert len(chart.series) == len(shown)
    for series, heading in zip(chart.series, shown, strict=True):
        values = (series.val or series.yVal).numRef.f
        names = series.cat.strRef or series.cat.numRef if series.cat else series.xVal.numRef or series.xVal.strRef
        assert values.endswith(meant[heading]), values
        assert names.f.endswith(meant[across]), names.f


def test_every_sheet_prints_on_one_page_wide():
    for made, _ in books().values():
        for sheet in openpyxl.load_workbook(io.BytesIO(made)).worksheets:
            assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) in ((1, 0), (None, 0)), sheet.title
            assert sheet.sheet_properties.pageSetUpPr.fitToPage, sheet.title
            assert sheet.print_title_rows == "$1:$1", sheet.title


@needs_office
@pytest.mark.slow
@pytest.mark.parametrize("name", ["plan", "comparison", "offer"])
def test_libreoffice_opens_every_workbook_with_its_charts_and_picture(tmp_path, name):
    made, charts = books()[name]
    (tmp_path / "book.xlsx").write_bytes(made)
    assert office_charts(tmp_path / "book.xlsx", tmp_path) == (charts, int(name == "plan"))


# -------------------------------------------------------------------------------------------------- catalogues as books


def test_the_bundled_catalogue_goes_to_a_workbook_and_back_unchanged(run, tmp_path):
    assert run("check", FOLDER, "--out", tmp_path / "book.xlsx")[0] == 0
    assert run("check", tmp_path / "book.xlsx", "--out", tmp_path / "back")[0] == 0
    for file in FOLDER.glob("*.csv"):
        assert (tmp_path / "back" / file.name).read_bytes() == file.read_bytes()
    kept = read_catalogue(FOLDER)
    assert read_catalogue(tmp_path / "book.xlsx") == replace(kept, folder=str(tmp_path))


def test_a_copy_says_what_stays_behind(run, tmp_path):
    told = run("check", FOLDER, "--out", tmp_path / "book.xlsx")[2]
    assert "house.toml" in told


def test_a_copy_speaks_of_outline_files_only_where_there_are_some(run, blank, tmp_path):
    filled(blank).save(blank)
    assert run("check", blank, "--out", tmp_path / "copy")[::2] == (0, "")


def test_a_template_never_replaces_what_is_filled_in(run, blank):
    filled = blank.read_bytes()
    code, out, err = run("check", "--template", blank)
    assert (code, out) == (2, "")
    assert "is there already" in err
    assert blank.read_bytes() == filled


@pytest.mark.parametrize(
    ("name", "expected"),
    [("book.xls", "expected a name ending in .xlsx"), ("full", "new or empty folder"), ("no/book.xlsx", "not exist")],
)
def test_a_copy_never_mixes_with_other_files(run, tmp_path, name, expected):
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "drawers.csv").write_text("mine")
    code, out, err = run("check", FOLDER, "--out", tmp_path / name)
    assert (code, out) == (2, "")
    assert expected in err
    assert (tmp_path / "full" / "drawers.csv").read_text() == "mine"


def test_a_workbook_that_cannot_be_written_is_one_line_and_leaves_nothing(run, tmp_path):
    (tmp_path / "taken.xlsx").mkdir()
    code, out, err = run("check", FOLDER, "--out", tmp_path / "taken.xlsx")
    assert (code, out) == (2, "")
    assert "cannot be written" in err
    assert [file.name for file in tmp_path.iterdir()] == ["taken.xlsx"]


def fill(book, name, **cells):
    """Type a row into a sheet of a template under its headings."""
    sheet = book[name]
    heads = [cell.value for cell in sheet[1]]
    at = next(row for row in range(2, 99) if all(cell.value is None for cell in sheet[row]))
    for head, value in cells.items():
        sheet.cell(at, heads.index(head) + 1, value)


@pytest.fixture
def blank(run, tmp_path):
    assert run("check", "--template", tmp_path / "mine.xlsx")[0] == 0
    return tmp_path / "mine.xlsx"


def test_a_filled_template_is_a_catalogue(run, blank):
    book = openpyxl.load_workbook(blank)
    fill(book, "drawers", cabinet="c", drawer="1", bank=1, row=1, inside_width_mm=560, inside_depth_mm=400.5,
         clear_height_mm="70")  # fmt: skip
    fill(book, "tools", set="s", tool="a", kind="socket", count=1, system="metric", size="13", drive="3/8")
    fill(book, "tools", set="s", tool="b", kind="other", count=2, length_mm=90, width_mm=30, height_mm=20)
    book.save(blank)
    assert run("check", blank)[::2] == (0, "")
    read = read_catalogue(blank)
    assert [(piece.tool, piece.drive) for piece in read.pieces] == [("a", "3/8"), ("b", "")]
    assert read.cabinets[0].drawers[0].inside_depth == mm(400.5)


def filled(blank):
    """The template with a drawer and a tool typed in."""
    book = openpyxl.load_workbook(blank)
    fill(book, "drawers", cabinet="c", drawer="1", bank=1, row=1, inside_width_mm=560, inside_depth_mm=400,
         clear_height_mm=70)  # fmt: skip
    fill(book, "tools", set="s", tool="b", kind="other", count=2, length_mm=90, width_mm=30, height_mm=20)
    return book


def test_what_a_template_leaves_as_it_is_means_the_default(blank, tmp_path):
    """Also against a folder that has no other tables than the two filled in."""
    filled(blank).save(blank)
    alone = tmp_path / "alone"
    write_folder({name: frame for name, frame in tables(blank).items() if name in ("drawers", "tools")}, alone)
    read, bare = read_catalogue(blank), read_catalogue(alone)
    assert replace(read, digest="", folder="") == replace(bare, digest="", folder="")
    assert len(read.relations) > 1


def test_relations_deleted_from_a_template_are_no_relations(blank):
    book = filled(blank)
    book["relations"].delete_rows(2, 500)
    book.save(blank)
    assert read_catalogue(blank).relations == ()


def test_the_guide_of_a_template_says_what_a_sheet_without_rows_means(blank):
    told = {row[0]: row[1] for row in openpyxl.load_workbook(blank)["guide"].iter_rows(min_row=2, values_only=True)}
    assert told["relations"] == "no; here are the defaults: change or delete rows, without any there are no wishes"
    assert {told[name] for name in TABLES} - {told["relations"]} == {"yes", "this or organizers", "this or tools", "no"}


def test_a_template_left_blank_names_the_tables_that_are_needed(run, blank):
    code, _, err = run("check", blank)
    assert code == 2
    assert [line.split(":")[1].split(",")[1] for line in err.splitlines()] == [" sheet drawers", " sheet tools"]


def test_a_template_tells_every_column_and_offers_the_words_to_choose_from(blank):
    book = openpyxl.load_workbook(blank)
    assert set(book.sheetnames) == {*TABLES, "guide"}
    told = {(row[0], row[2]) for row in book["guide"].iter_rows(min_row=2, values_only=True) if row[0]}
    assert told == {(name, cell.value) for name in TABLES for cell in book[name][1]}
    offered = {rule.formula1 for sheet in book for rule in sheet.data_validations.dataValidation}
    assert {'"metric,inch"', '"foam,no foam,blocked"', '"yes,no"', '"in,not in,apart,together,keep free"'} <= offered
    (kinds,) = [rule for rule in offered if "guide" in rule]
    place = kinds.removeprefix("guide!$").split("$")[0]
    words = [cell.value for cell in book["guide"][place][1:] if cell.value]
    assert words == list(KINDS)
    assert kinds.endswith(f"${len(words) + 1}")


@needs_office
@pytest.mark.slow
def test_libreoffice_opens_a_catalogue_and_reads_the_same_texts(run, tmp_path):
    run("check", FOLDER, "--out", tmp_path / "book.xlsx")
    sheets = office_rows(tmp_path / "book.xlsx", tmp_path)
    for name, frame in tables(FOLDER).items():
        assert sheets[name] == [list(frame.columns), *frame.to_numpy().tolist()], name
