"""A set added to an earlier plan: the plan stays, its drawers are taken and weigh, and every output says so."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from matcher.catalogue.kept import read_earlier
from matcher.planning.adding import earlier_words, taken_by
from matcher.planning.answering import plan
from matcher.planning.differences import snapshot
from matcher.planning.outcome import DoesNotFit, Fits
from matcher.records.errors import UsageError
from matcher.records.given import Pin, Wishes
from matcher.records.units import kg
from matcher.report.document import plan_document
from matcher.verification.checker import verify
from tests import test_cautions
from tests.builders import HOUSE, catalogue, organizer

MASSES = {"base": (30, 25, 20), "more": (18, 12), "last": (6,)}
"""Kilograms of the organizers of each set, all as large as a drawer."""


def tray(set_name, number, mass):
    return organizer(f"{set_name} {number}", 480, 500, 50, set_name, tier=number, mass=kg(mass))


def known(**changes):
    ready = [tray(name, n, mass) for name, masses in MASSES.items() for n, mass in enumerate(masses, 1)]
    return catalogue(organizers=ready, cabinets=[test_cautions.cabinet(**changes)])


def planned(set_name, *earlier, pins=(), where=None) -> Fits:
    asked = Wishes(add_to=tuple(map(snapshot, earlier)), pins=tuple(pins))
    found = plan(where or known(), HOUSE, set_name, "C", wishes=asked)
    assert isinstance(found, Fits)
    return found


def drawers(outcome):
    return {one.group: one.drawer for one in outcome.plan.placements}


def loads(outcome):
    """What is said of loads and tipping."""
    return {(one.level, one.code, one.text) for one in outcome.cautions if one.code.startswith(("LOAD", "TIP"))}


BASE = planned("base")
MORE = planned("more", BASE)


def test_only_drawers_that_the_earlier_plan_leaves_free_are_used():
    assert not set(drawers(MORE).values()) & set(drawers(BASE).values())
    assert set(MORE.plan.free_drawers) == set(BASE.plan.free_drawers) - set(drawers(MORE).values())
    assert (MORE.most_free, MORE.fewest_free) == (3, 3), "8 drawers less 3 taken less 2 used: taken ones are not free"
    assert verify(MORE.question.catalogue, HOUSE, MORE.plan) == ()


def test_loads_and_tipping_are_those_of_one_plan_of_both_in_the_same_drawers():
    places = drawers(BASE) | drawers(MORE)
    pins = [Pin("in", group=group, drawer=drawer) for group, drawer in places.items()]
    assert loads(MORE) == loads(planned("base+more", pins=pins))
    assert loads(MORE) != loads(planned("more", pins=[pin for pin in pins if pin.group in drawers(MORE)]))


@pytest.mark.parametrize("rating", [200, 230, 231])
def test_the_cabinet_carries_both(rating):
    """125 kg of cabinet and 105 kg in it are 230 kg and a little; its own plan weighs 30 kg."""
    where = known(load_rating=kg(rating), mass=kg(125))
    more = planned("more", planned("base", where=where), where=where)
    errors = [one.text for one in more.cautions if (one.code, one.level) == ("LOAD-C", "error")]
    assert bool(errors) == (rating < 230)
    assert all("507.1 lb" in text for text in errors), "230 kg, its drawers given in inches"


def test_a_drawer_of_the_earlier_plan_is_checked_against_its_rating_too():
    where = known()
    (box,) = where.cabinets
    name = drawers(BASE)["base 1"]
    weak = tuple(replace(one, load_rating=kg(29)) if one.name == name else one for one in box.drawers)
    weaker = replace(where, cabinets=(replace(box, drawers=weak),))
    found = planned("more", BASE, where=weaker)
    (text,) = [one.text for one in found.cautions if one.code == "LOAD-D" and one.level == "error"]
    assert f"Drawer {name} carries 66.1 lb" in text, "30 kg, its drawers given in inches"


def test_without_masses_in_the_earlier_plan_nothing_is_said_to_have_passed():
    kept = snapshot(BASE)
    unknown = replace(kept, organizers=())
    found = plan(known(), HOUSE, "more", "C", wishes=Wishes(add_to=(unknown,)))
    assert isinstance(found, Fits)
    told = [one.text for one in found.cautions if one.code == "DATA"]
    assert any("Tip check not evaluated" in text and "the mass of base 1" in text for text in told)
    assert not [one for one in found.cautions if one.code.startswith("TIP")]


def test_a_plan_may_be_added_to_one_that_was_added_itself(tmp_path):
    path = tmp_path / "more.json"
    path.write_text(json.dumps(plan_document(MORE)), encoding="utf-8")
    earlier = read_earlier(path)
    assert [one.set for one in earlier] == ["base", "more"]
    assert earlier == (snapshot(BASE), snapshot(MORE)), "masses, sizes and places read back exactly"
    found = plan(known(), HOUSE, "last", "C", wishes=Wishes(add_to=earlier))
    assert isinstance(found, Fits)
    assert set(taken_by(earlier)) == set(drawers(BASE).values()) | set(drawers(MORE).values())
    assert not set(taken_by(earlier)) & {*drawers(found).values(), *found.plan.free_drawers}


def test_what_no_longer_goes_in_is_refused_without_pointing_to_another_cabinet():
    where = known()
    (box,) = where.cabinets
    small = replace(box, drawers=box.drawers[:4])
    large = replace(box, name="D", drawers=tuple(replace(one, cabinet="D") for one in box.drawers))
    both = replace(where, cabinets=(small, large))
    assert isinstance(plan(both, HOUSE, "more", "C"), Fits)
    base = planned("base", where=both)
    found = plan(both, HOUSE, "more", "C", wishes=Wishes(add_to=(snapshot(base),)))
    assert isinstance(found, DoesNotFit)
    assert not [turn for turn in found.turns if turn.cabinet], "the earlier plan is in no other cabinet"


def test_a_pin_into_a_taken_drawer_cannot_hold():
    taken = drawers(BASE)["base 1"]
    asked = Wishes(add_to=(snapshot(BASE),), pins=(Pin("in", group="more 1", drawer=taken),))
    found = plan(known(), HOUSE, "more", "C", wishes=asked)
    assert isinstance(found, DoesNotFit)


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"cabinet": "D"}, "the earlier plan is of 'base' in 'D'; expected one in 'C'"),
        ({"drawers": (("base 1", "77"),)}, "uses 77; expected drawers of 'C' that are not blocked"),
    ],
)
def test_an_earlier_plan_of_something_else_is_refused(change, expected):
    with pytest.raises(UsageError, match=expected):
        plan(known(), HOUSE, "more", "C", wishes=Wishes(add_to=(replace(snapshot(BASE), **change),)))


def test_the_words_name_every_drawer_with_what_lies_in_it():
    told = earlier_words(snapshot(BASE))
    assert told.startswith("beside the plan of base, which stays in drawers ")
    assert all(f"{drawer} ({group})" in told for group, drawer in drawers(BASE).items())


# ------------------------------------------------------------------------------------------------------------ commands


@pytest.fixture
def trays(folder):
    """The trays, a set of one more that goes into the third drawer, and the plan of the first two."""
    more = "add-on,tray c,550,390,50,1\nbulk,tray d,550,390,50,1\nbulk,tray e,550,390,50,2\n"
    table = folder / "organizers.csv"
    table.write_text(table.read_text(encoding="utf-8") + more, encoding="utf-8")
    return folder


@pytest.fixture
def written(run, trays, tmp_path):
    assert run("plan", trays, "trays", "wide", "--out", tmp_path / "old.json")[0] == 0
    return tmp_path / "old.json"


def test_the_command_fills_the_free_drawer_and_says_what_lies_in_the_others(run, trays, written, tmp_path):
    files = [tmp_path / f"new.{suffix}" for suffix in ("html", "xlsx", "svg", "pdf", "csv")]
    before = written.read_bytes()
    outs = [word for path in files for word in ("--out", path)]
    code, out, _ = run("plan", trays, "add-on", "wide", "--add-to", written, *outs)
    told = " ".join(out.split())
    assert code == 0
    assert written.read_bytes() == before
    assert "0 of 1 drawer free (in any plan: fewest 0, most 0); 2 more hold an earlier plan" in told
    assert "asked: beside the plan of trays, which stays in drawers 1 (tray a) and 2 (tray b)" in told
    assert "(trays: tray a)" in out
    document = json.loads(run("plan", trays, "add-on", "wide", "--add-to", written, "--json")[1])
    assert [(one["group"], one["drawer"]) for one in document["placements"]] == [("tray c", "3")]
    assert document["free_drawers"] == []
    assert document["taken_drawers"] == [
        {"drawer": "1", "holds": ["trays: tray a"]},
        {"drawer": "2", "holds": ["trays: tray b"]},
    ]
    page, poster = (files[n].read_text(encoding="utf-8") for n in (0, 2))
    assert "holds an earlier plan" in page
    assert "2 more hold an earlier plan" in page
    assert poster.count("earlier plan") >= 2
    assert all(path.stat().st_size for path in files)


def test_what_does_not_go_beside_the_earlier_plan_is_no(run, trays, written):
    assert run("plan", trays, "bulk", "wide")[0] == 0
    code, out, _ = run("plan", trays, "bulk", "wide", "--add-to", written)
    assert code == 1
    assert "does not fit" in out


def test_near_to_its_own_earlier_plan_and_added_to_another_go_together(run, trays, written, tmp_path):
    words = ["plan", trays, "add-on", "wide", "--add-to", written]
    assert run(*words, "--out", tmp_path / "own.json")[0] == 0
    code, out, _ = run(*words, "--keep", tmp_path / "own.json", "--json")
    assert code == 0
    assert json.loads(out)["kept"]["moves"] == []


def test_the_record_of_a_run_holds_what_it_was_added_to(run, trays, written, tmp_path):
    first = run("plan", trays, "add-on", "wide", "--add-to", written, "--json")[1]
    (earlier,) = json.loads(first)["run"]["wishes"]["add_to"]
    (tmp_path / "again.json").write_text(json.dumps(earlier), encoding="utf-8")
    assert run("plan", trays, "add-on", "wide", "--add-to", tmp_path / "again.json", "--json")[1] == first


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"cabinet": "low"}, "the earlier plan is of 'trays' in 'low'; expected one in 'wide'"),
        ({"verdict": "does not fit"}, "holds no plan"),
        ({"placements": [{"group": "tray a", "drawer": "9"}]}, "uses 9; expected drawers of 'wide'"),
        ({"placements": 5}, "expected the JSON document of a plan"),
        ({"run": {"wishes": {"add_to": [{"set": 1}]}}}, "expected the JSON document of a plan"),
    ],
)
def test_a_file_that_is_no_earlier_plan_of_this_cabinet_is_refused(run, trays, written, change, expected):
    written.write_text(json.dumps(json.loads(written.read_text(encoding="utf-8")) | change), encoding="utf-8")
    code, out, err = run("plan", trays, "add-on", "wide", "--add-to", written)
    assert (code, out) == (2, "")
    assert expected in err


@pytest.mark.parametrize("mass", ["heavy", -1, 1e9, True])
def test_a_mass_that_is_none_is_refused_by_its_name(run, trays, written, mass):
    document = json.loads(written.read_text(encoding="utf-8"))
    document["placements"][0]["mass_high_kg"] = mass
    written.write_text(json.dumps(document), encoding="utf-8")
    code, _, err = run("plan", trays, "add-on", "wide", "--add-to", written)
    assert code == 2
    assert "mass_high_kg" in err


def test_a_released_plan_is_added_to_like_any_other(run, trays, tmp_path):
    assert run("release", trays, "trays", "wide", "--part-prefix", "T-", "--out", tmp_path / "made")[0] == 0
    code, out, _ = run("plan", trays, "add-on", "wide", "--add-to", tmp_path / "made" / "plan.json", "--json")
    assert code == 0
    assert [(one["group"], one["drawer"]) for one in json.loads(out)["placements"]] == [("tray c", "3")]


def test_an_addition_is_released_beside_the_earlier_plan_and_both_hold(run, trays, tmp_path):
    first, second = tmp_path / "first", tmp_path / "second"
    assert run("release", trays, "trays", "wide", "--part-prefix", "T-", "--out", first)[0] == 0
    before = (first / "plan.json").read_bytes()
    words = ["release", first, "add-on", "wide", "--part-prefix", "T-", "--add-to", first / "plan.json"]
    code, out, _ = run(*words, "--out", second, "--json")
    assert code == 0
    assert (first / "plan.json").read_bytes() == before
    assert [(one["group"], one["drawer"]) for one in json.loads(out)["parts"]] == [("tray c", "3")]
    for released in (first / "plan.json", second / "plan.json"):
        code, told, _ = run("check", second, "--plan", released)
        assert code == 0, told
    # A third is added to both: the plan in the file knows what it was itself added to.
    code, out, _ = run("plan", second, "bulk", "wide", "--add-to", second / "plan.json", "--json")
    taken = {row["drawer"] for row in json.loads(out)["taken_drawers"]}
    assert (code, taken) == (1, {"1", "2", "3"})


def test_an_added_plan_breaks_where_a_drawer_of_the_earlier_one_is_gone(run, trays, tmp_path):
    first, second = tmp_path / "first", tmp_path / "second"
    assert run("release", trays, "trays", "wide", "--part-prefix", "T-", "--out", first)[0] == 0
    words = ["release", first, "add-on", "wide", "--part-prefix", "T-", "--add-to", first / "plan.json"]
    assert run(*words, "--out", second)[0] == 0
    table = second / "drawers.csv"
    rows = table.read_text(encoding="utf-8").splitlines(keepends=True)
    table.write_text("".join(row for row in rows if not row.startswith("wide,1,")), encoding="utf-8")
    code, told, err = run("check", second, "--plan", second / "plan.json")
    assert code == 1, (told, err)
    assert "drawer" in told
