"""A question that is answered with no plan still gets its verdict, its reasons and every file that can be written."""

import json
from itertools import combinations

import pytest

from tests.every_result import CUT, EVERY, PLAN, catalogue, words_of

LACKING = {
    "plan": {"pdf": "no guide, there is no plan"},
    "group": {"pdf": "no full-size check, there is no plan", "svg": "no drawing, there is no plan"},
    "cut": {"svg": "no drawing, there is no plan", "dxf": "no drawing, there is no plan"},
}
"""What cannot be made without a plan, by the question."""
SUFFIXES = {"plan": PLAN, "group": PLAN, "cut": CUT}
VERDICTS = {"no": (1, "does not fit"), "open": (3, "undecided")}
ASKED = [
    (name, chosen)
    for name, suffixes in SUFFIXES.items()
    for count in (1, 2, len(suffixes))
    for chosen in combinations(suffixes, count)
    if name != "group" or {"svg", "pdf"} & set(chosen)
]
"""Each suffix alone, every two and all at once; a group is asked for with a drawing only."""


@pytest.fixture(scope="module")
def source(tmp_path_factory):
    return catalogue(tmp_path_factory.mktemp("refused") / "catalogue")


@pytest.mark.parametrize("verdict", VERDICTS)
@pytest.mark.parametrize(("name", "chosen"), ASKED, ids=lambda part: part if isinstance(part, str) else "-".join(part))
def test_all_that_can_be_written_is(run, source, tmp_path, name, chosen, verdict):
    files = {suffix: tmp_path / f"b.{suffix}" for suffix in chosen}
    code, out, err = run(*words_of(f"{name}-{verdict}", source, files.values()))
    assert (code, VERDICTS[verdict][1] in out) == (VERDICTS[verdict][0], True)
    lacking = LACKING[name]
    assert err.splitlines() == [f"{file}: {lacking[suffix]}" for suffix, file in files.items() if suffix in lacking]
    assert {suffix for suffix, file in files.items() if file.exists()} == set(chosen) - set(lacking)


@pytest.mark.parametrize("verdict", VERDICTS)
@pytest.mark.parametrize("name", SUFFIXES)
def test_the_document_is_printed_whatever_else_cannot_be_made(run, source, tmp_path, name, verdict):
    files = [tmp_path / f"b.{suffix}" for suffix in SUFFIXES[name]]
    code, out, err = run(*words_of(f"{name}-{verdict}", source, files), "--json")
    assert (code, json.loads(out)["verdict"]) == VERDICTS[verdict]
    assert json.loads(out)["reasons"]
    assert len(err.splitlines()) == len(LACKING[name])


def test_a_group_that_is_not_there_is_refused_before_anything_is_written(run, source, tmp_path):
    files = [tmp_path / "b.json", tmp_path / "b.svg"]
    code, out, err = run(
        "plan", source, "tools", "wide", "--group", "none", *(word for file in files for word in ("--out", file))
    )
    assert (code, out, "no such group" in err) == (2, "", True)
    assert list(tmp_path.iterdir()) == []


def test_where_no_foam_is_needed_there_is_no_drawing_and_the_answer_is_yes(run, folder, tmp_path):
    """The trays are ready-made and go in as they are."""
    code, _, err = run("cut", folder, "trays", "wide", "--out", tmp_path / "b.dxf", "--out", tmp_path / "b.csv")
    assert (code, err) == (0, f"{tmp_path / 'b.dxf'}: no drawing, no new foam is needed\n")
    assert (tmp_path / "b.csv").exists()


def test_every_question_of_the_list_ends_with_its_verdict(run, source, tmp_path):
    told = {"-no": 1, "-open": 3}
    for name in EVERY:
        verdict = next((code for end, code in told.items() if name.endswith(end)), 1 if name.startswith("fit") else 0)
        drawing = [tmp_path / "b.svg"] if name.startswith("group") else []
        assert run(*words_of(name, source, drawing))[0] == verdict, name
