"""Cabinets of the catalogue known in part: cells ? and ~, conditions against brute force, guesses marked."""

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.reading import read_catalogue
from matcher.planning.answering import plan
from matcher.records.errors import CatalogueError
from matcher.records.typed import LARGEST_INSIDE
from matcher.records.units import mm
from matcher.report.answer_lines import headline
from matcher.report.drawer_states import verdict_sentence
from matcher.screening.sweep import screen
from matcher.studies.comparison import compare
from matcher.studies.inside_sizes import DIMENSIONS, resized
from matcher.studies.partly_known import conditional_plan
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer

FIELDS = dict(zip(DIMENSIONS, ("inside_width", "inside_depth", "clear_height"), strict=True))


def _unknown(box, *names):
    """The drawer as it is read where these cells say ``?``."""
    sizes = {FIELDS[name]: LARGEST_INSIDE[name] for name in names}
    return replace(box, **sizes, unknown=names, slot="blocked", slot_told=box.slot)


def _known(*boxes, trays=2):
    ready = [organizer(f"tray {n}", tier=n) for n in range(1, trays + 1)]
    return catalogue((), ready, [cabinet(*boxes, name="C")])


def _with(known, name, size, value):
    """The catalogue with one drawer's size told."""
    (where,) = known.cabinets
    boxes = tuple(resized(box, size, mm(value)) if box.name == name else box for box in where.drawers)
    return replace(known, cabinets=(replace(where, drawers=boxes),))


def _fits(known):
    return plan(known, HOUSE, "set", "C").verdict == "fits"


@settings(max_examples=12, deadline=None)
@given(st.sampled_from(DIMENSIONS), st.integers(495, 530), st.integers(375, 420), st.integers(45, 70))
def test_a_condition_is_that_of_brute_force(size, width, depth, height):
    box = drawer("2", row=2, width=width, depth=depth, height=height, cabinet="C")
    known = _known(drawer("1", cabinet="C"), _unknown(box, size))
    found = plan(known, HOUSE, "set", "C")
    enough = [value for value in (1, *range(45, 70), *range(375, 420), *range(495, 530), 700) if value]
    fitting = [value for value in enough if _fits(_with(known, "2", size, value))]
    if not fitting:
        assert found.verdict == "does not fit"
        return
    assert found.verdict == "undecided"
    assert found.reasons[0].code == "unknown-size"
    (one,) = conditional_plan(found).conditions
    assert (one.drawer, one.dimension, one.told, one.needed) == ("2", size, None, True)
    least = one.at_least // mm(1)
    assert _fits(_with(known, "2", size, least))
    assert not _fits(_with(known, "2", size, least - 1))
    assert all((value >= least) == (value in fitting) for value in enough)


def test_a_plan_without_the_drawer_that_is_not_known_holds_whatever_it_is():
    known = _known(drawer("1"), drawer("2", row=2), _unknown(drawer("3", row=3), "inside depth"))
    found = plan(known, HOUSE, "set", "C")
    assert found.verdict == "fits"
    assert {place.drawer for place in found.plan.placements} == {"1", "2"}
    assert [one.text for one in found.cautions if one.code == "unknown"] == [
        "Drawer 3 is left aside: its inside depth is not known."
    ]


def test_what_fits_with_no_size_at_all_is_no():
    known = _known(drawer("1"), _unknown(drawer("2", row=2, height=20), "inside depth", "inside width"))
    found = plan(known, HOUSE, "set", "C")
    assert found.verdict == "does not fit"
    assert conditional_plan(found) is None


def test_two_unknown_sizes_are_enough_together():
    known = _known(drawer("1"), _unknown(drawer("2", row=2), "inside depth", "inside width"))
    found = conditional_plan(plan(known, HOUSE, "set", "C"))
    assert [one.dimension for one in found.conditions] == ["inside width", "inside depth"]
    told = known
    for one in found.conditions:
        told = _with(told, "2", one.dimension, one.at_least // mm(1))
    assert _fits(told)
    for one in found.conditions:
        assert not _fits(_with(told, "2", one.dimension, one.at_least // mm(1) - 1))


def test_a_plan_on_a_guess_says_so_and_one_beside_it_does_not():
    guessed = replace(drawer("2", row=2), guessed=("inside depth",))
    answer = plan(_known(drawer("1"), guessed), HOUSE, "set", "C")
    assert "fits, if guessed sizes of 2 hold" in headline(answer).plain
    assert verdict_sentence(answer).startswith("Fits, if guessed sizes of 2 ")
    (one,) = [one for one in answer.cautions if one.code == "guess"]
    assert one.text.startswith("Drawer 2: the plan holds if its inside depth is at least 400 mm, which is a guess")
    beside = plan(_known(drawer("1", height=60), guessed, trays=1), HOUSE, "set", "C")
    used = {place.drawer for place in beside.plan.placements}
    assert any(one.code == "guess" for one in beside.cautions) == ("2" in used)


@pytest.mark.parametrize(("name", "turns"), [("inside depth", True), ("inside width", False)])
def test_a_refusal_that_a_larger_guess_would_turn_says_so(name, turns):
    box = replace(drawer("2", row=2, depth=300), guessed=(name,))
    found = plan(_known(drawer("1"), box), HOUSE, "set", "C")
    assert found.verdict == "does not fit"
    assert any(one.code == "guessed-size" for one in found.reasons) == turns


def test_comparison_and_screening_say_the_same():
    boxes = [drawer("1"), _unknown(drawer("2", row=2), "inside depth")]
    known = _known(*boxes)
    (variant,) = compare(known, HOUSE, "set").variants
    (pair,) = screen(known, HOUSE)
    assert variant.outcome.verdict == pair.verdict == "undecided"


# ------------------------------------------------------------------------------------------------------- from files


def _typed(folder, cell):
    table = folder / "drawers.csv"
    rows = [row.split(",") for row in table.read_text(encoding="utf-8").splitlines()]
    place = rows[0].index("inside_depth_mm")
    changed = next(row for row in rows[1:] if row[0] == "wide")
    changed[place] = cell
    table.write_text("\n".join(",".join(row) for row in rows) + "\n", encoding="utf-8")
    return changed[1]


def test_cells_may_say_unknown_or_a_guess(folder):
    name = _typed(folder, "?")
    (box,) = [one for where in read_catalogue(folder).cabinets if where.name == "wide" for one in where.drawers
              if one.name == name]  # fmt: skip
    assert (box.unknown, box.slot, box.slot_told) == (("inside depth",), "blocked", "foam")
    _typed(folder, "~395.5")
    (box,) = [one for where in read_catalogue(folder).cabinets if where.name == "wide" for one in where.drawers
              if one.name == name]  # fmt: skip
    assert (box.guessed, box.unknown, box.slot, box.inside_depth) == (("inside depth",), (), "foam", mm(395.5))


@pytest.mark.parametrize("cell", ["~", "~?", "??", "~-3", "?5"])
def test_a_cell_that_is_neither_is_refused(folder, cell):
    _typed(folder, cell)
    with pytest.raises(CatalogueError, match=r"\? where it is not known, ~ before a guess"):
        read_catalogue(folder)


def test_fit_tells_the_condition(run, folder):
    table = folder / "organizers.csv"
    more = "trays,tray y,550,390,50,1\n"
    name = _typed(folder, "?")
    table.write_text(table.read_text(encoding="utf-8") + more, encoding="utf-8")
    code, out, _ = run("fit", folder, "trays", "wide")
    told = " ".join(out.split())
    assert code == 3, told
    assert "it depends on sizes that are not known: inside depth of" in told
    (document,) = json.loads(run("fit", folder, "trays", "wide", "--json")[1])
    (one,) = document["conditions"]
    assert f"wide: fits if {name} is at least {one['at_least_mm']:g} mm deep" in told
    _typed(folder, f"{one['at_least_mm']:g}")
    assert run("fit", folder, "trays", "wide")[0] == 0
    _typed(folder, f"{one['at_least_mm'] - 1:g}")
    assert run("fit", folder, "trays", "wide")[0] == 1
