"""The terminal: 80 columns, plain where nobody watches, no color where NO_COLOR asks for none."""

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest
from rich.console import Console
from typer.testing import CliRunner

from matcher.cli import app
from matcher.offer import offer
from matcher.planning import plan
from matcher.report.offer_view import offer_view
from matcher.report.terminal import plan_view
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer
from tests.offer_cases import one_drawer, simple

WORKSHOP = str(Path(__file__).resolve().parents[1] / "data" / "workshop")
LONG = "a name much longer than any column of any table, " * 4


def printed(monkeypatch, *words) -> list[str]:
    monkeypatch.setenv("COLUMNS", "80")
    done = CliRunner().invoke(app, words)
    assert done.exit_code in (0, 1), done.output
    return done.output.splitlines()


def shown(view, **options) -> str:
    stream = io.StringIO()
    Console(file=stream, width=80, highlight=False, **options).print(view)
    return stream.getvalue()


@pytest.mark.slow
@pytest.mark.parametrize(
    "words",
    [
        ["check", WORKSHOP],
        ["check", "--kinds"],
        ["check", WORKSHOP, "--cabinet", "Moor-13"],
        ["fit", WORKSHOP, "Alder-64", "Glen-5", "Glen-7", "Moor-13"],
        ["fit", WORKSHOP, "Linden-348", "Glen-5"],
        ["plan", WORKSHOP, "Birch-134", "Glen-9"],
        ["plan", WORKSHOP, "Alder-64", "Moor-13", "--sheet"],
        ["plan", WORKSHOP, "Alder-64", "Glen-7", "--tolerance", "3"],
        ["plan", WORKSHOP, "Alder-64", "Moor-13", "--measured", WORKSHOP],
        ["compare", WORKSHOP, "Alder-64", "Glen-5", "Glen-7", "Moor-13", "--changes"],
        ["cut", WORKSHOP, "Alder-64", "Glen-7", "--allow-estimates"],
    ],
    ids=lambda words: " ".join(word for word in words if word != WORKSHOP),
)
def test_every_view_is_plain_when_piped_and_fits_80_columns(monkeypatch, words):
    lines = printed(monkeypatch, *words)
    assert max(map(len, lines)) <= 80
    text = "\n".join(lines)
    assert "\x1b" not in text
    assert "…" not in text  # nothing is cut off


def test_the_offer_fits_80_columns():
    known, plans = simple([one_drawer("A"), one_drawer("B", width=500)])
    text = shown(offer_view(offer(known, HOUSE, plans)))
    assert max(map(len, text.splitlines())) <= 80
    assert "…" not in text


def test_long_names_are_broken_and_nothing_of_them_is_lost():
    box = cabinet(drawer("1"), drawer("2", row=2))
    found = plan(catalogue(organizers=[organizer(LONG.strip())], cabinets=[box]), HOUSE, "set", "cabinet")
    text = shown(plan_view(found, box.drawers))
    assert max(map(len, text.splitlines())) <= 80
    assert "…" not in text


def test_no_color_is_honored_on_a_terminal(monkeypatch):
    box = cabinet(drawer("1"))
    found = plan(catalogue(organizers=[organizer("tray")], cabinets=[box]), HOUSE, "set", "cabinet")
    colored = shown(plan_view(found, box.drawers), force_terminal=True, color_system="standard", no_color=False)
    assert "\x1b[1;32m" in colored  # bold green
    monkeypatch.setenv("NO_COLOR", "1")  # https://no-color.org: any value that is not empty
    plain = shown(plan_view(found, box.drawers), force_terminal=True, color_system="standard")
    assert "\x1b[1m" in plain  # bold is no color
    assert not any(f"{color}m" in plain for color in range(30, 38))


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        (f"matcher plan {WORKSHOP} Bi", ["Birch-134"]),
        (f"matcher plan {WORKSHOP} Birch-134 Glen-T", ["Glen-T6"]),
        (f"matcher fit {WORKSHOP} Birch-134 Glen-5 Dune-3", ["Dune-30"]),
        (f"matcher compare {WORKSHOP} Al", ["Alder-64"]),
        ("matcher plan nowhere Bi", []),
    ],
)
def test_the_shell_completes_sets_and_cabinets_of_the_catalogue(typed, offered):
    asked = {"_MATCHER_COMPLETE": "complete_bash", "COMP_WORDS": typed, "COMP_CWORD": str(len(typed.split()) - 1)}
    script = "import sys; sys.argv = ['matcher']; from matcher.__main__ import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", script], env=os.environ | asked, capture_output=True, text=True, check=False
    )
    assert done.stdout.split() == offered
