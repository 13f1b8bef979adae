"""The checker shares nothing with what makes plans: not a module, not a function, not a method of a record."""

from __future__ import annotations

import ast
import importlib
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import is_dataclass
from functools import cached_property
from inspect import isfunction
from pathlib import Path
from types import ModuleType
from typing import NoReturn

import pytest

import matcher.house
import matcher.records
import matcher.verification
from matcher.records.counts import counted
from matcher.records.errors import BrokenPlanError
from matcher.records.units import mm
from matcher.verification.checker import verify
from matcher.verification.goals import recount
from tests.bench import GOOD, on_base

HOUSE = matcher.house.__name__
OPEN_TO_IT = (
    *(package.__name__ for package in (matcher.verification, matcher.records, matcher.house)),
    *(known.__module__ for known in (mm, counted, BrokenPlanError)),
)
"""Modules that the checker may import from: records, units, counts and errors; of the house nothing but records."""
ROUND_ABOUT = ("getattr", "vars", "eval", "exec", "__import__", "import_module", "attrgetter", "methodcaller")
"""Ways to get at a method without naming it."""
FILES = sorted(Path(matcher.verification.__file__).parent.glob("*.py"))


def modules_of(package: ModuleType) -> Iterator[ModuleType]:
    for found in pkgutil.iter_modules(package.__path__, f"{package.__name__}."):
        yield importlib.import_module(found.name)


def classes_of(package: ModuleType) -> Iterator[type]:
    for module in modules_of(package):
        held = (one for one in vars(module).values() if isinstance(one, type) and one.__module__ == module.__name__)
        yield from (one for one in held if is_dataclass(one) or issubclass(one, tuple))


def computed(record: type) -> Iterator[str]:
    """What a record works out: its methods and properties, but none of those that Python calls by itself."""
    for name, member in vars(record).items():
        worked_out = isfunction(member) or isinstance(member, property | cached_property | classmethod | staticmethod)
        if worked_out and not name.startswith("__"):
            yield name


def methods() -> dict[str, str]:
    """Every method and property of a record of the house or of the catalogue and plan, with the class that has it.

    Not those whose name a class of the checker has too: they are told apart while it runs, in the last test.
    """
    packages = matcher.house, matcher.records
    own = {name for one in classes_of(matcher.verification) for name in computed(one)}
    shared = {name: one.__name__ for package in packages for one in classes_of(package) for name in computed(one)}
    return {name: owner for name, owner in shared.items() if name not in own}


def faults_of(source: str) -> list[str]:
    """What a module of the checker must not do."""
    shared, found = methods(), []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Attribute) and node.attr in shared:
            found.append(f"line {node.lineno} uses {shared[node.attr]}.{node.attr}")
        if isinstance(node, ast.Import):
            found += [f"line {node.lineno} imports {one.name}" for one in node.names if one.name.startswith("matcher")]
        if isinstance(node, ast.ImportFrom):
            found += [f"line {node.lineno} imports {name}" for name in foreign(node)]
        if isinstance(node, ast.Name) and node.id in ROUND_ABOUT:
            found.append(f"line {node.lineno} looks a name up by {node.id}")
    return found


def foreign(node: ast.ImportFrom) -> Iterator[str]:
    """Names that the checker must not import: of other modules of the project, or of the house what is no record."""
    module = node.module or ""
    if node.level or (module.split(".")[0] == "matcher" and not module.startswith(OPEN_TO_IT)):
        yield from (f"{module}.{one.name}" for one in node.names)
    elif module.startswith(HOUSE):
        held = vars(importlib.import_module(module))
        yield from (f"{module}.{one.name}" for one in node.names if not isinstance(held.get(one.name), type))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_the_checker_has_all_its_arithmetic_itself(file: Path) -> None:
    assert faults_of(file.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "source",
    [
        "web = house.pocket.web_for(depth)",
        "under = rules.under",
        "score = scene.house.height.score",
        "name = sized.piece.mark",
        "from matcher.house import default_house",
        "from matcher.house.reading import read_house",
        "from matcher.layout import curve",
        "from matcher.reaching import use_of",
        "from matcher import openings",
        "from . import records",
        "import matcher.layout.poses",
        "web = getattr(house.pocket, 'web_' + 'for')(depth)",
    ],
)
def test_whatever_is_shared_is_found(source: str) -> None:
    assert len(faults_of(source)) >= 1


def test_what_records_work_out_is_known() -> None:
    """By reading the records: what makers compute from the numbers of the house, and what is for show."""
    assert {"web_for", "deepest", "share_of", "thickness_for", "under", "score"} <= methods().keys()
    assert {"mark", "listed", "tightest", "total"} <= methods().keys()


def refusal(name: str) -> Callable[..., NoReturn]:
    def refuse(*_: object) -> NoReturn:
        raise AssertionError(f"the checker asked a record for {name}")

    return refuse


def test_the_checker_works_where_no_record_works_anything_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same contract while it runs: with every method and property of the records gone the good plans still hold."""
    for package in (matcher.house, matcher.records):
        for one in classes_of(package):
            for name in computed(one):
                monkeypatch.setattr(one, name, property(refusal(f"{one.__name__}.{name}")))
    for bench in (GOOD, on_base(GOOD)):
        assert verify(bench.catalogue, bench.house, bench.plan) == ()
        assert {"drawers", "order", "neighbors"} <= recount(bench.catalogue, bench.house, bench.plan).keys()
