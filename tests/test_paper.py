"""What is printed: true to size, whole, with every name as text; read back from the PDF by pypdf."""

import re
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher import default_house, plan, read_catalogue
from matcher.cautions.free_loads import free_loads_of
from matcher.cutting.cartons import packing_of
from matcher.records.answered import Caution
from matcher.records.given import Foam
from matcher.records.units import kg, mm, to_kg, to_mm
from matcher.report.front import FrontBox, front_of
from matcher.report.paper import front_page
from matcher.report.paper.check import OVERLAP, RIM, check_pdf, marks_of, tiling_of
from matcher.report.paper.drawer_blocks import HEAD_HIGH, LINE, DrawerBlock
from matcher.report.paper.drawer_index import kind_index
from matcher.report.paper.drawer_pages import APART, columns_of, drawer_pages
from matcher.report.paper.guide import guide_pdf
from matcher.report.paper.shapes import organizer_shapes
from matcher.report.paper.sheets import POINT, Sheets, paper_named
from matcher.report.paper.shipping import shipping_pdf
from matcher.report.paper.tick_lines import tick_lines_of
from matcher.report.poster import UNKNOWN
from tests.builders import HOUSE, cabinet, drawer, group, organizer, piece
from tests.cutting_cases import NOTCHED, ROUNDED, outcome, placement, tools
from tests.pdf_reading import alike, pages, rings, words

BUNDLED = Path(__file__).resolve().parents[1] / "data" / "workshop"
A4, LETTER = paper_named("A4"), paper_named("Letter")
EDGE = 10.0
"""Free edge of a tile, in millimeters."""
HOSTILE = ["<script>alert(1)</script>", "=cmd|' /C calc'!A0", 'say "hi" & \\ (go)', "x" * 300, "中文", "שלום"]


def planned(name="group", free=()):
    """One organizer of 300 x 200 mm with two pockets and a notch, one ready-made without known pockets."""
    ready = group("ready", ready=organizer("ready", 300, 180, part="P-1", revision="C", mass=kg(1)))
    seats = (placement(name, laid=NOTCHED), placement("ready", "2", "as is", 300, 180, gap_width=0))
    box = cabinet(ROUNDED, drawer("2", row=2), *(drawer(name, row=9) for name in free))
    return outcome(box, [tools(name=name), ready], seats, free=free)


def guide(made, paper=A4):
    return guide_pdf(made, paper)


def shipping(made, paper=A4):
    return shipping_pdf(made, packing_of(made), paper)


# --------------------------------------------------------------------------------------------------- full-size check


@given(st.floats(20, 2000), st.floats(20, 1200), st.sampled_from([A4, LETTER]))
def test_tiles_cover_the_organizer_with_its_rim_and_share_their_marks(width, depth, paper):
    tiling = tiling_of(width, depth, paper)
    right, back = tiling.corner(tiling.columns - 1, tiling.rows - 1)
    assert tiling.corner(0, 0) == (-RIM, -RIM)
    assert right + tiling.width >= width + RIM - 1e-9
    assert back + tiling.height >= depth + RIM - 1e-9
    if tiling.columns > 1:  # no tile too many
        assert tiling.corner(tiling.columns - 1, 0)[0] + OVERLAP < width + RIM + 1e-9
    for _, (x, y) in marks_of(tiling):
        showing = 0
        for row in range(tiling.rows):
            for column in range(tiling.columns):
                left, front = tiling.corner(column, row)
                showing += left <= x <= left + tiling.width and front <= y <= front + tiling.height
        assert showing >= 2


def test_the_lines_on_the_tiles_are_those_of_the_plan_at_full_size():
    made = planned()
    placed = made.plan.placements[0]
    tiling = tiling_of(300, 200, A4)
    read = pages(check_pdf(made, "group", A4))
    assert len(read) == 1 + tiling.columns * tiling.rows
    for number in range(tiling.columns * tiling.rows):
        x, y = tiling.corner(number % tiling.columns, number // tiling.columns)
        drawn = rings(read[number + 1])
        for shape in organizer_shapes(made.plan.groups[0], placed):
            on_page = [(EDGE + u - x, EDGE + tiling.height - (v - y)) for u, v in shape.ring]
            assert any(alike(on_page, ring) for ring in drawn), (number, shape.part)


def test_the_organizer_is_as_large_as_planned_and_its_pockets_lie_where_the_layout_has_them():
    # By hand from the example: 300 x 200 mm outside, a field of 200 x 100 mm in its middle, first pocket 60 x 100 mm.
    made = planned()
    shapes = {shape.part: [] for shape in organizer_shapes(made.plan.groups[0], made.plan.placements[0])}
    for shape in organizer_shapes(made.plan.groups[0], made.plan.placements[0]):
        shapes[shape.part].append(shape.ring)
    assert shapes["foam"] == [((0, 0), (300, 0), (300, 200), (0, 200))]
    assert shapes["pocket"][0] == ((50, 50), (110, 50), (110, 150), (50, 150))
    assert len(shapes["pocket"]) == 2
    assert len(shapes["notch"]) == 1


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_the_check_square_is_100_mm_and_printers_are_asked_not_to_scale(paper):
    made = planned()
    read = pages(check_pdf(made, "group", paper))
    assert [float(side) * 25.4 / 72 for side in read[0].mediabox[2:]] == pytest.approx(
        [paper.width, paper.height], 1e-3
    )
    sides = [(max(x for x, _ in ring) - min(x for x, _ in ring), max(y for _, y in ring) - min(y for _, y in ring))
             for ring in rings(read[0]) if len(ring) > 2]  # fmt: skip
    assert any(side == pytest.approx((100, 100), abs=0.01) for side in sides)
    assert read[0].pdf.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert "100 %" in words(check_pdf(made, "group", paper))[1]


# ------------------------------------------------------------------------------------------------------------- guide


def scale_on(page):
    return float(re.search(r"scale 1 : ([0-9.]+)", page.extract_text())[1])


def test_the_front_view_is_true_to_its_scale():
    made = planned(free=["3"])
    page = pages(guide(made))[0]
    scale, drawn = scale_on(page), rings(page)
    corner = min(min(ring) for ring in drawn if len(ring) > 2)  # of the body
    for _, place in front_of(made.question.cabinet).drawers:
        left, top = corner[0] + place.x / scale, corner[1] + place.y / scale
        right, low = left + place.width / scale, top + place.height / scale
        assert any(alike([(left, top), (right, top), (right, low), (left, low)], ring) for ring in drawn)
    bars = [ring for ring in drawn if len(ring) == 2 and ring[0][1] == ring[1][1]]
    assert any(abs(abs(end[0] - start[0]) * scale - 500) < 0.1 for start, end in bars)


def test_page_one_is_the_poster_what_it_is_front_and_every_drawer_from_above():
    made = planned(free=["3"])
    page = pages(guide(made))[0]
    text = " ".join(page.extract_text().split())
    assert "2 organizers in 2 drawers. More on page 2." in text
    assert "lock its casters, if it has any. Open one drawer at a time, or the cabinet can tip over." in text
    assert "Free for your own tools: in drawer 3 what the maker's manual allows." in text
    assert UNKNOWN in text
    poster = scale_of_bar(page)
    drawn = rings(page)
    for inside in made.question.cabinet.drawers:
        size = to_mm(inside.inside_width) * poster, to_mm(inside.inside_depth) * poster
        assert any(alike_size(ring, *size) for ring in drawn if len(ring) > 2), inside.name


def scale_of_bar(page):
    """Millimeters on paper a millimeter of the drawers: of two bars of 500 mm the one further to the right."""
    bars = [ring for ring in rings(page) if len(ring) == 2 and ring[0][1] == ring[1][1]]
    start, end = max((bar for bar in bars if abs(bar[1][0] - bar[0][0]) > 20), key=lambda bar: bar[0][1])
    return abs(end[0] - start[0]) / 500


@pytest.mark.parametrize("name", ["group", "x" * 300])
def test_no_word_of_the_poster_or_of_a_drawing_is_smaller_than_six_points(name):
    read = pages(guide(planned(name, free=["3"])))
    shown = [read[0], *(page for page in read if "Drawer 1: " in page.extract_text())]
    sizes = []
    for page in shown:
        page.extract_text(visitor_text=lambda text, cm, tm, font, size: sizes.append(size) if text.strip() else None)
    assert len(shown) > 1
    assert min(sizes) >= 6 - 1e-6


def test_a_drawer_is_drawn_true_to_its_scale_with_the_plan_s_pockets():
    made = planned()
    page = next(page for page in pages(guide(made)) if "Drawer 1" in page.extract_text())
    drawn = rings(page)
    start, end = next(ring for ring in drawn if len(ring) == 2 and ring[0][1] == ring[1][1])
    scale = 100 / abs(end[0] - start[0])
    walls = next(ring for ring in drawn if alike_size(ring, 303.2 / scale, 203.2 / scale))
    left, floor = min(x for x, _ in walls), max(y for _, y in walls)
    placed = made.plan.placements[0]
    for shape in organizer_shapes(made.plan.groups[0], placed):
        on_page = [(left + (1.6 + x) / scale, floor - (1.6 + y) / scale) for x, y in shape.ring]
        assert any(alike(on_page, ring) for ring in drawn), shape.part


def alike_size(ring, width, height):
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((width, height), abs=0.01)


def test_the_guide_names_every_piece_once_and_what_is_not_included():
    made = planned(free=["3", "4"])
    text = "\n".join(words(guide(made)))
    free, listed = text.split("Free for your own tools\n")[1].split("Not included")
    assert "drawers 3 and 4: " in free
    assert "free" not in listed
    assert "the pieces of ready" in listed


def test_a_label_names_part_revision_cabinet_drawer_and_the_front():
    made = planned()
    labels = words(shipping(made))[-1]
    assert "part P-1, revision C" in labels
    assert "not given" not in labels  # new foam has no part number yet
    assert "cabinet, drawer 2" in labels
    assert labels.count("FRONT") == 2


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_are_nothing_but_text(name):
    made = planned(name)
    made_guide = guide(made)
    assert b"/JavaScript" not in made_guide
    assert b"/URI" not in made_guide
    assert not any("/Annots" in page for page in pages(made_guide))
    text = "".join("".join([*words(made_guide), *words(shipping(made))]).split())
    if name == "中文":  # the font has no such signs: they stand there by number
        assert "[U+4E2D][U+6587]" in text
        told = "[U+4E2D] and the like stand for signs that the font of this print lacks"
        for pdf in (made_guide, shipping(made)):
            assert [told in page for page in words(pdf)] == [*[False] * (len(words(pdf)) - 1), True], "its last page"
    else:
        assert "the font of this print lacks" not in " ".join([*words(made_guide), *words(shipping(made))])
    if len(name) < 100 and name.isascii():
        assert "".join(name.split()) in text


def test_the_same_plan_gives_the_same_bytes():
    made = planned()
    assert guide(made) == guide(made)
    assert shipping(made) == shipping(made)
    assert check_pdf(made, "group", A4) == check_pdf(made, "group", A4)


# ------------------------------------------------------------------------------------------------------------ cartons


def packed(*organizers, foam=(), **rules):
    """Packing of ready-made organizers, one a drawer."""
    box = cabinet(*(drawer(str(row), row=row) for row in range(len(organizers))))
    seats = [
        placement(one.group, str(row), "as is", one.width / 320, one.depth / 320, height=one.height)
        for row, one in enumerate(organizers)
    ]
    house = replace(HOUSE, carton=replace(HOUSE.carton, **rules))
    return packing_of(outcome(box, [group(one.group, ready=one) for one in organizers], seats, stock=foam, house=house))


def test_a_carton_is_the_stack_with_padding_and_board():
    # By hand: pad 25 mm and board 7 mm on each of two sides add 64 mm; 50 + 30 mm of organizers.
    found = packed(organizer("a", 500, 380, 50, mass=kg(1)), organizer("b", 480, 390, 30, mass=kg(2)))
    (carton,) = found.cartons
    assert (carton.length, carton.width, carton.height) == (mm(564), mm(454), mm(144))
    # A regular slotted carton's blank without its glue flap: 2 (L + W) x (H + W), from memory.
    board = 2 * (0.564 + 0.454) * (0.144 + 0.454) * 0.9
    assert carton.mass == pytest.approx(kg(3) + board * kg(1), abs=2)


@pytest.mark.parametrize("rules", [{"stack": mm(90)}, {"most": kg(4)}])
def test_a_stack_too_high_or_too_heavy_goes_on_in_another_carton(rules):
    found = packed(*(organizer(name, height=40, mass=kg(1.2)) for name in "abcd"), **rules)
    assert [[layer.group for layer in carton.layers] for carton in found.cartons] == [["a", "b"], ["c", "d"]]


def test_one_organizer_beyond_every_limit_still_gets_a_carton():
    found = packed(organizer("a", height=90, mass=kg(30)), most=kg(1), stack=mm(10))
    assert len(found.cartons) == 1


def test_foam_weighs_as_its_block_where_only_its_density_is_known():
    # 0.5 m x 0.4 m x 0.05 m at 33 kg/m3: 0.33 kg
    black = Foam("black", mm(1200), mm(600), mm(50), density=33.0)
    (carton,) = packed(organizer("a", 500, 400, 50, foam="black"), foam=[black]).cartons
    (layer,) = carton.layers
    assert layer.mass == pytest.approx(kg(0.33), abs=1)
    assert layer.estimated


def test_an_unknown_mass_is_told_and_never_taken_as_nothing():
    (carton,) = packed(organizer("a"), organizer("b", mass=kg(1))).cartons
    assert carton.mass is None
    made = planned()
    assert "mass not known" in "\n".join(words(shipping(made)))


def test_tools_are_weighed_between_their_bounds_without_their_organizer():
    ready = organizer("g", mass=kg(5))
    owner = group("g", piece("hammer", mass=2, count=3), ready=ready)
    made = outcome(cabinet(drawer("1")), [owner], [placement("g", "1", "as is", 500, 380)])
    (load,) = packing_of(made).tools
    assert (load.pieces, load.mass_low, load.mass_high) == (3, kg(6), kg(6))


# ------------------------------------------------------------------------------------------------------- command line

DRAWERS = (
    "cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm\nc,1,1,1,560,400,100\nc,2,1,2,560,400,{}\n"
)
TOOLS = "set,tool,kind,count,length_mm,width_mm,height_mm,mass_kg,group\ns,block,other,2,100,40,20,1,blocks\n"
READY = "set,group,width_mm,depth_mm,height_mm\ns,ready,500,380,50\n"


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "drawers.csv").write_text(DRAWERS.format(100), encoding="utf-8")
    (tmp_path / "tools.csv").write_text(TOOLS, encoding="utf-8")
    (tmp_path / "organizers.csv").write_text(READY, encoding="utf-8")
    return tmp_path


def test_guide_and_paper_check_are_written_by_suffix(run, folder):
    assert run("plan", folder, "s", "c", "--out", folder / "guide.pdf", "--paper", "letter")[0] == 0
    assert run("plan", folder, "s", "c", "--group", "blocks", "--out", folder / "check.pdf")[0] == 0
    assert run("plan", folder, "s", "c", "--packing", "--out", folder / "packing.pdf")[0] == 0
    assert "2 x block" in "\n".join(words((folder / "guide.pdf").read_bytes()))
    assert "Packing list: s in c" in words((folder / "packing.pdf").read_bytes())[0]
    assert "Full-size check: blocks" in words((folder / "check.pdf").read_bytes())[0]


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (["--group", "none"], "no such group"),
        (["--paper", "A3"], "expected A4 or Letter"),
        (["--packing", "--group", "blocks"], "no --group"),
    ],
)
def test_what_cannot_be_printed_is_one_line_and_leaves_no_file(run, folder, words, expected):
    code, out, err = run("plan", folder, "s", "c", "--out", folder / "x.pdf", *words)
    assert (code, out) == (2, "")
    assert expected in err
    assert not (folder / "x.pdf").exists()


def test_a_check_that_the_catalogue_says_too_little_for_is_named(run, folder):
    code, out, err = run("plan", folder, "s", "c", "--out", folder / "x.pdf", "--group", "ready")
    assert (code, "ready" in out) == (0, True)
    assert err.endswith(": no full-size check, the catalogue does not say where the pockets of 'ready' lie\n")
    assert not (folder / "x.pdf").exists()


def test_packing_needs_a_pdf(run, folder):
    code, out, err = run("plan", folder, "s", "c", "--packing", "--out", folder / "x.json")
    assert (code, out) == (2, "")
    assert "--packing: name the list with --out, a FILE.pdf" in err


# ------------------------------------------------------------------------------------- series, index and boxes to tick


def several(*pieces, name="group"):
    return replace(tools(name=name), pieces=tuple(replace(tools().pieces[0], piece=one) for one in pieces))


def test_a_series_is_one_line_of_sizes_and_a_count_is_said():
    socket = {"kind": "deep socket", "drive": "1/2", "system": "inch"}
    made = several(
        piece("deep socket 1/2 3/8 in", size="3/8", **socket),
        piece("deep socket 1/2 7/16 in", size="7/16", count=2, **socket),
        piece("ratchet 1/4", kind="ratchet", drive="1/4"),
        piece("ratchet 3/8", kind="ratchet", drive="3/8"),
        piece("screwdriver slotted 3.5 mm", kind="screwdriver", size="3.5"),
        piece("block"),
    )
    told = {one.name: one.items for one in tick_lines_of(made)}
    assert told == {
        "deep sockets 1/2, inch": ("3/8", "2 x 7/16"),
        "ratchets": ("1/4", "3/8"),
        "screwdrivers": ("slotted 3.5 mm",),
        "": ("block",),
    }


def test_two_tools_that_a_size_does_not_tell_apart_are_named_in_full():
    plain = {"kind": "socket", "drive": "1/2", "system": "metric", "size": "13"}
    made = several(piece("socket 1/2 13 mm", **plain), piece("thin socket 1/2 13 mm", **plain))
    (line,) = tick_lines_of(made)
    assert line.items == ("socket 1/2 13 mm", "thin socket 1/2 13 mm")


def test_a_ready_made_organizer_without_a_list_is_ticked_off_itself():
    ready = group("ready", ready=organizer("ready"))
    assert [one.items for one in tick_lines_of(replace(ready, pieces=()))] == [("organizer with its tools",)]


def test_the_index_names_the_drawers_of_every_kind_and_tells_its_halves_apart():
    sides = {"1": "metric", "2": "inch", "3": "metric"}
    kinds = {"1": "combination wrench", "2": "combination wrench", "3": "hammer"}
    groups = [
        several(piece(f"{kinds[name]} {name}", kind=kinds[name], system=side, size="9"), name=name)
        for name, side in sides.items()
    ]
    made = outcome(cabinet(*map(drawer, sides)), groups, [placement(name, name) for name in sides])
    told = [(entry.name, [(place.drawer, place.system) for place in entry.places]) for entry in kind_index(made)]
    assert told == [("combination wrenches", [("1", "metric"), ("2", "inch")]), ("hammers", [("3", "")])]


def test_the_index_names_the_page_on_which_a_drawer_is_drawn():
    read = words(guide(planned()))
    drawn = next(number for number, text in enumerate(read, 1) if "Drawer 1: group" in text)
    assert f": 1 p. {drawn}" in " ".join(read[1].split())


def test_page_one_says_how_many_kilograms_a_free_drawer_may_hold():
    """The figure is that of `cautions.free_loads`; the warning about full ratings is not told beside it."""
    made = plan(read_catalogue(BUNDLED), default_house(), "Birch-134", "Moor-13")
    loads = {
        one.drawer: int(to_kg(one.most)) for one in free_loads_of(made.question.cabinet, made.plan, default_house())
    }
    read = [" ".join(text.split()) for text in words(guide(made))]
    assert set(loads) == set(made.plan.free_drawers) == {"B6", "A7", "B7"}
    assert f"at most {loads['A7']} kg each in drawers A7 and B7" in read[0]
    assert f"at most {loads['B6']} kg in drawer B6" in read[0]
    assert "lock the casters" in read[0]
    assert not any("full rating" in text for text in read)


def test_every_page_is_numbered_and_counts_them_all():
    read = words(guide(planned(free=["3"])))
    for number, text in enumerate(read, 1):
        assert f"page {number} of {len(read)}" in text


def test_cautions_are_those_for_the_person_at_the_cabinet():
    made = replace(
        planned(),
        cautions=(
            Caution("TIP-1", "error", "It tips."),
            Caution("LOAD-D", "caution", "It carries much."),
            Caution("basis", "caution", "Sizes are estimated."),
            Caution("DATA", "info", "Load not evaluated."),
        ),
    )
    read = " ".join(words(guide(made))[1].split())
    assert read.index("Stop - It tips.") < read.index("It carries much.") < read.index("cabinet maker's manual")
    assert "local codes" in read
    assert "estimated" not in read
    assert "not evaluated" not in read
    assert "Read page 2 first: 1 stop and 1 caution." in " ".join(words(guide(made))[0].split())


def listed(number, count):
    """A group of so many rows of tools, and its name."""
    pieces = tuple(replace(tools().pieces[0], piece=piece(f"no. {number}.{n}. {'x' * 60}")) for n in range(count))
    return replace(tools(name=f"group {number}"), pieces=pieces)


@given(st.lists(st.integers(1, 130), min_size=1, max_size=9), st.sampled_from([A4, LETTER]))
@settings(max_examples=10, deadline=None)
def test_boxes_to_tick_leave_no_line_alone_in_a_column(counts, paper):
    """Every piece once; a drawer's list stays with its heading, a longer one goes on with at least three lines."""
    groups = [listed(number, count) for number, count in enumerate(counts)]
    box = cabinet(*(drawer(str(row), row=row) for row in range(len(counts))))
    made = outcome(box, groups, [placement(one.name, str(number)) for number, one in enumerate(groups)])
    flow = Sheets(paper, "")
    drawer_pages(flow, made)
    read = words(flow.output())
    for number, count in enumerate(counts):
        there = [pieces for text in read if (pieces := text.count(f"no. {number}."))]
        assert sum(there) == count
        assert len(there) == 1 or min(there) >= min(3, count)


@given(st.lists(st.integers(1, 40), min_size=1, max_size=12), st.booleans(), st.floats(120, 270))
def test_columns_hold_every_line_once_in_order_and_none_runs_over(counts, whole, height):
    blocks = [
        DrawerBlock(drawer(str(number)), str(number), (), 0, ((),) * count) for number, count in enumerate(counts)
    ]
    columns = columns_of(blocks, height, whole=whole)
    lines = [
        (block.heading, line) for column in columns for block, first, last in column for line in range(first, last)
    ]
    assert lines == [(str(number), line) for number, count in enumerate(counts) for line in range(count)]
    for column in columns:
        high = [HEAD_HIGH + LINE * (last - first) for _, first, last in column]
        assert sum(high) + APART * (len(column) - 1) <= height + 1e-6
        for block, first, last in column:
            assert last - first >= min(3, len(block.lines))
    if whole:
        parts = [block.heading for column in columns for block, _, _ in column]
        assert all(parts.count(block.heading) == 1 for block in blocks if block.height <= height)


@pytest.mark.slow
def test_the_guide_of_eight_hundred_pieces_takes_eight_pages_at_most():
    made = plan(read_catalogue(BUNDLED), default_house(), "Maple-802", "Heath-21")
    assert made.basis.total == 802
    for paper in (A4, LETTER):
        read = words(guide_pdf(made, paper))
        assert len(read) <= 8
        assert "page 8 of 8" in read[-1] or len(read) < 8


def test_words_in_a_drawer_of_the_printed_front_stay_in_it():
    """In several lines none reaches the edges: capitals are 0.73 of a font size high, what hangs down is 0.24."""
    for high in (3.2, 4.0, 5.0, 7.0, 9.0, 12.0):
        written = []
        surface = SimpleNamespace(write=lambda x, y, text, size, **_: written.append((y, size)))  # noqa: B023
        front_page._filled(surface, "chrome sockets + deep chrome sockets", FrontBox(0, 0, 40, high), 9, (0, 0, 0))
        for y, size in written if len(written) > 1 else ():
            assert y - 0.73 * size * POINT >= 0
            assert y + 0.24 * size * POINT <= high
