"""Foam of two sheets bought, bonded and cut: by hand, and one bundled set from catalogue to files."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import ezdxf
import pytest
from typer.testing import CliRunner

from matcher.catalogue.reading import read_catalogue
from matcher.cli import app
from matcher.cutting.blanks import Blank
from matcher.cutting.cartons import packing_of
from matcher.cutting.jobs import Cut, cut
from matcher.cutting.layers import bought
from matcher.house.reading import read_house
from matcher.house.rules import House
from matcher.planning.answering import plan
from matcher.planning.outcome import Fits
from matcher.records.answered import Placement
from matcher.records.given import Catalogue, Foam
from matcher.records.laid_out import Layout
from matcher.records.units import inch, mm, to_mm
from matcher.report.cut_files import cut_dxf, cut_svg
from matcher.report.cut_sheets import cut_document
from matcher.report.document import plan_document
from matcher.verification.checker import verify
from tests.builders import HOUSE
from tests.cutting_cases import NOTCHED, example, foam, layout, pocket

FOLDER = Path(__file__).resolve().parents[1] / "data" / "workshop"
BLACK = foam("black 20", thickness=20, color="black", price=10.0, tolerance=0.5)
YELLOW = foam("yellow 10", thickness=10, color="yellow", price=6.0, tolerance=0.5)
ON_BASE = replace(
    layout(pocket(0, 0, 0, 60, 100, 20), pocket(0, 80, 0, 60, 100, 22), labels=()), thickness=mm(30), base=mm(10)
)
"""Pockets through a top sheet of 20 mm, one 2 mm on into a base of 10 mm."""


def made_of(*rows: Foam, laid: Layout = ON_BASE, batch: int = 1) -> Cut:
    return example(laid=laid, stock=rows, batch=batch)


def names(made: Cut) -> list[tuple[str, str]]:
    return [(job.foam.name if job.foam else "", job.base.name if job.base else "") for job in made.jobs]


# ------------------------------------------------------------------------------------------------------------ sheets


def test_top_and_base_are_two_sheets_each_counted_and_paid_for_itself() -> None:
    """300 x 200 mm: one sheet of each, 10 + 6; both proved."""
    made = made_of(BLACK, YELLOW)
    assert names(made) == [("black 20", "yellow 10")]
    assert [(stock.foam.name, stock.free.value, stock.free.proved, stock.cost) for stock in made.stocks] == [
        ("black 20", 1, True, 10.0)
    ]
    assert [(stock.foam.name, stock.free.value, stock.free.proved, stock.cost) for stock in made.bases] == [
        ("yellow 10", 1, True, 6.0)
    ]
    assert (made.sheets, made.cost) == (2, 16.0)
    assert made.jobs[0].drawing.thickness == mm(30)


def test_top_sheets_of_two_thicknesses_share_the_sheets_of_their_bases() -> None:
    """Two blanks of 560 x 400 mm go side by side on a sheet of 1200 x 600: one base sheet, two of the tops."""
    blanks = [
        Blank(name, "1", "new", mm(560), mm(400), mm(20), mm(thick), base=mm(10))
        for name, thick in (("a", 30), ("b", 40))
    ]
    found = bought(blanks, [BLACK, foam("black 30", color="black"), YELLOW], HOUSE)
    assert [(stock.foam.name, stock.free.value) for stock in found.tops] == [("black 20", 1), ("black 30", 1)]
    assert [(stock.foam.name, stock.free.value, stock.blanks) for stock in found.bases] == [("yellow 10", 1, (0, 1))]


@pytest.mark.parametrize(
    ("rows", "found"),
    [
        ([BLACK, replace(YELLOW, color="black")], ("black 20", "")),  # no contrast
        ([BLACK, replace(YELLOW, color="Black")], ("black 20", "")),
        ([replace(BLACK, color=""), replace(YELLOW, color="")], ("black 20", "yellow 10")),  # nothing known of it
        ([replace(BLACK, thickness=mm(21)), YELLOW], ("", "yellow 10")),  # a thicker top sheet would hide the base
        ([replace(BLACK, thickness=mm(20.5)), YELLOW], ("black 20", "yellow 10")),  # within its tolerance
        ([BLACK, replace(YELLOW, thickness=mm(12))], ("black 20", "")),
        ([YELLOW], ("", "yellow 10")),
        ([], ("", "")),
    ],
)
def test_sheets_are_as_thick_as_planned_and_of_two_colors(rows: list[Foam], found: tuple[str, str]) -> None:
    made = made_of(*rows)
    assert names(made) == [found]
    assert (made.cost is None) == ("" in found)
    missing = [note for note in made.jobs[0].setup.notes if note.startswith("No foam of the catalogue")]
    assert ["for the top sheet" in note for note in missing] == [which == 0 for which in (0, 1) if not found[which]]


def test_the_color_that_is_there_for_bases_alone_is_the_base_even_where_it_is_cheaper() -> None:
    """Yellow of 20 mm too, at half the price: no top sheet takes it, since bases are yellow."""
    cheap = replace(YELLOW, name="yellow 20", thickness=mm(20), price=5.0)
    more = [replace(BLACK, name=f"black {n}", thickness=mm(n)) for n in (10, 40)]
    for rows in ([BLACK, cheap, YELLOW, *more], [*more, YELLOW, cheap, BLACK]):
        assert names(made_of(*rows)) == [("black 20", "yellow 10")]


def test_of_two_colors_for_bases_the_cheaper_is_taken() -> None:
    red = replace(YELLOW, name="red 10", color="red", price=4.0)
    assert names(made_of(BLACK, YELLOW, red)) == [("black 20", "red 10")]


# ---------------------------------------------------------------------------------------------- drawings, setup sheets


def test_setup_sheet_and_drawings_say_bond_then_cut_and_that_depths_count_from_the_top() -> None:
    made = made_of(BLACK, YELLOW)
    sheet = made.jobs[0].setup
    assert (sheet.foam, sheet.thickness, sheet.base, sheet.base_thickness) == ("black 20", mm(30), "yellow 10", mm(10))
    assert "then cut" in sheet.notes[0]
    assert "measured from the top" in sheet.notes[0]
    assert ("bottom of the top sheet, where the base begins", mm(20)) in [
        (check.name, check.length) for check in sheet.first_article
    ]
    note = "two sheets, 20.0 mm on a base of 10.0 mm: bond, then cut; depths from the top"
    texts = ezdxf.read(io.StringIO(cut_dxf(made))).modelspace().query("TEXT")
    assert note in [text.dxf.text for text in texts]
    assert note in cut_svg(made)
    assert "two sheets" not in cut_svg(example(laid=NOTCHED))


def test_a_thin_floor_and_a_thick_top_sheet_are_told() -> None:
    """20 + 10 less 2 x 1.5 of tolerance less 22 of pocket leave 5 of the 6 mm; 20.5 hides the base by 0.5."""
    thin = made_of(replace(BLACK, tolerance=mm(1.5)), replace(YELLOW, tolerance=mm(1.5)))
    assert any("1.0 mm short" in note for note in thin.jobs[0].setup.notes)
    assert not any("short" in note for note in made_of(BLACK, YELLOW).jobs[0].setup.notes)
    thick = made_of(replace(BLACK, thickness=mm(20.5)), YELLOW)
    assert any("0.5 mm thicker" in note and "deeper by it" in note for note in thick.jobs[0].setup.notes)


def test_where_colors_are_not_known_a_person_is_asked_to_look() -> None:
    plain = made_of(replace(BLACK, color=""), replace(YELLOW, color=""))
    assert any("contrasts" in note for note in plain.jobs[0].setup.notes)


# --------------------------------------------------------------------------------------------------- a bundled set


def house(tmp: Path, base: float = 9.525) -> House:
    """The house of somebody who stocks what the bundled foam table has, 3/8 in of yellow among it."""
    path = tmp / "house.toml"
    path.write_text(f"[pocket]\nbase_mm = {base}\nstock_mm = [19.05, 25.4, 31.75, 38.1, 50.8]\n", encoding="utf-8")
    return read_house(path)


@cache
def bundled() -> Catalogue:
    return read_catalogue(FOLDER)


@pytest.fixture(scope="module")
def rules(tmp_path_factory: pytest.TempPathFactory) -> House:
    return house(tmp_path_factory.mktemp("house"))


@pytest.fixture(scope="module")
def planned(rules: House) -> Fits:
    return fitting(rules)


def fitting(rules: House) -> Fits:
    found = plan(bundled(), rules, *CASE)
    assert isinstance(found, Fits)
    return found


def laid(outcome: Fits) -> list[tuple[Placement, Layout]]:
    return [(placed, placed.layout) for placed in outcome.plan.placements if placed.layout]


CASE = ("Alder-64", "Glen-7")


def test_a_bundled_set_is_planned_with_every_floor_in_the_base(planned: Fits, rules: House) -> None:
    assert verify(bundled(), rules, planned.plan) == ()
    for placed, found in laid(planned):
        top = found.thickness - inch(0.375)
        assert top in rules.pocket.stock
        assert all(top <= pocket.depth for pocket in found.pockets)
        assert found.thickness <= found.height <= placed.height


def test_the_plan_of_one_sheet_breaks_the_rule_and_the_other_way_round(planned: Fits, rules: House) -> None:
    plain = fitting(replace(rules, pocket=replace(rules.pocket, base=0)))
    assert {violation.rule for violation in verify(bundled(), rules, plain.plan)} == {"R18"}
    assert all(found.base == 0 for _, found in laid(plain))
    assert plain == plan(bundled(), replace(HOUSE, pocket=replace(HOUSE.pocket, stock=rules.pocket.stock)), *CASE)


def test_its_foam_is_black_on_yellow_and_documents_tell_both(planned: Fits) -> None:
    made = cut(planned, allow_estimates=True)
    assert all(job.foam and job.foam.color == "black" and job.base and job.base.color == "yellow" for job in made.jobs)
    document = cut_document(made)
    assert {stock["layer"] for stock in document["stocks"]} == {"top sheet", "base"}
    assert sum(stock["cost"] for stock in document["stocks"]) == pytest.approx(document["material_cost"], abs=0.05)
    for blank, placed in zip(document["blanks"], plan_document(planned)["placements"], strict=True):
        assert blank["base_thickness_mm"] == placed["base_thickness_mm"] == 9.525
        assert blank["thickness_mm"] == placed["thickness_mm"]


def test_the_packing_list_weighs_both_sheets(planned: Fits) -> None:
    """The densest foam of each thickness: 33 kg/m3 of 19.05 mm, 64 of 25.4 and of 9.525 mm."""
    packing = packing_of(planned)
    assert packing is not None
    layers = [layer for carton in packing.cartons for layer in carton.layers]
    densest = {19.05: 33, 25.4: 64, 9.525: 64}
    for layer in layers:
        top = to_mm(layer.thickness) - 9.525
        area = to_mm(layer.width) * to_mm(layer.depth) / 1e6
        expected = area * (top * densest[round(top, 3)] + 9.525 * 64) / 1e3
        assert layer.mass is not None
        assert layer.mass / 1e8 == pytest.approx(expected, rel=1e-4)


def test_the_commands_tell_the_two_sheets_everywhere(tmp_path: Path) -> None:
    house(tmp_path)
    common = [str(FOLDER), *CASE, "--house", str(tmp_path / "house.toml")]
    html = tmp_path / "plan.html"
    shown = CliRunner().invoke(app, ["plan", *common, "--out", str(html)])
    assert shown.exit_code == 0
    assert "on a base of 9.5 mm" in " ".join(shown.output.split())
    assert "foam of two sheets" in html.read_text(encoding="utf-8")
    cutting = CliRunner().invoke(app, ["cut", *common, "--allow-estimates", "--json"])
    assert json.loads(cutting.output)["setup_sheets"][0]["base"] == "yellow 3/8 in"
