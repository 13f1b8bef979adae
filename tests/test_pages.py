"""Pages as text: numbers are the JSON's, names are only ever text, nothing points outside, colors have contrast."""

import base64
import hashlib
import json
import re
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import html

from matcher.planning.answering import plan
from matcher.records.given import Cabinet
from matcher.records.units import Toward, inch, mm, to_mm
from matcher.report.document import comparison_document, plan_document
from matcher.report.fitted_words import extent, fitted
from matcher.report.front import front_of
from matcher.report.offer_documents import offer_document
from matcher.report.pages.comparison_page import comparison_page
from matcher.report.pages.front_view import front_view
from matcher.report.pages.offer_page import offer_page
from matcher.report.pages.plan_page import plan_page
from matcher.report.pages.poster_view import poster_svg
from matcher.report.pages.quantities import clear, inch_words, length, mass, needed
from matcher.report.pages.rendering import render
from matcher.report.variant_views import steps_document
from tests import builders, page_cases
from tests.page_cases import HOSTILE

PAGES = page_cases.pages()
EVERY = pytest.mark.parametrize("name", sorted(PAGES))


def page(name):
    return html.document_fromstring(PAGES[name])


def numbers(element):
    """Every length and mass below an element, as exact as the page carries them."""
    found = element.xpath(".//*[@data-mm or @data-kg]")
    return [float(word) for one in found for word in (one.get("data-mm") or one.get("data-kg")).split()]


def texts(elements):
    return [" ".join(one.text_content().split()) for one in elements]


# ------------------------------------------------------------------------------------------------ numbers equal JSON


def test_a_plans_page_carries_every_figure_of_its_document():
    outcome = page_cases.planned()
    document, shown = plan_document(outcome), page("plan")
    assert shown.xpath("//@data-verdict") == [document["verdict"]]
    assert shown.xpath("//@data-fewest") == [str(document["fewest_free"])]
    assert shown.xpath("//@data-most") == [str(document["most_free"])]
    assert shown.xpath("//@data-free") == [str(len(document["free_drawers"]))]
    assert shown.xpath("//@data-seed") == [str(document["run"]["seed"])]
    goals = [
        (row.get("data-goal"), int(row.get("data-value")), int(row.get("data-bound")), row.get("data-proved") == "true")
        for row in shown.xpath("//*[@data-goal]")
    ]
    assert goals == [(goal["name"], goal["value"], goal["bound"], goal["proved"]) for goal in document["goals"]]
    told = texts(shown.xpath("//*[@data-goal]//li"))
    assert told == [text for goal in document["goals"] for text in goal["contributions"]]
    cautions = [(row.get("data-caution"), row.get("class")) for row in shown.xpath("//*[@data-caution]")]
    assert sorted(cautions) == sorted((row["code"], row["level"]) for row in document["cautions"])
    assert len(shown.xpath("//article")) == len(outcome.question.cabinet.drawers)


def test_placements_margins_and_free_drawers_are_the_documents():
    document, shown = plan_document(page_cases.planned()), page("plan")
    rows = {row.get("data-group"): row for row in shown.xpath("//*[@data-placement]")}
    assert set(rows) == {placement["group"] for placement in document["placements"]}
    for placement in document["placements"]:
        row = rows[placement["group"]]
        assert (row.get("data-drawer"), row.get("data-how")) == (placement["drawer"], placement["how"])
        assert {placement["width_mm"], placement["depth_mm"]} <= set(numbers(row))
    for margin in document["margins"]:
        row = shown.xpath(f"//*[@data-margin='{margin['drawer']}']")[0]
        expected = [value for key, value in margin.items() if key.endswith(("_mm", "_kg")) and value is not None]
        assert numbers(row) == expected
    for free in document["free"]:
        row = shown.xpath(f"//*[@data-free-drawer='{free['drawer']}']")[0]
        assert numbers(row)[:3] == [free["width_mm"], free["depth_mm"], free["height_mm"]]


def test_pieces_are_counted_in_the_plural_where_there_are_several():
    rows = [
        builders.piece("block", 100, 40, 20, 3, group="tools"),
        builders.piece("8", 120, 20, 20, 1, "punch", group="tools"),
    ]
    rows += [builders.piece("9", 130, 20, 20, 2, "file", group="tools", system="metric")]
    box = builders.cabinet(builders.drawer("1"))
    found = plan(builders.catalogue(rows, (), [box]), builders.HOUSE, "set", "cabinet")
    shown = html.fromstring(plan_page(found))
    assert "6 pieces: 2 files, 3 other, 1 punch" in texts(shown.xpath("//td"))
    assert "6 pieces: 6 measured, 0 from standard, 0 estimated" in texts(shown.xpath("//dd"))


def test_a_refusal_says_why_and_what_would_turn_it():
    document, shown = plan_document(page_cases.planned(low=True)), page("refusal")
    changes = [turn["text"] for turn in document["turns"]]
    assert changes == texts(shown.xpath("//*[@class='change']"))
    assert document["nearest_change"] == f"it would fit with {'; or with '.join(changes)}"
    rows = shown.xpath("//*[@data-code]")
    assert [(row.get("data-code"), float(row.get("data-short-mm"))) for row in rows] == [
        (reason["code"], reason["short_mm"]) for reason in document["reasons"]
    ]
    assert not shown.xpath("//*[@data-placement or @data-goal]")
    assert len(shown.xpath("//article")) == 5, "the empty drawers are still there to look at"


def test_undecided_is_never_shown_as_a_no():
    shown = page("undecided").text_content()
    assert "This is not a no." in shown
    assert "does not fit" not in shown


def test_a_comparisons_table_is_its_document_in_ranked_order():
    (comparison,), (step,) = page_cases.compared()
    variants, shown = comparison_document(comparison)["variants"], page("compare")
    rows = shown.xpath("//table[contains(@class, 'variants')]/tbody/tr")
    assert [(row.get("data-cabinet"), row.get("data-verdict")) for row in rows] == [
        (one["cabinet"], one["verdict"]) for one in variants
    ]
    for row, variant in zip(rows, variants, strict=True):
        cells = {cell.get("data-name"): cell.text_content().strip() for cell in row.xpath("td[@data-name]")}
        for name, cell in cells.items():
            assert cell == ("–" if variant["verdict"] != "fits" else str(variant[name])), name
    assert len(shown.xpath("//*[contains(@class, 'card')]//*[@data-drawer]")) == 5 + 4 + 5
    whys = [f"{one['before']} to {one['after']}: {one['why']}" for one in steps_document(step)]
    assert [text for text in texts(shown.xpath("//summary")) if " to " in text] == whys


def test_many_sets_have_a_matrix_of_verdicts():
    found, _ = page_cases.compared(2)
    rows = page("many").xpath("//table[@class='matrix']/tbody/tr")
    assert [row.get("data-set") for row in rows] == [one.set for one in found]
    for row, comparison in zip(rows, found, strict=True):
        verdicts = {variant.outcome.cabinet: variant.outcome.verdict for variant in comparison.variants}
        assert row.xpath("td/@data-verdict") == [verdicts[name] for name in ("a", "b", "c")]


def test_an_offers_page_carries_its_document():
    document, shown = offer_document(page_cases.offered()), page("offer")
    for name in ("gain", "new_sizes", "brings", "setup", "units"):
        assert float(shown.xpath(f"//*[@data-name='{name}']/@data-value")[0]) == document[name]
    bundles = [(row.get("data-set"), row.get("data-cabinet"), row.get("data-action"), float(row.get("data-brings")))
               for row in shown.xpath("//*[@data-bundle]")]  # fmt: skip
    assert bundles == [(one["set"], one["cabinet"], one["action"], one["brings"]) for one in document["bundles"]]
    (told,) = [text for text in texts(shown.xpath("//section[@class='answer']/p")) if text.startswith("To offer: ")]
    offered = [f"{one['set']} in {one['cabinet']}" for one in document["bundles"] if one["action"] in ("keep", "add")]
    assert offered
    assert all(name in told for name in offered)
    assert len(document["promises"]["all"]) == document["promises"]["of"]
    sizes = {row.get("data-size"): row for row in shown.xpath("//*[@data-size]")}
    for size in document["sizes"]:
        assert numbers(sizes[size["name"]]) == [size["width_mm"], size["depth_mm"], size["height_mm"]]
        cells = shown.xpath(f"//tr[@data-grid='{size['name']}']//span[@data-how]")
        opened = [{name: cell.get(f"data-{name}") for name in ("set", "cabinet", "drawer", "how")} for cell in cells]
        told = [{name: use[name] for name in ("set", "cabinet", "drawer", "how")} for use in size["serves"]]
        assert opened == told
    rows = [(int(row.get("data-first")), int(row.get("data-last")), float(row.get("data-gain")))
            for row in shown.xpath("//tr[@data-first]")]  # fmt: skip
    assert [(limit, gain) for first, last, gain in rows for limit in range(first, last + 1)] == [
        (one["limit"], one["gain"]) for one in document["curve"]
    ]
    for kind in ("wide", "narrow"):
        dots = shown.xpath(f"//svg[contains(@class, 'curve {kind}')]//a")
        assert [(int(dot.get("data-first")), float(dot.get("data-gain"))) for dot in dots] == [
            (first, gain) for first, _, gain in rows
        ]
        assert [dot.get("href") for dot in dots] == [f"#{row.get('id')}" for row in shown.xpath("//tr[@data-first]")]
    assert all(text in shown.text_content() for text in document["statements"])


# ---------------------------------------------------------------------------------------------------------- pictures


BOXES = st.lists(
    st.tuples(st.integers(200, 1200), st.integers(30, 300), st.booleans(), st.integers(20, 80)), min_size=1, max_size=9
)


@given(boxes=BOXES, known=st.booleans())
def test_every_drawer_is_drawn_at_its_true_size_and_none_overlaps_another(boxes, known):
    """Drawers over three banks, some spanning two, with or without known heights above the ground."""
    drawers, top = [], 3000
    for place, (width, height, span, gap) in enumerate(boxes):
        bank, row = place % 3 + 1, place // 3 + 1
        spanning = span and bank == 1 and len(boxes) == place + 1
        floor = top - 400 * row + gap if known else None
        drawers.append(
            builders.drawer(
                str(place), bank, row, width, 400, height,
                last_bank=2 if spanning else bank, above_ground=None if floor is None else mm(floor),
            )
        )  # fmt: skip
    front = front_of(builders.cabinet(*drawers))
    for drawer, box in front.drawers:
        assert (box.width, box.height) == (to_mm(drawer.inside_width), to_mm(drawer.clear_height))
        assert box.x >= -1e-6
        assert box.x + box.width <= front.width + 1e-6
        assert 0 <= box.y <= box.y + box.height <= front.height + 1e-6
    pairs = [(one, other) for one in front.drawers for other in front.drawers if one[0].name < other[0].name]
    assert not any(one.meets(other) for (_, one), (_, other) in pairs)
    for (one, box), (other, beside) in pairs:
        if one.bank == other.bank and one.row < other.row:
            assert box.y < beside.y
        if one.last_bank < other.bank:
            assert box.x < beside.x
        if known and front.ground is not None:
            assert box.y + box.height - beside.y - beside.height == pytest.approx(
                to_mm(other.above_ground - one.above_ground)
            )


def test_drawers_that_would_overlap_at_their_stated_heights_are_stacked_and_the_page_says_so():
    odd = builders.cabinet(
        builders.drawer("1", 1, 1, above_ground=mm(500)), builders.drawer("2", 1, 2, above_ground=mm(450))
    )
    front = front_of(odd)
    assert front.ground is None
    assert front.drawers[1][1].y - front.drawers[0][1].y == 100 + 20
    refused = page_cases.planned(low=True)
    elsewhere = replace(refused, question=refused.question.elsewhere(odd))
    assert "Heights above the ground are not known" in plan_page(elsewhere)


@given(st.text(max_size=80), st.floats(0, 400), st.floats(1, 40))
def test_words_never_leave_their_room(text, room, size):
    shown = fitted(text, room, size)
    assert not shown or extent(shown, size) <= room + 1e-6
    assert shown == text or shown == "" or shown.endswith("…")


@pytest.mark.parametrize("case", [page_cases.planned, page_cases.undecided, page_cases.hostile])
def test_words_stand_inside_their_drawer(case):
    """A line reaches 0.8 em over its baseline and 0.25 em under it (common practice for sans serifs, no source)."""
    for cell in front_view(case()).cells:
        for line in cell.words:
            assert cell.box.y <= line.y - 0.8 * line.size
            assert line.y + 0.25 * line.size <= cell.box.y + cell.box.height
            assert cell.box.x <= line.x <= cell.box.x + cell.box.width


# --------------------------------------------------------------------------------------------------- both unit systems


@given(st.integers(0, 64 * 400))
def test_every_64th_of_an_inch_is_shown_as_its_exact_shop_fraction(parts):
    """The inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""
    words = inch_words(to_mm(inch(Fraction(parts, 64))))
    assert sum(map(Fraction, words.replace(",", "").split())) == Fraction(parts, 64)
    assert all(Fraction(word).denominator <= 64 for word in words.replace(",", "").split())


def read_fraction(words):
    return sum(map(Fraction, words.split()))


@given(st.integers(64, 10_000 * 320))
def test_other_lengths_are_told_to_a_32nd_what_is_there_down_and_what_is_needed_up(units):
    exact = Fraction(units, 8128)
    near, down, up = (inch_words(units / 320, toward) for toward in (None, Toward.DOWN, Toward.UP))
    if near != "under 1/32":
        assert abs(read_fraction(near) - exact) <= Fraction(1, 64)
    assert exact - Fraction(1, 32) < read_fraction(down) <= exact <= read_fraction(up) < exact + Fraction(1, 32)


def test_what_is_rounded_has_its_exact_value_as_a_title():
    """503.2 mm are 19.811 in by 25.4 mm an inch."""
    assert 'title="exactly 19.811 in (503.2 mm)">19 13/16 in<' in needed(503.2)
    assert ">19 25/32 in<" in clear(503.2)
    assert "title" not in length(571.5)


def test_lengths_and_masses_carry_both_systems():
    """22 1/2 in is 571.5 mm; 1 lb is 0.45359237 kg (the same agreement)."""
    assert "571.5 mm" in length(571.5)
    assert "22 1/2 in" in length(571.5)
    assert "10 lb" in mass(4.5359237)
    assert inch_words(-25.4 / 2) == "-1/2"
    assert inch_words(0.0) == "0"


# ------------------------------------------------------------------------------------------------- safe and reachable


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_come_out_as_text(name):
    shown = page("hostile")
    squeezed = " ".join(name.split())
    assert any(squeezed in text for text in texts(shown.xpath("//bdi")))


def test_hostile_names_add_no_element_and_no_attribute():
    """The page of hostile names has the tags and attributes of the page of harmless ones and one script: its own."""
    hostile, plain = page("hostile"), page("plan")
    assert {one.tag for one in hostile.iter()} == {one.tag for one in plain.iter()}
    turned = {"transform"}  # what is too long to be written across a tool is written along it
    keys, known = ({key for one in shown.iter() for key in one.attrib} for shown in (hostile, plain))
    assert keys == known | (keys & turned)
    assert len(hostile.xpath("//script")) == 1
    assert "alert" not in hostile.xpath("//script")[0].text
    assert ElementTree.fromstring(poster_svg(page_cases.hostile())).tag.endswith("svg")


@EVERY
def test_nothing_points_outside_the_page(name):
    shown = page(name)
    assert not shown.xpath("//link | //img | //iframe | //object | //embed | //form | //base | //@src | //@srcset")
    assert not re.search(r"https?://|//[a-z]+\.|@import|url\(", PAGES[name])
    ids = shown.xpath("//@id")
    assert len(ids) == len(set(ids)), "every id is there once"
    for target in shown.xpath("//@href"):
        assert target.startswith("#")
        assert target[1:] in ids, target
    for names in shown.xpath("//@aria-labelledby | //@for"):
        assert set(names.split()) <= set(ids)


@EVERY
def test_only_the_pages_own_script_may_run(name):
    policy = page(name).xpath("//meta[@http-equiv='Content-Security-Policy']/@content")[0]
    digest = base64.b64encode(hashlib.sha256(page(name).xpath("//script")[0].text.encode()).digest()).decode()
    assert f"script-src 'sha256-{digest}'" in policy
    assert "default-src 'none'" in policy
    assert not [key for one in page(name).iter() for key in one.attrib if key.startswith("on")]


@EVERY
def test_pages_have_language_title_landmarks_and_headings_in_order(name):
    shown = page(name)
    assert shown.get("lang") == "en"
    assert shown.xpath("//title")[0].text.strip()
    assert [len(shown.xpath(f"//{tag}")) for tag in ("main", "header", "footer", "h1")] == [1, 1, 1, 1]
    levels = [int(one.tag[1]) for one in shown.iter() if re.fullmatch("h[1-6]", str(one.tag))]
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert all(one.get("scope") for one in shown.xpath("//th"))
    for picture in shown.xpath("//svg[not(@aria-hidden)]"):
        assert picture.get("aria-label") or picture.get("aria-labelledby")


@EVERY
def test_without_script_everything_is_open_and_visible(name):
    shown = page(name)
    assert all("open" in one.attrib for one in shown.xpath("//details"))
    assert not shown.xpath("//*[@hidden]")
    assert not shown.xpath("//button"), "buttons work by script alone and are made by it"


def palettes():
    """Light, dark and print colors by name."""
    style = page("plan").xpath("//style")[0].text
    blocks = re.findall(r":root \{(.*?)\}", style, re.DOTALL)
    light, dark, paper = (dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", block)) for block in blocks)
    return [light, light | dark, light | paper]


def luminance(color):
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(color[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    """Contrast ratio as WCAG 2.2 defines it."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("palette", palettes(), ids=["light", "dark", "print"])
def test_text_and_graphics_have_the_contrast_wcag_asks_for(palette):
    """4.5 to 1 for text (success criterion 1.4.3), 3 to 1 for lines and the focus mark (1.4.11), level AA."""
    text = [(ink, back) for ink in ("ink", "soft") for back in ("paper", "panel")]
    text += [(ink, "paper") for ink in ("link", "yes", "no", "open")]
    text += [("ink", "warn-back"), ("soft", "warn-back"), ("warn", "warn-back"), ("stop", "stop-back")]
    text += [("ink", "stop-back"), ("soft", "stop-back"), ("ink", "chosen")]
    lines = [("line", "paper"), ("focus", "paper")]
    assert {pair: contrast(*(palette[name] for name in pair)) for pair in text
            if contrast(*(palette[name] for name in pair)) < 4.5} == {}  # fmt: skip
    assert {pair: contrast(*(palette[name] for name in pair)) for pair in lines
            if contrast(*(palette[name] for name in pair)) < 3} == {}  # fmt: skip


def test_contrast_of_black_on_white_is_21():
    """The largest ratio that WCAG 2.2 knows."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


# ----------------------------------------------------------------------------------------------------------- commands


def test_the_same_input_gives_the_same_page():
    assert plan_page(page_cases.planned()) == PAGES["plan"]
    assert offer_page(page_cases.offered()) == PAGES["offer"]
    assert comparison_page(*page_cases.compared()) == PAGES["compare"]


def test_a_name_that_a_template_misses_is_an_error():
    with pytest.raises(Exception, match="undefined"):
        render("plan.html")


DRAWERS = """cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm
wide,1,1,1,560,400,100
wide,2,1,2,560,400,100
low,1,1,1,560,400,40
"""
ORGANIZERS = """set,group,width_mm,depth_mm,height_mm,tier
trays,tray a,550,390,50,1
trays,tray b,550,390,50,2
"""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "drawers.csv").write_text(DRAWERS, encoding="utf-8")
    (tmp_path / "organizers.csv").write_text(ORGANIZERS, encoding="utf-8")
    (tmp_path / "demand.csv").write_text("set,cabinet,units,margin\ntrays,wide,10,5\ntrays,low,10,5\n")
    return tmp_path


@pytest.mark.parametrize(
    ("words", "code", "title"),
    [
        (["plan", "trays", "wide"], 0, "trays in wide: fits"),
        (["plan", "trays", "low"], 1, "trays in low: does not fit"),
        (["compare", "trays"], 0, "trays: 2 cabinets"),
        (["compare"], 0, "trays: 2 cabinets"),
        (["offer"], 0, "Offer: 1 bundle, 0 new sizes"),
    ],
)
def test_commands_write_their_page(folder, words, code, title):
    command = [sys.executable, "-m", "matcher", words[0], folder, *words[1:], "--json", "--out", folder / "out.html"]
    ended = subprocess.run([str(word) for word in command], capture_output=True, text=True)
    assert (ended.returncode, ended.stderr) == (code, "")
    assert json.loads(ended.stdout)
    shown = html.parse(str(folder / "out.html")).getroot()
    assert " ".join(shown.xpath("//title")[0].text.split()) == title


def test_plan_draws_the_poster_where_no_group_is_named(folder):
    command = [sys.executable, "-m", "matcher", "plan", folder, "trays", "wide", "--out", folder / "poster.svg"]
    assert subprocess.run([str(word) for word in command], capture_output=True).returncode == 0
    drawing = ElementTree.parse(folder / "poster.svg").getroot()
    for shown in ("data-drawer", "data-above"):
        assert [one.get(shown) for one in drawing.iter() if one.get(shown)] == ["1", "2"]


def test_a_cabinet_of_one_small_drawer_still_has_a_front():
    front = front_of(Cabinet("small", (builders.drawer("1", width=50, height=10),)))
    assert (front.width, front.height) == (50 + 2 * 30, 10 + 2 * 30)


def test_inch_and_metric_halves_are_told_apart_in_a_drawer_seen_from_above():
    """One inch socket left of two metric ones: the line between them stands between their pockets."""
    outcome = page_cases.planned()
    placement = next(one for one in outcome.plan.placements if one.group == "sockets")
    group = next(one for one in outcome.plan.groups if one.name == "sockets")
    ends = {"inch": [], "metric": []}
    for pocket in placement.layout.pockets:
        ends[group.pieces[pocket.piece].piece.system] += [
            to_mm(placement.left + placement.field_left + x) for x, _ in pocket.ring
        ]
    line = page("plan").xpath(f"//article[@data-drawer='{placement.drawer}']//*[@class='half']/@d")[0]
    assert max(ends["inch"]) <= float(line.split()[1]) <= min(ends["metric"])
    assert texts(page("plan").xpath("//*[@class='side']")) == ["inch", "mm"]
    assert len(outcome.question.cabinet.drawers) == len(page("plan").xpath("//*[@class='inside']"))
