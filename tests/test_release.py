"""A plan released: parts, rows, files; the plan of the catalogue with them is made of what is there."""

from __future__ import annotations

import csv
import json
import shutil
from dataclasses import replace
from functools import cache
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue import record_documents, released_files
from matcher.catalogue.parsing import reading
from matcher.catalogue.reading import read_catalogue
from matcher.catalogue.record_documents import from_document, to_document
from matcher.catalogue.released_files import with_new_rows, write_release
from matcher.catalogue.rows import OrganizerRow
from matcher.catalogue.tables import Table, tables
from matcher.planning.answering import answer, plan
from matcher.planning.existing_foam import counting_on
from matcher.planning.holding import standing_today
from matcher.planning.outcome import Fits
from matcher.planning.question import ask
from matcher.records.errors import UsageError
from matcher.records.given import Catalogue, GroupRule, KeptOrganizer, Organizer, Pin, Wishes
from matcher.records.released_plan import ReleasedPlan
from matcher.records.units import kg, mm
from matcher.screening.sweep import screen
from matcher.studies.comparison import compare
from matcher.studies.part_numbers import new_parts, parts_of
from matcher.studies.releases import new_rows, released_as
from matcher.verification.checker import verify
from tests import every_result, generated
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.kept_cases import drawers_of, known_of

BUNDLED = Path(__file__).resolve().parents[1] / "data" / "workshop"
REUSED = ("as is", "shim", "cased")


def released(known: Catalogue, set_name: str = "set", cabinet_name: str = "cabinet", wishes: Wishes | None = None):
    """The plan and the plan released; nothing where there is none."""
    found = plan(known, HOUSE, set_name, cabinet_name, wishes=wishes or Wishes())
    return (found, released_as(found, known, "F-")) if isinstance(found, Fits) else (found, None)


def with_rows(known: Catalogue, told: ReleasedPlan) -> Catalogue:
    """The catalogue as it reads with the new rows."""
    added = (KeptOrganizer(row.drawer, row, pieces=row.pieces, part_of=row.part_of) for row in new_rows(told))
    return replace(known, parts=(*known.parts, *added))


@cache
def small(seed: int):
    return released(known_of(seed))


# ------------------------------------------------------------------------------------------------------- round trips


@settings(max_examples=15, deadline=None, derandomize=True)
@given(st.integers(0, 60))
def test_what_is_released_is_there_and_holds(seed: int) -> None:
    """Small catalogues in which plans divide, mix and share: every organizer has a part, and all of them are reused."""
    found, told = small(seed)
    if told is None:
        return
    known = with_rows(known_of(seed), told)
    assert all(one.row and one.row.part for one in told.organizers)
    again = answer(counting_on(ask(known, HOUSE, "set", "cabinet"), told))
    assert isinstance(again, Fits)
    assert {placed.how for placed in again.plan.placements} == {"as is"}
    assert drawers_of(again) == drawers_of(found)
    plainly = plan(known, HOUSE, "set", "cabinet")
    assert isinstance(plainly, Fits)
    assert plainly.goals[0].value == found.goals[0].value
    standing = standing_today(told, known, HOUSE)
    assert standing.holds, (standing.broke, standing.drawers)
    assert not any(one.changed for one in standing.drawers)


@settings(max_examples=6, deadline=None, derandomize=True)
@given(st.integers(0, 60))
def test_generated_catalogues_go_round(seed: int) -> None:
    """Catalogues as a planner could have typed them, with ready-made organizers, pins and inches."""
    known = generated.catalogue(seed, sets=1, cabinets=1, pieces=(15, 40))
    name, where = known.pieces[0].set, known.cabinets[0].name
    _, told = released(known, name, where)
    if told is None:
        return
    with_new = with_rows(known, told)
    assert {row.part for row in new_rows(told)}.isdisjoint(parts_of(known))
    assert set(known.organizers) == set(with_new.organizers)
    again = answer(counting_on(ask(with_new, HOUSE, name, where), told))
    assert isinstance(again, Fits)
    assert {placed.how for placed in again.plan.placements} <= set(REUSED)
    assert standing_today(told, with_new, HOUSE).holds
    assert from_document(ReleasedPlan, json.loads(json.dumps(to_document(told)))) == told


@pytest.mark.slow
def test_the_bundled_set_goes_round_through_files(run, tmp_path):
    """Files and all: released, planned again as is without another word, checked, and released again without a row.

    Of layouts in lines, so that a group is divided.
    """
    at, lines = tmp_path / "mine", tmp_path / "lines.toml"
    lines.write_text("[layout]\nnests = []\n")
    by = ("--house", lines)
    code, out, err = run("release", BUNDLED, "Alder-64", "Glen-5", "--part-prefix", "F-", "--out", at, *by)
    assert (code, err.splitlines()[-1].startswith(f"{at}: written")) == (0, True)
    assert "bench tools (2 of 2)" in out
    document = json.loads(run("plan", at, "Alder-64", "Glen-5", "--json", *by)[1])
    assert {one["how"] for one in document["placements"]} == {"as is"}
    assert run("check", at, "--plan", at / "plan.json", *by)[0] == 0
    code, out, _ = run("release", at, "Alder-64", "Glen-5", "--part-prefix", "F-", "--json", *by)
    assert (code, [one["new"] for one in json.loads(out)["parts"]]) == (0, [False] * 7)
    carried = json.loads(run("compare", at, "Alder-64", "Glen-7", "--reference", at / "plan.json", "--json", *by)[1])
    assert carried["variants"][0]["new"] == 0
    assert run("changes", BUNDLED, at, "--json")[0] == 0


# ------------------------------------------------------------------------------------------- parts, by hand and by rule


def blocks(*names: str, **more):
    return [piece(name, 200, 100, 20, group=name, **more) for name in names]


def test_who_keeps_a_part_and_who_gets_a_new_one():
    """As is and with a strip: the part it has. Trimmed: a new part, for the whole one stays what it is."""
    boxes = cabinet(drawer("1", 1, 1, 503.2, 383.2), drawer("2", 1, 2, 560, 383.2), drawer("3", 1, 3, 480, 383.2))
    made = [
        replace(organizer(name, 500, 380, field_width=mm(400), field_depth=mm(330), tier=n), part=f"OR-{n}", on_hand=4)
        for n, name in enumerate(("a", "b", "c"), 1)
    ]
    pins = tuple(Pin("in", group=name, drawer=str(n)) for n, name in enumerate(("a", "b", "c"), 1))
    known = catalogue((), made, [boxes], pins=pins)
    found, told = released(known)
    assert [placed.how for placed in found.plan.placements] == ["as is", "shim", "trim"]
    assert [(one.row.part, one.new, one.instead_of) for one in told.organizers] == [
        ("OR-1", False, ""),
        ("OR-2", False, ""),
        ("F-001", True, "OR-3"),
    ]
    (row,) = new_rows(told)
    assert (row.width, row.cabinet, row.drawer, row.revision, row.on_hand) == (
        mm(480) - 2 * HOUSE.clearance.side,
        "cabinet",
        "3",
        "A",
        None,
    )
    again = plan(with_rows(known, told), HOUSE, "set", "cabinet")
    assert [placed.how for placed in again.plan.placements] == ["as is", "shim", "as is"]
    assert verify(again.question.catalogue, HOUSE, again.plan) == ()
    unknown = replace(again.question.catalogue, parts=())
    assert {one.rule for one in verify(unknown, HOUSE, again.plan)} == {"R1"}, "a part that no row makes known"


def test_a_part_is_for_its_own_cabinet():
    """In another cabinet the stocked one counts as before, unless a reference says otherwise."""
    made = replace(organizer("a", 500, 380, field_width=mm(400), field_depth=mm(330)), part="OR-1")
    boxes = [
        cabinet(drawer(width=480, cabinet="cabinet")),
        cabinet(drawer(width=503.2, depth=383.2, cabinet="wide"), name="wide"),
    ]
    known = catalogue((), [made], boxes)
    _, told = released(known)
    other = plan(with_rows(known, told), HOUSE, "set", "wide")
    assert (other.plan.placements[0].how, other.plan.groups[0].organizer.part) == ("as is", "OR-1")
    (variant,) = compare(known, HOUSE, "set", ["wide"], reference=told).variants
    assert variant.outcome.plan.placements[0].how == "shim"


def test_what_is_joined_or_parted_is_listed():
    known = catalogue(blocks("a", "b"), (), [cabinet(drawer())])
    joined = Wishes(pins=(Pin("together", group="a", other="b"),))
    _, told = released(known, wishes=joined)
    (row,) = new_rows(told)
    assert (row.group, row.pieces, row.part_of) == ("a with b", 2, "")
    with_new = with_rows(known, told)
    assert plan(with_new, HOUSE, "set", "cabinet", wishes=joined).plan.placements[0].how == "as is"
    assert {placed.how for placed in plan(with_new, HOUSE, "set", "cabinet").plan.placements} == {"new"}
    six = [piece(f"block {n}", 200, 100, 20, group="blocks") for n in range(6)]
    boxes = cabinet(*(drawer(str(n), 1, n, 440, 232, 60) for n in (1, 2)))
    _, told = released(catalogue(six, (), [boxes]))
    rows = [(row.group, row.part_of, row.pieces, row.first_piece, row.drawer) for row in new_rows(told)]
    assert rows == [("blocks (1 of 2)", "blocks", 3, 1, "1"), ("blocks (2 of 2)", "blocks", 3, 4, "2")]


def test_of_several_parts_for_one_place_the_last_counts():
    """Released, the drawer made smaller, released again: the old part stays in the table, the new one is used."""
    known = catalogue(blocks("a"), (), [cabinet(drawer())])
    _, told = released(known)
    smaller = replace(with_rows(known, told), cabinets=(cabinet(drawer(width=400)),))
    found, later = released(smaller)
    assert {placed.how for placed in found.plan.placements} == {"trim"}
    twice = with_rows(smaller, later)
    again = plan(twice, HOUSE, "set", "cabinet")
    assert (again.plan.placements[0].how, again.plan.groups[0].organizer.part) == ("as is", "F-002")
    assert parts_of(twice) == ["F-001", "F-002"]


def test_a_part_counts_for_as_many_tools_only():
    known = catalogue(blocks("a"), (), [cabinet(drawer())])
    _, told = released(known)
    more = replace(with_rows(known, told), pieces=(*known.pieces, piece("late", 100, 50, 20, group="a")))
    assert plan(more, HOUSE, "set", "cabinet").plan.placements[0].how == "new"


def test_screening_says_what_plan_says_of_released_bundles():
    known = catalogue(blocks("a", "b"), (), [cabinet(drawer(), drawer("2", row=2))])
    _, told = released(known)
    (pair,) = screen(with_rows(known, told), HOUSE)
    assert (pair.verdict, pair.figures.count("as is"), pair.figures.count("new")) == ("fits", 2, 0)


PARTS = st.lists(st.sampled_from(["F-1", "F-007", "F-12", "f-13", "F-x", "OR-99", "F-2 B", ""]), max_size=6)


@given(PARTS, st.sampled_from(["F-", "OR-", "f-", "New."]))
def test_numbers_go_on_and_none_is_there_twice(parts: list[str], prefix: str) -> None:
    made = [replace(organizer(f"g{n}"), part=part) for n, part in enumerate(parts)]
    numbers = new_parts([catalogue((), made)], prefix)
    drawn = [next(numbers) for _ in range(5)]
    assert len(set(drawn)) == 5
    assert {one.lower() for one in drawn}.isdisjoint(part.lower() for part in parts)
    ends = (part[len(prefix) :] for part in parts if part.lower().startswith(prefix.lower()))
    last = max((int(end) for end in ends if end.isdecimal()), default=0)
    assert [int(one[len(prefix) :]) for one in drawn] == list(range(last + 1, last + 6))


@pytest.mark.parametrize("prefix", ["", " ", "F1", "=F-", "-F", "F F-", "F\n", "x" * 41, "F-²"])
def test_a_prefix_that_is_none_is_refused(run, folder, prefix):
    code, out, err = run("release", folder, "trays", "wide", "--part-prefix", prefix)
    assert (code, out) == (2, "")
    assert "part prefix" in err
    assert "Traceback" not in err


# -------------------------------------------------------------------------------------------------------------- files


@pytest.fixture
def blocky(tmp_path) -> Path:
    """Two groups to be cut, in inches, beside a ready-made organizer with a part."""
    at = tmp_path / "blocky"
    at.mkdir()
    (at / "drawers.csv").write_text(
        "cabinet,drawer,bank,row,inside_width_in,inside_depth_in,clear_height_in\n"
        "wide,1,1,1,22 1/16,15 3/4,4\nwide,2,1,2,22 1/16,15 3/4,4\nwide,3,1,3,22 1/16,15 3/4,4\nlow,1,1,1,22,15,1/2\n"
    )
    (at / "tools.csv").write_text(
        "set,tool,kind,count,length_mm,width_mm,height_mm,mass_kg,group\n"
        "tools,block,other,3,100,40,20,1,blocks\ntools,bar,other,1,200,30,20,1,bars\n"
    )
    (at / "organizers.csv").write_text(
        "Set, group ,part,width_in,depth_in,height_in,on_hand\ntools,tray,F-007,21 15/16,15 5/8,2,3\n"
    )
    (at / "foam.csv").write_text("foam,length_mm,width_mm,thickness_mm,price\nblack,1200,600,38,20\n")
    (at / "house.toml").write_text("[clearance]\nside_mm = 1.5\n")
    return at


def test_rows_that_are_there_stay_and_new_ones_read_back_exactly(run, blocky, tmp_path):
    at = tmp_path / "out"
    code, out, _ = run("release", blocky, "tools", "wide", "--part-prefix", "F-", "--out", at, "--json")
    assert code == 0
    old, new = (list(csv.reader((where / "organizers.csv").open())) for where in (blocky, at))
    assert [row[:7] for row in new[:2]] == old
    told = from_document(ReleasedPlan, json.loads((at / "plan.json").read_text())["released"])
    assert json.loads(out) == json.loads((at / "plan.json").read_text())
    read = read_catalogue(at)
    assert {kept.made for kept in read.parts} == set(new_rows(told))
    assert [row.part for row in new_rows(told)] == ["F-008", "F-009"]
    assert {row.foam for row in new_rows(told)} == {"black"}
    assert sum(row.unit_cost for row in new_rows(told)) == pytest.approx(20, abs=0.02), "one sheet holds both"
    assert (at / "house.toml").read_text() == (blocky / "house.toml").read_text()
    assert run("check", at, "--plan", at / "plan.json")[0] == 0
    assert run("plan", at, "tools", "wide", "--keep", at / "plan.json", "--json")[0] == 0


@given(st.integers(2, 3_199_000), st.integers(0, 3_199_000), st.integers(0, 10**9), st.sampled_from(["mm kg", "in lb"]))
def test_sizes_and_masses_are_read_back_exactly_in_either_unit(size: int, margin: int, mass: int, units: str) -> None:
    """Any length on the grid and any mass, in columns of millimeters or inches, kilograms or pounds.

    A size of one step of the grid is the least there is: inches with a finite number of digits may be below it.
    """
    length, weight = units.split()
    sides = ("width", "depth", "height", "field_width", "field_left")
    frame = pd.DataFrame(columns=["set", "group", *(f"{side}_{length}" for side in sides), f"mass_{weight}"], dtype=str)
    row = Organizer("s", "g", size, size, size, mass, size, None, margin, part="F-1", pieces=3)
    table = Table("organizers", "organizers", "", with_new_rows(frame, [row]))
    faults: list = []
    (read,) = reading(OrganizerRow, table, faults).rows
    assert faults == []
    assert (read.width, read.field_width, read.field_left, read.mass, read.pieces) == (size, size, margin, mass, 3)


def test_a_workbook_has_the_plan_beside_it(run, blocky, tmp_path):
    book = tmp_path / "mine.xlsx"
    code, _, err = run("release", blocky, "tools", "wide", "--part-prefix", "F-", "--out", book)
    assert code == 0
    assert f"name {blocky / 'house.toml'} whenever the workbook is used" in err
    assert set(tables(book)) == {*tables(blocky)}
    words = ("check", book, "--plan", tmp_path / "mine.plan.json", "--house", blocky / "house.toml")
    assert run(*words)[0] == 0


def test_what_is_there_is_never_replaced(run, blocky, tmp_path):
    at, book = tmp_path / "out", tmp_path / "mine.xlsx"
    assert run("release", blocky, "tools", "wide", "--part-prefix", "F-", "--out", at)[0] == 0
    before = {file: file.read_bytes() for file in at.iterdir()}
    for place in (at, blocky, tmp_path / "no" / "such", tmp_path / "out.csv"):
        code, out, err = run("release", blocky, "tools", "wide", "--part-prefix", "F-", "--out", place)
        assert (code, out, "--out" in err) == (2, "", True)
    book.with_suffix(".plan.json").write_text("{}")
    code, _, err = run("release", blocky, "tools", "wide", "--part-prefix", "F-", "--out", book)
    assert (code, "is there already" in err, book.exists()) == (2, True, False)
    assert before == {file: file.read_bytes() for file in at.iterdir()}


@pytest.mark.parametrize("name", ["out", "mine.xlsx"])
def test_a_release_that_fails_half_way_leaves_nothing(blocky, tmp_path, monkeypatch, name):
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(released_files, "write_workbook", full)
    monkeypatch.setattr(shutil, "copyfile", full)
    there = set(tmp_path.iterdir())
    with pytest.raises(UsageError, match="No space left"):
        write_release(blocky, tmp_path / name, [], "{}")
    assert set(tmp_path.iterdir()) == there


def test_a_refusal_releases_nothing(run, blocky, tmp_path):
    code, out, err = run("release", blocky, "tools", "low", "--part-prefix", "F-", "--out", tmp_path / "out", "--json")
    document = json.loads(out)
    assert (code, document["verdict"], document["parts"], document["released"]) == (1, "does not fit", [], None)
    assert "not written" in err
    assert not (tmp_path / "out").exists()
    assert run("release", blocky, "tools", "none", "--part-prefix", "F-")[0] == 2


def test_what_is_undecided_is_released_neither(run, tmp_path):
    at = every_result.catalogue(tmp_path / "every")
    assert run("release", at, "bar", "rated", "--part-prefix", "F-")[0] == 3


# --------------------------------------------------------------------------------------------------------- documents


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.integers(0, 12), st.data())
def test_a_damaged_document_is_refused_by_the_name_of_a_key(seed: int, data: st.DataObject) -> None:
    """Whatever one value of a released plan becomes, it is read as a plan or refused in one line."""
    _, told = small(seed)
    if told is None:
        return
    document = json.loads(json.dumps(to_document(told)))
    node, key = document, None
    while isinstance(node, dict | list) and node:
        parent, key = node, data.draw(st.sampled_from(sorted(node) if isinstance(node, dict) else range(len(node))))
        node = parent[key]
        if data.draw(st.booleans()):
            break
    parent[key] = data.draw(st.sampled_from([None, "x", -1, 3.5, [], {}, True, float("inf")]))
    try:
        read = from_document(ReleasedPlan, document)
    except KeyError as refused:
        read = refused.args[0]
    assert isinstance(read, ReleasedPlan | str)


@pytest.mark.parametrize(
    "text", ["", "{}", "[]", '{"released": null}', '{"released": {}}', '{"released": {"snapshot": 3}}']
)
@pytest.mark.parametrize("words", [("check", "--plan"), ("compare", "trays", "--reference")])
def test_a_file_that_holds_no_released_plan_is_one_clear_line(run, folder, tmp_path, text, words):
    (tmp_path / "plan.json").write_text(text)
    code, out, err = run(words[0], folder, *words[1:], tmp_path / "plan.json")
    assert (code, out, len(err.strip().splitlines())) == (2, "", 1)
    assert "expected the document of a released plan" in err


def test_lengths_are_told_in_millimeters_and_masses_in_kilograms() -> None:
    """No size or mass is told on the grid that it is kept on."""
    _, told = released(catalogue(blocks("a", mass=1.5), (), [cabinet(drawer(width=560, load_rating=kg(40)))]))
    document = to_document(told)
    (box,), (made,) = document["drawers"], document["organizers"]
    assert (box["inside_width_mm"], box["load_rating_kg"]) == (560, 40)
    assert (made["tools"][0]["length_mm"], made["tools"][0]["mass_high_kg"]) == (200, 1.5)
    assert made["placement"]["layout"]["pockets"][0]["ring_mm"].count(",") >= 4
    assert record_documents.LENGTHS.isdisjoint(record_documents.MASSES)


def test_groups_that_share_keep_their_places_in_the_plan() -> None:
    rules = (GroupRule("a", "a", 1), GroupRule("b", "a", 2))
    known = catalogue(blocks("a", "b"), (), [cabinet(drawer("1", 1, 1, 320, 232, 60))], group_rules=rules)
    found, told = released(known)
    again = answer(counting_on(ask(known, HOUSE, "set", "cabinet"), told))
    assert [(one.left, one.front, one.how) for one in again.plan.placements] == [
        (one.left, one.front, "as is") for one in found.plan.placements
    ]
