"""Files that are none, rules that nothing can be made of, options that contradict: one line, code 2, soon."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

SECONDS = 30
"""A fence for what would never end, far beyond what any case takes on a busy machine."""


@contextmanager
def at_most(seconds: int) -> Iterator[None]:
    """Fails where what is inside does not end: a fence for what would run for ever, not a measurement."""

    def over(*_):
        raise AssertionError(f"not answered within {seconds} s")

    before = signal.signal(signal.SIGALRM, over)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def names(*folders: Path) -> list[str]:
    return sorted(str(path) for folder in folders for path in folder.rglob("*"))


NUMBER = "a number from 0.000001 to 1,000,000,000, or 0"
RULES = {
    "1e999": ("[clearance]\nside_mm = 1e999", "key clearance.side_mm: '1E+999': expected at most 10000 mm"),
    "1e-999999999": (
        "[clearance]\nside_mm = 1e-999999999",
        f"key clearance.side_mm: '1E-999999999': expected {NUMBER}",
    ),
    "1e308": ("[cut]\nfeed_mm_min = 1e308", f"key cut.feed_mm_min: '1E+308': expected {NUMBER}"),
    "30 digits": (f"[offer]\nmax_new_sizes = {'9' * 30}", f"expected {NUMBER}"),
    "5,000 digits": (f"[work]\nseed = {'9' * 5000}", "expected a readable TOML file"),
    "lists in lists": (f"a = {'[' * 5000}{']' * 5000}", "expected tables and lists a few levels deep"),
    "keys in keys": (f"{'.'.join(['a'] * 2000)} = 1", "expected tables and lists a few levels deep"),
    "nested where a number stands": ("[clearance.side_mm.a.b]\nc = 1", "key clearance.side_mm: "),
    "a list where a table stands": ("clearance = [1]", "key clearance: '[1]': expected a table"),
    "tables where a table stands": ("[[clearance]]\nside_mm = 1", "expected a table"),
    "a date": ("[clearance]\nside_mm = 2020-01-01", "key clearance.side_mm: '2020-01-01': expected a number"),
    "a list of a unit": ('[lengths]\nunit = ["mm"]', "expected as given or mm or in"),
    "no texts": ("[notch]\nshared = [1, [2]]", "expected a list of texts"),
    "a kind that is none": ('[notch]\nshared = ["sockett"]', "'sockett': expected a known kind of tool"),
    "a kind in no nest": ('[layout]\nnests = ["plyers"]', "'plyers': expected a known kind of tool"),
    "a kind with capitals": ("[pocket.depth_share]\nSocket = 0.5", "'Socket': expected the word 'socket'"),
    "no thickness": ("[pocket]\nstock_mm = [0]", "expected a list of thicknesses above 0"),
    "a long value": (f'[goals]\nfill = "{"x" * 9999}"', f"{'x' * 60}...': expected spread or pack"),
    "two megabytes": (f"#{'x' * 2_000_000}", "expected a readable TOML file"),
    "a key that steers a terminal": ('"a\\u001b[31m" = 1', "key a\\x1b[31m: "),
}


@pytest.mark.parametrize("name", RULES)
def test_rules_that_nothing_can_be_made_of(run, folder, tmp_path, name):
    rules, told = RULES[name]
    (tmp_path / "house.toml").write_text(rules, encoding="utf-8")
    before = names(tmp_path)
    with at_most(SECONDS):
        code, out, err = run("check", folder, "--house", tmp_path / "house.toml", "--out", tmp_path / "copy.xlsx")
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert err.startswith("error: house.toml")
    assert told in err
    assert names(tmp_path) == before


def test_rules_in_another_encoding(run, folder, tmp_path):
    (tmp_path / "house.toml").write_bytes("[clearance]\nside_mm = 1".encode("utf-16"))
    assert "expected a readable TOML file" in run("check", folder, "--house", tmp_path / "house.toml")[2]
    (tmp_path / "house.toml").write_bytes("\ufeff[clearance]\nside_mm = 1".encode())
    assert run("check", folder, "--house", tmp_path / "house.toml")[0] == 0, "a mark of byte order is none of the rules"


@pytest.mark.parametrize(
    "rules", ["", "[clearance]\nside_mm = -0.0", "[clearance]\nside_mm = 0e999999999", "cutter = []"]
)
def test_unusual_rules_that_mean_something(run, folder, tmp_path, rules):
    (tmp_path / "house.toml").write_text(rules, encoding="utf-8")
    with at_most(SECONDS):
        assert run("check", folder, "--house", tmp_path / "house.toml")[0] == 0


ENDLESS = Path("/dev/zero")
needs_endless = pytest.mark.skipif(not ENDLESS.exists(), reason="this system has no device without end")


@needs_endless
@pytest.mark.parametrize(
    "words",
    [
        ("check", ENDLESS),
        ("check", "{}", "--house", ENDLESS),
        ("plan", "{}", "trays", "wide", "--measured", ENDLESS),
        ("plan", "{}", "trays", "wide", "--keep", ENDLESS),
        ("plan", "{}", "trays", "wide", "--add-to", ENDLESS),
        ("check", "{}", "--plan", ENDLESS),
        ("draft", ENDLESS),
    ],
    ids=str,
)
def test_a_device_without_end_is_no_file(run, folder, words):
    with at_most(SECONDS):
        code, out, err = run(*(str(word).format(folder) for word in words))
    assert (code, out) == (2, "")
    assert err.startswith("error: ")


def test_a_file_larger_than_any_is_not_read(run, folder):
    """A file of 200 MB without content, which takes no room on the disk."""
    with (folder / "pins.csv").open("wb") as large:
        large.truncate(200_000_000)
    assert run("check", folder) == (
        2,
        "",
        "error: pins.csv: expected a file that can be read (File too large, more than 100,000,000 bytes)\n",
    )


def test_a_table_with_more_cells_than_any_is_refused_at_the_row_where_it_is_too_much(run, folder):
    (folder / "pins.csv").write_text("set,cabinet,rule,group\n" + 600_000 * "a,b,c,d\n", encoding="utf-8")
    with at_most(SECONDS):
        told = run("check", folder)
    assert told == (2, "", "error: pins.csv, row 500001: '': expected no more than 2,000,000 cells in a table\n")


def test_the_same_place_by_two_ways_is_named_twice(run, folder, tmp_path):
    (tmp_path / "there").symlink_to(tmp_path)
    before = names(tmp_path)
    for other in (tmp_path / "." / "a.json", folder / ".." / "a.json", tmp_path / "there" / "a.json"):
        code, out, err = run("plan", folder, "trays", "wide", "--out", tmp_path / "a.json", "--out", other)
        assert (code, out) == (2, "")
        assert "named twice" in err
    assert names(tmp_path) == before


def test_links_that_lead_in_a_circle_are_replaced_and_what_a_link_leads_to_is_not_written_over(run, folder, tmp_path):
    made = tmp_path / "made"
    made.mkdir()
    (made / "a.json").symlink_to(made / "b.json")
    (made / "b.json").symlink_to(made / "a.json")
    (made / "mine.txt").write_text("mine")
    (made / "c.json").symlink_to(made / "mine.txt")
    for name in ("a.json", "c.json"):
        assert run("plan", folder, "trays", "wide", "--out", made / name)[0] == 0
        assert (made / name).read_text().startswith("{")
    assert (made / "mine.txt").read_text() == "mine"


@pytest.mark.skipif(os.geteuid() == 0, reason="who may write everywhere finds no place read-only")
def test_a_place_that_may_only_be_read(run, folder, tmp_path):
    (tmp_path / "closed").mkdir(mode=0o500)
    code, out, err = run("plan", folder, "trays", "wide", "--out", tmp_path / "closed" / "a.json")
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert "cannot be written" in err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--paper", "Letter"), "name what is printed with --out, a FILE.pdf"),
        (("--tier", ","), "no group or family ''"),
        (("--tolerance", "1e-30"), "expected a number from 0 to 1,000"),
        (("--pin", "tray a in drawer 99"), "no such place; the drawers are: 1, 2, 3"),
        (("--together", "tray a with tray b", "--pin", "tray a apart from tray b"), "contradicts the pin"),
        (("--pin", "x" * 100_000), "x ..."),
        (("--without", "nobody"), "no group or piece 'nobody'"),
        (("--keep-free", "5 of 1e9 mm"), "expected a number of drawers"),
    ],
)
def test_options_that_mean_nothing(run, folder, words, told):
    code, out, err = run("plan", folder, "trays", "wide", *words)
    assert (code, out) == (2, "")
    assert told in err
    assert len(err) < 5000


@pytest.mark.parametrize("most", ["0.001", "99", "100", "400", "560", "1000"])
def test_sizes_that_may_be_off_by_as_much_as_they_are(run, folder, most):
    """The trays' drawers are 560 x 400 x 100 mm: from 100 mm on one may be nothing, or less."""
    code, out, err = run("plan", folder, "trays", "wide", "--tolerance", most)
    assert (code, err) == (0, "")
    assert out.startswith("trays in wide: fits")
