"""What is sound and yet unlikely is told by ``check``, and never refused."""

from __future__ import annotations

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
