"""What counts first in a comparison: every ranking against its own figures, what is not given last, and the words."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

import openpyxl
import pytest

from matcher.records.errors import UsageError
from matcher.records.given import GroupRule
from matcher.records.units import mm
from matcher.report.amount_views import amounts_document
from matcher.report.document import comparison_document
from matcher.report.workbook import compare_book
from matcher.studies.comparison import compare
from matcher.studies.ranking import OF_SETS, RANKS, parse_rank, ranking_words, why_before
from matcher.studies.recommending import recommended, recommended_for_all
from matcher.studies.variants import steps
from tests import page_cases
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.cutting_cases import foam

BLOCKS = [piece(f"block {n}", length=200, width=300, height=30, group=f"blocks {n}") for n in (1, 2)]
RULES = (GroupRule("other tools", "other tools", 6, ("other",), house=True),)
PRICED = foam("black", 1200, 1000, 50, price=30.0)


def box(name, count=2, width=560, depth=400, outside=(None, None, None), price=None):
    made = cabinet(*(drawer(str(n), row=n, width=width, depth=depth, cabinet=name) for n in range(count)), name=name)
    across, along, up = (None if one is None else mm(one) for one in outside)
    return replace(made, width=across, depth=along, height=up, price=price)


BOXES = [
    box("a roomy", 4, 560, 400, (700, 500, 900), 300.0),
    box("b wide", 2, 600, 400, (700, 480, 900), None),
    box("c small", 2, 500, 400, (600, 480, 900), 400.0),
    box("d unsaid", 3, 540, 400, (None, 480, 900), 250.0),
    box("e single", 1, 560, 400, (500, 400, 400), 100.0),
]


def compared(by, boxes=BOXES, stock=(PRICED,), ready=()):
    pieces = () if ready else BLOCKS
    ruled = [replace(one, share=False) for one in RULES]
    ruled += [GroupRule(f"blocks {n}", "other tools", 6, share=False) for n in (1, 2)]
    known = catalogue(pieces, ready, boxes, group_rules=tuple(ruled), foam=tuple(stock))
    return compare(known, HOUSE, "set", by=by)


def names(comparison):
    return [one.outcome.cabinet for one in comparison.variants]


def test_each_word_ranks_by_its_own_figure_and_the_refused_come_last():
    told = {by: names(compared(by)) for by in RANKS}
    assert {order[-1] for order in told.values()} == {"e single"}, "cheapest and smallest, but it does not hold the set"
    assert told["unused"][:2] == ["b wide", "c small"]
    assert told["free"][:2] == ["a roomy", "d unsaid"]
    assert told["price"][:4] == ["d unsaid", "a roomy", "c small", "b wide"], "250, 300, 400, not given"
    assert told["width"][:4] == ["c small", "b wide", "a roomy", "d unsaid"], "600, 700 x 480, 700 x 500, not given"
    costs = [one.foam_cost for one in compared("cost").variants if one.foam_cost is not None]
    assert len(costs) == 4
    assert costs == sorted(costs)
    assert told["cost"][0] == "c small", "the narrowest drawers take the smallest blanks"


def test_less_work_on_the_foam_may_come_before_fewer_unused_drawers():
    ready = [organizer(f"tray {n}", tier=n) for n in (1, 2)]
    boxes = [box("a wide", 2, 600, 384), box("b snug", 3, 505, 384)]
    assert names(compared("unused", boxes, ready=ready)) == ["a wide", "b snug"]
    by_work = compared("recut", boxes, ready=ready)
    assert names(by_work) == ["b snug", "a wide"]
    assert recommended(by_work).text == (
        "b snug is recommended: of 2 cabinets that hold the set without an error it needs the least work on the foam: "
        "2 as is."
    )


@pytest.mark.parametrize(
    ("by", "ground"),
    [
        ("free", "it leaves the most drawers free, 2 of 4."),
        ("price", "it is the cheapest, 250.00; the price is not given for b wide."),
        ("width", "it is the smallest, 600.0 mm wide x 480.0 mm deep x 900.0 mm high; "),
        ("width", "; the outside width is not given for d unsaid."),
        ("cost", "it takes foam for the least money, "),
    ],
)
def test_the_ground_of_the_recommendation_is_what_counts_first(by, ground):
    found = compared(by)
    told = recommended(found)
    assert told.cabinet == names(found)[0]
    assert ground in told.text


def test_what_no_cabinet_has_is_no_ground_and_is_said():
    plain = [replace(one, price=None) for one in BOXES]
    told = recommended(compared("price", plain)).text
    assert "the price of none is given, and it leaves the fewest drawers unused, 0 of 2" in told
    assert names(compared("price", plain)) == names(compared("unused", plain))
    unpriced = recommended(compared("cost", stock=[foam("black", 1200, 1000, 50)])).text
    assert "the foam cost of none is given" in unpriced


def test_why_one_comes_before_the_next_is_told_by_the_same_figures():
    by_price, by_width = compared("price"), compared("width")
    first, second, third, last, _ = by_price.variants
    assert why_before(first, second, by="price") == "cheaper: 250.00 against 300.00"
    assert why_before(third, last, by="price") == "cheaper: 400.00 against not given"
    assert [step.why for step in steps(by_width)][:3] == [
        "narrower: 600.0 mm against 700.0 mm",
        "shallower: 480.0 mm against 500.0 mm",
        "narrower: 700.0 mm against not given",
    ]
    assert ranking_words("", "price").startswith("verdict, cheapest cabinet, fewest unused drawers, least re-cutting")
    assert "unused" not in ranking_words("", "free"), "as many free drawers are as many unused ones"


def test_without_a_wish_the_ranking_is_as_ever():
    assert names(compared("unused")) == ["b wide", "c small", "d unsaid", "a roomy", "e single"], "0, 0, 1, 2 free"
    assert ranking_words("") == "verdict, fewest unused drawers, least re-cutting, name"


@pytest.mark.parametrize(("word", "known"), [("cheap", RANKS), ("price", OF_SETS), ("", RANKS)])
def test_a_word_that_is_none_is_refused_with_those_that_are(word, known):
    with pytest.raises(UsageError, match=rf"{word!r}: expected one of {known[0]}, .*{known[-1]}"):
        parse_rank(word, known)


def test_for_many_sets_the_cabinet_follows_what_counts_first():
    told = recommended_for_all([compared("price"), compared("price")])
    assert told.cabinet == "d unsaid"
    assert "of those that hold as many it is the cheapest, 250.00." in told.text
    by_cost = recommended_for_all([compared("cost"), compared("cost")])
    once = compared("cost").variants[0].foam_cost
    assert f"it takes foam for the least money, {2 * once:,.2f} in all" in by_cost.text


# ------------------------------------------------------------------------------------------------------------- figures


def test_every_sum_of_a_variant_is_that_of_its_rows():
    for variant in compared("cost").variants[:4]:
        row = amounts_document(variant)
        blanks = row["blanks"]
        assert row["blank_count"] == len(blanks) == 2
        assert row["organizer_count"] == len(variant.outcome.plan.placements)
        assert row["foam_m2"] == pytest.approx(sum(one["foam_m2"] for one in blanks), abs=1e-6)
        assert row["foam_cost"] == pytest.approx(sum(one["foam_cost"] for one in blanks), abs=0.006)
        assert row["cutting_minutes"] == pytest.approx(sum(one["cutting_minutes"] for one in blanks), abs=0.06)
        sizes = {one.group: one.width * one.depth / 320**2 / 1e6 for one in variant.outcome.plan.placements}
        for one in blanks:
            assert one["foam_m2"] == pytest.approx(sizes[one["group"]], abs=1e-6)
            assert one["foam_cost"] == pytest.approx(30.0 * one["foam_m2"] / 1.2, abs=1e-4), "30 for 1.2 m2"


def test_without_a_plan_there_is_nothing_but_the_price():
    row = amounts_document(compared("cost").variants[-1])
    assert row.pop("price") == 100.0
    assert row.pop("blanks") == []
    assert set(row.values()) == {None}


def test_the_workbook_holds_the_sums_and_their_rows():
    document = comparison_document(compared("cost"))
    assert document["ranked_by"].startswith("verdict, least foam cost, fewest unused drawers")
    book = openpyxl.load_workbook(io.BytesIO(compare_book([document])))
    head, *rows = book["variants"].iter_rows(values_only=True)
    costs = {row[head.index("cabinet")]: row[head.index("foam cost")] for row in rows}
    named, *cut = book["to cut"].iter_rows(values_only=True)
    for name, cost in costs.items():
        own = [row[named.index("foam cost")] for row in cut if row[named.index("cabinet")] == name]
        assert (cost is None and not own) or cost == pytest.approx(sum(own), abs=0.006)
    assert sum(row[named.index("cabinet")] == "a roomy" for row in cut) == 2


# ------------------------------------------------------------------------------------------------------------ commands

TOOLS = "set,tool,kind,count,length_mm,width_mm,height_mm,mass_kg,group\n" + "".join(
    f"{name},block {n},other,1,200,{width},30,1,blocks {n}\n"
    for name, width in (("Oak", 300), ("Fir", 480), ("Elm", 900))
    for n in (1, 2)
)
GROUPS = "group,family,tier,share\nblocks 1,blocks,1,no\nblocks 2,blocks,2,no\n"
DRAWERS = "cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm\n" + "".join(
    f"{name},{n},1,{n},{width},400,100\n"
    for name, count, width in (("Low", 2, 560), ("Tall", 4, 560), ("Slim", 2, 340))
    for n in range(1, count + 1)
)
CABINETS = "cabinet,width_mm,depth_mm,height_mm,price\nLow,700,480,500,300\nTall,700,480,900,200\nSlim,450,480,500,\n"
FOAM = "foam,length_mm,width_mm,thickness_mm,price\nblack,1200,1000,50,30\n"


@pytest.fixture
def blocks(tmp_path):
    place = tmp_path / "blocks"
    place.mkdir()
    tables = {"tools": TOOLS, "groups": GROUPS, "drawers": DRAWERS, "cabinets": CABINETS, "foam": FOAM}
    for name, text in tables.items():
        (place / f"{name}.csv").write_text(text, encoding="utf-8")
    return place


def test_the_command_ranks_as_wished_in_every_form(run, blocks, tmp_path):
    def order(*words):
        return [row["cabinet"] for row in json.loads(run("compare", blocks, "Oak", *words, "--json")[1])["variants"]]

    assert order() == ["Low", "Slim", "Tall"]
    assert order("--rank", "free") == ["Tall", "Low", "Slim"]
    assert order("--rank", "price") == ["Tall", "Low", "Slim"], "200, 300, not given"
    assert order("--rank", "width") == ["Slim", "Low", "Tall"], "450; 700 x 480 x 500; 900 high"
    assert order("--rank", "cost") == ["Slim", "Low", "Tall"]
    code, out, _ = run("compare", blocks, "Oak", "--rank", "price", "--out", tmp_path / "told.csv")
    assert code == 0
    assert "it is the cheapest, 200.00" in " ".join(out.split())
    assert "the price is not given for Slim" in " ".join(out.split())
    assert "not given" in next(line for line in out.splitlines() if line.startswith("Slim") and "fits" not in line)
    with (tmp_path / "told.csv").open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines))
    assert [row["cabinet"] for row in rows] == ["Tall", "Low", "Slim"]
    assert "blanks" not in rows[0]
    assert rows[0]["price"] == "200.0"
    assert float(rows[0]["foam_cost"]) > 0


def test_money_and_minutes_stand_behind_why_and_within_80_columns(run, blocks):
    plain, full = (run("compare", blocks, "Oak", *words)[1] for words in ((), ("--why",)))
    assert "foam cost" not in plain
    assert "foam cost" in full
    head = next(line for line in full.splitlines() if "foam cost" in line and line.startswith("cabinet"))
    assert len(head) <= 80
    assert "without what is left of" in full
    assert "estimated" not in next(line for line in full.splitlines() if "minutes: at the machine" in line), "measured"


def test_the_smallest_is_told_with_its_size_within_80_columns(run, blocks):
    out = run("compare", blocks, "Oak", "--rank", "width")[1]
    assert "it is the smallest, 450.0 mm wide x 480.0 mm deep x 500.0 mm high" in " ".join(out.split())
    rows = [line for line in out.splitlines() if line.endswith(" mm") and " x " in line]
    assert [row.split()[0] for row in rows] == ["Slim", "Low", "Tall"]
    assert rows[0].endswith("450 x 480 x 500 mm")


def test_which_sets_go_into_one_cabinet(run, blocks, tmp_path):
    table, shown = tmp_path / "sets.csv", tmp_path / "sets.html"
    code, out, _ = run("compare", blocks, "--cabinet", "Low", "--out", table, "--out", shown)
    assert code == 0
    assert out.splitlines()[0] == "Low: 3 sets"
    told = " ".join(out.split())
    assert "2 of 3 sets go into Low, one at a time" in told
    assert "with Fir it leaves the fewest drawers unused, 0 of 2, as with Oak" in told
    named = [line.split()[0] for line in out.splitlines() if line.split()[1:2] in (["fits"], ["does"])]
    assert named == ["Fir", "Oak", "Elm"], "what fits comes first, the refused last"
    assert "Elm: short:" in out
    documents = json.loads(run("compare", blocks, "--cabinet", "Low", "--json")[1])
    assert [(one["set"], one["variants"][0]["verdict"]) for one in documents] == [
        ("Fir", "fits"),
        ("Oak", "fits"),
        ("Elm", "does not fit"),
    ]
    with table.open(encoding="utf-8") as lines:
        assert [row["set"] for row in csv.DictReader(lines)] == ["Fir", "Oak", "Elm"]
    page = shown.read_text(encoding="utf-8")
    assert "2 of 3 sets go into Low" in page
    assert "Tall" not in page


def test_sets_in_one_cabinet_are_ranked_by_foam_cost_too(run, blocks):
    documents = json.loads(run("compare", blocks, "--cabinet", "Tall", "--rank", "cost", "--json")[1])
    costs = [one["variants"][0]["foam_cost"] for one in documents]
    assert costs[-1] is None
    assert costs[:-1] == sorted(costs[:-1])


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (["Oak", "--rank", "cheap"], "expected one of unused, free, recut, cost, price, width"),
        (["--cabinet", "Low", "--rank", "price"], "rank 'price': expected one of unused, free, recut, cost"),
        (["Oak", "--cabinet", "Low"], "asks which sets go into it"),
        (["--cabinet", "Nowhere"], "no cabinet 'Nowhere' in the catalogue"),
        (["--cabinet", "Low", "--out", "pairs.parquet"], "pairs.parquet"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_one_line(run, blocks, tmp_path, monkeypatch, words, expected):
    monkeypatch.chdir(tmp_path)
    code, out, err = run("compare", blocks, *words)
    assert (code, out) == (2, "")
    assert expected in err


def test_the_page_tells_what_each_variant_takes():
    (comparison,), (step,) = page_cases.compared()
    page = page_cases.comparison_page([comparison], [step])
    assert "What it takes" in page
    for row in comparison_document(comparison)["variants"]:
        if row["verdict"] == "fits":
            told = "not given" if row["price"] is None else f"{row['price']:,.2f}"
            assert f'data-name="price">{told}<' in page
