"""Boxes larger than what holds them are told by `check`, each with its name; sound ones are not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from matcher.catalogue.box_doubts import box_doubts
from matcher.records.given import Foam
from matcher.records.typed import LARGEST_INSIDE
from matcher.records.units import kg, mm
from tests.builders import cabinet, catalogue, drawer
from tests.generated import catalogue as generated


def told(foam: tuple[Foam, ...] = (), sides: tuple[int, int, int] = (680, 460, 800), **changed) -> list[str]:
    width, depth, height = map(mm, sides)
    drawers = replace(drawer("1"), **changed), drawer("2", row=2)
    where = replace(cabinet(*drawers), width=width, depth=depth, height=height)
    return [sentence for _, sentence in box_doubts(catalogue(cabinets=[where], foam=foam))]


def test_a_sound_cabinet_is_not_doubted() -> None:
    assert told(foam=(Foam("black", mm(1219), mm(610), mm(25), mm(1)),)) == []


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"inside_width": mm(5600)}, "drawer 1: inside width 5600.0 mm, but the cabinet's width is 680.0 mm"),
        ({"inside_depth": mm(461)}, "drawer 1: inside depth 461.0 mm, but the cabinet's depth is 460.0 mm"),
        ({"clear_height": mm(810)}, "drawer 1: clear height 810.0 mm, but the cabinet's height is 800.0 mm"),
        ({"corner_radius": mm(3000)}, "corner radius 3000.0 mm in a drawer that is 400.0 mm on its shorter side"),
        ({"liner": mm(100)}, "liner 100.0 mm in a clear height of 100.0 mm"),
        ({"travel": mm(1000)}, "more than twice the cabinet's depth"),
        ({"clear_height": mm(750)}, "bank 1: its drawers are 850.0 mm high together, the cabinet 800.0 mm"),
        ({"bank": 2, "last_bank": 2, "row": 2}, "row 2: its drawers are 1120.0 mm wide together, the cabinet 680.0 mm"),
    ],
)
def test_what_cannot_be_is_told(changed: dict, sentence: str) -> None:
    assert any(sentence in one for one in told(**changed)), told(**changed)


@pytest.mark.parametrize(
    ("drawers", "whole", "told"),
    [
        # under the second drawer are two of 100 mm each: their floors would be below the ground
        (
            [{}, {"above_ground": mm(150)}, {}, {}],
            {},
            "drawer 2: floor 150.0 mm above the ground, but the drawers under",
        ),
        ([{"above_ground": mm(60)}, {"above_ground": mm(200)}], {}, "drawer 1: floor 60.0 mm above the ground"),
        (
            [{"mass": kg(30)}, {"mass": kg(30)}],
            {"mass": kg(55)},
            "cabinet, mass 55.0 kg, but its drawers weigh 60.0 kg",
        ),
        ([{"load_rating": kg(90)}], {"load_rating": kg(80)}, "load rating 90.0 kg, but the whole cabinet's is 80.0 kg"),
    ],
)
def test_floors_and_masses_that_cannot_be_are_told(drawers: list[dict], whole: dict, told: str) -> None:
    boxes = [replace(drawer(str(row), row=row), **changed) for row, changed in enumerate(drawers, 1)]
    where = replace(cabinet(*boxes), **whole)
    sentences = [sentence for _, sentence in box_doubts(catalogue(cabinets=[where]))]
    assert sum(told in sentence for sentence in sentences) == 1, sentences


def test_floors_that_are_as_high_as_what_stands_under_them_are_not_doubted() -> None:
    boxes = drawer("1", above_ground=mm(100)), drawer("2", row=2, above_ground=mm(0))
    assert list(box_doubts(catalogue(cabinets=[cabinet(*boxes)]))) == []


def test_a_size_that_is_not_known_is_not_doubted() -> None:
    unknown = ("inside width", "inside depth", "clear height")
    sizes = {name.replace(" ", "_"): LARGEST_INSIDE[name] for name in unknown}
    assert told(**sizes, unknown=unknown) == []


def test_foam_that_may_be_nothing_is_told() -> None:
    assert told(foam=(Foam("odd", mm(1219), mm(610), mm(5), mm(6)),)) == [
        "foam odd: tolerance 6.0 mm of a thickness of 5.0 mm"
    ]


@pytest.mark.parametrize("seed", range(20))
def test_generated_cabinets_are_not_doubted(seed: int) -> None:
    assert list(box_doubts(generated(seed))) == []
