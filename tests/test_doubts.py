"""What is sound and yet unlikely is told by ``check``, and never refused."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from matcher.catalogue.doubts import doubtful
from matcher.catalogue.reading import read_catalogue
from matcher.records.given import Piece
from matcher.records.units import kg, mm
from matcher.report.inventory import inventory_document
from matcher.tools.plausible import doubts
from tests.builders import catalogue
from tests.tool_pieces import a_piece

WORKSHOP = Path(__file__).parents[1] / "data" / "workshop"


@pytest.mark.parametrize(
    ("piece", "told"),
    [
        (a_piece("screwdriver", "PH2", mass=kg(31)), "mass 31"),
        (a_piece("ratchet", drive="1/4", length=mm(900)), "length 900"),
        (a_piece("combination pliers", "200", width=mm(550)), "width 550"),
        (a_piece("pry bar", "24 in", height=mm(610)), "height 610"),
        (
            a_piece("socket", "32", "1/4", length=mm(25), width=mm(42), height=mm(42)),
            "size 32 is unusual for its kind; expected a size from 3 to 17 mm on a 1/4 drive",
        ),
    ],
)
def test_a_piece_beyond_its_kind_is_doubted(piece: Piece, told: str) -> None:
    (doubt,) = doubts(piece)
    assert doubt.startswith(told)


@pytest.mark.parametrize(
    "piece",
    [
        a_piece("ratchet", drive="1/4", length=mm(150)),
        a_piece("other", length=mm(2000)),
        a_piece("punch", length=mm(200)),
    ],
)
def test_a_usual_piece_is_not(piece: Piece) -> None:
    assert list(doubts(piece)) == []


def test_the_same_tool_in_two_rows_of_a_set_is_doubted_once() -> None:
    socket = replace(a_piece("socket", "13", "1/2"), tool="socket 13")
    other_set = replace(socket, set="another")
    thin = replace(socket, tool="socket 13, thin wall", width=mm(18), height=mm(18))
    (doubt,) = doubtful(catalogue((socket, socket, other_set, thin)))
    assert doubt == "set, socket 13 (socket): stands in 2 rows; is it in the set so often?"


def test_the_same_tool_under_another_name_is_doubted_where_its_size_tells_all() -> None:
    socket = replace(a_piece("socket", "13", "1/2"), tool="socket 13")
    pin, center = (replace(a_piece("punch", "4 mm"), tool=f"{name} punch 4 mm") for name in ("pin", "center"))
    (doubt,) = doubtful(catalogue((socket, replace(socket, tool="13 mm socket", size="13 mm"), pin, center)))
    assert doubt == "set, 13 mm socket (socket): same size and drive as socket 13; is it in the set twice?"


def test_doubts_stand_in_the_document_and_none_are_about_the_bundled_catalogue() -> None:
    assert inventory_document(catalogue(), ["look"])["doubts"] == ["look"]
    assert doubtful(read_catalogue(WORKSHOP)) == ()


def test_what_is_doubted_is_told_with_its_row(run, tmp_path: Path) -> None:
    """A screwdriver of 31 kg, ten equal rows, a drawer wider than its cabinet, a cabinet lighter than its drawers."""
    tools = "S,PH2,screwdriver,1,PH2,31,\n" + 10 * "S,socket 13,socket,1,13,,1/2\n"
    (tmp_path / "tools.csv").write_text(f"set,tool,kind,count,size,mass_kg,drive\n{tools}")
    (tmp_path / "drawers.csv").write_text(
        "cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm,mass_kg,above_ground_mm\n"
        "C,1,1,1,700,400,80,9,50\nC,2,1,2,600,400,80,9,\n"
    )
    (tmp_path / "cabinets.csv").write_text("cabinet,width_mm,mass_kg\nC,680,12\n")
    code, out, err = run("check", tmp_path, "--json")
    assert (code, err) == (0, "")
    told = {place: rest for place, _, rest in (doubt.partition(": ") for doubt in json.loads(out)["doubts"])}
    assert "mass 31.0 kg" in told["tools.csv, row 2"]
    assert "stands in 10 rows" in told["tools.csv, rows 3, 4, 5, 6, 7, 8, 9, 10, 11 and 12"]
    assert "mass 12.0 kg, but its drawers weigh 18.0 kg" in told["cabinets.csv, row 2"]
    wide, low = (doubt for doubt in json.loads(out)["doubts"] if doubt.startswith("drawers.csv, row 2: C, drawer 1: "))
    assert "inside width 700.0 mm, but the cabinet's width is 680.0 mm" in wide
    assert "floor 50.0 mm above the ground, but the drawers under it reach up to 80.0 mm" in low
