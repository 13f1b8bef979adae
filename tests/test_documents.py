"""Documents that cannot drift: the README's commands and sample output, the contributors' rule numbers."""

import re
import shlex
from pathlib import Path

import pytest
from typer.testing import CliRunner

from matcher import __version__
from matcher.cli import app
from matcher.verification.hard_rules import RULES

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def _block(language):
    return re.search(rf"```{language}\n(.*?)```", README, re.DOTALL).group(1)


def test_the_first_block_holds_the_two_commands_that_do_all_set_up():
    lines = _block("sh").strip().splitlines()
    assert len(lines) == 2
    assert all(line.startswith("python3 -m venv .venv && .venv/bin/pip install") for line in lines)
    assert "matcher compare data/workshop" in lines[0]
    assert lines[1].endswith(".venv/bin/pytest")


def test_the_sample_is_what_the_first_command_prints(monkeypatch):
    monkeypatch.chdir(ROOT)
    monkeypatch.setenv("COLUMNS", "80")
    words = shlex.split(_block("sh").splitlines()[0].split("&&")[-1])[1:]
    printed = CliRunner().invoke(app, words).stdout
    shown = [line.rstrip() for line in printed.splitlines()]
    assert [line for line in shown if line] == [line.rstrip() for line in _block("text").splitlines() if line.strip()]


@pytest.mark.parametrize("command", re.findall(r"`matcher (\w+) CATALOGUE", README))
def test_every_command_of_the_readme_exists(command):
    assert CliRunner().invoke(app, [command, "--help"]).exit_code == 0


def test_hard_rules_are_cited_by_contributors_guide_model_and_tests():
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    tests = "".join(path.read_text(encoding="utf-8") for path in (ROOT / "tests").glob("test_verification*.py"))
    checker = ROOT / "matcher" / "verification"
    makers = (path for path in (ROOT / "matcher").rglob("*.py") if checker not in path.parents)
    model = "".join(path.read_text(encoding="utf-8") for path in makers)
    for number in RULES:
        assert re.search(rf"\b{number}\b", model), f"{number} is kept by no module"
        assert re.search(rf"\b{number}\b", guide), f"{number} is missing in DEVELOPERS.md"
        assert re.search(rf"\b{number}\b", tests), f"{number} is broken by no test"


def test_the_changes_of_this_version_are_told():
    changes = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("\n## Changes\n")[2]
    assert re.findall(r"^### (\S+)", changes, re.MULTILINE)[0] == __version__
