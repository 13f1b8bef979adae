"""Plans read back to be kept, and the options of a run on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from matcher.catalogue.kept import EXPECTED, read_kept
from matcher.records.errors import UsageError

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)
FORM = {
    "set": "trays",
    "cabinet": "wide",
    "fill": "spread",
    "placements": [{"group": "tray a", "drawer": "1"}],
    "free_drawers": ["2"],
    "goals": [{"name": "order", "value": 0}],
}


@pytest.fixture
def written(run, folder, tmp_path) -> Path:
    assert run("plan", folder, "trays", "wide", "--out", tmp_path / "plan.json")[0] == 0
    return tmp_path / "plan.json"


def test_a_plan_written_is_read_back(written):
    kept = read_kept(written)
    assert (kept.set, kept.cabinet, kept.fill) == ("trays", "wide", "spread")
    assert kept.drawers == (("tray a", "1"), ("tray b", "2"))
    assert kept.free == ("3",)
    assert dict(kept.goals)["order"] == 0


def test_what_a_pin_costs_is_shown_against_the_plan_kept(run, folder, written):
    """Drawers 1 and 2 hold a and b: b can come first only in a's drawer, so both move, and the order breaks once."""
    words = ["plan", folder, "trays", "wide", "--keep", written, "--pin", "tray b in drawer 1"]
    document = json.loads(run(*words, "--json")[1])
    assert len(document["kept"]["moves"]) == 2, "tray a must make room"
    assert [goal["name"] for goal in document["goals"]][:4] == ["together", "drawers", "moves", "order"]
    shown = run(*words)[1]
    assert "against the plan given: 2 groups move, one more order break" in " ".join(shown.split())
    assert "asked: tray b in drawer 1" in shown


def test_a_run_can_be_repeated_from_its_record(run, folder, written, tmp_path):
    """What the record says, given as options again (the plan to keep from the record itself), gives the same bytes."""
    asked = ["--pin", "tray a not in row 1", "--keep-free", "1 of 4 in", "--tier", "tray b", "--goals", "reach"]
    first = run("plan", folder, "trays", "wide", *asked, "--off", "recut", "--keep", written, "--json")[1]
    wishes = json.loads(first)["run"]["wishes"]
    (tmp_path / "kept.json").write_text(json.dumps(wishes["keep"]), encoding="utf-8")
    again = [word for pin in wishes["pins"] for word in ("--pin", pin)]
    again += ["--tier", ", ".join(wishes["tiers"]), "--goals", ", ".join(wishes["goals"])]
    again += [word for goal in wishes["off"] for word in ("--off", goal)]
    again += ["--keep", str(tmp_path / "kept.json"), "--alternatives", str(wishes["alternatives"])]
    assert run("plan", folder, "trays", "wide", *again, "--json")[1] == first


def test_alternatives_are_listed_with_what_they_give_up(run, folder):
    """Two equal trays in three equal drawers one above the other: 3 x 2 plans, of which one is the best."""
    document = json.loads(run("plan", folder, "trays", "wide", "--alternatives", "9", "--json")[1])
    assert len(document["alternatives"]) == 5
    assert document["after_alternatives"] == "none left"
    orders = [next(g["value"] for g in other["goals"] if g["name"] == "order") for other in document["alternatives"]]
    assert orders == [0, 0, 1, 1, 1], "tray a above tray b, then below it"
    assert ["order" in other["gives_up"] for other in document["alternatives"]] == [False] * 2 + [True] * 3
    shown = " ".join(run("plan", folder, "trays", "wide", "--alternatives", "9")[1].split())
    assert "plan 3 instead: 2 groups move" in shown
    assert "gives up order" in shown
    assert "There is no other plan with these layouts: proved." in shown


@pytest.mark.parametrize("command", ["plan", "fit", "compare"])
def test_commands_that_plan_take_the_same_wishes(run, folder, command):
    code, _, err = run(
        command, folder, "trays", "wide", "--keep-free", "1", "--tier", "tray b", "--goals", "reach", "--off", "order"
    )
    assert (code, err) == (0, "")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", "no JSON"),
        ("{", "no JSON"),
        ("[" * 100_000, "no JSON"),
        ("\udcff", "no JSON"),
        ("[]", "not of this form"),
        ("3", "not of this form"),
        ("{}", "'placements' is missing or wrong"),
        (json.dumps(FORM | {"placements": {}}), "'placements' is missing or wrong"),
        (json.dumps(FORM | {"placements": [{"group": "tray a"}]}), "'drawer' is missing or wrong"),
        (json.dumps(FORM | {"placements": FORM["placements"] * 2}), "'placements' is missing or wrong"),
        (json.dumps(FORM | {"fill": "most"}), "'fill' is missing or wrong"),
        (json.dumps(FORM | {"free_drawers": [3]}), "'free_drawers' is missing or wrong"),
        (json.dumps(FORM | {"goals": [{"name": "order", "value": "few"}]}), "'goals' is missing or wrong"),
        (json.dumps(FORM | {"set": 3}), "'set' is missing or wrong"),
        (json.dumps(FORM | {"verdict": "does not fit"}), "the verdict there is 'does not fit'"),
        (json.dumps(FORM | {"cabinet": "low"}), "the plan to keep is of 'trays' in 'low'"),
        (json.dumps(FORM | {"set": "other"}), "the plan to keep is of 'other' in 'wide'"),
    ],
)
def test_a_file_that_holds_no_plan_is_one_clear_line_and_exit_code_2(run, folder, tmp_path, text, expected):
    (tmp_path / "kept.json").write_bytes(text.encode("utf-8", "surrogateescape"))
    code, out, err = run("plan", folder, "trays", "wide", "--keep", tmp_path / "kept.json")
    assert (code, out) == (2, "")
    assert len(err.strip().splitlines()) == 1
    assert expected in err


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (["--keep", "{}/none.json"], "none.json"),
        (["--keep", "{}"], "expected the JSON document of a plan"),
        (["--keep-free", "some"], "expected a number of drawers"),
        (["--tier", "tray c"], "no group or family 'tray c'; the set has: tray a, tray b"),
        (["--goals", "drawers, order"], "drawers always comes first"),
        (["--goals", "beauty"], "'beauty' is no such goal"),
        (["--off", "beauty"], "'beauty' is no such goal"),
        (["--off", "reach", "--goals", "reach"], "cannot be both off"),
        (["--alternatives", "21"], "--alternatives"),
    ],
)
def test_wishes_that_are_none_are_one_clear_line_and_exit_code_2(run, folder, words, expected):
    code, out, err = run("plan", folder, "trays", "wide", *(word.format(folder) for word in words))
    assert (code, out) == (2, "")
    assert expected in err
    assert "Traceback" not in err


@settings(max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from([*FORM, "other"]), JSON)
def test_whatever_stands_in_a_file_it_is_a_plan_or_refused(tmp_path, key, value):
    (tmp_path / "kept.json").write_text(json.dumps(FORM | {key: value}), encoding="utf-8")
    try:
        kept = read_kept(tmp_path / "kept.json")
    except UsageError as refused:
        told = str(refused)
    else:
        told = EXPECTED if kept.drawers in ((("tray a", "1"),), ()) else ""
    assert EXPECTED in told
