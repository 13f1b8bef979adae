"""What only some of the work needs is an extra: without it the rest works, and a sentence tells what is missing."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from matcher.records.extras import EXTRAS
from tests.test_demo import contents

ROOT = Path(__file__).resolve().parents[1]
OFFERED = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["optional-dependencies"]
PLAIN = f"""
import sys
sys.modules.update(dict.fromkeys({[name for names in EXTRAS.values() for name in names]!r}))
from matcher.__main__ import main
main()
"""
"""The command where nothing of an extra can be imported."""


def plainly(*words: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-c", PLAIN, *map(str, words)], capture_output=True, text=True)


@pytest.mark.parametrize("extra", EXTRAS)
def test_an_extra_installs_what_it_is_said_to(extra):
    names = [re.match(r"[\w-]+", need).group().replace("-", "_") for need in OFFERED[extra]]
    assert tuple(names) == EXTRAS[extra]


@pytest.mark.parametrize(
    ("words", "extra"),
    [
        (("desk", "{}"), "desk"),
        (("compare", "{}", "--out", "{}/made/pairs.csv", "--out", "{}/made/pairs.parquet"), "parquet"),
        (("compare", "{}", "--scheduler", "127.0.0.1:1"), "cluster"),
    ],
)
def test_what_is_missing_is_named_before_any_work(run, folder, monkeypatch, words, extra):
    given = [word.format(folder) for word in words]
    (folder / "made").mkdir()
    for name in EXTRAS[extra]:
        monkeypatch.setitem(sys.modules, name, None)
    code, out, err = run(*given)
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1
    assert all(name.replace("_", "-") in err for name in EXTRAS[extra])
    assert f"pip install -e '.[{extra}]'" in err
    assert contents(folder / "made") == {}


@pytest.mark.parametrize(
    "words",
    [
        ("check", "{}"),
        ("fit", "{}", "trays"),
        ("plan", "{}", "trays", "wide", "--out", "{}/made/a.xlsx", "--out", "{}/made/a.pdf", "--out", "{}/made/a.html"),
        ("compare", "{}", "trays", "--out", "{}/made/a.html", "--out", "{}/made/a.xlsx"),
        ("compare", "{}", "--out", "{}/made/a.csv"),
    ],
    ids=lambda words: " ".join(words[:1] + words[2:3]),
)
def test_the_rest_is_the_same_without_any_extra(run, folder, words):
    given = [word.format(folder) for word in words]
    (folder / "made").mkdir()
    code, out, err = run(*given)
    made = contents(folder / "made")
    plain = plainly(*given)
    assert (plain.returncode, plain.stdout, plain.stderr) == (code, out, err)
    assert contents(folder / "made") == made
