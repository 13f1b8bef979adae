"""Plans that go on at the desk: released, looked at again, added to, kept, sizes off; and the sets of one cabinet."""

import io
import json
import re
from html import unescape

import openpyxl
import pytest

from matcher.catalogue.reading import read_catalogue
from matcher.desk.answering import answered
from matcher.desk.asking import SetsAsk
from matcher.desk.earlier import read_plan
from matcher.desk.uploads import read_upload
from matcher.records.errors import UsageError
from tests.test_desk import WORKSHOP, Visitor, fields, moved, placed, verdict
from tests.trays import DRAWERS, ORGANIZERS

TOOLS = """set,tool,kind,count,length_mm,width_mm,height_mm,group
blocks,block,other,3,200,60,20,blocks
"""


@pytest.fixture
def folder(folder):
    """The trays, and a set of blocks for which foam is cut."""
    (folder / "tools.csv").write_text(TOOLS, encoding="utf-8")
    return folder


@pytest.fixture
def visitor(folder):
    return Visitor(read_catalogue(folder), source=folder)


def opened(visitor, content, name="plan.json"):
    """The page of an earlier plan whose document was sent."""
    return visitor.send("/earlier", files={"plan": (name, content)})


def uploaded(visitor, book):
    """The desk of somebody who begins with a workbook."""
    assert visitor.upload(book).status_code == 200
    return Visitor(read_upload(book, "released.xlsx"), source=book)


def key_of_plan(page):
    return dict(fields(page))["plan"]


def released(visitor, set_name="blocks", cabinet="wide", prefix="F-"):
    plan = visitor.plan(set_name, cabinet)
    return visitor.sent("/release", [*fields(plan), ("part_prefix", prefix)])


def no_words_of_the_command_line(*pages):
    told = [re.sub("<[^>]*>", " ", page.text.split("<main")[1].split("<script")[0]) for page in pages]
    assert not [word for words in told for word in re.findall(r"--[a-z][a-z-]*", words)]


# ------------------------------------------------------------------------------------------------------------ release


def test_a_release_is_what_the_command_writes(visitor, folder, run, tmp_path):
    run("release", folder, "blocks", "wide", "--part-prefix", "F-", "--out", tmp_path / "out.xlsx")
    page = released(visitor)
    assert re.findall(r'data-part="([^"]*)"', page.text) == ["F-001 A"]
    assert "1 organizer, 1 new part" in page.text
    assert visitor.file(page, "plan.json").text == (tmp_path / "out.plan.json").read_text()
    mine, its = (
        openpyxl.load_workbook(book)["organizers"].values
        for book in (io.BytesIO(visitor.file(page, "released.xlsx").content), tmp_path / "out.xlsx")
    )
    assert list(mine) == list(its)
    no_words_of_the_command_line(page)


def test_an_uploaded_catalogue_is_released_from_what_was_sent(visitor, folder, run, tmp_path):
    run("check", folder, "--out", tmp_path / "mine.xlsx")
    first = visitor.upload((tmp_path / "mine.xlsx").read_bytes())
    asked = [("catalogue", first.url.path.rpartition("/")[2]), ("set", "blocks"), ("cabinet", "wide")]
    page = visitor.sent("/release", [*asked, ("part_prefix", "F-")])
    book = openpyxl.load_workbook(io.BytesIO(visitor.file(page, "released.xlsx").content))
    assert "F-001" in [cell for row in book["organizers"].values for cell in row]


def test_a_catalogue_that_was_changed_meanwhile_is_not_released(visitor, folder):
    page = released(visitor)
    (folder / "tools.csv").write_text(TOOLS.replace("60", "70"), encoding="utf-8")
    refused = visitor.file(page, "released.xlsx")
    assert refused.status_code == 400
    assert "were changed since the desk read them" in refused.text


def test_of_a_refusal_nothing_is_released(visitor):
    page = released(visitor, "trays", "low")
    assert "Nothing is released: there is no plan" in page.text
    assert visitor.file(page, "released.xlsx").status_code == 400


@pytest.mark.parametrize("prefix", ["", "F1", "-F", "F G"])
def test_a_prefix_that_is_none_is_refused_before_any_work(visitor, prefix):
    page = released(visitor, prefix=prefix)
    assert page.status_code == 400
    assert "part prefix" in page.text


# -------------------------------------------------------------------------------------------------- does it still hold


def test_a_released_plan_holds_until_something_is_edited(visitor, run, tmp_path):
    release = released(visitor)
    document, book = (visitor.file(release, name).content for name in ("plan.json", "released.xlsx"))
    assert read_upload(book, "released.xlsx").parts, "the workbook has the new part"
    later = uploaded(visitor, book)
    page = later.send("/standing", plan=key_of_plan(opened(later, document)))
    assert 'data-holds="true">' in page.text

    sheets = openpyxl.load_workbook(io.BytesIO(book))
    drawer = json.loads(document)["placements"][0]["drawer"]
    for cells in sheets["drawers"].iter_rows():
        if [cell.value for cell in cells[:2]] == ["wide", drawer]:
            cells[4].value = "150"
    sheets.save(tmp_path / "edited.xlsx")
    (tmp_path / "plan.json").write_bytes(document)
    code, printed, _ = run("check", tmp_path / "edited.xlsx", "--plan", tmp_path / "plan.json", "--json")
    told = json.loads(printed)
    assert code == 1
    assert not told["holds"]
    later = uploaded(visitor, (tmp_path / "edited.xlsx").read_bytes())
    page = later.send("/standing", plan=key_of_plan(opened(later, document)))
    assert 'data-holds="false">' in page.text
    words = [words for row in told["drawers"] for words in row["broke"] + row["changed"]]
    assert words, "it says what broke"
    assert all(one in unescape(page.text) for one in words)
    assert later.file(page, "standing.json").json() == told
    no_words_of_the_command_line(page)


def test_a_plan_that_was_not_released_is_not_looked_at_again(visitor):
    document = visitor.file(visitor.plan(), "plan.json").content
    page = opened(visitor, document)
    assert "not released" in page.text
    assert "Does it still hold?" not in page.text
    assert visitor.send("/standing", plan=key_of_plan(page)).status_code == 400


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "no file was chosen"),
        (b"no json", "mine.json: no JSON"),
        (b"{}", "is missing or wrong"),
        (b'{"verdict": "does not fit"}', "mine.json: holds no plan"),
        (b"[" * 100_000, "mine.json: no JSON"),
    ],
)
def test_what_holds_no_plan_is_refused_by_its_name(visitor, content, told):
    page = opened(visitor, content, "mine.json")
    assert page.status_code == 400
    assert told in page.text


def test_the_name_of_a_plan_is_only_shown(visitor):
    document = visitor.file(visitor.plan(), "plan.json").content
    page = opened(visitor, document, "../<script>alert(1)</script>.json")
    assert page.status_code == 200
    assert "<script>alert" not in page.text


def test_a_plan_that_is_not_remembered_is_not_found(visitor):
    assert visitor.send("/plan", set="blocks", cabinet="wide", add_to="0" * 20).status_code == 404
    assert visitor.client.get(f"/earlier?catalogue={visitor.catalogue.digest}&plan=x").status_code == 404


def test_no_plan_is_read_from_nothing():
    with pytest.raises(UsageError, match="no file was chosen"):
        read_plan(b"", "plan")


# ------------------------------------------------------------------------------------------------------- add and keep


def test_a_set_is_added_to_a_plan_that_was_written_as_the_command_does(visitor, folder, run, tmp_path):
    run("plan", folder, "trays", "wide", "--out", tmp_path / "trays.json")
    _, printed, _ = run("plan", folder, "blocks", "wide", "--add-to", tmp_path / "trays.json", "--json")
    page = visitor.send(
        "/plan",
        set="blocks",
        cabinet="wide",
        add_to=key_of_plan(opened(visitor, (tmp_path / "trays.json").read_bytes())),
    )
    assert visitor.file(page, "plan.json").json() == json.loads(printed)
    no_words_of_the_command_line(page)


def test_a_set_is_added_to_the_plan_at_hand_and_another_to_both(visitor, folder):
    trays = visitor.plan()
    page = visitor.sent("/plan/add", [*fields(trays), ("added", "blocks")])
    assert dict(fields(page))["set"] == "blocks"
    assert not set(placed(visitor, page).values()) & set(placed(visitor, trays).values())
    assert "trays" in page.text, "what it was added to is told"
    wished = visitor.again(page, add="free", place="row 3")
    assert dict(fields(wished))["add_to"] == dict(fields(page))["add_to"], "a wish leaves it where it is"


def test_nothing_is_added_to_a_refusal(visitor):
    refused = visitor.sent("/plan/add", [*fields(visitor.plan(cabinet="low")), ("added", "blocks")])
    assert refused.status_code == 400


def test_a_plan_to_keep_moves_as_few_groups_as_the_command_does(visitor, folder, run, tmp_path):
    wished = visitor.again(visitor.plan(), pin="tray a in drawer 3")
    document = visitor.file(wished, "plan.json").content
    (tmp_path / "kept.json").write_bytes(document)
    _, printed, _ = run("plan", folder, "trays", "wide", "--keep", tmp_path / "kept.json", "--json")
    page = visitor.plan(keep=key_of_plan(opened(visitor, document)))
    assert placed(visitor, page)["tray a"] == "3"
    assert visitor.file(page, "plan.json").json() == json.loads(printed)


def test_an_earlier_plan_of_another_cabinet_is_refused(visitor):
    key = key_of_plan(opened(visitor, visitor.file(visitor.plan(), "plan.json").content))
    page = visitor.send("/plan", set="blocks", cabinet="low", add_to=key)
    assert page.status_code == 400
    assert "expected one in" in page.text


def test_a_comparison_counts_the_foam_of_a_released_plan(visitor):
    key = key_of_plan(opened(visitor, visitor.file(released(visitor), "plan.json").content))
    page = visitor.send("/comparison", set="blocks", existing=key)
    row = re.search(r'<tr data-cabinet="wide".*?</tr>', page.text, re.S)[0]
    assert re.search(r'data-name="as_is">1<', row)


# ---------------------------------------------------------------------------------------------- what counts first


def test_a_comparison_is_ranked_as_the_command_ranks(visitor, folder, run):
    (folder / "drawers.csv").write_text(DRAWERS + "large,1,1,1,560,400,100\nlarge,2,1,2,560,400,100\n", "utf-8")
    visitor = Visitor(read_catalogue(folder), source=folder)
    orders = []
    for rank in ("unused", "free"):
        _, printed, _ = run("compare", folder, "trays", "--rank", rank, "--json")
        page = visitor.send("/comparison", set="trays", rank=rank)
        orders.append(re.findall(r'<tr data-cabinet="([^"]*)" data-verdict', page.text))
        assert orders[-1] == [row["cabinet"] for row in json.loads(printed)["variants"]]
    assert orders[0] != orders[1]
    assert visitor.send("/comparison", set="trays", rank="beauty").status_code == 400


def test_the_sets_of_one_cabinet_are_those_of_the_command(visitor, folder, run):
    more = ORGANIZERS + "flat,tray f,550,390,30,1\n"
    (folder / "organizers.csv").write_text(more, encoding="utf-8")
    visitor = Visitor(read_catalogue(folder), source=folder)
    _, printed, _ = run("compare", folder, "--cabinet", "low", "--json")
    told = [one["set"] for one in json.loads(printed)]
    page = visitor.send("/sets", cabinet="low")
    assert re.findall(r'class="set" data-set="([^"]*)"', page.text) == told
    assert told[0] != "trays", "it is too high for this cabinet"
    assert visitor.file(page, "workbook.xlsx").status_code == 200
    assert visitor.send("/sets", cabinet="low", rank="price").status_code == 400, "one cabinet has one price"
    no_words_of_the_command_line(page)


def test_sets_that_somebody_did_not_wait_for_are_named(visitor):
    def tell(step):
        if step.done == 1:
            raise KeyboardInterrupt

    made = answered(visitor.catalogue, visitor.memory.rules, SetsAsk(visitor.catalogue.digest, "wide"), tell)
    assert [one.set for one in made.comparisons] == ["blocks"]
    assert made.left == ("trays",)


# ---------------------------------------------------------------------------------------------------------- sizes off


def test_what_decides_is_what_the_command_finds(visitor, folder, run):
    """Trays of 50 mm and 3 mm above them in drawers of 100 mm: 60 mm less is too low."""
    _, printed, _ = run("plan", folder, "trays", "wide", "--tolerance", "60", "--json")
    told = json.loads(printed)
    page = visitor.sent("/tolerance", [*fields(visitor.plan()), ("within", "60")])
    found = visitor.file(page, "tolerance.json").json()
    assert {name: told[name] for name in found} == found
    assert re.findall(r'data-turn="([^"]*)"', page.text) == [row["drawer"] for row in told["turns"]]
    no_words_of_the_command_line(page)


def test_an_inch_is_read_and_the_address_keeps_it(visitor):
    plan = fields(visitor.plan())
    page = visitor.sent("/tolerance", [*plan, ("within", "1/8"), ("within_unit", "in")])
    assert dict(fields(page))["within"] == "3.175"
    assert visitor.sent("/tolerance", [*plan, ("within", "1/8 in")]).url == page.url
    assert visitor.client.get(page.url).text == page.text


@pytest.mark.slow
def test_pieces_to_measure_are_those_of_the_command(run):
    _, printed, _ = run("plan", WORKSHOP, "Alder-64", "Glen-5", "--estimates", "--json")
    told = json.loads(printed)
    workshop = Visitor(read_catalogue(WORKSHOP), source=WORKSHOP)
    page = workshop.sent("/settling", fields(workshop.plan("Alder-64", "Glen-5")))
    found = workshop.file(page, "settling.json").json()
    assert {name: told[name] for name in found} == found
    assert re.findall(r'data-piece="([^"]*)"', unescape(page.text)) == [row["tool"] for row in told["measure"]]
    assert f'data-stands="{str(told["stands"]).lower()}"' in page.text
    no_words_of_the_command_line(page)


@pytest.mark.parametrize("wrong", ["x", "-1", "1001", "1/3"])
def test_sizes_off_by_what_is_no_length_are_refused(visitor, wrong):
    assert visitor.sent("/tolerance", [*fields(visitor.plan()), ("within", wrong)]).status_code == 400


@pytest.mark.parametrize("page", ["sets", "drawers", "release", "tolerance", "settling"])
def test_looking_at_what_was_not_asked_here_shows_a_button(visitor, page):
    asked = {"set": "trays", "cabinet": "wide", "part_prefix": "F-", "question": "trays in 5 x 4 x 3 in"}
    shown = visitor.client.get(f"/{page}", params={**asked, "catalogue": visitor.catalogue.digest})
    assert "Work it out" in shown.text
    assert not visitor.memory._works


def test_a_wish_that_undoes_itself_still_says_so_beside_an_earlier_plan(visitor):
    page = visitor.sent("/plan/add", [*fields(visitor.plan()), ("added", "blocks")])
    at = placed(visitor, page)["blocks"]
    out = visitor.again(page, add="place", group="blocks", rule="not in", drawer=at)
    assert verdict(out) == "does not fit"
    assert "does not fit now, fits before" in moved(out)
