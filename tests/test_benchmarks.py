"""Benchmarks are run by hand; that each still starts is checked here."""

from importlib import import_module
from pathlib import Path

import pytest

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
