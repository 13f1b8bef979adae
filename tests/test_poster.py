"""The poster: one scale, true places, words that are large enough, colors that everybody tells apart."""

from dataclasses import replace
from itertools import combinations, pairwise
from math import inf
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matcher.planning.question import ask
from matcher.records.given import GroupRule
from matcher.records.units import to_mm
from matcher.report.drawer_states import verdict_sentence
from matcher.report.families import COLORS, family_colors
from matcher.report.fitted_words import extent, wrapped
from matcher.report.front import FrontBox
from matcher.report.pages.poster_view import poster_svg
from matcher.report.poster import UNKNOWN, hatched, poster_of
from matcher.report.poster_places import PosterRoom, poster_places
from tests import builders, page_cases
from tests.builders import HOUSE

ROOM = PosterRoom(900, 600, 12, 10)
PHONE = PosterRoom(350, inf, 12, 10)

# ------------------------------------------------------------------------------------------------------------ places

DRAWERS = st.lists(
    st.tuples(st.integers(200, 1200), st.integers(300, 700), st.integers(1, 3), st.integers(1, 9)),
    min_size=1,
    max_size=24,
)


def cabinet(sizes):
    """Drawers at any bank and row, several of them even at the same."""
    return builders.cabinet(
        *(
            builders.drawer(str(number), bank, row, width, depth)
            for number, (width, depth, bank, row) in enumerate(sizes)
        )
    )


@given(sizes=DRAWERS, room=st.sampled_from([ROOM, PHONE, replace(ROOM, lines=3), replace(ROOM, width=300)]))
def test_all_drawers_stand_in_the_room_at_one_scale_and_none_on_another(sizes, room):
    drawn = cabinet(sizes)
    places = poster_places(drawn, room)
    for drawer, box in zip(drawn.drawers, places.boxes, strict=True):
        assert box.width == pytest.approx(to_mm(drawer.inside_width) * places.scale)
        assert box.height == pytest.approx(to_mm(drawer.inside_depth) * places.scale)
        assert -1e-6 <= box.x <= box.x + box.width <= places.width + 1e-6 <= room.width + 1e-3
        assert room.head - 1e-6 <= box.y
        assert box.y + box.height + room.foot <= places.height + 1e-6
    taken = [
        FrontBox(box.x, box.y - room.head, box.width, box.height + room.head + room.foot - 1e-6) for box in places.boxes
    ]
    assert not any(one.meets(other) for one, other in combinations(taken, 2))


@given(sizes=DRAWERS)
def test_a_row_is_over_the_next_and_a_bank_left_of_the_next(sizes):
    drawn = cabinet(sizes)
    places = poster_places(drawn, PHONE)
    for (one, box), (other, beside) in combinations(zip(drawn.drawers, places.boxes, strict=True), 2):
        if one.row < other.row:
            assert box.y + box.height < beside.y
        if one.row == other.row and one.bank < other.bank:
            assert box.x < beside.x


def test_rows_that_go_on_to_the_right_make_the_drawers_larger():
    """Seven drawers of 560 x 405 mm one under the other in a room 900 wide and 600 high would be 75 wide."""
    column = cabinet([(560, 405, 1, row) for row in range(1, 8)])
    assert poster_places(column, ROOM).boxes[0].width > 150


# ------------------------------------------------------------------------------------------------------------- words


@pytest.mark.parametrize("case", [page_cases.planned, page_cases.undecided, page_cases.hostile])
@pytest.mark.parametrize("room", [ROOM, PHONE])
def test_words_are_large_enough_and_no_wider_than_their_drawer(case, room):
    for drawer in poster_of(case(), room).drawers:
        assert drawer.words
        for word in drawer.words:
            assert word.size >= room.least - 1e-9
            assert extent(word.text, word.size) <= (drawer.box.height if word.upright else drawer.box.width) + 1e-6


@given(st.lists(st.text(st.characters(categories=["L"]), min_size=1, max_size=12), max_size=8), st.floats(40, 200))
def test_wrapped_words_are_all_there_and_in_their_room(words, room):
    lines = wrapped(" ".join(words), room, 10)
    assert all(extent(line, 10) <= room + 1e-6 for line in lines)
    if not any(line.endswith("…") for line in lines):
        assert " ".join(line for line in lines if line).split() == " ".join(words).split()


def test_the_verdict_is_told_with_the_free_drawers():
    assert verdict_sentence(page_cases.planned(low=True)) == "Does not fit."
    assert verdict_sentence(page_cases.undecided()) == "Undecided."
    outcome = page_cases.planned()
    free, drawers = len(outcome.plan.free_drawers), outcome.question.cabinet.drawers
    assert free == 1
    assert verdict_sentence(outcome) == f"Fits. 1 of {len(drawers) - 1} drawers stays free.", "one is blocked"


def test_free_and_blocked_drawers_say_so_and_what_is_ready_made_is_hatched():
    outcome = page_cases.planned()
    drawers = poster_of(outcome, ROOM).drawers
    told = {drawer.name: {word.text for word in drawer.words} for drawer in drawers}
    free = outcome.plan.free_drawers[0]
    assert {"free", "free, for cases"} & told[free]
    assert "blocked" in told["A3"]
    ready = next(placement for placement in outcome.plan.placements if placement.group == "trays")
    organizer = next(one for drawer in drawers for one in drawer.organizers if one.group == "trays")
    assert organizer.hatch
    assert " ".join(word for word in UNKNOWN.split()) in " ".join(
        word.text for drawer in drawers if drawer.name == ready.drawer for word in drawer.words
    )
    assert not any(one.hatch for drawer in drawers for one in drawer.organizers if one.group != "trays")


@given(st.floats(1, 300), st.floats(1, 300), st.floats(1, 30))
def test_hatching_stays_in_its_box(width, height, step):
    for (left, low), (right, high) in hatched(FrontBox(5, 7, width, height), step):
        assert 5 - 1e-6 <= left <= right <= 5 + width + 1e-6
        assert 7 - 1e-6 <= high <= low <= 7 + height + 1e-6
        assert right - left == pytest.approx(low - high, abs=1e-6)


def test_bars_show_fill_and_load_of_the_plan():
    outcome = page_cases.planned()
    margins = {margin.drawer: margin for margin in outcome.margins}
    for drawer, inside in zip(poster_of(outcome, ROOM).drawers, outcome.question.cabinet.drawers, strict=True):
        bars = {bar.kind: bar.share for bar in drawer.bars}
        if inside.name not in margins:
            assert bars == {}
            continue
        assert bars["fill"] == margins[inside.name].fill
        assert bars.get("load") == (margins[inside.name].load / inside.load_rating if inside.load_rating else None)


def test_the_drawing_is_true_to_its_scale_bar():
    """User units are millimeters: the viewBox is as wide and as high as the page sizes in mm."""
    outcome = page_cases.planned()
    drawing = ElementTree.fromstring(poster_svg(outcome))
    box = [float(word) for word in drawing.get("viewBox").split()]
    assert (drawing.get("width"), drawing.get("height")) == (f"{box[2]}mm", f"{box[3]}mm") == ("420.0mm", "297.0mm")
    shown = {one.get("data-above"): one for one in drawing.iter() if one.get("data-above")}
    bar = next(one for one in drawing.iter() if one.get("class") == "scale")
    scale = float(bar.get("d").split("h ")[1].split()[0]) / 500
    for drawer in outcome.question.cabinet.drawers:
        sizes = float(shown[drawer.name].get("width")), float(shown[drawer.name].get("height"))
        true = to_mm(drawer.inside_width) * scale, to_mm(drawer.inside_depth) * scale
        assert sizes == pytest.approx(true, rel=1e-4)
    fronts = {one.get("data-drawer"): one for one in drawing.iter() if one.get("data-drawer")}
    assert set(fronts) == set(shown)
    assert any((one.text or "").startswith("500 mm") for one in drawing.iter())


# ------------------------------------------------------------------------------------------------------------ colors

BLINDNESS = {
    "none": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "red": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "green": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    "blue": ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
}
"""What people wholly blind to a primary see, on linear sRGB: Machado, Oliveira and Fernandes, 2009, severity 1.0;
from memory. The rows of each matrix sum to 1, so that grays stay gray."""
PRIMARIES = ((0.4124564, 0.3575761, 0.1804375), (0.2126729, 0.7151522, 0.0721750), (0.0193339, 0.1191920, 0.9503041))
"""Linear sRGB to CIE XYZ, IEC 61966-2-1 with white D65; from memory."""


def linear(color):
    parts = [int(color[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    return [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]


def times(matrix, vector):
    return [sum(a * b for a, b in zip(row, vector, strict=True)) for row in matrix]


def lab(color, seen="none"):
    """CIE 1976 L*a*b* of a color as it is seen."""
    light = [min(1.0, max(0.0, part)) for part in times(BLINDNESS[seen], linear(color))]
    shares = [part / sum(row) for part, row in zip(times(PRIMARIES, light), PRIMARIES, strict=True)]
    x, y, z = (share ** (1 / 3) if share > 216 / 24389 else (24389 / 27 * share + 16) / 116 for share in shares)
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def distance(one, other, seen):
    """CIE 1976 color difference; about 2.3 is just noticed side by side (common practice, no source)."""
    return sum((a - b) ** 2 for a, b in zip(lab(one, seen), lab(other, seen), strict=True)) ** 0.5


@pytest.mark.parametrize("seen", BLINDNESS)
def test_everybody_tells_any_two_families_apart(seen):
    """At least 8.5 apart, over three times what is just noticed, and so from the white of a free drawer."""
    assert all(sum(row) == pytest.approx(1, abs=2e-6) for row in BLINDNESS[seen])
    near = {pair: distance(*pair, seen) for pair in combinations((*COLORS, "#ffffff"), 2)}
    assert {pair: far for pair, far in near.items() if far < 8.5} == {}


def test_in_gray_a_family_is_told_from_the_next_and_all_bear_dark_words():
    """Lightness L* differs by 5 or more from one to the next and by 0.5 between any two; names tell the rest."""
    lightness = [lab(color)[0] for color in COLORS]
    assert all(abs(one - other) >= 5 for one, other in pairwise(lightness))
    assert all(abs(one - other) >= 0.5 for one, other in combinations(lightness, 2))
    assert min(lightness) > 65


def test_dark_words_and_lines_have_contrast_on_every_family():
    """4.5 to 1 for text (WCAG 2.2, success criterion 1.4.3) and more than 3 to 1 for lines (1.4.11)."""

    def luminance(color):
        return times(PRIMARIES, linear(color))[1]

    for color in COLORS:
        assert (luminance(color) + 0.05) / (luminance("#1a2026") + 0.05) >= 4.5


def test_a_family_has_one_color_whatever_set_and_cabinet_are_shown():
    first, _ = page_cases.compared(2)
    seen = [family_colors(variant.outcome.question) for one in first for variant in one.variants]
    assert all(colors == seen[0] for colors in seen)


def test_families_of_the_house_have_their_colors_before_those_of_a_catalogue():
    housed = tuple(GroupRule(name, name, 1, house=True) for name in ("pliers", "sockets"))
    made = page_cases.catalogue([page_cases.cabinet()])
    colors = family_colors(ask(replace(made, group_rules=housed), HOUSE, "set", "cabinet"))
    assert (colors["pliers"], colors["sockets"]) == COLORS[:2]
    assert len(set(colors.values())) == len(colors)
