"""The terminal: any width from 40 columns on, plain where nobody watches, no color where NO_COLOR asks for none."""

import io
import os
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console
from typer.testing import CliRunner

from matcher.catalogue import read_catalogue
from matcher.cli import app
from matcher.cutting import cut
from matcher.house import default_house
from matcher.offer.deciding import offer
from matcher.planning.answering import plan
from matcher.records.length_units import unit_of
from matcher.records.units import Toward, inch, mm
from matcher.report.comparison_views import comparison_view, fit_view
from matcher.report.cut_sheets import cut_view
from matcher.report.inventory import inventory_view, kinds_view
from matcher.report.lookalike_views import identity_view
from matcher.report.measuring_views import sheet_view, tolerance_view
from matcher.report.offer_documents import STATEMENTS
from matcher.report.offer_views import offer_view
from matcher.report.size_views import sizes_view
from matcher.report.terminal import plan_view
from matcher.report.variant_views import steps_view
from matcher.studies import compare, identify, sheet_for, sizes_of, steps, tolerance
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.offer_cases import one_drawer, simple

WORKSHOP = str(Path(__file__).resolve().parents[1] / "data" / "workshop")
LONG = "a name much longer than any column of any table, " * 4


def printed(monkeypatch, *words) -> list[str]:
    monkeypatch.setenv("COLUMNS", "80")
    done = CliRunner().invoke(app, words)
    assert done.exit_code in (0, 1), done.output
    return done.stdout.splitlines()


def shown(view, width=80, **options) -> str:
    stream = io.StringIO()
    Console(file=stream, width=width, highlight=False, **options).print(view)
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
        ["compare", WORKSHOP, "Alder-64", "Glen-5", "Glen-7", "Moor-13", "--changes", "--why"],
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


WIDTHS = [40, 60, 80, 120]


@pytest.fixture(scope="module")
def compared():
    known = read_catalogue(Path(WORKSHOP))
    return compare(known, default_house(), "Alder-64", ["Glen-3", "Glen-7", "Moor-13", "Moor-13L"])


def views(compared):
    """Every view of small questions about the bundled catalogue, with the names that have to stay whole."""
    best = compared.variants[0].outcome
    known, groups = best.question.catalogue, [placed.group for placed in best.plan.placements]
    boxes = [variant.outcome.cabinet for variant in compared.variants]
    held = [placed.drawer for placed in best.plan.placements]
    yield plan_view(best), [*groups, *held]
    yield plan_view(best, why=True), [*groups, *held]
    yield comparison_view(compared), boxes
    yield comparison_view(compared, steps(compared)), boxes
    yield comparison_view(compared, steps(compared), why=True), boxes
    yield steps_view(steps(compared)), boxes
    yield fit_view(variant.outcome for variant in compared.variants), boxes
    yield sheet_view(sheet_for(best, mm(3))), held
    yield tolerance_view(tolerance(best, mm(3))), held[:0]
    yield inventory_view(known), [cabinet.name for cabinet in known.cabinets]
    yield kinds_view(), ["ratchet"]
    yield sizes_view(sizes_of(known, "Alder-64", "likely")), ["ratchet"]
    yield identity_view(identify(known, default_house(), "Moor-13")), ["Moor-13L"]
    yield cut_view(cut(best, allow_estimates=True)), groups


@pytest.mark.slow
@pytest.mark.parametrize("width", WIDTHS)
def test_every_view_is_readable_at_any_width(compared, width):
    for view, names in views(compared):
        lines = shown(view, width).splitlines()
        assert max(len(line.rstrip()) for line in lines) <= width
        text = " ".join(" ".join(lines).split())
        assert "…" not in text
        words = set(text.replace(":", " ").replace(",", " ").replace(";", " ").split())
        assert {word for name in names for word in name.split()} <= words
        short = [len(line.split()) == 1 and len(line.strip()) <= 2 for line in lines]
        assert not any(all(run) for run in zip(short, short[1:], short[2:], strict=False)), "one letter a line"


@pytest.mark.slow
def test_a_plan_is_told_by_answer_table_and_few_lines_and_the_rest_on_request(compared):
    best = compared.variants[0].outcome
    brief, full = shown(plan_view(best), 120), shown(plan_view(best, why=True), 120)
    for level in ("error", "caution"):
        assert all(one.text in " ".join(brief.split()) for one in best.cautions if one.level == level)
    notes = [one.text for one in best.cautions if one.level == "info"]
    assert not any(text in " ".join(brief.split()) for text in notes)
    assert all(text in " ".join(full.split()) for text in notes)
    told = [text for goal in best.goals if goal.name in ("neighbors", "recut", "reach") for text in goal.contributions]
    assert told
    assert not any(text in " ".join(brief.split()) for text in told)
    assert all(text in " ".join(full.split()) for text in told)
    lines = brief.splitlines()
    assert sum(line.startswith(("free: ", "goals: ", "measure first: ")) for line in lines) == 3


@pytest.mark.slow
def test_what_changes_over_a_family_fits_a_screen(compared):
    lines = shown(comparison_view(compared, steps(compared))).splitlines()
    assert lines[0] == "Alder-64: 4 cabinets, each against the one above"
    assert len(lines) <= 24
    assert "--why tells every change, and cautions in words" in lines[-1]
    assert "! TIP-1, TIP-2, basis" in lines[-1]
    table = lines[next(n for n, line in enumerate(lines) if line.startswith("cabinet ")) :]
    for variant in compared.variants:
        assert sum(line.startswith(variant.outcome.cabinet + " ") for line in table) == 1


def test_cabinets_in_which_nothing_is_other_are_told_in_one_row():
    boxes = [cabinet(*(drawer(str(row), row=row) for row in (1, 2)), name=name) for name in ("A", "B", "C")]
    boxes.append(cabinet(*(drawer(str(row), row=row) for row in (1, 2, 3)), name="D"))
    known = catalogue(organizers=[organizer("a"), organizer("b")], cabinets=boxes)
    found = compare(known, HOUSE, "set")
    text = shown(comparison_view(found, steps(found)))
    assert "A, B, C" in text
    assert sum(line.startswith(("A", "B", "C", "D")) for line in text.splitlines()) == 3, "and the heading"


def test_no_number_of_the_search_is_told_and_what_meets_its_bound_is_never_not_proved():
    """Work and gaps are one number in the search; a goal after one that is open may still have met its bound."""
    box = cabinet(drawer("1"), drawer("2", row=2, height=60))
    made = [organizer("a", width=500), organizer("b", width=520, family="b", field_width=mm(400))]
    found = plan(catalogue(organizers=made, cabinets=[box]), HOUSE, "set", "cabinet")
    opened = replace(found, goals=tuple(replace(goal, proved=False) for goal in found.goals))
    (recut,) = (goal for goal in found.goals if goal.name == "recut")
    assert recut.value > 10**9
    for outcome in (found, opened):
        for text in (shown(plan_view(outcome)), shown(plan_view(outcome, why=True))):
            assert str(recut.value) not in text
            assert "not proved" not in text
    assert "least with the goals before it" in shown(plan_view(opened, why=True), 200)


@pytest.mark.parametrize("width", WIDTHS)
def test_the_offer_is_readable_at_any_width(width):
    known, plans = simple([one_drawer("A"), one_drawer("B", width=500)])
    for why in (False, True):
        text = shown(offer_view(offer(known, HOUSE, plans), why=why), width)
        assert max(len(line.rstrip()) for line in text.splitlines()) <= width
        assert "…" not in text
        assert (STATEMENTS[0] in " ".join(text.split())) == why


def test_long_names_are_broken_and_nothing_of_them_is_lost():
    box = cabinet(drawer("1"), drawer("2", row=2))
    found = plan(catalogue(organizers=[organizer(LONG.strip())], cabinets=[box]), HOUSE, "set", "cabinet")
    text = shown(plan_view(found))
    assert max(map(len, text.splitlines())) <= 80
    assert "…" not in text


DECIMALS = {"inside_width": Fraction("22.45"), "inside_depth": Fraction("15.75"), "clear_height": Fraction("2.95")}


def inches(**sizes) -> dict[str, int]:
    return {side: inch(Fraction(size)) for side, size in sizes.items()}


def test_a_cabinet_given_in_inches_is_told_in_inches():
    """22 7/16 x 15 3/4 x 2 15/16 in take a tray of 500 x 380 mm with the 1.6 mm at each side and 3 mm above it."""
    sizes = inches(inside_width="359/16", inside_depth="63/4", clear_height="47/16")
    boxes = [replace(drawer("1"), **sizes), replace(drawer("2", row=2), **sizes)]
    found = plan(catalogue(organizers=[organizer("tray")], cabinets=[cabinet(*boxes)]), HOUSE, "set", "cabinet")
    text = shown(plan_view(found, why=True))
    assert "clear in (w x d x h)" in text
    assert "22 7/16 x 15 3/4 x 2 15/16" in text
    told = " ".join(text.partition("measure first")[2].split())
    # 503.2 mm are 19.811 in, 383.2 are 15.087, 53 are 2.087: up to 1/32 in; 15.75 - 15.087 in are 0.663: down to it
    assert "21/32 in to spare front to back" in told
    assert "at least 19 13/16 in wide, 15 3/32 in front to back and 2 3/32 in high inside" in told
    assert " mm" not in told.partition("high inside")[0]


def test_a_cabinet_given_in_decimal_inches_is_told_in_them():
    """22.45 x 15.75 x 2.95 in are 570.23 x 400.05 x 74.93 mm, two of them no tenths of a millimeter."""
    catalogued = [replace(drawer("1"), **{side: inch(size, Toward.DOWN) for side, size in DECIMALS.items()})]
    known = catalogue(organizers=[organizer("tray")], cabinets=[cabinet(*catalogued)])
    text = shown(plan_view(plan(known, HOUSE, "set", "cabinet")))
    assert "clear in (w x d x h)" in text
    assert "22.450 x 15 3/4 x 2.950" in text


@given(st.lists(st.integers(1, 20_000), min_size=1, max_size=9))
def test_sizes_in_decimal_inches_are_told_as_given(thousandths):
    given_sizes = [inch(Fraction(size, 1000), Toward.DOWN) for size in thousandths]
    unit = unit_of(given_sizes)
    if any(size % mm(Fraction("0.1")) for size in given_sizes):
        told = [unit.figure(size) for size in given_sizes]
        read = [sum(map(Fraction, figure.split())) for figure in told]
        assert read == [Fraction(size, 1000) for size in thousandths]


@given(st.lists(st.integers(1, 9_999), min_size=1, max_size=9))
def test_sizes_in_tenths_of_a_millimeter_are_told_in_them_unless_all_are_shop_fractions(tenths):
    unit = unit_of(mm(Fraction(size, 10)) for size in tenths)
    shop = all(Fraction(size, 254) * 64 % 1 == 0 for size in tenths)
    assert unit.name == ("in" if shop and any(size % 10 for size in tenths) else "mm")


def test_one_piece_is_told_in_the_singular():
    box = cabinet(drawer("1"))
    for count, told in ((1, "basis: 1 piece: 1 measured"), (2, "basis: 2 pieces: 2 measured")):
        known = catalogue([piece(count=count)], cabinets=[box])
        assert told in shown(plan_view(plan(known, HOUSE, "set", "cabinet")))


def test_a_cabinet_given_in_millimeters_keeps_them_though_some_of_its_sizes_are_whole_inches():
    """508 mm are 20 in, 381 are 15, 101.6 are 4; the other drawer is no whole number of 64ths high."""
    boxes = [drawer("1", width=508, depth=381, height=101.6), drawer("2", row=2, width=508, depth=381, height=100)]
    found = plan(
        catalogue(organizers=[organizer("tray", 480, 360)], cabinets=[cabinet(*boxes)]), HOUSE, "set", "cabinet"
    )
    text = shown(plan_view(found))
    assert "clear mm (w x d x h)" in text
    assert "508 x 381 x 101.6" in text


def test_no_color_is_honored_on_a_terminal(monkeypatch):
    box = cabinet(drawer("1"))
    found = plan(catalogue(organizers=[organizer("tray")], cabinets=[box]), HOUSE, "set", "cabinet")
    colored = shown(plan_view(found), force_terminal=True, color_system="standard", no_color=False)
    assert "\x1b[1;32m" in colored  # bold green
    monkeypatch.setenv("NO_COLOR", "1")  # https://no-color.org: any value that is not empty
    plain = shown(plan_view(found), force_terminal=True, color_system="standard")
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
