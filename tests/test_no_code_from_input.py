"""Nothing that is read can become code, and nothing but the desk speaks to anybody: by what is imported and called."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

ROOM = Path(__file__).resolve().parents[1] / "matcher"
CODE = {"pickle", "marshal", "shelve", "dill", "cloudpickle", "joblib", "yaml", "runpy", "code", "ctypes", "subprocess"}
NETWORK = {
    "socket",
    "socketserver",
    "http",
    "urllib.request",
    "requests",
    "httpx",
    "aiohttp",
    "ftplib",
    "smtplib",
    "webbrowser",
}
CALLS = {"eval", "exec", "compile", "__import__", "system", "popen", "read_pickle", "to_pickle", "entry_points"}
MAY = {
    ("screening/processes.py", "pickle"),  # between processes of one run, in a folder that only they can read
    ("desk/serving.py", "socket"),  # the page of this machine
}
"""Uses that stand, each for its reason."""


def imports(tree: ast.AST) -> Iterator[str]:
    """Names of what a module imports, with those it takes from there."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module or ""
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def calls(tree: ast.AST) -> Iterator[str]:
    """Names of what a module calls."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            owner = getattr(getattr(node.func, "value", None), "id", "")
            if owner != "re":  # re.compile makes no code
                yield getattr(node.func, "id", "") or getattr(node.func, "attr", "")


def looked_for(text: str) -> set[str]:
    """What of all this stands in the text of a module."""
    tree = ast.parse(text)
    wanted = CODE | NETWORK
    imported = {name for used in imports(tree) for name in wanted if used == name or used.startswith(f"{name}.")}
    return imported | (CALLS & set(calls(tree)))


def found() -> set[tuple[str, str]]:
    return {
        (file.relative_to(ROOM).as_posix(), name)
        for file in ROOM.rglob("*.py")
        for name in looked_for(file.read_text(encoding="utf-8"))
    }


def test_only_these_modules_could_run_code_or_speak_to_a_network():
    assert found() == MAY


def test_what_is_looked_for_is_found():
    text = "import pickle.x; from http import client; from urllib import request, parse; eval('1'); os.system('x')"
    assert looked_for(text) == {"pickle", "http", "urllib.request", "eval", "system"}
    assert looked_for("from urllib.parse import quote; re.compile('x'); socket(3)") == set()
