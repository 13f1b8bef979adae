"""A released plan against a catalogue that was edited: every edit that breaks it is found where it is, no other."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.planning.holding import PlanStanding, standing_today
from matcher.records.given import Catalogue, Drawer, GroupRule, Obstruction, Pin, Wishes
from matcher.records.released_plan import ReleasedPlan
from matcher.records.units import kg, mm
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.kept_cases import known_of, with_drawers
from tests.test_release import released, small, with_rows

Change = Callable[[Catalogue], Catalogue]


@cache
def workshop() -> tuple[Catalogue, ReleasedPlan]:
    """Wrenches in drawer 1, a stocked tray in 2, files in 3, a case in 4; drawer 5 free; wrenches have new parts."""
    boxes = [
        *(drawer(str(n), 1, n, 403.2 + 20 * n, 303.2, 60, load_rating=kg(20)) for n in (1, 2, 3)),
        drawer("4", 1, 4, 500, 400, 150, slot="no foam"),
        drawer("5", 1, 5, 500, 400, 150, slot="no foam"),
    ]
    pieces = [
        *(piece(f"wrench {n}", 200, 40, 20, group="wrenches", mass=2) for n in range(4)),
        *(piece(f"file {n}", 180, 30, 20, group="files") for n in range(3)),
        piece("case", 300, 200, 100, kind="cased", group="case"),
    ]
    tray = replace(organizer("tray", 440, 300, 40, field_width=mm(300), field_depth=mm(200)), part="OR-1", on_hand=7)
    rules = (GroupRule("wrenches", "wrenches", 1), GroupRule("tray", "trays", 2), GroupRule("files", "files", 3))
    pins = tuple(Pin("in", group=name, drawer=where) for name, where in WHERE.items())
    known = catalogue(pieces, [tray], [cabinet(*boxes)], pins=pins, group_rules=rules)
    _, told = released(known)
    return with_rows(known, told), told


WHERE = {"wrenches": "1", "tray": "2", "files": "3", "case": "4"}


def box(name: str, **new) -> Change:
    return lambda known: with_drawers(known, "cabinet", lambda one: replace(one, **new) if one.name == name else one)


def boxes(change: Callable[[tuple[Drawer, ...]], tuple[Drawer, ...]]) -> Change:
    return lambda known: replace(
        known, cabinets=tuple(replace(one, drawers=change(one.drawers)) for one in known.cabinets)
    )


def tool(name: str, **new) -> Change:
    return lambda known: replace(
        known, pieces=tuple(replace(one, **new) if one.tool == name else one for one in known.pieces)
    )


def without_tool(name: str) -> Change:
    return lambda known: replace(known, pieces=tuple(one for one in known.pieces if one.tool != name))


def with_tool(name: str, group: str) -> Change:
    return lambda known: replace(known, pieces=(*known.pieces, piece(name, 100, 20, 20, group=group)))


def part(name: str, **new) -> Change:
    def changed(known: Catalogue) -> Catalogue:
        own = (replace(one, made=replace(one.made, **new)) if one.made.part == name else one for one in known.parts)
        rows = tuple(replace(row, **new) if row.part == name else row for row in known.organizers)
        return replace(known, parts=tuple(own), organizers=rows)

    return changed


def without_part(name: str) -> Change:
    return lambda known: replace(
        known,
        parts=tuple(one for one in known.parts if one.made.part != name),
        organizers=tuple(row for row in known.organizers if row.part != name),
    )


def by_rule(group: str, **new) -> Change:
    return lambda known: replace(
        known, group_rules=tuple(replace(one, **new) if one.group == group else one for one in known.group_rules)
    )


def pinned(*pins: Pin) -> Change:
    return lambda known: replace(known, pins=(*known.pins, *pins))


def stands(change: Change, house=HOUSE) -> PlanStanding:
    known, told = workshop()
    return standing_today(told, change(known), house)


def test_as_released_it_holds_and_nothing_has_changed():
    found = stands(lambda known: known)
    assert found.holds
    assert [(one.drawer, one.groups, one.broke, one.changed) for one in found.drawers] == [
        ("1", ("wrenches",), (), ()),
        ("2", ("tray",), (), ()),
        ("3", ("files",), (), ()),
        ("4", ("case",), (), ()),
    ]
    assert (found.broke, found.changed) == ((), ())


BREAKING: dict[str, tuple[Change, str, str]] = {
    "narrower": (box("1", inside_width=mm(418.2)), "1", "the drawer is 5.0 mm narrower: 418.2 mm inside, was 423.2 mm"),
    "to be trimmed": (box("1", inside_width=mm(418.2)), "1", "F-001 would have to be trimmed: 5.0 mm off its width"),
    "lower": (box("3", clear_height=mm(20)), "3", "the drawer is 40.0 mm lower: 20.0 mm inside, was 60.0 mm"),
    "less deep": (box("2", inside_depth=mm(200)), "2", "the drawer is 103.2 mm less deep"),
    "a case's": (box("4", clear_height=mm(90)), "4", "the drawer is 60.0 mm lower"),
    "gone": (boxes(lambda d: tuple(one for one in d if one.name != "3")), "3", "files: drawer 3 is no longer there"),
    "blocked": (box("1", slot="blocked"), "1", "the drawer's slot is 'blocked', was 'foam'"),
    "no foam": (box("1", slot="no foam"), "1", "the drawer's slot is 'no foam', was 'foam'"),
    "rating": (box("1", load_rating=kg(7)), "1", "the drawer's load rating is 7.0 kg, was 20.0 kg"),
    "liner": (box("1", liner=mm(40)), "1", "the drawer has a liner of 40.0 mm, was 0.0 mm"),
    "obstruction": (
        box("1", obstructions=(Obstruction(mm(100), mm(100), mm(50), mm(50), mm(60)),)),
        "1",
        "the drawer has other obstructions, 1 of them",
    ),
    "larger tool": (tool("wrench 2", length=mm(215)), "1", "wrench 2 is larger in length: 215.0 mm, was 200.0 mm"),
    "higher tool": (tool("file 1", height=mm(45)), "3", "file 1 is larger in height: 45.0 mm, was 20.0 mm"),
    "lower tool": (tool("file 1", height=mm(18)), "3", "file 1 is smaller in height: 18.0 mm, was 20.0 mm"),
    "larger case": (tool("case", height=mm(149)), "4", "case is larger in height: 149.0 mm, was 100.0 mm"),
    "removed": (without_tool("file 0"), "3", "files: no longer in the set: file 0"),
    "added": (with_tool("file 9", "files"), "3", "files: new and without a pocket: file 9"),
    "more of one": (tool("file 2", count=2), "3", "files: file 2: 2 in the set, 1 when released"),
    "other group": (tool("file 2", group="rasps"), "3", "files: now in the group 'rasps': 1 kind of its tools"),
    "part gone": (without_part("F-001"), "1", "F-001 is no longer in the table organizers"),
    "part larger": (part("F-002", width=mm(455)), "3", "F-002 has other sizes in the table organizers: 455.0"),
    "field": (part("F-001", field_width=mm(300)), "1", "F-001 has other sizes in the table organizers"),
    "stock gone": (without_part("OR-1"), "2", "OR-1 is no longer in the table organizers"),
    "stock larger": (
        part("OR-1", height=mm(41)),
        "2",
        "OR-1 has other sizes in the table organizers: 440.0 mm x 300.0",
    ),
    "pin": (pinned(Pin("not in", group="files", drawer="3")), "3", "by today's rules: "),
}


@pytest.mark.parametrize("edit", BREAKING)
def test_what_breaks_it_is_found_in_its_drawer_alone(edit):
    change, where, words = BREAKING[edit]
    found = stands(change)
    broken = [one for one in found.drawers if not one.holds]
    assert not found.holds
    assert [one.drawer for one in broken] == [where], (found.broke, found.drawers)
    assert any(words in told for told in broken[0].broke), broken[0].broke
    others = [one for one in found.drawers if one.holds]
    assert not any(one.changed for one in others)


HARMLESS: dict[str, tuple[Change, str]] = {
    "larger drawer": (box("1", clear_height=mm(70)), "the drawer is 10.0 mm higher"),
    "wider drawer": (box("3", inside_width=mm(500)), "the drawer is 36.8 mm wider"),
    "stronger drawer": (box("1", load_rating=kg(30)), "the drawer's load rating is 30.0 kg, was 20.0 kg"),
    "smaller tool": (tool("file 1", length=mm(178)), "file 1 is smaller in length: 178.0 mm, was 180.0 mm"),
    "stock": (part("OR-1", on_hand=2), ""),
    "cost": (part("F-001", unit_cost=9.0), ""),
    "use": (tool("file 1", use=5.0), ""),
    "tier": (by_rule("files", tier=2), ""),
    "other pin": (pinned(Pin("apart", group="files", other="wrenches")), ""),
}


@pytest.mark.parametrize("edit", HARMLESS)
def test_what_changes_without_harm_is_told_and_breaks_nothing(edit):
    change, words = HARMLESS[edit]
    found = stands(change)
    assert found.holds, (found.broke, found.drawers)
    told = [line for one in found.drawers for line in one.changed]
    assert (words in " ".join(told)) if words else told == []


ELSEWHERE: dict[str, tuple[Change, str]] = {
    "set": (lambda known: replace(known, pieces=(), organizers=()), "no set 'set'"),
    "cabinet": (lambda known: replace(known, cabinets=()), "no cabinet 'cabinet'"),
    "new group": (with_tool("saw", "saws"), "saws: a group that the plan has no place for"),
    "new tray": (
        lambda known: replace(known, organizers=(*known.organizers, organizer("other"))),
        "other: a group that the plan has no place for",
    ),
}


@pytest.mark.parametrize("edit", ELSEWHERE)
def test_what_breaks_no_drawer_breaks_the_plan(edit):
    change, words = ELSEWHERE[edit]
    found = stands(change)
    assert not found.holds
    assert all(one.holds for one in found.drawers)
    assert len(found.broke) == 1
    assert words in found.broke[0]


def test_house_rules_that_ask_for_more_break_what_they_concern():
    wider = replace(HOUSE, clearance=replace(HOUSE.clearance, side=mm(5)))
    found = stands(lambda known: known, wider)
    assert not found.holds
    assert {one.drawer for one in found.drawers if not one.holds} >= {"1", "3"}
    webs = replace(HOUSE, pocket=replace(HOUSE.pocket, web=mm(60)))
    found = stands(lambda known: known, webs)
    told = [line for one in found.drawers for line in one.broke]
    assert told
    assert all(line.startswith("by today's rules: ") and line.endswith("(R12)") for line in told)


def test_free_drawers_that_are_gone_or_new_break_nothing():
    found = stands(boxes(lambda d: (*(one for one in d if one.name != "5"), drawer("6", 2, 1))))
    assert found.holds
    assert found.changed == ("drawer 5, which the plan leaves free, is no longer there", "drawer 6 is new and free")


def test_a_wish_that_can_no_longer_be_asked_is_told():
    known = catalogue([piece("a", group="a"), piece("b", group="b")], (), [cabinet(drawer(), drawer("2", row=2))])
    _, told = released(known, wishes=Wishes(pins=(Pin("in", group="a", drawer="2"),)))
    fewer = replace(with_rows(known, told), cabinets=(cabinet(drawer()),))
    found = standing_today(told, fewer, HOUSE)
    assert any("no such place" in words for words in found.broke)
    assert [one.drawer for one in found.drawers if not one.holds] == ["2"]


def test_the_command_tells_it_and_exits_so(run, folder, tmp_path):
    """Two trays; the second one's drawer becomes too low, the first one's tray is not in the table any more."""
    at = tmp_path / "out"
    assert run("release", folder, "trays", "wide", "--part-prefix", "F-", "--out", at)[0] == 0
    code, out, _ = run("check", at, "--plan", at / "plan.json")
    assert (code, out) == (0, "The plan of trays in wide still holds in all of its 2 drawers.\n")
    drawers = (at / "drawers.csv").read_text()
    (at / "drawers.csv").write_text(drawers.replace("wide,2,1,2,560,400,100", "wide,2,1,2,560,400,40"))
    code, out, _ = run("check", at, "--plan", at / "plan.json")
    assert code == 1
    assert "no longer holds in 2." in out
    assert "tray b no longer go into drawer 2 as planned: 13.0 mm short in height" in " ".join(out.split())
    assert "Still as released: 1." in out
    code, out, _ = run("check", at, "--plan", at / "plan.json", "--json")
    document = json.loads(out)
    assert (code, document["holds"], [one["holds"] for one in document["drawers"]]) == (1, False, [True, False])
    assert run("check", at, "--plan", at / "none.json")[0] == 2
    assert run("check", at, "--plan", at / "plan.json", "--sizes", "trays")[0] == 2
    assert run("check", at, "--plan", at / "plan.json", "--out", tmp_path / "copy.xlsx")[0] == 2


SIDES = st.sampled_from(["inside_width", "inside_depth", "clear_height"])


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.integers(0, 60), st.integers(0, 3), SIDES, st.sampled_from([-40, -6, 6, 40]))
def test_another_drawer_breaks_its_own_contents_alone_and_a_larger_one_nothing(
    seed: int, which: int, side: str, by: int
) -> None:
    _, told = small(seed)
    if told is None:
        return
    known = with_rows(known_of(seed), told)
    own = known.cabinets[0].drawers
    name = own[which % len(own)].name
    changed = with_drawers(
        known, "cabinet", lambda one: replace(one, **{side: getattr(one, side) + mm(by)}) if one.name == name else one
    )
    found = standing_today(told, changed, HOUSE)
    broken = {one.drawer for one in found.drawers if not one.holds}
    assert broken <= {name}
    assert not found.broke
    if by > 0:
        assert found.holds
    if name in {one.placement.drawer for one in told.organizers} and by <= -40:
        assert broken == {name}


@settings(max_examples=15, deadline=None, derandomize=True)
@given(st.integers(0, 60), st.integers(0, 15), st.booleans())
def test_a_tool_more_or_fewer_always_breaks_it(seed: int, which: int, more: bool) -> None:
    _, told = small(seed)
    if told is None:
        return
    known = with_rows(known_of(seed), told)
    one = known.pieces[which % len(known.pieces)]
    pieces = (*known.pieces, replace(one, tool="late")) if more else tuple(p for p in known.pieces if p != one)
    if pieces:
        found = standing_today(told, replace(known, pieces=pieces), HOUSE)
        assert not found.holds
        words = [line for own in found.drawers for line in own.broke] + list(found.broke)
        assert any(("late" if more else one.tool) in line for line in words)
