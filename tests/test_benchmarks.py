"""Benchmarks are run by hand; that each still starts is checked here."""

from importlib import import_module
from pathlib import Path

import pytest

from matcher.tools.kinds import KINDS

RIVALS = {"spyrrow", "rectpack"}
NAMES = sorted(path.stem for path in (Path(__file__).parent / "benchmarks").glob("*.py"))


@pytest.mark.parametrize("name", NAMES)
def test_a_benchmark_can_be_started(name: str) -> None:
    try:
        module = import_module(f"tests.benchmarks.{name}")
    except ModuleNotFoundError as missing:
        if missing.name not in RIVALS:
            raise
        pytest.skip(f"{missing.name} is not installed: it comes with the dev extras")
    assert module.__doc__


def test_the_contact_sheet_shows_every_kind() -> None:
    module = import_module("tests.benchmarks.contact_sheet")
    named, unnamed = (module.sheet(list(KINDS), named) for named in (True, False))
    assert all(f">{kind}</text>" in named for kind in KINDS)
    assert "</text>" not in unnamed
    assert named.count('class="tool"') == unnamed.count('class="tool"') >= len(KINDS)
