"""How much a verdict rests on estimates is told alike in terminal, page, JSON, CSV and workbook; never to a buyer."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import openpyxl
import pypdf
import pytest
from lxml import html

from matcher.catalogue.reading import read_catalogue
from matcher.records.units import to_mm

BUNDLED = Path(__file__).resolve().parents[1] / "data" / "workshop"
PAIR = (BUNDLED, "Alder-64", "Glen-7")
COUNTS = ("measured", "from_standard", "estimated")


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("told")


@pytest.fixture
def told(run, folder):
    """The plan of a bundled pair in every form, made once."""
    files = [folder / f"plan.{suffix}" for suffix in ("json", "csv", "xlsx", "html", "pdf")]
    if not files[0].exists():
        code, out, _ = run("plan", *PAIR, *(word for file in files for word in ("--out", file)))
        assert code == 0
        (folder / "plan.txt").write_text(out)
    return folder


def pieces(folder):
    """Pieces of the pair by basis, counted from the list of sizes."""
    basis = json.loads((folder / "plan.json").read_text())["basis"]
    assert basis["pieces"] == 64
    assert basis["estimated"] > 0
    return basis


def line(basis):
    measured, standard, estimated = (basis[name] for name in ("measured", "from standard", "estimated"))
    return f"64 pieces: {measured} measured, {standard} from standard, {estimated} estimated"


def printed(folder):
    """The words of the page that are printed: all but those of sections for the screen only."""
    page = html.fromstring((folder / "plan.html").read_text())
    for section in page.xpath("//main//*[contains(concat(' ', @class, ' '), ' screen ')]"):
        section.drop_tree()
    return " ".join(page.xpath("//main")[0].text_content().split())


def test_the_counts_are_those_of_the_list_of_sizes(run, told):
    listed = json.loads(run("check", BUNDLED, "--sizes", "Alder-64", "--json")[1])
    assert listed["basis"] == pieces(told)


def test_every_form_tells_the_counts(told):
    basis = pieces(told)
    assert f"basis: {line(basis)}" in (told / "plan.txt").read_text()
    assert line(basis) in " ".join((told / "plan.html").read_text().split())
    assert line(basis) in printed(told)
    rows = list(csv.DictReader(io.StringIO((told / "plan.csv").read_text())))
    assert [sum(int(row[name]) for row in rows) for name in COUNTS] == [
        basis[name.replace("_", " ")] for name in COUNTS
    ]
    answer = dict(openpyxl.load_workbook(told / "plan.xlsx")["answer"].iter_rows(min_row=2, values_only=True))
    assert {name: answer[f"basis {name}"] for name in basis} == basis


def test_every_form_that_tells_cautions_tells_that_sizes_and_shapes_are_estimated(told):
    (caution,) = [one for one in json.loads((told / "plan.json").read_text())["cautions"] if one["code"] == "basis"]
    words = "and check the shape too, which is drawn as common for the kind: print the full-size check."
    assert caution["text"].endswith(words)
    (cell,) = [row for row in openpyxl.load_workbook(told / "plan.xlsx")["cautions"].values if row[0] == "basis"]
    assert caution["text"] in cell
    for text in (
        (told / "plan.txt").read_text(),
        (told / "plan.html").read_text(),
        printed(told),
    ):
        assert words.split(": ")[1] in " ".join(text.split())


def test_the_buyer_s_guide_says_nothing_of_estimates_or_of_what_is_not_given(told):
    guide = " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(told / "plan.pdf").pages).split())
    assert "64 pieces in 6 drawers" in guide
    for word in ("estimate", "measured", "standard,", "not given", "caliper", "not evaluated"):
        assert word not in guide


def test_fit_and_compare_tell_the_counts_in_their_tables(run, tmp_path):
    one, two = PAIR[1:]
    assert run("fit", BUNDLED, one, two, "--out", tmp_path / "fit.xlsx", "--out", tmp_path / "fit.csv")[0] == 0
    head, row = openpyxl.load_workbook(tmp_path / "fit.xlsx")["cabinets"].values
    cells = dict(zip(head, row, strict=True))
    (told,) = csv.DictReader(io.StringIO((tmp_path / "fit.csv").read_text()))
    assert cells["pieces"] == int(told["pieces"]) == 64
    assert [cells[name.replace("_", " ")] for name in COUNTS] == [int(told[name]) for name in COUNTS]
    document = json.loads(run("compare", BUNDLED, one, two, "--json")[1])["variants"][0]
    assert [document[name] for name in COUNTS] == [int(told[name]) for name in COUNTS]


def under_tools(plan):
    """Area of all drawers under tools and their webs, in mm²."""
    (cabinet,) = [one for one in read_catalogue(BUNDLED).cabinets if one.name == plan["cabinet"]]
    areas = {box.name: to_mm(box.inside_width) * to_mm(box.inside_depth) for box in cabinet.drawers}
    return sum(row["fill_share"] * areas[row["drawer"]] for row in plan["margins"])


def test_with_the_greatest_sizes_pockets_grow_and_the_basis_stays_what_it_is(run, told, tmp_path):
    """`[pocket] estimates = "high"` on a bundled pair, from the house file to the plan."""
    house = (BUNDLED / "house.toml").read_text()
    assert "[pocket]" not in house
    (tmp_path / "house.toml").write_text(f'{house}\n[pocket]\nestimates = "high"\n')
    code, out, _ = run("plan", *PAIR, "--house", tmp_path / "house.toml", "--out", tmp_path / "high.json")
    assert code == 0
    likely, high = (json.loads(file.read_text()) for file in (told / "plan.json", tmp_path / "high.json"))
    assert high["basis"] == likely["basis"]
    assert f"basis: {line(high['basis'])}" in out
    (caution,) = [one["text"] for one in high["cautions"] if one["code"] == "basis"]
    assert "pockets take the greatest" in caution
    assert under_tools(high) > 1.1 * under_tools(likely)
    listed = json.loads(run("check", BUNDLED, "--sizes", "Alder-64", "--house", tmp_path / "house.toml", "--json")[1])
    assert listed["pockets_take"] == "the greatest sizes"


def test_what_to_measure_tells_each_piece_s_own_bounds(run, tmp_path):
    """A pry bar of 200 mm in a drawer for a little more: 5 % less to 8 % more by the rule for nominal lengths."""
    (tmp_path / "tools.csv").write_text("set,tool,kind,count,size,mass_kg\nS,pry bar 200,pry bar,1,200 mm,0.2\n")
    (tmp_path / "drawers.csv").write_text(
        "cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm\nc,1,1,1,232,90,70\n"
    )
    out = " ".join(run("plan", tmp_path, "S", "c", "--estimates")[1].split())
    (row,) = json.loads(run("plan", tmp_path, "S", "c", "--estimates", "--json")[1])["measure"]
    assert (row["least_length_mm"], row["likely_length_mm"], row["greatest_length_mm"]) == (190, 200, 216)
    assert "likely sizes, below them the least and the greatest that each may be by its own rule" in out
    assert "190-216" in out
