"""Tables in unusual clothes and things with unusual names: read, planned and written as any other."""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.catalogue.reading import read_catalogue
from matcher.records.errors import MatcherError
from tests.catalogue_files import SOUND, folder, with_cell
from tests.fuzz import check_and_fit
from tests.fuzz_inputs import mutated, seeds
from tests.test_odd_files_and_options import SECONDS, at_most, names

CLOTHES: dict[str, Callable[[str], bytes]] = {
    "a mark of byte order": lambda text: b"\xef\xbb\xbf" + text.encode(),
    "line ends of another system": lambda text: text.replace("\n", "\r\n").encode(),
    "no line end at the end": lambda text: text.rstrip("\n").encode(),
    "empty lines": lambda text: text.encode() + b"\n\n\n",
    "empty cells behind": lambda text: text.replace("\n", ",,,\n").encode(),
    "every cell in quotes": lambda text: "\n".join(
        ",".join(f'"{cell}"' for cell in line.split(",")) for line in text.splitlines()
    ).encode(),
    "spaces round cells": lambda text: text.replace(",", " , ").encode(),
    "capitals in names of columns": lambda text: "\n".join(
        line if number else line.upper() for number, line in enumerate(text.split("\n"))
    ).encode(),
}


@pytest.mark.parametrize("name", CLOTHES)
def test_every_table_may_be_written_so(tmp_path, name):
    plain = read_catalogue(folder(tmp_path / "plain"))
    at = folder(tmp_path / "other")
    for table, text in SOUND.items():
        (at / f"{table}.csv").write_bytes(CLOTHES[name](text.strip() + "\n"))
    assert replace(read_catalogue(at), digest="", folder="") == replace(plain, digest="", folder="")


CELLS = [
    ("drawers", "inside_width_mm", ("570.00", "5.7e2", "+570", "0570", "570 mm")),
    ("organizers", "width_in", ("22.4375", "22-7/16", '22 7/16"', "22 7/16 in", "22 14/32")),
    ("tools", "system", ("Metric", "METRIC")),
    ("tools", "kind", ("Socket", "SOCKET")),
    ("tools", "size", ("13 mm", "13mm", "13.0")),
    ("drawers", "slot", ("Foam", "")),
    ("foam", "price", ("18.50", "1.85e1")),
]


@pytest.mark.parametrize(("table", "column", "values"), CELLS)
def test_a_cell_may_be_written_so(tmp_path, table, column, values):
    plain = read_catalogue(folder(tmp_path / "plain"))
    for number, value in enumerate(values):
        at = folder(tmp_path / str(number), **{table: with_cell(table, 2, column, value)})
        read = read_catalogue(at)
        if column != "size":  # a piece keeps the size as it was typed
            assert replace(read, digest="", folder="") == replace(plain, digest="", folder=""), value


NAMES = (
    "../../etc/passwd",
    "C:\\drawers\\a",
    "/dev/null",
    "-rf *",
    "--help",
    "x" * 300,
    "扳手套装",
    "مفتاح ربط",
    "شلوم שלום",
    "é" * 40,
    "🔧🧰",
    "a\tb",
    "NULL",
    "TRUE",
    "007",
    "1e5",
    "{set}",
    "%s%n",
    "'; DROP TABLE tools; --",
    "set [bold red]x[/]",
)
DRAWERS = "cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm\n"


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_a_name_is_a_name(run, tmp_path, name):
    """Of a set, cabinet, drawer, tool and group at once; the documents hold it, files go where they were asked to."""
    at, made = tmp_path / "catalogue", tmp_path / "made"
    at.mkdir()
    made.mkdir()
    kept = " ".join(name.split())
    quoted = '"' + name.replace('"', '""') + '"'
    (at / "drawers.csv").write_text(f"{DRAWERS}{quoted},{quoted},1,1,500,400,80\n", encoding="utf-8")
    (at / "tools.csv").write_text(
        f"set,tool,kind,count,length_mm,width_mm,height_mm,group\n{quoted},{quoted},other,1,90,30,20,{quoted}\n",
        encoding="utf-8",
    )
    before = names(tmp_path)
    files = [made / f"plan.{suffix}" for suffix in ("json", "csv", "xlsx", "html", "svg", "pdf")]
    with at_most(6 * SECONDS):
        code, out, err = run("plan", at, *(word for file in files for word in ("--out", file)), "--", kept, kept)
    assert (code, err) == (0, ""), err
    assert out
    assert sorted({*names(tmp_path)} - {*before}) == sorted(map(str, files))
    said = json.loads(files[0].read_text(encoding="utf-8"))
    assert (said["set"], said["cabinet"], said["placements"][0]["group"]) == (kept, kept, kept)


@pytest.mark.slow
@settings(max_examples=60)
@given(st.randoms(use_true_random=False), st.sampled_from(range(3)))
def test_whatever_becomes_of_a_catalogue_check_and_fit_answer_or_refuse_it(tmp_path_factory, dice, which):
    """Cells, rows, columns and encodings changed; it fails where an end is neither answer nor refusal."""
    at: Path = tmp_path_factory.mktemp("changed")
    for name, content in mutated("commands", seeds("commands")[which], dice).items():
        (at / name).write_bytes(content)
    with at_most(6 * SECONDS), suppress(MatcherError):
        check_and_fit(at)
