"""The same catalogue gives the same files, byte for byte, whatever order Python's sets of texts happen to have."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.every_result import EVERY, catalogue

ROOT = Path(__file__).resolve().parents[1]
SEEDS = ("0", "4")
"""Two seeds of the hash of texts under which CPython 3.11 lists the classes of a DXF file in different orders."""


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Every file that every command writes, by its name, once for each seed."""
    at = tmp_path_factory.mktemp("same")
    source = catalogue(at / "catalogue")
    return [_written(source, at / f"seed{seed}", seed) for seed in SEEDS]


def _written(source, to, seed):
    to.mkdir()
    command = [sys.executable, "-m", "tests.every_result", str(source), str(to)]
    subprocess.run(command, cwd=ROOT, env=os.environ | {"PYTHONHASHSEED": seed}, check=True, capture_output=True)
    return {path.name: path.read_bytes() for path in to.iterdir()}


def test_every_suffix_is_there(made):
    asked = {suffix for _, suffixes in EVERY.values() for suffix in suffixes}
    assert {Path(name).suffix.removeprefix(".") for name in made[0]} == {*asked, "txt"}


def test_the_bytes_do_not_depend_on_the_hash_of_texts(made):
    one, other = made
    assert one.keys() == other.keys()
    assert [name for name in one if one[name] != other[name]] == []
