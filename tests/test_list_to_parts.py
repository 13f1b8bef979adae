"""Five suppliers' lists in different styles, each from its lines to released parts and on to the next catalogue."""

from __future__ import annotations

import json
from collections import Counter

import pytest

from matcher.catalogue.reading import read_catalogue
from tests.draft_lists import written_book

LISTS = ("spreadsheet", "mixed_first", "german", "abbreviations", "sentences")


@pytest.mark.slow
@pytest.mark.parametrize("name", LISTS)
def test_a_list_becomes_a_catalogue_a_plan_parts_and_no_change(run, tmp_path, name: str) -> None:
    """Drafted, checked, planned, released, checked again by its plan; nothing but the new parts has changed."""
    drafted, at = tmp_path / "drafted.xlsx", tmp_path / "released"
    assert run("draft", written_book(name, tmp_path), "--out", drafted)[0] == 0
    assert run("check", drafted)[0] == 0
    pieces = Counter(piece.set for piece in read_catalogue(drafted).pieces)
    of = min(pieces, key=lambda one: (pieces[one], one))
    code, out, _ = run("plan", drafted, of, "Moor-13", "--json")
    assert (code, json.loads(out)["verdict"]) == (0, "fits")
    assert run("release", drafted, of, "Moor-13", "--part-prefix", "F-", "--out", at)[0] == 0
    assert run("check", at, "--plan", at / "plan.json")[0] == 0
    again = json.loads(run("plan", at, of, "Moor-13", "--keep", at / "plan.json", "--json")[1])
    assert {one["how"] for one in again["placements"]} <= {"as is", "cased"}
    code, out, _ = run("changes", drafted, at, "--json")
    assert code == 0
    assert all(one["before"] == one["now"] for one in json.loads(out)["bundles"])
