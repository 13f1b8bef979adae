"""The commands as a planner types them: exit codes, JSON, files, faults."""

import csv
import json
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from matcher import planning
from matcher.studies import comparison
from tests.trays import DRAWERS

BUNDLED = Path(__file__).resolve().parents[1] / "data" / "workshop"


def test_exit_codes_follow_the_verdict(run, folder):
    assert run("plan", folder, "trays", "wide")[0] == 0
    assert run("plan", folder, "trays", "low")[0] == 1
    assert run("fit", folder, "trays", "wide")[0] == 0
    assert run("fit", folder, "trays")[0] == 1
    assert run("compare", folder, "trays")[0] == 0
    assert run("check", folder)[0] == 0


def test_plan_prints_one_json_document_with_all_it_promises(run, folder):
    code, out, err = run("plan", folder, "trays", "wide", "--json")
    document = json.loads(out)
    assert (code, err) == (0, "")
    assert {
        "set", "cabinet", "verdict", "fill", "placements", "free_drawers", "most_free", "fewest_free", "goals",
        "reasons", "cautions", "run",
    } <= set(document)  # fmt: skip
    assert [(p["group"], p["drawer"]) for p in document["placements"]] == [("tray a", "1"), ("tray b", "2")]
    assert document["free_drawers"] == ["3"]
    names = ["together", "drawers", "order", "neighbors", "recut", "reach"]
    assert [goal["name"] for goal in document["goals"]] == names
    assert {"version", "seed", "input_hash", "budgets"} <= set(document["run"])


def test_without_a_plan_the_lists_are_empty_and_the_reason_is_in_millimeters(run, folder):
    code, out, _ = run("plan", folder, "trays", "low", "--json")
    document = json.loads(out)
    assert code == 1
    assert (document["placements"], document["free_drawers"], document["most_free"]) == ([], [], None)
    assert {reason["short_mm"] for reason in document["reasons"]} == {50 + 3 - 40}
    assert {reason["scope"] for reason in document["reasons"]} == {"any layout"}


def test_compare_is_ranked_and_without_a_set_a_list(run, folder):
    document = json.loads(run("compare", folder, "trays", "--json")[1])
    assert document["set"] == "trays"
    assert [(v["cabinet"], v["verdict"], v["free_drawers"]) for v in document["variants"]] == [
        ("wide", "fits", 1),
        ("low", "does not fit", None),
    ]
    assert json.loads(run("compare", folder, "--json")[1]) == [document]


def test_compare_tells_its_run_as_plan_does(run, folder):
    wishes = ("--fill", "pack", "--pin", "tray a not in drawer 1")
    told = json.loads(run("compare", folder, "trays", *wishes, "--json")[1])["run"]
    assert told == json.loads(run("plan", folder, "trays", "wide", *wishes, "--json")[1])["run"]
    assert told["wishes"]["fill"] == "pack"


def pressed_at(cabinet, monkeypatch):
    """Ctrl-C while this cabinet is being planned."""
    real = comparison.answer

    def answer(question, **told):
        if question.cabinet.name == cabinet:
            raise KeyboardInterrupt
        return real(question, **told)

    monkeypatch.setattr(comparison, "answer", answer)


def test_a_comparison_that_is_stopped_tells_what_was_done(run, folder, monkeypatch):
    whole = run("compare", folder, "trays", "low")[1]
    pressed_at("wide", monkeypatch)
    code, out, _ = run("compare", folder, "trays")
    assert code == 130
    assert out == whole + "trays: stopped by hand after 1 of 2 cabinets; not planned: wide\n"
    code, out, err = run("compare", folder, "trays", "--json", "--out", folder / "new.html")
    assert (code, out) == (130, "")
    assert "trays: stopped by hand after 1 of 2 cabinets; not planned: wide" in err.splitlines()
    assert f"not written: {folder / 'new.html'}" in err.splitlines()
    assert not (folder / "new.html").exists()
    pressed_at("low", monkeypatch)
    assert (
        run("compare", folder, "trays")[1] == "trays: stopped by hand after 0 of 2 cabinets; not planned: low, wide\n"
    )


def test_a_fit_that_is_stopped_tells_what_was_found(run, folder, monkeypatch):
    whole = run("fit", folder, "trays", "low")[1]
    pressed_at("wide", monkeypatch)
    code, out, err = run("fit", folder, "trays", "--out", folder / "new.json")
    assert code == 130
    assert out == whole + "trays: stopped by hand after 1 of 2 cabinets; not planned: wide\n"
    assert err.splitlines() == [f"not written: {folder / 'new.json'}", "stopped"]
    assert not (folder / "new.json").exists()
    code, out, err = run("fit", folder, "trays", "--json")
    assert (code, out) == (130, "")
    assert err.splitlines() == ["trays: stopped by hand after 1 of 2 cabinets; not planned: wide", "stopped"]


def test_a_question_of_the_tape_that_is_stopped_tells_what_was_found(run, folder, monkeypatch):
    whole = run("fit", folder, "trays", "low", "--tolerance", "3")[1]
    real = planning.answer

    def pressed(question):
        if question.cabinet.name == "wide":
            raise KeyboardInterrupt
        return real(question)

    monkeypatch.setattr(planning, "answer", pressed)
    code, out, _ = run("fit", folder, "trays", "--tolerance", "3")
    assert (code, out) == (130, whole + "stopped by hand after 1 cabinet\n")


def test_a_fill_that_was_asked_for_is_told_like_other_wishes(run, folder):
    for command in (("plan", folder, "trays", "wide"), ("compare", folder, "trays")):
        assert "asked: as many free drawers as possible" in run(*command, "--fill", "pack")[1].splitlines()
        assert "asked:" not in run(*command)[1]


def test_compare_without_a_set_screens_all_pairs(run, folder, tmp_path):
    made = tmp_path / "made"
    made.mkdir()
    code, out, err = run("compare", folder, "--out", made / "pairs.csv", "--out", made / "pairs.parquet")
    assert (code, err) == (0, "")
    lines = [line.split() for line in out.splitlines() if line.strip()]
    assert [line for line in lines if len(line) == 2] == [["cabinet", "trays"], ["low", "no"], ["wide", "1"]]
    assert "2 pairs: fits 1, does not fit 1, undecided 0." in out
    with (made / "pairs.csv").open(encoding="utf-8", newline="") as stream:
        rows = {row["cabinet"]: row for row in csv.DictReader(stream)}
    assert (rows["low"]["verdict"], rows["low"]["scope"]) == ("does not fit", "any layout")
    assert (rows["wide"]["free_drawers"], rows["wide"]["as_is"]) == ("1", "2")
    assert run("compare", folder, "--workers", "1")[1] == out
    assert max(map(len, out.splitlines())) <= 80


def test_a_folder_of_somebody_else_where_parts_would_lie_is_bad_input(run, folder, tmp_path):
    notes = tmp_path / "pairs.csv.parts" / "notes.txt"
    notes.parent.mkdir()
    notes.write_text("mine")
    code, out, err = run("compare", folder, "--out", tmp_path / "pairs.csv")
    assert (code, out, len(err.splitlines())) == (2, "", 1)
    assert "pairs.csv.parts is in the way: it holds 'notes.txt'" in err
    assert notes.read_text() == "mine"


def test_the_same_input_gives_the_same_bytes(run, folder):
    assert run("plan", folder, "trays", "wide", "--json") == run("plan", folder, "trays", "wide", "--json")


NARROWED = {"set": ("Alder-64",), "cabinet": ("Glen-5", "Glen-7")}


def _narrowed(folder, order):
    """The bundled rows of one set and two cabinets, in another ``order``."""
    folder.mkdir()
    for file in BUNDLED.glob("*.csv"):
        header, *rows = csv.reader(file.read_text(encoding="utf-8").splitlines())
        kept = [
            row for row in rows if all(row[header.index(name)] in NARROWED[name] for name in NARROWED if name in header)
        ]
        if kept:
            with (folder / file.name).open("w", encoding="utf-8", newline="") as stream:
                csv.writer(stream).writerows([header, *order(kept)])
    return folder


def _without_hash(document):
    return re.sub(r'"input_hash": "\w+"', "", document)


def test_the_order_of_rows_changes_nothing_but_the_input_hash(run, tmp_path):
    given = _narrowed(tmp_path / "given", list)
    turned = _narrowed(tmp_path / "turned", lambda rows: rows[::-1])
    hashes = {run("check", folder, "--json")[1].rpartition("input_hash")[2] for folder in (given, turned)}
    assert len(hashes) == 2, "the hash tells the files apart"
    for command, *names in (["plan", "Alder-64", "Glen-7"], ["compare", "Alder-64"], ["compare"], ["offer"]):
        one, other = (run(command, folder, *names, "--json") for folder in (given, turned))
        assert one[0] == other[0] == 0
        assert _without_hash(one[1]) == _without_hash(other[1])


def test_results_are_written_by_suffix(run, folder, tmp_path):
    code, _, _ = run("plan", folder, "trays", "wide", "--out", tmp_path / "p.json", "--out", tmp_path / "p.csv")
    assert code == 0
    assert json.loads((tmp_path / "p.json").read_text(encoding="utf-8"))["verdict"] == "fits"
    with (tmp_path / "p.csv").open(encoding="utf-8", newline="") as stream:
        assert [row["drawer"] for row in csv.DictReader(stream)] == ["1", "2"]


def test_a_pin_is_given_as_words(run, folder):
    document = json.loads(run("plan", folder, "trays", "wide", "--json", "--pin", "tray a in drawer 3")[1])
    assert {p["group"]: p["drawer"] for p in document["placements"]}["tray a"] == "3"
    assert run("plan", folder, "trays", "wide", "--pin", "tray a in drawer 3", "--pin", "keep row 3 free")[0] == 1


def test_a_comparison_tells_the_wishes_it_answers(run, folder):
    told = run("compare", folder, "trays", "wide", "--pin", "tray a in drawer 3")[1]
    assert "asked: tray a in drawer 3" in told.splitlines()


def test_an_organizer_is_drawn_true_to_scale(run, folder, tmp_path):
    assert run("plan", folder, "trays", "wide", "--group", "tray b", "--out", tmp_path / "b.svg")[0] == 0
    drawing = ElementTree.parse(tmp_path / "b.svg").getroot()
    foam = next(shape for shape in drawing.iter() if shape.get("class") == "foam")
    assert (foam.get("width"), foam.get("height")) == ("550", "390")


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (["plan", "{}", "trays", "wide", "--pin", "tray a in drawer 9"], "the drawers are: 1, 2, 3"),
        (["plan", "{}", "trays", "wide", "--pin", "tray c in drawer 1"], "the set has: tray a, tray b"),
        (["plan", "{}", "trays", "wide", "--pin", "tray a on top"], "expected one of"),
        (["plan", "{}", "trays+trays", "wide"], "'trays' twice"),
        (["plan", "{}", "trays", "wide", "--group", "tray a"], "name the drawing with --out"),
        (["plan", "{}", "trays", "wide", "--sheet", "--estimates"], "ask one"),
        (["plan", "{}", "trays", "wide", "--tolerance", "0", "--alternatives", "2"], "ask one"),
        (["plan", "{0}", "trays", "wide", "--out", "{0}/drawers.csv"], "would be read as part of"),
        (["plan", "{}", "trays", "wide", "--group", "none", "--out", "{}/b.svg"], "no such group"),
        (["plan", "{}", "trays", "none"], "no cabinet 'none'"),
        (["plan", "{}", "none", "wide"], "no set 'none'"),
        (["plan", "{}/gone", "trays", "wide"], "gone"),
        (["plan", "{}", "trays", "wide", "--out", "plan.txt"], "expected a name ending in"),
        (["plan", "{}", "trays", "wide", "--out", "{}/none/plan.json"], "does not exist"),
        (["plan", "{}", "trays", "wide", "--fill", "most"], "error: --fill 'most': expected spread or pack"),
        (["plan", "{}", "trays", "wide", "--house", "{}/none.toml"], "error: none.toml: 'No such file"),
        (["compare", "{}", "trays", "--reference", "low"], "no plan"),
        (["compare", "{}", "--workers", "0"], "expected a whole number from 1"),
        (["compare", "{}", "--workers", "2", "--scheduler", "127.0.0.1:8786"], "give one of them"),
        (["compare", "{}", "--scheduler", "nowhere"], "no Dask scheduler answers"),
        (["compare", "{}", "--out", "{}"], "expected a name ending in"),
        (["compare", "{}", "--out", "{}/none/pairs.csv"], "does not exist"),
        (["compare", "{}", "trays", "--out", "{}/pairs.parquet"], "expected a name ending in"),
        (["compare", "{}", "--fill", "most"], "error: --fill 'most': expected spread or pack"),
        (["check"], "CATALOGUE"),
        (["plan", "{}"], "SET"),
    ],
)
def test_bad_usage_is_one_clear_line_and_exit_code_2(run, folder, words, expected):
    code, out, err = run(*(word.format(folder) for word in words))
    assert code == 2
    assert out == ""
    assert expected in err
    assert "Traceback" not in err


def test_a_refused_catalogue_names_every_bad_cell_and_writes_nothing(run, folder, tmp_path):
    (folder / "drawers.csv").write_text(DRAWERS.replace("560,400,40", "-5,many,40"), encoding="utf-8")
    code, out, err = run("plan", folder, "trays", "wide", "--out", tmp_path / "p.json")
    assert (code, out) == (2, "")
    assert len(err.strip().splitlines()) == 2
    assert "drawers.csv, row 5, column inside_width_mm: '-5'" in err
    assert not (tmp_path / "p.json").exists()


@pytest.mark.parametrize(
    "asked",
    [
        ["plan", "trays", "wide"],
        ["plan", "trays", "wide", "--tolerance", "3"],
        ["plan", "trays", "wide", "--estimates"],
        ["fit", "trays", "wide"],
        ["fit", "trays", "wide", "--sheet"],
        ["compare", "trays"],
    ],
)
def test_what_cannot_be_written_prints_no_answer(run, folder, tmp_path, asked):
    # Exit 2 prints no document: a script that reads standard output must not take it for done.
    (tmp_path / "taken.json").mkdir()
    code, out, err = run(asked[0], folder, *asked[1:], "--json", "--out", tmp_path / "taken.json")
    assert (code, out) == (2, "")
    assert "cannot be written" in err


def test_kinds_are_listed_with_what_they_need(run):
    kinds = {row["kind"]: row["needs"] for row in json.loads(run("check", "--kinds", "--json")[1])["kinds"]}
    assert "drive" in kinds["ratchet"]
    assert {"length", "width", "height"} <= set(kinds["other"])


def test_help_needs_no_solver():
    # Help must answer at once: neither the solver nor pandas may be imported for it.
    script = (
        "import sys; sys.argv = ['matcher', '--help']\n"
        "from matcher.__main__ import main\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "sys.exit(any(name in sys.modules for name in ('ortools', 'pandas', 'shapely', 'numpy')))"
    )
    assert subprocess.run([sys.executable, "-c", script], capture_output=True, check=False).returncode == 0


def test_every_command_and_option_has_help(run):
    for command in ("check", "fit", "plan", "compare"):
        code, out, _ = run(command, "--help")
        assert code == 0
        assert "?" in out
