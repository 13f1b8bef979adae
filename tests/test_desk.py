"""The desk's pages and its guard, through the framework's test client; a browser looks at them in test_desk_browser."""

import io
import json
import re
import signal
import socket
import subprocess
import sys
from html import unescape
from pathlib import Path
from threading import Event
from urllib.parse import urlencode
from urllib.request import urlopen

import openpyxl
import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from matcher.catalogue.reading import read_catalogue
from matcher.desk.answering import answered
from matcher.desk.asking import PlanAsk, key_of
from matcher.desk.guarding import SLACK
from matcher.desk.routes import make_app
from matcher.desk.serving import _listening
from matcher.desk.uploads import LARGEST
from matcher.house.reading import default_house
from matcher.records.given import Measurement, Pin
from matcher.records.units import Toward, inch
from matcher.studies.as_measured import measure
from tests import page_cases
from tests.trays import DRAWERS, ORGANIZERS

PORT = 8000
WORKSHOP = Path(__file__).resolve().parents[1] / "data" / "workshop"
HOME = f"http://127.0.0.1:{PORT}"


class Visitor:
    """Somebody at the desk: fills in forms of the pages they see, and waits while something is being planned."""

    def __init__(self, catalogue, name="catalogue"):
        self.catalogue = catalogue
        self.client = TestClient(
            make_app(catalogue, default_house(), name, PORT), base_url=HOME, raise_server_exceptions=False
        )
        self.token = re.search(r'name="token" value="([^"]+)"', self.client.get("/").text)[1]

    def send(self, path, files=None, headers=None, **fields):
        form = {"token": self.token, "catalogue": self.catalogue.digest, **fields}
        return self.waited(self.client.post(path, data=form, files=files, headers=headers))

    def plan(self, set_name="trays", cabinet="wide", **more):
        return self.send("/plan", set=set_name, cabinet=cabinet, **more)

    def waited(self, page):
        while page.status_code == 202:
            page = self.client.get(page.url.path)
        return page

    def upload(self, content, name="mine.xlsx"):
        return self.send("/catalogue", files={"workbook": (name, content)})


@pytest.fixture
def visitor(folder):
    return Visitor(read_catalogue(folder))


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
    assert json.loads(visitor.client.get(f"{page.url.path}/plan.json").text) == told


def test_a_refusal_shows_its_reasons_and_offers_no_guide(visitor, folder, run):
    code, printed, _ = run("plan", folder, "trays", "low", "--json")
    page = visitor.plan(cabinet="low")
    assert code == 1
    assert verdict(page) == "does not fit"
    assert all(reason["text"] in unescape(page.text) for reason in json.loads(printed)["reasons"])
    assert "guide.pdf" not in page.text
    assert visitor.client.get(f"{page.url.path}/guide.pdf").status_code == 400


def test_the_same_ask_is_planned_once_and_keeps_its_address(visitor):
    addresses = {visitor.plan().url.path, visitor.plan().url.path, visitor.plan(fill="spread").url.path}
    assert len(addresses) == 2, "two asks alike and one that says more"


def test_the_key_changes_with_anything_that_is_asked():
    asks = [
        PlanAsk("c", "s", "b"),
        PlanAsk("c", "s", "b", "pack"),
        PlanAsk("c", "s", "b", None, (Pin("in", group="g", drawer="1"),)),
        PlanAsk("c", "s", "b", typed=(("1", "", ""),)),
        PlanAsk("c", "s", "b", unit="in", typed=(("1", "", ""),)),
        PlanAsk("other", "s", "b"),
    ]
    assert len({key_of(ask) for ask in asks}) == len(asks)


def test_a_pin_moves_the_group_and_can_be_removed(visitor):
    plain = visitor.plan()
    before = {
        row["group"]: row["drawer"] for row in visitor.client.get(f"{plain.url.path}/plan.json").json()["placements"]
    }
    wanted = next(drawer for drawer in "123" if drawer != before["tray a"])
    pinned = visitor.send(f"{plain.url.path}/pin", group="tray a", rule="in", drawer=wanted)
    after = {
        row["group"]: row["drawer"] for row in visitor.client.get(f"{pinned.url.path}/plan.json").json()["placements"]
    }
    assert after["tray a"] == wanted
    assert f"tray a in drawer {wanted}" in pinned.text
    freed = visitor.send(f"{pinned.url.path}/unpin", pin="0")
    assert freed.url.path == plain.url.path


@pytest.mark.parametrize(
    "wrong",
    [
        {"group": "tray z", "rule": "in", "drawer": "1"},
        {"group": "tray a", "rule": "in", "drawer": "9"},
        {"group": "tray a", "rule": "apart", "drawer": "1"},
        {},
    ],
)
def test_a_pin_that_cannot_be_chosen_is_refused(visitor, wrong):
    assert visitor.send(f"{visitor.plan().url.path}/pin", **wrong).status_code == 400


@pytest.mark.parametrize("number", ["0", "-1", "99999999999", "x", "²"])
def test_only_a_pin_that_is_there_can_be_removed(visitor, number):
    assert visitor.send(f"{visitor.plan().url.path}/unpin", pin=number).status_code == 400


# ---------------------------------------------------------------------------------------------- as the tape measures


def readings(unit, *heights, width=""):
    """Fields of the form for three drawers: clear heights, and the width of the first."""
    return {"unit": unit, "width": [width, "", ""], "depth": ["", "", ""], "height": list(heights)}


def test_drawers_measured_too_low_turn_the_verdict(visitor):
    """Trays of 50 mm, drawers of 100 mm by their maker, 45 mm by the tape."""
    page = visitor.plan()
    measured = visitor.send(f"{page.url.path}/measured", **readings("mm", "45", "45", "45"))
    assert 'data-as-measured="does not fit"' in measured.text
    assert "by nominal sizes: fits" in measured.text
    nominal = visitor.send(f"{measured.url.path}/measured", **readings("mm", "", "", ""))
    assert nominal.url.path == page.url.path, "all blank is the nominal plan again"


def test_typed_readings_answer_as_a_file_of_readings_does(visitor):
    """An inch fraction rounded down to the grid, as an opening is."""
    page = visitor.plan()
    measured = visitor.send(f"{page.url.path}/measured", **readings("in", "2 1/8", "2", "3 1/2", width="22 1/64"))
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
    measured = visitor.send(f"{page.url.path}/measured", **readings("mm", "54", "54", "54"))
    assert 'data-as-measured="depends on the tape"' in measured.text
    saved = visitor.client.get(f"{measured.url.path}/page.html").text
    assert "as measured: depends on the tape" in saved, "the page taken away says so too"


def test_readings_that_are_none_are_named_by_drawer_and_kept_as_typed(visitor):
    page = visitor.plan()
    refused = visitor.send(f"{page.url.path}/measured", **readings("mm", "", "4O", "22 7/16"))
    text = unescape(refused.text)
    assert refused.status_code == 400
    assert "Drawer 2, clear height, '4O': expected a length" in text
    assert "Drawer 3, clear height, '22 7/16'" in text
    assert 'value="4O"' in text
    assert 'value="22 7/16"' in text


def test_readings_for_another_number_of_drawers_are_refused(visitor):
    path = f"{visitor.plan().url.path}/measured"
    assert visitor.send(path, unit="mm", width=["1"], depth=["1"], height=["1"]).status_code == 400
    assert visitor.send(path, **readings("cubit", "", "", "")).status_code == 400


# ------------------------------------------------------------------------------------------------ to compare and take


def test_a_comparison_shows_what_the_command_ranks(visitor, folder, run):
    _, printed, _ = run("compare", folder, "trays", "--json")
    page = visitor.send("/comparison", set="trays")
    rows = re.findall(r'<tr data-cabinet="([^"]*)" data-verdict="([^"]*)"', page.text)
    assert rows == [(row["cabinet"], row["verdict"]) for row in json.loads(printed)["variants"]]
    book = openpyxl.load_workbook(io.BytesIO(visitor.client.get(f"{page.url.path}/workbook.xlsx").content))
    assert book.sheetnames
    assert visitor.client.get(f"{page.url.path}/page.html").status_code == 200
    assert visitor.client.get(f"{page.url.path}/guide.pdf").status_code == 404


def test_a_comparison_of_some_cabinets_has_only_those(visitor):
    page = visitor.send("/comparison", set="trays", cabinets=["low"])
    assert re.findall(r'<tr data-cabinet="([^"]*)"', page.text) == ["low"]


def test_files_of_a_plan_are_what_they_say(visitor):
    path = visitor.plan().url.path
    guide = visitor.client.get(f"{path}/guide.pdf")
    assert "tray a" in "".join(page.extract_text() for page in PdfReader(io.BytesIO(guide.content)).pages)
    assert guide.headers["content-disposition"].startswith('attachment; filename="trays in wide.pdf"')
    book = openpyxl.load_workbook(io.BytesIO(visitor.client.get(f"{path}/workbook.xlsx").content))
    assert any("tray b" in [cell.value for row in sheet for cell in row] for sheet in book.worksheets)
    assert "<!DOCTYPE html>" in visitor.client.get(f"{path}/page.html").text


def test_cut_drawings_are_made_from_measured_sizes_alone():
    measured = Visitor(page_cases.catalogue([page_cases.cabinet()]))
    made = measured.client.get(f"{measured.plan('set', 'cabinet').url.path}/cut.dxf")
    assert made.status_code == 200
    assert made.text.split()[:2] == ["0", "SECTION"]
    guessed = Visitor(read_catalogue(WORKSHOP))
    refused = guessed.client.get(f"{guessed.plan('Birch-134', 'Glen-9').url.path}/cut.dxf")
    assert refused.status_code == 400
    assert "nothing is cut from guesses" in refused.text


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


@pytest.mark.parametrize("path", ["/plan", "/comparison", "/catalogue"])
def test_looking_starts_no_work(visitor, path):
    assert visitor.client.get(f"{path}?set=trays&cabinet=wide").status_code in (404, 405)


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
    assert visitor.client.get(f"{visitor.plan().url.path}/{file}").status_code == 404


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
        given[3]("proving order 3 (bound 2)")
        done.wait(20)
        return genuine(*given)

    monkeypatch.setattr("matcher.desk.memory.answered", slow)
    monkeypatch.setattr("matcher.desk.routes.PATIENCE", 0.2)
    form = {"token": visitor.token, "catalogue": visitor.catalogue.digest, "set": "trays", "cabinet": "wide"}
    page = visitor.client.post("/plan", data=form)
    assert page.status_code == 202
    assert "proving order 3 (bound 2)" in page.text
    assert page.headers["refresh"]
    assert visitor.client.get(f"{page.url.path}/guide.pdf").status_code == 404
    assert visitor.client.get("/").status_code == 200
    done.set()
    assert verdict(visitor.waited(page)) == "fits"


def test_hostile_names_come_out_as_text():
    script, quoted, formula, long, right_to_left, emoji = page_cases.HOSTILE
    chosen = page_cases.hostile().question.cabinet
    groups = (script, right_to_left, emoji)
    catalogue = page_cases.catalogue([chosen], quoted, groups, (formula, long, script + quoted))
    visitor = Visitor(catalogue, script)
    first = visitor.client.get("/")
    page = visitor.plan(quoted, script)
    pinned = visitor.send(f"{page.url.path}/pin", group=script, rule="not in", drawer=chosen.drawers[0].name)
    compared = visitor.send("/comparison", set=quoted)
    for shown in (first, page, pinned, compared):
        assert shown.status_code == 200
        assert "<script>alert" not in shown.text
        assert shown.text.count("<script>") == 1
    assert visitor.client.get(f"{page.url.path}/workbook.xlsx").headers["content-disposition"].isascii()


# -------------------------------------------------------------------------------------------------------- the command


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
        address = re.search(r"http://\S+/", desk.stdout.readline())[0]
        token, catalogue = (
            re.search(rf'name="{name}" value="([^"]+)"', urlopen(address).read().decode())[1]
            for name in ("token", "catalogue")
        )
        form = urlencode({"token": token, "catalogue": catalogue, "set": "Maple-802"}).encode()
        urlopen(f"{address}comparison", form).close()
        desk.send_signal(signal.SIGINT)
        assert desk.wait(20) == 0
        assert desk.stderr.read() == ""


def test_the_desk_listens_on_this_machine_alone():
    with _listening(0) as listening:
        assert listening.getsockname()[0] == "127.0.0.1"
