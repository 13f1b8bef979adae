"""Properties are never timed: a busy machine must not turn a true one red. And the command as all tests call it."""

import os
import sys

import pytest
from hypothesis import settings

from matcher.__main__ import main
from matcher.records import keep_in
from tests.trays import DRAWERS, ORGANIZERS

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")


@pytest.fixture(scope="session", autouse=True)
def _own_cache(tmp_path_factory):
    """Commands keep what they worked out in a folder of this run of the tests, which its processes share."""
    shared = tmp_path_factory.getbasetemp()
    folder = shared.parent if "PYTEST_XDIST_WORKER" in os.environ else shared
    os.environ["XDG_CACHE_HOME"] = str(folder / "cache")


@pytest.fixture(autouse=True)
def _no_store_left():
    """What a command keeps is for commands: whoever calls the library after one has no store."""
    yield
    keep_in(None)


@pytest.fixture
def run(monkeypatch, capsys):
    """Call the command; its exit code, standard output and standard error."""

    def call(*words):
        monkeypatch.setattr(sys, "argv", ["matcher", *map(str, words)])
        with pytest.raises(SystemExit) as ended:
            main()
        told = capsys.readouterr()
        return ended.value.code or 0, told.out, told.err

    return call


@pytest.fixture
def folder(tmp_path):
    """The trays of `tests.trays` in a folder of their own."""
    (tmp_path / "trays").mkdir()
    (tmp_path / "trays" / "drawers.csv").write_text(DRAWERS, encoding="utf-8")
    (tmp_path / "trays" / "organizers.csv").write_text(ORGANIZERS, encoding="utf-8")
    return tmp_path / "trays"
