"""Organizers in drawers with rounded corners: the maker plans what the independent check accepts, and no less.

A corner of radius r in a drawer is a quarter of a circle round the point (r, r) from its walls: plain geometry, which
shapely draws here by growing a smaller rectangle.
"""

import json
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import box as rectangle

from matcher.fitting.admission import admit
from matcher.fitting.fits import GoesIn, Open
from matcher.fitting.reuse import block_of, carried, kept_of, organizer_of
from matcher.planning.answering import plan
from matcher.planning.outcome import Fits
from matcher.records.given import GroupRule, Obstruction
from matcher.records.units import mm
from matcher.studies import comparison
from matcher.verification.checker import verify
from tests.builders import HOUSE, cabinet, catalogue, drawer, group, organizer, piece
from tests.trays import DRAWERS, ORGANIZERS

SIDE, MARGIN = HOUSE.clearance.side, HOUSE.pocket.margin
RULES = (GroupRule("blocks", "blocks", 1, ("other",)),)


def ready(outside, field, left=None, front=None, **more):
    """A square organizer with a square field, sizes in 1/320 mm."""
    made = organizer("tray", height=50, **more)
    return replace(
        made, width=outside, depth=outside, field_width=field, field_depth=field, field_left=left, field_front=front
    )


# --------------------------------------------------------------------------------------------------------- by hand


@pytest.mark.parametrize(("radius", "how"), [(14, "trim"), (15, "trim"), (19, None), (30, None)])
def test_a_trimmed_organizer_in_a_rounded_drawer(radius, how):
    """410 x 410 mm round a field of 370 x 370, in 400 x 400 less 1.6 mm each side: trimmed to 396.8.

    The field is then 1.6 + 13.4 = 15 mm from the walls. With a corner of 19 mm its corner is 4 sqrt 2 = 5.66 mm from
    the circle's middle, beyond the radius of 19 - 1.6 - 12 = 5.4 mm; with one of 15 mm or less it is past the corner.
    """
    tray = replace(organizer("tray", 410, 410), field_width=mm(370), field_depth=mm(370))
    box = drawer(width=400, depth=400, corner_radius=mm(radius))
    fit = admit(group("tray", ready=tray), box, HOUSE)
    assert isinstance(fit, GoesIn if how else Open), "nobody knows where in its field the pockets lie: that is no proof"
    assert (fit.alone.how if isinstance(fit, GoesIn) else None) == how
    outcome = plan(catalogue((), [tray], [cabinet(box)]), HOUSE, "set", "cabinet")
    assert outcome.verdict == ("fits" if how else "undecided")


@pytest.mark.parametrize("command", ["fit", "compare"])
def test_such_a_cabinet_loses_no_answer_for_others(run, folder, command):
    """Field 520 x 360 mm in 550 x 390, and a drawer as large: trimmed to 546.8 x 386.8, it is 15 mm from the walls."""
    trays = [row.split(",") for row in ORGANIZERS.splitlines()]
    fields = [["field_width_mm", "field_depth_mm"], *[["520", "360"]] * 2]
    rows = [",".join(row + field) for row, field in zip(trays, fields, strict=True)]
    (folder / "organizers.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    head, *rows = DRAWERS.splitlines()
    rows = [f"{row},0" for row in rows] + [f"tight,{row},1,{row},550,390,100,30" for row in (1, 2)]
    (folder / "drawers.csv").write_text("\n".join([f"{head},corner_radius_mm", *rows]) + "\n", encoding="utf-8")
    code, out, err = run(command, folder, "trays", "--json")
    assert (code, err) == (0 if command == "compare" else 1, "")
    told = json.loads(out)
    told = told["variants"] if command == "compare" else told
    verdicts = {one["cabinet"]: one["verdict"] for one in told}
    assert verdicts == {"wide": "fits", "low": "does not fit", "tight": "undecided"}


def test_the_knife_takes_a_corner_off_but_no_margin():
    """Outside 396.8 mm fills a drawer of 400; a field of 340 is 30 mm from the walls, one of 360 is 20 mm.

    With a corner of 40 mm the field's corner is 10 sqrt 2 = 14.1 or 20 sqrt 2 = 28.3 mm from the circle's middle, whose
    radius less 1.6 and 12 mm is 26.4.
    """
    box = drawer(width=400, depth=400, corner_radius=mm(40))
    told = {field: admit(group(ready=ready(mm(400) - 2 * SIDE, mm(field))), box, HOUSE) for field in (340, 360)}
    assert told[340].alone.how == "as is"
    assert isinstance(told[360], Open)


def test_an_organizer_with_thin_edges_keeps_as_much_at_the_corner():
    """Field 390 in 396.8 mm, 3.4 mm all round; 5 mm from the walls: a corner of 10 mm leaves a circle of 10 - 5 = 5 mm.

    The field's corner is 5 sqrt 2 = 7.1 mm from its middle. A corner of 5 mm lies within the edge.
    """
    thin = group(ready=ready(mm(400) - 2 * SIDE, mm(390)))
    assert admit(thin, drawer(width=400, depth=400, corner_radius=mm(5)), HOUSE).alone.how == "as is"
    assert isinstance(admit(thin, drawer(width=400, depth=400, corner_radius=mm(10)), HOUSE), Open)


def test_a_field_at_one_side_is_trimmed_to_the_middle_where_a_corner_asks_for_it():
    """Field 340 at 3 mm from the left and front of 396.8: 4.6 mm from two walls, too near to a corner of 20 mm.

    Trimmed to 364 mm and set in the middle, it is 30 mm from each wall.
    """
    aside = group(ready=ready(mm(400) - 2 * SIDE, mm(340), mm(3), mm(3)))
    box = drawer(width=400, depth=400, corner_radius=mm(20))
    fit = admit(aside, box, HOUSE)
    assert fit.alone.how == "trim"
    assert admit(aside, replace(box, corner_radius=0), HOUSE).alone.how == "as is"


def test_sharp_corners_that_meet_the_drawers_are_told():
    """Its corner is 1.6 mm from both walls: with a drawer's corner of 5 mm it is 3.4 sqrt 2 = 4.8 mm from the middle of
    the circle and inside, with one of 6 mm it is 4.4 sqrt 2 = 6.2 mm from it and would touch."""
    tray = ready(mm(400) - 2 * SIDE, mm(340))
    for radius, codes in ((0, set()), (5, set()), (6, {"corners"}), (20, {"corners"})):
        box = drawer(width=400, depth=400, corner_radius=mm(radius))
        outcome = plan(catalogue((), [tray], [cabinet(box)]), HOUSE, "set", "cabinet")
        assert {caution.code for caution in outcome.cautions} & {"corners"} == codes


# ------------------------------------------------------------------------------------------------------ maker, checker

lengths = st.integers(0, 60 * 320)


@st.composite
def trays(draw, name):
    """An organizer with a field anywhere in it, of no known place, or of no known size."""
    width, depth = (draw(st.integers(200 * 320, 420 * 320)) for _ in range(2))
    rims = [(draw(lengths), draw(lengths)) for _ in range(2)]
    known = draw(st.sampled_from(("all", "size", "width", "none")))
    made = replace(organizer(name, height=50), width=width, depth=depth)
    if known == "none":
        return made
    made = replace(made, field_width=width - sum(rims[0]), field_left=rims[0][0] if known == "all" else None)
    if known == "width":
        return made
    return replace(made, field_depth=depth - sum(rims[1]), field_front=rims[1][0] if known == "all" else None)


@st.composite
def drawers(draw, name="1", least=200):
    sides = [draw(st.integers(least * 320, 450 * 320)) for _ in range(2)]
    blocks = draw(st.sampled_from(((), (Obstruction(0, 0, mm(30), mm(40), mm(20)),))))
    made = drawer(name, row=int(name), corner_radius=draw(st.integers(0, 90 * 320)), obstructions=blocks)
    return replace(made, inside_width=sides[0], inside_depth=sides[1])


@st.composite
def near_misses(draw):
    """An organizer and a drawer about as large, so that it is often trimmed."""
    tray = draw(trays("tray"))
    more = [draw(st.integers(-40 * 320, 20 * 320)) + 2 * SIDE for _ in range(2)]
    return tray, replace(draw(drawers()), inside_width=tray.width + more[0], inside_depth=tray.depth + more[1])


def room(box, shrunk):
    """The drawer's inside with its rounded corners, less so much all round."""
    r, width, depth = box.corner_radius, box.inside_width, box.inside_depth
    if r <= shrunk:
        return rectangle(shrunk, shrunk, width - shrunk, depth - shrunk)
    return rectangle(r, r, width - r, depth - r).buffer(r - shrunk, quad_segs=256)


@given(near_misses())
@settings(max_examples=300)
def test_every_planned_organizer_passes_the_check_and_lies_within_the_round(pair):
    tray, box = pair
    known = catalogue((), [tray], [cabinet(box)])
    outcome = plan(known, HOUSE, "set", "cabinet")
    if not isinstance(outcome, Fits):
        return
    assert verify(known, HOUSE, outcome.plan) == ()
    (placed,) = outcome.plan.placements
    wide = tray.field_width or placed.width
    deep = tray.field_depth or placed.depth
    left, front = placed.left + placed.field_left, placed.front + placed.field_front
    rims = (placed.field_left, placed.field_front, placed.width - placed.field_left - wide)
    foam = min(MARGIN, *rims, placed.depth - placed.field_front - deep)
    grown = rectangle(left, front, left + wide, front + deep).buffer(foam, quad_segs=256)
    assert room(box, SIDE).buffer(2).covers(grown), "field and foam within the drawer less the side clearance"


@given(near_misses(), st.integers(0, 20 * 320), st.integers(0, 20 * 320))
@settings(max_examples=300)
def test_a_larger_or_squarer_drawer_never_takes_less(pair, wider, squarer):
    tray, box = pair
    larger = replace(box, inside_width=box.inside_width + wider, corner_radius=max(0, box.corner_radius - squarer))
    if isinstance(admit(group(ready=tray), box, HOUSE), GoesIn):
        assert isinstance(admit(group(ready=tray), larger, HOUSE), GoesIn)


@given(trays("one"), trays("two"), drawers(least=400), st.booleans())
@settings(max_examples=100)
def test_organizers_that_share_a_rounded_drawer_pass_the_check(one, two, box, cut):
    small = [
        replace(made, depth=made.depth // 2, field_depth=None, field_front=None, family="f") for made in (one, two)
    ]
    blocks = [piece("block", length=120, width=80, height=30, group="blocks")] if cut else []
    rules = (GroupRule("blocks", "f", 1, ("other",)),)
    known = catalogue(blocks, small, [cabinet(box)], group_rules=rules)
    outcome = plan(known, HOUSE, "set", "cabinet")
    if isinstance(outcome, Fits):
        assert verify(known, HOUSE, outcome.plan) == ()


# ----------------------------------------------------------------------------------------------------- there and back

sizes = st.integers(30, 260)


@st.composite
def made_plans(draw):
    """A plan of pieces in one or two drawers with rounded corners, some of them sharing one."""
    boxes = [draw(drawers(str(row + 1), least=300)) for row in range(draw(st.integers(1, 2)))]
    boxes = [replace(box, obstructions=()) for box in boxes]
    blocks = [
        piece(f"block {n}", length=draw(sizes), width=draw(sizes), height=30, count=draw(st.integers(1, 2)), group=name)
        for n, name in enumerate(("a", "b", "b")[: draw(st.integers(1, 3))])
    ]
    rules = tuple(GroupRule(name, "blocks", 1, ("other",)) for name in "ab")
    known = catalogue(blocks, cabinets=[cabinet(*boxes)], group_rules=rules)
    outcome = plan(known, HOUSE, "set", "cabinet")
    assume(isinstance(outcome, Fits) and all(placed.how == "new" for placed in outcome.plan.placements))
    assume(not any(one.part_of for one in outcome.plan.groups))
    return known, outcome


@given(made_plans())
@settings(max_examples=60)
def test_an_organizer_of_a_plan_comes_back_as_is(planned):
    """Entered as ready-made with the same outside and field, all organizers go as is where the plan has them."""
    known, outcome = planned
    groups = {one.name: one for one in outcome.plan.groups}
    rows = [replace(organizer_of(placed, groups[placed.group]), set="set") for placed in outcome.plan.placements]
    rows = [replace(row, family="blocks", tier=1) for row in rows]
    again = plan(replace(known, pieces=(), organizers=tuple(rows)), HOUSE, "set", "cabinet")
    assert again.verdict == "fits"
    boxes = {box.name: box for box in known.cabinets[0].drawers}
    held = {name: [one for one in outcome.plan.placements if one.drawer == name] for name in boxes}
    for name, placed in held.items():
        if placed:
            block = block_of([kept_of(one, groups[one.group]) for one in placed], HOUSE)
            assert carried(block, boxes[name], HOUSE).how in ("as is", "shim")
        if len(placed) == 1:
            row = next(row for row in rows if row.group == placed[0].group)
            assert admit(group(ready=row), boxes[name], HOUSE).alone.how == "as is"
    if len(held) == 1:
        assert [one.how for one in again.plan.placements] == ["as is"] * len(rows)


def test_the_organizers_of_a_reference_are_as_is_in_a_cabinet_like_it():
    radii = (0, 5, 13, 14, 20, 35, 60)
    unit = [drawer(str(n), row=n, corner_radius=mm(radius)) for n, radius in enumerate(radii, 1)]
    blocks = [piece(f"block {n}", length=100 + 20 * n, width=200, height=30, group=f"g{n}") for n in range(len(radii))]
    rules = tuple(GroupRule(f"g{n}", f"f{n}", 1, ("other",)) for n in range(len(radii)))
    twins = [replace(cabinet(*(replace(box, cabinet=name) for box in unit)), name=name) for name in ("one", "two")]
    known = catalogue(blocks, cabinets=twins, group_rules=rules)
    told = comparison.compare(known, HOUSE, "set", reference="one").variants
    assert [dict(variant.hows)["as is"] for variant in told] == [len(radii)] * 2
    for one, other in pairwise(told):
        assert one.free == other.free == 0
