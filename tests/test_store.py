"""What earlier runs worked out changes the time that an answer takes, and nothing else."""

import json
import os
import random
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matcher.assignment import Assignment, Bounds, Divided, GoalValue
from matcher.catalogue import read_catalogue
from matcher.layout import curve
from matcher.layout.kept_curves import _in_words, _name, recalled_points
from matcher.layout.poses import rules_for
from matcher.planning import plan
from matcher.planning.kept_answers import recalled_assignment, recalled_division, recalled_verdict
from matcher.planning.question import ask
from matcher.records import Pin, Snapshot
from matcher.records.memory import Memory
from matcher.records.store import Store, keep_in, store_in_force
from matcher.report import json_text, plan_document
from tests.builders import HOUSE
from tests.generated import catalogue

WORKSHOP = Path(__file__).parents[1] / "data" / "workshop"
KEPT = bytes(range(24))


@pytest.fixture
def store(tmp_path):
    """A store in force for one test."""
    before = store_in_force()
    keep_in(tmp_path / "kept")
    yield Store(tmp_path / "kept")
    keep_in(before and before.folder)


def groups():
    known = catalogue(11, sets=1, cabinets=1)
    return ask(known, HOUSE, known.pieces[0].set, known.cabinets[0].name).groups


def curves():
    with Memory():
        return [curve(group, HOUSE) for group in groups()]


def test_what_is_kept_is_read_back(tmp_path):
    held = Store(tmp_path)
    held.write("ab12", KEPT)
    held.write("ab13", b"")
    assert Store(tmp_path).read("ab12") == KEPT
    assert Store(tmp_path).read("ab13") == b""
    assert held.read("ab14") is None
    assert held.extent().answers == 2


@given(at=st.integers(0, 39), bit=st.integers(0, 7))
def test_a_file_with_one_wrong_bit_counts_as_none(tmp_path_factory, at, bit):
    held = Store(tmp_path_factory.mktemp("kept"))
    held.write("ab12", KEPT)
    (path,) = (path for path in held.folder.rglob("*") if path.is_file())
    broken = bytearray(path.read_bytes())
    broken[at] ^= 1 << bit
    path.write_bytes(broken)
    assert held.read("ab12") is None


def test_an_array_under_another_name_counts_as_none(tmp_path):
    held = Store(tmp_path)
    held.write("ab12", KEPT)
    (tmp_path / "ab" / "12").rename(tmp_path / "ab" / "13")
    assert held.read("ab13") is None


@pytest.mark.parametrize("cut", [0, 1, 15, 16, 17, 39])
def test_a_torn_file_counts_as_none(tmp_path, cut):
    held = Store(tmp_path)
    held.write("ab12", KEPT)
    path = tmp_path / "ab" / "12"
    path.write_bytes(path.read_bytes()[:cut])
    assert held.read("ab12") is None


def test_a_folder_that_cannot_be_written_keeps_nothing(tmp_path):
    (tmp_path / "kept").write_text("a file where the folder should be")
    held = Store(tmp_path / "kept")
    held.write("ab12", KEPT)
    assert held.read("ab12") is None
    assert held.extent().answers == 0


def test_a_full_disk_keeps_nothing_and_leaves_no_half_file(tmp_path, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    held = Store(tmp_path)
    monkeypatch.setattr(Path, "replace", full)
    held.write("ab12", KEPT)
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_no_more_is_kept_than_may_be_and_what_was_asked_for_last_stays(tmp_path):
    held = Store(tmp_path, most_bytes=40 * 50)
    for number in range(100):
        held.write(f"{number:04x}", KEPT)
        os.utime(held._path(f"{number:04x}"), (number, number))
    held.prune()
    assert held.extent().bytes <= 40 * 50
    assert held.read(f"{99:04x}") is not None
    assert held.read(f"{0:04x}") is None


def test_two_runs_may_write_the_same_at_once(tmp_path):
    with ThreadPoolExecutor(8) as pool:
        list(pool.map(lambda _: Store(tmp_path).write("ab12", KEPT), range(64)))
    assert Store(tmp_path).read("ab12") == KEPT
    assert Store(tmp_path).extent().answers == 1


def test_curves_are_the_same_without_a_store_cold_warm_half_gone_and_spoilt(store):
    keep_in(None)
    alone = curves()
    keep_in(store.folder)
    assert curves() == alone
    files = sorted(path for path in store.folder.rglob("*") if path.is_file())
    assert files
    assert curves() == alone
    for path in random.Random(1).sample(files, len(files) // 2):
        path.unlink()
    assert curves() == alone
    for path in files:
        path.write_bytes(path.read_bytes()[::-1])
    assert curves() == alone


def test_curves_are_recalled_not_worked_out(store, monkeypatch):
    first = curves()
    monkeypatch.setattr("matcher.layout.curves.organizer", lambda *_: pytest.fail("worked out again"))
    assert curves() == first


@pytest.mark.parametrize(
    "change",
    [{"length": 1}, {"width": 1}, {"height": 1}, {"rank": 1}, {"features": (("square", 1),)}, {"diameter": 9999}],
)
def test_pieces_that_differ_are_kept_apart(change):
    piece = groups()[0].pieces[0]
    assert _in_words(replace(piece, **change)) != _in_words(piece)


def test_pieces_that_lie_alike_are_one(store):
    piece = groups()[0].pieces[0]
    other = replace(piece, mass_low=1, mass_high=2, piece=replace(piece.piece, set="Another-1", use=3.0, mass=5))
    assert _in_words(other) == _in_words(piece)


def test_names_tell_where_a_word_ends():
    assert _name("a", "bc") != _name("ab", "c")


def test_tools_drawn_in_a_file_are_not_kept(store):
    group = groups()[0]
    drawn = replace(group.pieces[0], piece=replace(group.pieces[0].piece, outline="/nowhere/tool.svg"))
    made = recalled_points((drawn,), rules_for(group, HOUSE), lambda: KEPT)
    assert made is KEPT
    assert store.extent().answers == 0


def test_the_command_says_what_is_kept_and_empties_it(run, monkeypatch, tmp_path):
    monkeypatch.setattr("platformdirs.user_cache_path", lambda *_, **__: tmp_path / "cache")
    held = Store(tmp_path / "cache" / "curves")
    held.write("ab12", KEPT)
    code, told, _ = run("store", "--json")
    assert code == 0
    assert json.loads(told) == {"folder": str(held.folder), "answers": 1, "bytes": 40}
    code, told, _ = run("store", "--empty")
    assert "1 answer, 0.0 MB deleted" in told.replace("\n", " ")
    assert held.extent().answers == 0


def test_a_user_without_a_home_has_answers_and_nothing_kept(run, folder, monkeypatch):
    def homeless(*_, **__):
        raise RuntimeError("could not determine the home directory")

    monkeypatch.setattr("platformdirs.user_cache_path", homeless)
    assert run("fit", folder, "trays", "low")[0] == 1
    code, out, err = run("store")
    assert (code, out) == (2, "")
    assert "no home folder" in err


def test_nothing_but_arrays_is_deleted(tmp_path):
    (tmp_path / "letters.txt").write_text("kept")
    (tmp_path / "zz").mkdir()
    (tmp_path / "zz" / "letters.txt").write_text("kept")
    Store(tmp_path).empty()
    assert {path.name for path in tmp_path.rglob("*.txt")} == {"letters.txt"}


@pytest.mark.slow
def test_commands_give_the_same_bytes_with_and_without(run, monkeypatch, tmp_path):
    monkeypatch.setattr("platformdirs.user_cache_path", lambda *_, **__: tmp_path / "cache")
    asked = ("plan", Path("data/workshop"), "Alder-64", "Glen-5", "--json")
    answers = []
    for more in (("--no-store",), (), ()):
        with Memory():
            answers.append(run(*asked, *more))
        assert bool(list((tmp_path / "cache").rglob("*"))) == (len(answers) > 1)
    assert answers[1:] == answers[:1] * 2


def asked():
    known = catalogue(11, sets=1, cabinets=1)
    return ask(known, HOUSE, known.pieces[0].set, known.cabinets[0].name)


def kept_verdict(question, verdict="fits", what="a test"):
    return recalled_verdict(what, question, lambda: verdict)


def test_a_verdict_is_recalled_for_the_same_question_only(store):
    question = asked()
    assert kept_verdict(question) == "fits"
    assert kept_verdict(asked(), "undecided") == "fits"
    assert kept_verdict(question, "undecided", what="another test") == "undecided"
    drawers = question.cabinet.drawers
    smaller = (replace(drawers[0], inside_width=drawers[0].inside_width - 1), *drawers[1:])
    for other in (
        replace(question, cabinet=replace(question.cabinet, drawers=smaller)),
        replace(question, pins=(Pin("keep free", drawer=drawers[0].name),)),
        replace(question, house=replace(HOUSE, pocket=replace(HOUSE.pocket, margin=HOUSE.pocket.margin + 1))),
        replace(question, groups=question.groups[1:]),
        replace(question, groups=(replace(question.groups[0], mass_low=0), *question.groups[1:])),
    ):
        assert kept_verdict(other, "does not fit") == "does not fit"


def test_a_question_that_says_not_all_by_itself_is_asked_anew(store):
    question = asked()
    group = question.groups[0]
    drawn = replace(group.pieces[0], piece=replace(group.pieces[0].piece, outline="/nowhere/tool.svg"))
    drawn_groups = (replace(group, pieces=(drawn, *group.pieces[1:])), *question.groups[1:])
    for other in (replace(question, groups=drawn_groups), replace(question, near=Snapshot("", ""))):
        assert [kept_verdict(other, verdict) for verdict in ("fits", "undecided")] == ["fits", "undecided"]
    assert store.extent().answers == 0


@pytest.mark.parametrize("held", [b"", b"{", b"7", b"[1]", b'"fits"', b"\xff", b"null"])
def test_what_says_no_verdict_is_asked_anew(store, held):
    kept_verdict(asked())
    (path,) = (path for path in store.folder.rglob("*") if path.is_file())
    store.write(path.parent.name + path.name, held)
    assert kept_verdict(asked(), "undecided") == "undecided"


def test_a_division_is_kept_as_it_is(store):
    found = Divided("found", ((0, 0), (2, 1)), 4, 3, Bounds(1, None, 2), ((0, 2), (1,)))
    assert recalled_division("a test", asked(), 3, lambda: found) == found
    assert recalled_division("a test", asked(), 3, lambda: pytest.fail("asked again")) == found


def test_a_division_into_parts_that_are_not_there_is_asked_anew(store):
    recalled_division("a test", asked(), 3, lambda: Divided("found", ((2, 0),), 1, 1))
    assert recalled_division("a test", asked(), 2, lambda: Divided("open")) == Divided("open")


def test_an_assignment_is_kept_as_it_is_and_for_its_groups_only(store):
    question = asked()
    goals = (GoalValue("drawers", 2, 2, True), GoalValue("order", 3, 0, False))
    found = Assignment("found", (0, 1), goals, 4, None, (True, False), True, ((1, frozenset({0, 2})),))
    groups = question.groups[:2]
    assert recalled_assignment("a test", question, groups, lambda: found) == found
    assert recalled_assignment("a test", question, groups, lambda: pytest.fail("asked again")) == found
    assert recalled_assignment("a test", question, groups[:1], lambda: Assignment("open")) == Assignment("open")


@pytest.mark.slow
@pytest.mark.parametrize(("name", "cabinet"), [("Birch-134", "Glen-5")])
def test_answers_are_the_same_without_a_store_cold_warm_half_gone_and_spoilt(store, name, cabinet):
    known = read_catalogue(WORKSHOP)

    def told():
        with Memory():
            return json_text(plan_document(plan(known, HOUSE, name, cabinet)))

    keep_in(None)
    alone = told()
    keep_in(store.folder)
    assert [told(), told()] == [alone] * 2
    files = sorted(path for path in store.folder.rglob("*") if path.is_file())
    for path in random.Random(2).sample(files, len(files) // 2):
        path.unlink()
    assert told() == alone
    for path in files:
        path.write_bytes(path.read_bytes()[::-1])
    assert told() == alone
