"""Every number that the makers compute, made wrong on their side: the plan must not pass the checker.

The makers' functions and methods are replaced one at a time, and a set is planned in a cabinet in which the wrong
number takes effect; `plan` must end with `BrokenPlanError`, and in the words of the rule that is broken.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from types import ModuleType
from typing import Any, TypeAlias

import pytest

from matcher.assignment.problem import Problem
from matcher.fitting.admission import admit
from matcher.fitting.fits import StaysOut
from matcher.fitting.openings import Opening
from matcher.fitting.ready_made import ready_made
from matcher.fitting.shortfalls import Shortfall
from matcher.house.rules import HeightRules, House, PocketRules
from matcher.layout.curves import curve
from matcher.layout.poses import Rules, poses
from matcher.planning.answering import plan
from matcher.planning.deciding import decide
from matcher.planning.drawer_problem import problem_of
from matcher.planning.grouping import groups_of
from matcher.planning.placing import placements
from matcher.records.errors import BrokenPlanError
from matcher.records.given import Cabinet, Catalogue, Drawer, GroupRule, Obstruction, Piece, Pin, Relation
from matcher.records.laid_out import Footprint
from matcher.records.memory import Memory
from matcher.records.units import kg, mm
from tests.builders import HOUSE, catalogue, drawer, organizer, piece

Patch: TypeAlias = pytest.MonkeyPatch
MM = mm(1)


def home(maker: Callable[..., Any]) -> ModuleType:
    """The module of a function, whose other names are replaced there."""
    return sys.modules[maker.__module__]


ADMISSION, CURVES, GROUPING, PLACING = home(admit), home(curve), home(groups_of), home(placements)
POSES, POSING, READY_MADE, VERDICTS = home(poses), home(problem_of), home(ready_made), home(decide)


@pytest.fixture
def patch(monkeypatch: Patch) -> Iterator[Patch]:
    with Memory():
        yield monkeypatch
    monkeypatch.undo()


def wrap(patch: Patch, owner: object, name: str, change: Callable[..., Any]) -> None:
    """Let a function or method of the makers return what ``change`` makes of its result and its arguments."""
    true = getattr(owner, name)
    patch.setattr(owner, name, lambda *given, **named: change(true(*given, **named), *given, **named))


# ------------------------------------------------------------------------------------------------- sets and cabinets


def tool(kind: str, size: str, group: str = "tools", **more: Any) -> Piece:
    return Piece("set", f"{kind} {size}", kind, 1, system="metric", size=size, group=group, **more)


WRENCHES = tuple(tool("combination wrench", size) for size in ("10", "12", "14", "17"))
DEEP_SOCKETS = tuple(tool("deep socket", size, drive="1/2") for size in ("13", "17", "19"))
LONG = (tool("file", "200"), tool("file", "250"))


def of(pieces: tuple[Piece, ...] = (), *drawers: Drawer, **more: Any) -> Catalogue:
    return catalogue(pieces, cabinets=[Cabinet("cabinet", drawers)], **more)


def narrowest(group: str, pieces: tuple[Piece, ...], house: House = HOUSE) -> Footprint:
    """The narrowest organizer of the pieces, as the makers see it now."""
    return next(curve(one, house)[0] for one in groups_of(of(pieces), "set") if one.name == group)


def snug(pieces: tuple[Piece, ...], **more: Any) -> Catalogue:
    """The pieces, and a drawer that their narrowest organizer just fills, as the makers see it now."""
    point = narrowest(pieces[0].group, pieces)
    rim, room = 2 * (HOUSE.pocket.margin + HOUSE.clearance.side), point.height + HOUSE.clearance.top
    box = replace(drawer(), inside_width=point.width + rim, inside_depth=point.depth + rim, clear_height=room)
    return of(pieces, replace(box, **more))


def two_blocks(**more: Any) -> tuple[Piece, Piece]:
    return piece("one", group="one", **more), piece("two", group="two", **more)


def refused(found: Catalogue, words: str) -> None:
    """The makers plan the set, and what they made is refused in these words."""
    with pytest.raises(BrokenPlanError, match=words):
        plan(found, HOUSE, "set", "cabinet")


# --------------------------------------------------------------------------------------------- one wrong number each


def web(patch: Patch) -> None:
    wrap(patch, PocketRules, "web_for", lambda found, *_: found // 2)
    refused(snug(WRENCHES), "the web between")


def web_one_unit(patch: Patch) -> None:
    wrap(patch, PocketRules, "web_for", lambda found, *_: found - 1)
    refused(snug(DEEP_SOCKETS), "the web between")


def deepest_pocket(patch: Patch) -> None:
    wrap(patch, PocketRules, "deepest", lambda found, *_: found + MM)
    refused(snug(DEEP_SOCKETS), "is too deep by 1.0 mm")


def reach_of_cutters(patch: Patch) -> None:
    """Pockets of deep sockets end at 30 mm, and would at the 32 mm that the longest cutter reaches."""
    patch.setattr(Rules, "deepest", lambda *_: mm(44))
    refused(snug(DEEP_SOCKETS), "is too deep by 14.0 mm")


def depth(patch: Patch) -> None:
    wrap(patch, POSES, "_cut", lambda found, *_, **__: (found[0] + MM, found[1] - MM))
    refused(snug(LONG), "is too deep by 1.0 mm")


def depth_too_little(patch: Patch) -> None:
    wrap(patch, POSES, "_cut", lambda found, *_, **__: (found[0] - MM, found[1] + MM))
    refused(snug(WRENCHES), "is too shallow by 1.0 mm")


def share_of_depth(patch: Patch) -> None:
    wrap(patch, PocketRules, "share_of", lambda found, *_: found / 2)
    refused(snug(WRENCHES), "is too thin for the depth of its pockets")


def margin(patch: Patch) -> None:
    wrap(patch, PLACING, "evened", lambda found, *_, **__: (found[0], -MM, found[2]))
    refused(of(WRENCHES, drawer()), "the margin is 1.0 mm too small in its width")


def field(patch: Patch) -> None:
    def narrower(found: Any, *_: object, **__: object) -> Any:
        return replace(found[0], width=found[0].width - 1), *found[1:]

    wrap(patch, PLACING, "evened", narrower)
    refused(of(WRENCHES, drawer()), "outside the field")


def side_clearance(patch: Patch) -> None:
    wrap(patch, PLACING, "_placement", lambda found, *_: replace(found, left=found.left - 32))
    refused(of(WRENCHES, drawer()), "0.1 mm too far out in the width")


def wider_opening(patch: Patch) -> None:
    for module in (ADMISSION, PLACING, POSING):
        wrap(patch, module, "opening", lambda found, *_: replace(found, width=found.width + 1))
    refused(of(WRENCHES, drawer()), "0.00 mm too far out in the width")


def top_clearance(patch: Patch) -> None:
    low = replace(drawer(), clear_height=narrowest("tools", WRENCHES).height + HOUSE.clearance.top - 1)
    for module in (ADMISSION, PLACING, POSING):
        wrap(patch, module, "opening", lambda found, *_: replace(found, height=found.height + 1))
    refused(of(WRENCHES, low), "too low for")


def liner(patch: Patch) -> None:
    box = snug(WRENCHES).cabinets[0].drawers[0]
    for module in (ADMISSION, PLACING, POSING):
        wrap(patch, module, "opening", lambda found, box, _: replace(found, height=found.height + box.liner))
    refused(of(WRENCHES, replace(box, liner=MM)), "1.0 mm too low for")


def floor(patch: Patch) -> None:
    """Wrenches 21 mm thick in foam of 25.4 mm leave 4.4 mm of it; the floor is 6 mm."""
    patch.setattr(PocketRules, "under", 0)
    patch.setattr(PocketRules, "thickness_for", lambda *_: mm(25.4))
    refused(of(tuple(replace(one, height=mm(21)) for one in WRENCHES), drawer()), "is too deep by 1.6 mm")


def sheet_too_thin(patch: Patch) -> None:
    """Of deep sockets 30 mm go into the foam; with the floor that is more than the next thinner sheet has."""
    patch.setattr(PocketRules, "thickness_for", lambda *_: mm(31.75))
    refused(snug(DEEP_SOCKETS), "is too thin for the depth of its pockets")


def sheet_too_thin_on_a_base(patch: Patch) -> None:
    house = replace(HOUSE, pocket=replace(HOUSE.pocket, base=mm(12)))
    patch.setattr(PocketRules, "thickness_for", lambda *_: mm(19.05) + house.pocket.base)
    with pytest.raises(BrokenPlanError, match="is too thin for the depth of its pockets"):
        plan(of(DEEP_SOCKETS, drawer()), house, "set", "cabinet")


def thickness(patch: Patch) -> None:
    wrap(patch, PocketRules, "thickness_for", lambda found, *_: found + 1)
    refused(of(WRENCHES, drawer()), "is not of a thickness in stock")


def fit_round_the_tool(patch: Patch) -> None:
    wrap(patch, POSES, "pocket_ring", lambda found, *_, **__: tuple((x * 99 // 100, y) for x, y in found))
    refused(of(WRENCHES, drawer()), "too small seen from above")


def round_pocket(patch: Patch) -> None:
    """Pockets of standing sockets with eight sides, as wide as they must be between their flats to left and right."""

    def octagon(found: Any, sized: Any, standing: bool, *_: object, **__: object) -> Any:
        wide = max(x for x, _ in found)
        off = int(wide * 0.32)
        corners = (off, 0), (wide - off, 0), (wide, off), (wide, wide - off)
        return (*corners, (wide - off, wide), (off, wide), (0, wide - off), (0, off)) if standing else found

    wrap(patch, POSES, "pocket_ring", octagon)
    refused(of(DEEP_SOCKETS, drawer()), "too small seen from above")


def narrower_notch(found: Rules, *_: object) -> Rules:
    return replace(found, notch=replace(found.notch, width=found.notch.width - MM))


def notch_width(patch: Patch) -> None:
    wrap(patch, CURVES, "rules_for", narrower_notch)
    refused(of(WRENCHES, drawer()), "has no notch to take it by")


def notch_beside_the_tools(patch: Patch) -> None:
    """A notch as wide as a finger that ends where the tools do: no fingertip goes in beside them."""

    def within(found: Any, *_: object) -> Any:
        return [replace(notch, ring=narrowed(notch.ring)) for notch in found]

    def narrowed(ring: Any) -> Any:
        left, right = min(x for x, _ in ring), max(x for x, _ in ring)
        middle = (left + right) // 2
        return tuple((middle + (x - middle) // 5, y) for x, y in ring)

    wrap(patch, CURVES, "_notches", within)
    refused(of((LONG[0],), drawer()), "has no notch to take it by")


def notch_depth(patch: Patch) -> None:
    wrap(patch, CURVES, "_notches", lambda found, *_: [replace(one, depth=one.depth + 1) for one in found])
    refused(of(WRENCHES, drawer()), "off the depth of the deepest pocket")


def grip(patch: Patch) -> None:
    wrap(patch, CURVES, "rules_for", lambda found, *_: replace(found, notch=replace(found.notch, grip=0)))
    refused(of(tuple(replace(one, height=mm(9)) for one in LONG), drawer()), "has no notch to take it by")


def corner_margin(patch: Patch) -> None:
    patch.setattr(Opening, "clears_corners", lambda *_: True)
    refused(snug((piece(group="tools", kind="cased"),), corner_radius=mm(100), slot="no foam"), "rounded corner")


def corner_of_pockets(patch: Patch) -> None:
    patch.setattr(Opening, "clears_corners", lambda *_: True)
    refused(snug(LONG, corner_radius=mm(60)), "rounded corner")


def obstruction(patch: Patch) -> None:
    for module in (ADMISSION, PLACING, POSING):
        wrap(patch, module, "opening", lambda found, *_: replace(found, blocked=()))
    block = Obstruction(mm(200), mm(200), mm(50), mm(50), mm(50))
    refused(of(WRENCHES, replace(drawer(), obstructions=(block,))), "too near an obstruction")


def rating(patch: Patch) -> None:
    wrap(patch, ADMISSION, "_sized_fit", lambda found, group, *_: found)
    true = ADMISSION._admit.__wrapped__
    patch.setattr(ADMISSION, "_admit", lambda group, box, house: true(group, replace(box, load_rating=None), house))
    wrap(patch, POSING, "_node", lambda found, *_, **__: replace(found, mass=0))
    refused(of((piece(mass=5, group="tools"),), drawer(load_rating=kg(5) - 1)), "beyond its rating")


def mass_of_a_group(patch: Patch) -> None:
    wrap(patch, GROUPING, "_group", lambda found, *_: replace(found, mass_high=found.mass_high - 1))
    refused(of(WRENCHES, drawer()), "off that of its pieces")


def group_of_a_piece(patch: Patch) -> None:
    """The house's rows, of which the catalogue's own is one more: wrenches go there."""
    own = GroupRule("mine", kinds=("combination wrench",))
    usual = GroupRule("wrenches", kinds=("combination wrench",), house=True)
    wrap(patch, GROUPING, "_rule_for", lambda *_: usual)
    plain = tuple(replace(one, group="") for one in WRENCHES)
    refused(of(plain, drawer(), group_rules=(own, usual)), "holds 4 pieces of other groups")


def base_sheet(patch: Patch) -> None:
    house = replace(HOUSE, pocket=replace(HOUSE.pocket, base=mm(12)))
    patch.setattr(Rules, "base", property(lambda rules: rules.pocket.base - MM if rules.thickness else 0))
    with pytest.raises(BrokenPlanError, match="has another base than the house's"):
        plan(of(DEEP_SOCKETS, drawer()), house, "set", "cabinet")


def down_to_the_base(patch: Patch) -> None:
    """Files 8 mm thick, by their share in the foam no deeper than 4.8 mm: a top sheet is thicker."""
    house = replace(HOUSE, pocket=replace(HOUSE.pocket, base=mm(12)))
    true = POSES._cut

    def cut(kind: str, rules: Rules, thickness: int, **named: Any) -> tuple[int, int]:
        deep, rise = true(kind, rules, thickness, **named)
        return deep - (MM if rules.thickness else 0), rise + MM

    patch.setattr(POSES, "_cut", cut)
    with pytest.raises(BrokenPlanError, match="has a pocket that ends above its base"):
        plan(of(tuple(replace(one, height=mm(8)) for one in LONG), drawer()), house, "set", "cabinet")


# ------------------------------------------------------------------------------------------------------------- goals


def at_height(floor_mm: float, **more: Any) -> Catalogue:
    """An organizer 50 mm high in a drawer at a height above the ground."""
    return of((), drawer(above_ground=mm(floor_mm), **more), organizers=[organizer("tools", 500, 380, 50)])


def hand_height(patch: Patch) -> None:
    """The hand is at 736.1 mm, 0.5 mm below the knuckle."""
    wrap(patch, POSING, "hand_height", lambda found, *_: found + MM)
    refused(at_height(736.1 - 50), "goal reach")


def liner_under_the_hand(patch: Patch) -> None:
    patch.setattr(POSING, "hand_height", lambda box, height: box.above_ground + height)
    refused(at_height(736.1 - 50, liner=MM), "goal reach")


def score_of_a_height(patch: Patch) -> None:
    wrap(patch, HeightRules, "score", lambda found, *_: found / 2)
    refused(at_height(500), "goal reach")


def reach_cost(patch: Patch) -> None:
    wrap(patch, POSING, "reach_cost", lambda found, *_: found + 1)
    refused(at_height(500), "goal reach")


def uses_of_a_group(patch: Patch) -> None:
    wrap(patch, GROUPING, "use_of", lambda found, *_: found * 2)
    refused(of((piece(use=3.0, group="tools"),), drawer(above_ground=mm(200))), "goal reach")


def reach_in_a_shared_drawer(patch: Patch) -> None:
    """The whole drawer lies below the knuckle: its groups lose the same at any height in it."""
    wrap(patch, POSING, "reach_cost", lambda found, *_: found + 1)
    rows = tuple(GroupRule(name, family="tools") for name in ("one", "two"))
    refused(of(two_blocks(), drawer(above_ground=mm(400)), group_rules=rows), "goal reach")


def in_tiers(one: int, other: int, floors: tuple[float, float] = (500, 600)) -> Catalogue:
    """The group of each tier goes into one drawer only: the first one into the lower."""
    rows = (GroupRule("one", tier=one), GroupRule("two", tier=other))
    low, high = map(mm, floors)
    boxes = drawer("a", row=2, above_ground=low), drawer("b", row=1, above_ground=high)
    pins = Pin("in", group="one", drawer="a"), Pin("in", group="two", drawer="b")
    return of(two_blocks(), *boxes, group_rules=rows, pins=pins)


def order_level(patch: Patch) -> None:
    """Floors 15.1 mm apart are not level, of which the makers think otherwise."""
    wrap(patch, POSING, "problem_of", lambda found, *_, **__: found)
    patch.setattr(POSING, "Problem", lambda **named: Problem(**{**named, "level": named["level"] + MM}))
    refused(in_tiers(1, 2, (500, 515.1)), "goal order")


def tier_of_a_group(patch: Patch) -> None:
    wrap(patch, GROUPING, "_group", lambda found, *_: replace(found, tier=1))
    refused(in_tiers(1, 2), "goal order")


def swapped_tiers(patch: Patch) -> None:
    patch.setattr(POSING, "Problem", lambda **named: Problem(**{**named, "swap": ((1, 2),)}))
    refused(in_tiers(1, 2), "goal order")


def weight_of_a_relation(patch: Patch) -> None:
    def lighter(found: Any, *_: object) -> Any:
        return replace(found, relations=tuple((*wish, 1) for *wish, _ in found.relations))

    wrap(patch, VERDICTS, "pose", lighter)
    refused(replace(in_tiers(1, 1), relations=(Relation("one", "two", "near", 5),)), "goal neighbors")


def work_of_a_way(patch: Patch) -> None:
    wrap(patch, POSING, "effort_of", lambda found, how: found - 1)
    refused(of((), drawer(), organizers=[organizer("tools", 300, 380)]), "goal recut")


def gap_of_a_drawer(patch: Patch) -> None:
    wrap(
        patch,
        READY_MADE,
        "_ready_made_in",
        lambda found, *_: [replace(fit, gap_width=fit.gap_width - 1) for fit in found],
    )
    refused(of((), drawer(), organizers=[organizer("tools", 500, 380)]), "has a gap in width that is 0.00 mm off")


def gap_of_foam(patch: Patch) -> None:
    wrap(patch, PLACING, "_placement", lambda found, *_: replace(found, gap_width=found.gap_width + 1))
    refused(of(WRENCHES, drawer()), "goal recut")


# -------------------------------------------------------------------------------------------------- ways and places


def way_in(patch: Patch) -> None:
    wrap(patch, READY_MADE, "_way_in", lambda found, *_: "as is" if found == "shim" else found)
    refused(of((), drawer(), organizers=[organizer("tools", 500, 380)]), "is called as is in width with a gap of")


def least_trimmed(patch: Patch) -> None:
    """A field of 540 mm and margins of 12 mm need 564 mm; the drawer has 556.8 mm between its clearances."""
    wrap(patch, READY_MADE, "least_trimmed", lambda found, *_: (mm(550), found[1]))
    made = organizer("tools", 600, 380, field_width=mm(540), field_left=mm(30), field_front=mm(10), field_depth=mm(360))
    refused(of((), drawer(), organizers=[made]), "is trimmed 7.2 mm too far in width")


def needless_new_pockets(patch: Patch) -> None:
    wrap(patch, ADMISSION, "ready_made", lambda *_: StaysOut(Shortfall("width", 1, "any layout")))
    block = piece(group="tools")
    refused(of((block,), drawer(), organizers=[organizer("tools", 500, 380)]), "where the ready-made organizer goes in")


def slot(patch: Patch) -> None:
    patch.setattr(ADMISSION, "_slot_takes", lambda *_: True)
    refused(of(WRENCHES, drawer(slot="no foam")), r"is in 1 \(no foam\)")


def pins(patch: Patch) -> None:
    patch.setattr(POSING, "pins_allow", lambda *_: True)
    refused(of(WRENCHES, drawer(), pins=(Pin("not in", group="tools", row=1),)), "wished: not in")


def families_that_share(patch: Patch) -> None:
    wrap(patch, POSING, "_node", lambda found, *_, **__: replace(found, family="all"))
    refused(of(two_blocks(), drawer()), "goal together: the plan counts 2, claimed 0")


def overlap(patch: Patch) -> None:
    wrap(patch, PLACING, "filled", lambda found, *_, **__: (found[0]._replace(width=found[0].width + 1), found[1]))
    rows = tuple(GroupRule(name, family="tools") for name in ("one", "two"))
    refused(of(two_blocks(), drawer(), group_rules=rows), "overlap by 0.00 mm")


MUTATIONS = [
    web,
    web_one_unit,
    deepest_pocket,
    reach_of_cutters,
    depth,
    depth_too_little,
    share_of_depth,
    margin,
    field,
    side_clearance,
    wider_opening,
    top_clearance,
    liner,
    floor,
    sheet_too_thin,
    sheet_too_thin_on_a_base,
    thickness,
    fit_round_the_tool,
    round_pocket,
    notch_width,
    notch_beside_the_tools,
    notch_depth,
    grip,
    corner_margin,
    corner_of_pockets,
    obstruction,
    rating,
    mass_of_a_group,
    group_of_a_piece,
    base_sheet,
    down_to_the_base,
    hand_height,
    liner_under_the_hand,
    score_of_a_height,
    reach_cost,
    uses_of_a_group,
    reach_in_a_shared_drawer,
    order_level,
    tier_of_a_group,
    swapped_tiers,
    weight_of_a_relation,
    work_of_a_way,
    gap_of_a_drawer,
    gap_of_foam,
    way_in,
    least_trimmed,
    needless_new_pockets,
    slot,
    pins,
    families_that_share,
    overlap,
]


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda mutation: mutation.__name__)
def test_a_wrong_number_of_the_makers_does_not_pass(mutation: Callable[[Patch], None], patch: Patch) -> None:
    mutation(patch)
