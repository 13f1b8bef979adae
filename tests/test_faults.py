"""When this program fails, a disk is full or nobody reads on: exit code, one line, and no other answer is lost."""

import csv
import io
import json
import os
import resource
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from openpyxl import load_workbook

from matcher import catalogue, planning
from matcher.catalogue.reading import read_catalogue
from matcher.planning import answering
from matcher.records.errors import FAULT, BrokenPlanError, UsageError, or_fault
from matcher.screening import pair_verdicts as deciding
from matcher.screening.crews import crew_of
from matcher.screening.hands import gathered
from matcher.studies import comparison
from matcher.studies.comparison import compare
from tests.builders import HOUSE

FULL = Path("/dev/full")
needs_full = pytest.mark.skipif(not FULL.exists(), reason="this system has no device that is always full")


@pytest.fixture
def made(tmp_path):
    """A folder for results."""
    (tmp_path / "made").mkdir()
    return tmp_path / "made"


def asked_of(question, *_):
    return question.cabinet.name


def fails_on(cabinet, monkeypatch, module, name, cabinet_of=asked_of):
    """The function fails where its arguments are about this cabinet."""
    real = getattr(module, name)

    def failing(*given, **more):
        if cabinet_of(*given) == cabinet:
            raise BrokenPlanError("two organizers\noverlap")
        return real(*given, **more)

    monkeypatch.setattr(module, name, failing)


def only_line(err):
    (line,) = err.splitlines()
    assert line.startswith("error: ")
    assert FAULT in line
    assert "BrokenPlanError: two organizers overlap" in line
    return line


def test_a_fault_of_the_program_is_one_line_and_no_verdict(run, folder, monkeypatch):
    fails_on("wide", monkeypatch, planning, "answer")
    code, out, err = run("plan", folder, "trays", "wide")
    assert (code, out) == (70, "")
    assert only_line(err).startswith(f"error: {FAULT}: ")
    assert run("plan", folder, "trays", "low")[0] == 1


def test_where_a_fault_comes_from_is_told(monkeypatch, run, folder):
    monkeypatch.setattr(answering, "verify", lambda *_: {}["gone"])
    code, _, err = run("plan", folder, "trays", "wide")
    assert code == 70
    assert err.startswith(f"error: {FAULT}: KeyError: 'gone' (planning/answering.py, line ")


@pytest.mark.parametrize("command", ["fit", "compare"])
def test_a_fault_in_one_cabinet_loses_no_other(run, folder, made, monkeypatch, command):
    healthy = json.loads(run(command, folder, "trays", "low", "--json")[1])
    plain = run(command, folder, "trays", "low")[1]
    fails_on("wide", monkeypatch, comparison, "answer")
    files = [made / f"made.{suffix}" for suffix in ("json", "csv", "xlsx")]
    code, out, err = run(command, folder, "trays", *(word for file in files for word in ("--out", file)))
    assert code == 70
    assert "wide: " in only_line(err)
    *lines, last = plain.splitlines()
    hint = last.startswith("--why")
    assert out.splitlines() == [
        *lines,
        *([] if hint else [last]),
        f"wide: no answer, by {FAULT}",
        *([last] if hint else []),
    ]
    document = json.loads(files[0].read_text(encoding="utf-8"))
    assert json.loads(run(command, folder, "trays", "--json")[1]) == document
    answered, faults = (document[:-1], document[-1:]) if command == "fit" else (document, document["faults"])
    assert answered == (healthy if command == "fit" else healthy | {"faults": faults})
    assert [(one["cabinet"], one["verdict"]) for one in faults] == [("wide", None)]
    assert "two organizers overlap" in faults[0]["fault"]
    rows = list(csv.DictReader(io.StringIO(files[1].read_text(encoding="utf-8"))))
    assert [(row["cabinet"], row["verdict"]) for row in rows] == [("low", "does not fit"), ("wide", "")]
    assert FAULT in rows[1]["reasons"]
    sheet = load_workbook(files[2]).worksheets[0]
    titles = [cell.value for cell in sheet[1]]
    told = [dict(zip(titles, row, strict=True)) for row in sheet.iter_rows(min_row=2, values_only=True)]
    assert [(row["cabinet"], row["verdict"]) for row in told] == [("low", "does not fit"), ("wide", None)]


def test_a_page_names_the_cabinet_without_an_answer(run, folder, made, monkeypatch):
    fails_on("wide", monkeypatch, comparison, "answer")
    assert run("compare", folder, "trays", "--out", made / "made.html")[0] == 70
    page = (made / "made.html").read_text(encoding="utf-8")
    assert 'data-cabinet="low"' in page
    assert "<bdi>wide</bdi>: <strong>no answer</strong>" in page
    assert "two organizers overlap" in page


def test_where_every_cabinet_fails_each_is_named(run, folder, made, monkeypatch):
    monkeypatch.setattr(comparison, "answer", lambda *_: 1 // 0)
    for command, suffixes in (("fit", ("csv", "xlsx")), ("compare", ("csv", "xlsx", "html"))):
        files = [word for suffix in suffixes for word in ("--out", made / f"{command}.{suffix}")]
        code, _, err = run(command, folder, "trays", *files)
        assert code == 70
        assert ["ZeroDivisionError" in line for line in err.splitlines()] == [True, True]
        assert len((made / f"{command}.csv").read_text(encoding="utf-8").splitlines()) == 3


def test_a_fault_with_a_tape_at_hand_loses_no_other(run, folder, monkeypatch):
    healthy = run("fit", folder, "trays", "low", "--tolerance", "3")[1]
    fails_on("wide", monkeypatch, planning, "answer")
    code, out, err = run("fit", folder, "trays", "--tolerance", "3")
    assert (code, out) == (70, healthy + f"wide: no answer, by {FAULT}\n")
    assert only_line(err).startswith("error: wide: ")
    document = json.loads(run("fit", folder, "trays", "--tolerance", "3", "--json")[1])
    assert [one["cabinet"] for one in document] == ["low", "wide"]


def test_a_fault_among_many_pairs_loses_no_other(run, folder, made, monkeypatch):
    fails_on("wide", monkeypatch, deciding, "figures", lambda book, board, units: board.cabinet.name)
    code, out, err = run("compare", folder, "--out", made / "pairs.csv")
    assert code == 70
    assert "2 pairs: fits 0, does not fit 1, undecided 1." in out
    assert only_line(err).startswith("error: trays in wide: ")
    rows = {
        row["cabinet"]: row for row in csv.DictReader(io.StringIO((made / "pairs.csv").read_text(encoding="utf-8")))
    }
    assert rows["low"]["verdict"] == "does not fit"
    assert (rows["wide"]["verdict"], rows["wide"]["decided_by"], rows["wide"]["scope"]) == ("undecided", "fault", "")
    assert FAULT in rows["wide"]["reason"]


def damaged(known, name):
    """The catalogue with a cabinet as no file can give it, on which planning fails in whatever process."""
    return replace(
        known,
        cabinets=tuple(
            replace(one, drawers=tuple(replace(drawer, inside_width=None) for drawer in one.drawers))
            if one.name == name
            else one
            for one in known.cabinets
        ),
    )


def test_a_fault_in_another_process_loses_no_other(folder):
    known = damaged(read_catalogue(folder), "wide")
    alone = compare(known, HOUSE, "trays")
    with gathered(crew_of(2)) as hands:
        spread = compare(known, HOUSE, "trays", hands=hands)
    assert spread == alone
    assert [variant.outcome.cabinet for variant in spread.variants] == ["low"]
    assert [fault.cabinet for fault in spread.faults] == ["wide"]
    assert "TypeError" in spread.faults[0].text


def test_processes_give_the_exit_code_of_a_fault(run, folder, monkeypatch):
    known = damaged(read_catalogue(folder), "wide")
    monkeypatch.setattr(catalogue, "read_catalogue", lambda _: known)
    code, out, err = run("compare", folder, "trays", "--workers", "2")
    assert code == 70
    assert "low      does not fit" in out
    told = [line for line in err.splitlines() if " s: " not in line]
    assert len(told) == 1, "but for lines of progress, which a busy machine may bring"
    assert told[0].startswith("error: trays in wide: ")


def test_what_the_user_can_put_right_is_no_fault_of_the_program():
    def refused(error):
        raise error

    for error in (UsageError("two wishes"), OSError(28, "No space left on device")):
        with pytest.raises(type(error)):
            or_fault("wide", lambda error=error: refused(error))


# ------------------------------------------------------------------------------------------------------- full or closed


def matcher(*words, **how):
    """The command in a process of its own; its exit code and standard error."""
    told = subprocess.run(
        [sys.executable, "-m", "matcher", *map(str, words)], stderr=subprocess.PIPE, text=True, check=False, **how
    )
    return told.returncode, told.stderr


@needs_full
@pytest.mark.parametrize("words", [["check", "{}"], ["check", "{}", "--json"], ["--help"]])
def test_a_full_disk_under_standard_output_is_one_line(folder, words):
    with FULL.open("w") as full:
        code, err = matcher(*(word.format(folder) for word in words), stdout=full)
    assert code == 2
    assert err.startswith("error: ")
    assert err.count("\n") == 1
    assert "No space left on device" in err


@pytest.mark.parametrize("words", [["check", "{}"], ["check", "{}", "--json"], ["plan", "{}", "trays", "low"]])
def test_standard_output_that_nobody_reads_is_one_line(folder, words):
    ours, theirs = os.pipe()
    os.close(ours)
    code, err = matcher(*(word.format(folder) for word in words), stdout=theirs)
    os.close(theirs)
    assert (code, err) == (2, "error: standard output cannot be written: Broken pipe\n")


def test_help_that_nobody_reads_is_no_verdict():
    ours, theirs = os.pipe()
    os.close(ours)
    code, err = matcher("--help", stdout=theirs)
    os.close(theirs)
    assert (code, err) == (2, "")


def test_standard_output_that_is_closed_is_one_line(folder):
    code, err = matcher("check", folder, preexec_fn=lambda: os.close(1))
    assert (code, err) == (2, "error: standard output is closed: nothing can be printed\n")


def test_standard_error_that_is_full_or_closed_changes_no_exit_code(folder):
    words = [sys.executable, "-m", "matcher", "plan", str(folder), "trays"]
    for cabinet, code in (("low", 1), ("none", 2)):
        closed = subprocess.run(
            [*words, cabinet], stdout=subprocess.DEVNULL, preexec_fn=lambda: os.close(2), check=False
        )
        assert closed.returncode == code
        if FULL.exists():
            with FULL.open("w") as full:
                done = subprocess.run([*words, cabinet], stdout=subprocess.DEVNULL, stderr=full, check=False)
            assert done.returncode == code


def test_a_disk_that_is_full_is_the_users_to_put_right(folder, made):
    """A limit on the size of files stands for the full disk: writing fails in the same way."""
    for suffix in ("json", "xlsx", "html", "pdf"):
        code, err = matcher(
            "plan", folder, "trays", "wide", "--out", made / f"plan.{suffix}", stdout=subprocess.DEVNULL,
            preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100)),
        )  # fmt: skip
        assert code == 2, err
        assert err.startswith("error: ")
        assert err.count("\n") == 1
        assert list(made.iterdir()) == []
