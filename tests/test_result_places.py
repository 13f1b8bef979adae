"""Where results may be written: never where the catalogue would be read with them afterwards."""

import pytest

from tests.catalogue_files import folder as sound
from tests.catalogue_files import workbook

WRITING = {
    "plan": ["trays", "wide"],
    "plan --sheet": ["trays", "wide", "--sheet"],
    "plan --tolerance": ["trays", "wide", "--tolerance", "3"],
    "plan --estimates": ["trays", "wide", "--estimates"],
    "fit": ["trays", "wide"],
    "fit --tolerance": ["trays", "wide", "--tolerance", "3"],
    "compare": ["trays"],
    "compare of all": [],
    "compare of all, planned": ["--fill", "pack"],
    "cut": ["trays", "wide"],
    "offer": [],
}
"""Every command that writes results, as it is told apart by what it writes."""


def files_in(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.mark.parametrize("asked", WRITING)
@pytest.mark.parametrize("name", ["result.csv", "Result.CSV", "drawers.csv", "pins.csv"])
def test_no_table_is_written_into_the_catalogues_folder(run, folder, asked, name):
    before = files_in(folder)
    code, out, err = run(asked.split()[0], folder, *WRITING[asked], "--out", folder / name)
    assert (code, out) == (2, "")
    assert err.splitlines() == [
        f"error: --out {folder / name}: would be read as part of {folder}; write results to another place"
    ]
    assert files_in(folder) == before


def test_nothing_is_read_before_the_place_is_refused(run, folder):
    (folder / "drawers.csv").write_text("no table")
    assert "would be read as part" in run("compare", folder, "trays", "--out", folder / "result.csv")[2]


def test_other_results_may_lie_beside_the_tables(run, folder):
    for name in ("result.json", "result.xlsx", "result.html", ".hidden.csv"):
        assert run("compare", folder, "trays", "--out", folder / name)[0] == 0
    assert run("compare", folder, "--out", folder / "pairs.parquet")[0] == 0
    assert run("check", folder, "--out", folder / "copy.xlsx")[0] == 0
    assert run("check", folder, "--template", folder / "blank.xlsx")[0] == 0
    assert run("check", folder, "--out", folder / "copy")[0] == 0
    assert run("check", folder)[::2] == (0, "")


def test_a_folder_is_known_by_any_of_its_names(run, folder, tmp_path):
    (tmp_path / "link").symlink_to(folder)
    for catalogue, place in (("link", folder), (folder, tmp_path / "link"), (folder, folder / ".." / folder.name)):
        code, _, err = run("compare", tmp_path / catalogue, "trays", "--out", place / "result.csv")
        assert (code, "would be read as part" in err) == (2, True)


def test_readings_are_not_spoiled_by_results_either(run, folder, tmp_path):
    other = sound(tmp_path / "other")
    (tmp_path / "readings.csv").write_text("cabinet,drawer,inside_width_mm\nwide,1,559\n")
    for read, place in ((other, other / "result.csv"), (tmp_path / "readings.csv", tmp_path / "readings.csv")):
        code, _, err = run("fit", folder, "trays", "--measured", read, "--out", place)
        assert (code, f"would be read as part of {read}" in err) == (2, True)


def test_a_workbook_is_not_replaced_by_results_or_its_own_copy(run, tmp_path):
    book = workbook(sound(tmp_path / "tables"), tmp_path / "book.xlsx")
    before = book.read_bytes()
    for words in (["compare", book, "Oak"], ["check", book]):
        code, _, err = run(*words, "--out", book)
        assert (code, f"would be read as part of {book}" in err) == (2, True)
    assert book.read_bytes() == before
