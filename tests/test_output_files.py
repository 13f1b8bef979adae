"""Where results are written: refused before any work is done, or all files of a run together and none by half."""

from __future__ import annotations

from pathlib import Path

import pytest

from matcher.records.errors import NothingToShowError, UsageError
from matcher.report.files import check_writers, write

SUFFIXES = (".json", ".csv")


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (["a.json", "a.json"], "named twice"),
        (["a.txt"], "expected a name ending in"),
        (["x" * 300 + ".json"], "cannot be written: File name too long"),
        (["nowhere/a.json"], "does not exist"),
        (["folder.json"], "it is a folder"),
    ],
)
def test_a_place_is_refused_before_any_work(tmp_path: Path, names: list[str], told: str) -> None:
    (tmp_path / "folder.json").mkdir()
    with pytest.raises(UsageError, match=told):
        check_writers([tmp_path / name for name in names], SUFFIXES)


def test_files_are_written_together_or_not_at_all(tmp_path: Path) -> None:
    """What makes the second file fails: the first one is not there, and nothing else either."""

    def fails() -> str:
        raise UsageError("no")

    with pytest.raises(UsageError):
        write([tmp_path / "a.json", tmp_path / "b.csv"], {".json": lambda: "{}", ".csv": fails})
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_cannot_be_put_in_its_place_leaves_no_other(tmp_path: Path) -> None:
    """A folder without the right to write; where the tests may write everywhere, a place below a file."""
    (tmp_path / "a").write_text("")
    with pytest.raises(UsageError, match="cannot be written"):
        write([tmp_path / "b.json", tmp_path / "a" / "c.csv"], {".json": lambda: "{}", ".csv": lambda: "x\n"})
    assert [path.name for path in tmp_path.iterdir()] == ["a"]


def test_an_older_file_stays_as_it_was_where_another_fails(tmp_path: Path) -> None:
    old = tmp_path / "a.json"
    old.write_text("old")
    with pytest.raises(UsageError):
        write([old, tmp_path / "none" / "b.csv"], {".json": lambda: "new", ".csv": lambda: "x\n"})
    assert old.read_text() == "old"


def test_what_an_answer_has_nothing_for_is_told_and_the_rest_written(tmp_path: Path) -> None:
    def nothing() -> str:
        raise NothingToShowError("no drawing")

    told = write([tmp_path / "a.json", tmp_path / "b.csv"], {".json": lambda: "{}", ".csv": nothing})
    assert told == [f"{tmp_path / 'b.csv'}: no drawing"]
    assert [path.name for path in tmp_path.iterdir()] == ["a.json"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--unit", "7"), "name that file, too"),
        (("--pin", "tray a apart from tray a"), "expected two groups"),
    ],
)
def test_options_that_mean_nothing_are_refused(run, folder, words: tuple[str, str], told: str) -> None:
    code, out, err = run("plan", folder, "trays", "wide", *words)
    assert (code, out) == (2, "")
    assert told in err


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        ("[work]\nseed = 12345678901234567890\n", "key work.seed"),
        ("[work]\norder = 0\n", "expected a number above 0"),
        ('cutter = ["zzz"]\n', "key cutter"),
        ("cutter = 3\n", "key cutter"),
        ("[[cutter]]\ndiameter_mm = 6\n", "reach_mm"),
        ("[notch]\nwidth_mm = 0\n", "expected a number above 0"),
        ("[pocket.fit_mm]\na = 1\n", "expected a number"),
        ("[pocket]\nstock_mm = [[1]]\n", "thicknesses"),
        ("[order]\nswap = [[4, 5], 6]\n", "pairs of tiers"),
    ],
)
def test_house_rules_that_nothing_can_be_made_of_are_named(run, folder, tmp_path, rules: str, told: str) -> None:
    house = tmp_path / "house.toml"
    house.write_text(rules, encoding="utf-8")
    code, out, err = run("check", folder, "--house", house)
    assert (code, out) == (2, "")
    assert "house.toml" in err
    assert told in err
