"""Errors and warnings stand in words wherever an answer, a list or a drawing is taken away; codes are explained."""

import ast
import csv
import io
import json
import re
from dataclasses import replace
from pathlib import Path

import ezdxf
import openpyxl
import pytest
from rich.console import Console

from matcher.cautions.codes import CODES, SHORT
from matcher.cutting.jobs import cut
from matcher.cutting.setup import HAND_CAUTIONS
from matcher.planning.answering import plan
from matcher.records.answered import Caution
from matcher.records.units import kg
from matcher.report.caution_views import fleet_cautions
from matcher.report.cut_files import cut_dxf, cut_svg
from matcher.report.cut_sheets import READ_FIRST, cut_caution, cut_document, cut_rows, cut_view
from matcher.report.frames import caution_table, comparison_table
from matcher.studies.comparison import compare
from matcher.studies.measuring_sheet import ONE_AT_A_TIME
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer
from tests.cutting_cases import example, without_plan

ROOT = Path(__file__).resolve().parents[1]
DRAWERS = """\
cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm,load_rating_kg
weak,1,1,1,560,400,100,5
strong,1,1,1,560,400,100,50
"""
ORGANIZERS = """\
set,group,width_mm,depth_mm,height_mm,mass_kg
trays,tray,556,396,50,4.5
"""
SENTENCE = "Drawer 1 carries 4.5 kg, 90% of its rating of 5.0 kg"


def words(text: str) -> str:
    return " ".join(text.split())


@pytest.fixture
def trays(tmp_path):
    folder = tmp_path / "trays"
    folder.mkdir()
    (folder / "drawers.csv").write_text(DRAWERS, encoding="utf-8")
    (folder / "organizers.csv").write_text(ORGANIZERS, encoding="utf-8")
    return folder


def test_every_code_that_is_given_is_explained_and_no_other():
    given = {
        ast.literal_eval(node.args[0])
        for path in (ROOT / "matcher" / "cautions").glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Caution"
    }
    assert given == CODES.keys() == SHORT.keys()


def test_the_readme_explains_the_codes_by_the_same_words():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    table = readme.partition("## Codes")[2].partition("\n\nReasons")[0]
    assert dict(re.findall(r"^\| `([\w-]+)` \| (.+) \|$", table, re.MULTILINE)) == dict(CODES)


def test_the_readme_explains_the_codes_of_reasons():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    told = readme.partition("Reasons of a refusal:")[2].partition("\n\n")[0]
    given = {
        ast.literal_eval(node.args[0])
        for path in (ROOT / "matcher" / "planning").glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Reason" and node.args
    }
    assert given == set(re.findall(r"`([\w-]+)`", told))


@pytest.mark.parametrize("command", ["fit", "compare"])
def test_fit_and_compare_tell_them_in_every_form(run, trays, tmp_path, command):
    paths = {suffix: tmp_path / f"made.{suffix}" for suffix in ("json", "csv", "xlsx")}
    _, out, _ = run(command, trays, "trays", *(word for path in paths.values() for word in ("--out", path)))
    assert "! LOAD-D" in out
    assert "in weak" in words(out)
    assert "in strong" not in words(out).partition("LOAD-D")[2].partition("!")[0]
    assert SENTENCE in words(out) or CODES["LOAD-D"] in words(out)
    document = json.loads(paths["json"].read_text(encoding="utf-8"))
    rows = document["variants"] if command == "compare" else document
    told = {row["cabinet"]: [one["text"] for one in row["cautions"] if one["code"] == "LOAD-D"] for row in rows}
    assert told["weak"][0].startswith(SENTENCE)
    assert told["strong"] == []
    lines = {row["cabinet"]: row for row in csv.DictReader(io.StringIO(paths["csv"].read_text(encoding="utf-8")))}
    assert f"caution LOAD-D: {SENTENCE}" in lines["weak"]["cautions"]
    sheet = openpyxl.load_workbook(paths["xlsx"])["cautions"]
    assert any(SENTENCE in str(cell) for row in sheet.values for cell in row)


def test_errors_are_told_in_full_and_compare_tells_warnings_so_on_request(run, trays):
    (trays / "organizers.csv").write_text(ORGANIZERS.replace("4.5", "4.9"), encoding="utf-8")
    assert "98% of its rating" not in words(run("compare", trays, "trays")[1])
    assert "98% of its rating" in words(run("compare", trays, "trays", "--why")[1])


def test_a_sentence_said_of_many_cabinets_is_told_once():
    boxes = [cabinet(drawer("1", load_rating=kg(5), cabinet=name), name=name) for name in "abcdef"]
    known = catalogue(organizers=[organizer("tray", mass=kg(4.5))], cabinets=boxes)
    outcomes = [plan(known, HOUSE, "set", name) for name in "abcdef"]
    (line,) = [line.plain for line in fleet_cautions(outcomes, why=True) if "LOAD-D" in line.plain]
    assert line.startswith("! LOAD-D: in all 6 cabinets that hold it: Drawer 1 carries 4.5 kg")
    broken = replace(outcomes[0], cautions=(Caution("LOAD-D", "error", "Drawer 1 breaks."),))
    told = [line.plain for line in fleet_cautions([broken, *outcomes[1:]])]
    assert told[0] == "!! LOAD-D: in a: Drawer 1 breaks."
    assert told[1].startswith(f"! LOAD-D: {CODES['LOAD-D']}: in all cabinets that hold it but a")


def test_the_rows_of_a_plan_carry_them(run, trays, tmp_path):
    run("plan", trays, "trays", "weak", "--out", tmp_path / "plan.csv")
    (row,) = csv.DictReader(io.StringIO((tmp_path / "plan.csv").read_text(encoding="utf-8")))
    assert f"caution LOAD-D: {SENTENCE}" in row["cautions"]


def test_frames_for_notebooks_carry_them():
    known = catalogue(organizers=[organizer("tray", mass=kg(4.5))], cabinets=[cabinet(drawer("1", load_rating=kg(5)))])
    comparison = compare(known, HOUSE, "set")
    assert "90% of its rating" in comparison_table(comparison)["cautions"][0]
    table = caution_table(comparison.variants[0].outcome)
    assert list(table.columns) == ["code", "level", "text"]
    assert set(table["level"]) == {"caution", "info"}


def test_the_measuring_sheet_asks_for_one_drawer_at_a_time(run, trays, tmp_path):
    _, out, _ = run("plan", trays, "trays", "weak", "--sheet", "--out", tmp_path / "sheet.csv")
    assert ONE_AT_A_TIME in words(out)
    rows = list(csv.DictReader(io.StringIO((tmp_path / "sheet.csv").read_text(encoding="utf-8"))))
    assert rows
    assert {row["caution"] for row in rows} == {ONE_AT_A_TIME}


# ----------------------------------------------------------------------------------------------------------- cutting


def test_drawings_and_lists_that_foam_is_cut_from_carry_a_line():
    made = example()
    assert cut_caution(made) == READ_FIRST
    assert READ_FIRST in words(cut_svg(made)).replace("&#x27;", "'")
    (text,) = [
        one.dxf.text
        for one in ezdxf.read(io.StringIO(cut_dxf(made))).modelspace().query("TEXT")
        if one.dxf.layer == "CAUTION"
    ]
    assert text == READ_FIRST
    assert [row["caution"] for row in cut_rows(made)] == [READ_FIRST]


def test_the_line_names_errors_of_the_plan_and_the_answer_tells_them():
    sound = example()
    outcome = replace(sound.outcome, cautions=(Caution("LOAD-D", "error", "Drawer 1 breaks."),))
    made = replace(sound, outcome=outcome)
    assert cut_caution(made) == f"{READ_FIRST} The plan has 1 error: LOAD-D."
    assert cut_document(made)["cautions"] == [{"code": "LOAD-D", "level": "error", "text": "Drawer 1 breaks."}]
    console = Console(width=100, file=io.StringIO())
    console.print(cut_view(made))
    assert "!! LOAD-D: Drawer 1 breaks." in console.file.getvalue()


def test_knife_and_adhesive_are_told_at_the_machine_and_to_who_only_trims_by_hand():
    made = example()
    assert made.refits
    assert {caution.partition(":")[0] for caution in HAND_CAUTIONS} == {"Knife", "Adhesive"}
    assert set(HAND_CAUTIONS) <= set(made.work_cautions)
    by_hand = replace(made, jobs=())
    assert by_hand.work_cautions == HAND_CAUTIONS
    assert cut_document(made)["work_cautions"] == list(made.work_cautions)
    assert cut(without_plan()).work_cautions == ()
