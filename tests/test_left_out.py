"""What stays outside: asked for with ``without`` and listed in every output; and sets that fit but for single things.

A cabinet of two drawers for foam, 400 x 300 mm, and one without; blocks of 100 x 40 mm, a bar of 1 m that goes nowhere.
"""

from __future__ import annotations

import json
from io import BytesIO
from pathlib import Path

import openpyxl
import pytest

from matcher.planning.answering import plan
from matcher.planning.outcome import DoesNotFit, Fits, Outcome
from matcher.planning.shaping import left_out_words
from matcher.records.answered import LeftOut
from matcher.records.errors import UnknownNameError, UsageError
from matcher.records.given import Catalogue, GroupRule, Pin, Wishes
from matcher.records.units import kg
from matcher.report.document import plan_document
from matcher.report.pages.plan_page import plan_page
from matcher.report.workbook import plan_book
from matcher.studies.comparison import compare
from matcher.verification.checker import verify
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.pdf_reading import words

WORKSHOP = Path(__file__).resolve().parents[1] / "data" / "workshop"
BENCH = cabinet(
    drawer("top", row=1, width=400, depth=300),
    drawer("middle", row=2, width=400, depth=300),
    drawer("bottom", row=3, width=400, depth=300, slot="no foam"),
    name="bench",
)
KEYS = [piece(f"key {n}", group="keys", count=n) for n in (1, 2)]
RULES = (GroupRule("keys", "keys", 1), GroupRule("bars", "bars", 2))


def known(*more, **rest) -> Catalogue:
    rules = rest.pop("group_rules", RULES)
    return catalogue([*KEYS, piece("bar", group="bars"), *more], cabinets=[BENCH], group_rules=rules, **rest)


def answered(given: Catalogue, *names: str, **wishes) -> Outcome:
    return plan(given, HOUSE, "set", "bench", wishes=Wishes(without=names, **wishes))


def planned(given: Catalogue, *names: str, **wishes) -> Fits:
    found = answered(given, *names, **wishes)
    assert isinstance(found, Fits)
    assert verify(found.question.catalogue, HOUSE, found.plan) == ()
    return found


def refused(given: Catalogue, *names: str, **wishes) -> DoesNotFit:
    found = answered(given, *names, **wishes)
    assert isinstance(found, DoesNotFit)
    return found


# ------------------------------------------------------------------------------------------------------------ left out


def test_a_group_stays_outside_with_all_its_pieces() -> None:
    found = planned(known(), "keys")
    assert [group.name for group in found.plan.groups] == ["bars"]
    assert found.question.left_out == (LeftOut("keys", "key 1", 1, True), LeftOut("keys", "key 2", 2, True))
    assert left_out_words(found.question.left_out) == ("keys (3 pieces)",)
    assert found.basis.total == 1


def test_a_piece_stays_outside_and_its_group_goes_in_without_it() -> None:
    found = planned(known(), "key 2")
    (keys,) = (group for group in found.plan.groups if group.name == "keys")
    assert [one.piece.tool for one in keys.pieces] == ["key 1"]
    assert left_out_words(found.question.left_out) == ("2 x key 2 (keys)",)


def test_all_pieces_of_a_group_are_the_group() -> None:
    assert planned(known(), "key 1", "key 2").question.left_out == planned(known(), "keys").question.left_out


def test_a_ready_made_organizer_stays_outside_with_its_group() -> None:
    pliers = organizer("pliers", width=200, depth=200)
    found = planned(known(organizers=[pliers]), "pliers")
    assert found.question.left_out == (LeftOut("pliers", "", 1, True),)
    assert left_out_words(found.question.left_out) == ("pliers (its ready-made organizer)",)


def test_a_case_is_named_by_itself_and_a_drive_of_a_group_by_its_group() -> None:
    case = piece("drill case", kind="cased", length=200, width=150)
    assert left_out_words(planned(known(case), "drill case").question.left_out) == ("drill case (1 piece)",)
    driven = known(piece("1/2 key", group="keys", drive="1/2"))
    found = planned(driven, "1/2 keys", by_drive=("keys",))
    assert [(one.group, one.tool) for one in found.question.left_out] == [("1/2 keys", "1/2 key")]


def test_nothing_is_left_out_unasked() -> None:
    assert planned(known()).question.left_out == ()


def test_one_pin_of_the_table_about_what_stays_outside_says_nothing() -> None:
    given = known(pins=(Pin("in", group="keys", row=1), Pin("together", group="keys", other="bars")))
    assert [group.name for group in planned(given, "keys").plan.groups] == ["bars"]


@pytest.mark.parametrize(
    ("names", "error", "said"),
    [
        (("kees",), UnknownNameError, r"without: no group or piece 'kees' in set \(nearest: keys\)"),
        (("key 22",), UnknownNameError, r"\(nearest: key 2\)"),
        (("",), UnknownNameError, "no group or piece ''"),
        (("keys", "bars"), UsageError, "without: nothing would be left of set"),
    ],
)
def test_what_is_not_there_or_would_leave_nothing_is_refused_in_one_line(names, error, said) -> None:
    with pytest.raises(error, match=said) as told:
        answered(known(), *names)
    assert "\n" not in str(told.value)


def test_a_pin_about_what_was_left_out_in_the_same_run_is_refused() -> None:
    with pytest.raises(UnknownNameError, match="no group 'keys'"):
        answered(known(), "keys", pins=(Pin("in", group="keys", row=1),))


def test_of_two_sets_none_may_be_left_out_altogether() -> None:
    other = piece("file", group="files", set="other")
    with pytest.raises(UsageError, match="nothing would be left of other"):
        plan(known(other), HOUSE, "set+other", "bench", wishes=Wishes(without=("files",)))


def test_every_output_lists_it(run, tmp_path) -> None:
    names = ("--without", "hex keys", "--without", "ball-peen hammer 500 g")
    files = [tmp_path / f"plan.{kind}" for kind in ("json", "html", "xlsx", "pdf")]
    outs = [word for file in files for word in ("--out", file)]
    code, out, _ = run("plan", WORKSHOP, "Birch-134", "Glen-9", *names, *outs)
    told = "left out: hex keys (20 pieces), ball-peen hammer 500 g (striking tools)"
    assert code == 0
    assert told in " ".join(out.split())
    rows = json.loads(files[0].read_text(encoding="utf-8"))["left_out"]
    assert sum(row["count"] for row in rows) == 21
    assert rows[-1] == {
        "group": "striking tools", "piece": "ball-peen hammer 500 g", "count": 1, "whole_group": False,
        "text": "ball-peen hammer 500 g (striking tools)",
    }  # fmt: skip
    page = files[1].read_text(encoding="utf-8")
    assert page.count("data-outside=") == len(rows) == 21
    sheet = openpyxl.load_workbook(files[2])["left out"]
    assert [row[1] for row in sheet.iter_rows(min_row=2, values_only=True)] == [row["piece"] for row in rows]
    guide = " ".join(" ".join(words(files[3].read_bytes())).split())
    listed = guide.split("Not included")[1]
    assert "of hex keys: hex key 1/16 in, " in listed
    assert "of striking tools: ball-peen hammer 500 g" in listed


def test_fit_compare_and_cut_list_it_too(run, tmp_path) -> None:
    told = "left out: hex keys (20 pieces)"
    for command in (("fit",), ("compare",), ("cut", "--allow-estimates")):
        asked = (command[0], WORKSHOP, "Birch-134", "Glen-9", "--without", "hex keys", *command[1:])
        book = tmp_path / f"{command[0]}.xlsx"
        code, out, _ = run(*asked, "--out", book)
        assert code == 0
        assert told in " ".join(out.split())
        assert openpyxl.load_workbook(book)["left out"].max_row == 21
        document = json.loads(run(*asked, "--json")[1])
        assert len((document[0] if command[0] == "fit" else document)["left_out"]) == 20
    page = tmp_path / "compare.html"
    assert run("compare", WORKSHOP, "Birch-134", "Glen-9", "--without", "hex keys", "--out", page)[0] == 0
    assert page.read_text(encoding="utf-8").count("data-outside=") == 20


def test_so_do_questions_of_the_tape(run) -> None:
    for option in ("--sheet", "--tolerance=1", "--estimates"):
        asked = ("plan", WORKSHOP, "Birch-134", "Moor-T8", "--without", "hex keys", option)
        assert "left out: hex keys (20 pieces)" in run(*asked)[1]


def test_the_run_record_says_what_to_ask_again() -> None:
    assert plan_document(planned(known(), "keys"))["run"]["wishes"]["without"] == ["keys"]


def test_a_reference_is_planned_without_it_too() -> None:
    found = compare(known(), HOUSE, "set", reference="bench", wishes=Wishes(without=("key 2",)))
    (variant,) = found.variants
    assert isinstance(variant.outcome, Fits)
    assert {placed.how for placed in variant.outcome.plan.placements} == {"as is"}


# -------------------------------------------------------------------------------------------------- everything fits but


LONG = piece("long bar", group="bars", length=1000, count=2)


def test_pieces_that_go_in_nowhere_are_told_first_if_all_else_fits() -> None:
    found = refused(known(LONG))
    assert found.but == (LeftOut("bars", "long bar", 2, False),)
    assert isinstance(answered(known(LONG), "long bar"), Fits), "as it says"
    assert "left out" not in found.change, "the lead says it already"


def test_a_case_that_goes_in_nowhere_too() -> None:
    case = piece("drill case", kind="cased", length=500, width=450, height=90)
    assert refused(known(case)).but == (LeftOut("drill case", "drill case", 1, True),)


def test_several_things_at_once_and_a_ready_made_organizer() -> None:
    wide = organizer("pliers", width=500, depth=200)
    given = known(LONG, organizers=[wide], group_rules=(*RULES, GroupRule("pliers", "pliers", 6)))
    assert [(one.group, one.tool) for one in refused(given).but] == [("bars", "long bar"), ("pliers", "")]


def test_of_a_group_that_stays_whole_the_piece_is_told() -> None:
    whole = (RULES[0], GroupRule("bars", "bars", 2, split=False))
    assert refused(known(LONG, group_rules=whole)).but == (LeftOut("bars", "long bar", 2, False),)


def test_nothing_is_told_where_the_rest_does_not_fit_either() -> None:
    """Ten blocks of 300 x 250 mm take a drawer each."""
    blocks = piece("slab", group="slabs", length=250, width=300, count=10)
    found = refused(known(LONG, blocks))
    assert found.but == ()


def test_nothing_is_told_where_every_piece_goes_in_by_itself() -> None:
    """Two groups of 300 x 250 mm that may not share, and the keys, in two drawers."""
    slabs = [piece(f"slab {n}", group=f"slabs {n}", length=250, width=300) for n in (1, 2)]
    rules = tuple(GroupRule(f"slabs {n}", "slabs", n, share=False) for n in (1, 2))
    found = refused(catalogue([*KEYS, *slabs], cabinets=[BENCH], group_rules=rules))
    assert found.but == ()
    assert found.change


def test_nothing_is_told_where_it_is_the_whole_set() -> None:
    found = plan(catalogue([LONG], cabinets=[BENCH], group_rules=RULES), HOUSE, "set", "bench")
    assert isinstance(found, DoesNotFit)
    assert found.but == ()


def test_what_is_too_heavy_for_every_drawer_goes_in_nowhere() -> None:
    rated = cabinet(drawer("a", load_rating=kg(20)), drawer("b", row=2, load_rating=kg(20)), name="bench")
    anvil = piece("anvil", group="anvils", mass=30)
    found = refused(catalogue([*KEYS, anvil], cabinets=[rated], group_rules=RULES))
    assert found.but == (LeftOut("anvils", "anvil", 1, True),)


def test_a_pin_that_leaves_no_drawer_for_a_piece_counts() -> None:
    """The tall block goes into the high drawer alone, from which its group is pinned away."""
    high = cabinet(drawer("low", height=60), drawer("high", row=2, height=150), name="bench")
    tall = piece("tall", group="bars", length=100, width=100, height=100)
    given = catalogue([*KEYS, piece("bar", group="bars"), tall], cabinets=[high], group_rules=RULES)
    found = refused(given, pins=(Pin("not in", group="bars", drawer="high"),))
    assert found.but == (LeftOut("bars", "tall", 1, False),)


def test_page_workbook_and_document_lead_with_it() -> None:
    found = refused(known(LONG))
    document = plan_document(found)
    row = {"group": "bars", "piece": "long bar", "count": 2, "whole_group": False}
    row["text"] = "2 x long bar (bars)"
    assert document["fits_but"] == [row]
    assert list(document).index("fits_but") < list(document).index("reasons")
    page = plan_page(found)
    assert page.index("Everything fits but:") < page.index("Why it does not fit")
    sheet = openpyxl.load_workbook(BytesIO(plan_book(document)))["fits but"]
    assert [cell.value for cell in sheet[2]] == ["bars", "long bar", 2, "no", "2 x long bar (bars)"]


def test_the_command_leads_with_it_and_exits_with_1(run, tmp_path) -> None:
    (tmp_path / "drawers.csv").write_text(
        "cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm\nbench,a,1,1,400,300,80\n"
    )
    (tmp_path / "tools.csv").write_text(
        "set,tool,kind,count,length_mm,width_mm,height_mm\nset,block,other,3,100,40,30\nset,bar,other,1,900,20,20\n"
    )
    for command in ("plan", "fit"):
        code, out, _ = run(command, tmp_path, "set", "bench")
        lines = out.splitlines()
        assert code == 1
        assert lines[0] == "set in bench: does not fit"
        assert lines[2] == "everything fits but: bar (other tools)"
        assert lines[3].startswith("short: ")
    told = " ".join(run("compare", tmp_path, "set")[1].split())
    assert "bench: everything fits but: bar (other tools)" in told
    assert run("plan", tmp_path, "set", "bench", "--without", "bar")[0] == 0
