"""What is built of the project: the wheel, the source distribution, and what they are called."""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from collections.abc import Iterator
from email import message_from_bytes
from email.message import Message
from importlib.resources import as_file, files
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

import matcher
from tests.test_demo import contents

ROOT = Path(__file__).resolve().parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def built(kind: str, folder: Path) -> Path:
    """The wheel or the source distribution (``sdist``), built of this checkout."""
    pytest.importorskip("hatchling", reason="hatchling is not installed: it comes with the test extras")
    command = [sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", str(folder)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    (made,) = folder.iterdir()
    return made


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Iterator[zipfile.ZipFile]:
    with zipfile.ZipFile(built("wheel", tmp_path_factory.mktemp("wheel"))) as opened:
        yield opened


def tracked(*under: str) -> set[str]:
    """Files of the repository."""
    if not (ROOT / ".git").exists():
        pytest.skip("this is no checkout of the repository")
    listed = subprocess.run(["git", "ls-files", "-z", *under], cwd=ROOT, check=True, capture_output=True, text=True)
    return set(filter(None, listed.stdout.split("\0")))


def told(wheel: zipfile.ZipFile) -> Message:
    """The wheel's metadata."""
    (name,) = (name for name in wheel.namelist() if name.endswith(".dist-info/METADATA"))
    return message_from_bytes(wheel.read(name))


def test_the_wheel_is_of_the_version_that_the_package_says(wheel: zipfile.ZipFile) -> None:
    assert told(wheel)["Version"] == matcher.__version__


def test_the_source_distribution_is_the_whole_repository(tmp_path: Path) -> None:
    """So it passes the tests that the repository passes."""
    expected = tracked()
    with tarfile.open(built("sdist", tmp_path)) as opened:
        held = {name.partition("/")[2] for name in opened.getnames()}
    assert expected - held == set()


def test_the_wheel_holds_the_package_and_no_tests(wheel: zipfile.ZipFile) -> None:
    held = {name for name in wheel.namelist() if ".dist-info/" not in name}
    assert tracked("matcher") - held == set()
    assert {name.partition("/")[0] for name in held} == {"matcher"}


def test_no_document_tells_to_install_by_the_bare_name() -> None:
    """The name `matcher` on the package index belongs to something else."""
    assert PROJECT["name"] != "matcher"
    for document in ("README.md", "DEVELOPERS.md"):
        text = (ROOT / document).read_text(encoding="utf-8")
        asked = [part.split("&&")[0] for part in text.split("pip install")[1:]]
        assert all(" --editable " in words for words in asked), document


def test_terms_and_notices_are_in_the_wheels_metadata(wheel: zipfile.ZipFile) -> None:
    listed = told(wheel).get_all("License-File")
    assert listed == PROJECT["license-files"]
    for name in listed:
        (held,) = (held for held in wheel.namelist() if held.endswith(f".dist-info/licenses/{name}"))
        assert wheel.read(held) == (ROOT / name).read_bytes()


def test_the_notices_beside_the_font_are_those_that_the_font_carries() -> None:
    """Field 13 of a font's table of names is its license (OpenType specification, name table)."""
    folder = files("matcher.report.paper") / "font"
    with as_file(folder / "DejaVuSans.ttf") as path:
        carried = TTFont(path)["name"].getDebugName(13)
    assert carried.split() == (folder / "LICENSE").read_text(encoding="utf-8").split()


def test_the_notices_name_every_file_of_published_figures() -> None:
    notices = (ROOT / "matcher" / "NOTICES").read_text(encoding="utf-8")
    listed = sorted((ROOT / "tests" / "instances").glob("*.py"))
    assert listed
    assert [path.name for path in listed if f"tests/instances/{path.name}" not in notices] == []


def test_a_plain_install_has_a_catalogue_to_run_on(wheel: zipfile.ZipFile, tmp_path: Path) -> None:
    """The wheel, unpacked away from the checkout."""
    wheel.extractall(tmp_path / "installed")

    def call(*given: str) -> str:
        settings = os.environ | {"PYTHONPATH": str(tmp_path / "installed")}
        command = [sys.executable, "-m", "matcher", *given]
        return subprocess.run(command, cwd=tmp_path, env=settings, check=True, capture_output=True, text=True).stdout

    call("check", "--demo", "mine")
    assert contents(tmp_path / "mine") == contents(ROOT / "data" / "workshop")
    assert "Glen-5: fits" in call("fit", "mine", "Alder-64", "Glen-5")
