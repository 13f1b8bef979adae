"""From one catalogue to the next: planted edits are found and nothing else; what they do, by hand."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.reading import read_catalogue
from matcher.records.given import Demand, Foam, GroupRule, Obstruction, Pin, Relation
from matcher.records.units import kg, mm
from matcher.studies.catalogue_changes import BundleChange, changes_between, worst_of
from matcher.studies.edits import edits
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece

BUNDLED = Path(__file__).resolve().parents[1] / "data" / "workshop"


def workshop():
    """Two sets of a ready-made organizer each and a case, in two cabinets with a drawer for foam and one without."""
    cabinets = [
        cabinet(
            drawer("A", 1, 1, 403.2, 303.2, 60, cabinet=name),
            drawer("B", 1, 2, 500, 400, 150, cabinet=name, slot="no foam"),
            name=name,
        )
        for name in ("one", "two")
    ]
    made = [
        replace(organizer("tools", 400, 300, 40, name, field_width=mm(300), field_depth=mm(200)), part=part, on_hand=n)
        for name, part, n in (("ash", "F-1", 7), ("oak", "F-2", 30))
    ]
    pieces = [piece("case", 300, 200, 100, kind="cased", set=name, group="case") for name in ("ash", "oak")]
    demand = tuple(Demand(name, where, units, 10) for name, where, units in DEMAND)
    return catalogue(pieces, made, cabinets, demand=demand, group_rules=(GroupRule("case", "cases", 6),))


DEMAND = (("ash", "one", 20), ("ash", "two", 90), ("oak", "one", 50))


def with_drawer(known, cabinet_name, drawer_name, **new):
    """A catalogue in which one drawer is another."""

    def changed(one):
        if one.name != cabinet_name:
            return one
        return replace(one, drawers=tuple(replace(d, **new) if d.name == drawer_name else d for d in one.drawers))

    return replace(known, cabinets=tuple(map(changed, known.cabinets)))


def rows(known, table, change):
    return replace(known, **{table: tuple(sorted(map(change, getattr(known, table)), key=repr))})


EDITS = {
    "drawers one, A inside_width": lambda c: with_drawer(c, "one", "A", inside_width=mm(398.2)),
    "drawers one, B clear_height": lambda c: with_drawer(c, "one", "B", clear_height=mm(90)),
    "drawers two, A load_rating": lambda c: with_drawer(c, "two", "A", load_rating=kg(30)),
    "drawers two, A liner": lambda c: with_drawer(c, "two", "A", liner=mm(1)),
    "drawers two, B obstructions": lambda c: with_drawer(c, "two", "B", obstructions=(Obstruction(0, 0, 9, 9, 9),)),
    "drawers two, B slot": lambda c: with_drawer(c, "two", "B", slot="blocked"),
    "cabinets two price": lambda c: rows(c, "cabinets", lambda r: replace(r, price=99.0) if r.name == "two" else r),
    "cabinets one mass": lambda c: rows(c, "cabinets", lambda r: replace(r, mass=kg(80)) if r.name == "one" else r),
    "organizers ash, tools width": lambda c: rows(
        c, "organizers", lambda r: replace(r, width=mm(410)) if r.set == "ash" else r
    ),
    "organizers oak, tools on_hand": lambda c: rows(
        c, "organizers", lambda r: replace(r, on_hand=31) if r.set == "oak" else r
    ),
    "organizers oak, tools revision": lambda c: rows(
        c, "organizers", lambda r: replace(r, revision="B") if r.set == "oak" else r
    ),
    "tools oak, case length": lambda c: rows(
        c, "pieces", lambda r: replace(r, length=mm(310)) if r.set == "oak" else r
    ),
    "tools ash, case mass": lambda c: rows(c, "pieces", lambda r: replace(r, mass=kg(2)) if r.set == "ash" else r),
    "tools ash, case count": lambda c: rows(c, "pieces", lambda r: replace(r, count=2) if r.set == "ash" else r),
    "tools ash, saw ": lambda c: replace(c, pieces=(*c.pieces, piece("saw", 90, 30, 20, set="ash", group="saws"))),
    "pins in, ash, tools, A ": lambda c: replace(c, pins=(Pin("in", set="ash", group="tools", drawer="A"),)),
    "groups case tier": lambda c: rows(c, "group_rules", lambda r: replace(r, tier=5)),
    "relations case, tools, near ": lambda c: replace(c, relations=(Relation("case", "tools", "near"),)),
    "foam blue ": lambda c: replace(c, foam=(Foam("blue", mm(1000), mm(500), mm(30)),)),
    "demand oak, one units": lambda c: rows(c, "demand", lambda r: replace(r, units=55.0) if r.set == "oak" else r),
}


def told(found):
    return {f"{edit.table} {edit.row} {edit.column}" for edit in found}


def test_twenty_planted_edits_are_found_and_nothing_else() -> None:
    old = new = workshop()
    assert len(EDITS) == 20
    assert edits(old, old) == ()
    for plant in EDITS.values():
        new = plant(new)
    assert told(edits(old, new)) == set(EDITS)


@settings(max_examples=30)
@given(st.sets(st.sampled_from(sorted(EDITS))))
def test_any_of_them_are_found_and_nothing_else(chosen) -> None:
    new = workshop()
    for name in sorted(chosen):
        new = EDITS[name](new)
    assert told(edits(workshop(), new)) == chosen
    assert told(edits(new, workshop())) == chosen


def between(*names):
    new = workshop()
    for name in names:
        new = EDITS[name](new)
    return changes_between((workshop(), HOUSE), (new, HOUSE))


def test_edits_without_consequence_touch_bundles_that_do_not_change() -> None:
    found = between("cabinets two price", "foam blue ", "demand oak, one units")
    assert [(one.set, one.cabinet, one.changed) for one in found.bundles] == [("ash", "two", False)]
    assert found.parts == ()


def test_a_narrower_drawer_has_both_organizers_trimmed_those_of_most_units_first() -> None:
    """400 into 398.2 - 3.2 = 395: oak of 50 units before ash of 20, both in cabinet one; ash in two is not touched."""
    found = between("drawers one, A inside_width")
    assert [(one.set, one.cabinet, one.units, one.recut) for one in found.bundles] == [
        ("oak", "one", 50, ("tools",)),
        ("ash", "one", 20, ("tools",)),
    ]
    assert [(part.part, part.state, part.on_hand, part.bundles) for part in found.parts] == [
        ("F-2", "no longer as is", 30, ("oak in one",)),
        ("F-1", "no longer as is", 7, ("ash in one",)),
    ]
    assert worst_of(found.bundles) == "fits"


def test_a_lower_drawer_turns_verdicts() -> None:
    """A case of 100 mm does not go into 90."""
    found = between("drawers one, B clear_height")
    assert [(one.set, one.before, one.now) for one in found.bundles] == [
        ("oak", "fits", "does not fit"),
        ("ash", "fits", "does not fit"),
    ]
    assert worst_of(found.bundles) == "does not fit"


def test_a_bundle_that_is_no_longer_decided_is_not_told_as_a_no() -> None:
    still, open_ = BundleChange("a", "b", 1, "fits", "fits"), BundleChange("a", "c", 1, "fits", "undecided")
    never = BundleChange("a", "d", 1, "does not fit", "does not fit")
    assert worst_of([still, open_, never]) == "undecided"
    assert worst_of([still, never]) == "fits"
    assert worst_of([open_, BundleChange("a", "e", 1, "fits", "not in the catalogue")]) == "does not fit"


def test_parts_of_another_size_or_gone_are_at_risk_with_their_stock() -> None:
    (wider,) = between("organizers ash, tools width").parts
    assert (wider.part, wider.state, wider.on_hand) == ("F-1", "other size", 7)
    gone = replace(workshop(), organizers=workshop().organizers[1:])
    found = changes_between((workshop(), HOUSE), (gone, HOUSE))
    assert [(part.part, part.state) for part in found.parts] == [("F-1", "gone")]


def test_bundles_that_come_and_go() -> None:
    fewer = replace(workshop(), cabinets=workshop().cabinets[:1])
    found = changes_between((workshop(), HOUSE), (fewer, HOUSE))
    (gone,) = [one for one in found.bundles if one.cabinet == "two"]
    assert (gone.before, gone.now) == ("fits", "not in the catalogue")
    assert [
        one.now for one in changes_between((fewer, HOUSE), (workshop(), HOUSE)).bundles if one.cabinet == "two"
    ] == ["fits"]


def test_other_house_rules_touch_every_bundle() -> None:
    house = replace(HOUSE, clearance=replace(HOUSE.clearance, top=mm(30)))
    found = changes_between((workshop(), HOUSE), (workshop(), house))
    assert (found.house, found.edits, len(found.bundles)) == (True, (), 3)


@pytest.mark.slow
def test_the_command_tells_edits_bundles_and_parts(run, tmp_path) -> None:
    new = shutil.copytree(BUNDLED, tmp_path / "new")
    table = new / "drawers.csv"
    lines = table.read_text().splitlines()
    before = next(line for line in lines if line.startswith("Glen-5,A1,"))
    after = before.replace(",560,", ",540,")
    table.write_text("\n".join(after if line == before else line for line in lines) + "\n")
    file = tmp_path / "changes.json"
    code, out, _ = run("changes", BUNDLED, new, "--out", file)
    assert code in (0, 1)
    assert "1 edit." in out
    assert "drawers: Glen-5, A1, inside_width 540 mm, was 560 mm" in out
    document = json.loads(file.read_text())
    assert {one["cabinet"] for one in document["bundles"]} == {"Glen-5"}


def test_a_drawer_of_a_base_touches_the_chest_on_it_and_is_told_once() -> None:
    old = read_catalogue(BUNDLED)
    base = next(one for one in old.cabinets if one.name == "Glen-7")
    lower = replace(base.drawers[3], clear_height=base.drawers[3].clear_height - 12)
    cabinets = tuple(
        replace(one, drawers=tuple(lower if own == base.drawers[3] else own for own in one.drawers))
        for one in old.cabinets
    )
    (edit,) = edits(old, replace(old, cabinets=cabinets))
    assert edit.column == "clear_height"
    assert set(edit.cabinets) == {"Glen-7", "Glen-T6"}, "the unit of chest and base holds the drawer too"
