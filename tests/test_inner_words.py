"""Options, exit codes and file suffixes belong to the commands, the desk and the reports; what lies below knows none.

The names of the files of a catalogue are its own.
"""

import re
from pathlib import Path

import pytest

from matcher.cutting.guesses import Guess, GuessedSizesError
from matcher.planning.answering import plan
from matcher.planning.wishes import parse_goals, parse_off
from matcher.records.errors import UnknownNameError, UsageError
from matcher.records.given import Wishes
from matcher.screening.crews import crew_of
from tests import every_result
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer

ROOT = Path(__file__).resolve().parents[1] / "matcher"
OUTSIDE = ("cli", "desk", "report", "__main__.py")
OWN = {"catalogue": r"\.(csv|xlsx)\b|\bplan\.json\b", "drafting": r"\.csv\b"}
"""What a room may say of its own files."""
WORDS = re.compile(r"(?<![-\w])--[a-z]|\.(json|csv|xlsx|html|svg|pdf|dxf|parquet)\b|\bexit code|\bsys\.exit|\.Exit\b")


def inner_files():
    files = (path for path in ROOT.rglob("*") if path.suffix in (".py", ".toml", ".csv"))
    return [path for path in files if room(path) not in OUTSIDE]


def room(path):
    return path.relative_to(ROOT).parts[0]


def test_there_are_inner_files():
    rooms = set(map(room, inner_files()))
    assert {"assignment", "catalogue", "cutting", "house", "offer", "planning", "screening", "tools"} <= rooms


def test_no_word_of_the_outside_stands_inside():
    lines = [
        (path, number, re.sub(OWN.get(room(path), "(?!)"), "", line))
        for path in inner_files()
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
    ]
    assert [f"{path.name}:{number}: {line}" for path, number, line in lines if WORDS.search(line)] == []


KNOWN = catalogue(organizers=[organizer("tray")], cabinets=[cabinet(drawer("1"))])


def planned(**wished):
    return plan(KNOWN, HOUSE, "set", "cabinet", wishes=Wishes(**wished))


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        (lambda: planned(tiers=("none",)), "tiers: no group or family 'none'"),
        (lambda: planned(tiers=("tray", "tray")), "tiers: tray is named twice"),
        (lambda: parse_goals("beauty"), "goals: 'beauty' is no such goal"),
        (lambda: parse_off(["beauty"]), "off: 'beauty' is no such goal"),
        (lambda: crew_of(0), "workers 0: expected a whole number from 1"),
        (lambda: crew_of(2, "here:1"), "workers and scheduler: give one of them"),
    ],
)
def test_a_wrong_wish_from_python_is_told_as_the_wish(wrong, told):
    with pytest.raises((UsageError, UnknownNameError)) as refused:
        wrong()
    assert str(refused.value).startswith(told)


def test_guessed_sizes_are_refused_in_words_and_the_command_adds_its_options(run, tmp_path):
    told = str(GuessedSizesError([Guess("sockets", "socket 13", 1, "estimated", "a rule")]))
    assert "or allow estimates" in told
    assert "--" not in told
    code, out, err = run("cut", every_result.catalogue(tmp_path / "catalogue"), "tools", "wide")
    assert (code, out) == (2, "")
    assert err.splitlines()[-1].startswith("--allow-estimates allows them")
