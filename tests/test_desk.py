"""The desk's pages and its guard, through the framework's test client; a browser looks at them in test_desk_browser."""

import csv
import io
import json
import os
import re
import signal
import socket
import subprocess
import sys
from dataclasses import replace
from html import unescape
from pathlib import Path
from threading import Event
from time import sleep
from urllib.parse import parse_qsl, urlencode
from urllib.request import HTTPCookieProcessor, Request, build_opener

import openpyxl
import pytest
from pypdf import PdfReader
from starlette.datastructures import QueryParams
from starlette.testclient import TestClient

from matcher.catalogue.reading import read_catalogue
from matcher.desk.answering import answered
from matcher.desk.asking import (
    CompareAsk,
    OfferAsk,
    PlanAsk,
    ReleaseAsk,
    SetsAsk,
    StandingAsk,
    ToleranceAsk,
    address_of,
    key_of,
)
from matcher.desk.earlier import EarlierPlan
from matcher.desk.forms import ask_of
from matcher.desk.guarding import SLACK
from matcher.desk.memory import DeskMemory
from matcher.desk.progress import HowFar
from matcher.desk.routes import make_app
from matcher.desk.serving import _listening
from matcher.desk.uploads import LARGEST
from matcher.house.reading import default_house
from matcher.packing.solving import abandon
from matcher.records.given import Measurement
from matcher.records.units import Toward, inch, mm
from matcher.studies.as_measured import measure
from tests import page_cases
from tests.trays import DRAWERS, ORGANIZERS

PORT = 8000
WORKSHOP = Path(__file__).resolve().parents[1] / "data" / "workshop"
EARLIER = EarlierPlan("key", "plan.json", (), None)
HOME = f"http://127.0.0.1:{PORT}"
TOKEN = "0123456789-token-of-a-test"


class Visitor:
    """Somebody at the desk: fills in forms of the pages they see, and waits while something is being planned."""

    def __init__(self, catalogue, name="catalogue", source=b""):
        self.catalogue = catalogue
        self.memory = DeskMemory(catalogue, name, default_house(), source)
        self.app = make_app(self.memory, PORT, TOKEN)
        self.client = TestClient(self.app, base_url=HOME, raise_server_exceptions=False)
        self.token = re.search(r'name="token" value="([^"]+)"', self.client.get(f"/?token={TOKEN}").text)[1]

    def send(self, path, files=None, headers=None, **fields):
        form = {"token": self.token, "catalogue": self.catalogue.digest, **fields}
        return self.waited(self.client.post(path, data=form, files=files, headers=headers))

    def plan(self, set_name="trays", cabinet="wide", **more):
        return self.send("/plan", set=set_name, cabinet=cabinet, **more)

    def waited(self, page):
        while page.status_code == 202:
            page = self.client.get(page.url)
        return page

    def again(self, page, **more):
        """A form of an answer's page: all that was asked for it, and some more."""
        return self.sent(page.url.path, [*fields(page), *more.items()])

    def sent(self, path, pairs):
        body = urlencode([("token", self.token), *pairs])
        form = {"content-type": "application/x-www-form-urlencoded"}
        return self.waited(self.client.post(path, content=body, headers=form))

    def file(self, page, name, **more):
        return self.client.get(f"{page.url.path}/{name}?{urlencode([*fields(page), *more.items()])}")

    def upload(self, content, name="mine.xlsx"):
        return self.send("/catalogue", files={"workbook": (name, content)})


@pytest.fixture
def visitor(folder):
    return Visitor(read_catalogue(folder), source=folder)


def fields(page):
    """What an answer's address says was asked."""
    return parse_qsl(page.url.query.decode() if isinstance(page.url.query, bytes) else page.url.query)


def placed(visitor, page):
    """The drawer of every group of a plan."""
    return {row["group"]: row["drawer"] for row in visitor.file(page, "plan.json").json()["placements"]}


def moved(page):
    """What the strip says that the last wish did."""
    strip = re.search(r"data-moved>(.*?)</section>", page.text, re.S)[1]
    return " ".join(unescape(re.sub("<[^>]*>", " ", strip)).split())


def verdict(page):
    return re.search(r'data-verdict="([^"]*)"', page.text)[1]


def workbook(drawers=DRAWERS, organizers=ORGANIZERS, **cells):
    """The bytes of a workbook of two tables; ``cells`` are changed in the sheet of drawers."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, text in (("drawers", drawers), ("organizers", organizers)):
        sheet = book.create_sheet(name)
        for line in text.split("\n")[:-1]:
            sheet.append(line.split(","))
    for place, value in cells.items():
        book["drawers"][place] = value
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


# ------------------------------------------------------------------------------------------------ what can be asked


def test_the_first_page_offers_every_set_and_cabinet(visitor):
    page = visitor.client.get("/").text
    assert all(f'<option value="{name}">' in page for name in ("trays", "wide", "low"))


def test_numbers_of_a_plan_equal_those_of_the_command(visitor, folder, run):
    _, printed, _ = run("plan", folder, "trays", "wide", "--json")
    told = json.loads(printed)
    page = visitor.plan()
    assert page.status_code == 200
    assert verdict(page) == told["verdict"] == "fits"
    assert f'data-free="{len(told["free_drawers"])}"' in page.text
    assert f'data-fewest="{told["fewest_free"]}"' in page.text
    assert f'data-most="{told["most_free"]}"' in page.text
    assert json.loads(visitor.file(page, "plan.json").text) == told


def test_a_refusal_shows_its_reasons_and_offers_no_guide(visitor, folder, run):
    code, printed, _ = run("plan", folder, "trays", "low", "--json")
    page = visitor.plan(cabinet="low")
    assert code == 1
    assert verdict(page) == "does not fit"
    assert all(reason["text"] in unescape(page.text) for reason in json.loads(printed)["reasons"])
    assert "guide.pdf" not in page.text
    assert visitor.file(page, "guide.pdf").status_code == 400
    others = [turn["cabinet"] for turn in json.loads(printed)["turns"] if turn["cabinet"]]
    assert others, "another cabinet takes it"
    assert all(f"<button>Plan in <bdi>{name}</bdi></button>" in page.text for name in others)


def test_the_same_ask_is_planned_once_and_keeps_its_address(visitor):
    addresses = {visitor.plan().url, visitor.plan().url, visitor.plan(fill="spread").url}
    assert len(addresses) == 2, "two asks alike and one that says more"


def test_the_key_changes_with_anything_that_is_asked():
    asks = [
        PlanAsk("c", "s", "b"),
        PlanAsk("c", "s", "b", "pack"),
        PlanAsk("c", "s", "b", None, (("pin", "g in drawer 1"),)),
        PlanAsk("c", "s", "b", None, (("pin", "g in drawer 1"),), near=False),
        PlanAsk("c", "s", "b", alternatives=1),
        PlanAsk("c", "s", "b", typed=(("1", "", ""),)),
        PlanAsk("c", "s", "b", unit="in", typed=(("1", "", ""),)),
        PlanAsk("other", "s", "b"),
        PlanAsk("c", "s", "b", add_to=EARLIER),
        PlanAsk("c", "s", "b", add_to=replace(EARLIER, key="other")),
        PlanAsk("c", "s", "b", keep=EARLIER),
        ReleaseAsk(PlanAsk("c", "s", "b"), "F-"),
        ToleranceAsk(PlanAsk("c", "s", "b")),
        ToleranceAsk(PlanAsk("c", "s", "b"), 0),
        SetsAsk("c", "b"),
        StandingAsk("c", EARLIER),
    ]
    assert len({key_of(ask) for ask in asks}) == len(asks)


def test_a_pin_moves_the_group_says_so_and_is_undone(visitor):
    plain = visitor.plan()
    before = placed(visitor, plain)
    wanted = next(drawer for drawer in "123" if drawer != before["tray a"])
    pinned = visitor.again(plain, add="place", group="tray a", rule="in", drawer=wanted)
    assert placed(visitor, pinned)["tray a"] == wanted
    assert f"tray a in drawer {wanted}" in moved(pinned)
    assert f"tray a: from drawer {before['tray a']} to {wanted}" in moved(pinned)
    assert visitor.again(pinned, undo="yes").url == plain.url
    assert visitor.again(pinned, drop=f"pin:tray a in drawer {wanted}").url == plain.url


def test_the_list_of_drawers_moves_a_group_as_the_form_does(visitor):
    """What a drag presses: the drawers other than its own, each with the pin of the form."""
    plain = visitor.plan()
    at = placed(visitor, plain)["tray a"]
    own = re.search(r'data-move="tray a".*?</section>', plain.text, re.S)[0]
    offered = re.findall(r'name="pin" value="(tray a in drawer [^"]*)"', own)
    assert offered == [f"tray a in drawer {name}" for name in "123" if name != at] + [f"tray a in drawer {at}"]
    by_list = visitor.again(plain, pin=offered[0])
    drawer = offered[0].rpartition(" ")[2]
    assert by_list.url == visitor.again(plain, add="place", group="tray a", rule="in", drawer=drawer).url


def test_a_group_moved_twice_is_in_one_drawer_and_undoing_brings_the_first_move_back(visitor):
    plain = visitor.plan()
    once = visitor.again(plain, pin="tray a in drawer 2")
    twice = visitor.again(once, pin="tray a in drawer 3")
    assert placed(visitor, twice)["tray a"] == "3"
    assert re.findall(r'aria-label="Remove the wish: ([^"]*)"', twice.text) == ["tray a in drawer 3"]
    assert visitor.again(twice, undo="yes").url == once.url
    assert visitor.again(twice, drop="pin:tray a in drawer 3").url == plain.url


@pytest.mark.parametrize("near", ["yes", "no"])
def test_the_address_of_a_plan_says_all_of_it(folder, near):
    """Another run of the desk works out the same from it, with the states on the way."""
    visitor, other = (Visitor(read_catalogue(folder)) for _ in range(2))
    page = visitor.again(visitor.again(visitor.plan(near=near), pin="tray a in drawer 2"), pin="tray b in drawer 3")
    begin = other.client.get(page.url)
    assert "Work it out" in begin.text
    assert "tray a in drawer 2" in begin.text
    made = other.again(page)
    assert made.url == page.url
    assert placed(other, made) == placed(visitor, page)
    assert moved(made) == moved(page)


def test_a_plan_stays_near_to_the_one_before_unless_groups_may_move(visitor, monkeypatch):
    kept = []
    genuine = answered

    def watched(catalogue, rules, ask, told, before=None):
        made = genuine(catalogue, rules, ask, told, before)
        kept.append(made.outcome.run.wishes.keep is not None)
        return made

    monkeypatch.setattr("matcher.desk.memory.answered", watched)
    visitor.again(visitor.plan(), pin="tray a in drawer 2")
    visitor.again(visitor.plan(near="no"), pin="tray a in drawer 2")
    assert kept == [False, True, False, False]


@pytest.mark.parametrize(
    ("form", "words"),
    [
        ({"add": "free", "place": "row 1"}, "keep row 1 free"),
        ({"add": "free", "count": "1", "height": "2", "height_unit": "in"}, "keep 1 drawer of 2 in free"),
        ({"add": "apart", "group": "tray a", "other": "tray b"}, "tray a apart from tray b"),
        ({"add": "order", "first": "tray b"}, "from the top down tray b"),
        ({"add": "without", "name": "tray a"}, "without tray a"),
        ({"add": "goals", "name": "reach"}, "of the goals first reach"),
        ({"add": "off", "name": "recut"}, "goal recut off"),
        ({"add": "place", "group": "tray a", "rule": "not in", "drawer": "1"}, "tray a not in drawer 1"),
    ],
)
def test_every_wish_of_the_forms_is_worked_in_and_told(visitor, form, words):
    page = visitor.again(visitor.plan(), **form)
    assert page.status_code == 200
    assert f"Remove the wish: {words}" in unescape(page.text)
    assert words in unescape(page.text.split('id="asked"')[1])


@pytest.mark.slow
def test_groups_of_pieces_come_together_or_fall_apart():
    visitor = Visitor(read_catalogue(WORKSHOP))
    plain = visitor.plan("Alder-64", "Glen-7")
    joined = visitor.again(plain, add="together", group="chrome sockets", other="hex keys")
    assert "chrome sockets with hex keys" in placed(visitor, joined)
    own = re.search(r'data-move="chrome sockets with hex keys".*?</section>', joined.text, re.S)[0]
    assert 'value="chrome sockets in drawer ' in own, "a pin about one of them means both"
    by_drive = visitor.again(plain, add="by_drive", name="chrome sockets")
    assert {"1/4 chrome sockets", "3/8 chrome sockets"} <= set(placed(visitor, by_drive))
    refused = visitor.again(plain, add="by_drive", name="hex keys")
    assert refused.status_code == 400
    assert "no piece of hex keys has a drive" in refused.text


def test_other_plans_can_be_taken(visitor):
    page = visitor.plan(alternatives="1")
    taken = re.search(r'name="(pins?)" value="([^"]*)">Take plan 1', page.text)
    other = visitor.file(page, "plan.json").json()["alternatives"][0]
    chosen = visitor.again(page, **{taken[1]: unescape(taken[2])})
    assert placed(visitor, chosen) == {row["group"]: row["drawer"] for row in other["placements"]}
    assert visitor.again(chosen, undo="yes").url == page.url


def test_a_wish_that_leaves_no_plan_says_what_was_before(visitor):
    page = visitor.again(visitor.plan(), add="free", count="3")
    assert verdict(page) == "does not fit"
    assert "does not fit now, fits before" in moved(page)


def test_several_sets_are_planned_together():
    visitor = Visitor(page_cases.catalogue([page_cases.cabinet()], "one"))
    page = visitor.plan(["one", "one"], "cabinet")
    assert dict(fields(page))["set"] == "one", "each set once"


@pytest.mark.parametrize(
    "wrong",
    [
        {"add": "place", "group": "tray z", "rule": "in", "drawer": "1"},
        {"add": "place", "group": "tray a", "rule": "in", "drawer": "9"},
        {"add": "place", "group": "tray a", "rule": "apart", "drawer": "1"},
        {"add": "place"},
        {"add": "nothing"},
        {"add": "free"},
        {"add": "order"},
        {"pin": "tray a anywhere"},
        {"alternatives": "-1"},
        {"alternatives": "²"},
        {"alternatives": "21"},
        {"fill": "loose"},
        {"unit": "cubit"},
        {"pair": "0-99"},
        {"pair": "x"},
    ],
)
def test_what_cannot_be_chosen_is_refused_before_any_work(visitor, wrong):
    page = visitor.plan()
    assert visitor.again(page, **wrong).status_code in (400, 404)


def test_more_wishes_than_anybody_asks_are_refused(visitor):
    many = [("pin", f"keep {number} drawers free") for number in range(1, 150)]
    assert visitor.sent("/plan", [*fields(visitor.plan()), *many]).status_code == 400


# ---------------------------------------------------------------------------------------------- as the tape measures


def readings(unit, *heights, width=""):
    """Fields of the form for three drawers: clear heights, and the width of the first."""
    return {"unit": unit, "width.1": width} | {f"height.{n}": height for n, height in enumerate(heights, start=1)}


def test_drawers_measured_too_low_turn_the_verdict(visitor):
    """Trays of 50 mm, drawers of 100 mm by their maker, 45 mm by the tape."""
    page = visitor.plan()
    measured = visitor.again(page, **readings("mm", "45", "45", "45"))
    assert 'data-as-measured="does not fit"' in measured.text
    assert "by nominal sizes: fits" in measured.text
    blank = [(name, value) for name, value in fields(measured) if "." not in name]
    assert visitor.sent("/plan", blank).url == page.url, "all blank is the nominal plan again"


def test_typed_readings_answer_as_a_file_of_readings_does(visitor):
    """An inch fraction rounded down to the grid, as an opening is."""
    page = visitor.plan()
    measured = visitor.again(page, **readings("in", "2 1/8", "2", "3 1/2", width="22 1/64"))
    given = [
        Measurement("wide", "1", inch(22, Toward.DOWN) + inch(1, Toward.DOWN) // 64, None, inch(2) + inch(1) // 8),
        Measurement("wide", "2", clear_height=inch(2)),
        Measurement("wide", "3", clear_height=inch(3) + inch(1) // 2),
    ]
    expected = measure(visitor.catalogue, default_house(), "trays", "wide", given)
    assert f'data-as-measured="{expected.verdict}"' in measured.text
    assert verdict(measured) == expected.outcome.verdict
    assert all(change in unescape(measured.text) for change in expected.changes)


def test_a_verdict_that_depends_on_the_tape_is_never_shown_as_a_bare_no(visitor):
    """50 mm tray and 3 mm above it: 54 mm goes in if the tape is right, and not if it is 1.5 mm too long."""
    page = visitor.plan()
    measured = visitor.again(page, **readings("mm", "54", "54", "54"))
    assert 'data-as-measured="depends on the tape"' in measured.text
    saved = visitor.file(measured, "page.html").text
    assert "as measured: depends on the tape" in saved, "the page taken away says so too"


def test_readings_that_are_none_are_named_by_drawer_and_kept_as_typed(visitor):
    page = visitor.plan()
    refused = visitor.again(page, **readings("mm", "", "4O", "22 7/16"))
    text = unescape(refused.text)
    assert refused.status_code == 400
    assert "Drawer 2, clear height, '4O': expected a length" in text
    assert "Drawer 3, clear height, '22 7/16'" in text
    assert 'value="4O"' in text
    assert 'value="22 7/16"' in text


# ------------------------------------------------------------------------------------------------ to compare and take


def test_a_comparison_shows_what_the_command_ranks(visitor, folder, run):
    _, printed, _ = run("compare", folder, "trays", "--json")
    page = visitor.send("/comparison", set="trays")
    rows = re.findall(r'<tr data-cabinet="([^"]*)" data-verdict="([^"]*)"', page.text)
    assert rows == [(row["cabinet"], row["verdict"]) for row in json.loads(printed)["variants"]]
    book = openpyxl.load_workbook(io.BytesIO(visitor.file(page, "workbook.xlsx").content))
    assert book.sheetnames
    assert visitor.file(page, "page.html").status_code == 200
    assert visitor.file(page, "guide.pdf").status_code == 404


def test_a_comparison_of_some_cabinets_has_only_those(visitor):
    page = visitor.send("/comparison", set="trays", cabinets=["low"])
    assert re.findall(r'<tr data-cabinet="([^"]*)"', page.text) == ["low"]


def test_files_of_a_plan_are_what_they_say(visitor):
    plan = visitor.plan()
    guide = visitor.file(plan, "guide.pdf")
    assert "tray a" in "".join(page.extract_text() for page in PdfReader(io.BytesIO(guide.content)).pages)
    assert guide.headers["content-disposition"].startswith('attachment; filename="trays in wide.pdf"')
    packing = visitor.file(plan, "packing.pdf")
    assert "Packing list" in "".join(page.extract_text() for page in PdfReader(io.BytesIO(packing.content)).pages)
    book = openpyxl.load_workbook(io.BytesIO(visitor.file(plan, "workbook.xlsx").content))
    assert any("tray b" in [cell.value for row in sheet for cell in row] for sheet in book.worksheets)
    assert "<!DOCTYPE html>" in visitor.file(plan, "page.html").text


def test_cut_drawings_are_made_from_measured_sizes_or_where_somebody_ticks_the_box():
    measured = Visitor(page_cases.catalogue([page_cases.cabinet()]))
    made = measured.file(measured.plan("set", "cabinet"), "cut.dxf")
    assert made.status_code == 200
    assert made.text.split()[:2] == ["0", "SECTION"]
    guessed = Visitor(read_catalogue(WORKSHOP))
    page = guessed.plan("Birch-134", "Glen-9")
    refused = guessed.file(page, "cut.dxf")
    assert refused.status_code == 400
    assert "nothing is cut from guesses" in refused.text
    assert "--" not in refused.text.split("<main")[1], "no words of the command line"
    assert "not for production" in " ".join(unescape(page.text).split())
    allowed = guessed.file(page, "cut.svg", estimates="yes")
    assert allowed.status_code == 200
    assert "NOT FOR PRODUCTION" in allowed.text.upper()


def test_one_organizer_comes_as_a_drawing_and_full_size():
    visitor = Visitor(page_cases.catalogue([page_cases.cabinet()]))
    page = visitor.plan("set", "cabinet")
    assert visitor.file(page, "organizer.svg", group="sockets").text.startswith("<svg")
    assert visitor.file(page, "organizer.pdf", group="sockets").content.startswith(b"%PDF-")
    assert visitor.file(page, "organizer.svg", group="none").status_code in (400, 404)
    assert visitor.file(page, "poster.svg").status_code == 200
    assert visitor.file(page, "guide.pdf", paper="Foolscap").status_code == 400


def test_a_comparison_is_of_the_plan_as_wished_and_shows_what_carries_over(visitor):
    page = visitor.sent(
        "/comparison", [("catalogue", visitor.catalogue.digest), ("set", "trays"), ("without", "tray a")]
    )
    assert "without tray a" in page.text
    carried = visitor.send("/comparison", set="trays", reference="wide")
    assert dict(fields(carried))["reference"] == "wide"
    assert carried.status_code == 200


def test_a_question_on_the_phone_is_answered_in_the_words_of_the_command(visitor, folder, run):
    question = "tray a of trays in ? x 405 x ~100 mm"
    page = visitor.send("/drawers", question=question)
    words = json.loads(run("ask", folder, question, "--json")[1])["sentences"]
    assert all(sentence in unescape(page.text) for sentence in words)
    assert "Depends on sizes" in page.text
    assert "the ratings and the manual of the cabinet maker decide" in page.text
    assert visitor.file(page, "asked.json").json()["sentences"] == words


@pytest.mark.parametrize(
    ("question", "told"),
    [("trays in 5 x 4 x 3", "expected mm or in behind the sizes"), ("saws of trays in 5 x 4 x 3 mm", "no group")],
)
def test_a_question_that_is_none_is_told_what_was_expected(visitor, question, told):
    page = visitor.send("/drawers", question=question)
    assert page.status_code in (400, 404)
    assert told in unescape(page.text)


def test_an_offer_shows_what_the_command_chooses(folder, run):
    (folder / "demand.csv").write_text("set,cabinet,units,margin\ntrays,wide,10,5\n", encoding="utf-8")
    _, printed, _ = run("offer", folder, "--max-new-sizes", "2", "--json")
    visitor = Visitor(read_catalogue(folder))
    assert "Choose bundles" in visitor.client.get("/").text
    page = visitor.send("/offer", max_new_sizes="2")
    told = json.loads(printed)
    assert f'data-name="gain" data-value="{told["gain"]}"' in page.text
    assert visitor.file(page, "workbook.xlsx").status_code == 200
    assert visitor.send("/offer", budget="much").status_code == 400


# ---------------------------------------------------------------------------------------------------- the first page


def test_the_matrix_says_what_the_command_finds(visitor, folder, run, tmp_path):
    run("compare", folder, "--out", tmp_path / "pairs.csv")
    expected = {(row["set"], row["cabinet"]): row for row in csv.DictReader((tmp_path / "pairs.csv").open())}
    assert visitor.client.get("/").text.count("not looked at yet; open") == len(expected)
    page = visitor.send("/matrix")
    while re.search(r"<section [^>]*data-filling", page.text):
        page = visitor.client.get("/")
    cells = re.findall(
        r'data-set="([^"]*)" data-cabinet="([^"]*)" data-verdict="([^"]*)".*?>\s*([^<]*?)\s*</button>', page.text
    )
    assert {(one, cabinet): verdict for one, cabinet, verdict, _ in cells} == {
        pair: row["verdict"] for pair, row in expected.items()
    }
    for one, cabinet, verdict, shown in cells:
        row = expected[one, cabinet]
        if verdict == "fits":
            assert shown.split("–")[0] == row["fewest_free"]
            assert shown.split("–")[-1] == row["most_free"]


def test_a_cell_of_the_matrix_opens_its_plan(visitor):
    page = visitor.client.get("/").text
    place = re.search(r'name="pair" value="([^"]*)"[^>]*data-set="trays" data-cabinet="wide"', page)[1]
    assert visitor.send("/plan", pair=place).url == visitor.plan().url


def test_filling_the_matrix_can_be_stopped_and_taken_up_again(visitor, monkeypatch):
    def endless(*_given):
        while True:
            sleep(0.01)
            abandon()

    monkeypatch.setattr("matcher.desk.matrices.screen", endless)
    visitor.send("/matrix")
    matrix = visitor.memory.matrix(visitor.catalogue.digest)
    visitor.send("/matrix", end="yes")
    while matrix.state == "filling":
        sleep(0.01)
    assert matrix.state == "ended"
    assert "Look at all" in visitor.client.get("/").text
    visitor.send("/matrix")
    again = visitor.memory.matrix(visitor.catalogue.digest)
    assert again is not matrix
    again.stop.now.set()


def test_a_catalogue_of_very_many_pairs_has_no_matrix(visitor, monkeypatch):
    monkeypatch.setattr("matcher.desk.matrices.MOST", 1)
    assert 'name="pair"' not in visitor.client.get("/").text
    visitor.send("/matrix")
    assert visitor.memory.matrix(visitor.catalogue.digest) is None


# ------------------------------------------------------------------------------------------------------------ uploads


def test_a_workbook_becomes_a_catalogue_to_choose_from(visitor):
    page = visitor.upload(workbook(DRAWERS.replace("wide", "broad")))
    assert page.status_code == 200
    assert '<option value="broad">' in page.text
    planned = visitor.send("/plan", catalogue=page.url.path.rpartition("/")[2], set="trays", cabinet="broad")
    assert verdict(planned) == "fits"


def test_a_bad_workbook_is_refused_with_the_errors_of_check(visitor, tmp_path, run):
    content = workbook(E2="wide", G3=-3, C4="first")
    (tmp_path / "mine.xlsx").write_bytes(content)
    code, _, told = run("check", tmp_path / "mine.xlsx")
    page = visitor.upload(content)
    assert code == 2
    assert page.status_code == 400
    assert [
        f"error: {unescape(fault)}" for fault in re.findall(r'data-fault="([^"]*)"', page.text)
    ] == told.splitlines()


@pytest.mark.parametrize("content", [b"", b"no workbook", b"PK\x03\x04 broken"])
def test_what_is_no_workbook_is_refused(visitor, content):
    assert visitor.upload(content).status_code == 400


def test_a_workbook_too_large_is_refused_before_it_is_read(visitor):
    assert visitor.upload(b"x" * (LARGEST + 1)).status_code == 413
    assert visitor.upload(b"x" * (LARGEST + SLACK + 1)).status_code == 413


def test_a_body_without_a_length_is_counted(visitor):
    def endless():
        for _ in range(LARGEST // 1_000_000 + 2):
            yield b"x" * 1_000_000

    sent = visitor.client.post(
        "/catalogue", content=endless(), headers={"content-type": "application/x-www-form-urlencoded"}
    )
    assert sent.status_code == 413


def test_a_small_archive_that_unpacks_to_very_much_is_refused(visitor, monkeypatch):
    monkeypatch.setattr("matcher.desk.uploads.UNPACKED", 1000)
    assert visitor.upload(workbook()).status_code == 413


@pytest.mark.parametrize(
    "name", ["../../etc/passwd.xlsx", "/etc/passwd", "C:\\x.xlsx", "<script>alert(1)</script>.xlsx"]
)
def test_the_name_of_an_upload_is_only_shown(visitor, name, tmp_path):
    page = visitor.upload(workbook(), name)
    assert page.status_code == 200
    assert "<script>alert" not in page.text
    assert not list(tmp_path.glob("**/*passwd*"))


def test_an_uploaded_catalogue_reads_no_drawing_from_this_machine(visitor, tmp_path):
    """An outline is named relative to its catalogue: nothing outside the upload is ever opened."""
    (tmp_path / "secret.svg").write_text("<svg/>", encoding="utf-8")
    tools = f"set,tool,kind,count,outline\ns,t,other,1,{tmp_path / 'secret.svg'}\ns,u,other,1,../secret.svg\n"
    book = openpyxl.load_workbook(io.BytesIO(workbook()))
    sheet = book.create_sheet("tools")
    for line in tools.split("\n")[:-1]:
        sheet.append(line.split(","))
    stream = io.BytesIO()
    book.save(stream)
    page = visitor.upload(stream.getvalue())
    assert page.status_code == 400
    assert page.text.count("a file in the catalogue&#39;s folder") >= 2


# -------------------------------------------------------------------------------------------------------------- guard


@pytest.mark.parametrize("path", ["/", "/?token=", "/?token=x", "/plan?set=trays", "/plan/plan.json", "/nothing"])
def test_who_does_not_know_the_address_sees_nothing(visitor, path):
    """Another account of this machine reaches the port, but not what the desk printed."""
    stranger = TestClient(visitor.app, base_url=HOME)
    page = stranger.get(path)
    assert page.status_code == 403
    assert "open the address that was printed when the desk was started" in page.text
    assert not [word for word in (TOKEN, "trays", visitor.catalogue.digest) if word in page.text]
    assert not page.cookies


@pytest.mark.parametrize("path", ["/plan", "/catalogue", "/matrix", "/plan/end"])
def test_who_knows_the_token_of_a_form_but_brings_no_cookie_begins_nothing(visitor, path):
    stranger = TestClient(visitor.app, base_url=HOME)
    form = {"token": TOKEN, "catalogue": visitor.catalogue.digest, "set": "trays", "cabinet": "wide"}
    assert stranger.post(path, data=form).status_code == 403
    assert visitor.memory._works == {}


def test_the_printed_address_lets_a_browser_in_and_does_not_stay_in_its_history(visitor):
    newcomer = TestClient(visitor.app, base_url=HOME, follow_redirects=False)
    let_in = newcomer.get(f"/earlier?token={TOKEN}&catalogue=a+b&plan=")
    assert let_in.status_code == 303
    assert let_in.headers["location"] == f"{HOME}/earlier?catalogue=a+b&plan="
    cookie = let_in.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert newcomer.get("/").status_code == 200


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:8000", "127.0.0.1:1", "127.0.0.1", "", "localhost.evil:8000"]
)
def test_another_hosts_name_is_refused(visitor, host):
    """DNS rebinding: a name of another site that points to this machine is still sent as Host."""
    page = visitor.client.get("/", headers={"host": host})
    assert page.status_code == 400
    assert visitor.token not in page.text


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "https://evil.example"},
        {"origin": "null"},
        {"origin": "http://localhost:9"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"sec-fetch-site": "none"},
    ],
)
def test_a_form_of_another_site_is_refused(visitor, headers):
    assert visitor.send("/plan", headers=headers, set="trays", cabinet="wide").status_code == 403


@pytest.mark.parametrize("token", ["", "x", "ü" * 43])
def test_a_form_without_the_token_is_refused(visitor, token):
    assert visitor.send("/plan", token=token, set="trays", cabinet="wide").status_code == 403
    assert visitor.send("/catalogue", token=token, files={"workbook": ("a.xlsx", workbook())}).status_code == 403


def test_the_desks_own_form_passes(visitor):
    own = {"origin": HOME, "sec-fetch-site": "same-origin"}
    assert visitor.send("/plan", headers=own, set="trays", cabinet="wide").status_code == 200


@pytest.mark.parametrize("path", ["/plan", "/comparison", "/offer", "/catalogue"])
def test_looking_starts_no_work(visitor, path):
    page = visitor.client.get(f"{path}?set=trays&cabinet=wide&catalogue={visitor.catalogue.digest}")
    assert page.status_code == 405 if path == "/catalogue" else "Work it out" in page.text
    assert not visitor.memory._works


@pytest.mark.parametrize(
    "path",
    [
        "/plan/../../etc/passwd",
        "/plan/%2e%2e%2fetc%2fpasswd",
        "/plan/x/guide.pdf",
        "/catalogue/..%2f..%2fetc",
        "/comparison/x",
        "/static/page.css",
        "/nothing",
    ],
)
def test_paths_that_are_no_page_are_not_found(visitor, path):
    page = visitor.client.get(path)
    assert page.status_code == 404
    assert "Back to the desk" in page.text


@pytest.mark.parametrize("file", ["..%2fguide.pdf", "guide.PDF", "etc%2Fpasswd", "%00", "house.toml"])
def test_only_files_of_the_list_can_be_taken(visitor, file):
    assert visitor.file(visitor.plan(), file).status_code == 404


@pytest.mark.parametrize("fields", [{"set": "none", "cabinet": "wide"}, {"set": "trays", "cabinet": "none"}, {}])
def test_names_that_are_not_there_are_not_found(visitor, fields):
    assert visitor.send("/plan", **fields).status_code == 404


def test_every_answer_carries_the_security_headers(visitor):
    for page in (
        visitor.client.get("/"),
        visitor.client.get("/nothing"),
        visitor.client.get("/", headers={"host": "x"}),
    ):
        policy = page.headers["content-security-policy"]
        assert policy.startswith("default-src 'none'")
        assert "frame-ancestors 'none'" in policy
        assert "script-src 'sha256-" in policy
        assert page.headers["x-content-type-options"] == "nosniff"
        assert "access-control-allow-origin" not in page.headers


def test_a_fault_of_the_program_is_a_page_without_its_inside(visitor, monkeypatch):
    monkeypatch.setattr("matcher.desk.memory.answered", lambda *given: 1 / 0)
    page = visitor.plan()
    assert page.status_code == 500
    assert "fault of the program" in page.text
    assert "division" not in page.text
    assert "Traceback" not in page.text


def test_a_page_says_that_it_is_being_planned_while_others_answer(visitor, monkeypatch):
    done = Event()
    genuine = answered

    def slow(*given):
        given[3](HowFar(goals=(("drawers", True), ("order", False))))
        done.wait(20)
        return genuine(*given)

    monkeypatch.setattr("matcher.desk.memory.answered", slow)
    monkeypatch.setattr("matcher.desk.routes.PATIENCE", 0.2)
    form = {"token": visitor.token, "catalogue": visitor.catalogue.digest, "set": "trays", "cabinet": "wide"}
    page = visitor.client.post("/plan", data=form)
    assert page.status_code == 202
    assert "✓ Better it, and prove that none is better: drawers used or free" in page.text
    assert "<li>Better it, and prove that none is better: order from the top" in page.text
    assert page.headers["refresh"]
    assert visitor.file(page, "guide.pdf").status_code == 404
    assert visitor.client.get("/").status_code == 200
    done.set()
    assert verdict(visitor.waited(page)) == "fits"


def test_a_work_can_be_cancelled_and_begun_again(visitor, monkeypatch):
    genuine, held = answered, Event()

    def slow(*given):
        while not held.wait(0.05):
            abandon()
        return genuine(*given)

    monkeypatch.setattr("matcher.desk.memory.answered", slow)
    monkeypatch.setattr("matcher.desk.routes.PATIENCE", 0.2)
    form = {"token": visitor.token, "catalogue": visitor.catalogue.digest, "set": "trays", "cabinet": "wide"}
    page = visitor.client.post("/plan", data=form)
    assert page.status_code == 202
    cancelled = visitor.client.post("/plan/end", data=form)
    assert "cancelled" in cancelled.text
    assert visitor.file(page, "plan.json").status_code == 404
    held.set()
    assert verdict(visitor.plan()) == "fits"


def test_the_best_plan_so_far_is_marked_as_such_and_the_search_goes_on_where_wished(visitor, monkeypatch):
    genuine, held = answered, Event()

    def slow(*given):
        held.wait(20)
        return genuine(*given)

    monkeypatch.setattr("matcher.desk.memory.answered", slow)
    monkeypatch.setattr("matcher.desk.routes.PATIENCE", 0.2)
    form = {"token": visitor.token, "catalogue": visitor.catalogue.digest, "set": "trays", "cabinet": "wide"}
    visitor.client.post("/plan", data=form)
    visitor.client.post("/plan/end", data={**form, "soon": "yes"})
    held.set()
    page = visitor.plan()
    assert verdict(page) == "fits"
    assert "Stopped by hand" in page.text
    assert "Stopped by hand" not in visitor.again(page, again="yes").text


def test_a_cancelled_comparison_shows_what_it_has(visitor, monkeypatch):
    genuine = answered

    def half(catalogue, rules, ask, told, before=None):
        def tell(step):
            if step.done == 1:
                visitor.memory.work(ask).stop.now.set()
                abandon()
            told(step)

        return genuine(catalogue, rules, ask, tell, before)

    monkeypatch.setattr("matcher.desk.memory.answered", half)
    page = visitor.send("/comparison", set="trays")
    assert page.text.count("<tr data-cabinet=") == 1
    assert "Stopped by hand" in page.text


@pytest.mark.parametrize(
    ("page", "ask"),
    [
        (
            "plan",
            PlanAsk("", "trays", "wide", "pack", (("pin", "tray a in drawer 2"), ("without", "tray b")), False, 3),
        ),
        ("plan", PlanAsk("", "trays", "wide", typed=(("1", "", "2 1/8"), ("", "", ""), ("", "3", "")), unit="in")),
        ("comparison", CompareAsk("", "trays", ("low",), "pack", (("without", "tray a"),), "wide")),
        ("comparison", CompareAsk("", "trays", existing=EARLIER, rank="width")),
        ("plan", PlanAsk("", "trays", "wide", add_to=EARLIER, keep=EARLIER)),
        ("sets", SetsAsk("", "wide", "pack", "cost")),
        ("offer", OfferAsk("", "spread", 3, 2.5, 7, True)),
    ],
)
def test_an_address_reads_as_what_was_asked(visitor, page, ask):
    visitor.memory.add_plan(EARLIER)
    asked = replace(ask, catalogue=visitor.catalogue.digest)
    address = address_of(asked)
    assert address.startswith(f"/{page}?")
    assert ask_of(page, QueryParams(address.partition("?")[2]), visitor.catalogue, visitor.memory.plan) == asked


def test_an_address_about_a_plan_reads_as_what_was_asked(visitor):
    plan = PlanAsk(visitor.catalogue.digest, "trays", "wide", "pack", (("pin", "tray a in drawer 2"),))
    for ask in (ReleaseAsk(plan, "F-"), ToleranceAsk(plan, mm(2) + 1), ToleranceAsk(plan)):
        query = QueryParams(address_of(ask).partition("?")[2])
        assert ask_of(ask.page, query, visitor.catalogue, visitor.memory.plan) == ask


def test_hostile_names_come_out_as_text():
    script, quoted, formula, long, right_to_left, emoji = page_cases.HOSTILE
    chosen = page_cases.hostile().question.cabinet
    groups = (script, right_to_left, emoji)
    catalogue = page_cases.catalogue([chosen], quoted, groups, (formula, long, script + quoted))
    visitor = Visitor(catalogue, script)
    first = visitor.client.get("/")
    page = visitor.plan(quoted, script)
    pinned = visitor.again(page, add="place", group=script, rule="not in", drawer=chosen.drawers[0].name)
    compared = visitor.send("/comparison", set=quoted)
    for shown in (first, page, pinned, compared):
        assert shown.status_code == 200
        assert "<script>alert" not in shown.text
        assert shown.text.count("<script>") == (1 if shown is compared else 2), "the pages' own, and the desk's"
    assert visitor.file(page, "workbook.xlsx").headers["content-disposition"].isascii()


# -------------------------------------------------------------------------------------------------------- the command

ENDLESS = """
import runpy, time
import matcher.desk.routes
matcher.desk.routes.read_upload = lambda content, name: time.sleep(60)
runpy.run_module("matcher", run_name="__main__")
"""
"""The program with uploads that are read for a minute."""


def let_in(desk):
    """What opens addresses of a desk that begins to listen, let in by the one that it prints; where it is; and the
    fields of its forms."""
    told = re.search(r"(http://\S+/)\?token=\S+", desk.stdout.readline())
    opened = build_opener(HTTPCookieProcessor())
    page = opened.open(told[0]).read().decode()
    form = {name: re.search(rf'name="{name}" value="([^"]+)"', page)[1] for name in ("token", "catalogue")}
    return opened, told[1], form


def uploading(address, token):
    """A workbook as a form sends it."""
    parts = (f'name="token"\r\n\r\n{token}', 'name="workbook"; filename="a.xlsx"\r\n\r\nx')
    body = "".join(f"--edge\r\nContent-Disposition: form-data; {part}\r\n" for part in parts) + "--edge--\r\n"
    return Request(address, body.encode(), {"content-type": "multipart/form-data; boundary=edge"})


def own_temporary(folder):
    """The environment with a folder of its own for temporary files."""
    return {**os.environ, "TMPDIR": str(folder)}


def test_a_port_that_is_taken_is_said(folder, run):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        code, _, told = run("desk", folder, "--port", taken.getsockname()[1])
    assert code == 2
    assert "--port" in told


def test_ctrl_c_ends_the_desk_at_once_and_in_order_while_it_plans():
    command = [sys.executable, "-u", "-m", "matcher", "desk", str(WORKSHOP), "--port", "0"]
    with subprocess.Popen(command, cwd=WORKSHOP.parents[1], stdout=-1, stderr=-1, text=True) as desk:
        opened, address, form = let_in(desk)
        opened.open(f"{address}comparison", urlencode({**form, "set": "Maple-802"}).encode()).close()
        desk.send_signal(signal.SIGINT)
        assert desk.wait(20) == 0
        assert desk.stderr.read() == ""


def test_a_second_ctrl_c_ends_the_desk_while_a_page_is_still_being_made(tmp_path):
    """A page that never ends, as a thread that nobody can stop, holds up an end in order."""
    command = [sys.executable, "-u", "-c", ENDLESS, "desk", str(WORKSHOP), "--port", "0"]
    with subprocess.Popen(command, cwd=WORKSHOP.parents[1], env=own_temporary(tmp_path), stdout=-1, text=True) as desk:
        opened, address, form = let_in(desk)
        with pytest.raises(TimeoutError):
            opened.open(uploading(f"{address}catalogue", form["token"]), timeout=1)
        desk.send_signal(signal.SIGINT)
        sleep(0.5)
        desk.send_signal(signal.SIGINT)
        assert desk.wait(2) == 0
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_an_end_leaves_no_temporary_folder(number, tmp_path):
    command = [sys.executable, "-u", "-m", "matcher", "desk", str(WORKSHOP), "--port", "0"]
    with subprocess.Popen(command, cwd=WORKSHOP.parents[1], env=own_temporary(tmp_path), stdout=-1, text=True) as desk:
        let_in(desk)
        assert list(tmp_path.iterdir()) != []
        desk.send_signal(number)
        assert desk.wait(20) == 0
    assert list(tmp_path.iterdir()) == []


def test_the_desk_listens_on_this_machine_alone():
    with _listening(0) as listening:
        assert listening.getsockname()[0] == "127.0.0.1"
